//! `cancellation-notice`: a sale at the buyer's home, which the buyer may cancel.
//!
//! A note for the shop: the notice is on the paper, but the buyer has to be told by mouth too.
//! Caution when the agreed first day of work is not after the last day to cancel, counted from the
//! paper's own date as the paper counts it. In another country the program knows no such right: a
//! caution there until the shop has looked one up.

use jiff::civil::Date;

use crate::base::business_days::{DAYS_TO_CANCEL, last_day_to_cancel};
use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("days", Limit::new(Figure::Count(DAYS_TO_CANCEL), SOURCE))],
    ..Check::new("cancellation-notice", FindingPlace::Shop, SOURCE, find)
        .severities(&[Severity::Caution, Severity::Note])
};

const SOURCE: Source = Source::Rule(Subject::Cancel, "16 CFR 429.0 and 429.1");

fn find(case: &Case<'_>) -> Vec<Finding> {
    if !case.job.garage.sold_at_home {
        return vec![];
    }
    let shop = case.shop;
    if !shop.jurisdiction().has_us_notice() {
        let known = !shop.notices.is_empty() || shop.rules_on(Subject::Cancel).next().is_some();
        let severity = if known { Severity::Note } else { Severity::Caution };
        return vec![Finding::new(&CHECK, severity).yes_no("here", false).yes_no("known", known)];
    }
    let finding = match case.job.plan.start.and_then(|start| too_soon(case.job.date, start)) {
        Some((start, last)) => CHECK.caution().measured(start).limit(last),
        None => CHECK.note(),
    };
    vec![finding.yes_no("here", true).yes_no("known", true)]
}

/// A first day of work that comes too soon for a paper of some date, which is the first day on which
/// it can be signed; with the last day on which the buyer may then cancel.
fn too_soon(date: Date, start: Date) -> Option<(Date, Date)> {
    let last = last_day_to_cancel(date);
    (start <= last).then_some((start, last))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// Dated May 12, 2026, a Tuesday: the third business day is Friday, May 15.
    fn sold_at_home() -> Sample {
        sample().job("garage.sold-at-home", "true")
    }

    #[test]
    fn fires_and_stays_silent() {
        let there = || sold_at_home().shop("country", "\"NO\"");
        let rule = "[{ subject = \"cancel\", text = \"a\", source = \"b\", checked = 2026-05-04 }]";
        let notice = "[{ title = \"a\", text = [\"b\"], source = \"c\", checked = 2026-05-04 }]";
        let unsaid = sold_at_home().without_shop("country").job("plan.start", "2026-05-15");
        let start = sample().job("plan.start", "2026-05-13");
        CHECK.says([
            (sold_at_home(), "", NOTE),
            (sold_at_home().job("plan.start", "2026-05-16"), "", NOTE),
            // Cautions in another country until its rule is looked up.
            (there(), "", CAUTION),
            (there().shop("rule", rule), "", NOTE),
            (there().shop("notice", notice), "", NOTE),
            // Keeps the notice where no country is said.
            (unsaid, "", CAUTION),
            // Stays silent on a sale elsewhere.
            (start, "barrier", SILENT),
        ]);
    }

    #[test]
    fn cautions_when_work_starts_too_soon() {
        let early = sold_at_home().job("plan.start", "2026-05-15");
        early.expect(&CHECK, "", Severity::Caution);
        let last = early.findings(&CHECK).remove(0).limit;
        assert_eq!(last, Some(Figure::Date(jiff::civil::date(2026, 5, 15))));
    }

    /// Every date of four years: the count of 16 CFR 429.0(f), holidays too, and no fixed span.
    #[test]
    fn goes_by_the_count_of_the_paper() {
        let mut date = jiff::civil::date(2026, 1, 1);
        while date.year() < 2030 {
            let last = last_day_to_cancel(date);
            assert_eq!(too_soon(date, last), Some((last, last)), "{date}");
            assert_eq!(too_soon(date, last.tomorrow().unwrap()), None, "{date}");
            date = date.tomorrow().unwrap();
        }
    }
}
