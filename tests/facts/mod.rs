//! Check values from outside the project: standards, handbook tables, reference libraries, worked
//! examples. Each file names its sources beside its values.
//!
//! *From memory* marks a source whose text was not at hand; the arithmetic was done again by hand.
//! *Repeated in secondary sources* marks a figure of a standard that was read elsewhere.

mod units;
mod moisture;
mod film;
mod laid;
mod kits;
mod dew_point;
mod cure;
mod ventilation;
mod voc;
mod record;
mod money;
mod pricing;
mod contrast;
mod spaces;
mod take_off;
pub mod example;

/// Demands that a value lies within `tolerance` of what a source prints.
#[track_caller]
pub fn near(found: f64, printed: f64, tolerance: f64) {
    assert!(
        (found - printed).abs() <= tolerance,
        "found {found}, the source has {printed} within {tolerance}"
    );
}

/// Demands that a value lies within a share of what a source prints.
#[track_caller]
pub fn near_share(found: f64, printed: f64, share: f64) {
    near(found, printed, printed.abs() * share);
}

/// An exact decimal from its digits.
#[track_caller]
pub fn decimal(digits: &str) -> rust_decimal::Decimal {
    digits.parse().expect("the digits of a decimal")
}

/// An amount of money from its digits.
#[track_caller]
pub fn cents(digits: &str) -> slableaf::base::money::Cents {
    let amount = decimal(digits);
    let cents = slableaf::base::money::Cents::round(amount);
    assert_eq!(cents.decimal(), amount, "{digits} has parts of a cent");
    cents
}
