//! Every size has a bound, they are all in one file, and each is kept.

use slableaf::read::limits;

use super::bench::{FULL, NAMES, full, outputs, read};
use super::ends_well;
use crate::fixture::Folder;

fn folder() -> Folder {
    let mut folder = Folder::of("dry-and-quick");
    for (name, text) in NAMES.iter().zip(FULL) {
        folder = folder.write(name, text);
    }
    folder
}

/// One edit of a file of the full job, and the message that it brings.
#[track_caller]
fn refused(file: &str, from: &str, to: &str, message: &str) {
    let ran = folder().replace(file, from, to).run(&["check", "job.toml"]).code(2);
    ends_well(ran).err_has(message);
}

#[test]
fn each_limit_of_a_file_is_kept() {
    let names = |count: usize| (0..count).map(|at| format!("n{at} = []\n")).collect::<String>();
    let list = |count: usize| vec!["\"a\""; count].join(", ");
    refused(
        "job.toml",
        "[extras]\n",
        &format!("[extras]\n{}", names(199)),
        "`extras` has 201 names",
    );
    refused(
        "job.toml",
        "[\"urethane-coat\"]",
        &format!("[{}]", list(201)),
        "`extras` has 201 entries",
    );
    let coats: String =
        (0..201).map(|at| format!("[words.coats.c{at}]\nname = \"a\"\ndoes = \"b\"\n")).collect();
    refused(
        "systems/own.toml",
        "[words.coats.base]",
        &format!("{coats}[words.coats.base]"),
        "`coats` has 206 names",
    );
    refused(
        "job.toml",
        "[\"21 Everykey Lane\", \"Pikemere Lake\"]",
        &format!("[{}]", list(201)),
        "`address` has 201 entries",
    );
    let long = |count: usize| "a".repeat(count);
    refused("job.toml", "Family Vollbeispiel", &long(501), "`name` has 501 characters");
    refused("job.toml", "Note of the first visit", &long(4_001), "`notes` has 4001 characters");
    refused("job.toml", "2026-0199", &long(41), "`number` is not a job number");
    refused(
        "job.toml",
        "offer = [\"own-floor\"",
        &format!("offer = [\"{}\"", long(61)),
        "`offer` is not a plain name",
    );
    refused("job.toml", "offer = [", "offer = [\"water-kit\", \"x\", ", "`offer` has 6 systems");
    refused(
        "job.toml",
        "offer = [\"own-floor\", \"clear-epoxy\", \"barrier\", \"fast-cure\"]",
        "offer = []",
        "`offer` is empty",
    );
    refused(
        "job.toml",
        "Family Vollbeispiel",
        "Zo\u{308}\u{323}\u{304}\u{305}\u{306}\u{307}",
        "`name` has a letter under a stack of marks",
    );
    refused(
        "job.toml",
        "Note of the first visit",
        &format!("a\", # {}\n\"b", long(20_000)),
        "line 13 of the file is longer than any line",
    );
    let photo = "[[photo]]\nfile = \"photos/overview.jpg\"\ncaption = \"a\"\n".repeat(12);
    refused("job.toml", "[[photo]]", &format!("{photo}[[photo]]"), "`photo` stands 13 times");
    let failure = "[[failure]]\nseen = 2027-04-18\nkind = \"worn\"\n\n".repeat(8);
    refused(
        "job.toml",
        "[[failure]]\n",
        &format!("{failure}[[failure]]\n"),
        "`failure` stands 9 times",
    );
    let lines: String = (0..7).map(|at| format!("\"Line {at}\", ")).collect();
    refused("job.toml", "left = [", &format!("left = [{lines}"), "`left` has 8 sentences");
    let coat = |at: usize| {
        format!("[[coat]]\nkey = \"k{at}\"\nproduct = \"epoxy-primer\"\nlook = \"primer\"\n\n")
    };
    let coats: String = (0..4).map(coat).collect();
    refused("systems/own.toml", "[words]\n", &format!("{coats}[words]\n"), "`coat` stands 9 times");
    refused("job.toml", "revision = 1\n", "revision = 1000\n", "`revision` is not 1 to 999");
}

