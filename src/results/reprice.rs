//! Prices of many jobs before and after: what `reprice --format json` prints. It holds suppliers
//! and causes, so it is for the shop alone.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use crate::reprice::{self, KitMeasure, Outcome, Prices, totals};
use crate::results::VERSION;
use crate::results::values::{Day, Money, rounded};

/// The prices of many jobs, before and after. For the shop only.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(title = "slableaf prices of jobs")]
pub struct RepriceForm {
    /// Version of the shape of all results.
    #[schemars(extend("const" = VERSION))]
    pub version: u32,
    /// The day for which prices were asked.
    pub on: Day,
    /// Every job, in the order of the paths.
    pub jobs: Vec<Job>,
    pub summary: Summary,
}

/// One job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Job {
    /// The job's file.
    pub path: String,
    /// The job's number; null when it cannot be read.
    pub job: Option<String>,
    pub state: State,
    /// What kept the job from being read or its paper from being written; null when nothing did.
    pub trouble: Option<String>,
    /// The last day of the price that was offered; null when it is not known.
    pub valid_until: Option<Day>,
    /// ISO 4217 code of all amounts; null when there are none.
    pub currency: Option<String>,
    /// True when there is a price of before to compare with.
    pub compared: bool,
    /// The floor that was recommended; null when none was.
    pub recommended_before: Option<String>,
    /// The floor that is recommended now; null when none is.
    pub recommended_after: Option<String>,
    /// Every floor that was or is on offer.
    pub floors: Vec<Floor>,
    /// The paper that was written; null when none was.
    pub written: Option<String>,
}

/// How a job stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// On offer.
    Open,
    /// The customer has agreed; nothing changes any more.
    Accepted,
    /// The days are over for which the price was to hold.
    Expired,
    /// No floor may be offered as things are.
    StopFound,
    /// The job could not be read.
    Unreadable,
}

/// A floor's price for the customer, tax included.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Floor {
    /// The key of the floor system.
    pub floor: String,
    /// Null when it was not on offer.
    pub before: Option<Money>,
    /// Null when it is not on offer now.
    pub after: Option<Money>,
    /// After less before; null when one of them is.
    pub change: Option<Money>,
    /// What made the change, the strongest first. They sum to it to the cent.
    pub causes: Vec<Cause>,
}

/// One thing that moved a price.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Cause {
    pub kind: Kind,
    /// A key of the book, as in `rates.grind`, for the kind `book`; else null.
    pub key: Option<&'static str>,
    /// The key of the product, where it is about one.
    pub product: Option<String>,
    /// Its supplier; null when the book names none.
    pub supplier: Option<String>,
    /// The sizes of its kits that changed their price, came or went.
    pub sizes: Vec<KitSize>,
    /// What it added to the price.
    pub change: Money,
}

/// What kind of thing a cause is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The price of a product's kits.
    ProductPrice,
    /// The sizes in which a product is sold.
    KitSizes,
    /// The other figures of a product.
    ProductFigures,
    /// A wage, a rate, a term, a tax: see `key`.
    Book,
    /// The rounding of prices to the shop's step.
    Rounding,
    /// What a floor is made of.
    Systems,
    /// The shop file.
    Shop,
    /// The job itself.
    Job,
}

/// The size of a kit; one of the two is null.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct KitSize {
    /// Liters that it holds, or fills.
    pub volume_l: Option<f64>,
    /// Kilograms that it holds.
    pub mass_kg: Option<f64>,
}

/// All jobs together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Summary {
    pub jobs: usize,
    pub open: usize,
    pub accepted: usize,
    pub expired: usize,
    pub stop_found: usize,
    pub unreadable: usize,
    /// Open jobs whose price, offer or recommendation changes.
    pub changed: usize,
    /// Papers that were written.
    pub written: usize,
    /// What the prices of open jobs change together, by currency.
    pub change: Vec<Sum>,
}

/// A sum in one currency.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Sum {
    /// ISO 4217 code.
    pub currency: String,
    pub change: Money,
}

