//! `barrier-permeance`: how much water vapor a barrier lets through, by its data sheet.
//!
//! Caution above 0.1 perm, which ASTM F3010 sets for membranes of resin (from memory); note where
//! the data sheet names no figure. Never a stop: the coat's own moisture limit decides.

use crate::base::figure::Figure;
use crate::base::quantity::Permeance;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "barrier-permeance",
    place: FindingPlace::Floors,
    source: Source::Unverified("ASTM F3010"),
    severities: &[Severity::Caution, Severity::Note],
    limits: &[("most", Figure::Permeance(MOST))],
    find,
};

/// The most that a membrane of resin lets through: ASTM F3010, from memory.
const MOST: Permeance = Permeance::perms(0.1);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let mut found = vec![];
    for option in &case.options {
        let barrier = option.floor.resins().find(|(_, resin)| resin.barrier);
        let Some((_, resin)) = barrier else { continue };
        match resin.permeance {
            None => found.push(Finding::new(&CHECK, Severity::Note).about(option)),
            Some(permeance) if permeance > MOST => found.push(
                Finding::new(&CHECK, Severity::Caution)
                    .about(option)
                    .measured(Figure::Permeance(permeance))
                    .limit(Figure::Permeance(MOST)),
            ),
            Some(_) => {}
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn lets_through(perms: &str) -> Sample {
        testing::sample().book("product.barrier-epoxy.permeance", perms)
    }

    #[test]
    fn cautions_above_a_tenth_of_a_perm() {
        lets_through("\"0.2 perm\"").expect(&CHECK, "barrier", Severity::Caution);
    }

    #[test]
    fn notes_a_data_sheet_without_the_figure() {
        let silent = testing::sample().without_book("product.barrier-epoxy.permeance");
        silent.expect(&CHECK, "barrier", Severity::Note);
    }

    #[test]
    fn stays_silent_at_a_tenth_and_for_floors_without_a_barrier() {
        lets_through("\"0.1 perm\"").expect_silent(&CHECK, "barrier");
        lets_through("\"0.2 perm\"").expect_silent(&CHECK, "fast-cure");
    }
}
