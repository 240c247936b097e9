//! `room-air`: coats that give off vapor, in a room of the house that may have no outside air.
//!
//! Looks at the liquid coats of a floor in a basement or a room. Stop for a coat with a flammable solvent
//! where the job says that no outside air comes in: nothing could carry its vapor off. Caution for such a
//! coat, one of which the book does not say, and one with isocyanates, where outside air is not known to
//! come in. A room with outside air is silent here: fire and breath have checks of their own.

use crate::judge::checks::{
    Check, Finding, FindingPlace, Severity, Source, coats_with, each_floor,
};
use crate::model::book::Resin;
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check::new(
    "room-air",
    FindingPlace::Safety,
    Source::Rule(Subject::Fire, "29 CFR 1910.106, the safety data sheets and the local fire code"),
    find,
)
.severities(&[Severity::Stop, Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(place) = case.job.place.as_ref().filter(|place| place.kind.is_in_house()) else {
        return vec![];
    };
    if place.air_exchange == Some(true) {
        return vec![];
    }
    each_floor(case, |option| {
        let solvent = coats_with(&option.floor, |resin| resin.solvent.given().is_some());
        if place.air_exchange == Some(false) && !solvent.is_empty() {
            return Some(CHECK.stop().names("coats", solvent));
        }
        let heavy = |resin: &Resin| {
            resin.isocyanate || resin.solvent.given().is_some() || resin.solvent_unknown()
        };
        let coats = coats_with(&option.floor, heavy);
        (!coats.is_empty()).then(|| CHECK.caution().names("coats", coats))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn a_room_without_outside_air_has_no_coat_that_gives_off_vapor() {
        let closed = sample().in_space("basement", "daylight = false, air-exchange = false");
        let open = sample().in_space("basement", "daylight = false, air-exchange = true");
        let unknown = sample().in_space("room", "daylight = true");
        let urethane = |sample: Sample| sample.job("extras.clear-epoxy", "[\"urethane-coat\"]");
        CHECK.says([
            // The urethane coat holds a flammable solvent.
            (urethane(closed.clone()), "clear-epoxy", STOP),
            (urethane(unknown.clone()), "clear-epoxy", CAUTION),
            (urethane(open.clone()), "clear-epoxy", SILENT),
            // The fast-cure coats harden with isocyanates.
            (closed, "fast-cure", CAUTION),
            (unknown, "fast-cure", CAUTION),
            (open, "fast-cure", SILENT),
            // A garage and a patio are no rooms of the house.
            (sample(), "fast-cure", SILENT),
            (sample().in_space("patio", ""), "fast-cure", SILENT),
        ]);
    }
}
