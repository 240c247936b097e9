//! `old-coating-lead`: grinding off an old coating that may hold lead.
//!
//! Compares the year of the house with 1978. A caution wherever a coating, or a slab that nobody
//! looked at, meets a house that is old; a year that is not known counts as old. A small floor is no
//! exception: grinding by machine is a practice that the rule restricts, and minor work is work
//! without any (40 CFR 745.83).

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::{Job, OldCoating};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "old-coating-lead",
    place: FindingPlace::Safety,
    source: Source::Rule(Subject::Lead, "40 CFR 745.82 to 745.85; for the crew, 29 CFR 1926.62"),
    severities: &[Severity::Caution],
    limits: &[("built", Figure::Count(BUILT_BEFORE))],
    find,
};

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
    let finding = Finding::new(&CHECK, Severity::Caution).value("coating", coating);
    match case.job.house.built {
        Some(year) => vec![finding.value("built", year.to_string())],
        None => vec![finding],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn painted(year: u32) -> Sample {
        testing::sample().job("slab.old-coating", "\"paint\"").job("house.built", &year.to_string())
    }

    #[test]
    fn fires_on_paint_in_a_house_from_before_1978() {
        painted(1977).expect(&CHECK, "", Severity::Caution);
        painted(1977).without("slab.old-coating").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn takes_what_is_not_known_as_a_coating_and_as_old() {
        painted(1977).without("house.built").expect(&CHECK, "", Severity::Caution);
        let unknown = painted(1977).without("house.built").without("slab.old-coating");
        unknown.expect(&CHECK, "", Severity::Caution);
    }

    /// Up to six square feet are minor work only without a practice that 40 CFR 745.85(a)(3)
    /// restricts, and grinding by machine is one: 40 CFR 745.83.
    #[test]
    fn makes_no_exception_for_a_small_floor() {
        let narrow = painted(1975).job("area.0.length", "\"2 ft\"").job("area.0.width", "\"2 ft\"");
        narrow.expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn stays_silent_on_bare_concrete_and_from_1978_on() {
        painted(1978).expect_silent(&CHECK, "barrier");
        painted(1978).without("slab.old-coating").expect_silent(&CHECK, "barrier");
        painted(1965).job("slab.old-coating", "\"none\"").expect_silent(&CHECK, "barrier");
    }
}
