//! `book-expired`: the job's date against the days for which the book's prices hold.
//!
//! Caution after the last day and before the first. Not a stop: that would tell a customer "not
//! yet" for a reason that only the shop can see.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "book-expired",
    place: FindingPlace::Shop,
    source: Source::Shop,
    severities: &[Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let (date, first, last) = (case.job.date, case.book.effective, case.book.last_day());
    let (bound, early) = match date {
        date if date < first => (first, "yes"),
        date if date > last => (last, "no"),
        _ => return vec![],
    };
    vec![
        Finding::new(&CHECK, Severity::Caution)
            .measured(date)
            .limit(bound)
            .value("early", early)
            .value("book", case.book.name.as_str()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    /// The book holds for 120 days from April 1, so through July 30.
    fn dated(date: &str) -> Sample {
        testing::sample().without("air").without("moisture").job("date", date)
    }

    #[test]
    fn fires_on_the_days_around_the_book() {
        dated("2026-03-31").expect(&CHECK, "", Severity::Caution);
        dated("2026-07-31").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn stays_silent_on_its_first_and_last_day() {
        dated("2026-04-01").expect_silent(&CHECK, "barrier");
        dated("2026-07-30").expect_silent(&CHECK, "barrier");
    }
}
