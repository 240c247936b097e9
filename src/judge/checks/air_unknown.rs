//! `air-unknown`: air and slab were not measured, so the dew point is not known.
//!
//! Note: it has to be measured on the day of work anyway. It is said, so that nobody takes silence
//! for a pass.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new(
    "air-unknown",
    FindingPlace::Air,
    Source::Published("MIL-HDBK-1110, section 9.6.6"),
    find,
)
.severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    if case.site.air.is_none() { vec![CHECK.note()] } else { vec![] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([(sample().without("air"), "", NOTE), (sample(), "", SILENT)]);
    }
}
