//! The day on which a run works: the only thing that papers do not depend on and a shop should know.

use jiff::civil::Date;
use jiff::tz::Offset;
use slableaf::model::job::Job;

use crate::shell::terminal::Report;

/// Days after which a paper's own date misleads: measurements and costs are older than it says. Common practice, no published source.
const OLD: i64 = 30;

/// The variable that fixes the day, in seconds since 1970 in UTC, as reproducible-builds.org has it.
const FIXED: &str = "SOURCE_DATE_EPOCH";

/// Today, as the clock of this machine has it or as the environment fixes it.
pub fn today() -> Date {
    let fixed = std::env::var(FIXED).ok().and_then(|seconds| seconds.parse().ok());
    match fixed.and_then(|seconds| jiff::Timestamp::from_second(seconds).ok()) {
        Some(moment) => Offset::UTC.to_datetime(moment).date(),
        None => jiff::ZonedDateTime::now().date(),
    }
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
    fn a_paper_is_old_after_thirty_days() {
        let dated = date(2026, 5, 12);
        assert_eq!(age(dated, date(2026, 6, 11)), None);
        assert_eq!(age(dated, date(2026, 6, 12)), Some(31));
        assert_eq!(age(dated, date(2026, 5, 1)), None);
        assert_eq!(age(dated, date(2027, 5, 12)), Some(365));
    }
}
