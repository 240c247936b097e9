//! `retarder-unknown`: whether a plastic sheet lies under a slab on the ground.
//!
//! Note: under an older garage slab this is usual, and nobody can look. It is said, so that nobody
//! takes silence for a yes.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::Known;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "retarder-unknown",
    place: FindingPlace::Moisture,
    source: Source::CommonPractice,
    severities: &[Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let slab = &case.job.slab;
    let unknown = slab.on_ground && slab.retarder == Known::Unknown;
    unknown.then(|| Finding::new(&CHECK, Severity::Note)).into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    #[test]
    fn fires_when_not_known() {
        let sample = testing::sample;
        sample().job("slab.vapor-retarder", "\"unknown\"").expect(&CHECK, "", Severity::Note);
        sample().without("slab.vapor-retarder").expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn stays_silent_when_known_or_off_the_ground() {
        testing::sample().expect_silent(&CHECK, "");
        testing::sample().job("slab.vapor-retarder", "\"no\"").expect_silent(&CHECK, "");
        testing::sample()
            .job("slab.vapor-retarder", "\"unknown\"")
            .job("slab.on-ground", "false")
            .expect_silent(&CHECK, "");
    }
}
