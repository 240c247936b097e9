//! Clocks, names and texts that are odd.

use std::process::Command;

use unicode_normalization::UnicodeNormalization;

use crate::fixture::{Folder, Ran, root};
use crate::readers;

/// The last second of the year 9999, past which no calendar goes.
#[test]
fn a_clock_at_the_end_of_the_calendar_stops_no_verb() {
    let folder = Folder::of("dry-and-quick");
    let run = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .args(arguments)
            .current_dir(folder.path("."))
            .env("SOURCE_DATE_EPOCH", "253402300799")
            .output()
            .unwrap();
        Ran::of(output)
    };
    run(&["write", "job.toml"]).success().err_has("days ago");
    for verb in ["check", "estimate", "mail", "prepare", "verify"] {
        run(&[verb, "job.toml"]).success();
    }
    run(&["reprice", "job.toml", "--dry-run"]).success();
    run(&["new", "more", "--blank"]).success();
}

/// A photo whose name an Apple file system keeps with letters and accents apart.
#[test]
fn photos_are_found_however_their_names_are_composed() {
    let name = "gar\u{e1}ge \u{fc}ber \u{1ed9}.jpg";
    let apart: String = name.nfd().collect();
    assert_ne!(name, apart);
    let photo = std::fs::read(root().join("examples/two-car-barrier/photos/crack.jpg")).unwrap();
    for (on_disk, in_job) in [(name, apart.as_str()), (&apart, name)] {
        let folder = Folder::tested().write(&format!("photos/caf\u{e9}/{on_disk}"), &photo);
        std::fs::rename(folder.path("photos/caf\u{e9}"), folder.path("photos/cafe\u{301}"))
            .unwrap();
        let job = folder.read("job.toml");
        let tables = format!(
            "{job}\n[[photo]]\nfile = \"photos/caf\u{e9}/{in_job}\"\ncaption = \"The crack\"\n"
        );
        let folder = folder.write("job.toml", tables);
        folder.run(&["write", "job.toml"]).success();
        folder.run(&["verify", "job.toml"]).success().out_has("1 record: 1 sound");
        folder.run(&["write", "job.toml"]).success().out_has("unchanged: ");
    }
}

/// RFC 5322, sections 3.2.5 and 4.1: a phrase does not begin with a dot. Read by another program.
#[test]
fn a_customer_with_a_dot_for_a_name_can_be_written_to() {
    for (name, read) in
        [(".", None), ("...", None), (". Quill", Some("Quill")), ("J. Quill", Some("J. Quill"))]
    {
        let folder = Folder::of("dry-and-quick");
        let job = folder.read("job.toml");
        let named = job.lines().find(|line| line.starts_with("name = ")).unwrap().to_owned();
        let with = format!("name = \"{name}\"\nemail = \"ana@quill.example\"");
        let without: String = job
            .lines()
            .filter(|line| !line.starts_with("email = "))
            .map(|line| format!("{line}\n"))
            .collect();
        let folder = folder.write("job.toml", without.replacen(&named, &with, 1));
        folder.run(&["mail", "job.toml"]).success();
        let draft = folder.bytes("papers/2026-0151-mail-r1.eml");
        let mail = mail_parser::MessageParser::default().parse(&draft[..]).unwrap();
        let to = mail.to().unwrap().first().unwrap();
        assert_eq!(to.address(), Some("ana@quill.example"), "{name}");
        assert_eq!(to.name(), read, "{name}");
    }
}

#[test]
fn a_tab_in_a_note_prints_as_a_space() {
    let folder = Folder::of("dry-and-quick");
    let job = folder.read("job.toml");
    let folder = folder.write(
        "job.toml",
        format!(
            "crew-notes = [\"\"\"Gate:\tfour\tseven\"\"\"]\nnotes = [\"\"\"Dog:\tkind\"\"\"]\n{job}"
        ),
    );
    folder.run(&["write", "job.toml"]).success();
    folder.run(&["prepare", "job.toml"]).success();
    let text = |path: &str| readers::text(&folder.path(path));
    assert!(text("papers/2026-0151-proposal-r1.pdf").contains("Dog: kind"));
    assert!(text("shop-only/2026-0151-crew-sheet-r1.pdf").contains("Gate: four seven"));
}
