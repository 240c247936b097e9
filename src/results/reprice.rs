//! Prices of many jobs before and after, as `reprice --format json` prints them. It holds suppliers
//! and causes, so it is for the shop alone.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Mass, Volume};
use crate::reprice::{self, CauseKind, JobState, KitMeasure, Outcome, Prices, totals};
use crate::results::VERSION;
use crate::results::values::{Day, unless_empty};

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
    pub jobs: Vec<RepricedJob>,
    pub summary: Summary,
}

/// One job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RepricedJob {
    /// The job's file.
    pub path: String,
    /// The job's number; null when it cannot be read.
    pub job: Option<String>,
    pub state: JobState,
    /// The reason why the job could not be read or its paper not be written; null when there is none.
    pub trouble: Option<String>,
    /// The last day of the price that was offered; null when it is not known.
    pub valid_until: Option<Day>,
    /// ISO 4217 code of all amounts; null when there are none.
    pub currency: Option<String>,
    /// True when there is a price of before to compare with.
    pub compared: bool,
    /// The floor that was recommended; null when none was.
    pub recommended_before: Option<Key>,
    /// The floor that is recommended now; null when none is.
    pub recommended_after: Option<Key>,
    /// Every floor that was or is on offer.
    pub floors: Vec<RepricedFloor>,
    /// The paper that was written; null when none was.
    pub written: Option<String>,
}

/// A floor's price for the customer, tax included.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RepricedFloor {
    /// The key of the floor system.
    pub floor: Key,
    /// Null when it was not on offer.
    pub before: Option<Cents>,
    /// Null when it is not on offer now.
    pub after: Option<Cents>,
    /// After less before; null when one of them is.
    pub change: Option<Cents>,
    /// Causes of the change, the strongest first. They sum to it to the cent.
    pub causes: Vec<PriceCause>,
}

/// One thing that moved a price.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PriceCause {
    pub kind: CauseKind,
    /// A key of the book, as in `rates.grind`, for the kind `book`; else null.
    pub key: Option<&'static str>,
    /// The key of the product, where it is about one.
    pub product: Option<Key>,
    /// Its supplier; null when the book names none.
    pub supplier: Option<String>,
    /// The sizes of its kits that changed their price, came or went.
    pub sizes: Vec<KitSize>,
    /// Its part of the change.
    pub change: Cents,
}

/// The size of a kit; one of the two is null.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct KitSize {
    /// Liters that it holds, or fills.
    pub volume_l: Option<Volume>,
    /// Kilograms that it holds.
    pub mass_kg: Option<Mass>,
}

/// All jobs together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Summary {
    pub jobs: usize,
    pub open: usize,
    /// Jobs whose price would rise while an issued paper still promises it.
    pub promised: usize,
    pub accepted: usize,
    pub expired: usize,
    pub stop_found: usize,
    pub unreadable: usize,
    /// Open jobs whose price, offer or recommendation changes.
    pub changed: usize,
    /// Papers that were written.
    pub written: usize,
    /// The change of the prices of open jobs together, by currency.
    pub change: Vec<CurrencySum>,
}

/// A sum in one currency.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CurrencySum {
    /// ISO 4217 code.
    pub currency: String,
    pub change: Cents,
}

impl RepriceForm {
    pub fn of(outcomes: &[Outcome], on: Date) -> Self {
        let totals = totals(outcomes);
        let count = |state| totals.states.get(&state).copied().unwrap_or_default();
        Self {
            version: VERSION,
            on: on.into(),
            jobs: outcomes.iter().map(RepricedJob::of).collect(),
            summary: Summary {
                jobs: totals.jobs,
                open: count(JobState::Open),
                promised: count(JobState::Promised),
                accepted: count(JobState::Accepted),
                expired: count(JobState::Expired),
                stop_found: count(JobState::StopFound),
                unreadable: count(JobState::Unreadable),
                changed: totals.changed,
                written: totals.written,
                change: totals
                    .change
                    .iter()
                    .map(|(currency, change)| CurrencySum {
                        currency: currency.clone(),
                        change: *change,
                    })
                    .collect(),
            },
        }
    }
}

impl RepricedJob {
    fn of(outcome: &Outcome) -> Self {
        let prices: Option<&Prices> = outcome.prices.as_ref();
        let repriced = prices.map(|prices| &prices.repriced);
        Self {
            path: outcome.path.clone(),
            job: unless_empty(&outcome.number),
            state: outcome.state,
            trouble: unless_empty(&outcome.trouble),
            valid_until: prices.map(|prices| prices.valid_until.into()),
            currency: prices.map(|prices| prices.currency.clone()),
            compared: prices.is_some_and(|prices| prices.compared),
            recommended_before: repriced.and_then(|all| all.recommended_before.clone()),
            recommended_after: repriced.and_then(|all| all.recommended_after.clone()),
            floors: repriced.iter().flat_map(|all| &all.floors).map(RepricedFloor::of).collect(),
            written: outcome.written.clone(),
        }
    }
}

impl RepricedFloor {
    fn of(floor: &reprice::FloorPrice) -> Self {
        Self {
            floor: floor.floor.clone(),
            before: floor.before,
            after: floor.after,
            change: floor.change(),
            causes: floor.strongest().into_iter().map(PriceCause::of).collect(),
        }
    }
}

impl PriceCause {
    fn of(cause: &reprice::Cause) -> Self {
        let what = &cause.what;
        Self {
            kind: what.kind,
            key: what.key,
            product: what.product.clone(),
            supplier: unless_empty(&what.supplier),
            sizes: what.sizes.iter().map(|size| (*size).into()).collect(),
            change: cause.change,
        }
    }
}

impl From<KitMeasure> for KitSize {
    fn from(size: KitMeasure) -> Self {
        match size {
            KitMeasure::Volume(volume) => Self { volume_l: Some(volume), mass_kg: None },
            KitMeasure::Mass(mass) => Self { volume_l: None, mass_kg: Some(mass) },
        }
    }
}
