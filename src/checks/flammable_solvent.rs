//! `flammable-solvent`: a coat whose vapor can catch fire, and what could light it.
//!
//! Holds the coats of each floor against the flames, heaters and motors that the visit listed.
//! Caution when there are any, and all are named. With none listed it is a note and no pass: a
//! list is never sure to be whole. Never a stop, since all of them can be shut off.

use crate::checks::{Check, Finding, Place, Severity, Source, coats_with};
use crate::figures::Figure;
use crate::options::Case;
use crate::rules::Subject;

pub const CHECK: Check = Check {
    name: "flammable-solvent",
    place: Place::Safety,
    source: Source::Rule(
        Subject::Fire,
        "29 CFR 1910.106, the safety data sheets and the local fire code",
    ),
    severities: &[Severity::Caution, Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let ignition = &case.job.garage.ignition;
    let severity = if ignition.is_empty() { Severity::Note } else { Severity::Caution };
    let mut found = vec![];
    for choice in &case.options {
        let coats = coats_with(&choice.floor, |resin| resin.solvent.is_some());
        if coats.is_empty() {
            continue;
        }
        let mut finding =
            Finding::new(&CHECK, severity).about(choice).value("coats", Figure::Texts(coats));
        if !ignition.is_empty() {
            finding = finding.value("ignition", Figure::Texts(ignition.clone()));
        }
        found.push(finding);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing::{self, Sample};

    fn with_urethane() -> Sample {
        testing::sample().job("extras.clear-epoxy", "[\"urethane-coat\"]")
    }

    #[test]
    fn cautions_and_names_everything_that_could_light_it() {
        let sample = with_urethane().job("garage.ignition", "[\"gas furnace\", \"freezer\"]");
        sample.expect(&CHECK, "clear-epoxy", Severity::Caution);
        let named = ["gas furnace", "freezer"].map(String::from).to_vec();
        assert_eq!(sample.findings(&CHECK)[0].values[1], ("ignition", Figure::Texts(named)));
    }

    #[test]
    fn notes_it_when_nothing_was_listed() {
        with_urethane().expect(&CHECK, "clear-epoxy", Severity::Note);
        with_urethane().without("garage.ignition").expect(&CHECK, "clear-epoxy", Severity::Note);
    }

    #[test]
    fn stays_silent_without_a_solvent_coat() {
        let flames = testing::sample().job("garage.ignition", "[\"gas furnace\"]");
        for option in ["barrier", "fast-cure", "clear-epoxy", "water-kit"] {
            flames.expect_silent(&CHECK, option);
        }
        let flames = with_urethane().job("garage.ignition", "[\"gas furnace\"]");
        flames.expect_silent(&CHECK, "barrier");
    }
}
