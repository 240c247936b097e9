//! `batch-gels`: a coat of which even the smallest batch gels before it is on the floor.
//!
//! Compares the pot life at the slab's temperature with the time that the crew needs to stir and
//! roll out the smallest batch that it mixes (the book's `smallest`, or a whole kit). Stop: the
//! floor cannot be laid well here with this crew.

use crate::base::figure::Figure;
use crate::base::names::Key;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::batches::{BatchVerdict, Batches};
use crate::price::case::{Case, FloorOption};

pub const CHECK: Check = Check::new("batch-gels", FindingPlace::Floors, Source::DataSheet, find)
    .severities(&[Severity::Stop]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    batches_of(case, BatchVerdict::Gels, || CHECK.stop())
}

/// A finding for each coat of every floor whose batches stand so against their pot life.
pub fn batches_of(
    case: &Case<'_>,
    verdict: BatchVerdict,
    finding: impl Fn() -> Finding,
) -> Vec<Finding> {
    let all = case.options.iter().flat_map(|choice| {
        choice.estimate.batches.iter().map(move |(coat, batches)| (choice, coat, batches))
    });
    let of_coat = |(choice, coat, batches): (&FloorOption<'_>, &Key, &Batches)| {
        let product = choice.floor.resins().find(|(floor_coat, _)| floor_coat.spec.key == *coat);
        let name = product.map_or_else(|| coat.0.clone(), |(coat, _)| coat.product.name.clone());
        finding()
            .about(choice)
            .limit(Figure::NoLonger(batches.pot_life))
            .value("coat", name)
            .value("batch", batches.volume)
            .value("placed_in", Figure::NoShorter(batches.placed_in))
    };
    all.filter(|(.., batches)| batches.verdict == verdict).map(of_coat).collect()
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
