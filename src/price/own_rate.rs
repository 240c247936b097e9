//! A shop's own rates of work, from hours that were worked on its jobs, with what so few jobs can tell.
//!
//! Hours add up and rates do not, so the mean is taken of the time that one unit took, one figure a job, and
//! its limits are turned into a rate. They are those of Student (Biometrika 6, 1908), 95 %, two-sided, as
//! though such times followed a normal law (common practice, no published source for this work).

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::base::quantity::{Area, Hours, Length};
use crate::model::book::Rates;
use crate::model::job::Job;
use crate::model::worked::{Done, WorkTask, Worked};
use crate::site::take_off::TakeOff;

/// Part of all intervals made this way that hold the true mean.
const CONFIDENCE: f64 = 0.95;

/// Jobs below which no rate is offered for the book: a rule of this program, with no published source. At
/// four jobs the limits still lie 1.6 standard deviations off; at five, 1.2.
pub const FEWEST_JOBS: usize = 5;

/// Work of one job on one task, in square meters or meters, and hours of one person.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JobWork {
    pub amount: f64,
    pub hours: f64,
}

/// A rate in units an hour of one person, with the limits of its mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnRate {
    pub jobs: usize,
    pub rate: f64,
    /// `None` for one job alone.
    pub limits: Option<RateLimits>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateLimits {
    pub least: f64,
    /// `None` where the times differ so much that no rate is too high.
    pub most: Option<f64>,
}

/// Relation of an own rate to the one of the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    TooFew,
    /// The book's rate lies within the limits: the jobs do not show another.
    Fits,
    Other,
}

impl OwnRate {
    /// Returns the rate of some jobs; `None` without any.
    pub fn of(work: &[JobWork]) -> Option<Self> {
        let times: Vec<f64> = work.iter().map(|job| job.hours / job.amount).collect();
        let jobs = times.len();
        let n = jobs as f64;
        let mean = times.iter().sum::<f64>() / n;
        if !(mean.is_finite() && mean > 0.0) {
            return None;
        }
        let limits = (jobs > 1).then(|| {
            let squares: f64 = times.iter().map(|time| (time - mean).powi(2)).sum();
            let error = (squares / (n - 1.0) / n).sqrt();
            half_width(jobs).map(|times| times * error)
        });
        let limits = limits.flatten().map(|half| {
            let shortest = mean - half;
            RateLimits {
                least: 1.0 / (mean + half),
                most: (shortest > 0.0).then(|| 1.0 / shortest),
            }
        });
        Some(Self { jobs, rate: 1.0 / mean, limits })
    }

    pub fn against(&self, book: f64) -> Against {
        let Some(limits) = self.limits.filter(|_| self.jobs >= FEWEST_JOBS) else {
            return Against::TooFew;
        };
        let within = book >= limits.least && limits.most.is_none_or(|most| book <= most);
        if within { Against::Fits } else { Against::Other }
    }
}

/// Standard errors from the mean to a limit.
fn half_width(jobs: usize) -> Option<f64> {
    let law = StudentsT::new(0.0, 1.0, (jobs - 1) as f64).ok()?;
    Some(law.inverse_cdf(1.0 - (1.0 - CONFIDENCE) / 2.0))
}

/// Returns the work of a job on a task; `None` where it has no hours for it, or how much was done is not known.
pub fn work_of(job: &Job, take_off: &TakeOff, task: WorkTask) -> Option<JobWork> {
    let of_task = job.worked.iter().filter(|worked| worked.task == task);
    let all = of_task.map(|worked| {
        Some(JobWork { amount: amount(job, take_off, worked)?, hours: worked.hours.as_hours() })
    });
    let all: Vec<JobWork> = all.collect::<Option<_>>()?;
    let sum = |of: fn(&JobWork) -> f64| all.iter().map(of).sum::<f64>();
    let work = JobWork { amount: sum(|one| one.amount), hours: sum(|one| one.hours) };
    (work.amount > 0.0 && work.hours > 0.0).then_some(work)
}

