//! `voc-limit-unset`: no VOC limit in the shop file, so that none is checked.
//!
//! A note for the shop. The program knows no local rule; it gives the national figure, above
//! which hardly any place goes, and leaves the rest to the local air agency.

use crate::base::figure::Figure;
use crate::base::quantity::Content;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "voc-limit-unset",
    place: FindingPlace::Shop,
    source: Source::Rule(Subject::Voc, "40 CFR 59 subpart D, Table 1"),
    severities: &[Severity::Note],
    limits: &[("national", Figure::Content(NATIONAL))],
    find,
};

/// Floor coatings: 40 CFR 59 subpart D, Table 1. It binds makers and importers; states and air
/// districts go lower and bind whoever applies a coat.
const NATIONAL: Content = Content::grams_per_liter(400.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    if case.shop.limits.voc.is_some() {
        return vec![];
    }
    vec![Finding::new(&CHECK, Severity::Note).value("national", NATIONAL)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    #[test]
    fn fires_without_a_limit() {
        testing::sample().without_shop("limits.voc").expect(&CHECK, "", Severity::Note);
        testing::sample().without_shop("limits").expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn stays_silent_with_one() {
        testing::sample().shop("limits.voc", "\"50 g/L\"").expect_silent(&CHECK, "barrier");
    }
}
