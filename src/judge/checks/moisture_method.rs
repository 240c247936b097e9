//! `moisture-method`: how the moisture tests were done against what their own methods ask for, ASTM
//! F1869 for dishes, ASTM F2170 for probes and ASTM D4263 for plastic sheets.
//!
//! Caution: a reading that was not taken to the method may be too low, and then it does not prove a
//! slab dry. Note where a fault can only have made it read high. One finding for each kind of fault
//! and method; its value `fault` names the kind. Of readings that a later good one has answered
//! nothing is said.

use crate::base::figure::Figure;
use crate::base::quantity::Hours;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::TestSurface;
use crate::price::case::Case;
use crate::site::method::{MethodFault, TestMethod};

pub const CHECK: Check = Check::new(
    "moisture-method",
    FindingPlace::Moisture,
    Source::Published("ASTM F1869, ASTM F2170 and ASTM D4263"),
    find,
)
.severities(&[Severity::Caution, Severity::Note]);

/// The middle of a dish's exposure, which is 60 to 72 hours (ASTM F1869).
const MID_EXPOSURE: Hours = Hours::hours(66.0);
/// The shortest time that figures print; a fault is never "0 minutes".
const LEAST_SHOWN: Hours = Hours::minutes(5.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let moisture = &case.site.moisture;
    let mut found = vec![];
    if let Some(series) = &moisture.mver {
        let doubt = series.highest().doubt;
        let dishes = departures(&series.faults, series.count(), TestMethod::Dish);
        found.extend(dishes.into_iter().map(|finding| finding.value("doubt", doubt)));
    }
    if let Some(series) = &moisture.rh {
        found.extend(departures(&series.faults, series.count(), TestMethod::Probe));
    }
    if let Some(series) = &moisture.sheets {
        found.extend(departures(&series.faults, series.count(), TestMethod::Sheet));
    }
    found
}

/// One finding for each kind of fault, with the figures of the worst of its kind.
fn departures(faults: &[MethodFault], tests: usize, method: TestMethod) -> Vec<Finding> {
    let mut kinds: Vec<&'static str> = vec![];
    let mut found = vec![];
    for fault in faults {
        let kind = fault_kind(fault);
        if kinds.contains(&kind) {
            continue;
        }
        kinds.push(kind);
        let same = || faults.iter().filter(|other| fault_kind(other) == kind);
        let worst = same()
            .max_by(|a, b| distance_from_method(a).total_cmp(&distance_from_method(b)))
            .unwrap_or(fault);
        let finding = with_figures(Finding::new(&CHECK, severity(worst)), worst);
        found.push(
            finding
                .value("fault", kind)
                .value("method", method.word())
                .value("affected", Figure::Count(same().count() as u32))
                .value("tests", Figure::Count(tests as u32)),
        );
    }
    found
}

fn fault_kind(fault: &MethodFault) -> &'static str {
    match fault {
        MethodFault::TooFewTests { .. } => "too-few",
        MethodFault::Exposure { .. } => "exposure",
        MethodFault::Surface { surface: None, .. } => "surface-unknown",
        MethodFault::Surface { surface: Some(TestSurface::Coated), .. } => "surface-coated",
        MethodFault::Surface { .. } => "surface-not-open",
        MethodFault::CoarseScale { .. } => "scale",
        MethodFault::RoomUnknown => "room-unknown",
        MethodFault::RoomOutside { low: true, .. } => "room",
        MethodFault::RoomOutside { low: false, .. } => "room-high",
        MethodFault::NotSettled => "settled",
        MethodFault::WaitTooShort { .. } => "wait",
        MethodFault::Depth { depth, needed, .. } if depth > needed => "depth-high",
        MethodFault::Depth { .. } => "depth",
        MethodFault::DepthUnknown => "depth-unknown",
        MethodFault::CalibrationUnknown { .. } => "calibration-unknown",
        MethodFault::CalibrationOld { .. } => "calibration-old",
        MethodFault::SheetTooShort { .. } => "sheet-short",
        MethodFault::SheetNotSealed { .. } => "sheet-open",
    }
}

