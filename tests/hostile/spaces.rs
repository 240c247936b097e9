//! Jobs of several spaces made to do harm: every value at its ends, and texts that would be code elsewhere.

use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use slableaf::base::source::Diagnostic;
use slableaf::judge::spaces::{JudgedSpaces, judge_spaces};
use slableaf::papers::family::{care_sheets, leaflets};
use slableaf::papers::mail::{self, Enclosed};
use slableaf::papers::proposal::{Issue, Spaces, page_of_spaces};
use slableaf::read::Input;
use slableaf::read::keys::FileKind;
use slableaf::results::customer::CustomerForm;
use slableaf::results::findings::FindingsForm;
use slableaf::results::shop::ShopForm;
use toml::{Table, Value};

use super::bench::{FULL, WORDS, full, read};
use super::ends_well;
use crate::chance::tried;
use crate::fixture::Folder;

const SPACES: &str = include_str!("full/spaces.toml");

fn files(job: &str) -> [String; 4] {
    let mut files = full();
    job.clone_into(&mut files[0]);
    files
}

fn input(job: &str) -> Result<Input, Vec<Diagnostic>> {
    read(&files(job))
}

/// Everything that a job of several spaces makes, as JSON or text; `None` past all bounds.
fn made(input: &Input) -> Option<Vec<(&'static str, String)>> {
    let jobs = input.job.of_spaces();
    let judged: JudgedSpaces<'_> = judge_spaces(input, &jobs);
    if judged.exceeded_limit().is_some() {
        return None;
    }
    let s = Spaces::new(&input.job, &judged, &WORDS);
    let issue = Issue { revision: Some(1), photos: input.job.photos.len(), ..Issue::default() };
    let json = |value: serde_json::Value| value.to_string();
    let page = page_of_spaces(&s, &issue).unwrap();
    let enclosed = Enclosed::proposal(1, "2026-0777-proposal-r1.pdf", 20, b"");
    let letter = mail::letter(s.w(), &page, &enclosed).unwrap();
    let mut made = vec![
        ("mail", letter.text()),
        ("leaflets", json(serde_json::to_value(leaflets(&s, &issue, true).unwrap()).unwrap())),
        ("care", json(serde_json::to_value(care_sheets(&s, &issue).unwrap()).unwrap())),
        ("shop", json(serde_json::to_value(ShopForm::of_spaces(&s).unwrap()).unwrap())),
        ("customer", json(serde_json::to_value(CustomerForm::of_spaces(&s).unwrap()).unwrap())),
        ("findings", json(serde_json::to_value(FindingsForm::of_spaces(&s).unwrap()).unwrap())),
    ];
    made.push(("page", json(serde_json::to_value(page).unwrap())));
    Some(made)
}

/// A place of a value in a file: names and positions.
type Path = Vec<Step>;

#[derive(Debug, Clone)]
enum Step {
    Key(String),
    At(usize),
}

fn leaves(value: &Value, path: &Path, found: &mut Vec<(Path, Value)>) {
    let below = |step: Step| path.iter().cloned().chain([step]).collect::<Path>();
    match value {
        Value::Table(table) => {
            table.iter().for_each(|(key, v)| leaves(v, &below(Step::Key(key.clone())), found));
        }
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(at, v)| leaves(v, &below(Step::At(at)), found));
        }
        leaf => found.push((path.clone(), leaf.clone())),
    }
}

fn all_leaves() -> Vec<(Path, Value)> {
    let mut found = vec![];
    leaves(&Value::Table(SPACES.parse().unwrap()), &vec![], &mut found);
    found
}

fn with(changes: &[(Path, Value)]) -> String {
    let mut file = Value::Table(SPACES.parse().unwrap());
    for (path, new) in changes {
        let place = path.iter().fold(&mut file, |value, step| match step {
            Step::Key(key) => &mut value[key.as_str()],
            Step::At(at) => &mut value[*at],
        });
        place.clone_from(new);
    }
    let Value::Table(table) = file else { unreachable!() };
    table.to_string()
}

/// Another value for a leaf: a number of a text at its ends, the other truth, a day far away.
fn other(leaf: &Value, pick: usize) -> Value {
    const NUMBERS: &[&str] =
        &["0", "0.000000000001", "0.01", "1", "60", "100", "10000", "10000000"];
    match leaf {
        Value::String(text) => {
            let number = NUMBERS[pick % NUMBERS.len()];
            let digits = |c: char| c.is_ascii_digit() || c == '.';
            match text.find(|c: char| c.is_ascii_digit()).filter(|at| *at <= 1) {
                Some(from) => {
                    let rest = text[from..].trim_start_matches(digits);
                    format!("{}{number}{rest}", &text[..from]).into()
                }
                None => text.clone().into(),
            }
        }
        Value::Integer(_) => [0, 1, 2, 20, 999, 9_999][pick % 6].into(),
        Value::Boolean(yes) => (!yes).into(),
        Value::Datetime(day) => {
            let days = ["1900-01-01", "2026-05-12", "2026-06-04", "2199-12-31"];
            let of_day =
                || days[pick % days.len()].parse().map_or(Value::Datetime(*day), Value::Datetime);
            if day.time.is_some() { Value::Datetime(*day) } else { of_day() }
        }
        other => other.clone(),
    }
}

