//! What a check finds on a job. For tests of checks.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, Severity};
pub use crate::price::testing::{Sample, sample};

impl Sample {
    /// What a check finds on this job.
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
