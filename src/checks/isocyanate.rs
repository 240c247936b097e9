//! `isocyanate`: coats that harden with isocyanates.
//!
//! Looks for them in the coats of each floor, of either chemistry. Always a caution: by breath or
//! skin they can sensitize people, often without a smell. The limits of the source are for
//! workers and far below what one could smell; people who live in the house stay out.

use crate::checks::{Check, Finding, Place, Severity, Source, coats_with};
use crate::figures::Figure;
use crate::options::Case;
use crate::rules::Subject;

pub const CHECK: Check = Check {
    name: "isocyanate",
    place: Place::Safety,
    source: Source::Rule(
        Subject::Chemicals,
        "NIOSH Pocket Guide to Chemical Hazards, and 29 CFR 1926.55",
    ),
    severities: &[Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let mut found = vec![];
    for choice in &case.options {
        let coats = coats_with(&choice.floor, |resin| resin.isocyanate);
        if !coats.is_empty() {
            let finding = Finding::new(&CHECK, Severity::Caution).about(choice);
            found.push(finding.value("coats", Figure::Texts(coats)));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing;

    #[test]
    fn fires_on_both_chemistries() {
        testing::sample().expect(&CHECK, "fast-cure", Severity::Caution);
        testing::sample().expect(&CHECK, "barrier", Severity::Caution);
    }

    #[test]
    fn names_the_coats() {
        let found = testing::sample().job("offer", "[\"fast-cure\"]").findings(&CHECK);
        let coats = ["Fast-cure polyurea primer", "Polyaspartic topcoat"].map(String::from);
        assert_eq!(found[0].values, [("coats", Figure::Texts(coats.to_vec()))]);
    }

    #[test]
    fn names_coats_of_one_name_once() {
        let found = testing::sample()
            .job("offer", "[\"fast-cure\"]")
            .book("product.polyaspartic-top.name", "\"Fast-cure polyurea primer\"")
            .findings(&CHECK);
        let coats = vec!["Fast-cure polyurea primer".to_owned()];
        assert_eq!(found[0].values, [("coats", Figure::Texts(coats))]);
    }

    #[test]
    fn stays_silent_without_isocyanates() {
        testing::sample().expect_silent(&CHECK, "clear-epoxy");
        testing::sample().expect_silent(&CHECK, "water-kit");
    }

    #[test]
    fn speaks_of_an_extra_only_when_it_is_chosen() {
        testing::sample().job("extras.clear-epoxy", "[\"urethane-coat\"]").expect(
            &CHECK,
            "clear-epoxy",
            Severity::Caution,
        );
    }
}
