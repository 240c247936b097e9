//! `voc-limit-unset`: no VOC limit in the shop file, so that none is checked.
//!
//! A note for the shop. The program knows no local rule; it gives the national figure, above
//! which hardly any place goes, and leaves the rest to the local air agency.

use crate::base::figure::Figure;
use crate::base::quantity::Content;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("national", Limit::new(Figure::Content(NATIONAL), SOURCE))],
    ..Check::new("voc-limit-unset", FindingPlace::Shop, SOURCE, find).severities(&[Severity::Note])
};

const SOURCE: Source = Source::Rule(Subject::Voc, "40 CFR 59 subpart D, Table 1");

/// Floor coatings: 40 CFR 59 subpart D, Table 1. It binds makers and importers; states and air
/// districts go lower and bind whoever applies a coat.
const NATIONAL: Content = Content::grams_per_liter(400.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    if case.shop.limits.voc.is_some() {
        return vec![];
    }
    vec![CHECK.note().value("national", NATIONAL)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample().without_shop("limits.voc"), "", NOTE),
            (sample().without_shop("limits"), "", NOTE),
            (sample().shop("limits.voc", "\"50 g/L\""), "barrier", SILENT),
        ]);
    }
}
