//! `moisture-unknown`: no dish and no probe was read, so nothing can be held against a limit.
//!
//! Stop for a floor whose first coat is no barrier: its limit is low, and what was not measured is
//! no pass. Caution for a barrier floor, whose limit is high but not endless.

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::options::Case;

pub const CHECK: Check = Check {
    name: "moisture-unknown",
    place: Place::Moisture,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    if case.site.moisture.known() {
        return vec![];
    }
    let finding = |barrier: bool| {
        Finding::new(&CHECK, if barrier { Severity::Caution } else { Severity::Stop })
    };
    case.options.iter().map(|choice| finding(choice.floor.has_barrier()).about(choice)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing;

    #[test]
    fn stops_floors_without_a_barrier_when_nothing_was_read() {
        let untested = testing::sample().without("moisture");
        untested.expect(&CHECK, "fast-cure", Severity::Stop);
        untested.expect(&CHECK, "clear-epoxy", Severity::Stop);
        untested.expect(&CHECK, "barrier", Severity::Caution);
    }

    #[test]
    fn stays_silent_after_either_test() {
        testing::sample().expect_silent(&CHECK, "fast-cure");
        testing::sample().rh(&[60.0, 60.0, 60.0]).expect_silent(&CHECK, "fast-cure");
        testing::sample().rh(&[60.0, 60.0, 60.0]).expect_silent(&CHECK, "barrier");
    }
}
