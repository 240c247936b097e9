//! What is recommended and how that came about, the break-even chance, and the payments.

use rust_decimal::prelude::ToPrimitive;
use schemars::JsonSchema;
use serde::Serialize;

use crate::estimate::price;
use crate::even_chance;
use crate::input::scalar::Key;
use crate::job;
use crate::proposal::writer::Writer;
use crate::recommend;
use crate::record::rate;
use crate::results::values::{Money, rounded, texts};

/// The floor that is recommended, and the steps of the rule that led to it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Recommendation {
    /// The floor that is recommended; null when nothing may be offered yet.
    pub recommended: Option<String>,
    /// Floors without a stop, in the order of the offer.
    pub offered: Vec<String>,
    /// The steps of the rule that changed something, in their order.
    pub steps: Vec<Step>,
}

/// One step of the rule.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(tag = "step", rename_all = "kebab-case")]
pub enum Step {
    /// Floors with a stop are not offered.
    NotOffered {
        /// These floors.
        floors: Vec<String>,
    },
    /// No floor is left: nothing may be offered yet.
    NothingLeft,
    /// Only one floor is left.
    OnlyOne {
        /// That floor.
        floor: String,
    },
    /// Floors that the highest reading cannot be told from their limit are set aside while another
    /// is clear of its own.
    SetAside {
        /// These floors.
        floors: Vec<String>,
    },
    /// A wish of the customer decided between floors.
    Wish {
        /// The wish.
        wish: Wish,
        /// The floors that meet it best; the others fell behind.
        floors: Vec<String>,
    },
    /// A wish on which all that were left are alike.
    WishAlike {
        /// The wish.
        wish: Wish,
    },
    /// The floors with the fewest cautions.
    FewerCautions {
        /// These floors.
        floors: Vec<String>,
    },
    /// The floor with the lowest price.
    LowerPrice {
        /// That floor.
        floor: String,
    },
    /// All else alike: the floor that the job names first.
    FirstNamed {
        /// That floor.
        floor: String,
    },
}

/// What a customer cares about, in the words of the job file.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(extend("enum" = wishes()))]
pub struct Wish(&'static str);

fn wishes() -> Vec<&'static str> {
    job::Wish::WORDS.iter().map(|(word, _)| *word).collect()
}

impl From<&recommend::Recommendation> for Recommendation {
    fn from(r: &recommend::Recommendation) -> Self {
        Self {
            recommended: r.floor.as_ref().map(|key| key.0.clone()),
            offered: texts(&r.offered),
            steps: r.steps.iter().map(Step::from).collect(),
        }
    }
}

impl From<&recommend::Step> for Step {
    fn from(step: &recommend::Step) -> Self {
        use recommend::Step as Rule;
        let wish = |wish: &job::Wish| Wish(wish.word());
        match step {
            Rule::NotOffered(floors) => Self::NotOffered { floors: texts(floors) },
            Rule::NothingLeft => Self::NothingLeft,
            Rule::OnlyOne(floor) => Self::OnlyOne { floor: floor.0.clone() },
            Rule::SetAside(floors) => Self::SetAside { floors: texts(floors) },
            Rule::Wish(wanted, floors) => Self::Wish { wish: wish(wanted), floors: texts(floors) },
            Rule::WishAlike(wanted) => Self::WishAlike { wish: wish(wanted) },
            Rule::FewerCautions(floors) => Self::FewerCautions { floors: texts(floors) },
            Rule::LowerPrice(floor) => Self::LowerPrice { floor: floor.0.clone() },
            Rule::FirstNamed(floor) => Self::FirstNamed { floor: floor.0.clone() },
        }
    }
}

/// By how much a floor with a barrier has to cut the chance of a moisture failure to pay for itself
/// beside one without.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EvenChance {
    /// The floor without a barrier.
    pub plain: String,
    /// The floor with one.
    pub barrier: String,
    /// What the barrier floor's total is higher; zero or negative when it is not.
    pub extra: Money,
    /// The price of grinding a failed floor off, mending the slab and laying the barrier floor, to ten of
    /// the currency's main unit.
    pub redo: Money,
    /// What follows.
    pub chance: Chance,
    /// The shop's own record of the plain floor; null without one.
    pub record: Option<Record>,
}

/// Floors of one system that the shop has laid, and how many came loose from moisture.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Record {
    /// Floors laid.
    pub jobs: u32,
    /// Of those, floors that came loose from moisture.
    pub failures: u32,
    /// The first year that is counted.
    pub since: u32,
    /// The least true rate that such a record fits, a share (Clopper and Pearson, 95 %, two-sided).
    pub from_share: f64,
    /// The highest.
    pub to_share: f64,
}

impl Record {
    fn of(w: &Writer<'_>, floor: &Key) -> Option<Self> {
        let record = w.case.shop.records.iter().find(|record| record.system.value == *floor)?;
        let rate = rate(record.failures, record.jobs)?;
        Some(Self {
            jobs: record.jobs,
            failures: record.failures,
            since: record.since,
            from_share: rounded(rate.from.as_of_one()),
            to_share: rounded(rate.to.as_of_one()),
        })
    }
}

/// What follows from the extra price and the price of a redo.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(tag = "answer", rename_all = "kebab-case")]
pub enum Chance {
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
    /// Every pair among the floors that are offered.
    pub fn all(w: &Writer<'_>) -> Vec<Self> {
        let pairs = even_chance::even_chances(w.case, &w.offered());
        let pair = |even: &even_chance::EvenChance| Self {
            plain: even.plain.0.clone(),
            barrier: even.barrier.0.clone(),
            extra: even.extra.into(),
            redo: even.redo.total().into(),
            chance: match even.chance {
                even_chance::Chance::NothingToWeigh => Chance::NothingToWeigh,
                even_chance::Chance::Even(share) => {
                    Chance::Even { chance_share: rounded(share.to_f64().unwrap_or_default()) }
                }
                even_chance::Chance::Never => Chance::Never,
            },
            record: Record::of(w, &even.plain),
        };
        pairs.iter().map(pair).collect()
    }
}

/// One payment that the customer is asked for.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Payment {
    /// When it falls due, in the shop's own words.
    pub when: String,
    /// How much.
    pub amount: Money,
}

impl Payment {
    /// The payments of the recommended floor, which sum to its total; none when nothing may be
    /// offered.
    pub fn all(w: &Writer<'_>) -> Vec<Self> {
        let shop = w.case.shop;
        let steps = w
            .recommended()
            .map(|choice| price::payments(choice.quote.total, &shop.payments, &shop.limits));
        let payment = |p: price::Payment| Self { when: p.when, amount: p.amount.into() };
        steps.into_iter().flatten().map(payment).collect()
    }
}
