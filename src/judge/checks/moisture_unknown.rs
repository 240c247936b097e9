//! `moisture-unknown`: no test of the slab's moisture, so nothing can be held against a limit.
//!
//! A floor that needs a test waits for one, with a barrier and without: not known is no pass. A
//! plastic sheet that its data sheet does not ask for is no such test. Silent for a barrier whose
//! data sheet asks for no test.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;
use crate::site::standing::StandingReason;

pub const CHECK: Check = Check {
    name: "moisture-unknown",
    place: FindingPlace::Moisture,
    source: Source::DataSheet,
    severities: &[Severity::Wait],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    case.options
        .iter()
        .filter(|option| option.moisture.reasons.contains(&StandingReason::NotTested))
        .map(|option| {
            let barrier = if option.floor.has_barrier() { "yes" } else { "no" };
            let tested = if case.site.moisture.tested() { "sheet" } else { "no" };
            let finding = Finding::new(&CHECK, Severity::Wait).about(option);
            finding.value("barrier", barrier).value("tested", tested)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing;

    #[test]
    fn every_floor_waits_when_nothing_was_read() {
        let untested = testing::sample().without("moisture");
        untested.expect(&CHECK, "fast-cure", Severity::Wait);
        untested.expect(&CHECK, "clear-epoxy", Severity::Wait);
        untested.expect(&CHECK, "barrier", Severity::Wait);
    }

    #[test]
    fn a_plastic_sheet_tells_nothing_of_a_floor_that_does_not_ask_for_one() {
        let sheet = "[{ place = \"door\", taped = 2026-05-06T09:00:00, \
                     lifted = 2026-05-07T09:00:00, sealed = true, found = \"dry\" }]";
        let only = testing::sample().without("moisture").job("moisture.plastic-sheet", sheet);
        only.expect(&CHECK, "fast-cure", Severity::Wait);
        assert!(only.values(&CHECK, "tested").iter().all(|how| *how == Figure::from("sheet")));
        let untested = testing::sample().without("moisture");
        assert!(untested.values(&CHECK, "tested").iter().all(|how| *how == Figure::from("no")));
    }

    #[test]
    fn stays_silent_for_a_barrier_that_needs_no_test() {
        let untested = testing::sample()
            .without("moisture")
            .book("product.barrier-epoxy.moisture-test", "\"none-needed\"");
        untested.expect_silent(&CHECK, "barrier");
        untested.expect(&CHECK, "fast-cure", Severity::Wait);
    }

    #[test]
    fn stays_silent_after_either_test() {
        testing::sample().expect_silent(&CHECK, "fast-cure");
        testing::sample().rh(&[60.0, 60.0, 60.0]).expect_silent(&CHECK, "fast-cure");
        testing::sample().rh(&[60.0, 60.0, 60.0]).expect_silent(&CHECK, "barrier");
    }
}
