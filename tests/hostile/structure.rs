//! Files of a shape that no person writes.

use super::{ends_well, folder};

#[track_caller]
fn job_is_refused(text: &str) -> String {
    let ran = folder().write("job.toml", text).run(&["check", "job.toml"]).code(2);
    ends_well(ran).stderr()
}

#[test]
fn nesting_without_end_is_refused() {
    let deep = 100_000;
    for text in [
        format!("x = {}{}", "[".repeat(deep), "]".repeat(deep)),
        format!("x = {}", "[".repeat(900_000)),
        format!("x = {}1{}", "{a=".repeat(deep), "}".repeat(deep)),
        format!("a{} = 1", ".a".repeat(4 * deep)),
        format!("[a{}]", ".a".repeat(4 * deep)),
        format!("[[a{}]]", ".a".repeat(4 * deep)),
    ] {
        let told = job_is_refused(&text);
        let line = "error: line 1 of the file is longer than any line of its kind";
        assert!(told.contains("error: not TOML: ") || told.contains(line), "{}", &text[..20]);
    }
    // Below the bound of a line it is the parser that stops, at the depth that is stated.
    let most = slableaf::read::limits::NESTING;
    let depth =
        |depth: usize| job_is_refused(&format!("x = {}{}", "[".repeat(depth), "]".repeat(depth)));
    assert!(depth(most - 2).contains("unknown key `x`"), "{}", depth(most - 2));
    assert!(depth(most + 1).contains("error: not TOML: "), "{}", depth(most + 1));
    job_is_refused(&format!("x = \"{}\"", "a".repeat(900_000)));
    job_is_refused(&"[[area]]\n".repeat(100_000));
}

/// Nobody reads thousands of messages, and printing each with its line takes ever longer.
#[test]
fn a_file_of_nothing_but_mistakes_ends_with_a_screenful() {
    let keys = |count: usize| (0..count).map(|at| format!("k{at:06}=1\n")).collect::<String>();
    let messages = |text: &str| job_is_refused(text).matches("error: ").count();
    for count in [4_000, 90_000] {
        let found = messages(&keys(count));
        assert!(found <= 100, "{found} messages for {count} keys");
    }
    assert!(messages(&"number = 1\n".repeat(80_000)) <= 100);
    assert!(messages(&"?\n".repeat(400_000)) <= 100);
}

#[test]
fn a_key_that_stands_twice_is_refused() {
    for (file, key) in
        [("job.toml", "number"), ("job.toml", "oil"), ("shop.toml", "name"), ("book.toml", "wage")]
    {
        let text = folder().read(file);
        let line = text.lines().find(|line| line.starts_with(&format!("{key} = "))).unwrap();
        let doubled = text.replacen(line, &format!("{line}\n{line}"), 1);
        let ran = folder().write(file, doubled).run(&["check", "job.toml"]).code(2);
        ends_well(ran).err_has("error: not TOML: duplicate key").err_has(&format!("--> {file}:"));
    }
}
