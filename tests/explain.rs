//! Every check can be explained, and what explains it agrees with the check and with the files that
//! it speaks of.

use std::collections::BTreeSet;
use std::fs;

use slableaf::base::layouts::Layouts;
use slableaf::judge::checks::{CHECKS, Severity};
use slableaf::say::explain::{self, Explanation};
use slableaf::say::words::ExplainText;

use crate::fixture::{EXAMPLES, Folder, root, run_in, words};

const FILES: [&str; 3] =
    ["words/en/explain-slab.toml", "words/en/explain-house.toml", "words/en/explain-laid.toml"];

fn explanations() -> Vec<Explanation> {
    explain::explain_all(&words()).unwrap()
}

fn source_of(folder: &str) -> String {
    let files = fs::read_dir(root().join(folder)).unwrap().map(|file| file.unwrap().path());
    files.filter(|path| path.is_file()).map(|path| fs::read_to_string(path).unwrap()).collect()
}

/// The templates of an explanation.
fn templates(text: &ExplainText) -> Vec<&str> {
    let always = [&text.name, &text.what, &text.why, &text.limit, &text.clear];
    let when = [&text.stop, &text.wait, &text.caution, &text.note].into_iter().flatten();
    always.into_iter().chain(when).map(String::as_str).collect()
}

// ---------------------------------------------------------------------------- checks and words

#[test]
fn every_check_is_explained_and_every_explanation_has_a_check() {
    let checks: BTreeSet<&str> = CHECKS.iter().map(|check| check.name).collect();
    let words = words();
    assert_eq!(checks, words.explain.keys().map(String::as_str).collect());
    // A name is in one file only: the second would silently win.
    let tables = FILES.map(|file| Layouts::default().text(file).unwrap().matches("\n[").count());
    assert_eq!(tables.iter().sum::<usize>(), checks.len());
}

#[test]
fn each_severity_of_a_check_is_explained_and_no_other() {
    let words = words();
    for check in CHECKS {
        let text = &words.explain[check.name];
        let severities = [
            (Severity::Stop, &text.stop),
            (Severity::Wait, &text.wait),
            (Severity::Caution, &text.caution),
            (Severity::Note, &text.note),
        ];
        for (severity, when) in severities {
            let declared = check.severities.contains(&severity);
            assert_eq!(declared, when.is_some(), "{} at {severity:?}", check.name);
        }
        assert!(!check.severities.is_empty(), "{}", check.name);
        assert!(check.severities.is_sorted_by(|a, b| a > b), "{}: most serious first", check.name);
    }
}

/// Once where the check declares it and at least once where it finds.
#[test]
fn each_declared_severity_can_be_found() {
    for check in CHECKS {
        let file = format!("src/judge/checks/{}.rs", check.name.replace('-', "_"));
        let text = fs::read_to_string(root().join(file)).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap();
        for severity in [Severity::Stop, Severity::Wait, Severity::Caution, Severity::Note] {
            let made = format!(".{}()", severity.word());
            let named = code.matches(&format!("Severity::{severity:?}")).count();
            let named = named + code.matches(&made).count();
            let declared = check.severities.contains(&severity);
            assert_eq!(named >= 2, declared, "{} at {severity:?}", check.name);
        }
    }
}

