//! `deposit-limit-unset`: no cap on the deposit in the shop file, so that none is kept.
//!
//! A note for the shop: many states cap what may be taken before work starts, as a share of the
//! contract, as an amount or as the lesser of the two. The program knows no state's law.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "deposit-limit-unset",
    place: FindingPlace::Shop,
    source: Source::Shop,
    severities: &[Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let limits = &case.shop.limits;
    if limits.deposit_share.is_some() || limits.deposit_most.is_some() {
        return vec![];
    }
    vec![Finding::new(&CHECK, Severity::Note)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn no_share() -> Sample {
        testing::sample().without_shop("limits.deposit-share")
    }

    #[test]
    fn fires_when_neither_cap_is_set() {
        no_share().expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn stays_silent_with_either() {
        testing::sample().expect_silent(&CHECK, "barrier");
        no_share().shop("limits.deposit-most", "\"$1,000.00\"").expect_silent(&CHECK, "barrier");
    }
}
