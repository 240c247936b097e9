//! `book-expired`: the job's date against the days for which the book's prices hold.
//!
//! Caution after the last day and before the first. Not a stop: that would tell a customer "not
//! yet" for a reason that only the shop can see.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("book-expired", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let (date, first, last) = (case.job.date, case.book.effective, case.book.last_day());
    let (bound, early) = match date {
        date if date < first => (first, "yes"),
        date if date > last => (last, "no"),
        _ => return vec![],
    };
    vec![
        CHECK
            .caution()
            .measured(date)
            .limit(bound)
            .value("early", early)
            .value("book", case.book.name.as_str()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The book holds for 120 days from April 1, so through July 30.
    fn dated(date: &str) -> Sample {
        sample().without("air").without("moisture").job("date", date)
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Fires on the days around the book.
            (dated("2026-03-31"), "", CAUTION),
            (dated("2026-07-31"), "", CAUTION),
            // Stays silent on its first and last day.
            (dated("2026-04-01"), "barrier", SILENT),
            (dated("2026-07-30"), "barrier", SILENT),
        ]);
    }
}
