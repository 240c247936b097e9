//! Mistakes in moisture tests.

use super::job;
use super::small::{DISHES, PROBES};

const SURFACE: &str = "surface = \"ground-open-24h\"\n";

#[test]
#[rustfmt::skip]
fn readings_that_cannot_be_are_refused() {
    job(DISHES).replace(r#"after = "222.4 g""#, r#"after = "212.4 g""#).says(r#"
        error: `after` is less than `before`
          --> job.toml:47:9
           |
        47 | after = "212.4 g"
           |         ^^^^^^^^^
           |
           = help: a dish gains weight; check both readings
    "#);
    job("").replace("poured-year = 1994", "poured-year = 1994\npoured = 1994-06-01").says(r"
        error: `poured-year` stands beside `poured`
          --> job.toml:18:15
           |
        18 | poured-year = 1994
           |               ^^^^
           |
           = help: give the day or the year, not both
    ");
}

#[test]
#[rustfmt::skip]
fn the_spot_of_a_dish_is_told_in_a_known_word() {
    job(DISHES).replace(SURFACE, "surface = \"painted\"\n").says(r#"
        error: `surface` is `painted`
          --> job.toml:44:11
           |
        44 | surface = "painted"
           |           ^^^^^^^^^
           |
           = help: expected one of "ground-open-24h", "bare", "coated"
    "#);
    job(DISHES).replace(SURFACE, "surface = \"ground-open-24-h\"\n").says(r#"
        error: `surface` is `ground-open-24-h`
          --> job.toml:44:11
           |
        44 | surface = "ground-open-24-h"
           |           ^^^^^^^^^^^^^^^^^^
           |
           = help: did you mean `"ground-open-24h"`? expected one of "ground-open-24h", "bare", "coated"
    "#);
    job(DISHES).replace(SURFACE, "surface = \"ground-open-24h\"\nground = 2026-05-06T08:00:00\n").says(r"
        error: `ground` is not before `set`
          --> job.toml:45:10
           |
        45 | ground = 2026-05-06T08:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: the spot is ground first and left open for 24 hours; check both dates and times
    ");
    job(DISHES).replace(SURFACE, "surface = \"ground-open-24h\"\nground = 2026-05-05T08:15:00\n").says(r#"
        error: `ground` is less than 24 hours before `set`, and `surface` says open for 24 hours
          --> job.toml:45:10
           |
        45 | ground = 2026-05-05T08:15:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: write `surface = "bare"`, or mend the times
    "#);
    job(DISHES).replace(SURFACE, "surface = \"ground-open-24h\"\nvoid = \"\"\n").says(r#"
        error: `void` is empty
          --> job.toml:45:8
           |
        45 | void = ""
           |        ^^
           |
           = help: write something, or leave the key out
    "#);
    job(DISHES).replace("settled = true\n", "room-as-used = \"yes\"\n").says(r#"
        error: `room-as-used` is text
          --> job.toml:39:16
           |
        39 | room-as-used = "yes"
           |                ^^^^^
           |
           = help: write true or false, for example `true`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_probe_is_checked_on_a_day_or_new() {
    job(PROBES).replace("calibrated = 2026-04-25", "calibrated = \"yesterday\"").says(r#"
        error: `calibrated` is `yesterday`
          --> job.toml:46:14
           |
        46 | calibrated = "yesterday"
           |              ^^^^^^^^^^^
           |
           = help: write `"new"` for a new probe, or the day without quotes: `2026-04-20`
    "#);
    job(PROBES).replace("calibrated = 2026-04-25", "calibrated = 2026-05-09").says(r"
        error: `calibrated` is after `read`
          --> job.toml:46:14
           |
        46 | calibrated = 2026-05-09
           |              ^^^^^^^^^^
           |
           = help: the last check before the reading counts
    ");
    job(PROBES).replace(r#"accuracy = "2 %""#, "accuracy = \"12 %\"").says(r#"
        error: `accuracy` is more than 10 %
          --> job.toml:38:12
           |
        38 | accuracy = "12 %"
           |            ^^^^^^
           |
           = help: how far a probe may be off either way, by its data sheet, for example `"2 %"`
    "#);
    job(PROBES).replace(r#"accuracy = "2 %""#, "accuracy = \"0 %\"").says(r#"
        error: `accuracy` is zero
          --> job.toml:38:12
           |
        38 | accuracy = "0 %"
           |            ^^^^^
           |
           = help: how far a probe may be off either way, by its data sheet, for example `"2 %"`
    "#);
}

#[test]
#[rustfmt::skip]
fn probe_holes_are_read_after_they_are_drilled() {
    job(PROBES).replace("read = 2026-05-08T10:00:00", "read = 2026-05-07T08:00:00").says(r"
        error: `read` is not after `drilled`
          --> job.toml:45:8
           |
        45 | read = 2026-05-07T08:00:00
           |        ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both dates and times
    ");
}

#[test]
#[rustfmt::skip]
fn visits_stand_in_their_order_and_before_the_paper() {
    job(&[DISHES, "\n[[moisture.visit]]\n\n[[moisture.visit.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-06T16:00:00\nlifted = 2026-05-07T09:00:00\nfound = \"dry\"\n"].concat()).says(r"
        error: `visit` is out of order
          --> job.toml:51:1
           |
        51 | [[moisture.visit]]
           | ^^^^^^^^^^^^^^^^^^
           |
           = help: one of its tests was read on 2026-05-07, before the visit above it ended on 2026-05-08: put the visits in their order
    ");
    job(&[DISHES, "\n[[moisture.visit]]\n\n[[moisture.visit.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-12T16:00:00\nlifted = 2026-05-13T09:00:00\nfound = \"dry\"\n"].concat()).says(r"
        error: `lifted` is after the date of the paper
          --> job.toml:56:10
           |
        56 | lifted = 2026-05-13T09:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both: the paper's `date` is 2026-05-12
    ");
    job(&[DISHES, "\n[[moisture.visit]]\n"].concat()).says(r"
        error: `visit` has no test
          --> job.toml:51:1
           |
        51 | [[moisture.visit]]
           | ^^^^^^^^^^^^^^^^^^
           |
           = help: add a `[moisture.visit.dishes]`, a `[moisture.visit.probes]` or a `[[moisture.visit.plastic-sheet]]` table, or leave the visit out
    ");
    job(DISHES).replace("lifted = 2026-05-08T08:00:00", "lifted = 2026-05-18T08:10:00").says(r"
        error: `lifted` is after the date of the paper
          --> job.toml:49:10
           |
        49 | lifted = 2026-05-18T08:10:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both: the paper's `date` is 2026-05-12
    ");
}

#[test]
#[rustfmt::skip]
fn a_plastic_sheet_is_lifted_after_it_was_taped() {
    job("\n[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\nlifted = 2026-05-06T09:00:00\nfound = \"dry\"\n").says(r"
        error: `lifted` is not after `taped`
          --> job.toml:38:10
           |
        38 | lifted = 2026-05-06T09:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both dates and times
    ");
    job("\n[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\nlifted = 2026-05-08T09:00:00\nfound = \"wet\"\n").says(r#"
        error: `found` is `wet`
          --> job.toml:39:9
           |
        39 | found = "wet"
           |         ^^^^^
           |
           = help: expected one of "dry", "damp"
    "#);
    job("\n[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\nlifted = 2026-05-08T09:00:00\n").says(r#"
        error: `found` is missing in [[moisture.plastic-sheet]] 1
          --> job.toml:35:1
           |
        35 | [[moisture.plastic-sheet]]
           | ^^^^^^^^^^^^^^^^^^^^^^^^^^ expected one of "dry", "damp"
           |
           = help: add `found = "dry"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_test_lies_on_the_floor_that_was_measured() {
    job(DISHES).replace(r#"at = ["11 ft", "11 ft"]"#, r#"at = ["3 ft", "25 ft"]"#).says(r#"
        error: `at` lies beside the floor
          --> job.toml:43:6
           |
        43 | at = ["3 ft", "25 ft"]
           |      ^^^^^^^^^^^^^^^^^
           |
           = help: both lengths start at the corner where the areas start: along first, then across
    "#);
}

#[test]
fn half_of_the_room_air_is_not_dropped_in_silence() {
    let job = job(DISHES).replace("room-humidity = \"52 %\"\n", "");
    job.says_among_others("error: `room-humidity` is missing");
}
