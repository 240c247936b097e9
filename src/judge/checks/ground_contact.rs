//! `ground-contact`: a data sheet's own condition for a slab on the ground.
//!
//! Stop where the barrier or the plastic sheet that it asks for is not there or not known. Wait
//! where a clear moisture test would do and a test may still be clear. Silent where the data sheet says
//! nothing: that is `slab-on-ground-no-barrier`.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::{Case, Ground};

pub const CHECK: Check = Check {
    name: "ground-contact",
    place: FindingPlace::Moisture,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Wait],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let finding =
        |severity, asked: &'static str| Finding::new(&CHECK, severity).value("asks", asked);
    case.options
        .iter()
        .filter_map(|option| {
            let found = match option.ground {
                Ground::Met => return None,
                Ground::Waits => finding(Severity::Wait, "sheet-or-test"),
                Ground::Unmet(asked) => finding(Severity::Stop, asked.word()),
            };
            Some(found.about(option))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    /// A slab with nothing known beneath, under a fast-cure primer that asks for something.
    fn asks(what: &str) -> Sample {
        testing::sample()
            .job("slab.vapor-retarder", "\"unknown\"")
            .book("product.polyurea-primer.ground-contact", &format!("\"{what}\""))
    }

    #[test]
    fn stops_where_what_is_asked_for_is_not_known_to_be_there() {
        asks("barrier").expect(&CHECK, "fast-cure", Severity::Stop);
        asks("sheet").expect(&CHECK, "fast-cure", Severity::Stop);
        let damp = asks("sheet-or-test").mver(&[2.9, 1.0, 1.0]);
        damp.expect(&CHECK, "fast-cure", Severity::Stop);
    }

    #[test]
    fn waits_for_a_test_that_would_do() {
        asks("sheet-or-test").without("moisture").expect(&CHECK, "fast-cure", Severity::Wait);
        // Too few, and the next one may settle it; with one close to the limit none can.
        asks("sheet-or-test").mver(&[1.0, 1.0]).expect(&CHECK, "fast-cure", Severity::Wait);
        asks("sheet-or-test").mver(&[2.9, 1.0]).expect(&CHECK, "fast-cure", Severity::Stop);
    }

    #[test]
    fn stays_silent_where_it_is_met() {
        asks("any").expect_silent(&CHECK, "fast-cure");
        asks("sheet-or-test").expect_silent(&CHECK, "fast-cure");
        let sheet = asks("sheet").job("slab.vapor-retarder", "\"yes\"");
        sheet.expect_silent(&CHECK, "fast-cure");
        asks("barrier").job("slab.on-ground", "false").expect_silent(&CHECK, "fast-cure");
        testing::sample().expect_silent(&CHECK, "fast-cure");
    }
}