/// Returns how much was done, in square meters or meters; `None` where it is not known, or is not of the kind
/// that the task is measured in. What a job with several spaces has in all is of no one task.
pub fn amount(job: &Job, take_off: &TakeOff, worked: &Worked) -> Option<f64> {
    let all = || all_of(take_off, worked.task).filter(|_| job.spaces.is_empty());
    match (worked.done.or_else(all)?, worked.task.is_along()) {
        (Done::Area(area), false) => Some(area.as_square_meters()),
        (Done::Length(length), true) => Some(length.as_meters()),
        _ => None,
    }
}

/// All that a job has of a task, as it was measured.
fn all_of(take_off: &TakeOff, task: WorkTask) -> Option<Done> {
    match task {
        WorkTask::Edge => Some(Done::Length(take_off.edge)),
        WorkTask::Crack => Some(Done::Length(take_off.cracks)),
        WorkTask::Joint => Some(Done::Length(take_off.filled_joints)),
        WorkTask::Broadcast | WorkTask::Scrape => Some(Done::Area(take_off.coated())),
        WorkTask::Grind
        | WorkTask::GrindCoated
        | WorkTask::Strip
        | WorkTask::Sand
        | WorkTask::Roll
        | WorkTask::Pour
        | WorkTask::Trowel => Some(Done::Area(take_off.floor)),
        WorkTask::Cove | WorkTask::Patch | WorkTask::Upright => None,
    }
}

