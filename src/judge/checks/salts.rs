//! `salts`: white bloom on the slab.
//!
//! Caution: salts are left where moisture came up and dried, so the bloom tells of water that
//! moves, whatever a test on one day read. Said more sharply of a floor without a barrier. Note
//! where nobody looked.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "salts",
    place: FindingPlace::Slab,
    source: Source::CommonPractice,
    severities: &[Severity::Caution, Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    match case.job.slab.salts {
        Some(false) => vec![],
        None => vec![Finding::new(&CHECK, Severity::Note)],
        Some(true) => case
            .options
            .iter()
            .map(|option| {
                let barrier = if option.floor.has_barrier() { "yes" } else { "no" };
                Finding::new(&CHECK, Severity::Caution).about(option).value("barrier", barrier)
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing;

    #[test]
    fn fires_on_white_bloom() {
        let bloom = testing::sample()
            .job("slab.salts", "true")
            .job("offer", "[\"barrier\", \"fast-cure\"]");
        bloom.expect(&CHECK, "barrier", Severity::Caution);
        bloom.expect(&CHECK, "fast-cure", Severity::Caution);
        let barrier = bloom.values(&CHECK, "barrier");
        assert_eq!(barrier, [Figure::from("yes"), Figure::from("no")]);
    }

    #[test]
    fn notes_that_nobody_looked() {
        testing::sample().without("slab.salts").expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn stays_silent_without_bloom() {
        testing::sample().expect_silent(&CHECK, "fast-cure");
    }
}
