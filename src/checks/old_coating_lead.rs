//! `old-coating-lead`: grinding off an old coating that may hold lead.
//!
//! Compares the year of the house with 1978, and the floor with what counts as minor work.
//! Caution where a coating, or one that nobody looked for, meets an old house; a year that is not
//! known counts as old. A note where neither is known, and where the work is minor.

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::figures::Figure;
use crate::job::OldCoating;
use crate::options::Case;
use crate::quantity::Area;

pub const CHECK: Check = Check {
    name: "old-coating-lead",
    place: Place::Safety,
    source: Source::Published("40 CFR 745.82 and 745.83"),
    severities: &[Severity::Caution, Severity::Note],
    limits: &[("built", Figure::Count(BUILT_BEFORE)), ("minor", Figure::Area(MINOR))],
    find,
};

/// Housing built before this year falls under the rule: 40 CFR 745.82(a) and 745.83.
pub const BUILT_BEFORE: u32 = 1978;

/// Minor work: at most 6 ft2 of paint per room inside, 40 CFR 745.83. How much of the floor is
/// painted is not written down, so all of it counts.
const MINOR: Area = Area::square_feet(6.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let built = case.job.house.built;
    let coating = case.job.slab.coating;
    let new = built.is_some_and(|year| year >= BUILT_BEFORE);
    if new || coating == Some(OldCoating::Nothing) {
        return vec![];
    }
    let floor = case.site.take_off.floor;
    let nothing_known = coating.is_none() && built.is_none();
    let minor = floor <= MINOR;
    let severity = if nothing_known || minor { Severity::Note } else { Severity::Caution };
    let mut finding = Finding::new(&CHECK, severity)
        .measured(floor)
        .limit(MINOR)
        .value("coating", if coating.is_some() { "found" } else { "unknown" })
        .value("minor", if minor { "yes" } else { "no" });
    if let Some(year) = built {
        finding = finding.value("built", year.to_string());
    }
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing::{self, Sample};

    fn painted(year: u32) -> Sample {
        testing::sample().job("slab.old-coating", "\"paint\"").job("house.built", &year.to_string())
    }

    #[test]
    fn fires_on_paint_in_a_house_from_before_1978() {
        painted(1977).expect(&CHECK, "", Severity::Caution);
        painted(1977).without("slab.old-coating").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn takes_a_year_that_is_not_known_as_old() {
        painted(1977).without("house.built").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn notes_it_when_neither_year_nor_coating_is_known() {
        let unknown = painted(1977).without("house.built").without("slab.old-coating");
        unknown.expect(&CHECK, "", Severity::Note);
    }

    /// Six square feet are minor work, a little more is not: 40 CFR 745.83.
    #[test]
    fn notes_minor_work() {
        let narrow =
            |width| painted(1975).job("area.0.length", "\"2 ft\"").job("area.0.width", width);
        narrow("\"2.95 ft\"").expect(&CHECK, "", Severity::Note);
        narrow("\"3.05 ft\"").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn stays_silent_on_bare_concrete_and_from_1978_on() {
        painted(1978).expect_silent(&CHECK, "barrier");
        painted(1978).without("slab.old-coating").expect_silent(&CHECK, "barrier");
        painted(1965).job("slab.old-coating", "\"none\"").expect_silent(&CHECK, "barrier");
    }
}
