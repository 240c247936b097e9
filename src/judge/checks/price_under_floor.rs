//! `price-under-floor`: a price that leaves less than the lowest margin that the shop accepts.
//!
//! Compares what a floor really leaves over its cost with the book's floor. A price made from a
//! target margin is never under it, so it speaks of discounts, and of items sold below their cost.
//! Caution, for the shop alone: it speaks of cost.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::base::money::price_from_margin;
use crate::base::quantity::Share;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::Case;
use crate::price::estimate::Estimate;

pub const CHECK: Check = Check::new("price-under-floor", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let floor = case.book.terms.margin_floor;
    each_floor(case, |option| {
        let finding = below_floor(&option.estimate, floor).then(|| CHECK.caution())?;
        let finding = finding.limit(share(floor));
        // A price of zero has no margin.
        Some(match option.estimate.margin() {
            Some(margin) => finding.measured(share(margin)),
            None => finding,
        })
    })
}

/// True when a price is less than the one that leaves `floor`. Prices are compared and not
/// margins, since a price is rounded to the cent and a margin is not.
fn below_floor(estimate: &Estimate, floor: Decimal) -> bool {
    let least = price_from_margin(estimate.cost_in_all(), floor);
    least.is_none_or(|least| estimate.bill.net < least)
}

fn share(ratio: Decimal) -> Share {
    Share::of_one(ratio.to_f64().unwrap_or(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::base::money::Cents;
    use crate::judge::checks::testing::*;

    /// Findings when every floor costs $75.00 and is sold at a price. The book's
    /// floor is 25 %, so that $100.00 is the least: 75 / (1 - 0.25).
    fn sold_at(price: i64) -> Vec<Finding> {
        sample().with_case(|mut case| {
            for choice in &mut case.options {
                choice.estimate.cost = Cents(75_00);
                choice.estimate.bill.net = Cents(price);
            }
            find(&case)
        })
    }

    #[test]
    fn fires_a_cent_below_the_floor() {
        let found = sold_at(99_99);
        assert_eq!(found.len(), 4, "each floor has its own price");
        assert_eq!(found[0].severity, Severity::Caution);
        assert_eq!(found[0].limit, Some(Figure::Share(Share::percent(25.0))));
    }

    #[test]
    fn fires_on_a_price_of_zero_that_has_no_margin() {
        assert_eq!(sold_at(0).len(), 4);
        assert_eq!(sold_at(0)[0].measured, None);
    }

    #[test]
    fn stays_silent_at_the_floor_and_above() {
        assert!(sold_at(10_000).is_empty());
        assert!(sold_at(12_000).is_empty());
    }

    /// A target margin at its floor, without a step or a minimum to lift the price.
    #[test]
    fn stays_silent_on_a_price_made_from_the_floor_itself() {
        let exact = sample()
            .book("terms.margin", "\"25 %\"")
            .book("terms.minimum", "\"$0.00\"")
            .book("terms.round-to", "\"$0.00\"");
        CHECK.says([(exact, EVERY_FLOOR, SILENT)]);
    }
}
