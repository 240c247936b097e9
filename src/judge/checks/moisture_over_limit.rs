//! `moisture-over-limit`: the moisture readings against an option's own limits.
//!
//! Stop when a reading is over a limit, or a plastic sheet that the data sheet asks for was damp.
//! Caution when a reading is nearer to the limit than it can tell, or was over it within the last
//! year on a slab with nothing known beneath.

use jiff::civil::Date;

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::{Case, FloorOption};
use crate::site::method::TestMethod;
use crate::site::moisture::{ReadingRole, Series};
use crate::site::standing::{Headroom, Standing, StandingReason};

pub const CHECK: Check = Check {
    name: "moisture-over-limit",
    place: FindingPlace::Moisture,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Caution],
    limits: &[],
    find,
};

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
            let moisture = &case.site.moisture;
            let before = match method {
                TestMethod::Dish => reading_before(moisture.mver.as_ref()?, at, Figure::Mver)?,
                TestMethod::Probe => {
                    reading_before(moisture.rh.as_ref()?, at, Figure::SlabHumidity)?
                }
                TestMethod::Sheet => return None,
            };
            let finding = with_limit(found(Severity::Caution, "was"), choice, method);
            Some(
                finding
                    .measured(before.value)
                    .value("place", moisture.place(method, at)?.to_owned())
                    .value("read", before.read)
                    .value("now", before.now)
                    .value("answered", before.answered),
            )
        }
        _ => None,
    }
}

/// A reading over the limit, and the later one that answered it.
struct Before {
    value: Figure,
    read: Date,
    now: Figure,
    answered: Date,
}

fn reading_before<Q: Copy>(
    series: &Series<Q>,
    at: usize,
    figure: fn(Q) -> Figure,
) -> Option<Before> {
    let over = series.readings.get(at)?;
    let ReadingRole::Answered(answer) = over.part else { return None };
    let later = series.readings.get(answer)?;
    Some(Before {
        value: figure(over.value),
        read: over.to.date(),
        now: figure(later.value),
        answered: later.to.date(),
    })
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
