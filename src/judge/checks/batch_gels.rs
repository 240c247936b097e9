//! `batch-gels`: a coat of which even the smallest batch gels before it is on the floor.
//!
//! Compares the pot life at the slab's temperature with the time that the crew needs to stir and
//! roll out the smallest batch that it mixes (the book's `smallest`, or a whole kit). Stop: the
//! floor cannot be laid well here with this crew.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::batches::BatchVerdict;
use crate::price::case::{Case, FloorOption};

pub const CHECK: Check = Check {
    name: "batch-gels",
    place: FindingPlace::Floors,
    source: Source::DataSheet,
    severities: &[Severity::Stop],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let of = |choice| batches_of(choice, BatchVerdict::Gels, &CHECK, Severity::Stop);
    case.options.iter().flat_map(of).collect()
}

/// A finding for each coat of a floor whose batches stand so against their pot life.
pub fn batches_of(
    choice: &FloorOption<'_>,
    verdict: BatchVerdict,
    check: &'static Check,
    severity: Severity,
) -> Vec<Finding> {
    let mut found = vec![];
    for (coat, batches) in &choice.estimate.batches {
        if batches.verdict != verdict {
            continue;
        }
        let product = choice.floor.resins().find(|(floor_coat, _)| floor_coat.spec.key == *coat);
        let name = product.map_or_else(|| coat.0.clone(), |(coat, _)| coat.product.name.clone());
        found.push(
            Finding::new(check, severity)
                .about(choice)
                .limit(Figure::NoLonger(batches.pot_life))
                .value("coat", name)
                .value("batch", batches.volume)
                .value("placed_in", Figure::NoShorter(batches.placed_in)),
        );
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// 484 ft2 at 300 ft2/h and two persons are 48.4 minutes for (484 / 150 + 1.188 of texture) /
    /// 0.9 = 4.905 gallons of primer: a quart takes 2.47 minutes, and 3 to stir it.
    #[test]
    fn fires_when_the_pot_life_is_shorter_than_the_smallest_batch() {
        let with = |minutes: &str| {
            sample()
                .book("product.polyurea-primer.cure.0.pot-life", minutes)
                .book("product.polyurea-primer.cure.1.pot-life", minutes)
        };
        with("\"5.4 min\"").expect(&CHECK, "fast-cure", Severity::Stop);
        with("\"5.4 min\"").expect_silent(&CHECK, "barrier");
        let coats = with("\"5.4 min\"").values(&CHECK, "coat");
        assert_eq!(coats, [Figure::from("Fast-cure polyurea primer")]);
        with("\"5.5 min\"").expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn fires_and_stays_silent() {
        let whole = sample().book("product.polyurea-primer.whole-kits", "true");
        CHECK.says([
            // Fires when a whole kit is too much.
            (whole, "fast-cure", STOP),
            // Stays silent on every floor of the sample.
            (sample(), EVERY_FLOOR, SILENT),
        ]);
    }
}
