//! `old-coating-lead`: grinding off an old coating that may hold lead.
//!
//! Compares the year of the house with 1978. A caution wherever a coating, or a slab that nobody
//! looked at, meets a house that is old; a year that is not known counts as old. A small floor is no
//! exception: grinding by machine is a practice that the rule restricts, and minor work is work
//! without any (40 CFR 745.83).

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::model::job::{Job, OldCoating};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("built", Limit::new(Figure::Count(BUILT_BEFORE), SOURCE))],
    ..Check::new("old-coating-lead", FindingPlace::Safety, SOURCE, find)
        .severities(&[Severity::Caution])
};

const SOURCE: Source =
    Source::Rule(Subject::Lead, "40 CFR 745.82 to 745.85; for the crew, 29 CFR 1926.62");

/// Housing built before this year falls under the rule: 40 CFR 745.82(a) and 745.83.
pub const BUILT_BEFORE: u32 = 1978;

/// True when what is ground off may hold lead: what is not known counts as a coating, and as old.
pub fn may_hold_lead(job: &Job) -> bool {
    let coated = job.slab.coating.is_none_or(|coating| coating != OldCoating::Nothing);
    coated && job.house.built.is_none_or(|year| year < BUILT_BEFORE)
}

fn find(case: &Case<'_>) -> Vec<Finding> {
    if !may_hold_lead(case.job) {
        return vec![];
    }
    let coating = if case.job.slab.coating.is_some() { "found" } else { "unknown" };
    let built = case.job.house.built.map(|year| year.to_string());
    vec![CHECK.caution().value("coating", coating).value_if("built", built)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn painted(year: u32) -> Sample {
        sample().job("slab.old-coating", "\"paint\"").job("house.built", &year.to_string())
    }

    #[test]
    fn fires_and_stays_silent() {
        let unknown = painted(1977).without("house.built").without("slab.old-coating");
        let narrow = painted(1975).job("area.0.length", "\"2 ft\"").job("area.0.width", "\"2 ft\"");
        CHECK.says([
            // Fires on paint in a house from before 1978.
            (painted(1977), "", CAUTION),
            (painted(1977).without("slab.old-coating"), "", CAUTION),
            // Takes what is not known as a coating and as old.
            (painted(1977).without("house.built"), "", CAUTION),
            (unknown, "", CAUTION),
            // Up to six square feet are minor work only without a practice that 40 CFR 745.85(a)(3)
            // restricts, and grinding by machine is one: 40 CFR 745.83.
            // Makes no exception for a small floor.
            (narrow, "", CAUTION),
            // Stays silent on bare concrete and from 1978 on.
            (painted(1978), "barrier", SILENT),
            (painted(1978).without("slab.old-coating"), "barrier", SILENT),
            (painted(1965).job("slab.old-coating", "\"none\""), "barrier", SILENT),
        ]);
    }
}
