//! Dates and times that cannot be.

use super::small::DISHES;
use super::{book, job};

#[test]
#[rustfmt::skip]
fn a_date_stands_without_quotes_and_on_the_calendar() {
    job("").replace("date = 2026-05-12", r#"date = "2026-05-12""#).says(r#"
        error: `date` is text
         --> job.toml:2:8
          |
        2 | date = "2026-05-12"
          |        ^^^^^^^^^^^^
          |
          = help: write year-month-day without quotes: `2026-05-12`
    "#);
    job("").replace("date = 2026-05-12", "date = 2026-02-30").says(r"
        error: not TOML: invalid date, expected day between 01 and 28
         --> job.toml:2:8
          |
        2 | date = 2026-02-30
          |        ^^^^^^^^^^
    ");
    job("").replace("date = 2026-05-12", "date = 5/12/2026").says(r"
        error: not TOML: string values must be quoted, expected literal string
         --> job.toml:2:8
          |
        2 | date = 5/12/2026
          |        ^^^^^^^^^
          |
          = help: write year, month, day, without quotes: `2026-05-12`
    ");
    job("").replace("date = 2026-05-12", "date = 0206-05-12").says(r"
        error: `date` is outside the years 1900 to 2199: `0206-05-12`
         --> job.toml:2:8
          |
        2 | date = 0206-05-12
          |        ^^^^^^^^^^
    ");
    job(DISHES).replace("set = 2026-05-05T09:10:00", r#"set = "2026-05-05 09:10""#).says(r#"
        error: `set` is text
          --> job.toml:48:7
           |
        48 | set = "2026-05-05 09:10"
           |       ^^^^^^^^^^^^^^^^^^
           |
           = help: write date and time without quotes or zone: `2026-05-08T10:30:00`
    "#);
    job(DISHES).replace("set = 2026-05-05T09:10:00", "set = 2026-05-05").says(r"
        error: `set` is a date
          --> job.toml:48:7
           |
        48 | set = 2026-05-05
           |       ^^^^^^^^^^
           |
           = help: write date and time without quotes or zone: `2026-05-08T10:30:00`
    ");
    job(DISHES).replace("set = 2026-05-05T09:10:00", "set = 2200-05-05T09:10:00").says(r"
        error: `set` is outside the years 1900 to 2199: `2200-05-05`
          --> job.toml:48:7
           |
        48 | set = 2200-05-05T09:10:00
           |       ^^^^^^^^^^^^^^^^^^^
    ");
    book("").replace("day-starts = 07:30:00", r#"day-starts = "7:30""#).says(r#"
        error: `day-starts` is text
          --> book.toml:10:14
           |
        10 | day-starts = "7:30"
           |              ^^^^^^
           |
           = help: write a time without quotes: `07:30:00`
    "#);
    book("").replace("day-ends = 17:00:00", "day-ends = 07:00:00").says(r"
        error: `day-ends` is not after `day-starts`
          --> book.toml:11:12
           |
        11 | day-ends = 07:00:00
           |            ^^^^^^^^
           |
           = help: write a later time, for example `17:00:00`
    ");
    job(DISHES).replace("lifted = 2026-05-08T08:00:00", "lifted = 2026-05-05T08:00:00").says(r"
        error: `lifted` is not after `set`
          --> job.toml:49:10
           |
        49 | lifted = 2026-05-05T08:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both dates and times
    ");
}

#[test]
fn a_date_with_a_time_is_not_told_that_it_is_a_date() {
    let found = job("").replace("date = 2026-05-12", "date = 2026-05-12T08:00:00").mistakes();
    assert_ne!(found, ["error: `date` is a date"]);
    let found =
        job(DISHES).replace("set = 2026-05-05T09:10:00", "set = 2026-05-05T09:10:00Z").mistakes();
    assert_ne!(found, ["error: `set` is a date"]);
}
