//! Changes of prices that a book announces: of what, by how much, from which day.
//!
//! A change is for jobs whose paper is dated on its first day or later. Changes are made in the
//! order of their days, those of one day in the order of the file, in exact decimals; a price is
//! rounded to the cent once, when all of them are made, half away from zero.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::base::money::{Cents, MOST_CENTS};
use crate::base::names::Key;
use crate::base::source::Span;
use crate::model::book::{Book, Product};

/// One change of prices.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceChange {
    /// The first day of papers that it is for.
    pub from: Date,
    pub of: PriceScope,
    pub by: PriceStep,
    /// Place in its file, for problems that are found later.
    pub span: Span,
}

/// Whose prices change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PriceScope {
    All,
    Product(Key),
    Supplier(String),
}

/// By how much the price of a kit changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PriceStep {
    /// A share of the price as it is by then: +4.5 % is 0.045.
    Share(Decimal),
    /// Money on every kit, whatever its size.
    PerKit(Decimal),
}

/// The reason for which a change cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    BelowZero,
    TooLarge,
}

impl PriceScope {
    pub fn takes(&self, product: &Product) -> bool {
        match self {
            Self::All => true,
            Self::Product(key) => product.key == *key,
            Self::Supplier(name) => product.supplier == *name,
        }
    }
}

impl PriceStep {
    /// The price after the change, exactly.
    ///
    /// # Errors
    /// A price below zero, or one that is no price of anything.
    pub fn change(self, price: Decimal) -> Result<Decimal, Refused> {
        let changed = match self {
            Self::Share(share) => price.checked_mul(Decimal::ONE + share),
            Self::PerKit(amount) => price.checked_add(amount),
        };
        match changed {
            Some(changed) if changed < Decimal::ZERO => Err(Refused::BelowZero),
            Some(changed) if changed <= Cents(MOST_CENTS / 1000).decimal() => Ok(changed),
            _ => Err(Refused::TooLarge),
        }
    }
}

/// Changes in the order in which they are made.
pub fn in_order(changes: &[PriceChange]) -> Vec<&PriceChange> {
    let mut order: Vec<&PriceChange> = changes.iter().collect();
    order.sort_by_key(|change| change.from);
    order
}

/// A kit's price after changes, rounded once.
///
/// # Errors
/// The first of the changes that cannot be made, and why.
pub fn changed_price<'c>(
    price: Cents,
    changes: impl IntoIterator<Item = &'c PriceChange>,
) -> Result<Cents, (&'c PriceChange, Refused)> {
    let mut exact = price.decimal();
    for change in changes {
        exact = change.by.change(exact).map_err(|why| (change, why))?;
    }
    Ok(Cents::round(exact))
}

impl Book {
    /// Works every change that is due on a day into the prices and drops it from the list, so
    /// that none is made twice.
    pub fn settle(&mut self, day: Date) {
        if self.changes.iter().all(|change| change.from > day) {
            return;
        }
        let (due, later) = std::mem::take(&mut self.changes)
            .into_iter()
            .partition(|change: &PriceChange| change.from <= day);
        self.changes = later;
        let order = in_order(&due);
        for product in &mut self.products {
            let of_it: Vec<&PriceChange> =
                order.iter().filter(|change| change.of.takes(product)).copied().collect();
            if of_it.is_empty() {
                continue;
            }
            // A change that cannot be made was refused when the book was read.
            product.stuff.reprice_kits(|_, price| {
                changed_price(price, of_it.iter().copied()).unwrap_or(price)
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(from: Date, by: PriceStep) -> PriceChange {
        PriceChange { from, of: PriceScope::All, by, span: Span::default() }
    }

    fn share(text: &str) -> PriceStep {
        PriceStep::Share(text.parse().unwrap())
    }

    /// By hand: 276.00 x 1.045 = 288.42; 198.00 x 1.045 x 1.03 = 213.1173; and 0.79 x 1.045 x 1.045
    /// = 0.86269975, while rounding after each change would give 0.83 and then 0.87.
    #[test]
    fn changes_are_made_exactly_and_rounded_once() {
        let day = Date::constant(2027, 1, 1);
        let (one, two) = (change(day, share("0.045")), change(day, share("0.03")));
        assert_eq!(changed_price(Cents(27600), [&one]).unwrap(), Cents(28842));
        assert_eq!(changed_price(Cents(19800), [&one, &two]).unwrap(), Cents(21312));
        assert_eq!(changed_price(Cents(79), [&one, &one]).unwrap(), Cents(86));
    }

    #[test]
    fn half_a_cent_goes_up() {
        // 0.50 x 1.05 = 0.525.
        let up = change(Date::constant(2027, 1, 1), share("0.05"));
        assert_eq!(changed_price(Cents(50), [&up]).unwrap(), Cents(53));
    }

    #[test]
    fn a_price_never_falls_below_zero() {
        let down = change(Date::constant(2027, 1, 1), PriceStep::PerKit("-3.00".parse().unwrap()));
        assert_eq!(changed_price(Cents(300), [&down]).unwrap(), Cents::ZERO);
        assert_eq!(changed_price(Cents(299), [&down]).unwrap_err().1, Refused::BelowZero);
    }
}
