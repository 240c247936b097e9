//! `moisture-test-old`: the age of the last reading on the day of the proposal, and on the day on
//! which work starts.
//!
//! Caution when it is older than the shop trusts a reading, since a result tells the slab's state at
//! the time of the test alone (ASTM F2170, 5.3). An old reading no longer clears a floor:
//! `moisture-not-judged` says which. Caution, too, when it will be too old on the first day of work.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;
use crate::site::moisture::days_between;

pub const CHECK: Check =
    Check::new("moisture-test-old", FindingPlace::Moisture, Source::CommonPractice, find)
        .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let moisture = &case.site.moisture;
    let dishes = moisture.mver.as_ref().filter(|series| series.counts());
    let probes = moisture.rh.as_ref().filter(|series| series.counts());
    let dates =
        [dishes.map(|series| ("dish", series.date)), probes.map(|series| ("probe", series.date))];
    let most = case.shop.testing.reading_days;
    let mut found = vec![];
    for (method, date) in dates.into_iter().flatten() {
        let days = days_between(date, case.job.date);
        let at_start = case.job.plan.start.map(|start| (start, days_between(date, start)));
        let (when, days) = match at_start {
            _ if days > most => ("old", days),
            Some((_, days)) if days > most => ("old-at-start", days),
            _ => continue,
        };
        let start = at_start.map_or(case.job.date, |(start, _)| start);
        found.push(
            CHECK
                .caution()
                .measured(Figure::Days(days))
                .limit(Figure::Days(most))
                .value("when", when)
                .value("method", method)
                .value("read", date)
                .value("start", start),
        );
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The sample's dishes were lifted on 8 May 2026; 90 days later is 6 August.
    fn proposed(day: &str) -> Sample {
        sample().without("air").job("date", day)
    }

    #[test]
    fn fires_after_ninety_days() {
        let old = proposed("2026-08-07");
        old.expect(&CHECK, "", Severity::Caution);
        assert_eq!(old.values(&CHECK, "when"), [Figure::from("old")]);
        assert_eq!(old.findings(&CHECK)[0].measured, Some(Figure::Days(91)));
        assert_eq!(old.findings(&CHECK)[0].limit, Some(Figure::Days(90)));
    }

    #[test]
    fn fires_when_it_will_be_too_old_on_the_first_day_of_work() {
        let late = proposed("2026-05-12").job("plan.start", "2026-08-07");
        assert_eq!(late.values(&CHECK, "when"), [Figure::from("old-at-start")]);
        proposed("2026-05-12").job("plan.start", "2026-08-06").expect_silent(&CHECK, "");
    }

    #[test]
    fn fires_and_stays_silent() {
        let strict = proposed("2026-06-12").shop("testing", "{ reading-days = 30 }");
        CHECK.says([
            // Goes by the days that the shop sets.
            (strict, "", CAUTION),
            // Stays silent within ninety days and without a test.
            (proposed("2026-08-06"), "", SILENT),
            (proposed("2026-05-08"), "", SILENT),
            (proposed("2026-08-07").without("moisture"), "", SILENT),
        ]);
    }
}
