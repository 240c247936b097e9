//! README and DEVELOPERS.md say what is so: their files work, their commands run, and what they
//! show as printed is printed.

use crate::fixture::{Folder, root, run_in};

pub fn document(name: &str) -> String {
    std::fs::read_to_string(root().join(name)).unwrap()
}

/// The fenced blocks of a kind, in their order.
pub fn blocks(text: &str, kind: &str) -> Vec<String> {
    let fence = format!("```{kind}\n");
    text.split(&fence).skip(1).map(|rest| unindented(rest.split("```").next().unwrap())).collect()
}

/// A block of a list stands as far in as its last line, that of the fence, tells.
fn unindented(block: &str) -> String {
    let indent = block.rsplit('\n').next().unwrap_or_default();
    let lines = block.lines().map(|line| line.strip_prefix(indent).unwrap_or(line));
    lines.map(|line| format!("{line}\n")).collect()
}

#[test]
fn readme_opens_with_one_paragraph_that_states_the_job() {
    let readme = document("README.md");
    let first = readme.split("\n\n").nth(1).unwrap();
    assert!(first.starts_with("slableaf writes the paper"), "{first}");
}

#[test]
fn the_ten_lines_of_the_readme_are_the_smallest_example() {
    let lines = blocks(&document("README.md"), "toml").remove(0);
    assert_eq!(lines.lines().count(), 10);
    let example = document("examples/smallest/job.toml");
    let without_comment: Vec<&str> =
        example.lines().filter(|line| !line.starts_with('#')).collect();
    assert_eq!(lines.trim(), without_comment.join("\n"));
}

#[test]
fn the_readme_shows_what_the_main_example_prints() {
    let shown = blocks(&document("README.md"), "text").remove(0);
    let out = tempfile::TempDir::new().unwrap();
    let records = tempfile::TempDir::new().unwrap();
    let (out, records) = (out.path().to_str().unwrap(), records.path().to_str().unwrap());
    let job = "examples/two-car-barrier/job.toml";
    let arguments = ["write", job, "--out", out, "--records", records];
    let printed = run_in(&root(), &arguments).success().stdout();
    let printed = printed.replace(out, "out");
    assert_eq!(printed.trim(), shown.trim());
}

/// What the README has a customer decide is read, priced and printed.
#[test]
fn the_decisions_of_the_readme_are_priced() {
    let mut blocks = blocks(&document("README.md"), "toml").into_iter();
    let decided = blocks.find(|block| block.starts_with("[choices]")).unwrap();
    let folder = Folder::of("dry-and-quick");
    let job = folder.read("job.toml") + "\n" + &decided;
    let folder = folder.write("job.toml", job);
    let run = folder.run(&["estimate", "job.toml", "--format", "json", "--for", "customer"]);
    let results: serde_json::Value = serde_json::from_str(&run.success().stdout()).unwrap();
    assert_eq!(results["choices"]["color"], "Slate and cream");
    for floor in results["floors"].as_array().unwrap() {
        let offer = &floor["offer"];
        assert_eq!(offer["items"][0]["price"], "180.00");
        let cents = |value: &serde_json::Value| {
            value.as_str().unwrap().replace('.', "").parse::<i64>().unwrap()
        };
        let extras: i64 =
            offer["extras"].as_array().unwrap().iter().map(|e| cents(&e["price"])).sum();
        let gross = cents(&offer["floor_price"]) + extras + 18_000;
        assert_eq!(cents(&offer["discount"]), (gross * 4 + 50) / 100);
        assert!(
            offer["could_add"].as_array().unwrap().iter().any(|a| a["addition"] == "step-grip")
        );
    }
}

/// The command for a letter's change puts it at the end of the book.
#[test]
fn the_command_for_a_letter_of_a_supplier_works() {
    let readme = document("README.md");
    let folder = Folder::of("smallest");
    let mut command = blocks(&readme, "sh").into_iter();
    let command = command.find(|block| block.contains("book change")).unwrap();
    let (_, rest) = command.split_once("slableaf ").unwrap();
    let arguments: Vec<&str> = rest
        .split('"')
        .enumerate()
        .flat_map(
            |(at, part)| if at % 2 == 0 { part.split_whitespace().collect() } else { vec![part] },
        )
        .collect();
    folder.run(&arguments).success();
    let book = folder.read("book.toml");
    let change = book.rsplit("\n\n").next().unwrap();
    assert_eq!(
        change,
        "[[change]]\nfrom = 2027-01-01\nsupplier = \"Invented Resins\"\npercent = \"+4.5 %\"\n"
    );
}

#[test]
fn every_verb_and_exit_code_of_the_readme_is_in_the_help() {
    let readme = document("README.md");
    let help = run_in(&root(), &["--help"]).success().stdout();
    for verb in ["new", "check", "estimate", "write", "mail", "prepare"] {
        assert!(readme.contains(&format!("`slableaf {verb} JOB`")), "{verb}");
        assert!(help.contains(&format!("  {verb}")), "{verb}");
        run_in(&root(), &[verb, "--help"]).success().out_has("Example: slableaf");
    }
    for (verb, of) in [("explain", "CHECK"), ("schema", "KIND"), ("reprice", "FOLDER")] {
        assert!(readme.contains(&format!("`slableaf {verb} {of}`")), "{verb}");
        assert!(help.contains(&format!("  {verb}")), "{verb}");
        run_in(&root(), &[verb, "--help"]).success().out_has("Example: slableaf");
    }
    for code in [
        "0 fine",
        "1 a stop",
        "2 wrong usage",
        "3 some jobs",
        "4 a paper",
        "5 a file",
        "70 a fault",
    ] {
        assert!(help.contains(code), "{code}\n{help}");
    }
}

#[test]
fn links_of_the_documents_lead_somewhere() {
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = document(name);
        for link in text.split("](").skip(1).map(|rest| rest.split(')').next().unwrap()) {
            let outside = link.starts_with("https://") || link.starts_with('#');
            assert!(outside || root().join(link).exists(), "{name}: {link}");
        }
    }
}
