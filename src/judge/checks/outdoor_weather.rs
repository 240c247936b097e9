//! `outdoor-weather`: rain and dew on coats that have not hardened, outdoors.
//!
//! Water on a fresh coat leaves marks, or keeps it from bonding and hardening. Caution for a floor
//! outdoors that no roof is known to cover; a note under a roof, where dew still falls. Common practice, no
//! published source.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check =
    Check::new("outdoor-weather", FindingPlace::Air, Source::CommonPractice, find)
        .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(place) = case.job.place.as_ref().filter(|place| place.outdoors) else {
        return vec![];
    };
    let covered = place.covered == Some(true);
    let severity = if covered { Severity::Note } else { Severity::Caution };
    vec![Finding::new(&CHECK, severity)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_outdoors() {
        CHECK.says([
            // Cautions where no roof is known.
            (sample().in_space("patio", ""), "", CAUTION),
            (sample().in_space("patio", "covered = false"), "", CAUTION),
            // Notes it under a roof: dew falls there too.
            (sample().in_space("patio", "covered = true"), "", NOTE),
            // Stays silent indoors.
            (sample().in_space("basement", "daylight = false"), "", SILENT),
            (sample(), "", SILENT),
        ]);
    }
}
