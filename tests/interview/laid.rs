//! The questions of `new laid`: coats of the agreed floor in the order of work, put behind the job.

use super::{LAID, Visit};
use slableaf::interview::InterviewKind;
use slableaf::read::read_job;

#[test]
fn coats_are_recorded_in_order_behind_the_job() {
    let mut visit = Visit::within(&LAID, InterviewKind::Laid);
    visit.with(&[
        ("laid.start 1", "2026-05-26 10:30"),
        ("laid.end 1", "2026-05-26 11:30"),
        ("laid.air 1", "70"),
        ("laid.humidity 1", "50"),
        ("laid.slab 1", "68"),
        ("laid.used 1", "5.6 gal"),
        ("laid.batches 1 1", "A-1"),
        ("laid.films 1 1", "16"),
        ("laid.films 1 2", "18 mil"),
        ("laid.gauge-step 1", "1"),
        ("laid.who 1", "R. T."),
        ("laid.start 2", "2026-05-26 10:45"),
        ("laid.weight 2", "60 lb"),
    ]);
    let file = visit.interview.file().unwrap();
    let added = file.text.strip_prefix(LAID.below.as_str()).expect("the job stays as it was");
    assert_eq!(
        added.trim_start(),
        "[[laid]]\ncoat = \"barrier\"\nstart = 2026-05-26T10:30:00\nend = 2026-05-26T11:30:00\nair = \"70 F\"\n\
         humidity = \"50 %\"\nslab = \"68 F\"\nused = \"5.6 gal\"\nbatches = [\"A-1\"]\nfilms = [\"16 mil\", \"18 mil\"]\n\
         gauge-step = \"1 mil\"\nwho = \"R. T.\"\n\n[[laid]]\ncoat = \"flake\"\nstart = 2026-05-26T10:45:00\n\
         weight = \"60 lb\"\n"
    );
    assert_eq!(read_job(&file).alone().unwrap().laid.len(), 2);
    let said = visit.said.join("\n");
    assert!(said.contains("was planned"), "{said}");
}

#[test]
fn nothing_is_written_for_a_floor_that_is_not_laid() {
    let mut visit = Visit::within(&LAID, InterviewKind::Laid);
    visit.with(&[]);
    assert_eq!(visit.asked, ["laid.start 1"]);
    assert_eq!(visit.interview.file().unwrap().text, LAID.below);
}

#[test]
fn a_slip_is_told_at_once() {
    let mut visit = Visit::within(&LAID, InterviewKind::Laid);
    let (message, _) = visit.refuses("2026-05-01 9:00");
    assert!(message.contains("is before the day on which the floor was accepted"), "{message}");
    visit.takes("2026-05-26 10:30");
    let (message, _) = visit.refuses("2026-05-26 9:30");
    assert!(message.contains("is not after `start`"), "{message}");
}
