//! By how much a dearer, more tolerant floor has to cut the chance of a moisture failure to pay for
//! itself.
//!
//! The cost-loss rule of decision analysis, with a protection that is not perfect: a floor without a
//! barrier fails with chance `p0`, one with a barrier with chance `p1`. The barrier pays when
//! `(p0 - p1) x L > C`, where C is what it costs more and L what doing the floor over costs. So the
//! figure is a difference of two chances. No odds are invented: it comes from prices alone, and the
//! reader judges.
//!
//! L is the price of a whole floor done over: the failed floor ground off at its own rate and cost
//! (`strip`), the slab mended, the barrier floor laid, by the same estimate and terms. Most failures
//! take a part of a floor (common practice, no published source), so that L is the most that is lost,
//! and the paper says so.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::price::case::{Case, FloorOption};
use crate::price::estimate::labor::Substrate;
use crate::price::estimate::{self, EstimateInput};

/// One pair of floors that differ in what moisture they carry.
#[derive(Debug, Clone, PartialEq)]
pub struct EvenChance {
    /// The floor without a barrier.
    pub plain: Key,
    /// The floor with one.
    pub barrier: Key,
    /// Extra cost of the barrier floor; zero or less when it is not dearer.
    pub extra: Cents,
    pub redo: Redo,
    pub chance: Chance,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Chance {
    /// The barrier floor costs no more: there is nothing to weigh.
    NothingToWeigh,
    /// It pays for itself when it cuts the chance by more than this share.
    Even(Decimal),
    /// The extra price is as high as a redo: it never pays for itself.
    Never,
}

/// The price of doing a floor over, in parts that sum to the whole as printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Redo {
    /// The barrier floor on bare concrete, with the repairs of this slab.
    pub floor: Cents,
    /// Cost of grinding off a failed floor.
    pub strip: Cents,
}

impl Redo {
    pub fn total(&self) -> Cents {
        self.floor.plus(self.strip)
    }
}

/// A price of a day that may never come is not told to the cent: ten of the currency's main unit.
pub const STEP: Cents = Cents(1000);

impl Chance {
    /// The chance out of a hundred, to the nearest whole number. `Some(0)` is less than a half.
    pub fn in_hundred(self) -> Option<u32> {
        match self {
            Self::Even(share) => (share * Decimal::ONE_HUNDRED)
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
pub fn even_chances(case: &Case<'_>, offered: &[&FloorOption<'_>]) -> Vec<EvenChance> {
    let mut pairs = vec![];
    // A thin floor differs in film and years as well, which moisture alone does not weigh.
    let plain = |option: &&&FloorOption<'_>| !option.floor.has_barrier() && !option.floor.is_thin();
    for plain in offered.iter().filter(plain) {
        for barrier in offered.iter().filter(|option| option.floor.has_barrier()) {
            let extra = barrier.quote.total.minus(plain.quote.total);
            let redo = redo(case, barrier);
            pairs.push(EvenChance {
                plain: plain.key().clone(),
                barrier: barrier.key().clone(),
                extra,
                redo,
                chance: chance(extra, redo.total()),
            });
        }
    }
    pairs
}

/// The price of a floor done over, each part to the step.
pub fn redo(case: &Case<'_>, barrier: &FloorOption<'_>) -> Redo {
    let job = case.job.floor_alone();
    let on = EstimateInput::new(&job, &case.site, case.book, &case.shop.calendar);
    let floor = estimate::estimate_over(&barrier.floor, on, Substrate::Concrete).total();
    let whole = estimate::estimate_over(&barrier.floor, on, Substrate::FailedFloor).total();
    let floor = floor.to_multiple_of(STEP);
    Redo { floor, strip: whole.to_multiple_of(STEP).minus(floor) }
}
