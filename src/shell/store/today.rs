//! The day on which a run works: the only thing that papers do not depend on and a shop should know.

use std::time::SystemTime;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::{Offset, TimeZone};
use slableaf::model::job::Job;

use crate::shell::terminal::Report;

/// Days after which a paper's own date misleads: measurements and costs are older than it says. Common practice, no published source.
const OLD: i64 = 30;

/// The variable that fixes the day, in seconds since 1970 in UTC, as reproducible-builds.org has it.
const FIXED: &str = "SOURCE_DATE_EPOCH";

/// Today, as the clock of this machine has it or as the environment fixes it.
pub fn today() -> Date {
    let fixed = std::env::var(FIXED).ok().and_then(|seconds| seconds.parse::<i64>().ok());
    match fixed {
        Some(seconds) => Offset::UTC
            .to_datetime(within_calendar(Timestamp::from_second(seconds), seconds < 0))
            .date(),
        None => day_of(SystemTime::now()),
    }
}

/// The day of a moment where this machine stands. A clock that runs past the years that a calendar has,
/// as one with an empty battery may, is at their end.
fn day_of(clock: SystemTime) -> Date {
    let early = clock < SystemTime::UNIX_EPOCH;
    within_calendar(Timestamp::try_from(clock), early).to_zoned_datetime(TimeZone::system()).date()
}

fn within_calendar<E>(moment: Result<Timestamp, E>, early: bool) -> Timestamp {
    moment.unwrap_or(if early { Timestamp::MIN } else { Timestamp::MAX })
}

/// Warns the shop that a paper is made long after the date that it bears.
pub fn warn_of_age(job: &Job, report: &mut Report) {
    if let Some(days) = age(job.date, today()) {
        report.warn(
            &format!("this paper is dated {}, {days} days ago", job.date),
            "write a new `date` in the job, look at prices and readings again, and run this again",
        );
    }
}

/// Days from a paper's date to a day, when they are too many.
fn age(date: Date, today: Date) -> Option<i64> {
    let days = i64::from((today - date).get_days());
    (days > OLD).then_some(days)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_clock_beyond_the_calendar_stops_at_its_end() {
        let after = |seconds| SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(seconds);
        // 31 December 9999 at noon, and far later.
        for late in [253_402_257_600, 400_000_000_000] {
            assert_eq!(day_of(after(late)).year(), 9999);
        }
        assert_eq!(day_of(after(1_778_544_000)).year(), 2026);
        assert!(
            day_of(SystemTime::UNIX_EPOCH - std::time::Duration::from_secs(400_000_000_000)).year()
                < 0
        );
    }

    #[test]
    fn a_paper_is_old_after_thirty_days() {
        let dated = date(2026, 5, 12);
        assert_eq!(age(dated, date(2026, 6, 11)), None);
        assert_eq!(age(dated, date(2026, 6, 12)), Some(31));
        assert_eq!(age(dated, date(2026, 5, 1)), None);
        assert_eq!(age(dated, date(2027, 5, 12)), Some(365));
    }
}
