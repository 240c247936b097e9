//! A case with its judgement: what `check`, `estimate` and `write` all start from.

use crate::checks::{self, Finding};
use crate::input::{Input, limits};
use crate::money::MOST_CENTS;
use crate::options::{self, Case};
use crate::recommend::{self, Recommendation};

/// A case, its findings, and what is recommended.
#[derive(Debug, Clone)]
pub struct Judged<'a> {
    pub case: Case<'a>,
    pub findings: Vec<Finding>,
    pub recommendation: Recommendation,
}

impl Judged<'_> {
    /// True when a price has reached the bound of what money can hold, so that it is no price.
    pub fn is_beyond_money(&self) -> bool {
        self.case.options.iter().any(|choice| choice.quote.total.0 >= MOST_CENTS)
    }
}

/// Years from the first day of work until one may drive: eight coats may each cure for one.
const YEARS: u32 = 10;

impl Judged<'_> {
    /// True when the work takes more days than any floor, or the floor cannot be used for years, so
    /// that they are no days to print.
    pub fn is_beyond_days(&self) -> bool {
        self.case.options.iter().map(|choice| &choice.estimate.schedule).any(|schedule| {
            schedule.days > limits::DAYS || schedule.drive.day() > YEARS * limits::DAYS
        })
    }
}

/// Computes and judges a job.
pub fn judge(input: &Input) -> Judged<'_> {
    let case = options::case(input);
    let findings = checks::findings(&case);
    let recommendation = recommend::recommend(&case, &findings);
    Judged { case, findings, recommendation }
}
