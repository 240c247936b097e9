//! `start-closed-day`: work that is planned to begin on a day on which the shop does not work.
//!
//! Holds the job's first day against the shop's calendar. Caution, for the shop alone: the day is
//! taken as it was written, since somebody agreed on it.

use crate::base::calendar::Closed;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("start-closed-day", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(start) = case.job.plan.start else { return vec![] };
    let Some(why) = case.shop.calendar.closed(start) else { return vec![] };
    let why = match why {
        Closed::Weekday => "weekday",
        Closed::Holiday => "holiday",
        Closed::Named => "named",
    };
    vec![CHECK.caution().value("start", start).value("why", why)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        let on = |date: &str| sample().job("plan.start", date);
        let named = on("2026-05-26").shop("calendar.closed-days", "[2026-05-26]");
        let no_calendar = sample().without_shop("calendar");
        CHECK.says([
            // Fires on closed weekdays holidays and named days.
            // A Sunday; Memorial Day.
            (on("2026-05-24"), "", CAUTION),
            (on("2026-05-25"), "", CAUTION),
            (named, "", CAUTION),
            // Stays silent on open days and without a date.
            (sample().job("plan.start", "2026-05-26"), "", SILENT),
            (sample(), "", SILENT),
            (no_calendar.job("plan.start", "2026-05-24"), "", SILENT),
        ]);
    }
}
