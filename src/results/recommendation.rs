//! The recommendation and how it came about, the break-even chance, and the payments.

use rust_decimal::prelude::ToPrimitive;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Share, rounded};
use crate::judge::recommend::{self, Headline, StepTaken};
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::price::estimate::price::{self, Payment};
use crate::price::even_chance;
use crate::price::failure_rate::rate;

/// The floor that comes first, and the steps of the rule that led to it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Recommendation {
    /// The floor that is recommended; null when none may be signed for.
    pub recommended: Option<Key>,
    /// The floor that comes first, though it may wait; null when nothing may be offered yet.
    pub first: Option<Key>,
    /// The kind of sentence that page one opens with.
    pub headline: Headline,
    /// Floors that may be signed for, in the order of the offer.
    pub offered: Vec<Key>,
    /// Floors that wait for a test or for their maker's word, in the order of the offer.
    pub waiting: Vec<Key>,
    /// The steps of the rule that were taken, in their order.
    pub steps: Vec<StepTaken>,
}

impl Recommendation {
    /// None of the whole job: each space has its own.
    pub fn none() -> Self {
        let (offered, waiting, steps) = Default::default();
        Self { recommended: None, first: None, headline: Headline::NotYet, offered, waiting, steps }
    }
}

impl From<&recommend::Recommendation> for Recommendation {
    fn from(r: &recommend::Recommendation) -> Self {
        Self {
            recommended: r.recommended().cloned(),
            first: r.floor.clone(),
            headline: r.headline,
            offered: r.offered(),
            waiting: r.priced().into_iter().filter(|key| r.waits(key)).collect(),
            steps: r.steps.clone(),
        }
    }
}

/// By how much a floor with a barrier has to cut the chance of a moisture failure to pay for itself
/// beside one without.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EvenChance {
    /// The floor without a barrier.
    pub plain: Key,
    /// The floor with one.
    pub barrier: Key,
    /// Extra price of the barrier floor; zero or negative if it is not dearer.
    pub extra: Cents,
    /// The price of grinding a failed floor off, mending the slab and laying the barrier floor, to ten of
    /// the currency's main unit.
    pub redo: Cents,
    /// The chance that follows from both.
    pub chance: ChanceAnswer,
    /// The shop's own record of the plain floor; null without one.
    pub record: Option<FailureRecord>,
}

/// Floors of one system that the shop has laid, and how many came loose from moisture.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FailureRecord {
    /// Floors laid.
    pub jobs: u32,
    /// Of those, floors that came loose from moisture.
    pub failures: u32,
    /// The first year that is counted.
    pub since: u32,
    /// The least true rate that such a record fits, a share (Clopper and Pearson, 95 %, two-sided).
    pub from_share: Share,
    /// The highest.
    pub to_share: Share,
}

impl FailureRecord {
    fn of(w: &Writer<'_>, floor: &Key) -> Option<Self> {
        let record = w.case.shop.records.iter().find(|record| record.system.value == *floor)?;
        let rate = rate(record.failures, record.jobs)?;
        Some(Self {
            jobs: record.jobs,
            failures: record.failures,
            since: record.since,
            from_share: rate.from,
            to_share: rate.to,
        })
    }
}

/// The chance that follows from the extra price and the price of a redo.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(tag = "answer", rename_all = "kebab-case")]
pub enum ChanceAnswer {
    /// The barrier floor costs no more.
    NothingToWeigh,
    /// The barrier floor pays for itself when it cuts the chance of a failure by more than this.
    Even {
        /// The chance without the barrier less that with it, a share from 0 to 1.
        chance_share: f64,
    },
    /// The extra price is as high as a redo: it never pays for itself.
    Never,
}

impl EvenChance {
    /// Every pair among the floors that have a price.
    pub fn all(w: &Writer<'_>) -> Vec<Self> {
        let pairs = even_chance::even_chances(w.case, &w.priced());
        let pair = |even: &even_chance::EvenChance| Self {
            plain: even.plain.clone(),
            barrier: even.barrier.clone(),
            extra: even.extra,
            redo: even.redo.total(),
            chance: match even.chance {
                even_chance::Chance::NothingToWeigh => ChanceAnswer::NothingToWeigh,
                even_chance::Chance::Even(share) => {
                    ChanceAnswer::Even { chance_share: rounded(share.to_f64().unwrap_or_default()) }
                }
                even_chance::Chance::Never => ChanceAnswer::Never,
            },
            record: FailureRecord::of(w, &even.plain),
        };
        pairs.iter().map(pair).collect()
    }
}

/// The payments of the recommended floor, which sum to its total; none when nothing may be offered.
pub fn payments(w: &Writer<'_>) -> Vec<Payment> {
    let shop = w.case.shop;
    let of_it = |option: &FloorOption<'_>| {
        price::payments(option.quote.total, &shop.payments, &shop.limits)
    };
    w.recommended().map(of_it).unwrap_or_default()
}
