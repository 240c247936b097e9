//! `country-unset`: a shop that does not say in which country it works.
//!
//! A note for the shop: no rule of any country stands as a source on its papers, and no permission
//! from any table, until it says whose rules hold.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "country-unset",
    place: FindingPlace::Shop,
    source: Source::Shop,
    severities: &[Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    match case.shop.country {
        Some(_) => vec![],
        None => vec![Finding::new(&CHECK, Severity::Note)],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    #[test]
    fn fires_without_a_country() {
        testing::sample().without_shop("country").expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn stays_silent_with_one() {
        testing::sample().expect_silent(&CHECK, "barrier");
        testing::sample().shop("country", "\"NO\"").expect_silent(&CHECK, "barrier");
    }
}
