//! `oil`: oil in the slab.
//!
//! Caution: no coat grips oil, and some comes back up after cleaning. Note where nobody looked.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("oil", FindingPlace::Slab, Source::CommonPractice, find)
    .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let severity = match case.job.slab.oil {
        Some(false) => return vec![],
        Some(true) => Severity::Caution,
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
            (sample().job("slab.oil", "true"), "", CAUTION),
            (sample().without("slab.oil"), "", NOTE),
            (sample(), "", SILENT),
        ]);
    }
}
