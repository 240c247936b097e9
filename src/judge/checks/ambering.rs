//! `ambering`: a coat that turns amber, where daylight meets it.
//!
//! Compares the floor's coats with the daylight in the garage. Caution where daylight reaches the
//! floor; a note where it does not, since doors get opened and windows get built. It is a matter
//! of looks and never a stop. Common practice, no published source: see [`Floor::shows_ambering`].
//!
//! [`Floor::shows_ambering`]: crate::price::floor::Floor::shows_ambering

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::model::job::Wish;
use crate::price::case::Case;

pub const CHECK: Check = Check::new("ambering", FindingPlace::Floors, Source::CommonPractice, find)
    .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let severity = if case.job.garage.daylight { Severity::Caution } else { Severity::Note };
    each_floor(case, |option| {
        let floor = &option.floor;
        let finding = || {
            let finding = Finding::new(&CHECK, severity);
            let stable_top = floor.top().is_some_and(|top| top.uv_stable);
            let finding = if stable_top { finding.yes_no("below_top", true) } else { finding };
            let wished = case.job.wishes.contains(&Wish::NoYellowing);
            let finding = if wished { finding.yes_no("wished", true) } else { finding };
            if floor.has_flake() { finding } else { finding.yes_no("one_color", true) }
        };
        floor.shows_ambering().then(finding)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        let bright = sample().job("garage.daylight", "true");
        CHECK.says([
            (bright.clone(), "clear-epoxy, water-kit", CAUTION),
            // Notes it in a dark garage.
            (sample(), "clear-epoxy", NOTE),
            // Stays silent under full flake and a UV-stable top.
            (bright, "barrier, fast-cure", SILENT),
            // Holds for a fast-cure top that is not UV-stable.
            (
                sample()
                    .job("garage.daylight", "true")
                    .book("product.polyaspartic-top.uv-stable", "false"),
                "fast-cure",
                CAUTION,
            ),
        ]);
    }
}
