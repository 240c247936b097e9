//! `laid-out-of-conditions`: air or surface when a coat went down, outside of what its data sheet takes.
//!
//! Caution: the coat may have hardened badly or taken water. The dew point is the one that follows from air
//! and humidity of the same record.

use crate::base::figure::Figure;
use crate::judge::checks::air_humidity::USUAL_LIMIT;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source, each_coat_laid};
use crate::judge::laid::conditions::{ConditionKept, Conditions};
use crate::model::book::Resin;
use crate::model::job::CoatRecord;
use crate::price::case::Case;
use crate::site::dew_point::LEAST_SPREAD;

pub const CHECK: Check = Check {
    limits: &[
        ("humidity", USUAL_LIMIT.shown(Figure::Humidity(USUAL_LIMIT.value))),
        ("spread", Limit::new(Figure::Degrees(LEAST_SPREAD), HANDBOOK)),
    ],
    ..Check::new("laid-out-of-conditions", FindingPlace::Shop, Source::DataSheet, find)
        .severities(&[Severity::Caution])
};

/// The source of the spread where the data sheet asks for none.
const HANDBOOK: Source = Source::Published("MIL-HDBK-1110, section 9.6.6");

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| {
        let Some(resin) = coat.coat.resin() else { return vec![] };
        let missed = coat.records.iter().filter_map(|one| Some((one.record, one.conditions?)));
        missed.flat_map(|(record, held)| of_record(resin, record, &held)).collect::<Vec<_>>()
    })
}

fn of_record(resin: &Resin, record: &CoatRecord, held: &Conditions) -> Vec<Finding> {
    let finding =
        |what: &str| CHECK.caution().value("what", what).value("day", record.start.date());
    let mut found = vec![];
    if let Some(slab) = record.slab.filter(|_| held.slab == ConditionKept::Missed) {
        let (what, limit) = if slab < resin.slab_from {
            ("cold", resin.slab_from)
        } else {
            ("warm", resin.slab_to)
        };
        let measured = finding(what).measured(Figure::Temperature(slab));
        found.push(measured.limit(Figure::Temperature(limit)));
    }
    if let Some(humidity) = record.humidity.filter(|_| held.humidity == ConditionKept::Missed) {
        let measured = finding("damp").measured(Figure::Humidity(humidity));
        let limit = held.most_humidity;
        found.push(measured.limit(Figure::Humidity(limit.value)).by(limit.source));
    }
    if let Some(spread) = held.spread.filter(|_| held.over_dew_point == ConditionKept::Missed) {
        let measured = finding("dew").measured(spread).limit(held.least_spread);
        let by_sheet = resin.dew_spread.is_some_and(|asked| asked != LEAST_SPREAD);
        found.push(if by_sheet { measured } else { measured.by(HANDBOOK) });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn what_the_sheet_does_not_take_is_told() {
        let with = |from: &str, to: &str| laid(&[&BARRIER.replace(from, to), TOP]);
        let slab = "slab = \"68 F\"";
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            // The sample book's barrier epoxy: 50 to 90 F, air of 85 % or less.
            (with(slab, "slab = \"49 F\""), "barrier", CAUTION),
            (with(slab, "slab = \"91 F\""), "barrier", CAUTION),
            (with("\"50 %\"", "\"86 %\""), "barrier", CAUTION),
            // 70 F and 80 % have their dew point at 63.6 F (psychrolib 2.5.0): 4.4 F below the surface.
            (with("\"50 %\"", "\"80 %\""), "barrier", CAUTION),
            (with("\"50 %\"", "\"75 %\""), "barrier", SILENT),
            (with("slab = \"68 F\", ", ""), "barrier", SILENT),
        ]);
        let dew = with("\"50 %\"", "\"80 %\"").values(&CHECK, "what");
        assert_eq!(dew, [Figure::from("dew")]);
    }
}
