//! `paid-before-contract`: money is written down as received for a job that nobody has signed.
//!
//! Caution, for the shop alone: either what was signed is not written down yet, or the money is for
//! something else, such as a test that was ordered by itself.

use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("paid-before-contract", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let received: Cents = case.job.paid.iter().map(|one| one.amount).sum();
    let early = case.job.accepted.is_none() && received > Cents::ZERO;
    let finding = early.then(|| CHECK.caution().measured(Figure::Money(received)));
    finding.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn money_before_a_signature_is_told() {
        let paid = sample().job("paid", "[{ on = 2026-05-21, amount = \"$500.00\" }]");
        let signed = "{ revision = 1, floor = \"barrier\", on = 2026-05-21 }";
        CHECK.says([
            (paid.clone(), "", CAUTION),
            (paid.job("accepted", signed), "", SILENT),
            (sample().job("paid", "[{ on = 2026-05-21, amount = \"$0.00\" }]"), "", SILENT),
            (sample(), "", SILENT),
        ]);
    }
}
