//! The outcome of one job among many, and of all of them together.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::base::money::Cents;
use crate::base::names::{Key, choices};
use crate::judge::spaces::judge_spaces;
use crate::judge::{ExceededLimit, judge};
use crate::model::job::Units;
use crate::read::Input;
use crate::reprice::{FloorPrice, Repriced, Side, reprice, reprice_spaces};

choices! {
    /// Standing of a job on the day that prices are asked for.
    JobState {
        /// On offer: its price may change.
        Open = "open",
        /// On offer, and a price would rise that an issued paper still promises.
        Promised = "promised",
        /// The customer has agreed; nothing changes any more.
        Accepted = "accepted",
        /// The days are over for which the price was to hold.
        Expired = "expired",
        /// No floor may be offered as things are.
        StopFound = "stop-found",
        /// The job could not be read.
        Unreadable = "unreadable",
    }
}

impl JobState {
    /// The plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Promised => "promised",
            Self::Accepted => "accepted",
            Self::Expired => "expired",
            Self::StopFound => "stop found",
            Self::Unreadable => "could not be read",
        }
    }
}

/// One job: how it stands, and its prices where they are known.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The job's file, as a person finds it.
    pub path: String,
    /// Its number; empty where it cannot be read.
    pub number: String,
    pub state: JobState,
    pub prices: Option<Prices>,
    /// Trouble in reading or writing it; empty when there was none.
    pub trouble: String,
    /// The paper that was written.
    pub written: Option<String>,
}

/// Prices of a job, before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct Prices {
    pub units: Units,
    /// ISO 4217 code.
    pub currency: String,
    /// The last day of the price that was offered.
    pub valid_until: Date,
    /// False when nothing was offered before, so that there is nothing to compare.
    pub compared: bool,
    pub repriced: Repriced,
}

impl Prices {
    /// Prices of a job that was signed: that of the agreement, with its signed orders, and no other.
    pub fn as_agreed(self, floor: &str, total: Cents) -> Self {
        let floor = Key(floor.to_owned());
        let repriced = Repriced {
            recommended_before: Some(floor.clone()),
            recommended_after: Some(floor.clone()),
            floors: vec![FloorPrice::plain(floor, Some(total), Some(total))],
        };
        Self { compared: true, repriced, ..self }
    }

    /// True when there is another price, offer or recommendation than before.
    pub fn changed(&self) -> bool {
        self.compared && !self.repriced.is_unchanged()
    }
}

/// Refuses a price or work past all bounds.
fn within_bounds(exceeded: Option<ExceededLimit>) -> Result<(), String> {
    exceeded.map_or(Ok(()), |limit| Err(limit.to_string()))
}

/// Prices of a job of which one or the other has several spaces.
fn of_spaces(before: Option<&Input>, after: &Input) -> Result<Repriced, String> {
    for input in before.into_iter().chain([after]) {
        if !input.job.has_spaces() {
            return Err("had one space and has several now, or the other way".to_owned());
        }
        let jobs = input.job.of_spaces();
        within_bounds(judge_spaces(input, &jobs).exceeded_limit())?;
    }
    Ok(reprice_spaces(before, after))
}

/// Works out one job: how it stands on a day, and its prices.
///
/// # Errors
/// A line on why its prices cannot be worked out or compared.
pub fn assess(
    before: Option<&Input>,
    after: &Input,
    on: Date,
    accepted: bool,
) -> Result<(JobState, Prices), String> {
    if let Some((was, is)) = before.map(|before| (&before.book.currency, &after.book.currency))
        && was != is
    {
        return Err(format!("was offered in {was}, and the new book is in {is}"));
    }
    let offered = before.unwrap_or(after);
    let repriced = if [offered, after].iter().any(|input| input.job.has_spaces()) {
        of_spaces(before, after)?
    } else {
        let now = judge(after);
        within_bounds(now.exceeded_limit())?;
        let now_side = Side { input: after, judged: &now };
        match before {
            Some(before) => {
                let was = judge(before);
                within_bounds(was.exceeded_limit())?;
                reprice(Some(Side { input: before, judged: &was }), now_side)
            }
            None => reprice(None, now_side),
        }
    };
    let valid_until = offered.book.terms.valid_until(offered.job.date);
    let state = if accepted {
        JobState::Accepted
    } else if on > valid_until {
        JobState::Expired
    } else if repriced.recommended_after.is_none() {
        JobState::StopFound
    } else {
        JobState::Open
    };
    let prices = Prices {
        units: after.job.units,
        currency: after.book.currency.clone(),
        valid_until,
        compared: before.is_some(),
        repriced,
    };
    Ok((state, prices))
}

