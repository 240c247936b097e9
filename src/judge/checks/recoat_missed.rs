//! `recoat-missed`: a coat that the plan lays later than the coat below it allows.
//!
//! Compares the schedule with the data sheet's latest time for the next coat. Caution, since
//! there is a remedy: abrade and wipe, as the data sheet says, then coat.

use crate::base::figure::Figure;
use crate::base::quantity::Hours;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::{Case, FloorOption};
use crate::price::estimate::labor::Task;
use crate::price::schedule::MissedRecoat;

pub const CHECK: Check = Check::new("recoat-missed", FindingPlace::Floors, Source::DataSheet, find)
    .severities(&[Severity::Caution]);

/// The least delay that is told: five minutes, the step in which minutes are written.
const LEAST_TOLD: Hours = Hours::minutes(5.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let of = |choice| move |missed| finding(choice, missed);
    let missed = case.options.iter().map(|choice| (choice, &choice.estimate.schedule.missed));
    missed.flat_map(|(choice, missed)| missed.iter().map(of(choice))).collect()
}

fn finding(choice: &FloorOption<'_>, missed: &MissedRecoat) -> Finding {
    let coats = &choice.floor.coats;
    let coat = coats.iter().find(|coat| missed.task == Task::Coat(coat.spec.key.clone()));
    CHECK
        .caution()
        .about(choice)
        .value("coat", coat.map_or("", |coat| coat.product.name.as_str()))
        .value("late_by", Figure::NoShorter(missed.late_by.max(LEAST_TOLD)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The primer takes a coat from 2 h on, at every temperature. Two persons scrape 484 ft2 at
    /// 450 ft2/h each in 0.54 h, so that the topcoat starts 2.54 h after the primer.
    fn latest(hours: &str) -> Sample {
        ["0", "1"].iter().fold(sample(), |sample, row| {
            let cure = format!("product.polyurea-primer.cure.{row}");
            sample
                .book(&format!("{cure}.recoat-from"), "\"2 h\"")
                .book(&format!("{cure}.recoat-to"), &format!("\"{hours} h\""))
        })
    }

    #[test]
    fn fires_past_the_latest_time_and_stays_silent_within_the_window() {
        CHECK.says([
            (latest("2.5"), "fast-cure", CAUTION),
            (latest("2.6"), "fast-cure", SILENT),
            (sample(), EVERY_FLOOR, SILENT),
        ]);
        let found = latest("2.5").findings(&CHECK);
        assert_eq!(found[0].values[0], ("coat", "Polyaspartic topcoat".into()));
        assert_eq!(found[0].values[1], ("late_by", Figure::NoShorter(LEAST_TOLD)));
    }
}
