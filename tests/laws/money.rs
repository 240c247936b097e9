//! Payments, prices and printed money.

use crate::chance::tried;
use crate::facts::example::{self, BOOK, JOB, SHOP};
use proptest::prelude::*;
use rust_decimal::Decimal;
use slableaf::base::money::Cents;
use slableaf::model::job::Units;
use slableaf::model::shop::{Limits, PaymentStep};
use slableaf::price::estimate::price::{payments, price};
use slableaf::say::figures::{FigureWords, Figures};

fn amounts() -> impl Strategy<Value = Cents> {
    (0i64..=50_000_000).prop_map(Cents)
}

/// Shares of two to five payments in hundredths of a percent, which sum to one.
fn shares() -> impl Strategy<Value = Vec<PaymentStep>> {
    prop::collection::vec(0u32..=10_000, 1..=4).prop_map(|mut cuts| {
        cuts.extend([0, 10_000]);
        cuts.sort_unstable();
        cuts.windows(2)
            .map(|pair| PaymentStep {
                when: String::new(),
                share: Decimal::new(i64::from(pair[1] - pair[0]), 4),
            })
            .collect()
    })
}

fn caps() -> impl Strategy<Value = Limits> {
    (prop::option::of(0i64..=10_000), prop::option::of(0i64..=500_000)).prop_map(|(share, most)| {
        Limits {
            voc: None,
            deposit_share: share.map(|share| Decimal::new(share, 4)),
            deposit_most: most.map(Cents),
            deposit_sign: None,
            ..Limits::default()
        }
    })
}

proptest! {
    #![proptest_config(tried(500))]

    #[test]
    fn payments_sum_to_the_total_and_the_deposit_keeps_its_caps(
        total in amounts(),
        steps in shares(),
        limits in caps(),
    ) {
        let payments = payments(total, &steps, &limits);
        prop_assert_eq!(payments.iter().map(|payment| payment.amount).sum::<Cents>(), total);
        prop_assert!(payments.iter().all(|payment| payment.amount >= Cents::ZERO));
        let deposit = payments[0].amount;
        prop_assert!(deposit.decimal() <= total.decimal() * steps[0].share);
        if let Some(cap) = limits.deposit_share {
            prop_assert!(deposit.decimal() <= total.decimal() * cap);
        }
        if let Some(cap) = limits.deposit_most {
            prop_assert!(deposit <= cap);
        }
    }

    #[test]
    fn a_price_covers_its_cost_and_never_falls_when_cost_rises(
        cost in amounts(),
        more in 0i64..=1_000_000,
        margin in 0i64..=9_499,
        minimum in 0i64..=500_000,
        step in 0i64..=10_000,
    ) {
        let mut terms = example::input().book.terms;
        terms.margin = Decimal::new(margin, 4);
        terms.minimum = Cents(minimum);
        terms.round_to = Cents(step);
        let (wanted, asked) = price(cost, &terms);
        prop_assert!(cost <= wanted && wanted <= asked && terms.minimum <= asked);
        prop_assert!(asked <= price(cost.plus(Cents(more)), &terms).1);
    }

    #[test]
    fn a_step_up_is_a_multiple_and_less_than_a_step_away(amount in -1_000_000i64..=1_000_000, step in 1i64..=20_000) {
        let stepped = Cents(amount).up_to_multiple_of(Cents(step));
        prop_assert_eq!(stepped.0 % step, 0);
        prop_assert!((0..step).contains(&(stepped.0 - amount)));
    }

    #[test]
    fn money_reads_back_as_it_was_written(amount in -90_000_000_000i64..=90_000_000_000) {
        let text = Cents(amount).to_string();
        prop_assert_eq!(Cents::round(text.parse().unwrap()), Cents(amount), "{}", text);
    }
}

proptest! {
    #![proptest_config(tried(60))]

    /// As printed for a customer, with sign and grouping, and read from a shop's file.
    #[test]
    fn printed_money_is_money_that_can_be_written(amount in 0i64..=1_000_000_000) {
        let words: FigureWords = toml::from_str(include_str!("../../layouts/words/en/figures.toml")).unwrap();
        let text = Figures { units: Units::Us, currency: "USD", words: &words }.money(Cents(amount));
        let limits = format!("[limits]\ndeposit-most = \"{text}\"\n");
        let shop = example::replaced(SHOP, "[limits]\n", &limits);
        prop_assert_eq!(example::read(JOB, BOOK, &shop).shop.limits.deposit_most, Some(Cents(amount)), "{}", text);
    }
}
