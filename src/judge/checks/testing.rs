//! Findings of a check on a job, for tests of checks.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, Severity};
pub use crate::price::testing::{Sample, sample};

/// The weights that a row of a table may expect; silence too.
pub const STOP: Option<Severity> = Some(Severity::Stop);
pub const WAIT: Option<Severity> = Some(Severity::Wait);
pub const CAUTION: Option<Severity> = Some(Severity::Caution);
pub const NOTE: Option<Severity> = Some(Severity::Note);
pub const SILENT: Option<Severity> = None;

/// The floors of the sample, for a row about all of them.
pub const EVERY_FLOOR: &str = "barrier, fast-cure, clear-epoxy, water-kit";

impl Check {
    /// Asserts a table: a job, the floors that the check speaks of there or is silent about (an
    /// empty text: the job itself), and the weight.
    #[track_caller]
    pub fn says<const N: usize>(&'static self, rows: [(Sample, &str, Option<Severity>); N]) {
        for (sample, floors, weight) in rows {
            for floor in floors.split(", ") {
                match weight {
                    Some(severity) => sample.expect(self, floor, severity),
                    None => sample.expect_silent(self, floor),
                }
            }
        }
    }
}

impl Sample {
    /// Returns the findings of a check on this job.
    #[track_caller]
    pub fn findings(&self, check: &Check) -> Vec<Finding> {
        let found = self.with_case(|case| (check.find)(&case));
        for finding in &found {
            let declared = check.severities.contains(&finding.severity);
            assert!(declared, "`{}` does not declare {:?}", check.name, finding.severity);
        }
        found
    }

    /// A value of this name from each finding that has it.
    #[track_caller]
    pub fn values(&self, check: &Check, name: &str) -> Vec<Figure> {
        let found = self.findings(check);
        let values = found.into_iter().flat_map(|finding| finding.values);
        values.filter(|(key, _)| *key == name).map(|(_, figure)| figure).collect()
    }

    /// The check speaks of this option (or, with an empty name, of the job), at this severity.
    #[track_caller]
    pub fn expect(&self, check: &Check, option: &str, severity: Severity) {
        let found = self.findings(check);
        let speaks = |f: &&Finding| f.option.as_ref().map_or("", |key| key.0.as_str()) == option;
        let about: Vec<&Finding> = found.iter().filter(speaks).collect();
        assert!(
            about.iter().any(|f| f.severity == severity),
            "`{}` says nothing of `{option}` at {severity:?}; it found {found:#?}",
            check.name
        );
    }

    /// The check says nothing of this option, nor of the job as a whole.
    #[track_caller]
    pub fn expect_silent(&self, check: &Check, option: &str) {
        let found = self.findings(check);
        let speaks = |f: &&Finding| f.option.as_ref().is_none_or(|key| key.0 == option);
        let about: Vec<&Finding> = found.iter().filter(speaks).collect();
        assert!(about.is_empty(), "`{}` speaks: {about:#?}", check.name);
    }
}
