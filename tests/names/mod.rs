//! Names in every script: told at once when they cannot be printed, printed with a shop's own font or in
//! Latin letters, and recorded so that a paper renders to the same bytes when the font is gone.
//!
//! The fonts were made for these tests (`make_font.py`): each letter is a box.

use std::fs;

use crate::fixture::{Folder, dedented};
use crate::readers;

const FONT: &[u8] = include_bytes!("every-script.ttf");
const NO_EMBEDDING: &[u8] = include_bytes!("no-embedding.ttf");

/// An invented name in each script, its first letter, and the script by its name in Unicode (UAX 24,
/// Scripts.txt).
const NAMES: &[(&str, &str, &str)] = &[
    ("王小明", "`王` (U+738B, Han)", "Han"),
    ("さくら 佐藤", "`さ` (U+3055, Hiragana)", "Hiragana"),
    ("サ 佐藤", "`サ` (U+30B5, Katakana)", "Katakana"),
    ("김민준", "`김` (U+AE40, Hangul)", "Hangul"),
    ("\u{5DE}\u{5E9}\u{5D4} \u{5DB}\u{5D4}\u{5DF}", "(U+05DE, Hebrew)", "Hebrew"),
    ("\u{645}\u{62D}\u{645}\u{62F}", "(U+0645, Arabic)", "Arabic"),
    ("राज", "(U+0930, Devanagari)", "Devanagari"),
    ("สมชาย", "(U+0E2A, Thai)", "Thai"),
    ("Անի", "(U+0531, Armenian)", "Armenian"),
];

/// The main example for a customer of another name, who signs alone.
fn named(name: &str, more: &str) -> Folder {
    let folder = Folder::new();
    let job = folder.read("job.toml");
    let without = |line: &&str| !line.starts_with("signers = ");
    let job: Vec<&str> = job.lines().filter(without).collect();
    let is = format!("name = \"{name}\"\n{more}");
    folder.write("job.toml", job.join("\n")).replace(
        "job.toml",
        "name = \"Rosa and Emil Tannenwald\"",
        is.trim_end(),
    )
}

fn with_font(folder: Folder) -> Folder {
    folder.write("fonts/every-script.ttf", FONT).write("fonts/OFL.txt", "no font, left alone")
}

const PAPER: &str = "papers/2026-0142-proposal-r1.pdf";

#[test]
fn every_verb_says_at_once_that_no_font_has_a_name_and_what_to_do() {
    for (name, letter, script) in NAMES {
        let folder = named(name, "");
        let ran = folder.run(&["check", "job.toml"]).code(2);
        let ran = ran.err_has(letter).err_has(" in the customer’s name").err_has("--> job.toml:");
        ran.err_has(&format!("put a font with {script} letters"));
    }
    let folder = named("王小明", "");
    let place = folder.place_of("job.toml", "王小明");
    let complaint = folder.run(&["check", "job.toml"]).code(2).complaint();
    assert_eq!(
        complaint,
        dedented(&format!(
            "
            error: no font here can print `王` (U+738B, Han) in the customer’s name
              --> {place}
               |
            {line} | name = \"王小明\"
               |         ^^
               |
               = help: put a font with Han letters (TTF or OTF) into a folder `fonts` beside the shop file
               = help: or add the name in Latin letters, as you and the customer write it, under `[customer]`: `latin = \"...\"`

            1 problem found; nothing was written",
            line = place.split(':').nth(1).unwrap()
        ))
    );
    for verb in [
        &["estimate", "job.toml"][..],
        &["mail", "job.toml"],
        &["write", "job.toml"],
        &["write", "--draft", "job.toml"],
        &["prepare", "job.toml", "--floor", "barrier"],
    ] {
        folder.run(verb).code(2).err_has("`王` (U+738B, Han) in the customer’s name");
    }
    assert!(!folder.path("papers").exists() && !folder.path("records").exists());
}

#[test]
fn an_address_and_a_signer_are_names_too() {
    let folder = Folder::new().replace("job.toml", "\"8 Cattail Court\"", "\"8 สมชาย Court\"");
    let ran = folder.run(&["check", "job.toml"]).code(2);
    ran.err_has("in the customer’s address").err_has("or write the address in Latin letters");
    let folder = named("Ana Quill", "signers = [\"Ana Quill\", \"김민준\"]");
    folder.run(&["check", "job.toml"]).code(2).err_has("(U+AE40, Hangul) in the name of a signer");
    let folder = named("Rosa \u{1F600}", "");
    folder.run(&["check", "job.toml"]).code(2).err_has("help: take the sign out");
}

/// Names that cannot be printed are printed in Latin letters alone; the mail, which any program can show, has
/// both.
#[test]
fn a_name_in_latin_letters_stands_in_for_what_no_font_has() {
    for (name, ..) in NAMES {
        let folder = named(name, "latin = \"Wang Xiaoming\"\nemail = \"wang@pikemere.example\"");
        folder.run(&["check", "job.toml", "--format", "json"]).code(1);
        if *name != NAMES[0].0 {
            continue;
        }
        folder.run(&["mail", "job.toml"]).success();
        let text = readers::text(&folder.path(PAPER));
        assert!(text.contains("Prepared for Wang Xiaoming") && !text.contains('王'));
        let mail = folder.bytes("papers/2026-0142-mail-r1.eml");
        let mail = mail_parser::MessageParser::default().parse(&mail).unwrap();
        assert!(mail.body_text(0).unwrap().contains("王小明 (Wang Xiaoming)"));
    }
    let folder = named("王小明", "latin = \"サ\"");
    folder.run(&["check", "job.toml"]).code(2).err_has("or write `latin` in Latin letters");
}

