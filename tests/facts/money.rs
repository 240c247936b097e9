//! Rounding, and tax as the Streamlined Sales Tax states reckon it.

use super::{cents, decimal};
use slableaf::base::money::*;

/// Ties of decimal rounding half away from zero, computed by hand. Binary floats give 1.00 for
/// 1.005 and 2.67 for 2.675; rounding half to even gives 2.34, 0.12 and 1.00 for the first three.
#[track_caller]
fn rounds(amount: &str, printed: &str) {
    assert_eq!(Cents::round(decimal(amount)), cents(printed), "{amount}");
}

#[test]
fn money_rounds_half_away_from_zero_in_decimal() {
    rounds("2.345", "2.35");
    rounds("0.125", "0.13");
    rounds("1.005", "1.01");
    rounds("2.675", "2.68");
    rounds("-2.345", "-2.35");
    rounds("2.344999", "2.34");
}

/// R.I. Gen. Laws 44-18.1-25 and Kan. Stat. 79-3676: carry the tax to the third decimal, round up
/// when it is greater than 4. Taxes computed by hand.
#[track_caller]
fn taxed(amount: &str, percent: &str, printed: &str) {
    let rate = decimal(percent) / decimal("100");
    assert_eq!(tax(cents(amount), rate), cents(printed), "{amount} at {percent} %");
}

#[test]
fn tax_rounds_as_ri_gen_laws_44_18_1_25_says() {
    taxed("1234.56", "8.25", "101.85");
    taxed("999.95", "9.5", "95.00");
    taxed("3.50", "4.5", "0.16");
    taxed("0.07", "7", "0.00");
    taxed("191.55", "7.25", "13.89");
    taxed("24.43", "7.25", "1.77");
}

/// The same statutes let a seller reckon by item or by invoice. By hand, the two differ by a cent:
/// the program taxes the whole.
#[track_caller]
fn by_item(amounts: &[&str], percent: &str, items: &str, invoice: &str) {
    let rate = decimal(percent) / decimal("100");
    let amounts: Vec<Cents> = amounts.iter().map(|amount| cents(amount)).collect();
    assert_eq!(amounts.iter().map(|amount| tax(*amount, rate)).sum::<Cents>(), cents(items));
    assert_eq!(tax(amounts.into_iter().sum(), rate), cents(invoice));
}

#[test]
fn tax_by_item_is_not_tax_by_invoice() {
    by_item(&["12.34", "45.67", "8.99", "101.45", "23.10"], "7.25", "13.88", "13.89");
    by_item(&["3.49"; 7], "7.25", "1.75", "1.77");
}
