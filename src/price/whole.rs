//! A job of several spaces: the price of the whole visit, and the part of it that each space has.
//!
//! The whole is worked out once, for one floor in each space: what each product takes in all spaces is
//! summed before kits are chosen, the crew comes once and goes from space to space, and the cost for each
//! job, the minimum and the rounding are of the whole. The price is then shared out by one rule, in
//! proportion to what each space would cost as a job of its own. Another floor in a space costs that
//! space's share and the difference that it makes to the whole. So the price of any floors that are
//! ticked, one for each space, is the sum of their prices.

use rust_decimal::Decimal;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::model::book::PriceTerms;
use crate::model::choices::{Addition, AdditionKind, Item};
use crate::model::job::Job;
use crate::price::case::{Case, FloorOption, Quote, case_of};
use crate::price::estimate::Estimate;
use crate::price::estimate::price::{Bill, PricedItem};
use crate::price::visit::{OtherSpaces, SpaceFloor};
use crate::read::Input;

/// All spaces of a job, each with its part of the whole.
#[derive(Debug, Clone)]
pub struct Whole<'a> {
    /// The spaces in their order. Their quotes are what each floor costs there; their estimates are of
    /// the whole visit with that floor.
    pub spaces: Vec<Case<'a>>,
    /// The price that was shared out; `None` where no space has a floor with a price.
    pub price: Option<WholePrice>,
}

/// The price of one floor in each space.
#[derive(Debug, Clone)]
pub struct WholePrice {
    /// The floors that it is for; `None` for a space that is not in it.
    pub floors: Vec<Option<Key>>,
    /// The shares in the order of the spaces; zero for one that is not in it.
    pub shares: Vec<Share>,
    /// Cost, work and price of the visit. Its coats, batches and schedule are those of the last space.
    pub estimate: Estimate,
    /// What all spaces cost with the items of the job and its discount.
    pub bill: Bill,
    /// Items that may still be ticked: the addition's key, its name, and what it adds, tax included.
    pub could_add: Vec<(Key, String, Cents)>,
}

impl WholePrice {
    /// What items and discount add to the prices of the spaces, tax included; less than zero where they
    /// take off more. It is the same whatever floors are ticked.
    pub fn beside(&self) -> Cents {
        self.bill.total().minus(self.estimate.total())
    }

    /// The tax in that.
    pub fn tax_beside(&self) -> Cents {
        self.bill.tax.minus(self.estimate.bill.tax)
    }
}

/// The bill of the whole, and what could be added to it.
fn bill(job: &Job, estimate: &Estimate, terms: &PriceTerms) -> (Bill, Vec<(Key, String, Cents)>) {
    // Items and discount of a job with spaces are for whatever floors it has.
    let any = Key(String::new());
    let ticked = |one: &Addition| {
        let signed = job.accepted.as_ref();
        signed.is_some_and(|signed| signed.additions.iter().any(|key| key.value == one.key))
    };
    let mut items: Vec<Item> = job.items.clone();
    let mut open = vec![];
    for one in &job.additions {
        let AdditionKind::Item(price) = one.what else { continue };
        let item = Item { name: one.name.clone(), priced: Some(price) };
        if ticked(one) { items.push(item) } else { open.push((one.key.clone(), item)) }
    }
    let priced: Vec<PricedItem> =
        items.iter().filter_map(|item| PricedItem::of(item, terms)).collect();
    let bill = Bill::of(estimate.price, priced.clone(), &any, job, terms);
    let could_add = open.into_iter().filter_map(|(key, item)| {
        let more = priced.iter().cloned().chain([PricedItem::of(&item, terms)?]).collect();
        let with = Bill::of(estimate.price, more, &any, job, terms).total();
        Some((key, item.name, with.minus(bill.total())))
    });
    let could_add = could_add.collect();
    (bill, could_add)
}

/// A space's part of the price.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Share {
    /// Direct cost of the space as a job of its own: its weight.
    pub alone: Cents,
    /// Before tax.
    pub price: Cents,
    pub tax: Cents,
}

impl Share {
    pub fn total(self) -> Cents {
        self.price.plus(self.tax)
    }
}

/// Works out every space of a job alone, without the others.
pub fn alone<'a>(input: &'a Input, jobs: &'a [Job]) -> Vec<Case<'a>> {
    jobs.iter().map(|job| case_of(job, input, OtherSpaces::default())).collect()
}

