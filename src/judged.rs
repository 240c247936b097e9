//! A case with its judgement: what `check`, `estimate` and `write` all start from.

use crate::checks::{self, Finding};
use crate::input::Input;
use crate::options::{self, Case};
use crate::recommend::{self, Recommendation};

/// A case, its findings, and what is recommended.
#[derive(Debug, Clone)]
pub struct Judged<'a> {
    pub case: Case<'a>,
    pub findings: Vec<Finding>,
    pub recommendation: Recommendation,
}

/// Computes and judges a job.
pub fn judge(input: &Input) -> Judged<'_> {
    let case = options::case(input);
    let findings = checks::findings(&case);
    let recommendation = recommend::recommend(&case, &findings);
    Judged { case, findings, recommendation }
}