#[test]
fn the_full_job_of_spaces_has_everything() {
    let input = input(SPACES).unwrap_or_else(|problems| panic!("{problems:#?}"));
    let made = made(&input).unwrap();
    assert_eq!(made.len(), 7);
    for name in ["Garage", "Patio", "Basement", "Front steps"] {
        assert!(made.iter().all(|(what, text)| *what == "care" || text.contains(name)), "{name}");
    }
}

/// Every key below `[[space]]` that is not one of a job of one space stands in the full file.
#[test]
fn every_key_of_a_space_stands_in_the_full_file() {
    let file: Table = SPACES.parse().unwrap();
    let spaces: Vec<&Table> =
        file["space"].as_array().unwrap().iter().map(|space| space.as_table().unwrap()).collect();
    let surroundings: Vec<&Table> =
        spaces.iter().map(|space| space["surroundings"].as_table().unwrap()).collect();
    let job = FileKind::Job.file();
    for (path, there) in [("space", spaces), ("space.surroundings", surroundings)] {
        let known = job.below(path).unwrap().keys;
        assert!(known.len() > 2, "{path}");
        for key in known.iter().map(|key| key.name) {
            assert!(there.iter().any(|table| table.contains_key(key)), "{path}: {key}");
        }
    }
}

/// Any values at their ends give figures or a message, and prices that still sum.
#[test]
fn values_at_their_ends_give_figures_or_a_message() {
    let all = all_leaves();
    let change = (0..all.len(), any::<usize>()).prop_map(move |(at, pick)| (at, pick));
    let all = all_leaves();
    let mut runner = TestRunner::new(tried(120));
    let seen = runner.run(&prop::collection::vec(change, 1..=2), |changes| {
        let changes: Vec<(Path, Value)> = changes
            .iter()
            .map(|(at, pick)| (all[*at].0.clone(), other(&all[*at].1, *pick)))
            .collect();
        let Ok(input) = input(&with(&changes)) else { return Ok(()) };
        let Some(made) = made(&input) else { return Ok(()) };
        for (what, text) in made {
            for absurd in ["NaN", "inf,", "\"inf\"", "\":null.", "-$0"] {
                prop_assert!(!text.contains(absurd), "{what}: {absurd} with {changes:?}");
            }
        }
        Ok(())
    });
    seen.unwrap();
}

/// Texts that are code in a layout, in words, in HTML or in a table, at every text of the job that is
/// printed as it stands.
#[test]
fn a_text_stays_a_text() {
    const TEXTS: [&str; 5] = [
        "#panic(\"typst\")",
        "{{ 7 * 7 }}{% raw %}",
        "<b onclick=x>&amp;",
        "=HYPERLINK(1)",
        "*bold* _it_ $x$ @ref",
    ];
    let names: Vec<(Path, Value)> = all_leaves()
        .into_iter()
        .filter(|(path, _)| matches!(path.last(), Some(Step::Key(key)) if key == "name" || key == "caption" || key == "reason"))
        .collect();
    assert!(names.len() > 15, "{}", names.len());
    for (turn, hostile) in TEXTS.iter().enumerate() {
        let changes: Vec<(Path, Value)> = names
            .iter()
            .enumerate()
            .map(|(at, (path, _))| (path.clone(), format!("{hostile} {at}{turn}").into()))
            .collect();
        let mut job: Table = with(&changes).parse().unwrap();
        // What was accepted and ordered names the spaces as they were.
        job.remove("accepted");
        job.remove("order");
        job.remove("photo");
        let text = job.to_string();
        let input = input(&text).unwrap_or_else(|problems| panic!("{problems:#?}"));
        let made = made(&input).unwrap();
        let page = &made.iter().find(|(what, _)| *what == "page").unwrap().1;
        let page: serde_json::Value = serde_json::from_str(page).unwrap();
        for (space, at) in page["spaces"].as_array().unwrap().iter().zip(0..) {
            let name = &input.job.spaces[at].place.name;
            assert_eq!(space["name"].as_str().unwrap(), name);
            assert!(space["slab_title"].as_str().unwrap().contains(name.as_str()));
        }
        assert!(made.iter().all(|(_, text)| !text.contains("49 ")), "a template was filled in");
        let folder = Folder::new()
            .write("job.toml", text)
            .write("book.toml", FULL[1])
            .write("systems/own.toml", FULL[3]);
        let folder = folder.write("shop.toml", FULL[2].replace("logo = ", "# logo = "));
        ends_well(folder.run(&["write", "--draft", "job.toml"])).success();
    }
}
