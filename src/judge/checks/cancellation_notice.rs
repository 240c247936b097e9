//! `cancellation-notice`: a sale at the buyer's home, which the buyer may cancel.
//!
//! A note for the shop: the notice is on the paper, but the buyer has to be told by mouth too.
//! Caution when the agreed first day of work is not after the last day to cancel, counted from the
//! paper's own date as the paper counts it. In another country the program knows no such right: a
//! caution there until the shop has looked one up.

use jiff::civil::Date;

use crate::base::business_days::{DAYS_TO_CANCEL, last_day_to_cancel};
use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "cancellation-notice",
    place: FindingPlace::Shop,
    source: Source::Rule(Subject::Cancel, "16 CFR 429.0 and 429.1"),
    severities: &[Severity::Caution, Severity::Note],
    limits: &[("days", Figure::Count(DAYS_TO_CANCEL))],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    if !case.job.garage.sold_at_home {
        return vec![];
    }
    let shop = case.shop;
    if !shop.jurisdiction().has_us_notice() {
        let known = !shop.notices.is_empty() || shop.rules_on(Subject::Cancel).next().is_some();
        let severity = if known { Severity::Note } else { Severity::Caution };
        let known = if known { "yes" } else { "no" };
        return vec![Finding::new(&CHECK, severity).value("here", "no").value("known", known)];
    }
    let finding = match case.job.plan.start.and_then(|start| too_soon(case.job.date, start)) {
        Some((start, last)) => Finding::new(&CHECK, Severity::Caution).measured(start).limit(last),
        None => Finding::new(&CHECK, Severity::Note),
    };
    vec![finding.value("here", "yes").value("known", "yes")]
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
    use crate::judge::checks::testing::{self, Sample};

    /// Dated May 12, 2026, a Tuesday: the third business day is Friday, May 15.
    fn sold_at_home() -> Sample {
        testing::sample().job("garage.sold-at-home", "true")
    }

    #[test]
    fn notes_a_sale_at_home() {
        sold_at_home().expect(&CHECK, "", Severity::Note);
        sold_at_home().job("plan.start", "2026-05-16").expect(&CHECK, "", Severity::Note);
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

    #[test]
    fn cautions_in_another_country_until_its_rule_is_looked_up() {
        let there = || sold_at_home().shop("country", "\"NO\"");
        there().expect(&CHECK, "", Severity::Caution);
        let rule = "[{ subject = \"cancel\", text = \"a\", source = \"b\", checked = 2026-05-04 }]";
        there().shop("rule", rule).expect(&CHECK, "", Severity::Note);
        let notice = "[{ title = \"a\", text = [\"b\"], source = \"c\", checked = 2026-05-04 }]";
        there().shop("notice", notice).expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn keeps_the_notice_where_no_country_is_said() {
        let unsaid = sold_at_home().without_shop("country").job("plan.start", "2026-05-15");
        unsaid.expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn stays_silent_on_a_sale_elsewhere() {
        let start = testing::sample().job("plan.start", "2026-05-13");
        start.expect_silent(&CHECK, "barrier");
    }
}
