//! `coat-not-agreed`: a coat was laid that belongs to an extra of the floor which nobody ordered.
//!
//! Note: it may have been a favor, or the order is not written down.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_coat_laid};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("coat-not-agreed", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| (!coat.agreed && !coat.records.is_empty()).then(|| CHECK.note()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn a_coat_that_was_not_ordered_is_told() {
        let clear = |additions: &str| {
            let coat = "{ coat = \"urethane\", start = 2026-05-28T09:00:00 }";
            let accepted = format!(
                "{{ revision = 1, floor = \"clear-epoxy\", on = 2026-05-20, additions = [{additions}] }}"
            );
            sample().job("accepted", &accepted).job("laid", &format!("[{coat}]"))
        };
        CHECK.says([
            (clear(""), "clear-epoxy", NOTE),
            (clear("\"urethane-coat\""), "clear-epoxy", SILENT),
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
        ]);
    }
}
