//! A case with its judgment: what `check`, `estimate` and `write` all start from.

pub mod checks;
pub mod recommend;

use crate::base::money::MOST_CENTS;
use crate::judge::checks::Finding;
use crate::judge::recommend::Recommendation;
use crate::price::case::{self, Case};
use crate::read::{Input, limits};

/// A case, its findings, and what is recommended.
#[derive(Debug, Clone)]
pub struct Judged<'a> {
    pub case: Case<'a>,
    pub findings: Vec<Finding>,
    pub recommendation: Recommendation,
}

/// What passes all bounds of a floor, so that it is nothing to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beyond {
    /// The work takes more days than any floor, or the floor cannot be used for years.
    Days,
    /// A price has reached the bound of what money can hold, so that it is no price.
    Money,
}

impl std::fmt::Display for Beyond {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Days => {
                write!(f, "the work on a floor comes to more than {} days", limits::DAYS)
            }
            Self::Money => write!(f, "a price comes to more than any floor can cost"),
        }
    }
}

/// Years from the first day of work until one may drive: eight coats may each cure for one.
const YEARS: u32 = 10;

impl Judged<'_> {
    /// What of any floor passes all bounds.
    pub fn beyond(&self) -> Option<Beyond> {
        let mut schedules = self.case.options.iter().map(|option| &option.estimate.schedule);
        let endless = schedules.any(|schedule| {
            schedule.days > limits::DAYS || schedule.drive.day() > YEARS * limits::DAYS
        });
        let priceless = || self.case.options.iter().any(|one| one.quote.total.0 >= MOST_CENTS);
        if endless { Some(Beyond::Days) } else { priceless().then_some(Beyond::Money) }
    }
}

/// Computes and judges a job.
pub fn judge(input: &Input) -> Judged<'_> {
    let case = case::case(input);
    let findings = checks::findings(&case);
    let recommendation = recommend::recommend(&case, &findings);
    Judged { case, findings, recommendation }
}
