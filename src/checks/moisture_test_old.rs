//! `moisture-test-old`: the age of the last reading on the day of the proposal.
//!
//! Caution when it is old, since a result tells the slab's state at the time of the test alone
//! (ASTM F2170, 5.3). Caution, too, when a reading is dated after the proposal: one of the two
//! dates must be wrong.

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::figures::Figure;
use crate::options::Case;
use crate::site::moisture::days_between;

pub const CHECK: Check = Check {
    name: "moisture-test-old",
    place: Place::Moisture,
    source: Source::CommonPractice,
    severities: &[Severity::Caution],
    limits: &[("oldest", Figure::Days(OLDEST_DAYS))],
    find,
};

/// The oldest reading that still speaks for a slab: 90 days, about a season. Common practice, no
/// published source.
const OLDEST_DAYS: u32 = 90;

fn find(case: &Case<'_>) -> Vec<Finding> {
    let moisture = &case.site.moisture;
    let dishes = moisture.mver.as_ref().map(|series| ("dish", series.date));
    let probes = moisture.rh.as_ref().map(|series| ("probe", series.date));
    let mut found = vec![];
    for (method, date) in [dishes, probes].into_iter().flatten() {
        let days = days_between(date, case.job.date);
        let dates = match () {
            () if date > case.job.date => "do-not-fit",
            () if days > OLDEST_DAYS => "old",
            () => continue,
        };
        let mut finding = Finding::new(&CHECK, Severity::Caution);
        if dates == "old" {
            finding = finding.measured(Figure::Days(days)).limit(Figure::Days(OLDEST_DAYS));
        }
        let finding = finding.value("dates", dates).value("method", method);
        found.push(finding.value("read", date).value("proposal", case.job.date));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing::{self, Sample};

    /// The sample's dishes were lifted on 8 May 2026; 90 days later is 6 August.
    fn proposed(day: &str) -> Sample {
        testing::sample().without("air").job("date", day)
    }

    #[test]
    fn fires_after_ninety_days() {
        proposed("2026-08-07").expect(&CHECK, "", Severity::Caution);
        assert_eq!(proposed("2026-08-07").values(&CHECK, "dates"), [Figure::from("old")]);
        let old = proposed("2026-08-07").findings(&CHECK);
        assert_eq!(old[0].measured, Some(Figure::Days(91)));
        assert_eq!(old[0].limit, Some(Figure::Days(OLDEST_DAYS)));
        assert_eq!(proposed("2026-05-07").findings(&CHECK)[0].measured, None);
    }

    #[test]
    fn fires_when_the_test_is_later_than_the_proposal() {
        proposed("2026-05-07").expect(&CHECK, "", Severity::Caution);
        assert_eq!(proposed("2026-05-07").values(&CHECK, "dates"), [Figure::from("do-not-fit")]);
    }

    #[test]
    fn stays_silent_within_ninety_days_and_without_a_test() {
        proposed("2026-08-06").expect_silent(&CHECK, "");
        proposed("2026-05-08").expect_silent(&CHECK, "");
        proposed("2026-08-07").without("moisture").expect_silent(&CHECK, "");
    }
}
