//! `barrier-permeance`: how much water vapor a barrier lets through, by its data sheet.
//!
//! Caution above 0.1 perm, which ASTM F3010 sets for membranes of resin (from memory); note where
//! the data sheet names no figure. Never a stop: the coat's own moisture limit decides.

use crate::base::figure::Figure;
use crate::base::quantity::Permeance;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source, each_floor};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("most", MOST.shown(Figure::Permeance(MOST.value)))],
    ..Check::new("barrier-permeance", FindingPlace::Floors, MOST.source, find)
        .severities(&[Severity::Caution, Severity::Note])
};

/// The most that a membrane of resin lets through.
const MOST: Limit<Permeance> = Limit::new(Permeance::perms(0.1), Source::Unverified("ASTM F3010"));

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_floor(case, |option| {
        let (_, barrier) = option.floor.resins().find(|(_, resin)| resin.barrier)?;
        match barrier.permeance {
            None => Some(CHECK.note()),
            Some(permeance) if permeance > MOST.value => Some(
                CHECK
                    .caution()
                    .measured(Figure::Permeance(permeance))
                    .limit(Figure::Permeance(MOST.value)),
            ),
            Some(_) => None,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn lets_through(perms: &str) -> Sample {
        sample().book("product.barrier-epoxy.permeance", perms)
    }

    #[test]
    fn fires_and_stays_silent() {
        let silent = sample().without_book("product.barrier-epoxy.permeance");
        CHECK.says([
            // Cautions above a tenth of a perm.
            (lets_through("\"0.2 perm\""), "barrier", CAUTION),
            // Notes a data sheet without the figure.
            (silent, "barrier", NOTE),
            // Stays silent at a tenth and for floors without a barrier.
            (lets_through("\"0.1 perm\""), "barrier", SILENT),
            (lets_through("\"0.2 perm\""), "fast-cure", SILENT),
        ]);
    }
}
