//! The kitchen-table sheet: a line of it is what the program says of a job that is so.

use super::written;
use crate::documents::{list, word};
use crate::fixture::Folder;
use serde_json::Value;

/// The price and the floor that come first by the results of a job.
fn first(folder: &Folder) -> (String, String) {
    let run = folder.run(&["estimate", "job.toml", "--format", "json", "--for", "customer"]);
    let results: Value = serde_json::from_str(&run.success().stdout()).unwrap();
    let floors = list(&results["floors"]);
    let first = floors.iter().find(|floor| floor["recommended"] == true).unwrap();
    (word(&first["name"]).to_owned(), word(&first["offer"]["total"]).to_owned())
}

fn line<'a>(page: &'a Value, case: &str) -> &'a Value {
    let lines = list(&page["groups"]).iter().flat_map(|group| list(&group["lines"]));
    let all: Vec<&Value> = lines.chain([&page["now"]]).collect();
    let cases = |line: &Value| word(&line["case"]).replace('\u{a0}', " ").replace(" and ", ", ");
    all.iter()
        .find(|line| cases(line).split(", ").any(|one| one == case))
        .unwrap_or_else(|| panic!("{all:#?}"))
}

fn digits(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

#[test]
fn a_line_is_what_the_program_says_of_such_a_job() {
    let example = || Folder::of("two-car-barrier");
    let sheet = written(&example(), &["what-if"]);
    let gain = |pounds: f64| {
        // ASTM F1869: MVER = 52.91 x grams / (ft2 x hours), to 1000 ft2 and 24 h. The three dishes stood 70 h 50 min
        // on 65.7 in2; the scale shows a tenth of a gram, so the weights are written finer than it shows.
        pounds * (65.7 / 144.0) * (70.0 + 5.0 / 6.0) / 52.910_94
    };
    let dishes = |pounds: f64| {
        let mut folder = example();
        for (before, after) in [("218.4", "222.4"), ("219.1", "222.5"), ("217.8", "222.5")] {
            let wanted: f64 = before.parse::<f64>().unwrap() + gain(pounds);
            folder = folder.replace(
                "job.toml",
                &format!("before = \"{before} g\"\nafter = \"{after} g\""),
                &format!("before = \"{before} g\"\nafter = \"{wanted:.4} g\""),
            );
        }
        folder
    };
    for (case, folder) in [
        ("As it is", example()),
        (
            "3 people",
            example().replace("job.toml", "start = 2026-05-26", "start = 2026-05-26\ncrew = 3"),
        ),
        (
            "1 person",
            example().replace("job.toml", "start = 2026-05-26", "start = 2026-05-26\ncrew = 1"),
        ),
        ("80 °F", example().replace("job.toml", "slab = \"62 F\"", "slab = \"80 F\"")),
        ("4 lb", dishes(4.0)),
        ("16 lb", dishes(16.0)),
    ] {
        let (floor, total) = first(&folder);
        let line = line(&sheet.page, case);
        assert_eq!(word(&line["floor"]), floor, "{case}");
        assert_eq!(digits(word(&line["price"])), digits(&total), "{case}");
    }
}

/// The pieces of the bar are all of it, and a sentence names each place where they meet.
#[test]
fn the_bar_shows_where_the_answer_changes() {
    for (example, switches) in [("garaje", 2), ("metric-probes", 2)] {
        let sheet = written(&Folder::of(example), &["what-if"]);
        let group = &list(&sheet.page["groups"])[0];
        let pieces = list(&group["bar"]["pieces"]);
        assert_eq!(pieces.len(), switches + 1, "{example}: {group:#?}");
        let all: f64 = pieces.iter().map(|piece| piece["share"].as_f64().unwrap()).sum();
        assert!((all - 1.0).abs() < 1e-6, "{example}: {all}");
        assert!(word(&group["switch"]).matches('.').count() >= switches, "{group}");
    }
}

/// The message names what changes the answer and nothing else; a slab that nobody tested may change it.
#[test]
fn the_message_names_what_changes_the_answer() {
    for (example, lead) in [
        ("two-car-barrier", "Another moisture reading could change our answer"),
        ("garaje", "Otra lectura y otra cuadrilla podrían cambiar la respuesta"),
        ("smallest", "A moisture test could change our answer"),
    ] {
        let sheet = written(&Folder::of(example), &["what-if"]);
        assert_eq!(word(&sheet.page["message"]["lead"]), lead);
        let changed = list(&sheet.page["groups"]).iter().any(|group| {
            group["bar"].is_null() && list(&group["lines"]).iter().any(|l| l["other_floor"] == true)
        });
        assert_eq!(changed, example == "garaje", "{example}");
    }
}

/// A line on which a floor waits is explained, also where no floor comes first today.
#[test]
fn a_floor_that_waits_is_explained() {
    for example in ["smallest", "too-wet-yet", "two-car-barrier"] {
        let sheet = written(&Folder::of(example), &["what-if"]);
        let lines = list(&sheet.page["groups"]).iter().flat_map(|group| list(&group["lines"]));
        let waits = lines.filter(|line| word(&line["floor"]).ends_with("(waits)")).count();
        assert_eq!(waits > 0, example != "two-car-barrier", "{example}");
        assert_eq!(word(&sheet.page["note"]).contains("“Waits”"), waits > 0, "{example}");
    }
}

#[test]
fn what_nobody_measured_has_no_lines() {
    let sheet = written(&Folder::of("smallest"), &["what-if"]);
    let said = word(&sheet.page["note"]);
    assert!(said.contains("We have not tested your slab for moisture"), "{said}");
    assert!(list(&sheet.page["groups"]).iter().all(|group| group["bar"].is_null()));
}
