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

/// The barrier coat of the sample, 22 ft by 22 ft, laid as planned: 484 ft2 at 100 ft2/gal, with 1.19 gal in
/// the texture, read at 15 places.
pub const BARRIER: &str = "{ coat = \"barrier\", start = 2026-05-26T11:00:00, end = 2026-05-26T12:15:00, \
    air = \"70 F\", humidity = \"50 %\", slab = \"68 F\", used = \"6.4 gal\", films = [\"16 mil\", \"16 mil\", \
    \"16 mil\", \"16 mil\", \"16 mil\", \"16 mil\", \"16 mil\", \"16 mil\", \"16 mil\", \"16 mil\", \"16 mil\", \
    \"16 mil\", \"16 mil\", \"16 mil\", \"16 mil\"], gauge-step = \"1 mil\" }";
/// Its topcoat, laid as planned: 484 ft2 at 120 ft2/gal, 13.4 mil wet.
pub const TOP: &str = "{ coat = \"top\", start = 2026-05-27T09:00:00, end = 2026-05-27T09:40:00, \
    air = \"70 F\", humidity = \"50 %\", slab = \"68 F\", used = \"4.2 gal\", films = [\"13 mil\", \"13 mil\", \
    \"13 mil\", \"13 mil\", \"13 mil\", \"13 mil\", \"13 mil\", \"13 mil\", \"13 mil\", \"13 mil\", \"13 mil\", \
    \"13 mil\", \"13 mil\", \"13 mil\", \"13 mil\"], gauge-step = \"1 mil\" }";

/// The sample with its barrier floor accepted, and these records of it.
pub fn laid(records: &[&str]) -> Sample {
    sample()
        .job("accepted", "{ revision = 1, floor = \"barrier\", on = 2026-05-20 }")
        .job("laid", &format!("[{}]", records.join(", ")))
}

/// A record with three readings of this film alone.
pub fn few(record: &str, film: &str) -> String {
    let (before, rest) = record.split_once("films = [").unwrap();
    let (_, after) = rest.split_once(']').unwrap();
    format!("{before}films = [\"{film}\", \"{film}\", \"{film}\"]{after}")
}

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
