//! `deposit-limit-unset`: no cap on the deposit in the shop file, so that none is kept.
//!
//! A note for the shop: many states cap what may be taken before work starts, as a share of the
//! contract, as an amount or as the lesser of the two. The program knows no state's law.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("deposit-limit-unset", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let limits = &case.shop.limits;
    if limits.deposit_share.is_some() || limits.deposit_most.is_some() {
        return vec![];
    }
    vec![CHECK.note()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn no_share() -> Sample {
        sample().without_shop("limits.deposit-share")
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Fires when neither cap is set.
            (no_share(), "", NOTE),
            (sample(), "barrier", SILENT),
            (no_share().shop("limits.deposit-most", "\"$1,000.00\""), "barrier", SILENT),
        ]);
    }
}
