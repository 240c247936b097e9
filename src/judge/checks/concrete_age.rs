//! `concrete-age`: the concrete's age when work starts against what the first coat asks for.
//!
//! Stop until the day it is reached: no coat is laid before it. Note where the age is not known,
//! or only a year that is too recent to tell. Age is no proof of dryness; the moisture checks
//! stand beside this one.

use jiff::{Span, civil::Date};

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source, each_floor};
use crate::model::job::Poured;
use crate::price::case::{Case, FloorOption};
use crate::site::moisture::days_between;

pub const CHECK: Check = Check {
    limits: &[("usual", USUAL_DAYS.shown(Figure::Days(USUAL_DAYS.value)))],
    ..Check::new("concrete-age", FindingPlace::Slab, Source::DataSheet, find)
        .severities(&[Severity::Stop, Severity::Note])
};

/// The age in days that a first coat wants when its sheet names none: the age at which concrete's
/// strength is judged.
const USUAL_DAYS: Limit<u32> = Limit::common_practice(28);
/// Years between two dates that can only be compared by year, from which on the concrete is
/// surely old enough: the year before may have been poured last December.
const YEARS_SURE: i16 = 2;

fn find(case: &Case<'_>) -> Vec<Finding> {
    let start = case.job.plan.start.unwrap_or(case.job.date);
    let note = |known: &'static str| vec![CHECK.note().value("known", known)];
    match case.job.slab.poured {
        None => note("no"),
        Some(Poured::Year(year)) if i64::from(start.year() - YEARS_SURE) < i64::from(year) => {
            note("year")
        }
        Some(Poured::Year(_)) => vec![],
        Some(Poured::Day(day)) => each_floor(case, |option| too_new(option, day, start)),
    }
}

fn too_new(option: &FloorOption<'_>, poured: Date, start: Date) -> Option<Finding> {
    let limit = USUAL_DAYS.unless(option.floor.first()?.concrete_days);
    let ready = poured.saturating_add(Span::new().days(i64::from(limit.value)));
    (start < ready).then(|| {
        CHECK
            .stop()
            .measured(Figure::Days(days_between(poured, start)))
            .limit(Figure::Days(limit.value))
            .by(limit.source)
            .value("known", "day")
            .yes_no("sheet", limit.source == Source::DataSheet)
            .value("start", start)
            .value("ready", ready)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The sample's proposal is of 12 May 2026; 28 days before is 14 April, 10 days before 2 May.
    fn poured(day: &str) -> Sample {
        sample().without("slab.poured-year").job("slab.poured", day)
    }

    #[test]
    fn fires_below_the_sheets_age() {
        poured("2026-04-15").expect(&CHECK, "fast-cure", Severity::Stop);
        poured("2026-05-03").expect(&CHECK, "barrier", Severity::Stop);
        let ready = poured("2026-04-15").job("offer", "[\"fast-cure\"]").values(&CHECK, "ready");
        assert_eq!(ready, [Figure::Date(jiff::civil::date(2026, 5, 13))]);
    }

    #[test]
    fn fires_and_stays_silent() {
        let no_age = |day| poured(day).without_book("product.polyurea-primer.concrete-days");
        let year = |year| sample().job("slab.poured-year", year);
        CHECK.says([
            // Stays silent once it is reached.
            (poured("2026-04-14"), "fast-cure", SILENT),
            (poured("2026-05-02"), "barrier", SILENT),
            (poured("2026-05-03").job("plan.start", "2026-05-31"), "fast-cure", SILENT),
            // Falls back on twenty eight days.
            (no_age("2026-04-15"), "fast-cure", STOP),
            (no_age("2026-04-14"), "fast-cure", SILENT),
            // Notes an age that is not known.
            (sample().without("slab.poured-year"), "", NOTE),
            (year("2026"), "", NOTE),
            (year("2025"), "", NOTE),
            (year("2024"), "fast-cure", SILENT),
        ]);
    }
}
