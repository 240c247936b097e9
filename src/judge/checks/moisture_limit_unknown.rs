//! `moisture-limit-unknown`: the slab was tested, and the data sheet of the coat on the concrete has
//! no limit for the method that was used.
//!
//! The two methods are never converted, so the reading cannot be compared: the floor waits for its
//! maker's word, or for the test that its data sheet names. Where such a reading is high and nothing
//! holds moisture back, the floor is not offered until its maker answers. Silent where another
//! method settles it, one way or the other.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::{Case, FloorOption};
use crate::site::method::TestMethod;
use crate::site::standing::{FloorMoisture, Standing, StandingReason};

pub const CHECK: Check =
    Check::new("moisture-limit-unknown", FindingPlace::Moisture, Source::DataSheet, find)
        .severities(&[Severity::Wait]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_floor(case, |option| finding(case, option))
}

fn finding(case: &Case<'_>, option: &FloorOption<'_>) -> Option<Finding> {
    let FloorMoisture { standing: Standing::NotJudged, reasons, .. } = &option.moisture else {
        return None;
    };
    let without = |method| reasons.contains(&StandingReason::NoLimit(method));
    let method = match (without(TestMethod::Dish), without(TestMethod::Probe)) {
        (true, true) => "both",
        (true, false) => "dish",
        (false, true) => "probe",
        (false, false) => return None,
    };
    let finding = CHECK.wait().value("method", method);
    let Some(high) = option.moisture.asks_maker() else {
        return Some(finding.yes_no("high", false));
    };
    let testing = &case.shop.testing;
    let finding = finding.yes_no("high", true).by(Source::CommonPractice);
    let moisture = &case.site.moisture;
    Some(match high {
        TestMethod::Dish => {
            let reading = moisture.mver.as_ref()?.highest().value;
            finding.measured(Figure::Mver(reading)).limit(Figure::Mver(testing.ask_over_mver))
        }
        TestMethod::Probe | TestMethod::Sheet => {
            let reading = moisture.rh.as_ref()?.highest().value;
            finding
                .measured(Figure::SlabHumidity(reading))
                .limit(Figure::SlabHumidity(testing.ask_over_rh))
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn no_probe_limit(percent: f64) -> Sample {
        sample().without_book("product.polyurea-primer.rh-limit").rh(&[percent, percent, percent])
    }

    #[test]
    fn the_floor_waits_for_its_maker() {
        CHECK.says([
            (no_probe_limit(60.0), "fast-cure", WAIT),
            // Stays silent where the limit is known.
            (sample().rh(&[60.0, 60.0, 60.0]), "fast-cure", SILENT),
            (no_probe_limit(60.0), "barrier", SILENT),
        ]);
        assert_eq!(no_probe_limit(60.0).values(&CHECK, "high"), [Figure::from("no")]);
    }

    #[test]
    fn says_when_such_a_reading_is_high() {
        let high = no_probe_limit(97.0);
        assert_eq!(high.values(&CHECK, "high"), [Figure::from("yes")]);
        let found = high.findings(&CHECK);
        assert!(matches!(found[0].limit, Some(Figure::SlabHumidity(_))));
        assert_eq!(found[0].source, Some(Source::CommonPractice));
    }
}
