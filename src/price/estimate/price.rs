//! From cost to price, and from a total to payments.

use schemars::JsonSchema;
use serde::Serialize;

use rust_decimal::Decimal;

use crate::base::money::{Cents, price_from_margin};
use crate::model::book::PriceTerms;
use crate::model::shop::{Limits, PaymentStep};

/// Returns the price at the target margin, and the price asked: at least the minimum, rounded up to
/// the shop's step.
pub fn price(cost: Cents, terms: &PriceTerms) -> (Cents, Cents) {
    // The input refuses margins of 95 % and more, so there is a price.
    let wanted = price_from_margin(cost, terms.margin).unwrap_or(cost);
    (wanted, wanted.max(terms.minimum).up_to_multiple_of(terms.round_to))
}

/// One payment that the customer is asked for.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Payment {
    /// The day on which it falls due, in the shop's own words.
    pub when: String,
    /// The amount.
    pub amount: Cents,
}

/// Splits a total into payments that sum to it exactly.
///
/// The first (the deposit) rounds down and stays under the caps of the shop's limits, since a cap
/// may not be passed by a part of a cent. The others round half up, and the last takes the rest.
pub fn payments(total: Cents, steps: &[PaymentStep], limits: &Limits) -> Vec<Payment> {
    let mut payments = vec![];
    let mut left = total;
    for (at, step) in steps.iter().enumerate() {
        let amount = if at + 1 == steps.len() {
            left
        } else if at == 0 {
            deposit(total, step.share, limits)
        } else {
            total.times(step.share).min(left)
        };
        left = left.minus(amount);
        payments.push(Payment { when: step.when.clone(), amount });
    }
    payments
}

/// The deposit: its share, at most the caps, rounded down.
pub fn deposit(total: Cents, share: Decimal, limits: &Limits) -> Cents {
    let part =
        |share: Decimal| Cents::round_down(total.decimal().checked_mul(share).unwrap_or_default());
    let mut deposit = part(share);
    if let Some(cap) = limits.deposit_share {
        deposit = deposit.min(part(cap));
    }
    if let Some(cap) = limits.deposit_most {
        deposit = deposit.min(cap);
    }
    deposit
}
