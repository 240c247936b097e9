//! `salts`: white bloom on the slab.
//!
//! Caution: salts are left where moisture came up and dried, so the bloom tells of water that
//! moves, whatever a test on one day read. Said more sharply of a floor without a barrier. Note
//! where nobody looked.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("salts", FindingPlace::Slab, Source::CommonPractice, find)
    .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    match case.job.slab.salts {
        Some(false) => vec![],
        None => vec![CHECK.note()],
        Some(true) => each_floor(case, |option| {
            Some(CHECK.caution().yes_no("barrier", option.floor.has_barrier()))
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_on_white_bloom() {
        let bloom = sample().job("slab.salts", "true").job("offer", "[\"barrier\", \"fast-cure\"]");
        bloom.expect(&CHECK, "barrier", Severity::Caution);
        bloom.expect(&CHECK, "fast-cure", Severity::Caution);
        let barrier = bloom.values(&CHECK, "barrier");
        assert_eq!(barrier, [Figure::from("yes"), Figure::from("no")]);
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([(sample().without("slab.salts"), "", NOTE), (sample(), "fast-cure", SILENT)]);
    }
}