/// Returns the rate of a book for a task, in square meters or meters an hour.
pub fn book_rate(rates: &Rates, task: WorkTask) -> Option<f64> {
    let area = |hours: Hours| 1.0 / hours.as_hours();
    let one = Area::square_meters(1.0);
    let along = Length::meters(1.0);
    Some(match task {
        WorkTask::Grind => area(one.worked_at(rates.grind)),
        WorkTask::GrindCoated => area(one.worked_at(rates.grind_coated)),
        WorkTask::Strip => area(one.worked_at(rates.strip)),
        WorkTask::Sand => area(one.worked_at(rates.sand?)),
        WorkTask::Edge => area(along.worked_at(rates.edge)),
        WorkTask::Crack => area(along.worked_at(rates.crack)),
        WorkTask::Joint => area(along.worked_at(rates.joint)),
        WorkTask::Cove => area(along.worked_at(rates.cove)),
        WorkTask::Patch => area(one.worked_at(rates.patch)),
        WorkTask::Roll => area(one.worked_at(rates.roll)),
        WorkTask::Pour => area(one.worked_at(rates.pour?)),
        WorkTask::Trowel => area(one.worked_at(rates.trowel?)),
        WorkTask::Upright => area(one.worked_at(rates.upright)),
        WorkTask::Broadcast => area(one.worked_at(rates.broadcast)),
        WorkTask::Scrape => area(one.worked_at(rates.scrape)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::sample;
    use crate::site::take_off::take_off;

    /// The sample's floor is 22 ft by 22 ft: 484 ft2 (44.9651 m2) and 88 ft of edge (26.8224 m). Hours of one task add
    /// up over its entries, and so does what was done.
    #[test]
    fn work_is_summed_by_task() {
        let worked = "[{ task = \"grind\", hours = \"1.5 h\", area = \"300 ft2\" }, \
                       { task = \"edge\", hours = \"2 h\" }, \
                       { task = \"grind\", hours = \"0.5 h\", area = \"184 ft2\" }, \
                       { task = \"roll\", hours = \"1 h\" }]";
        let job = sample().job("worked", worked).input().job;
        let of = |task| work_of(&job, &take_off(&job.shapes), task);
        let is = |task, amount: f64, hours: f64| {
            let work = of(task).unwrap();
            assert!((work.amount - amount).abs() < 1e-4, "{work:?}");
            assert!((work.hours - hours).abs() < 1e-9, "{work:?}");
        };
        is(WorkTask::Grind, 44.9651, 2.0);
        is(WorkTask::Edge, 26.8224, 2.0);
        is(WorkTask::Roll, 44.9651, 1.0);
        assert_eq!(of(WorkTask::Scrape), None);
    }

    /// Rates of the example's book, by the square meter or the meter: 1 ft2 is 0.09290304 m2, 1 ft 0.3048 m (NIST SP 811).
    #[test]
    fn rates_of_a_book_are_those_that_it_says() {
        let mut sample = sample();
        for (at, (key, task)) in WorkTask::WORDS.iter().enumerate() {
            let unit = if task.is_along() { "ft/h" } else { "ft2/h" };
            sample = sample.book(&format!("rates.{key}"), &format!("\"{} {unit}\"", 10 + at));
        }
        let rates = sample.input().book.rates;
        for (at, &(key, task)) in WorkTask::WORDS.iter().enumerate() {
            let foot = if task.is_along() { 0.3048 } else { 0.09290304 };
            let found = book_rate(&rates, task).unwrap();
            assert!((found / ((10 + at) as f64 * foot) - 1.0).abs() < 1e-9, "{key}: {found}");
        }
    }

    fn work(pairs: &[(f64, f64)]) -> Vec<JobWork> {
        pairs.iter().map(|&(amount, hours)| JobWork { amount, hours }).collect()
    }

    /// SciPy 1.17.1: `stats.t.interval(0.95, 6, loc=mean, scale=sem)` of the times of these seven jobs is
    /// 0.003890678265 to 0.004580832690 h, around 0.004235755478.
    #[test]
    fn limits_are_those_of_student() {
        let jobs = work(&[
            (480.0, 2.1),
            (503.0, 2.0),
            (400.0, 1.9),
            (620.0, 2.5),
            (440.0, 1.7),
            (510.0, 2.4),
            (380.0, 1.5),
        ]);
        let own = OwnRate::of(&jobs).unwrap();
        let limits = own.limits.unwrap();
        let near = |found: f64, wanted: f64| (found / wanted - 1.0).abs() < 1e-8;
        assert!(near(own.rate, 1.0 / 0.004235755477614197), "{}", own.rate);
        assert!(near(limits.least, 1.0 / 0.004580832690097431), "{limits:?}");
        assert!(near(limits.most.unwrap(), 1.0 / 0.003890678265130963), "{limits:?}");
        assert_eq!(own.against(260.0), Against::Other);
        assert_eq!(own.against(250.0), Against::Fits);
    }

    /// SciPy 1.17.1: `stats.t.ppf(0.975, df)`.
    #[test]
    fn the_law_is_that_of_the_tables() {
        for (jobs, wanted) in [
            (2, 12.706204736),
            (3, 4.302652730),
            (5, 2.776445105),
            (10, 2.262157163),
            (30, 2.045229642),
        ] {
            assert!((half_width(jobs).unwrap() - wanted).abs() < 1e-8, "{jobs}");
        }
    }

    #[test]
    fn few_jobs_offer_nothing_and_one_has_no_limits() {
        let one = OwnRate::of(&work(&[(100.0, 1.0)])).unwrap();
        assert_eq!((one.limits, one.against(500.0)), (None, Against::TooFew));
        let four = work(&[(100.0, 1.0), (101.0, 1.0), (99.0, 1.0), (100.0, 1.0)]);
        assert_eq!(OwnRate::of(&four).unwrap().against(500.0), Against::TooFew);
        assert_eq!(OwnRate::of(&[]), None);
        // Two jobs that differ much: any rate above is possible.
        let two = OwnRate::of(&work(&[(100.0, 1.0), (100.0, 2.0)])).unwrap();
        assert_eq!(two.limits.unwrap().most, None);
    }
}
