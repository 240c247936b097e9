//! `window-missed`: a coat that was laid before or after the time that the coat below it allows.
//!
//! Caution: too early, the lower coat is still soft or gives off solvent; too late, the upper one may not
//! hold on it unless it was abraded. By the data sheet's times at the temperatures that were written down.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_coat_laid};
use crate::judge::laid::window::{CLOCKS, WindowKept};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("clocks", CLOCKS.shown(Figure::Hours(CLOCKS.value)))],
    ..Check::new("window-missed", FindingPlace::Shop, Source::DataSheet, find)
        .severities(&[Severity::Caution])
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| {
        let missed = coat.records.iter().filter_map(|one| {
            let window = one.window?;
            let limit = match window.kept {
                WindowKept::Early => Figure::NoShorter(window.from?),
                WindowKept::Late => Figure::NoLonger(window.to?),
                WindowKept::Kept | WindowKept::NotKnown => return None,
            };
            let finding = CHECK.caution().limit(limit).value("kept", window.kept.word());
            Some(match window.waited {
                Some(waited) => finding.measured(Figure::Hours(waited.max(CLOCKS.value))),
                None => finding,
            })
        });
        missed.collect::<Vec<_>>()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// Barrier epoxy at 68 F, between the rows of its sheet at 50 and 77 F, straight in the logarithm: from
    /// 22^(1/3) x 10^(2/3) = 13.0 h to 60^(1/3) x 36^(2/3) = 42.7 h after its end at 12:15.
    #[test]
    fn too_early_and_too_late_are_told() {
        let top = |start: &str, end: &str| {
            let top = TOP.replace("2026-05-27T09:00:00", start).replace("2026-05-27T09:40:00", end);
            laid(&[BARRIER, &top])
        };
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            (top("2026-05-27T01:00:00", "2026-05-27T02:00:00"), "barrier", CAUTION),
            (top("2026-05-27T01:45:00", "2026-05-27T02:00:00"), "barrier", SILENT),
            (top("2026-05-28T06:45:00", "2026-05-28T08:00:00"), "barrier", SILENT),
            (top("2026-05-28T07:30:00", "2026-05-28T08:00:00"), "barrier", CAUTION),
        ]);
        let early = top("2026-05-27T01:00:00", "2026-05-27T02:00:00");
        assert_eq!(early.values(&CHECK, "kept"), [Figure::from("early")]);
    }

    /// Without the end of the lower coat nobody knows that the wait was long enough; that it was too short
    /// is certain where it was too short from its start.
    #[test]
    fn a_missing_end_is_not_known() {
        let open = BARRIER.replace("end = 2026-05-26T12:15:00, ", "");
        let early = TOP.replace("2026-05-27T09:00:00", "2026-05-26T20:00:00");
        let late = TOP.replace("2026-05-27T09", "2026-05-30T09");
        CHECK.says([
            (laid(&[&open, TOP]), "barrier", SILENT),
            (laid(&[&open, &early]), "barrier", CAUTION),
            (laid(&[&open, &late]), "barrier", SILENT),
            (laid(&[&BARRIER.replace("slab = \"68 F\", ", ""), &early]), "barrier", SILENT),
        ]);
    }
}
