//! What is recommended and how that came about, the break-even chance, and the payments.

use rust_decimal::prelude::ToPrimitive;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::Key;
use crate::judge::recommend;
use crate::model::job;
use crate::papers::proposal::writer::Writer;
use crate::price::estimate::price;
use crate::price::even_chance;
use crate::price::failure_rate::rate;
use crate::results::values::{Money, rounded, texts};

/// The floor that comes first, and the steps of the rule that led to it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Recommendation {
    /// The floor that is recommended; null when none may be signed for.
    pub recommended: Option<String>,
    /// The floor that comes first, though it may wait; null when nothing may be offered yet.
    pub first: Option<String>,
    /// The kind of sentence that page one opens with.
    pub headline: Headline,
    /// Floors that may be signed for, in the order of the offer.
    pub offered: Vec<String>,
    /// Floors that wait for a test or for their maker's word, in the order of the offer.
    pub waiting: Vec<String>,
    /// The steps of the rule that were taken, in their order.
    pub steps: Vec<Step>,
}

/// The kind of sentence that page one opens with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Headline {
    /// A floor is recommended.
    Recommend,
    /// It is recommended, close to its limit.
    Near,
    /// The first floor waits for a moisture test.
    TestFirst,
    /// The first floor waits for a word from its maker.
    AskFirst,
    /// No floor may be laid as things are.
    NotYet,
}

impl From<recommend::Headline> for Headline {
    fn from(headline: recommend::Headline) -> Self {
        match headline {
            recommend::Headline::Recommend => Self::Recommend,
            recommend::Headline::Near => Self::Near,
            recommend::Headline::TestFirst => Self::TestFirst,
            recommend::Headline::AskFirst => Self::AskFirst,
            recommend::Headline::NotYet => Self::NotYet,
        }
    }
}

/// A step of the rule that was taken.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Step {
    /// The step.
    pub rule: Rule,
    /// The floors that it compared.
    pub compared: Vec<Compared>,
    /// The floors that it left.
    pub left: Vec<String>,
}

/// A step of the rule.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(tag = "step", rename_all = "kebab-case")]
pub enum Rule {
    /// Floors that are not offered drop.
    NotOffered,
    /// The best moisture standing is kept.
    Moisture,
    /// A wish of the customer keeps what meets it best.
    Wish {
        /// The wish.
        wish: Wish,
    },
    /// Floors that this slab speaks against fall behind.
    Concern {
        /// What speaks against them.
        concern: Concern,
    },
    /// The lowest price is kept.
    LowestPrice,
    /// The floor that the job names first is kept.
    OrderOfOffer,
}

/// Something about the slab that speaks against a floor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Concern {
    /// Nothing holds back the ground's moisture, and the reading takes up much of the limit.
    Damp,
    /// The surface may not hold it.
    Bond,
    /// A crack that moves comes back through it.
    MovingCracks,
    /// Daylight turns it amber.
    Ambering,
    /// Warm tires may lift it.
    HotTires,
}

/// A floor with the value by which a step compared it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Compared {
    /// The floor.
    pub floor: String,
    /// The value: a word, a number, an amount of money or several, as the step compares them.
    pub value: String,
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
        let text = |key: &Key| key.0.clone();
        let offered = r.offered();
        let waiting: Vec<Key> = r.priced().into_iter().filter(|key| r.waits(key)).collect();
        Self {
            recommended: r.floor.as_ref().filter(|key| r.offers(key)).map(text),
            first: r.floor.as_ref().map(text),
            headline: r.headline.into(),
            offered: texts(&offered),
            waiting: texts(&waiting),
            steps: r.steps.iter().map(Step::from).collect(),
        }
    }
}

impl From<&recommend::Step> for Step {
    fn from(step: &recommend::Step) -> Self {
        use recommend::{Concern as About, RuleStep};
        let rule = match step.rule {
            RuleStep::NotOffered => Rule::NotOffered,
            RuleStep::Moisture => Rule::Moisture,
            RuleStep::Wish(wish) => Rule::Wish { wish: Wish(wish.word()) },
            RuleStep::Concern(concern) => Rule::Concern {
                concern: match concern {
                    About::Damp => Concern::Damp,
                    About::Bond => Concern::Bond,
                    About::MovingCracks => Concern::MovingCracks,
                    About::Ambering => Concern::Ambering,
                    About::HotTires => Concern::HotTires,
                },
            },
            RuleStep::LowestPrice => Rule::LowestPrice,
            RuleStep::OrderOfOffer => Rule::OrderOfOffer,
        };
        let compared = step
            .compared
            .iter()
            .map(|(floor, value)| Compared { floor: floor.0.clone(), value: value.to_string() });
        Self { rule, compared: compared.collect(), left: texts(&step.left) }
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
    /// Every pair among the floors that have a price.
    pub fn all(w: &Writer<'_>) -> Vec<Self> {
        let pairs = even_chance::even_chances(w.case, &w.priced());
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
            .map(|option| price::payments(option.quote.total, &shop.payments, &shop.limits));
        let payment = |p: price::Payment| Self { when: p.when, amount: p.amount.into() };
        steps.into_iter().flatten().map(payment).collect()
    }
}
