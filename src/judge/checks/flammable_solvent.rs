//! `flammable-solvent`: a coat or a cleaner whose vapor can catch fire, and what could light it.
//!
//! Holds the coats of each floor, and what the shop wipes and cleans with, against the flames,
//! heaters and motors that the visit listed. Caution when there are any, and all are named. With
//! none listed it is a note and no pass: a list is never sure to be whole. Never a stop, since all of
//! them can be shut off. A coat of which the book does not say if it holds such a solvent, though
//! something evaporates from it, is a caution too: not known is not none.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, coats_with};
use crate::model::book::Resin;
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "flammable-solvent",
    place: FindingPlace::Safety,
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
    let with_ignition = |finding: Finding| match ignition.is_empty() {
        true => finding,
        false => finding.value("ignition", Figure::Texts(ignition.clone())),
    };
    let mut found = vec![];
    for choice in &case.options {
        let coats = coats_with(&choice.floor, |resin| resin.solvent.given().is_some());
        let unknown = coats_with(&choice.floor, Resin::solvent_unknown);
        for (of, severity, coats) in
            [("coats", severity, coats), ("unknown", Severity::Caution, unknown)]
        {
            if !coats.is_empty() {
                let finding = Finding::new(&CHECK, severity).about(choice);
                let finding = finding.value("of", of).value("coats", Figure::Texts(coats));
                found.push(with_ignition(finding));
            }
        }
    }
    if let Some(cleaner) = case.book.cleaning.given() {
        let finding = Finding::new(&CHECK, severity).value("of", "cleaning");
        found.push(with_ignition(finding.value("cleaner", cleaner.0.clone())));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn with_urethane() -> Sample {
        testing::sample().job("extras.clear-epoxy", "[\"urethane-coat\"]")
    }

    #[test]
    fn cautions_and_names_everything_that_could_light_it() {
        let sample = with_urethane().job("garage.ignition", "[\"gas furnace\", \"freezer\"]");
        sample.expect(&CHECK, "clear-epoxy", Severity::Caution);
        let named = ["gas furnace", "freezer"].map(String::from).to_vec();
        assert_eq!(sample.findings(&CHECK)[0].values[2], ("ignition", Figure::Texts(named)));
    }

    #[test]
    fn notes_it_when_nothing_was_listed() {
        with_urethane().expect(&CHECK, "clear-epoxy", Severity::Note);
        with_urethane().without("garage.ignition").expect(&CHECK, "clear-epoxy", Severity::Note);
    }

    /// 100 g/L and 90 % of solids: something evaporates, and the book does not say what.
    fn unsaid(voc: &str, solids: &str) -> Sample {
        testing::sample()
            .without_book("product.epoxy-primer.solvent-free")
            .book("product.epoxy-primer.voc", voc)
            .book("product.epoxy-primer.volume-solids", solids)
    }

    #[test]
    fn not_said_is_a_caution_where_something_evaporates() {
        for (voc, solids) in [("\"100 g/L\"", "\"100 %\""), ("\"0 g/L\"", "\"90 %\"")] {
            let sample = unsaid(voc, solids);
            sample.expect(&CHECK, "clear-epoxy", Severity::Caution);
            assert_eq!(sample.findings(&CHECK)[0].values[0], ("of", "unknown".into()));
        }
        let nothing_known =
            unsaid("\"0 g/L\"", "\"100 %\"").without_book("product.epoxy-primer.voc");
        nothing_known.expect(&CHECK, "clear-epoxy", Severity::Caution);
    }

    #[test]
    fn not_said_is_silent_where_nothing_or_water_evaporates() {
        unsaid("\"0 g/L\"", "\"100 %\"").expect_silent(&CHECK, "clear-epoxy");
        testing::sample()
            .without_book("product.water-epoxy.solvent-free")
            .expect_silent(&CHECK, "water-kit");
    }

    #[test]
    fn counts_what_the_shop_cleans_with() {
        let wipes = testing::sample().book("cleaning.solvent", "\"acetone\"");
        wipes.expect(&CHECK, "", Severity::Note);
        let flames = wipes.job("garage.ignition", "[\"gas furnace\"]");
        flames.expect(&CHECK, "", Severity::Caution);
        assert_eq!(flames.values(&CHECK, "cleaner"), ["acetone".into()]);
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
