//! `water-drop`: whether a drop of water soaks into the bare slab.
//!
//! Caution when it beads: a sealer or oil keeps water out, and a coat with it. Note where nobody
//! tried.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::WaterDrop;
use crate::price::case::Case;

// From memory: a drop of 0.05 mL that is gone within 60 seconds.
pub const CHECK: Check =
    Check::new("water-drop", FindingPlace::Slab, Source::Unverified("ASTM F3191"), find)
        .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let severity = match case.job.slab.water_drop {
        Some(WaterDrop::SoaksIn) => return vec![],
        Some(WaterDrop::Beads) => Severity::Caution,
        None => Severity::Note,
    };
    vec![Finding::new(&CHECK, severity)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample().job("slab.water-drop", "\"beads\""), "", CAUTION),
            (sample().without("slab.water-drop"), "", NOTE),
            // Stays silent when water soaks in.
            (sample(), "", SILENT),
        ]);
    }
}
