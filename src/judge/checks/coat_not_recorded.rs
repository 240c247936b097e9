//! `coat-not-recorded`: coats of the agreed floor that no record of the work tells of, on the whole floor or
//! on a part of it.
//!
//! Note while the work may still go on; caution once the job says that the floor is done, or a coat above a
//! missing one is recorded. Only in a job with records: without any, nobody kept them.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::judge::laid::{COVERED, floor_as_laid};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("covered", COVERED.shown(Figure::Share(COVERED.value)))],
    ..Check::new("coat-not-recorded", FindingPlace::Shop, Source::Shop, find)
        .severities(&[Severity::Caution, Severity::Note])
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(laid) = floor_as_laid(case) else { return vec![] };
    let (mut missing, mut parts) = (vec![], vec![]);
    let mut gap = false;
    for coat in laid.liquids().filter(|coat| coat.agreed) {
        if coat.is_recorded() {
            gap |= !missing.is_empty() || !parts.is_empty();
        } else if coat.records.is_empty() {
            missing.push(coat.name().to_owned());
        } else {
            parts.push(coat.name().to_owned());
        }
    }
    if missing.is_empty() && parts.is_empty() {
        return vec![];
    }
    let done = case.job.plan.laid.is_some();
    let finding = if done || gap { CHECK.caution() } else { CHECK.note() };
    let finding = finding.names("missing", missing).names("parts", parts);
    vec![finding.yes_no("done", done).of(&laid)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn tells_of_coats_that_are_missing() {
        let done = |sample: Sample| sample.job("plan.laid", "2026-05-27");
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            (laid(&[BARRIER]), "barrier", NOTE),
            (done(laid(&[BARRIER])), "barrier", CAUTION),
            (laid(&[TOP]), "barrier", CAUTION),
            (laid(&[BARRIER, &TOP.replace("used", "area = \"200 ft2\", used")]), "barrier", NOTE),
            (done(sample()), "barrier", SILENT),
        ]);
        let half = laid(&[BARRIER, &TOP.replace("used", "area = \"200 ft2\", used")]);
        assert_eq!(half.values(&CHECK, "parts").len(), 1);
        assert_eq!(half.values(&CHECK, "missing").len(), 0);
    }
}
