//! The chance of a moisture failure at which the dearer, more tolerant floor pays for itself.
//!
//! The cost-loss rule of decision analysis: protect when `p > C / L`, where C is what protection
//! costs and L the loss that it prevents. No odds are invented: the figure comes from prices
//! alone, and the reader judges.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::estimate::{self, Given};
use crate::input::scalar::Key;
use crate::money::Cents;
use crate::options::{Case, Choice};

/// One pair of floors that differ in what moisture they carry.
#[derive(Debug, Clone, PartialEq)]
pub struct EvenChance {
    /// The floor without a barrier.
    pub plain: Key,
    /// The floor with one.
    pub barrier: Key,
    /// What the barrier floor costs more; zero or less when it does not.
    pub extra: Cents,
    /// What a redo would cost: the failed floor ground off, the barrier floor laid.
    pub redo: Cents,
    pub chance: Chance,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Chance {
    /// The barrier floor costs no more: there is nothing to weigh.
    NothingToWeigh,
    /// It pays for itself when the chance is above this share.
    Even(Decimal),
    /// The extra price is as high as a redo: it never pays for itself.
    Never,
}

impl Chance {
    /// The chance out of a hundred, for chances so high that `1 in N` would round too much.
    pub fn in_hundred(self) -> Option<u32> {
        match self {
            Self::Even(share) if share > Decimal::new(2, 1) => (share * Decimal::ONE_HUNDRED)
                .round_dp_with_strategy(0, rust_decimal::RoundingStrategy::MidpointAwayFromZero)
                .to_u32(),
            _ => None,
        }
    }

    /// The chance as `1 in N`, N rounded to the nearest whole number.
    pub fn one_in(self) -> Option<u32> {
        match self {
            Self::Even(share) if share > Decimal::ZERO => Decimal::ONE
                .checked_div(share)?
                .round_dp_with_strategy(0, rust_decimal::RoundingStrategy::MidpointAwayFromZero)
                .to_u32(),
            _ => None,
        }
    }
}

/// Extra price over the price of a redo.
pub fn chance(extra: Cents, redo: Cents) -> Chance {
    if extra <= Cents::ZERO {
        return Chance::NothingToWeigh;
    }
    match extra.decimal().checked_div(redo.decimal()) {
        Some(share) if share < Decimal::ONE => Chance::Even(share),
        _ => Chance::Never,
    }
}

/// Every pair of a high-build floor without a barrier and one with, among the given floors.
pub fn even_chances(case: &Case<'_>, offered: &[&Choice<'_>]) -> Vec<EvenChance> {
    let mut pairs = vec![];
    // A thin floor differs in film and years as well, which moisture alone does not weigh.
    let plain = |choice: &&&Choice<'_>| !choice.floor.has_barrier() && !choice.floor.is_thin();
    for plain in offered.iter().filter(plain) {
        for barrier in offered.iter().filter(|choice| choice.floor.has_barrier()) {
            let extra = barrier.quote.total.minus(plain.quote.total);
            let redo = redo(case, barrier);
            pairs.push(EvenChance {
                plain: plain.key().clone(),
                barrier: barrier.key().clone(),
                extra,
                redo,
                chance: chance(extra, redo),
            });
        }
    }
    pairs
}

/// The price of grinding a failed floor off and laying the barrier floor, by the same estimate.
fn redo(case: &Case<'_>, barrier: &Choice<'_>) -> Cents {
    let given = Given {
        job: case.job,
        site: &case.site,
        book: case.book,
        calendar: &case.shop.calendar,
        old_coating: true,
    };
    estimate::estimate(&barrier.floor, given).total()
}