/// A note for what can only have made a reading high.
fn severity(fault: &MethodFault) -> Severity {
    match fault {
        MethodFault::CoarseScale { .. } | MethodFault::TooFewTests { .. } => Severity::Caution,
        fault if fault.may_read_low() => Severity::Caution,
        _ => Severity::Note,
    }
}

/// The distance of a fault from the method, to compare faults of one kind.
fn distance_from_method(fault: &MethodFault) -> f64 {
    match fault {
        MethodFault::Exposure { hours, .. } => (hours.as_hours() - MID_EXPOSURE.as_hours()).abs(),
        MethodFault::WaitTooShort { hours, needed, .. }
        | MethodFault::SheetTooShort { hours, needed, .. } => (*needed - *hours).as_hours(),
        MethodFault::Depth { depth, needed, .. } => (*depth - *needed).as_meters().abs(),
        MethodFault::CalibrationOld { days, .. } => f64::from(*days),
        _ => 0.0,
    }
}

fn with_figures(finding: Finding, fault: &MethodFault) -> Finding {
    match fault {
        MethodFault::TooFewTests { done, needed } => {
            finding.measured(Figure::Count(*done)).limit(Figure::Count(*needed))
        }
        MethodFault::Exposure { hours, .. } => finding.measured(rounded_outward(*hours)),
        MethodFault::RoomOutside { temperature, humidity, .. } => finding
            .value("temperature", Figure::Temperature(*temperature))
            .value("humidity", Figure::Humidity(*humidity)),
        MethodFault::WaitTooShort { hours, needed, .. }
        | MethodFault::SheetTooShort { hours, needed, .. } => {
            finding.limit(*needed).value("short_by", (*needed - *hours).max(LEAST_SHOWN))
        }
        MethodFault::Depth { depth, needed, .. } => finding.measured(*depth).limit(*needed),
        MethodFault::CalibrationOld { days, .. } => finding.measured(Figure::Days(*days)),
        _ => finding,
    }
}

