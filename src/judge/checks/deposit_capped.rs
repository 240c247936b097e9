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

pub const CHECK: Check = Check {
    name: "deposit-capped",
    place: FindingPlace::Shop,
    source: Source::Shop,
    severities: &[Severity::Note],
    limits: &[],
    find,
};

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
    use crate::judge::checks::testing::{self, Sample};

    /// The shop asks for 10 % before work starts.
    fn cap(percent: &str) -> Sample {
        testing::sample().shop("limits.deposit-share", percent)
    }

    #[test]
    fn fires_when_a_cap_lowers_the_deposit() {
        cap("\"9.9 %\"").expect(&CHECK, "barrier", Severity::Note);
        let amount = testing::sample().shop("limits.deposit-most", "\"$100.00\"");
        amount.expect(&CHECK, "barrier", Severity::Note);
        assert_eq!(amount.findings(&CHECK)[0].limit, Some(Figure::Money(Cents(10_000))));
    }

    #[test]
    fn stays_silent_at_the_cap_and_below() {
        cap("\"10 %\"").expect_silent(&CHECK, "barrier");
        testing::sample().without_shop("limits").expect_silent(&CHECK, "barrier");
        // One payment is the whole price; the input takes no cap beside it.
        let once = "[{ when = \"When the floor is done\", share = \"100 %\" }]";
        let single = testing::sample().without_shop("limits").shop("payment", once);
        single.expect_silent(&CHECK, "barrier");
    }
}
