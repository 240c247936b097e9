//! `pot-life-passed`: batches that took longer on the floor than they may, on the average.
//!
//! Note: the number of batches is the plan's, since nobody writes it down. From the moment its parts met, a
//! batch had the book's time for mixing and its share of the time from start to end.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_coat_laid};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("pot-life-passed", FindingPlace::Shop, Source::DataSheet, find)
    .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| {
        let passed = coat.records.iter().filter_map(|one| {
            let pot = one.pot_life.filter(|pot| pot.is_passed())?;
            let finding = CHECK.note().measured(Figure::Hours(pot.took));
            Some(finding.limit(Figure::NoLonger(pot.pot_life)))
        });
        passed.collect::<Vec<_>>()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The topcoat gels after 28^(1/3) x 15^(2/3) = 18.5 min at 68 F.
    #[test]
    fn a_coat_that_took_all_day_is_told() {
        let long = TOP.replace("T09:40:00", "T17:00:00");
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            (laid(&[BARRIER, &long]), "barrier", NOTE),
            (laid(&[BARRIER, &long.replace("slab = \"68 F\", ", "")]), "barrier", SILENT),
        ]);
    }
}
