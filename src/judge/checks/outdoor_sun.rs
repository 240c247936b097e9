//! `outdoor-sun`: a top coat that is not made for the sun, outdoors.
//!
//! Sunlight chalks and dulls a coat that is not UV-stable, besides turning it amber. Caution for every
//! floor whose top coat is not, on a patio or on steps outdoors. Common practice, no published source.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::Case;

pub const CHECK: Check =
    Check::new("outdoor-sun", FindingPlace::Floors, Source::CommonPractice, find)
        .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    if !case.job.place.as_ref().is_some_and(|place| place.outdoors) {
        return vec![];
    }
    each_floor(case, |option| {
        let stable = option.floor.top().is_none_or(|top| top.uv_stable);
        (!stable).then(|| CHECK.caution())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_outdoors_for_a_top_that_is_not_made_for_the_sun() {
        let patio = sample().in_space("patio", "");
        CHECK.says([
            (patio.clone(), "clear-epoxy, water-kit", CAUTION),
            // Stays silent for a UV-stable top.
            (patio, "barrier, fast-cure", SILENT),
            // Steps are outdoors where the job says so.
            (sample().in_space("steps", "outdoors = true"), "clear-epoxy", CAUTION),
            (
                sample().in_space("steps", "outdoors = false, daylight = true"),
                "clear-epoxy",
                SILENT,
            ),
            (sample().in_space("garage", "daylight = true"), "clear-epoxy", SILENT),
            (sample().job("garage.daylight", "true"), "clear-epoxy", SILENT),
        ]);
    }
}
