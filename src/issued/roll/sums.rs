//! Sums of the roll by state and by month, and days on which one crew has two jobs.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::base::money::Cents;
use crate::issued::roll::{RollState, RolledJob};

/// All jobs together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sums {
    pub states: Vec<StateSum>,
    /// By the month in which the floor is or was laid, the earliest first; those without a day last.
    pub months: Vec<MonthSum>,
}

/// The jobs of one state.
#[derive(Debug, Clone, PartialEq)]
pub struct StateSum {
    pub state: RollState,
    pub jobs: usize,
    /// By currency; jobs without a price add nothing.
    pub prices: BTreeMap<String, Cents>,
}

/// The jobs of one month.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MonthSum {
    /// Year and month; `None` for jobs without a first day of work.
    pub month: Option<(i16, i8)>,
    /// Jobs that were signed for, those that are done among them.
    pub signed: usize,
    pub signed_prices: BTreeMap<String, Cents>,
    /// Jobs with an offer that is open.
    pub offered: usize,
    pub offered_prices: BTreeMap<String, Cents>,
}

/// Counts and sums; the order of the jobs makes no difference.
pub fn sums(jobs: &[RolledJob]) -> Sums {
    let mut states: BTreeMap<RollState, StateSum> = BTreeMap::new();
    // Jobs without a day stand last.
    let mut months: BTreeMap<(bool, Option<(i16, i8)>), MonthSum> = BTreeMap::new();
    for job in jobs {
        let new = || StateSum { state: job.state, jobs: 0, prices: BTreeMap::new() };
        let sum = states.entry(job.state).or_insert_with(new);
        sum.jobs += 1;
        add(&mut sum.prices, job);
        let signed = job.state.is_signed() || job.state == RollState::Laid;
        if !signed && job.state != RollState::Offered {
            continue;
        }
        let month = job.laid.or(job.start).map(|day| (day.year(), day.month()));
        let sum = months
            .entry((month.is_none(), month))
            .or_insert_with(|| MonthSum { month, ..MonthSum::default() });
        if signed {
            sum.signed += 1;
            add(&mut sum.signed_prices, job);
        } else {
            sum.offered += 1;
            add(&mut sum.offered_prices, job);
        }
    }
    Sums { states: states.into_values().collect(), months: months.into_values().collect() }
}

fn add(prices: &mut BTreeMap<String, Cents>, job: &RolledJob) {
    if let (Some(currency), Some(price)) = (&job.currency, job.price) {
        let sum = prices.entry(currency.clone()).or_default();
        *sum = sum.plus(price);
    }
}

/// A day on which one crew is on several jobs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    pub on: Date,
    /// The crew, as the first of the jobs names it.
    pub crew: String,
    /// The jobs by number, in the order of the roll.
    pub jobs: Vec<String>,
}

/// Returns the days on which a crew is on several signed jobs, the earliest first. Names of crews are one
/// whatever their capitals.
pub fn clashes(jobs: &[RolledJob]) -> Vec<Clash> {
    let mut days: BTreeMap<(Date, String), Clash> = BTreeMap::new();
    for job in jobs.iter().filter(|job| job.state.is_signed()) {
        let Some(crew) = &job.crew else { continue };
        for on in &job.work_days {
            let clash = days.entry((*on, crew.trim().to_lowercase())).or_insert_with(|| Clash {
                on: *on,
                crew: crew.clone(),
                jobs: vec![],
            });
            clash.jobs.push(job.number.clone());
        }
    }
    days.into_values().filter(|clash| clash.jobs.len() > 1).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn job(number: &str, state: RollState, price: i64, start: Option<Date>) -> RolledJob {
        RolledJob {
            state,
            currency: Some("USD".into()),
            price: Some(Cents(price)),
            start,
            ..RolledJob::unread(String::new(), number.into(), String::new())
        }
    }

    #[test]
    fn jobs_are_summed_by_state_and_by_month() {
        let may = Some(date(2026, 5, 26));
        let jobs = [
            job("1", RollState::Accepted, 100, None),
            job("2", RollState::Accepted, 20, may),
            job("3", RollState::Offered, 3, may),
            job("4", RollState::Draft, 0, may),
            RolledJob { laid: Some(date(2026, 6, 1)), ..job("5", RollState::Laid, 7, may) },
        ];
        let sums = sums(&jobs);
        let usd = |cents| BTreeMap::from([("USD".to_owned(), Cents(cents))]);
        let states: Vec<_> =
            sums.states.iter().map(|s| (s.state, s.jobs, s.prices.clone())).collect();
        assert_eq!(
            states,
            [
                (RollState::Draft, 1, usd(0)),
                (RollState::Offered, 1, usd(3)),
                (RollState::Accepted, 2, usd(120)),
                (RollState::Laid, 1, usd(7)),
            ]
        );
        let months: Vec<_> = sums.months.iter().map(|m| (m.month, m.signed, m.offered)).collect();
        assert_eq!(months, [(Some((2026, 5)), 1, 1), (Some((2026, 6)), 1, 0), (None, 1, 0)]);
    }

    #[test]
    fn one_crew_is_on_one_job_a_day() {
        let days = vec![date(2026, 5, 26), date(2026, 5, 27)];
        let with = |number: &str, state, crew: &str, work_days: &[Date]| RolledJob {
            crew: Some(crew.into()),
            work_days: work_days.to_vec(),
            ..job(number, state, 0, None)
        };
        let jobs = [
            with("1", RollState::Accepted, "North", &days),
            with("2", RollState::Changed, "north ", &days[1..]),
            with("3", RollState::Accepted, "South", &days),
            with("4", RollState::Laid, "North", &days),
            with("5", RollState::Offered, "North", &days),
        ];
        let clash = Clash { on: days[1], crew: "North".into(), jobs: vec!["1".into(), "2".into()] };
        assert_eq!(clashes(&jobs), [clash]);
    }
}
