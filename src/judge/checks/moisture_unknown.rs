//! `moisture-unknown`: no test of the slab's moisture, so nothing can be held against a limit.
//!
//! A floor that needs a test waits for one, with a barrier and without: not known is no pass. A
//! plastic sheet that its data sheet does not ask for is no such test. Silent for a barrier whose
//! data sheet asks for no test.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::Case;
use crate::site::standing::StandingReason;

pub const CHECK: Check =
    Check::new("moisture-unknown", FindingPlace::Moisture, Source::DataSheet, find)
        .severities(&[Severity::Wait]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let tested = if case.site.moisture.tested() { "sheet" } else { "no" };
    each_floor(case, |option| {
        let untested = option.moisture.reasons.contains(&StandingReason::NotTested);
        let barrier = option.floor.has_barrier();
        untested.then(|| CHECK.wait().yes_no("barrier", barrier).value("tested", tested))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        let untested = sample().without("moisture");
        CHECK.says([
            // Every floor waits when nothing was read.
            (untested, "fast-cure, clear-epoxy, barrier", WAIT),
            (sample(), "fast-cure", SILENT),
            (sample().rh(&[60.0, 60.0, 60.0]), "fast-cure, barrier", SILENT),
        ]);
    }

    #[test]
    fn a_plastic_sheet_tells_nothing_of_a_floor_that_does_not_ask_for_one() {
        let sheet = "[{ place = \"door\", taped = 2026-05-06T09:00:00, \
                     lifted = 2026-05-07T09:00:00, sealed = true, found = \"dry\" }]";
        let only = sample().without("moisture").job("moisture.plastic-sheet", sheet);
        only.expect(&CHECK, "fast-cure", Severity::Wait);
        assert!(only.values(&CHECK, "tested").iter().all(|how| *how == Figure::from("sheet")));
        let untested = sample().without("moisture");
        assert!(untested.values(&CHECK, "tested").iter().all(|how| *how == Figure::from("no")));
    }

    #[test]
    fn stays_silent_for_a_barrier_that_needs_no_test() {
        let untested = sample()
            .without("moisture")
            .book("product.barrier-epoxy.moisture-test", "\"none-needed\"");
        untested.expect_silent(&CHECK, "barrier");
        untested.expect(&CHECK, "fast-cure", Severity::Wait);
    }
}
