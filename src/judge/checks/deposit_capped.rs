//! `deposit-capped`: a deposit that the shop's own cap has lowered.
//!
//! Compares the first payment as the shop asks for it with the one that its caps leave. A note
//! for the shop, floor by floor: the paper carries the lower amount and the last payment takes
//! the rest.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::model::shop::Limits;
use crate::price::case::Case;
use crate::price::estimate::price::deposit;

pub const CHECK: Check = Check::new("deposit-capped", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    // A single payment is the whole price, and no deposit.
    let [first, _, ..] = case.shop.payments.as_slice() else { return vec![] };
    each_floor(case, |option| {
        let under = |limits| deposit(option.quote.total, first.share, limits);
        let (asked, taken) = (under(&Limits::default()), under(&case.shop.limits));
        let finding = || CHECK.note().measured(Figure::Money(asked)).limit(Figure::Money(taken));
        (taken < asked).then(finding)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::money::Cents;
    use crate::judge::checks::testing::*;

    /// The shop asks for 10 % before work starts.
    fn cap(percent: &str) -> Sample {
        sample().shop("limits.deposit-share", percent)
    }

    #[test]
    fn fires_and_stays_silent() {
        let amount = sample().shop("limits.deposit-most", "\"$100.00\"");
        assert_eq!(amount.findings(&CHECK)[0].limit, Some(Figure::Money(Cents(10_000))));
        let once = "[{ when = \"When the floor is done\", share = \"100 %\" }]";
        CHECK.says([
            // Fires when a cap lowers the deposit.
            (cap("\"9.9 %\""), "barrier", NOTE),
            (amount, "barrier", NOTE),
            // Stays silent at the cap and below.
            (cap("\"10 %\""), "barrier", SILENT),
            (sample().without_shop("limits"), "barrier", SILENT),
            // One payment is the whole price; the input takes no cap beside it.
            (sample().without_shop("limits").shop("payment", once), "barrier", SILENT),
        ]);
    }
}
