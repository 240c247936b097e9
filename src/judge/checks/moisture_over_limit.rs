//! `moisture-over-limit`: the moisture readings against an option's own limits.
//!
//! Stop when a reading is over a limit, or a plastic sheet that the data sheet asks for was damp.
//! Caution when a reading is nearer to the limit than it can tell, or was over it within the last
//! year on a slab with nothing known beneath.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::{Case, FloorOption};
use crate::site::method::TestMethod;
use crate::site::moisture::Series;
use crate::site::standing::{Headroom, Standing, StandingReason};

pub const CHECK: Check =
    Check::new("moisture-over-limit", FindingPlace::Moisture, Source::DataSheet, find)
        .severities(&[Severity::Stop, Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let of = |choice| move |reason: &StandingReason| finding(case, choice, *reason);
    case.options
        .iter()
        .flat_map(|choice| choice.moisture.reasons.iter().filter_map(of(choice)))
        .collect()
}

fn finding(case: &Case<'_>, choice: &FloorOption<'_>, reason: StandingReason) -> Option<Finding> {
    let found = |severity, kind: &'static str| {
        Finding::new(&CHECK, severity).about(choice).value("over", kind)
    };
    match reason {
        StandingReason::Over(method) => {
            Some(with_limit(found(Severity::Stop, "yes"), choice, method))
        }
        StandingReason::DampSheet => Some(found(Severity::Stop, "sheet")),
        StandingReason::Near(method) => {
            Some(with_limit(found(Severity::Caution, "near"), choice, method))
        }
        // A floor that is over by what counts now has that said, and no more.
        StandingReason::WasOver(..) if choice.moisture.standing == Standing::Over => None,
        StandingReason::WasOver(method, at) => {
            let finding = with_limit(found(Severity::Caution, "was"), choice, method);
            let (dishes, probes) = (&case.site.moisture.mver, &case.site.moisture.rh);
            match method {
                TestMethod::Dish => with_answer(finding, dishes.as_ref()?, at, Figure::Mver),
                TestMethod::Probe => {
                    with_answer(finding, probes.as_ref()?, at, Figure::SlabHumidity)
                }
                TestMethod::Sheet => None,
            }
        }
        _ => None,
    }
}

/// A finding with a reading over the limit, and with the later one that answered it.
fn with_answer<Q: Copy>(
    finding: Finding,
    series: &Series<Q>,
    at: usize,
    figure: fn(Q) -> Figure,
) -> Option<Finding> {
    let over = series.readings.get(at)?;
    let later = series.readings.get(over.answer?)?;
    let finding = finding.measured(figure(over.value)).value("place", over.place.clone());
    let finding = finding.value("read", over.to.date()).value("now", figure(later.value));
    Some(finding.value("answered", later.to.date()))
}

/// A finding with the highest reading of a method and the floor's limit for it.
fn with_limit(finding: Finding, choice: &FloorOption<'_>, method: TestMethod) -> Finding {
    fn both<Q: Copy>(
        finding: Finding,
        room: Option<Headroom<Q>>,
        figure: fn(Q) -> Figure,
    ) -> Finding {
        match room {
            Some(room) => finding.measured(figure(room.reading)).limit(figure(room.limit)),
            None => finding,
        }
    }
    match method {
        TestMethod::Dish => both(finding, choice.moisture.mver, Figure::Mver),
        TestMethod::Probe => both(finding, choice.moisture.rh, Figure::SlabHumidity),
        TestMethod::Sheet => finding,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn reading(pounds: f64) -> Sample {
        sample().mver(&[pounds, 1.0, 1.0])
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Fires over the limit by however little.
            (reading(3.6), "fast-cure", STOP),
            (reading(3.05), "fast-cure", STOP),
            (sample().rh(&[90.0, 70.0, 70.0]), "fast-cure", STOP),
            // Stays silent well below the limit.
            (reading(2.0), "fast-cure", SILENT),
            (reading(3.6), "barrier", SILENT),
        ]);
    }

    /// ASTM D4263: moisture below the sheet or darker concrete is damp. It counts for a floor whose data sheet asks
    /// for that test, and for no other.
    #[test]
    fn a_damp_sheet_stops_a_floor_that_asks_for_one() {
        let found = |found: &str| {
            let sheet = format!(
                "[{{ place = \"door\", taped = 2026-05-06T09:00:00, \
                 lifted = 2026-05-07T09:00:00, sealed = true, found = \"{found}\" }}]"
            );
            sample()
                .book("product.polyurea-primer.moisture-test", "\"plastic-sheet\"")
                .job("moisture.plastic-sheet", &sheet)
        };
        CHECK.says([
            (found("damp"), "fast-cure", STOP),
            (found("damp"), "clear-epoxy", SILENT),
            (found("dry"), "fast-cure", SILENT),
        ]);
        assert_eq!(found("damp").values(&CHECK, "over"), [Figure::from("sheet")]);
    }

    #[test]
    fn cautions_where_the_scale_cannot_tell() {
        reading(2.9).expect(&CHECK, "fast-cure", Severity::Caution);
        assert_eq!(reading(2.9).values(&CHECK, "over")[0], Figure::from("near"));
    }
}
