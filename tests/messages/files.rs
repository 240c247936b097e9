//! Files that cannot be read, and wrong usage.

use std::fs;

use crate::fixture::{Folder, dedented};

#[track_caller]
fn says(folder: &Folder, arguments: &[&str], code: i32, expected: &str) {
    folder.run(arguments).code(code).err_is(&dedented(expected));
}

#[test]
fn a_file_that_cannot_be_used_is_named() {
    let check = ["check", "job.toml"];
    says(
        &Folder::new(),
        &["check", "nowhere.toml"],
        2,
        "error: cannot read nowhere.toml: No such file or directory (os error 2)",
    );
    says(
        &Folder::new(),
        &["check", "photos"],
        5,
        "error: cannot read photos: Is a directory (os error 21)",
    );
    says(
        &Folder::new(),
        &["check", "job.toml", "--book", "b.toml"],
        2,
        "error: cannot read b.toml: No such file or directory (os error 2)",
    );
    let folder = Folder::new();
    for kind in ["shop", "book"] {
        fs::remove_file(folder.path(&format!("{kind}.toml"))).unwrap();
        let expected = format!(
            "error: no `{kind}.toml` in . or any folder above it\n  help: name one with `--{kind} FILE`, or start one: `slableaf new {kind}`"
        );
        says(&folder, &check, 2, &expected);
    }
    says(
        &Folder::new().write("book.toml", b"name = \"\xff\""),
        &check,
        2,
        "error: book.toml is not UTF-8 text\n  help: save it again as UTF-8",
    );
    says(
        &Folder::new().write("shop.toml", vec![b'#'; (1 << 20) + 1]),
        &check,
        2,
        "error: shop.toml has 1048577 bytes, and the most accepted is 1048576",
    );
}

#[test]
fn a_byte_order_mark_is_no_mistake() {
    let folder = Folder::new();
    let job = format!("\u{feff}{}", folder.read("job.toml"));
    folder.write("job.toml", job).run(&["estimate", "job.toml"]).success();
}

#[test]
fn wrong_usage_ends_with_two_and_says_what_is_known() {
    let usage = |arguments: &[&str]| Folder::new().run(arguments).code(2);
    usage(&["chck", "job.toml"])
        .err_has("error: unrecognized subcommand 'chck'")
        .err_has("tip: a similar subcommand exists: 'check'");
    usage(&["check"])
        .err_has("error: the following required arguments were not provided:\n  <JOB>");
    usage(&["check", "job.toml", "--format", "xml"]).err_has(
        "error: invalid value 'xml' for '--format <FORMAT>'\n  [possible values: text, json]",
    );
    usage(&["check", "job.toml", "--draft"]).err_has("error: unexpected argument '--draft' found");
    usage(&["write", "job.toml", "--out"]).err_has("error: a value is required for '--out <DIR>'");
    usage(&["check", "job.toml", "more"]).err_has("error: unexpected argument 'more' found");
}
