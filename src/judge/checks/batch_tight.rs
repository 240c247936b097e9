//! `batch-tight`: a coat whose smallest batch is on the floor only shortly before it gels.
//!
//! The book says in what part of the pot life a batch should be out of the pail. Caution, for the
//! shop alone: more hands, or a cooler hour of the day.

use crate::judge::checks::batch_gels::batches_of;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::batches::BatchVerdict;
use crate::price::case::Case;

pub const CHECK: Check = Check::new("batch-tight", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    batches_of(case, BatchVerdict::Tight, || CHECK.caution())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn with(minutes: &str) -> Sample {
        sample()
            .book("product.polyurea-primer.cure.0.pot-life", minutes)
            .book("product.polyurea-primer.cure.1.pot-life", minutes)
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // The smallest batch takes 5.47 minutes, as `batch-gels` reckons; three quarters of 7.29.
            (with("\"7.2 min\""), "fast-cure", CAUTION),
            // Stays silent where there is time and where there is none.
            (with("\"7.4 min\""), "fast-cure", SILENT),
            (with("\"5.4 min\""), "fast-cure", SILENT),
        ]);
    }
}
