//! `ambering`: a coat that turns amber, where daylight meets it.
//!
//! Compares the floor's coats with the daylight in the garage. Caution where daylight reaches the
//! floor; a note where it does not, since doors get opened and windows get built. It is a matter
//! of looks and never a stop. Common practice, no published source: see [`Floor::shows_ambering`].
//!
//! [`Floor::shows_ambering`]: crate::price::floor::Floor::shows_ambering

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "ambering",
    place: FindingPlace::Floors,
    source: Source::CommonPractice,
    severities: &[Severity::Caution, Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let severity = if case.job.garage.daylight { Severity::Caution } else { Severity::Note };
    case.options
        .iter()
        .filter(|option| option.floor.shows_ambering())
        .map(|option| Finding::new(&CHECK, severity).about(option))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    #[test]
    fn cautions_in_daylight() {
        let bright = testing::sample().job("garage.daylight", "true");
        bright.expect(&CHECK, "clear-epoxy", Severity::Caution);
        bright.expect(&CHECK, "water-kit", Severity::Caution);
    }

    #[test]
    fn notes_it_in_a_dark_garage() {
        testing::sample().expect(&CHECK, "clear-epoxy", Severity::Note);
    }

    #[test]
    fn stays_silent_under_full_flake_and_a_uv_stable_top() {
        let bright = testing::sample().job("garage.daylight", "true");
        bright.expect_silent(&CHECK, "barrier");
        bright.expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn holds_for_a_fast_cure_top_that_is_not_uv_stable() {
        testing::sample()
            .job("garage.daylight", "true")
            .book("product.polyaspartic-top.uv-stable", "false")
            .expect(&CHECK, "fast-cure", Severity::Caution);
    }
}
