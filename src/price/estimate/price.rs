//! From cost to price, and from a total to payments.

use schemars::JsonSchema;
use serde::Serialize;

use rust_decimal::Decimal;

use crate::base::money::{self, Cents, price_from_margin};
use crate::base::names::Key;
use crate::model::book::{PriceTerms, TaxOn};
use crate::model::choices::{AdditionKind, Discount, DiscountOff, Item, ItemPrice};
use crate::model::job::Job;
use crate::model::shop::{Limits, PaymentStep};

/// Returns the price at the target margin, and the price asked: at least the minimum, rounded up to
/// the shop's step.
pub fn price(cost: Cents, terms: &PriceTerms) -> (Cents, Cents) {
    // The input refuses margins of 95 % and more, so there is a price.
    let wanted = price_from_margin(cost, terms.margin).unwrap_or(cost);
    (wanted, wanted.max(terms.minimum).up_to_multiple_of(terms.round_to))
}

/// An item in the price: what the customer pays for it before tax, and what it costs the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct PricedItem {
    pub name: String,
    pub price: Cents,
    /// Overhead included; the price itself where the job does not say what it costs, so that no
    /// profit is seen where none is known.
    pub cost: Cents,
}

impl PricedItem {
    /// Prices an item by the book's terms; `None` for one on request.
    pub fn of(item: &Item, terms: &PriceTerms) -> Option<Self> {
        let with_overhead = |cost: Cents| cost.plus(cost.times(terms.overhead));
        let (price, cost) = match item.priced? {
            ItemPrice::Price(price) => (price, price),
            ItemPrice::Both { price, cost } => (price, with_overhead(cost)),
            ItemPrice::Cost(cost) => {
                let cost = with_overhead(cost);
                (price_from_margin(cost, terms.margin).unwrap_or(cost), cost)
            }
        };
        Some(Self { name: item.name.clone(), price, cost })
    }
}

/// From the price of a floor to what its customer pays: items come to it, a discount and then tax.
#[derive(Debug, Clone, PartialEq)]
pub struct Bill {
    pub items: Vec<PricedItem>,
    /// Never more than floor and items together; whether it was asked to be is [`Bill::capped`].
    pub discount: Cents,
    /// The discount was to be more than the price.
    pub capped: bool,
    /// Price of floor and items, less the discount: before the customer's tax.
    pub net: Cents,
    /// Tax on that, where the customer pays it.
    pub tax: Cents,
}

impl Bill {
    /// The bill of a floor at a price, with these items.
    pub fn of(
        price: Cents,
        items: Vec<PricedItem>,
        floor: &Key,
        job: &Job,
        terms: &PriceTerms,
    ) -> Self {
        let gross = items.iter().fold(price, |sum, item| sum.plus(item.price));
        let asked = job.discount.as_ref().map_or(Cents::ZERO, |off| off.of(gross, floor));
        let discount = asked.min(gross);
        let net = gross.minus(discount);
        let tax = tax_on(net, job, terms);
        Self { items, discount, capped: asked > gross, net, tax }
    }

    pub fn total(&self) -> Cents {
        self.net.plus(self.tax)
    }

    /// Cost of the items.
    pub fn items_cost(&self) -> Cents {
        self.items.iter().map(|item| item.cost).sum()
    }
}

/// Tax on a price, where the customer pays it.
fn tax_on(net: Cents, job: &Job, terms: &PriceTerms) -> Cents {
    let taxed = terms.tax_on == TaxOn::Price && job.customer.tax_exempt.is_none();
    if taxed { money::tax(net, terms.tax) } else { Cents::ZERO }
}

/// Returns what an item adds to a total: less its share of a discount by percent, and with tax. It is
/// rounded by itself, so that it is the same for every floor that has the same discount.
pub fn addition(price: Cents, floor: &Key, job: &Job, terms: &PriceTerms) -> Cents {
    let by_share = |off: &&Discount| matches!(off.off, DiscountOff::Share(_));
    let off = job.discount.as_ref().filter(by_share);
    let net = price.minus(off.map_or(Cents::ZERO, |off| off.of(price, floor)));
    net.plus(tax_on(net, job, terms))
}

