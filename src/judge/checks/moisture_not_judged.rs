//! `moisture-not-judged`: tests were made, and they do not settle a floor.
//!
//! The floor waits: too few places have a good and recent reading, a void reading over the limit was
//! not read again, or the data sheet asks for both methods and one is missing. Silent where another
//! reading is over the limit: that settles it.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::{Case, FloorOption};
use crate::site::method::TestMethod;
use crate::site::standing::{Standing, StandingReason};

pub const CHECK: Check = Check::new(
    "moisture-not-judged",
    FindingPlace::Moisture,
    Source::Published("ASTM F1869, ASTM F2170 and ASTM D4263"),
    find,
)
.severities(&[Severity::Wait]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let of = |option| move |reason: &StandingReason| finding(case, option, *reason);
    case.options
        .iter()
        .filter(|option| option.moisture.standing == Standing::NotJudged)
        .flat_map(|option| option.moisture.reasons.iter().filter_map(of(option)))
        .collect()
}

fn finding(case: &Case<'_>, option: &FloorOption<'_>, reason: StandingReason) -> Option<Finding> {
    let found = |why: &'static str, method: TestMethod| {
        CHECK.wait().about(option).value("why", why).value("method", method.word())
    };
    match reason {
        StandingReason::FewGood { method, good, needed } => Some(
            found("few", method)
                .measured(Figure::Count(good))
                .limit(Figure::Count(needed))
                .value("days", Figure::Days(case.shop.testing.reading_days)),
        ),
        StandingReason::ReadAgain(method, at) => {
            let place = case.site.moisture.place(method, at)?;
            Some(found("void", method).value("place", place.to_owned()))
        }
        StandingReason::BothAsked(method) => Some(found("both", method).by(Source::DataSheet)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    #[test]
    fn a_floor_waits_when_too_few_tests_count() {
        let two = testing::sample().mver(&[1.0, 1.0]);
        two.expect(&CHECK, "fast-cure", Severity::Wait);
        assert_eq!(two.findings(&CHECK)[0].measured, Some(Figure::Count(2)));
        let short = testing::sample().job("moisture.dishes.dish.1.lifted", "2026-05-05T15:00:00");
        assert_eq!(short.findings(&CHECK)[0].measured, Some(Figure::Count(2)));
        let old = testing::sample().without("air").job("date", "2026-08-07");
        assert_eq!(old.findings(&CHECK)[0].measured, Some(Figure::Count(0)));
    }

    #[test]
    fn a_void_reading_over_the_limit_is_read_again() {
        let void = testing::sample()
            .mver(&[1.0, 1.0, 1.0, 5.0])
            .job("moisture.dishes.dish.3.void", "\"the dome was knocked over\"");
        assert_eq!(void.values(&CHECK, "why")[0], Figure::from("void"));
        void.expect_silent(&CHECK, "barrier");
    }

    #[test]
    fn both_methods_where_the_data_sheet_asks_for_both() {
        let both = testing::sample().book("product.polyurea-primer.moisture-test", "\"both\"");
        assert_eq!(both.values(&CHECK, "why"), [Figure::from("both")]);
        assert_eq!(both.values(&CHECK, "method"), [Figure::from("probe")]);
    }

    #[test]
    fn stays_silent_on_enough_good_tests() {
        testing::sample().expect_silent(&CHECK, "fast-cure");
    }
}
