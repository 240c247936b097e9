//! The report on jobs whose price changed.

use super::{cents, dry, job, json, of_every_state, shop};
use crate::checker::keeps_to;
use crate::documents::files;
use serde_json::Value;
use slableaf::results::reprice::RepriceForm;
use slableaf::results::schema;
use std::fs;

#[test]
fn a_line_for_each_job_says_old_and_new_price_cause_and_state() {
    let said = dry(&of_every_state(), &[]).code(3).stdout().replace('\u{A0}', " ");
    let line = |start: &str| said.lines().find(|line| line.trim().starts_with(start)).unwrap();
    let words = |line: &str| line.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    let head = "job number before after change cause valid until state";
    assert_eq!(words(line("job ")), words(head));
    let open = line("jobs/a/job.toml");
    assert_eq!(
        words(open),
        words(
            "jobs/a/job.toml A-1 $5,186.55 $5,266.43 +$79.88 \
             barrier-epoxy price (3 gal) +$82.96, and 1 more 2026-06-11 open"
        )
    );
    for (path, state) in [
        ("a", "open"),
        ("b", "accepted"),
        ("c", "expired"),
        ("d", "stop found"),
        ("e", "could not be read"),
    ] {
        let line = line(&format!("jobs/{path}/job.toml"));
        assert!(line.ends_with(state), "{line}");
    }
    let trouble = line("trouble: jobs/e/job.toml:");
    assert!(trouble.contains("`units` is `imperial`"), "{trouble}");
    assert_eq!(
        said.lines().last().unwrap(),
        "5 jobs: 1 open, 1 accepted, 1 expired, 1 stop found, 1 could not be read; \
         1 of the open change, by +$79.88 together; nothing was written"
    );
}

#[test]
fn a_dry_run_writes_nothing() {
    let folder = of_every_state();
    let before = files(&folder, ".");
    dry(&folder, &[]).code(3);
    assert_eq!(files(&folder, "."), before);
    for path in ["a", "b", "c", "d", "e"] {
        assert_eq!(files(&folder, &format!("jobs/{path}")), ["job.toml"]);
    }
}

#[test]
fn the_same_book_changes_no_job() {
    let folder = shop(&[("a/job.toml", job("A-1")), ("b/job.toml", job("A-2"))]);
    folder
        .run(&["reprice", "jobs", "--book", "book.toml", "--on", "2026-05-20", "--dry-run"])
        .success()
        .out_has("2 jobs: 2 open; no open one changes; nothing was written");
}

#[test]
fn causes_of_every_floor_add_up_in_json_and_keep_to_the_schema() {
    let folder = of_every_state();
    let result = json(&dry(&folder, &["--format", "json"]).code(3));
    keeps_to(&result, &schema::<RepriceForm>().to_value(), "reprice");
    let printed: Value =
        serde_json::from_str(&folder.run(&["schema", "reprice"]).success().stdout()).unwrap();
    assert_eq!(printed, schema::<RepriceForm>().to_value());
    let mut floors = 0;
    for job in result["jobs"].as_array().unwrap() {
        for floor in job["floors"].as_array().unwrap() {
            let causes = floor["causes"].as_array().unwrap();
            let sum: i64 = causes.iter().map(|cause| cents(&cause["change"])).sum();
            assert_eq!(sum, cents(&floor["change"]), "{floor}");
            assert_eq!(sum, cents(&floor["after"]) - cents(&floor["before"]), "{floor}");
            floors += 1;
        }
    }
    assert!(floors >= 3, "{floors}");
    let summary = &result["summary"];
    assert_eq!(summary["jobs"], 5);
    assert_eq!((&summary["open"], &summary["unreadable"]), (&1.into(), &1.into()));
    // The sum is that of the open job alone.
    let open = &result["jobs"][0];
    let floor = open["floors"].as_array().unwrap().iter();
    let main = floor.clone().find(|f| f["floor"] == open["recommended_before"]).unwrap();
    assert_eq!(summary["change"][0]["change"], main["change"]);
}

#[test]
fn a_spreadsheet_has_the_same_figures_and_runs_no_formula() {
    let folder = shop(&[("=1+1/job.toml", job("A-1")), ("b/job.toml", job("A-2"))]);
    let ask = |format| {
        let ask = ["reprice", ".", "--book", "new.toml", "--on", "2026-05-20", "--dry-run"];
        fs::rename(folder.path("jobs/=1+1"), folder.path("=1+1")).ok();
        folder.run(&[&ask[..], &["--format", format]].concat()).success()
    };
    let result = json(&ask("json"));
    let text = ask("csv").stdout();
    assert!(text.lines().all(|line| !line.starts_with('=')), "{text}");
    assert!(text.contains("'=1+1/job.toml"), "{text}");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().unwrap().clone();
    let at = |name: &str| head.iter().position(|column| column == name).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let floors =
        result["jobs"].as_array().unwrap().iter().flat_map(|job| {
            job["floors"].as_array().unwrap().iter().map(move |floor| (job, floor))
        });
    for (row, (job, floor)) in rows.iter().zip(floors) {
        assert_eq!(row[at("job")], *job["job"].as_str().unwrap());
        for name in ["floor", "before", "after", "change"] {
            assert_eq!(row[at(name)], *floor[name].as_str().unwrap());
        }
        let named = row[at("causes")].split("; ").filter(|cause| !cause.is_empty());
        let sum: i64 = named
            .map(|cause| cause.rsplit(' ').next().unwrap().replace('.', "").parse::<i64>().unwrap())
            .sum();
        assert_eq!(sum, cents(&floor["change"]), "{row:?}");
    }
}