#[test]
fn no_finding_of_an_example_is_of_a_severity_that_its_check_does_not_declare() {
    let mut seen = 0;
    for example in EXAMPLES.iter().chain(&["smallest"]) {
        let run = Folder::of(example).run(&["check", "job.toml", "--format", "json"]);
        let found: serde_json::Value = serde_json::from_str(&run.stdout()).unwrap();
        for finding in found["findings"].as_array().unwrap() {
            let check = CHECKS.iter().find(|check| finding["check"] == check.name).unwrap();
            let declared = check.severities.iter().any(|s| finding["severity"] == s.word());
            assert!(declared, "{example}: {finding}");
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen} findings");
}

/// A limit of the code reaches the reader, and through its name alone.
#[test]
fn every_limit_that_a_check_declares_is_told() {
    let words = words();
    for check in CHECKS {
        let texts = templates(&words.explain[check.name]).join(" ");
        for (name, _) in check.limits {
            assert!(texts.contains(&format!("{{{{ {name} }}}}")), "{}: {name}", check.name);
        }
    }
}

/// A word between backticks is a key or a table that the files may hold, or an option.
#[test]
fn every_key_that_an_explanation_names_can_be_written() {
    let input = source_of("src/read") + &source_of("src/read/keys");
    let options = run_in(&root(), &["check", "--help"]).success().stdout();
    for (name, text) in words().explain {
        for quoted in templates(&text).join(" ").split('`').skip(1).step_by(2) {
            let known = if quoted.starts_with("--") {
                options.contains(quoted)
            } else {
                let key = quoted.split_whitespace().next().unwrap();
                let parts = key.trim_matches(['[', ']']).split('.');
                parts.into_iter().all(|part| input.contains(&format!("\"{part}\"")))
            };
            assert!(known, "{name}: `{quoted}`");
        }
    }
}

#[test]
fn no_sentence_of_an_explanation_is_longer_than_thirty_words() {
    for one in explanations() {
        let when = one.severities.iter().map(|(_, when)| when);
        for text in
            [&one.title, &one.what, &one.why, &one.limit, &one.clear].into_iter().chain(when)
        {
            for sentence in text.split_inclusive(['.', '?', '!']) {
                let words = sentence.split_whitespace().count();
                assert!(words <= 30, "{}: {words} words: {sentence}", one.name);
            }
        }
    }
}

// ----------------------------------------------------------------------------------- the verb

#[test]
fn a_check_is_explained_at_the_terminal() {
    let shown = run_in(&root(), &["explain", "surface-strength"]).success().stdout();
    let expected = "\
surface-strength: Strength of the concrete’s surface

  Looks at  The pull-off strength of the bare concrete against what the first
            coat asks for.
  Why       A coat holds only as well as the concrete under it. On weak concrete
            it can peel and take concrete with it.
  Limit     `strength-from` of the first coat’s product in the book. Where the
            data sheet names none, `strength-from` under `[prep]` in the book.
            Where that is missing too, 200 psi (1.38 MPa): from memory and not
            verified, the lowest class of SSPC-SP 13/NACE No. 6, which is meant
            for little traffic.
  Source    The product’s data sheet
  Stop      The concrete broke below the figure of the data sheet or of your
            book.
  Caution   The concrete broke below the usual figure, and neither data sheet
            nor book names one.
  Note      There is no pull test of this slab.
  To clear  Grind down to sound concrete or have the surface repaired. Pull-test
            it again. Write the lowest result into `surface-strength` under
            `[slab]`.

If a data sheet, a local rule or a licensed person differs, follow that.
";
    assert_eq!(shown, expected);
}

#[test]
fn every_explanation_fits_eighty_columns() {
    let list = run_in(&root(), &["explain"]).success().stdout();
    let each = CHECKS.iter().map(|check| run_in(&root(), &["explain", check.name]).success());
    for shown in each.map(|run| run.stdout()).chain([list]) {
        for line in shown.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
}

#[test]
fn without_a_name_all_checks_are_listed_in_the_groups_of_the_paper() {
    let list = run_in(&root(), &["explain"]).success().stdout();
    let groups: Vec<&str> =
        list.lines().filter(|line| line.starts_with(char::is_alphabetic)).collect();
    assert_eq!(
        groups,
        [
            "Moisture",
            "Air and dew point",
            "Slab",
            "Floors",
            "Safety and local rules",
            "For the shop alone"
        ]
    );
    for one in explanations() {
        let line =
            list.lines().find(|line| line.trim_start().starts_with(&format!("{} ", one.name)));
        assert!(line.is_some_and(|line| line.ends_with(&one.title)), "{}", one.name);
    }
    let rows = list.lines().filter(|line| line.starts_with("  ")).count();
    assert_eq!(rows, CHECKS.len());
}

#[track_caller]
fn unknown(name: &str, message: &str) {
    run_in(&root(), &["explain", name]).code(2).err_is(message);
}

#[test]
fn an_unknown_name_brings_up_the_nearest() {
    unknown(
        "moisture-over-limits",
        "error: there is no check `moisture-over-limits`\n  help: did you mean `moisture-over-limit`?",
    );
    unknown("Hot_Tires", "error: there is no check `Hot_Tires`\n  help: did you mean `hot-tires`?");
    unknown("xyz", "error: there is no check `xyz`\n  help: `slableaf explain` lists all checks");
}

#[test]
fn programs_get_json() {
    let parse = |arguments: &[&str]| -> serde_json::Value {
        serde_json::from_str(&run_in(&root(), arguments).success().stdout()).unwrap()
    };
    let one = parse(&["explain", "hot-tires", "--format", "json"]);
    assert_eq!(one["version"], 1);
    assert_eq!(one["name"], "hot-tires");
    assert_eq!(one["severities"], serde_json::json!(["caution"]));
    assert_eq!(one["source"], "common practice, no published source");
    for key in ["title", "what", "why", "limit", "clear"] {
        assert!(one[key].as_str().is_some_and(|text| !text.is_empty()), "{key}");
    }
    assert!(one["limit"].as_str().unwrap().contains("(200"), "the limit in both units: {one}");
    let all = parse(&["explain", "--format", "json"]);
    assert_eq!(all["version"], 1);
    assert_eq!(all["checks"].as_array().unwrap().len(), CHECKS.len());
}