/// Names, letter by letter as they stand on the page from left to right, and what follows them.
#[test]
fn a_font_beside_the_shop_file_prints_every_name_in_the_order_of_its_script() {
    for (name, _, script) in NAMES {
        let folder = with_font(named(name, ""));
        folder.run(&["write", "job.toml"]).success();
        let drawn: String = match *script {
            "Hebrew" | "Arabic" => name.chars().rev().collect(),
            _ => (*name).to_owned(),
        };
        let squeezed = |text: &str| -> String {
            text.chars().filter(|c| !c.is_whitespace() && *c != '\u{200E}').collect()
        };
        let text = squeezed(&readers::text(&folder.path(PAPER)));
        if *script == "Devanagari" {
            // The reader takes a letter with its vowel for two: their ends tell the order.
            let (first, last) = (name.chars().next().unwrap(), name.chars().last().unwrap());
            assert!(text.contains(&format!("Preparedfor{first}")));
            assert!(text.contains(&format!("{last},8CattailCourt")));
            continue;
        }
        let expected = squeezed(&format!("Prepared for {drawn}, 8 Cattail Court"));
        assert!(text.contains(&expected), "{script}: no {expected:?}");
    }
    let folder = with_font(named("王小明", "latin = \"Wang Xiaoming\""));
    folder.run(&["write", "job.toml"]).success();
    let text = readers::text(&folder.path(PAPER)).replace(' ', "");
    assert!(text.contains("王小明(WangXiaoming)"), "{text}");
}

#[test]
fn a_record_keeps_the_font_and_renders_the_same_when_the_folder_is_gone() {
    let folder = with_font(named("王小明", ""));
    folder.run(&["write", "job.toml", "--phone"]).success();
    let kept = "records/2026-0142-proposal-r1/inputs/fonts/every-script.ttf";
    assert_eq!(folder.bytes(kept), FONT);
    folder.run(&["write", "job.toml"]).success().out_has("unchanged: ");
    fs::remove_dir_all(folder.path("fonts")).unwrap();
    folder.run(&["verify", "job.toml"]).success().out_has("2 records: 2 sound");
    folder.run(&["write", "job.toml"]).code(2);
}

/// A font that a job does not need makes no difference to it, neither to its look nor to its record.
#[test]
fn a_font_that_is_not_needed_changes_nothing() {
    let folder = Folder::new();
    folder.run(&["write", "job.toml"]).success();
    let before = folder.bytes(PAPER);
    let folder = with_font(folder);
    folder.run(&["write", "job.toml"]).success().out_has("unchanged: ");
    fs::remove_dir_all(folder.path("records")).unwrap();
    fs::remove_file(folder.path(PAPER)).unwrap();
    folder.run(&["write", "job.toml"]).success();
    assert!(folder.bytes(PAPER) == before);
    assert!(!folder.path("records/2026-0142-proposal-r1/inputs/fonts").exists());
}

/// OpenType 1.9, OS/2, `fsType` bit 1: "must not be modified, embedded or exchanged". The rest is damage.
#[test]
fn a_file_that_is_no_sound_font_is_named_with_its_reason() {
    let says = |name: &str, bytes: &[u8], why: &str| {
        let folder = Folder::new().write(&format!("fonts/{name}"), bytes);
        let ran = folder.run(&["check", "job.toml"]).code(2);
        ran.err_has(&format!("error: fonts/{name} {why}"));
        assert!(!folder.path("papers").exists());
    };
    says("text.ttf", b"not a font", "is no font that can be read");
    says("empty.otf", b"", "is no font that can be read");
    says("closed.ttf", NO_EMBEDDING, "says that it may not be embedded in a document");
    says("huge.ttc", &vec![0; 40_000_001], "has 40000001 bytes, and the most accepted is 40000000");
    for end in (1..FONT.len()).step_by(97) {
        let folder = Folder::new().write("fonts/cut.ttf", &FONT[..end]);
        folder.run(&["check", "job.toml"]).code(2).err_has("error: fonts/cut.ttf is ");
    }
    let mut folder = Folder::new();
    for at in 0..21 {
        folder = folder.write(&format!("fonts/{at}.ttf"), FONT);
    }
    let ran = folder.run(&["check", "job.toml"]).code(2);
    ran.err_has("fonts holds 21 font files, and the most accepted is 20");
}

#[cfg(unix)]
#[test]
fn a_font_outside_of_the_folder_is_not_read() {
    let folder = Folder::new().write("fonts/.keep", "").write("away.ttf", FONT);
    std::os::unix::fs::symlink(folder.path("away.ttf"), folder.path("fonts/link.ttf")).unwrap();
    folder.run(&["check", "job.toml"]).code(2).err_has("is a link that leads out of the folder");
    let folder = Folder::new();
    std::os::unix::fs::symlink("/etc", folder.path("fonts")).unwrap();
    folder.run(&["check", "job.toml"]).code(2).err_has("is a link that leads out of the folder");
}

/// A font whose inside is damaged ends in a message or a paper, never in a fault of the program.
#[test]
fn a_damaged_font_never_stops_the_program_itself() {
    let mut seed = 1_u64;
    let mut next = |most: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % most
    };
    let mut refused = 0;
    for _ in 0..12 {
        let mut bytes = FONT.to_vec();
        for _ in 0..=next(20) {
            let at = next(bytes.len());
            bytes[at] = next(256) as u8;
        }
        let folder = named("王小明", "").write("fonts/every-script.ttf", bytes);
        let ran = folder.run(&["write", "--draft", "job.toml"]);
        assert!(!ran.stderr().contains("panicked"), "{}", ran.stderr());
        refused += usize::from(ran.stderr().contains("error: "));
    }
    assert!(refused > 0);
}
