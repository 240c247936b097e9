//! `cancellation-notice`: a sale at the buyer's home, which the buyer may cancel.
//!
//! A note for the shop: the notice is on the paper, but the buyer has to be told by mouth too.
//! Caution when the agreed first day of work can fall inside the three business days.

use jiff::{Span, civil::Date};

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::figures::Figure;
use crate::options::Case;

pub const CHECK: Check = Check {
    name: "cancellation-notice",
    place: Place::Shop,
    source: Source::Published("16 CFR 429.0 and 429.1"),
    severities: &[Severity::Caution, Severity::Note],
    limits: &[("span", Figure::Days(SPAN_DAYS))],
    find,
};

/// Days from the paper's own date, the first on which it can be signed. Three business days take
/// four when a Sunday lies between (16 CFR 429.0(f); Saturday counts). A federal holiday adds one
/// more; the sentences say so.
const SPAN_DAYS: u32 = 4;

fn find(case: &Case<'_>) -> Vec<Finding> {
    if !case.job.garage.sold_at_home {
        return vec![];
    }
    let note = Finding::new(&CHECK, Severity::Note);
    let Some(start) = case.job.plan.start else { return vec![note] };
    let open_until =
        case.job.date.checked_add(Span::new().days(i64::from(SPAN_DAYS))).unwrap_or(Date::MAX);
    if start > open_until {
        return vec![note];
    }
    vec![Finding::new(&CHECK, Severity::Caution).measured(start).limit(open_until)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing::{self, Sample};

    /// Dated May 12, 2026.
    fn sold_at_home() -> Sample {
        testing::sample().job("garage.sold-at-home", "true")
    }

    #[test]
    fn notes_a_sale_at_home() {
        sold_at_home().expect(&CHECK, "", Severity::Note);
        sold_at_home().job("plan.start", "2026-05-17").expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn cautions_when_work_starts_too_soon() {
        sold_at_home().job("plan.start", "2026-05-16").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn stays_silent_on_a_sale_elsewhere() {
        let start = testing::sample().job("plan.start", "2026-05-13");
        start.expect_silent(&CHECK, "barrier");
    }
}
