//! `retarder-unknown`: whether a plastic sheet lies under a slab on the ground.
//!
//! Note: under an older garage slab this is usual, and nobody can look. It is said, so that nobody
//! takes silence for a yes.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::Known;
use crate::price::case::Case;

pub const CHECK: Check =
    Check::new("retarder-unknown", FindingPlace::Moisture, Source::CommonPractice, find)
        .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let slab = &case.job.slab;
    let unknown = slab.on_ground && slab.retarder == Known::Unknown;
    if unknown { vec![CHECK.note()] } else { vec![] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample().job("slab.vapor-retarder", "\"unknown\""), "", NOTE),
            (sample().without("slab.vapor-retarder"), "", NOTE),
            // Stays silent when known or off the ground.
            (sample(), "", SILENT),
            (sample().job("slab.vapor-retarder", "\"no\""), "", SILENT),
            (
                sample().job("slab.vapor-retarder", "\"unknown\"").job("slab.on-ground", "false"),
                "",
                SILENT,
            ),
        ]);
    }
}