/// An exposure in whole hours, away from the middle: 59.8 hours must not print as 60.
fn rounded_outward(exposure: Hours) -> Hours {
    let hours = exposure.as_hours();
    Hours::hours(if exposure < MID_EXPOSURE { hours.floor() } else { hours.ceil() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::quantity::Length;
    use crate::judge::checks::testing::*;

    /// The kinds of fault that are found, each with its severity.
    fn faults(sample: &Sample) -> Vec<(Figure, Severity)> {
        let severities = sample.findings(&CHECK).into_iter().map(|finding| finding.severity);
        sample.values(&CHECK, "fault").into_iter().zip(severities).collect()
    }

    #[track_caller]
    fn only(sample: &Sample, kind: &str, severity: Severity) {
        assert_eq!(faults(sample), [(Figure::from(kind), severity)]);
    }

    fn probes() -> Sample {
        sample().rh(&[60.0, 60.0, 60.0])
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample(), "", SILENT),
            (probes(), "", SILENT),
            // A new probe needs no check.
            (probes().job("moisture.probes.probe.2.calibrated", "\"new\""), "", SILENT),
        ]);
    }

    // Counts, exposure, scale and room: ASTM F1869.
    #[test]
    fn fires_for_dishes_not_to_the_method() {
        let sample = sample;
        only(&sample().mver(&[1.0, 1.0]), "too-few", Severity::Caution);
        let lifted = |time| sample().job("moisture.dishes.dish.1.lifted", time);
        only(&lifted("2026-05-07T20:44:00"), "exposure", Severity::Caution);
        only(&lifted("2026-05-08T09:16:00"), "exposure", Severity::Caution);
        lifted("2026-05-07T21:00:00").expect_silent(&CHECK, "");
        lifted("2026-05-08T09:00:00").expect_silent(&CHECK, "");
        // The quarter of an hour beside them is the walk from dish to dish: common practice.
        lifted("2026-05-07T20:45:00").expect_silent(&CHECK, "");
        lifted("2026-05-08T09:15:00").expect_silent(&CHECK, "");
        only(&sample().job("moisture.dishes.scale", "\"0.2 g\""), "scale", Severity::Caution);
        let cold = sample().job("moisture.dishes.room-temperature", "\"64 F\"");
        only(&cold, "room", Severity::Caution);
        let edge = sample().job("moisture.dishes.room-temperature", "\"65 F\"");
        edge.expect_silent(&CHECK, "");
        let damp = sample().job("moisture.dishes.room-humidity", "\"61 %\"");
        only(&damp, "room", Severity::Caution);
        damp.job("moisture.dishes.room-as-used", "true").expect_silent(&CHECK, "");
    }

    // The spot of a dish is bare, ground concrete that was open for 24 h: ASTM F1869.
    #[test]
    fn fires_for_a_dish_on_another_surface() {
        let on = |surface| sample().job("moisture.dishes.dish.1.surface", surface);
        only(&on("\"coated\""), "surface-coated", Severity::Caution);
        only(&on("\"bare\""), "surface-not-open", Severity::Caution);
        let unknown = sample().without("moisture.dishes.dish.1.surface");
        only(&unknown, "surface-unknown", Severity::Caution);
        let ground = unknown.job("moisture.dishes.dish.1.ground", "2026-05-04T09:00:00");
        ground.expect_silent(&CHECK, "");
    }

    /// Nobody knows which way such a reading is off.
    #[test]
    fn cautions_where_the_room_is_not_known() {
        let room = sample()
            .without("moisture.dishes.room-temperature")
            .without("moisture.dishes.room-humidity");
        only(&room, "room-unknown", Severity::Caution);
        let settled = sample().without("moisture.dishes.settled");
        only(&settled, "settled", Severity::Caution);
        only(&probes().without("moisture.probes.settled"), "settled", Severity::Caution);
    }

    #[test]
    fn notes_what_can_only_read_high() {
        let room = |key: &str, value| sample().job(&format!("moisture.dishes.{key}"), value);
        only(&room("room-temperature", "\"86 F\""), "room-high", Severity::Note);
        only(&room("room-humidity", "\"39 %\""), "room-high", Severity::Note);
        let deep = probes().job("moisture.probes.probe.1.depth", "\"2 in\"");
        only(&deep, "depth-high", Severity::Note);
    }

    // 16 h, sealed all round: ASTM D4263.
    #[test]
    fn fires_for_plastic_sheets_not_to_the_method() {
        let sheet = |lifted: &str, sealed: &str| {
            sample().job(
                "moisture.plastic-sheet",
                &format!(
                    "[{{ place = \"middle\", taped = 2026-05-05T17:00:00, lifted = {lifted}, \
                     sealed = {sealed}, found = \"dry\" }}]"
                ),
            )
        };
        sheet("2026-05-06T09:00:00", "true").expect_silent(&CHECK, "");
        only(&sheet("2026-05-06T08:00:00", "true"), "sheet-short", Severity::Caution);
        only(&sheet("2026-05-06T09:00:00", "false"), "sheet-open", Severity::Caution);
    }

    // Depth 40 % of the slab, 24 h since the 2018 edition, calibrated within 30 days: ASTM F2170.
    #[test]
    fn fires_for_probes_not_to_the_method() {
        only(&sample().rh(&[60.0]), "too-few", Severity::Caution);
        only(&probes().job("moisture.probes.edition", "2011"), "wait", Severity::Caution);
        let read = |time| probes().job("moisture.probes.probe.0.read", time);
        only(&read("2026-05-07T08:50:00"), "wait", Severity::Caution);
        read("2026-05-07T09:00:00").expect_silent(&CHECK, "");
        only(&probes().job("slab.thickness", "\"6 in\""), "depth", Severity::Caution);
        only(&probes().without("slab.thickness"), "depth-unknown", Severity::Caution);
        let checked = |day| probes().job("moisture.probes.probe.2.calibrated", day);
        only(&checked("2026-04-07"), "calibration-old", Severity::Caution);
        checked("2026-04-08").expect_silent(&CHECK, "");
        let unknown = probes().without("moisture.probes.probe.2.calibrated");
        only(&unknown, "calibration-unknown", Severity::Caution);
    }

    #[test]
    fn tells_what_was_done_and_what_is_asked_for() {
        let few = sample().mver(&[1.0, 1.0]).findings(&CHECK);
        assert_eq!(few[0].measured, Some(Figure::Count(2)));
        assert_eq!(few[0].limit, Some(Figure::Count(3)));
        // Read after 48 h, where the edition of 2011 asks for 72.
        let early = probes().job("moisture.probes.edition", "2011");
        assert_eq!(early.findings(&CHECK)[0].limit, Some(Figure::Hours(Hours::hours(72.0))));
        assert_eq!(early.values(&CHECK, "short_by"), [Figure::Hours(Hours::hours(24.0))]);
    }

    /// The worst stands in the middle, so that neither the first nor the last is told by chance.
    #[test]
    fn the_worst_is_the_one_farthest_from_the_method() {
        let sample = sample()
            .job("moisture.dishes.dish.0.lifted", "2026-05-07T20:40:00")
            .job("moisture.dishes.dish.1.lifted", "2026-05-07T09:00:00")
            .job("moisture.dishes.dish.2.lifted", "2026-05-07T20:30:00");
        let measured = sample.findings(&CHECK)[0].measured.clone();
        assert_eq!(measured, Some(Figure::Hours(Hours::hours(48.0))));
        let read = |at: usize| format!("moisture.probes.probe.{at}.read");
        let waits = probes()
            .job(&read(0), "2026-05-07T08:00:00")
            .job(&read(1), "2026-05-06T19:00:00")
            .job(&read(2), "2026-05-07T07:00:00");
        assert_eq!(waits.values(&CHECK, "short_by"), [Figure::Hours(Hours::hours(14.0))]);
        let depth = |at: usize| format!("moisture.probes.probe.{at}.depth");
        let depths = probes()
            .job(&depth(0), "\"1 in\"")
            .job(&depth(1), "\"0.5 in\"")
            .job(&depth(2), "\"0.8 in\"");
        let measured = depths.findings(&CHECK)[0].measured.clone();
        assert_eq!(measured, Some(Figure::Length(Length::inches(0.5))));
    }

    #[test]
    fn tells_the_worst_of_a_kind_and_how_many() {
        let two = sample()
            .job("moisture.dishes.dish.0.lifted", "2026-05-07T20:40:00")
            .job("moisture.dishes.dish.2.lifted", "2026-05-07T09:00:00");
        let found = two.findings(&CHECK);
        assert_eq!(found[0].measured, Some(Figure::Hours(Hours::hours(48.0))));
        assert_eq!(two.values(&CHECK, "affected"), [Figure::Count(2)]);
        let old = probes()
            .job("moisture.probes.probe.0.calibrated", "2026-04-07")
            .job("moisture.probes.probe.1.calibrated", "2026-03-09")
            .job("moisture.probes.probe.2.calibrated", "2026-04-06");
        assert_eq!(old.findings(&CHECK)[0].measured, Some(Figure::Days(60)));
        assert_eq!(old.values(&CHECK, "affected"), [Figure::Count(3)]);
        let unknown = probes()
            .without("moisture.probes.probe.0.calibrated")
            .without("moisture.probes.probe.2.calibrated");
        assert_eq!(unknown.values(&CHECK, "affected"), [Figure::Count(2)]);
        // 59 h 50 min prints as 59 hours.
        assert_eq!(rounded_outward(Hours::hours(59.83)), Hours::hours(59.0));
    }
}
