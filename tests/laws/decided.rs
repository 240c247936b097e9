//! Items, additions and a discount on random jobs.

use crate::chance::tried;
use crate::facts::example::{self, BOOK, SHOP};
use proptest::prelude::*;
use slableaf::base::money::Cents;
use slableaf::judge::judge;
use slableaf::price::case::{Quote, case};
use slableaf::price::estimate::price::payments;
use slableaf::read::Input;
use slableaf::reprice::{CauseKind, Side, reprice};

/// An item by price, by cost or by both.
fn item() -> impl Strategy<Value = String> {
    (0u8..4, 0u32..200_000, 0u32..200_000).prop_map(|(kind, price, cost)| {
        let amount = |cents: u32| format!("\"${}.{:02}\"", cents / 100, cents % 100);
        let (price, cost) = (amount(price), amount(cost));
        let priced = match kind {
            0 => format!("price = {price}"),
            1 => format!("cost = {cost}"),
            2 => format!("price = {price}\ncost = {cost}"),
            _ => "on-request = true".to_owned(),
        };
        format!("\n[[item]]\nname = \"Work beside the floor\"\n{priced}\n")
    })
}

fn discount() -> impl Strategy<Value = String> {
    (any::<bool>(), 0u32..90_000, 1u32..100).prop_map(|(by_amount, cents, percent)| {
        let off = if by_amount {
            format!("amount = \"${}.{:02}\"", cents / 100, cents % 100)
        } else {
            format!("percent = \"{percent} %\"")
        };
        format!("\n[discount]\n{off}\nreason = \"Two floors in one visit\"\n")
    })
}

fn input(more: &str, exempt: bool) -> Input {
    let name = "name = \"Rosa and Emil Tannenwald\"";
    let exempt = if exempt { "\ntax-exempt = \"EX-1\"" } else { "" };
    let job = example::JOB.replacen(name, &format!("{name}{exempt}"), 1);
    example::read(&format!("{job}\n{more}"), BOOK, SHOP)
}

fn quotes(input: &Input) -> Vec<Quote> {
    case(input).options.into_iter().map(|option| option.quote).collect()
}

proptest! {
    #![proptest_config(tried(60))]

    #[test]
    fn a_bill_adds_up_and_the_order_of_items_changes_nothing(
        items in prop::collection::vec(item(), 0..=8),
        off in discount(),
        exempt in any::<bool>(),
    ) {
        let there = input(&(items.concat() + &off), exempt);
        let back: String = items.iter().rev().cloned().collect();
        let reversed = quotes(&input(&(back + &off), exempt));
        for (quote, other) in quotes(&there).into_iter().zip(reversed) {
            let extras: Cents = quote.extras.iter().map(|one| one.price).sum();
            let items: Cents = quote.items.iter().map(|one| one.price).sum();
            let gross = quote.floor.plus(extras).plus(items);
            prop_assert_eq!(gross.minus(quote.discount).plus(quote.tax), quote.total);
            prop_assert!(!exempt || quote.tax == Cents::ZERO);
            prop_assert_eq!((quote.total, quote.tax, quote.discount), (other.total, other.tax, other.discount));
            let due = payments(quote.total, &there.shop.payments, &there.shop.limits);
            prop_assert!(due.iter().all(|one| one.amount >= Cents::ZERO));
            prop_assert_eq!(due.iter().map(|one| one.amount).sum::<Cents>(), quote.total);
        }
    }

    /// A discount that is taken back leaves no trace, and it is a cause by its own name.
    #[test]
    fn a_discount_and_its_undoing_leave_the_price(items in prop::collection::vec(item(), 0..=3), off in discount()) {
        let plain = input(&items.concat(), false);
        let with = input(&(items.concat() + &off), false);
        let mut undone = with.clone();
        undone.job.discount = None;
        prop_assert_eq!(quotes(&undone), quotes(&plain));
        for (before, after) in quotes(&plain).iter().zip(quotes(&with)) {
            prop_assert!(after.total <= before.total);
        }
    }

    #[test]
    fn items_discount_and_exemption_are_causes_that_add_up(
        items in prop::collection::vec(item(), 0..=3),
        off in discount(),
        exempt in any::<bool>(),
    ) {
        let (plain, with) = (input("", false), input(&(items.concat() + &off), exempt));
        let (was, is) = (judge(&plain), judge(&with));
        let repriced = reprice(
            Some(Side { input: &plain, judged: &was }),
            Side { input: &with, judged: &is },
        );
        for floor in &repriced.floors {
            let sum: Cents = floor.causes.iter().map(|cause| cause.change).sum();
            prop_assert_eq!(floor.before.unwrap().plus(sum), floor.after.unwrap());
            let own = [CauseKind::Items, CauseKind::Discount, CauseKind::TaxExempt, CauseKind::Rounding];
            prop_assert!(floor.causes.iter().all(|cause| own.contains(&cause.what.kind)), "{:?}", floor);
        }
    }

    /// What is ticked costs the same with every floor that has the same discount.
    #[test]
    fn an_added_item_costs_the_same_with_every_floor(price in 0u32..200_000, off in discount()) {
        let added = format!("\n[[addition]]\nkey = \"grip\"\nname = \"Grip\"\nprice = \"${}.{:02}\"\n", price / 100, price % 100);
        let adds: Vec<Cents> = quotes(&input(&(added + &off), false))
            .iter()
            .map(|quote| quote.could_add.iter().find(|could| could.addition.0 == "grip").unwrap().adds)
            .collect();
        prop_assert!(adds.windows(2).all(|two| two[0] == two[1]), "{:?}", adds);
    }
}
