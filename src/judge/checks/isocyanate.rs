//! `isocyanate`: coats and fillers that harden with isocyanates.
//!
//! Looks for them in the coats of each floor, of either chemistry, and in what fills cracks,
//! joints, holes and coves of this slab. Always a caution: by breath or skin they can sensitize
//! people, and smell is no warning. The limits of the source are for workers; people who live in
//! the house stay out.

use crate::judge::checks::{
    Check, Finding, FindingPlace, Severity, Source, coats_with, each_floor, fillers_with,
};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check::new(
    "isocyanate",
    FindingPlace::Safety,
    Source::Rule(
        Subject::Chemicals,
        "NIOSH Alert 96-111, NIOSH Pocket Guide to Chemical Hazards, and 29 CFR 1926.55",
    ),
    find,
)
.severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let fillers = fillers_with(case, |product| product.isocyanate());
    each_floor(case, |option| {
        let coats = coats_with(&option.floor, |resin| resin.isocyanate);
        let none = coats.is_empty() && fillers.is_empty();
        (!none).then(|| CHECK.caution().names("coats", coats).names("fillers", fillers.clone()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample(), "fast-cure, barrier", CAUTION),
            (sample(), "clear-epoxy, water-kit", SILENT),
            // Speaks of an extra only when it is chosen.
            (sample().job("extras.clear-epoxy", "[\"urethane-coat\"]"), "clear-epoxy", CAUTION),
        ]);
    }

    #[test]
    fn names_the_coats() {
        let found = sample().job("offer", "[\"fast-cure\"]").findings(&CHECK);
        let coats = ["Fast-cure polyurea primer", "Polyaspartic topcoat"].map(String::from);
        assert_eq!(found[0].values, [("coats", Figure::Texts(coats.to_vec()))]);
    }

    #[test]
    fn names_coats_of_one_name_once() {
        let found = sample()
            .job("offer", "[\"fast-cure\"]")
            .book("product.polyaspartic-top.name", "\"Fast-cure polyurea primer\"")
            .findings(&CHECK);
        let coats = vec!["Fast-cure polyurea primer".to_owned()];
        assert_eq!(found[0].values, [("coats", Figure::Texts(coats))]);
    }

    /// A crack that is filled hard, and one that the first coat fills.
    #[test]
    fn counts_what_fills_this_slab() {
        let crack = |width: &str| {
            sample().job(
                "crack",
                &format!("[{{ length = \"4 ft\", width = \"{width}\", moves = \"no\" }}]"),
            )
        };
        crack("1/8 in").expect(&CHECK, "water-kit", Severity::Caution);
        let found = crack("1/8 in").job("offer", "[\"water-kit\"]").findings(&CHECK);
        let filler = vec!["Hard crack filler".to_owned()];
        assert_eq!(found[0].values, [("fillers", Figure::Texts(filler))]);
        crack("1/32 in").expect_silent(&CHECK, "water-kit");
        crack("1/8 in")
            .book("product.crack-resin.filler.isocyanate", "false")
            .expect_silent(&CHECK, "water-kit");
    }
}