/// All jobs together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Totals {
    pub jobs: usize,
    /// Number of jobs in each state, those of none left out.
    pub states: BTreeMap<JobState, usize>,
    /// Open jobs whose price, offer or recommendation changes.
    pub changed: usize,
    /// Papers that were written.
    pub written: usize,
    /// By currency: what the prices of open jobs change together.
    pub change: BTreeMap<String, Cents>,
}

/// Counts and sums; the order of the jobs makes no difference.
pub fn totals(outcomes: &[Outcome]) -> Totals {
    let mut totals = Totals { jobs: outcomes.len(), ..Totals::default() };
    for outcome in outcomes {
        *totals.states.entry(outcome.state).or_default() += 1;
        totals.written += usize::from(outcome.written.is_some());
        let Some(prices) = &outcome.prices else { continue };
        if outcome.state != JobState::Open {
            continue;
        }
        totals.changed += usize::from(prices.changed());
        if let Some(change) = prices.repriced.main().and_then(|floor| floor.change()) {
            let sum = totals.change.entry(prices.currency.clone()).or_default();
            *sum = sum.plus(change);
        }
    }
    totals
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn prices(floors: &[(&str, i64, i64)], recommended: &str) -> Prices {
        let price = |(key, before, after): &(&str, i64, i64)| {
            FloorPrice::plain(Key((*key).into()), Some(Cents(*before)), Some(Cents(*after)))
        };
        Prices {
            units: Units::Us,
            currency: "USD".into(),
            valid_until: date(2026, 6, 11),
            compared: true,
            repriced: Repriced {
                recommended_before: Some(Key(recommended.into())),
                recommended_after: Some(Key(recommended.into())),
                floors: floors.iter().map(price).collect(),
            },
        }
    }

    fn outcome(state: JobState, prices: Option<Prices>, written: bool) -> Outcome {
        Outcome {
            path: String::new(),
            number: String::new(),
            state,
            prices,
            trouble: String::new(),
            written: written.then(|| "paper.pdf".to_owned()),
        }
    }

    /// A price past all bounds is none: a discount of more than the floor costs.
    #[test]
    fn a_job_past_all_bounds_has_no_prices() {
        let day = date(2026, 5, 12);
        let off = |amount: &str| {
            let off = format!("{{ amount = \"{amount}\", reason = \"why\" }}");
            let input = crate::price::testing::sample().job("discount", &off).input();
            assess(None, &input, day, false).map(|(state, _)| state)
        };
        assert_eq!(off("$100.00"), Ok(JobState::Open));
        let over = "the discount is more than the price of a floor".to_owned();
        assert_eq!(off("$90,000.00"), Err(over));
    }

    /// By hand: of the recommended floors one costs $3.00 more and one $1.00 less. What was signed or has run
    /// out is counted as a job, and its price changes nothing.
    #[test]
    fn open_jobs_are_summed_by_their_recommended_floor() {
        let dearer = prices(&[("barrier", 900, 1_200), ("plain", 500, 900)], "barrier");
        let cheaper = prices(&[("barrier", 900, 5_000), ("plain", 500, 400)], "plain");
        let same = prices(&[("barrier", 700, 700)], "barrier");
        let jobs = [
            outcome(JobState::Open, Some(dearer.clone()), true),
            outcome(JobState::Open, Some(cheaper), true),
            outcome(JobState::Open, Some(same.clone()), false),
            outcome(JobState::Accepted, Some(dearer.clone()), false),
            outcome(JobState::Expired, Some(dearer.clone()), true),
            outcome(JobState::Unreadable, None, false),
        ];
        let totals = totals(&jobs);
        assert_eq!((totals.jobs, totals.changed, totals.written), (6, 2, 3));
        assert_eq!(totals.change, BTreeMap::from([("USD".to_owned(), Cents(200))]));
        let states: Vec<(JobState, usize)> = totals.states.into_iter().collect();
        assert_eq!(
            states,
            [
                (JobState::Open, 3),
                (JobState::Accepted, 1),
                (JobState::Expired, 1),
                (JobState::Unreadable, 1)
            ]
        );
        let (dearer, same) = (dearer.repriced, same.repriced);
        assert!(same.is_unchanged() && !dearer.is_unchanged());
        assert!(dearer.offers_as(&dearer) && !dearer.offers_as(&same));
        // Which floors are offered now, and for what: what they cost before is no matter.
        let mut other = dearer.clone();
        other.floors.reverse();
        other.floors[0].before = None;
        assert!(dearer.offers_as(&other));
        other.floors[0].after = Some(Cents(901));
        assert!(!dearer.offers_as(&other));
        other.floors[0].after = Some(Cents(900));
        other.recommended_after = None;
        assert!(!dearer.offers_as(&other));
    }
}
