//! `surface-ph`: the pH of the slab's surface against the range on a coat's data sheet.
//!
//! Stop outside the range; note where a data sheet has one and nobody measured.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("surface-ph", FindingPlace::Slab, Source::DataSheet, find)
    .severities(&[Severity::Stop, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_floor(case, |option| {
        let (from, to) = option.floor.first()?.ph?;
        let finding = match case.job.slab.ph {
            None => CHECK.note(),
            Some(ph) if ph < from || ph > to => {
                let limit = if ph < from { from } else { to };
                CHECK.stop().measured(Figure::Ph(ph)).limit(Figure::Ph(limit))
            }
            Some(_) => return None,
        };
        Some(finding.value("from", Figure::Ph(from)).value("to", Figure::Ph(to)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn range() -> Sample {
        sample()
            .book("product.polyurea-primer.ph-from", "6")
            .book("product.polyurea-primer.ph-to", "11")
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Stops outside the range of the data sheet.
            (range().job("slab.ph", "11.5"), "fast-cure", STOP),
            (range().job("slab.ph", "5.5"), "fast-cure", STOP),
            (range(), "fast-cure", NOTE),
            // Stays silent within the range and without one.
            (range().job("slab.ph", "11"), "fast-cure", SILENT),
            (range().job("slab.ph", "6"), "fast-cure", SILENT),
            (range().job("slab.ph", "12"), "barrier", SILENT),
        ]);
    }
}
