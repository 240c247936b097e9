//! Decisions of a customer beside the floor: how it looks, what is added to it, what else is done,
//! what comes off the price, and what was paid.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::source::{Located, Span};
use crate::model::job::Job;

impl Job {
    /// The job without what was agreed beside the floor, which comes once and not again with a later floor.
    pub fn floor_alone(&self) -> Self {
        Self { items: vec![], additions: vec![], discount: None, ..self.clone() }
    }
}

/// The look of the floor, as far as the customer has chosen it. What is `None` is still open.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Choices {
    /// The color, or the blend of flake.
    pub color: Option<String>,
    pub flake_size: Option<String>,
    /// Texture or grip.
    pub texture: Option<String>,
    pub gloss: Option<String>,
    /// The sample that the customer approved.
    pub sample: Option<ApprovedSample>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ApprovedSample {
    pub on: Date,
    /// The customer's initials.
    pub initials: String,
}

/// The amount that something of its own is sold for, or made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ItemPrice {
    /// The customer's price before tax; its cost is not known.
    Price(Cents),
    /// The shop's cost, to which overhead and margin come.
    Cost(Cents),
    /// A price with its cost.
    Both { price: Cents, cost: Cents },
}

/// Work or a purchase that is no coat: a line of its own in the price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    pub name: String,
    /// `None`: on request, so named and not in the price.
    pub priced: Option<ItemPrice>,
}

/// A thing that the customer may tick when signing.
#[derive(Debug, Clone, PartialEq)]
pub struct Addition {
    pub key: Key,
    pub name: String,
    pub what: AdditionKind,
    /// The floors that it is for; empty for every floor that can have it.
    pub floors: Vec<Located<Key>>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq)]
pub enum AdditionKind {
    /// The coats of a system that belong to this extra.
    Extra(Located<Key>),
    Item(ItemPrice),
}

impl Addition {
    /// True when it may be ticked with a floor, as far as the job says.
    pub fn is_for(&self, floor: &Key) -> bool {
        self.floors.is_empty() || self.floors.iter().any(|named| named.value == *floor)
    }
}

/// Money off the price, after minimum and rounding and before tax.
#[derive(Debug, Clone, PartialEq)]
pub struct Discount {
    pub off: DiscountOff,
    /// The reason that is printed beside it.
    pub reason: String,
    /// The floors that it is for; empty for every floor.
    pub floors: Vec<Located<Key>>,
    pub span: Span,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DiscountOff {
    Amount(Cents),
    /// A share of floor, extras and items together.
    Share(Decimal),
}

impl Discount {
    /// Returns what comes off a price before tax, if it is for this floor.
    pub fn of(&self, price: Cents, floor: &Key) -> Cents {
        if !self.floors.is_empty() && !self.floors.iter().any(|named| named.value == *floor) {
            return Cents::ZERO;
        }
        match self.off {
            DiscountOff::Amount(amount) => amount,
            DiscountOff::Share(share) => price.times(share),
        }
    }
}

/// Money received from the customer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Receipt {
    pub on: Date,
    pub amount: Cents,
    /// For the shop's own books.
    pub note: Option<String>,
}
