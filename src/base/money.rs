//! Money: whole cents, decimal rates, one rounding rule.
//!
//! Rounding is half away from zero (what shops and tax tables call "half up"), once per printed
//! line; totals are sums of rounded lines, so that a page adds up. Decimal arithmetic throughout:
//! binary floats print 1.00 for 1.005.

use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use schemars::JsonSchema;
use serde::{Serialize, Serializer};
use std::fmt;
use std::iter::Sum;

/// The largest amount that the program will hold: ten thousand million, in cents. A garage floor
/// never comes near it, so a larger one is a slip of the pen and sums cannot overflow.
pub const MOST_CENTS: i64 = 1_000_000_000_000;

/// An amount of money in whole cents (hundredths of the job's currency).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash, JsonSchema)]
#[schemars(
    rename = "Money",
    description = "An amount of money in the results' currency, as text with two decimals: \
                   `-1234.50`. Never a binary number, so that no reader rounds it.",
    extend("pattern" = "^-?[0-9]+\\.[0-9]{2}$")
)]
pub struct Cents(#[schemars(with = "String")] pub i64);

impl Serialize for Cents {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl Cents {
    pub const ZERO: Self = Self(0);

    /// Rounds a decimal amount in the currency's main unit, half away from zero. Amounts beyond
    /// [`MOST_CENTS`] stay at that bound.
    pub fn round(amount: Decimal) -> Self {
        Self::with(amount, RoundingStrategy::MidpointAwayFromZero)
    }

    /// Rounds toward zero, for a cap that may not be passed by a part of a cent.
    pub fn round_down(amount: Decimal) -> Self {
        Self::with(amount, RoundingStrategy::ToZero)
    }

    fn with(amount: Decimal, rule: RoundingStrategy) -> Self {
        let cents = amount
            .checked_mul(Decimal::ONE_HUNDRED)
            .map(|cents| cents.round_dp_with_strategy(0, rule))
            .and_then(|cents| cents.to_i64())
            .unwrap_or(if amount.is_sign_negative() { -MOST_CENTS } else { MOST_CENTS });
        Self(cents.clamp(-MOST_CENTS, MOST_CENTS))
    }

    /// The amount in the currency's main unit.
    pub fn decimal(self) -> Decimal {
        Decimal::new(self.0, 2)
    }

    /// This amount times a ratio, rounded once.
    pub fn times(self, ratio: Decimal) -> Self {
        Self::round(self.decimal().checked_mul(ratio).unwrap_or(Decimal::MAX))
    }

    /// This amount times a whole number.
    pub fn each(self, count: u32) -> Self {
        Self(self.0.saturating_mul(i64::from(count)).clamp(-MOST_CENTS, MOST_CENTS))
    }

    pub fn plus(self, other: Self) -> Self {
        Self((self.0 + other.0).clamp(-MOST_CENTS, MOST_CENTS))
    }

    pub fn minus(self, other: Self) -> Self {
        Self((self.0 - other.0).clamp(-MOST_CENTS, MOST_CENTS))
    }

    /// The nearest multiple of `step`, half away from zero. A zero step changes nothing.
    pub fn to_multiple_of(self, step: Self) -> Self {
        if step.0 <= 0 {
            return self;
        }
        let steps = (self.0.abs() + step.0 / 2) / step.0;
        Self(steps * step.0 * self.0.signum())
    }

    /// The next multiple of `step` that is not less than this amount. A zero step changes nothing.
    pub fn up_to_multiple_of(self, step: Self) -> Self {
        if step.0 <= 0 {
            return self;
        }
        Self(
            self.0.div_euclid(step.0) * step.0
                + if self.0.rem_euclid(step.0) == 0 { 0 } else { step.0 },
        )
    }
}

impl Sum for Cents {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Self::plus)
    }
}

/// A plain decimal, as in JSON: `-1234.50`.
impl fmt::Display for Cents {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        write!(f, "{sign}{}.{:02}", self.0.abs() / 100, self.0.abs() % 100)
    }
}

/// The price that leaves `margin` (a share of the price) over `cost`: `cost / (1 - margin)`.
/// `None` when the margin is 1 or more, where no price would do.
pub fn price_from_margin(cost: Cents, margin: Decimal) -> Option<Cents> {
    let left = Decimal::ONE.checked_sub(margin)?;
    if left <= Decimal::ZERO {
        return None;
    }
    Some(Cents::round(cost.decimal().checked_div(left)?))
}

/// Tax on an amount, rounded half up at the cent. Streamlined Sales Tax states carry the third
/// decimal and round up when it is greater than 4 (R.I. Gen. Laws 44-18.1-25, Kan. Stat. 79-3676).
pub fn tax(amount: Cents, rate: Decimal) -> Cents {
    amount.times(rate)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dec(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    /// Ties of ordinary decimal rounding, computed by hand; binary floats fail the last two.
    #[test]
    fn rounds_half_away_from_zero_in_decimal() {
        for (amount, cents) in
            [("2.345", 235), ("0.125", 13), ("-2.345", -235), ("1.005", 101), ("2.675", 268)]
        {
            assert_eq!(Cents::round(dec(amount)), Cents(cents), "{amount}");
        }
        assert_eq!(Cents::round_down(dec("999.999")), Cents(99999));
    }

    #[test]
    fn steps_up_to_a_multiple() {
        assert_eq!(Cents(10001).up_to_multiple_of(Cents(500)), Cents(10500));
        assert_eq!(Cents(10000).up_to_multiple_of(Cents(500)), Cents(10000));
        assert_eq!(Cents(123).up_to_multiple_of(Cents::ZERO), Cents(123));
    }

    #[test]
    fn cents_are_written_as_a_plain_decimal() {
        for (cents, written) in
            [(0, "0.00"), (5, "0.05"), (-5, "-0.05"), (123_450, "1234.50"), (-123_450, "-1234.50")]
        {
            assert_eq!(Cents(cents).to_string(), written);
        }
    }

    #[test]
    fn an_amount_past_the_bound_stays_at_it() {
        assert_eq!(Cents::round(Decimal::MAX), Cents(MOST_CENTS));
        assert_eq!(Cents::round(Decimal::MIN), Cents(-MOST_CENTS));
    }
}
