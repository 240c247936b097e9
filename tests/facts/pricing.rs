//! From cost to price, payments and their caps, and the chance at which a dearer floor pays.

use super::{cents, decimal, example, near};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use slableaf::base::money::{Cents, MOST_CENTS, price_from_margin};
use slableaf::model::shop::{Limits, PaymentStep};
use slableaf::price::case::case;
use slableaf::price::estimate::price::{deposit, payments, price};
use slableaf::price::even_chance::{Chance, chance};

/// `price = cost / (1 - margin)`: worked examples of business arithmetic; the last two by hand.
/// `cost x (1 + margin)` is the usual mistake, and always too low.
#[track_caller]
fn priced(cost: &str, margin_percent: &str, printed: &str, mistake: &str) {
    let margin = decimal(margin_percent) / decimal("100");
    assert_eq!(price_from_margin(cents(cost), margin), Some(cents(printed)));
    let markup = cents(cost).times(Decimal::ONE + margin);
    assert_eq!(markup, cents(mistake));
    assert!(markup < cents(printed));
}

#[test]
fn a_margin_is_a_share_of_the_price() {
    priced("75.00", "25", "100.00", "93.75");
    priced("100.00", "20", "125.00", "120.00");
    priced("205.00", "31.667", "300.00", "269.92");
    priced("600.00", "25", "800.00", "750.00");
    priced("3260.40", "35", "5016.00", "4401.54");
    priced("2875.00", "45", "5227.27", "4168.75");
}

/// `markup = margin / (1 - margin)`, in percent to two places: computed by hand.
#[track_caller]
fn markup(margin: &str, printed: f64) {
    let cost = cents("100000.00");
    let price = price_from_margin(cost, decimal(margin) / decimal("100")).expect("a price");
    near((price.0 - cost.0) as f64 / cost.0 as f64 * 100.0, printed, 0.005);
}

#[test]
fn a_markup_is_a_share_of_the_cost() {
    markup("10", 11.11);
    markup("15", 17.65);
    markup("20", 25.0);
    markup("25", 33.33);
    markup("30", 42.86);
    markup("31.667", 46.341);
    markup("33.333333333333", 50.0);
    markup("35", 53.846);
    markup("40", 66.67);
    markup("45", 81.818);
    markup("50", 100.0);
    markup("60", 150.0);
}

#[test]
fn no_price_leaves_a_margin_of_all_of_it() {
    for margin in ["1", "1.2"] {
        assert_eq!(price_from_margin(cents("100.00"), decimal(margin)), None);
    }
}

/// The example's terms are a margin of 38 %, a minimum of $1,800 and steps of $5: by hand.
#[track_caller]
fn on_the_examples_terms(cost: &str, wanted: &str, asked: &str) {
    let terms = super::example::input().book.terms;
    assert_eq!(price(cents(cost), &terms), (cents(wanted), cents(asked)));
}

#[test]
fn a_price_is_stepped_up_and_not_below_the_minimum() {
    on_the_examples_terms("3100.00", "5000.00", "5000.00");
    on_the_examples_terms("3100.01", "5000.02", "5005.00");
    on_the_examples_terms("620.00", "1000.00", "1800.00");
}

fn steps(percents: &[&str]) -> Vec<PaymentStep> {
    let step = |percent: &&str| PaymentStep {
        when: String::new(),
        share: decimal(percent) / decimal("100"),
    };
    percents.iter().map(step).collect()
}

/// Payments that must add up to the total to the cent: computed by hand. Rounding each one of
/// 4387.35 in 10, 40 and 50 % would be a cent over.
#[track_caller]
fn split(total: &str, percents: &[&str], printed: &[&str]) {
    let found = payments(cents(total), &steps(percents), &Limits::default());
    let amounts: Vec<Cents> = found.iter().map(|payment| payment.amount).collect();
    assert_eq!(amounts, printed.iter().map(|amount| cents(amount)).collect::<Vec<_>>());
    assert_eq!(amounts.into_iter().sum::<Cents>(), cents(total));
}

#[test]
fn the_last_payment_takes_the_rest() {
    // The deposit rounds down, since a cap may stand over it; half up it would be 438.74.
    split("4387.35", &["10", "40", "50"], &["438.73", "1754.94", "2193.68"]);
    split("1000.00", &["33.333333", "33.333333", "33.333334"], &["333.33", "333.33", "333.34"]);
    split("0.01", &["50", "50"], &["0.00", "0.01"]);
}

/// A deposit of half the price under a state's cap.
#[track_caller]
fn capped(total: &str, share: Option<Decimal>, most: Option<&str>, printed: &str) {
    let limits = Limits {
        voc: None,
        deposit_share: share,
        deposit_most: most.map(cents),
        deposit_sign: None,
        ..Limits::default()
    };
    assert_eq!(deposit(cents(total), decimal("0.5"), &limits), cents(printed));
}