/// Works out the whole for one floor in each space; a space without one is left out of the price.
/// `alone` are the same spaces by themselves.
pub fn whole<'a>(
    input: &'a Input,
    jobs: &'a [Job],
    alone: &[Case<'a>],
    floors: Vec<Option<Key>>,
) -> Whole<'a> {
    let chosen: Vec<Option<&FloorOption<'a>>> = alone
        .iter()
        .zip(&floors)
        .map(|(case, floor)| case.options.iter().find(|one| Some(one.key()) == floor.as_ref()))
        .collect();
    let laid: Vec<Option<SpaceFloor<'a>>> = jobs
        .iter()
        .zip(alone.iter().zip(&chosen))
        .map(|(job, (case, option))| {
            option.map(|option| SpaceFloor::new(option.floor.system, job, &case.site))
        })
        .collect();
    let mut spaces: Vec<Case<'a>> = jobs
        .iter()
        .enumerate()
        .map(|(at, job)| {
            let others = OtherSpaces {
                before: laid[..at].iter().flatten().cloned().collect(),
                after: laid[at + 1..].iter().flatten().cloned().collect(),
            };
            case_of(job, input, others)
        })
        .collect();
    let last = floors.iter().rposition(Option::is_some);
    let of_floor = |at: usize, floor: &Key| {
        spaces[at].options.iter().find(|option| option.key() == floor).cloned()
    };
    let base = last.and_then(|at| of_floor(at, floors[at].as_ref()?));
    let Some(FloorOption { estimate, quote, .. }) = base else {
        return Whole { spaces, price: None };
    };
    let weights: Vec<Cents> = chosen
        .iter()
        .map(|option| option.map_or(Cents::ZERO, |option| option.estimate.direct))
        .collect();
    let shares: Vec<Share> = weights
        .iter()
        .zip(share_out(quote.total.minus(quote.tax), &weights))
        .zip(share_out(quote.tax, &weights))
        .map(|((alone, price), tax)| Share { alone: *alone, price, tax })
        .collect();
    for (case, share) in spaces.iter_mut().zip(&shares) {
        for option in &mut case.options {
            option.quote = of_space(&option.quote, &quote, *share);
        }
    }
    let (bill, could_add) = bill(&input.job, &estimate, &input.book.terms);
    Whole { spaces, price: Some(WholePrice { floors, shares, estimate, bill, could_add }) }
}

/// Shares an amount out in proportion to weights, to the cent below; the cents that remain go to the
/// largest weight, the first of those that are alike. Without any weight all is of the first.
pub fn share_out(amount: Cents, weights: &[Cents]) -> Vec<Cents> {
    let all: Cents = weights.iter().copied().sum();
    let part = |weight: &Cents| {
        let share = weight.decimal().checked_div(all.decimal()).unwrap_or(Decimal::ZERO);
        Cents::round_down(amount.decimal().checked_mul(share).unwrap_or_default())
    };
    let mut parts: Vec<Cents> = weights.iter().map(part).collect();
    let largest = (0..weights.len()).rev().max_by_key(|at| weights[*at]);
    if let Some(largest) = largest {
        let rest = amount.minus(parts.iter().copied().sum());
        parts[largest] = parts[largest].plus(rest);
    }
    parts
}

/// The price of a floor in its space: of what the whole costs with it (`with`), all is taken off that the
/// others cost, which is what the whole costs with the floors that it was shared out for (`base`), less
/// the space's share.
fn of_space(with: &Quote, base: &Quote, share: Share) -> Quote {
    let total = with.total.minus(base.total).plus(share.total()).max(Cents::ZERO);
    let tax = with.tax.minus(base.tax).plus(share.tax).max(Cents::ZERO).min(total);
    let extras: Cents = with.extras.iter().map(|one| one.price).sum();
    Quote { floor: total.minus(tax).minus(extras), tax, total, ..with.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn out(amount: i64, weights: &[i64]) -> Vec<i64> {
        let weights: Vec<Cents> = weights.iter().map(|weight| Cents(*weight)).collect();
        share_out(Cents(amount), &weights).into_iter().map(|part| part.0).collect()
    }

    /// By hand: 100.00 by 1 : 1 : 1 is 33.33 each, and the cent that remains goes to the first of the
    /// three largest; 10.00 by 2 : 1 is 6.66 and 3.33 and a cent for the larger.
    #[test]
    fn cents_that_remain_go_to_the_largest() {
        assert_eq!(out(10_000, &[5, 5, 5]), [3_334, 3_333, 3_333]);
        assert_eq!(out(1_000, &[1, 2]), [333, 667]);
        assert_eq!(out(1_000, &[1, 2, 2]), [200, 400, 400]);
    }

    #[test]
    fn a_space_that_is_left_out_gets_nothing() {
        assert_eq!(out(1_000, &[3, 0]), [1_000, 0]);
        assert_eq!(out(1_000, &[0, 0]), [1_000, 0]);
        assert_eq!(out(1_000, &[]), [0_i64; 0]);
    }
}
