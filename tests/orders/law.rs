//! The price of a change, on random jobs: the price of the job as it is to be less that of the job as it was
//! signed, both by the accepted book; and what was received with what is due is the new total.

use proptest::prelude::*;
use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::issued::{Agreed, RecordDate, change_order, priced};
use slableaf::model::job::Accepted;
use slableaf::read::Input;
use slableaf::results::facts::payment_steps;

use crate::chance::tried;
use crate::facts::example::{self, BOOK, SHOP};

/// The example with one more area, an item, a discount and money received.
fn input(strip: u32, item: u32, percent: u32, paid: u32) -> Input {
    let mut job = example::JOB.replacen("Rosa and Emil Tannenwald", "Rosa Tannenwald", 1);
    if strip > 0 {
        let area = format!(
            "[[area]]\nat = [\"22 ft\", \"0 ft\"]\nlength = \"{strip} ft\"\nwidth = \"3 ft\"\n\n[[upright]]"
        );
        job = job.replacen("[[upright]]", &area, 1);
    }
    if item > 0 {
        job += &format!("\n[[item]]\nname = \"Work\"\nprice = \"${item}\"\n");
    }
    if percent > 0 {
        job += &format!("\n[discount]\npercent = \"{percent} %\"\nreason = \"Thanks\"\n");
    }
    if paid > 0 {
        job += &format!("\n[[paid]]\non = 2026-05-21\namount = \"${paid}\"\n");
    }
    let mut input = example::read(&job, BOOK, SHOP);
    input.job.accepted = Some(Accepted {
        revision: 1,
        floor: Key("barrier".into()),
        floors: vec![],
        on: jiff::civil::date(2026, 5, 20),
        additions: vec![],
        span: input.job.span.clone(),
    });
    input
}

/// The agreement on a job: its price by the engine and a payment plan of the shop.
fn agreed(input: &Input, extra: i64) -> Agreed {
    let total = priced(input).unwrap().0 + extra;
    Agreed {
        revision: 1,
        date: RecordDate(input.job.date),
        signed: RecordDate(jiff::civil::date(2026, 5, 20)),
        valid_until: None,
        floor: "barrier".into(),
        floors: vec![],
        name: "the vapor-barrier floor".into(),
        currency: "USD".into(),
        additions: vec![],
        total,
        days: 2,
        visits: vec![],
        start: None,
        orders: vec![],
        payments: payment_steps(Cents(total), &input.shop),
    }
}

proptest! {
    #![proptest_config(tried(40))]

    #[test]
    fn a_change_costs_the_difference_and_money_adds_up(
        was in (0u32..12, 0u32..900, 0u32..30),
        is in (0u32..12, 0u32..900, 0u32..30),
        paid in 0u32..9000,
        // What was printed may differ from what the engine makes of it.
        printed in -5000i64..5000,
        crew in 1u32..5,
    ) {
        let signed = input(was.0, was.1, was.2, 0);
        let mut now = input(is.0, is.1, is.2, paid);
        let agreed = agreed(&signed, printed);
        let plain = priced(&now).unwrap().minus(priced(&signed).unwrap());
        // How many come, and when, is the shop's own affair.
        now.job.plan.crew = Some(crew);
        now.job.plan.start = Some(jiff::civil::date(2026, 6, 16));
        let order = change_order(&signed, &now, &agreed);
        prop_assert_eq!(order.change, plain);
        prop_assert_eq!(order.is_empty(), was == is);
        prop_assert_eq!(order.after.total, agreed.total + order.change.0);
        prop_assert_eq!(order.received.plus(order.due()), order.after.total());
        prop_assert_eq!(order.received, Cents(i64::from(paid) * 100));
        let steps: i64 = order.after.payments.iter().map(|step| step.amount).sum();
        prop_assert_eq!(steps, order.after.total);
        prop_assert!(order.after.payments.iter().all(|step| step.amount >= 0));
        let open: i64 = order.open_payments().iter().map(|step| step.amount).sum();
        prop_assert_eq!(open, order.due().0.max(0));
    }

    /// Two orders one after the other cost what one order for both would.
    #[test]
    fn orders_one_after_the_other_cost_what_one_would(
        first in (0u32..12, 0u32..900, 0u32..30),
        second in (0u32..12, 0u32..900, 0u32..30),
    ) {
        let signed = input(0, 0, 0, 0);
        let (one, two) = (input(first.0, first.1, first.2, 0), input(second.0, second.1, second.2, 0));
        let agreed = agreed(&signed, 0);
        let step = change_order(&signed, &one, &agreed);
        let last = change_order(&one, &two, &step.after);
        let whole = change_order(&signed, &two, &agreed);
        prop_assert_eq!(last.after.total, whole.after.total);
    }
}