/// Cal. Bus. & Prof. Code 7159.5(a)(3): at most $1,000 or 10 %, whichever is less. A cap rounds down.
#[test]
fn a_deposit_stays_under_the_cap_of_california() {
    let capped = |total, printed| capped(total, Some(decimal("0.1")), Some("1000.00"), printed);
    capped("4500.00", "450.00");
    capped("9999.99", "999.99");
    capped("10000.00", "1000.00");
    capped("15000.00", "1000.00");
}

/// Md. Code, Bus. Reg. 8-617: at most one third. A third has no finite decimal, so that a deposit
/// may be a cent below it ($1,499.99 of $4,500), and is never above.
#[test]
fn a_deposit_stays_under_the_cap_of_maryland() {
    let third = Decimal::ONE / decimal("3");
    capped("10000.00", Some(third), None, "3333.33");
    let limits = Limits { deposit_share: Some(third), ..Limits::default() };
    let found = deposit(cents("4500.00"), decimal("0.5"), &limits);
    assert!(found == cents("1500.00") || found == cents("1499.99"), "{found}");
}

/// The cost-loss model: protect when the chance is above `C / L`.
#[track_caller]
fn even(extra: &str, redo: &str, printed: f64) {
    let Chance::Even(share) = chance(cents(extra), cents(redo)) else { panic!("no chance") };
    near(share.to_f64().unwrap(), printed, 0.000_005);
}

#[test]
fn the_even_chance_is_that_of_the_cost_loss_model() {
    // A decision-analysis textbook exercise.
    even("200.00", "1000.00", 0.2);
    // Computed by hand.
    even("600.00", "3800.00", 0.157_89);
    even("450.00", "3000.00", 0.15);
    even("900.00", "5200.00", 0.173_08);
}

/// Chances of failure without and with the barrier, and the expected costs of both by hand. Buying
/// is right by them exactly when it is right by the even chance.
#[track_caller]
fn expected(extra: &str, redo: &str, without: f64, with: f64, costs: (f64, f64), buy: bool) {
    let (x, l) =
        (cents(extra).decimal().to_f64().unwrap(), cents(redo).decimal().to_f64().unwrap());
    near(without * l, costs.0, 0.005);
    near(x + with * l, costs.1, 0.005);
    let Chance::Even(share) = chance(cents(extra), cents(redo)) else { panic!("no chance") };
    assert_eq!(without - with > share.to_f64().unwrap(), buy);
    assert_eq!(costs.1 < costs.0, buy);
}

#[test]
fn the_even_chance_agrees_with_expected_costs() {
    // The textbook's own: a chance of 0.25 is above 0.2, so act.
    expected("200.00", "1000.00", 0.25, 0.0, (250.0, 200.0), true);
    expected("600.00", "3800.00", 0.25, 0.03, (950.0, 714.0), true);
    expected("450.00", "3000.00", 0.10, 0.02, (300.0, 510.0), false);
    expected("900.00", "5200.00", 0.30, 0.10, (1560.0, 1420.0), true);
}

#[test]
fn a_chance_is_told_as_so_many_of_a_hundred() {
    assert_eq!(chance(cents("600.00"), cents("3800.00")).in_hundred(), Some(16));
    assert_eq!(chance(cents("450.00"), cents("3000.00")).in_hundred(), Some(15));
    assert_eq!(chance(cents("200.00"), cents("1000.00")).in_hundred(), Some(20));
}

#[test]
fn a_floor_that_costs_no_more_or_as_much_as_a_redo_has_no_even_chance() {
    assert_eq!(chance(cents("0.00"), cents("3800.00")), Chance::NothingToWeigh);
    assert_eq!(chance(cents("-50.00"), cents("3800.00")), Chance::NothingToWeigh);
    assert_eq!(chance(cents("3800.00"), cents("3800.00")), Chance::Never);
    assert_eq!(chance(cents("50.00"), cents("0.00")), Chance::Never);
}

/// A decimal has 28 digits: what does not fit is no price, not a wrong one.
#[test]
fn a_price_that_cannot_be_held_is_none() {
    assert_eq!(price_from_margin(cents("100.00"), Decimal::MIN), None);
    let nearly_all = Decimal::ONE - Decimal::new(1, 28);
    assert_eq!(price_from_margin(Cents(MOST_CENTS), nearly_all), None);
}

/// The figures that a shop reads of a price follow from its lines: hours are their sum, and what is left over
/// cost is spread over the days on site. By the definitions of both.
#[test]
fn hours_and_what_is_left_a_day_follow_from_the_lines() {
    let input = example::read(example::JOB, example::BOOK, example::SHOP);
    let case = case(&input);
    assert!(case.options.iter().any(|option| option.estimate.schedule.days > 1));
    for option in &case.options {
        let estimate = &option.estimate;
        let hours: f64 = estimate.labor.iter().map(|line| line.hours.to_f64().unwrap()).sum();
        near(estimate.hours().to_f64().unwrap(), hours, 1e-9);
        let days = f64::from(estimate.schedule.days);
        let left = (estimate.price.0 - estimate.cost.0) as f64;
        near(estimate.profit_per_day().0 as f64, left / days, 0.5);
    }
}
