//! Help, completions, manual page and greeting: made from the arguments themselves, so they hold every
//! verb; and what a run that could not do its work says last.

use crate::fixture::{Folder, root, run_in};

/// Verbs with those below them, as they are typed.
pub fn verbs() -> Vec<String> {
    let listed = |arguments: &[&str]| -> Vec<String> {
        let help = run_in(&root(), arguments).success().stdout();
        let list = help.split("Commands:\n").nth(1).unwrap_or_default().to_owned();
        list.lines()
            .take_while(|line| !line.is_empty())
            .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
            .map(|line| line.split_whitespace().next().unwrap().to_owned())
            .filter(|verb| verb != "help")
            .collect()
    };
    let mut verbs = vec![];
    for verb in listed(&["--help"]) {
        for below in listed(&[&verb, "--help"]) {
            verbs.push(format!("{verb} {below}"));
        }
        verbs.push(verb);
    }
    verbs
}

#[test]
fn every_verb_opens_with_an_example() {
    let verbs = verbs();
    assert!(verbs.len() >= 15, "{verbs:?}");
    for verb in verbs {
        for long in ["-h", "--help"] {
            let mut arguments: Vec<&str> = verb.split(' ').collect();
            arguments.push(long);
            let help = run_in(&root(), &arguments).success().stdout();
            assert!(help.starts_with(&format!("Example: slableaf {verb}")), "{verb}\n{help}");
        }
    }
}

#[test]
fn a_first_run_greets_with_three_commands() {
    let greeting = run_in(&root(), &[]).success().stdout();
    let commands: Vec<&str> =
        greeting.lines().filter(|line| line.starts_with("  slableaf ")).collect();
    assert_eq!(commands.len(), 3, "{greeting}");
    for (line, verb) in commands.iter().zip(["new", "check", "write"]) {
        assert!(line.starts_with(&format!("  slableaf {verb} ")), "{line}");
    }
}

#[test]
fn completions_hold_every_verb_for_every_shell() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = run_in(&root(), &["completions", shell]).success().stdout();
        for verb in verbs() {
            let word = verb.split(' ').next_back().unwrap();
            assert!(script.contains(word), "{shell}: {verb}");
        }
        assert!(script.contains("large-print"), "{shell}");
    }
}

#[test]
fn every_verb_has_a_page_of_the_manual() {
    let folder = Folder::new();
    folder.run(&["manual", "--out", "man"]).success().out_has("wrote man/slableaf.1");
    assert!(folder.read("man/slableaf.1").contains("slableaf\\-write(1)"));
    for verb in verbs() {
        let name = format!("slableaf-{}", verb.replace(' ', "-"));
        let page = folder.read(&format!("man/{name}.1"));
        assert!(page.contains(&format!(".TH {name} 1")), "{name}");
        let examples = page.split(".SH EXAMPLES").nth(1).unwrap();
        let plain = examples.replace("\\-", "-");
        assert!(plain.contains(&format!("slableaf {verb}")), "{name}: {plain}");
    }
    let page = run_in(&root(), &["manual"]).success().stdout();
    assert_eq!(page, folder.read("man/slableaf.1"));
}

/// The last line of a run that failed holds what was typed, so that it can be typed again.
#[test]
fn a_run_that_failed_says_what_to_type_next() {
    let folder = Folder::new().replace("job.toml", "units = \"us\"", "units = \"feet\"");
    let last = |arguments: &[&str]| {
        let run = folder.run(arguments);
        run.stderr().lines().last().unwrap_or_default().to_owned()
    };
    assert_eq!(last(&["check", "job.toml"]), "next: fix that, then `slableaf check job.toml`");
    assert_eq!(
        last(&["write", "job.toml", "--out", "two words"]),
        "next: fix that, then `slableaf write job.toml --out 'two words'`"
    );
    assert_eq!(
        last(&["check", "my job.toml"]),
        "next: `slableaf new 'my job.toml'` starts a job file"
    );
    // A mistake in the line itself is not to be typed again.
    assert_eq!(
        last(&["explain", "moisture-ovr"]),
        "next: `slableaf help explain` says what may be typed"
    );
    assert_eq!(last(&["writ", "job.toml"]), "For more information, try '--help'.");
    // A stop is a result, not a failure.
    let ends = Folder::of("too-wet-yet").run(&["check", "job.toml"]).code(1).stderr();
    assert_eq!(ends, "");
}

/// Slips in a line are answered with what to type.
#[test]
fn a_slip_in_a_line_is_answered() {
    let folder = Folder::new();
    let change = |more: &[&'static str]| {
        let line = ["book", "change", "book.toml", "--percent", "+4 %", "--in-place"];
        [line.as_slice(), more].concat()
    };
    folder
        .run(&change(&["--from", "1/1/2027"]))
        .code(2)
        .err_has("write year, month and day, for example `2027-01-01`");
    folder.run(&change(&["--from", "2027-01-01", "--supplier", "Inventd Resins"])).code(2).err_is(
        "error: `--supplier` is `Inventd Resins`, and no product of the book has that\n  \
             help: did you mean `\"Invented Resins\"`?\n",
    );
    folder
        .run(&change(&["--from", "2027-01-01", "--product", "baryer-epoxy"]))
        .code(2)
        .err_has("did you mean `\"barrier-epoxy\"`?");
    folder
        .run(&["write", "job.toml", "--draft", "--png", "1"])
        .code(2)
        .err_has("help: for pages, write `--png=1`");
}

/// A folder stands for the job in it, as it does for `write` and `new`.
#[test]
fn a_folder_stands_for_its_job() {
    let folder = Folder::new();
    let of_file = folder.run(&["estimate", "job.toml"]).success().stdout();
    assert_eq!(folder.run(&["estimate", "."]).success().stdout(), of_file);
    folder.run(&["check", "photos"]).code(5).err_has("photos");
}

/// Whoever forgot to take `invented` out of the book hears of it before the customer does.
#[test]
fn a_book_that_says_it_is_invented_is_told() {
    let folder = Folder::tested();
    let marked = "marked as invented: the price book says `invented = true`";
    folder.run(&["write", "job.toml", "--draft"]).success().out_has(marked);
    let own = folder.read("book.toml").replacen("invented = true\n", "", 1);
    let said = folder.write("book.toml", own).run(&["write", "job.toml", "--draft"]).success();
    assert!(!said.stdout().contains("invented"));
}
