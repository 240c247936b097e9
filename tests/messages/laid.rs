//! Records of how a floor was laid.

use super::small::FLOOR;
use super::{SmallShop, job};

/// The small job, signed on 20 May, with these records.
fn signed(records: &str) -> SmallShop {
    let accepted = "\n[accepted]\nrevision = 1\nfloor = \"thin\"\non = 2026-05-20\n";
    job(&format!("{accepted}{records}"))
}

/// The same with a coat on top of the floor's only one.
fn two_coats(records: &str) -> SmallShop {
    let top = "\n[[coat]]\nkey = \"top\"\nproduct = \"epoxy-primer\"\nlook = \"clear\"\n";
    signed(records).write("systems/thin.toml", format!("{FLOOR}{top}"))
}

#[test]
fn a_record_has_its_start() {
    signed("\n[[laid]]\ncoat = \"base\"\nfilms = [\"9 mil\"]\n").says(
        r#"
        error: `start` is missing in [[laid]] 1
          --> job.toml:40:1
           |
        40 | [[laid]]
           | ^^^^^^^^ expected a date and time
           |
           = help: add `start = 2026-05-08T10:30:00`
    "#,
    );
}

#[test]
fn a_floor_is_laid_once_it_was_ordered() {
    job("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T09:30:00\n").says(
        r#"
        error: a coat is recorded, and nothing was accepted
          --> job.toml:35:1
           |
        35 | [[laid]]
           | ^^^^^^^^
           |
           = help: a floor is laid once it was ordered: add `[accepted]` with `revision`, `floor` and `on`, as the customer signed it
    "#,
    );
}

#[test]
fn a_coat_is_one_of_the_floor_that_was_agreed() {
    signed("\n[[laid]]\ncoat = \"bass\"\nstart = 2026-05-26T09:30:00\n").says(
        r#"
        error: no coat of `thin` is called `bass`
          --> job.toml:41:8
           |
        41 | coat = "bass"
           |        ^^^^^^
           |
           = help: did you mean `base`?
    "#,
    );
}

#[test]
fn a_coat_ends_after_it_begins() {
    signed("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T09:30:00\nend = 2026-05-26T08:30:00\n")
        .says(
            r#"
        error: `end` is not after `start`
          --> job.toml:43:7
           |
        43 | end = 2026-05-26T08:30:00
           |       ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both dates and times
    "#,
        );
}

#[test]
fn a_coat_is_laid_within_a_day() {
    signed("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T09:30:00\nend = 2026-05-28T08:30:00\n").says(
        r#"
        error: `end` is more than 24 hours after `start`
          --> job.toml:43:7
           |
        43 | end = 2026-05-28T08:30:00
           |       ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both dates: where a coat was laid on two days, write a record for each part, with its `area`
    "#,
    );
}

#[test]
fn a_coat_is_not_laid_before_the_signature() {
    signed("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-19T09:30:00\n").says(
        r#"
        error: `start` is before the day on which the floor was accepted, 2026-05-20
          --> job.toml:42:9
           |
        42 | start = 2026-05-19T09:30:00
           |         ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both days: a floor is laid once it was ordered
    "#,
    );
}

#[test]
fn a_second_record_says_if_it_is_of_another_part_or_over_the_same() {
    signed("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T09:30:00\n\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T12:30:00\n").says(
        r#"
        error: `base` is recorded twice
          --> job.toml:45:8
           |
        45 | coat = "base"
           |        ^^^^^^
           |
           = help: give each part its `area`, or write `again = true` where it went over the same floor once more
    "#,
    );
}

#[test]
fn a_second_pass_has_a_first() {
    signed("\n[[laid]]\ncoat = \"base\"\nagain = true\nstart = 2026-05-26T09:30:00\n").says(
        r#"
        error: `base` is laid again, and no record above it is the first
          --> job.toml:41:8
           |
        41 | coat = "base"
           |        ^^^^^^
           |
           = help: leave `again` out, or add the first record
    "#,
    );
}

#[test]
fn records_stand_in_the_order_of_work() {
    two_coats("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T09:30:00\n\n[[laid]]\ncoat = \"top\"\nstart = 2026-05-25T12:30:00\n").says(
        r#"
        error: `start` is before that of the record above it
          --> job.toml:46:9
           |
        46 | start = 2026-05-25T12:30:00
           |         ^^^^^^^^^^^^^^^^^^^
           |
           = help: `base` above it began at 2026-05-26T09:30:00: put the records in the order of work, or mend the times
    "#,
    );
}

#[test]
fn a_coat_is_not_laid_before_the_one_below_it() {
    two_coats("\n[[laid]]\ncoat = \"top\"\nstart = 2026-05-26T09:30:00\n\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-27T12:30:00\n").says(
        r#"
        error: `base` is recorded after `top`, which lies above it
          --> job.toml:45:8
           |
        45 | coat = "base"
           |        ^^^^^^
           |
           = help: check the coats and the times: the lower coat is laid first
    "#,
    );
}

#[test]
fn a_liquid_is_not_weighed() {
    signed("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T09:30:00\nweight = \"20 lb\"\n").says(
        r#"
        error: coat `base` is a liquid and has a `weight`
          --> job.toml:40:1
           |
        40 | [[laid]]
           | ^^^^^^^^
           |
           = help: write the volume: `used = "2.75 gal"`
    "#,
    );
}

#[test]
fn nothing_is_not_a_volume() {
    signed("\n[[laid]]\ncoat = \"base\"\nstart = 2026-05-26T09:30:00\nused = \"0 gal\"\n").says(
        r#"
        error: `used` is zero
          --> job.toml:43:8
           |
        43 | used = "0 gal"
           |        ^^^^^^^
           |
           = help: write what went on the floor, or leave it out where nobody wrote it down
    "#,
    );
}
