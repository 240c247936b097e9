//! `ground-contact`: a data sheet's own condition for a slab on the ground.
//!
//! Stop where the barrier or the plastic sheet that it asks for is not there or not known. Wait
//! where a clear moisture test would do and a test may still be clear. Silent where the data sheet says
//! nothing: that is `slab-on-ground-no-barrier`.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::{Case, Ground};

pub const CHECK: Check =
    Check::new("ground-contact", FindingPlace::Moisture, Source::DataSheet, find)
        .severities(&[Severity::Stop, Severity::Wait]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_floor(case, |option| match option.ground {
        Ground::Met => None,
        Ground::Waits => Some(CHECK.wait().value("asks", "sheet-or-test")),
        Ground::Unmet(asked) => Some(CHECK.stop().value("asks", asked.word())),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// A slab with nothing known beneath, under a fast-cure primer that asks for something.
    fn asks(what: &str) -> Sample {
        sample()
            .job("slab.vapor-retarder", "\"unknown\"")
            .book("product.polyurea-primer.ground-contact", &format!("\"{what}\""))
    }

    #[test]
    fn fires_and_stays_silent() {
        let damp = asks("sheet-or-test").mver(&[2.9, 1.0, 1.0]);
        let sheet = asks("sheet").job("slab.vapor-retarder", "\"yes\"");
        CHECK.says([
            // Stops where what is asked for is not known to be there.
            (asks("barrier"), "fast-cure", STOP),
            (asks("sheet"), "fast-cure", STOP),
            (damp, "fast-cure", STOP),
            // Waits for a test that would do.
            (asks("sheet-or-test").without("moisture"), "fast-cure", WAIT),
            // Too few, and the next one may settle it; with one close to the limit none can.
            (asks("sheet-or-test").mver(&[1.0, 1.0]), "fast-cure", WAIT),
            (asks("sheet-or-test").mver(&[2.9, 1.0]), "fast-cure", STOP),
            // Stays silent where it is met.
            (asks("any"), "fast-cure", SILENT),
            (asks("sheet-or-test"), "fast-cure", SILENT),
            (sheet, "fast-cure", SILENT),
            (asks("barrier").job("slab.on-ground", "false"), "fast-cure", SILENT),
            (sample(), "fast-cure", SILENT),
        ]);
    }
}
