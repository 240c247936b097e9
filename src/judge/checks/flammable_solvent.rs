//! `flammable-solvent`: a coat or a cleaner whose vapor can catch fire, and what could light it.
//!
//! Holds the coats of each floor, and what the shop wipes and cleans with, against the flames,
//! heaters and motors that the visit listed. Caution when there are any, and all are named. With
//! none listed it is a note and no pass: a list is never sure to be whole. Never a stop, since all of
//! them can be shut off. A coat of which the book does not say if it holds such a solvent, though
//! something evaporates from it, is a caution too: not known is not none.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, coats_with};
use crate::model::book::Resin;
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check::new(
    "flammable-solvent",
    FindingPlace::Safety,
    Source::Rule(Subject::Fire, "29 CFR 1910.106, the safety data sheets and the local fire code"),
    find,
)
.severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let ignition = &case.job.garage.ignition;
    let severity = if ignition.is_empty() { Severity::Note } else { Severity::Caution };
    let with_ignition = |finding: Finding| finding.names("ignition", ignition.clone());
    let mut found = vec![];
    for choice in &case.options {
        let coats = coats_with(&choice.floor, |resin| resin.solvent.given().is_some());
        let unknown = coats_with(&choice.floor, Resin::solvent_unknown);
        for (of, severity, coats) in
            [("coats", severity, coats), ("unknown", Severity::Caution, unknown)]
        {
            if !coats.is_empty() {
                let finding = Finding::new(&CHECK, severity).about(choice);
                found.push(with_ignition(finding.value("of", of).names("coats", coats)));
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
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    fn with_urethane() -> Sample {
        sample().job("extras.clear-epoxy", "[\"urethane-coat\"]")
    }

    #[test]
    fn cautions_and_names_everything_that_could_light_it() {
        let sample = with_urethane().job("garage.ignition", "[\"gas furnace\", \"freezer\"]");
        sample.expect(&CHECK, "clear-epoxy", Severity::Caution);
        let named = ["gas furnace", "freezer"].map(String::from).to_vec();
        assert_eq!(sample.findings(&CHECK)[0].values[2], ("ignition", Figure::Texts(named)));
    }

    /// 100 g/L and 90 % of solids: something evaporates, and the book does not say what.
    fn unsaid(voc: &str, solids: &str) -> Sample {
        sample()
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
    fn counts_what_the_shop_cleans_with() {
        let wipes = sample().book("cleaning.solvent", "\"acetone\"");
        wipes.expect(&CHECK, "", Severity::Note);
        let flames = wipes.job("garage.ignition", "[\"gas furnace\"]");
        flames.expect(&CHECK, "", Severity::Caution);
        assert_eq!(flames.values(&CHECK, "cleaner"), ["acetone".into()]);
    }

    #[test]
    fn fires_and_stays_silent() {
        let flames = |sample: Sample| sample.job("garage.ignition", "[\"gas furnace\"]");
        CHECK.says([
            // Notes it when nothing was listed.
            (with_urethane(), "clear-epoxy", NOTE),
            (with_urethane().without("garage.ignition"), "clear-epoxy", NOTE),
            // Not said is silent where nothing or water evaporates.
            (unsaid("\"0 g/L\"", "\"100 %\""), "clear-epoxy", SILENT),
            (sample().without_book("product.water-epoxy.solvent-free"), "water-kit", SILENT),
            // Stays silent without a solvent coat.
            (flames(sample()), EVERY_FLOOR, SILENT),
            (flames(with_urethane()), "barrier", SILENT),
        ]);
    }
}
