//! `start-closed-day`: work that is planned to begin on a day on which the shop does not work.
//!
//! Holds the job's first day against the shop's calendar. Caution, for the shop alone: the day is
//! taken as it was written, since somebody agreed on it.

use crate::base::calendar::Closed;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "start-closed-day",
    place: FindingPlace::Shop,
    source: Source::Shop,
    severities: &[Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(start) = case.job.plan.start else { return vec![] };
    let Some(why) = case.shop.calendar.closed(start) else { return vec![] };
    let why = match why {
        Closed::Weekday => "weekday",
        Closed::Holiday => "holiday",
        Closed::Named => "named",
    };
    vec![Finding::new(&CHECK, Severity::Caution).value("start", start).value("why", why)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    #[test]
    fn fires_on_closed_weekdays_holidays_and_named_days() {
        let on = |date: &str| testing::sample().job("plan.start", date);
        // A Sunday; Memorial Day.
        on("2026-05-24").expect(&CHECK, "", Severity::Caution);
        on("2026-05-25").expect(&CHECK, "", Severity::Caution);
        let named = on("2026-05-26").shop("calendar.closed-days", "[2026-05-26]");
        named.expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn stays_silent_on_open_days_and_without_a_date() {
        testing::sample().job("plan.start", "2026-05-26").expect_silent(&CHECK, "");
        testing::sample().expect_silent(&CHECK, "");
        let no_calendar = testing::sample().without_shop("calendar");
        no_calendar.job("plan.start", "2026-05-24").expect_silent(&CHECK, "");
    }
}
