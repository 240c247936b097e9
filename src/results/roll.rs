//! The roll of a shop's jobs, as `roll --format json` prints it. It says who owes what, so it is for the
//! shop alone.

use std::collections::BTreeMap;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::issued::roll::{self, Due, RollState, RolledJob, clashes, sums};
use crate::results::VERSION;
use crate::results::values::{Day, unless_empty};

/// The jobs of a shop with their standing. For the shop only.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(title = "slableaf roll of jobs")]
pub struct RollForm {
    /// Version of the shape of all results.
    #[schemars(extend("const" = VERSION))]
    pub version: u32,
    /// The day that was asked about.
    pub on: Day,
    /// Every job, in the order of the paths.
    pub jobs: Vec<Job>,
    /// Days on which one crew is on several jobs, the earliest first.
    pub clashes: Vec<Clash>,
    /// Sums by state; states of no job are left out.
    pub states: Vec<StateSum>,
    /// Sums by the month in which the floor is or was laid; jobs without a day last.
    pub months: Vec<MonthSum>,
}

/// One job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Job {
    /// The job's file.
    pub path: String,
    /// The job's number; null when it cannot be read.
    pub job: Option<String>,
    /// The customer's name, as typed; null when it cannot be read.
    pub customer: Option<String>,
    /// The address of the garage; null where the job has none.
    pub place: Option<String>,
    pub state: RollState,
    /// The price of what was signed, with its orders; else of the recommended floor as it was issued last.
    /// Null when none was issued.
    pub price: Option<Cents>,
    /// ISO 4217 code of all amounts of the job; null when there are none.
    pub currency: Option<String>,
    /// The key of the floor that the price is for; null without a price.
    pub floor: Option<String>,
    /// The last day of the prices that were issued last; null when none were.
    pub valid_until: Option<Day>,
    /// The first day of work; null when it is not agreed.
    pub start: Option<Day>,
    /// The day on which the floor was done; null before it.
    pub laid: Option<Day>,
    /// The crew, by name; null where the job names none.
    pub crew: Option<String>,
    /// Days on which the crew is there; empty unless the job is signed, has a first day and names a crew.
    pub work_days: Vec<Day>,
    pub due: Vec<DueThing>,
    /// The reason why the job or its records could not be read; null when there is none.
    pub trouble: Option<String>,
}

/// Something that is due; what does not belong to its kind is null.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DueThing {
    /// `offer-ends`, `not-signed`, `money`, `back` or `test-too-old`.
    pub what: &'static str,
    /// The last day of the offer, the first day of work, or the day of the last test.
    pub day: Option<Day>,
    /// Money that was to be paid by now and was not received; for `back` what was received beyond the price.
    pub amount: Option<Cents>,
}

/// A day on which one crew is on several jobs.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Clash {
    pub on: Day,
    /// The crew, by name.
    pub crew: String,
    /// The numbers of the jobs.
    pub jobs: Vec<String>,
}

/// The jobs of one state.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct StateSum {
    pub state: RollState,
    pub jobs: usize,
    /// Their prices together, by currency.
    pub prices: Vec<CurrencyTotal>,
}

/// The jobs of one month.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MonthSum {
    /// Year and month, as in `2026-05`; null for jobs without a first day of work.
    pub month: Option<String>,
    /// Jobs that were signed for, those that are done among them.
    pub signed: usize,
    pub signed_prices: Vec<CurrencyTotal>,
    /// Jobs with an offer that is open.
    pub offered: usize,
    pub offered_prices: Vec<CurrencyTotal>,
}

/// A sum of prices in one currency.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CurrencyTotal {
    /// ISO 4217 code.
    pub currency: String,
    pub total: Cents,
}

impl RollForm {
    pub fn of(jobs: &[RolledJob], on: Date) -> Self {
        let sums = sums(jobs);
        let clashes = clashes(jobs).into_iter();
        Self {
            version: VERSION,
            on: on.into(),
            jobs: jobs.iter().map(Job::of).collect(),
            clashes: clashes
                .map(|roll::Clash { on, crew, jobs }| Clash { on: on.into(), crew, jobs })
                .collect(),
            states: sums
                .states
                .iter()
                .map(|sum| StateSum {
                    state: sum.state,
                    jobs: sum.jobs,
                    prices: totals(&sum.prices),
                })
                .collect(),
            months: sums
                .months
                .iter()
                .map(|sum| MonthSum {
                    month: sum.month.map(|(year, month)| format!("{year:04}-{month:02}")),
                    signed: sum.signed,
                    signed_prices: totals(&sum.signed_prices),
                    offered: sum.offered,
                    offered_prices: totals(&sum.offered_prices),
                })
                .collect(),
        }
    }
}

fn totals(prices: &BTreeMap<String, Cents>) -> Vec<CurrencyTotal> {
    let total = |(currency, total): (&String, &Cents)| CurrencyTotal {
        currency: currency.clone(),
        total: *total,
    };
    prices.iter().map(total).collect()
}

impl Job {
    fn of(job: &RolledJob) -> Self {
        Self {
            path: job.path.clone(),
            job: unless_empty(&job.number),
            customer: unless_empty(&job.customer),
            place: unless_empty(&job.place),
            state: job.state,
            price: job.price,
            currency: job.currency.clone(),
            floor: job.floor.clone(),
            valid_until: job.valid_until.map(Day::from),
            start: job.start.map(Day::from),
            laid: job.laid.map(Day::from),
            crew: job.crew.clone(),
            work_days: job.work_days.iter().map(|day| Day::from(*day)).collect(),
            due: job.due.iter().map(DueThing::of).collect(),
            trouble: unless_empty(&job.trouble),
        }
    }
}

impl DueThing {
    fn of(due: &Due) -> Self {
        let (day, amount) = match due {
            Due::OfferEnds { on } => (Some(*on), None),
            Due::NotSigned { start } => (Some(*start), None),
            Due::Money { amount } | Due::Back { amount } => (None, Some(*amount)),
            Due::TestTooOld { read, .. } => (Some(*read), None),
        };
        Self { what: due.word(), day: day.map(Day::from), amount }
    }
}
