//! `wet-slip`: a floor that gets wet is a floor to slip on.
//!
//! Caution where cars bring in rain, snow or wash water, and where rain or dew reaches the floor; a note elsewhere, for any coat is slick
//! under water or oil. No friction figure is compared: those of the source rank surfaces and do
//! not foretell whether a person slips, so nothing here can pass.

use crate::base::names::Key;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::{Case, FloorOption};

pub const CHECK: Check = Check::new(
    "wet-slip",
    FindingPlace::Safety,
    Source::Published("ANSI A326.3-2021, which compares surfaces and predicts no slip"),
    find,
)
.severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let severity = if case.job.garage.wet { Severity::Caution } else { Severity::Note };
    let outdoors = case.job.place.as_ref().is_some_and(|place| place.outdoors);
    let finding = Finding::new(&CHECK, severity).yes_no("outdoors", outdoors);
    let finding = finding.yes_no("cars", case.job.has_cars());
    vec![finding.yes_no("grip", grip_can_be_ticked(case))]
}

/// True where grit can be ticked with every floor, so that its price is named.
fn grip_can_be_ticked(case: &Case<'_>) -> bool {
    let is_grit = |option: &FloorOption<'_>, extra: &Key| {
        let mut coats = option.floor.system.coats.iter();
        coats.any(|coat| coat.extra.as_ref() == Some(extra) && coat.grit.is_some())
    };
    let can = |option: &FloorOption<'_>| {
        let mut extras = option.quote.could_add.iter().filter_map(|could| could.extra.as_ref());
        extras.any(|extra| is_grit(option, extra))
    };
    !case.options.is_empty() && case.options.iter().all(can)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;
    use crate::model::system::GritHow;
    use crate::price::case::case;

    #[test]
    fn cautions_or_notes() {
        CHECK.says([
            // Cautions where cars bring in water.
            (sample().job("garage.wet", "true"), "", CAUTION),
            // Takes a garage that nobody described as wet.
            (sample().without("garage.wet"), "", CAUTION),
            // Cautions on a patio, and on steps outdoors.
            (sample().in_space("patio", ""), "", CAUTION),
            (sample().in_space("steps", "outdoors = true"), "", CAUTION),
            (sample().in_space("room", "daylight = true, wet = false"), "", NOTE),
        ]);
    }

    /// The urethane coat of the clear floor is an extra without grit: nobody is told that grip can be ticked.
    #[test]
    fn an_extra_without_grit_is_no_grip() {
        let clear = sample().job("offer", "[\"clear-epoxy\"]");
        assert_eq!(clear.values(&CHECK, "grip"), [Figure::from("no")]);
        // With grit in it, it can.
        let mut input = clear.input();
        for coat in input.systems.iter_mut().flat_map(|system| &mut system.coats) {
            coat.grit = coat.extra.as_ref().map(|_| GritHow::Thrown);
        }
        let found = (CHECK.find)(&case(&input));
        assert!(found[0].says_yes("grip"), "{found:?}");
    }

    #[test]
    fn only_notes_it_in_a_dry_garage() {
        sample().expect(&CHECK, "", Severity::Note);
        assert_eq!(sample().findings(&CHECK).len(), 1);
    }
}