#[test]
fn each_limit_of_a_folder_is_kept() {
    let mut many = folder();
    for at in 0..limits::SYSTEM_FILES {
        many = many.write(&format!("systems/s{at}.toml"), "");
    }
    ends_well(many.run(&["check", "job.toml"]).code(2))
        .err_has("systems holds 51 files, and the most accepted is 50");

    let mut many = folder();
    for at in 0..=limits::LAYOUT_FILES {
        many = many.write(&format!("layouts/words/en/s{at}.toml"), "");
    }
    ends_well(many.run(&["check", "job.toml"]).code(2)).err_has("layouts holds over 200 files");
    let deep = folder().write("layouts/a/b/c/d.typ", "");
    ends_well(deep.run(&["check", "job.toml"]).code(2)).err_has("lies deeper than any layout");

    let deep = Folder::of("smallest").write(&format!("{}job.toml", "a/".repeat(33)), "");
    ends_well(deep.run(&["write", "."]).code(3)).err_has("it lies deeper than 32 folders");
    let there = Folder::of("smallest");
    let job = there.read("job.toml").replace("2026-0170", "2026-0171");
    let there = there.write(&format!("{}job.toml", "a/".repeat(32)), job);
    ends_well(there.run(&["write", ".", "--draft"])).success().out_has("2 jobs: 2 written");
}

/// A printed value is no longer than anyone reads, however long it is.
#[test]
fn a_message_has_a_bound() {
    let long = "9".repeat(15_000);
    for (from, to) in [
        ("\"10 ft\"\nignition", format!("\"{long} ft\"\nignition")),
        ("[house]", format!("{long} = 1\n[house]")),
        ("water-drop = \"soaks-in\"", format!("water-drop = \"{long}\"")),
        ("number = \"2026-0199\"", format!("number = \"{long}\"")),
        ("photos/overview.jpg", format!("../{long}")),
    ] {
        let told =
            ends_well(folder().replace("job.toml", from, &to).run(&["check", "job.toml"]).code(2))
                .stderr();
        assert!(told.len() < 4_000, "{} bytes", told.len());
        assert!(told.contains("--> job.toml:"));
    }
}

/// The dry job at rates that make years of it; without a bound each day would be laid out by itself.
#[test]
fn work_of_years_is_refused() {
    let texts = full().map(|text| text.replace("\"260 ft2/h\"", "\"0.000000000001 ft2/h\""));
    assert!(outputs(&read(&texts).unwrap()).is_none());
    let ran = folder().replace("book.toml", "\"260 ft2/h\"", "\"0.000000000001 ft2/h\"");
    for arguments in
        [&["check", "job.toml"][..], &["estimate", "job.toml"], &["write", "--draft", "job.toml"]]
    {
        ends_well(ran.run(arguments).code(2))
            .err_has("the work on a floor comes to more than 366 days");
    }
}

/// As much of everything as is accepted: it ends, and within the pages that a paper may have or with
/// a word about them.
#[test]
fn a_job_with_as_much_of_everything_as_is_accepted_ends_well() {
    let mut job = FULL[0].split("[accepted]").next().unwrap().to_owned();
    let shape = |head: &str, lines: &str, count: usize| -> String {
        (0..count)
            .map(|at| format!("\n[[{head}]]\n{}\n", lines.replace('@', &at.to_string())))
            .collect()
    };
    job += &shape("area", "name = \"Area @\"\nlength = \"20 ft\"\nwidth = \"10 ft\"", 198);
    job += &shape("crack", "name = \"Crack @\"\nlength = \"9 ft\"\nwidth = \"1/8 in\"", 199);
    job += &shape("joint", "name = \"Joint @\"\nlength = \"9 ft\"\ntreatment = \"fill\"", 199);
    job += &shape("spall", "name = \"Hole @\"\narea = \"1 ft2\"\ndepth = \"1/2 in\"", 198);
    job += &shape("cutout", "name = \"Post @\"\nlength = \"1 in\"\nwidth = \"1 in\"", 198);
    let path = vec!["[\"1 ft\", \"1 ft\"], [\"2 ft\", \"3 ft\"]"; 100].join(", ");
    job = job.replace("[[\"2 ft\", \"3 ft\"], [\"9 ft\", \"8 ft\"]]", &format!("[{path}]"));
    let folder = folder().write("job.toml", job);
    ends_well(folder.run(&["check", "job.toml"]));
    ends_well(folder.run(&["estimate", "job.toml", "--format", "json"]).success());
    let ran = ends_well(folder.run(&["write", "--draft", "job.toml"]));
    assert!(
        ran.stdout().contains("wrote ") || ran.stderr().contains("the most accepted is 40"),
        "{}",
        ran.stderr()
    );
}

/// Values that would print as a figure that nobody could have measured.
#[test]
fn absurd_figures_are_refused() {
    refused(
        "job.toml",
        "exposed = \"65.7 in2\"\nbefore = \"217.9 g\"",
        "exposed = \"0.001 in2\"\nbefore = \"217.9 g\"",
        "`after` makes a rate of 86459 lb/1000ft2/24h",
    );
    refused(
        "book.toml",
        "content = \"335 g/L\"",
        "content = \"0 g/L\"",
        "`content` is less than 1 g/L",
    );
    // A pair with two mistakes is told with both.
    refused("job.toml", "at = [\"5 ft\", \"6 ft\"]", "at = [\"5\", \"6\"]", "2 problems found");
}