/// Returns the items of a job that a floor's price includes: its own, and additions that were ticked with it.
pub fn items_of(job: &Job, floor: &Key) -> Vec<Item> {
    let added = job.ticked(floor).iter().filter_map(|key| {
        let addition = job.additions.iter().find(|one| one.key == key.value)?;
        match addition.what {
            AdditionKind::Item(priced) => {
                Some(Item { name: addition.name.clone(), priced: Some(priced) })
            }
            AdditionKind::Extra(_) => None,
        }
    });
    job.items.iter().cloned().chain(added).collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::estimate::Estimate;
    use crate::price::testing::{Sample, sample};

    fn barrier(sample: &Sample) -> Estimate {
        sample.with_case(|case| {
            let option = case.options.iter().find(|option| option.key().0 == "barrier").unwrap();
            option.estimate.clone()
        })
    }

    /// By hand, with the book's terms: overhead 15 %, margin 38 %, tax 6.5 % on the price.
    /// 120.00 x 1.15 = 138.00, and 138.00 / 0.62 = 222.58.
    #[test]
    fn items_come_to_the_price_and_a_discount_comes_off_before_tax() {
        let plain = barrier(&sample());
        assert_eq!(plain.bill.net, plain.price);
        let items = "[{ name = \"A\", cost = \"$120.00\" }, { name = \"B\", price = \"$80.00\" }, \
                     { name = \"C\", price = \"$50.00\", cost = \"$20.00\" }, \
                     { name = \"D\", on-request = true }]";
        let with = sample().job("item", items);
        let off = |discount: &str| with.clone().job("discount", discount);
        let gross = Cents(plain.price.0 + 22_258 + 80_00 + 50_00);

        let bill = barrier(&with).bill;
        let priced: Vec<(i64, i64)> = bill.items.iter().map(|i| (i.price.0, i.cost.0)).collect();
        assert_eq!(priced, [(22_258, 13_800), (80_00, 80_00), (50_00, 23_00)]);
        assert_eq!((bill.net, bill.tax), (gross, gross.times(Decimal::new(65, 3))));

        let amount = barrier(&off("{ amount = \"$100.00\", reason = \"why\" }")).bill;
        assert_eq!((amount.discount, amount.net), (Cents(10_000), Cents(gross.0 - 10_000)));
        assert_eq!(amount.tax, amount.net.times(Decimal::new(65, 3)));

        let share = barrier(&off("{ percent = \"5 %\", reason = \"why\" }")).bill;
        assert_eq!(share.discount, gross.times(Decimal::new(5, 2)));

        let other = off("{ amount = \"$100.00\", reason = \"why\", floors = [\"fast-cure\"] }");
        assert_eq!(barrier(&other).bill, bill);
    }

    #[test]
    fn who_is_exempt_pays_no_tax_and_profit_counts_the_items() {
        let exempt = barrier(&sample().job("customer.tax-exempt", "\"EX-1\""));
        assert_eq!((exempt.bill.tax, exempt.total()), (Cents::ZERO, exempt.price));
        let with = barrier(&sample().job("item", "[{ name = \"A\", price = \"$80.00\" }]"));
        // Its cost is not known, so no profit is seen in it.
        assert_eq!(with.profit(), barrier(&sample()).profit());
    }

    #[test]
    fn a_discount_stays_within_the_price_and_says_so() {
        let bill = |amount: &str| {
            let off = format!("{{ amount = \"{amount}\", reason = \"why\" }}");
            barrier(&sample().job("discount", &off)).bill
        };
        let price = barrier(&sample()).price;
        let all = bill(&price.to_string());
        assert_eq!((all.net, all.capped), (Cents::ZERO, false));
        let over = bill(&price.plus(Cents(1)).to_string());
        assert_eq!((over.net, over.tax, over.capped), (Cents::ZERO, Cents::ZERO, true));
    }
}
