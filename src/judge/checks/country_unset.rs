//! `country-unset`: a shop that does not say in which country it works.
//!
//! A note for the shop: no rule of any country stands as a source on its papers, and no permission
//! from any table, until it says whose rules hold.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("country-unset", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    if case.shop.country.is_none() { vec![CHECK.note()] } else { vec![] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample().without_shop("country"), "", NOTE),
            (sample(), "barrier", SILENT),
            (sample().shop("country", "\"NO\""), "barrier", SILENT),
        ]);
    }
}
