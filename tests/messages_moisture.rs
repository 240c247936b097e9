//! What the program says about mistakes in moisture tests and visits, and what it still reads without
//! a word.

use slableaf::job::Job;

use crate::facts::example;
use crate::messages::{among, message};

/// A later visit of one probe in place of the line before the example's air.
fn visit(read: &str) -> String {
    format!(
        "[[moisture.visit]]\n[moisture.visit.probes]\nedition = 2019\nsettled = true\n\n\
         [[moisture.visit.probes.probe]]\nplace = \"door\"\ndepth = \"1.6 in\"\nreading = \"70 %\"\n\
         drilled = 2026-04-01T09:00:00\nread = {read}\ncalibrated = 2026-04-01\n\n[air]"
    )
}

const LAST: &str = "2026-05-09T09:00:00";

#[test]
fn a_later_visit_in_its_order_is_no_mistake() {
    let job =
        example::read(&example::job_with("[air]", &visit(LAST)), example::BOOK, example::SHOP).job;
    assert_eq!(job.moisture.visits.len(), 2);
    assert_eq!(job.moisture.probe_tests().count(), 1);
}

#[test]
#[rustfmt::skip]
fn visits_stand_in_their_order() {
    message("job.toml", "[air]", &visit("2026-04-03T09:00:00"), r#"
        error: `visit` is out of order
           --> job.toml:105:1
            |
        105 | [[moisture.visit]]
            | ^^^^^^^^^^^^^^^^^^
            |
            = help: one of its tests was read on 2026-04-03, before the visit above it ended on 2026-05-08: put the visits in their order
    "#);
    message("job.toml", "[air]", "[[moisture.visit]]\n\n[air]", r#"
        error: `visit` has no test
           --> job.toml:105:1
            |
        105 | [[moisture.visit]]
            | ^^^^^^^^^^^^^^^^^^
            |
            = help: add a `[moisture.visit.dishes]`, a `[moisture.visit.probes]` or a `[[moisture.visit.plastic-sheet]]` table, or leave the visit out
    "#);
}

#[test]
#[rustfmt::skip]
fn no_test_is_read_after_the_day_of_the_paper() {
    message("job.toml", "[air]", &visit("2026-05-13T09:00:00"), r#"
        error: `read` is after the date of the paper
           --> job.toml:115:8
            |
        115 | read = 2026-05-13T09:00:00
            |        ^^^^^^^^^^^^^^^^^^^
            |
            = help: check both: the paper's `date` is 2026-05-12
    "#);
    // All three dishes, and the air.
    for (line, found) in [(83, "08:00:00"), (93, "08:05:00"), (103, "08:10:00")] {
        let pad = " ".repeat(line.to_string().len());
        among("job.toml", "date = 2026-05-12", "date = 2026-05-07", &format!("
error: `lifted` is after the date of the paper
{pad}--> job.toml:{line}:10
{pad} |
{line} | lifted = 2026-05-08T{found}
{pad} |          ^^^^^^^^^^^^^^^^^^^
{pad} |
{pad} = help: check both: the paper's `date` is 2026-05-07
"));
    }
}

#[test]
#[rustfmt::skip]
fn a_spot_is_ground_before_its_dish_is_set() {
    let ground = |time: &str| format!("set = 2026-05-05T09:10:00\nground = {time}");
    message("job.toml", "set = 2026-05-05T09:10:00", &ground("2026-05-05T10:00:00"), r#"
        error: `ground` is not before `set`
          --> job.toml:83:10
           |
        83 | ground = 2026-05-05T10:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: the spot is ground first and left open for 24 hours; check both dates and times
    "#);
    message("job.toml", "set = 2026-05-05T09:10:00", &ground("2026-05-05T08:00:00"), r#"
        error: `ground` is less than 24 hours before `set`, and `surface` says open for 24 hours
          --> job.toml:83:10
           |
        83 | ground = 2026-05-05T08:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: write `surface = "bare"`, or mend the times
    "#);
}

#[test]
#[rustfmt::skip]
fn sheets_and_probes_say_what_they_take() {
    let sheet = "[[moisture.plastic-sheet]]\nplace = \"door\"\ntaped = 2026-05-05T09:00:00\nlifted = 2026-05-06T09:00:00\nsealed = true\nfound = \"wet\"\n\n[air]";
    message("job.toml", "[air]", sheet, r#"
        error: `found` is `wet`
           --> job.toml:110:9
            |
        110 | found = "wet"
            |         ^^^^^
            |
            = help: expected one of "dry", "damp"
    "#);
    message("job.toml", "[air]", &visit(LAST).replace("calibrated = 2026-04-01", "calibrated = \"fresh\""), r#"
        error: `calibrated` is `fresh`
           --> job.toml:116:14
            |
        116 | calibrated = "fresh"
            |              ^^^^^^^
            |
            = help: write `"new"` for a new probe, or the day without quotes: `2026-04-20`
    "#);
    message("job.toml", "[air]", &visit(LAST).replace("edition = 2019", "edition = 2019\naccuracy = \"20 %\""), r#"
        error: `accuracy` is more than 10 %
           --> job.toml:108:12
            |
        108 | accuracy = "20 %"
            |            ^^^^^^
            |
            = help: how far a probe may be off either way, by its data sheet, for example `"2 %"`
    "#);
}

/// A job file from before surfaces, visits, void readings and what lies inside the slab is still read.
/// What it does not say is not known.
#[test]
fn job_files_without_the_later_keys_are_still_read() {
    let later =
        ["surface", "ground", "void", "treatments", "inside", "ph", "room-as-used", "accuracy"];
    let with: &str = include_str!("../examples/two-car-barrier/job.toml");
    assert!(with.contains("\nsurface = "), "nothing to take out");
    let old: String = with
        .lines()
        .filter(|line| !later.iter().any(|key| line.starts_with(&format!("{key} = "))))
        .map(|line| format!("{line}\n"))
        .collect();
    let job: Job = example::read(&old, example::BOOK, example::SHOP).job;
    assert_eq!(job.moisture.visits.len(), 1);
    let dishes = job.moisture.dish_tests().next().expect("dishes");
    assert!(!dishes.as_used);
    for dish in &dishes.dishes {
        assert!(dish.surface.is_none() && dish.ground.is_none() && dish.void.is_none());
    }
    assert!(job.slab.inside.is_none() && job.slab.treatments.is_none() && job.slab.ph.is_none());
}
