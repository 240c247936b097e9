//! `concrete-age`: the concrete's age when work starts against what the first coat asks for.
//!
//! Stop until the day it is reached: no coat is laid before it. Note where the age is not known,
//! or only a year that is too recent to tell. Age is no proof of dryness; the moisture checks
//! stand beside this one.

use jiff::{Span, civil::Date};

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::Poured;
use crate::price::case::{Case, FloorOption};
use crate::site::moisture::days_between;

pub const CHECK: Check = Check {
    name: "concrete-age",
    place: FindingPlace::Slab,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Note],
    limits: &[("usual", Figure::Days(USUAL_DAYS))],
    find,
};

/// The age that a first coat wants when its sheet names none: 28 days. Common practice, no
/// published source (it is the age at which concrete's strength is judged).
const USUAL_DAYS: u32 = 28;
/// Years between two dates that can only be compared by year, from which on the concrete is
/// surely old enough: the year before may have been poured last December.
const YEARS_SURE: i16 = 2;

fn find(case: &Case<'_>) -> Vec<Finding> {
    let start = case.job.plan.start.unwrap_or(case.job.date);
    let note =
        |known: &'static str| vec![Finding::new(&CHECK, Severity::Note).value("known", known)];
    match case.job.slab.poured {
        None => note("no"),
        Some(Poured::Year(year)) if i64::from(start.year() - YEARS_SURE) < i64::from(year) => {
            note("year")
        }
        Some(Poured::Year(_)) => vec![],
        Some(Poured::Day(day)) => {
            case.options.iter().filter_map(|option| too_new(option, day, start)).collect()
        }
    }
}

fn too_new(option: &FloorOption<'_>, poured: Date, start: Date) -> Option<Finding> {
    let sheet = option.floor.first()?.concrete_days;
    let days = sheet.unwrap_or(USUAL_DAYS);
    let ready = poured.saturating_add(Span::new().days(i64::from(days)));
    (start < ready).then(|| {
        Finding::new(&CHECK, Severity::Stop)
            .about(option)
            .measured(Figure::Days(days_between(poured, start)))
            .limit(Figure::Days(days))
            .value("known", "day")
            .by(sheet.map_or(Source::CommonPractice, |_| Source::DataSheet))
            .value("sheet", if sheet.is_some() { "yes" } else { "no" })
            .value("start", start)
            .value("ready", ready)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    /// The sample's proposal is of 12 May 2026; 28 days before is 14 April, 10 days before 2 May.
    fn poured(day: &str) -> Sample {
        testing::sample().without("slab.poured-year").job("slab.poured", day)
    }

    #[test]
    fn fires_below_the_sheets_age() {
        poured("2026-04-15").expect(&CHECK, "fast-cure", Severity::Stop);
        poured("2026-05-03").expect(&CHECK, "barrier", Severity::Stop);
        let ready = poured("2026-04-15").job("offer", "[\"fast-cure\"]").values(&CHECK, "ready");
        assert_eq!(ready, [Figure::Date(jiff::civil::date(2026, 5, 13))]);
    }

    #[test]
    fn stays_silent_once_it_is_reached() {
        poured("2026-04-14").expect_silent(&CHECK, "fast-cure");
        poured("2026-05-02").expect_silent(&CHECK, "barrier");
        poured("2026-05-03").job("plan.start", "2026-05-31").expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn falls_back_on_twenty_eight_days() {
        let no_age = |day| poured(day).without_book("product.polyurea-primer.concrete-days");
        no_age("2026-04-15").expect(&CHECK, "fast-cure", Severity::Stop);
        no_age("2026-04-14").expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn notes_an_age_that_is_not_known() {
        let year = |year| testing::sample().job("slab.poured-year", year);
        testing::sample().without("slab.poured-year").expect(&CHECK, "", Severity::Note);
        year("2026").expect(&CHECK, "", Severity::Note);
        year("2025").expect(&CHECK, "", Severity::Note);
        year("2024").expect_silent(&CHECK, "fast-cure");
    }
}