impl RepriceForm {
    pub fn of(outcomes: &[Outcome], on: Date) -> Self {
        let totals = totals(outcomes);
        let count = |state| totals.states.get(&state).copied().unwrap_or_default();
        Self {
            version: VERSION,
            on: on.into(),
            jobs: outcomes.iter().map(Job::of).collect(),
            summary: Summary {
                jobs: totals.jobs,
                open: count(reprice::JobState::Open),
                accepted: count(reprice::JobState::Accepted),
                expired: count(reprice::JobState::Expired),
                stop_found: count(reprice::JobState::StopFound),
                unreadable: count(reprice::JobState::Unreadable),
                changed: totals.changed,
                written: totals.written,
                change: totals
                    .change
                    .iter()
                    .map(|(currency, change)| Sum {
                        currency: currency.clone(),
                        change: (*change).into(),
                    })
                    .collect(),
            },
        }
    }
}

/// A text, or null when it is empty.
fn some(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}

impl Job {
    fn of(outcome: &Outcome) -> Self {
        let prices: Option<&Prices> = outcome.prices.as_ref();
        let repriced = prices.map(|prices| &prices.repriced);
        let key = |key: Option<&crate::base::names::Key>| key.map(|key| key.0.clone());
        Self {
            path: outcome.path.clone(),
            job: some(&outcome.number),
            state: outcome.state.into(),
            trouble: some(&outcome.trouble),
            valid_until: prices.map(|prices| prices.valid_until.into()),
            currency: prices.map(|prices| prices.currency.clone()),
            compared: prices.is_some_and(|prices| prices.compared),
            recommended_before: key(repriced.and_then(|all| all.recommended_before.as_ref())),
            recommended_after: key(repriced.and_then(|all| all.recommended_after.as_ref())),
            floors: repriced.iter().flat_map(|all| &all.floors).map(Floor::of).collect(),
            written: outcome.written.clone(),
        }
    }
}

impl Floor {
    fn of(floor: &reprice::FloorPrice) -> Self {
        Self {
            floor: floor.floor.0.clone(),
            before: floor.before.map(Money::from),
            after: floor.after.map(Money::from),
            change: floor.change().map(Money::from),
            causes: floor.strongest().into_iter().map(Cause::of).collect(),
        }
    }
}

impl Cause {
    fn of(cause: &reprice::Cause) -> Self {
        let what = &cause.what;
        Self {
            kind: what.into(),
            key: what.key(),
            product: what.product().map(|key| key.0.clone()),
            supplier: some(what.supplier()),
            sizes: what.sizes().iter().map(|size| (*size).into()).collect(),
            change: cause.change.into(),
        }
    }
}

impl From<&reprice::ChangedThing> for Kind {
    fn from(what: &reprice::ChangedThing) -> Self {
        match what {
            reprice::ChangedThing::ProductPrice { .. } => Self::ProductPrice,
            reprice::ChangedThing::KitSizes { .. } => Self::KitSizes,
            reprice::ChangedThing::ProductFigures { .. } => Self::ProductFigures,
            reprice::ChangedThing::Book(_) => Self::Book,
            reprice::ChangedThing::Rounding => Self::Rounding,
            reprice::ChangedThing::Systems => Self::Systems,
            reprice::ChangedThing::Shop => Self::Shop,
            reprice::ChangedThing::Job => Self::Job,
        }
    }
}

impl From<reprice::JobState> for State {
    fn from(state: reprice::JobState) -> Self {
        match state {
            reprice::JobState::Open => Self::Open,
            reprice::JobState::Accepted => Self::Accepted,
            reprice::JobState::Expired => Self::Expired,
            reprice::JobState::StopFound => Self::StopFound,
            reprice::JobState::Unreadable => Self::Unreadable,
        }
    }
}

impl From<KitMeasure> for KitSize {
    fn from(size: KitMeasure) -> Self {
        match size {
            KitMeasure::Volume(volume) => {
                Self { volume_l: Some(rounded(volume.as_liters())), mass_kg: None }
            }
            KitMeasure::Mass(mass) => {
                Self { volume_l: None, mass_kg: Some(rounded(mass.as_kilograms())) }
            }
        }
    }
}
