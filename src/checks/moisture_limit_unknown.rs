//! `moisture-limit-unknown`: the slab was tested, but the first coat's data sheet has no limit for
//! the method that was used.
//!
//! Caution: the two methods are never converted, so the reading cannot be compared. That is not
//! known, and no pass. Silent where the other method was used too and has a limit.

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::options::Case;

pub const CHECK: Check = Check {
    name: "moisture-limit-unknown",
    place: Place::Moisture,
    source: Source::DataSheet,
    severities: &[Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let moisture = &case.site.moisture;
    let method = match (&moisture.mver, &moisture.rh) {
        (Some(_), Some(_)) => "both",
        (Some(_), None) => "dish",
        (None, Some(_)) => "probe",
        (None, None) => return vec![],
    };
    case.options
        .iter()
        .filter(|choice| choice.moisture.mver.is_none() && choice.moisture.rh.is_none())
        .map(|choice| Finding::new(&CHECK, Severity::Caution).about(choice).value("method", method))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing;

    #[test]
    fn fires_where_the_sheet_has_no_limit_for_the_test() {
        testing::sample().without_book("product.polyurea-primer.mver-limit").expect(
            &CHECK,
            "fast-cure",
            Severity::Caution,
        );
        testing::sample()
            .rh(&[60.0, 60.0, 60.0])
            .without_book("product.barrier-epoxy.rh-limit")
            .expect(&CHECK, "barrier", Severity::Caution);
    }

    #[test]
    fn stays_silent_where_the_method_has_a_limit() {
        testing::sample()
            .without_book("product.polyurea-primer.rh-limit")
            .expect_silent(&CHECK, "fast-cure");
        testing::sample()
            .without_book("product.polyurea-primer.mver-limit")
            .expect_silent(&CHECK, "clear-epoxy");
    }

    #[test]
    fn leaves_an_untested_slab_to_its_own_check() {
        testing::sample()
            .without("moisture")
            .without_book("product.polyurea-primer.mver-limit")
            .expect_silent(&CHECK, "fast-cure");
    }
}
