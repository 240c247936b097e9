//! `silica`: dust from grinding concrete.
//!
//! Every floor here is ground, so it always speaks. A floor grinder with its dust collector needs
//! no respirator, a hand-held grinder indoors does over 4 hours a shift: then it is a caution.
//! The edge is counted as one person's and as one shift's, the worst case. The hours themselves
//! are the shop's and are not given to the sentences.

use rust_decimal::Decimal;

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::estimate::Estimate;
use crate::estimate::labour::Task;
use crate::figures::Figure;
use crate::options::Case;

pub const CHECK: Check = Check {
    name: "silica",
    place: Place::Safety,
    source: Source::Published("29 CFR 1926.1153, Table 1"),
    severities: &[Severity::Caution, Severity::Note],
    limits: &[("hours", Figure::Count(BARE_FACE_HOURS))],
    find,
};

/// Hours in a shift over which whoever holds a hand-held grinder indoors wears a respirator with
/// an assigned protection factor of 10: 29 CFR 1926.1153, Table 1, row xii.
pub const BARE_FACE_HOURS: u32 = 4;
pub const BARE_FACE: Decimal = Decimal::from_parts(BARE_FACE_HOURS, 0, 0, false, 0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let edge = case.options.iter().map(|choice| edge_hours(&choice.estimate)).max();
    let long = edge.is_some_and(|hours| hours > BARE_FACE);
    vec![Finding::new(&CHECK, if long { Severity::Caution } else { Severity::Note })]
}

/// Hours of one person at the edge.
pub fn edge_hours(estimate: &Estimate) -> Decimal {
    estimate.labor.iter().filter(|line| line.task == Task::Edge).map(|line| line.hours).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing::{self, Sample};

    /// 88 ft of edge at this many feet an hour.
    fn edge(rate: &str) -> Sample {
        testing::sample().book("rates.edge", &format!("\"{rate} ft/h\""))
    }

    #[test]
    fn cautions_over_four_hours_at_the_edge() {
        edge("21.9").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn notes_grinding_up_to_four_hours() {
        edge("22").expect(&CHECK, "", Severity::Note);
        testing::sample().expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn gives_no_hours_away() {
        let found = edge("21.9").findings(&CHECK);
        assert!(
            found[0].measured.is_none() && found[0].limit.is_none() && found[0].values.is_empty()
        );
    }
}
