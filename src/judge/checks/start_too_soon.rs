//! `start-too-soon`: a first day of work that leaves no time to sign, to cancel and to order the material.
//!
//! Counts from the day of the paper, the first on which it can be signed, by the rule of
//! [`time_to_sign`]. Caution, for the shop alone: it may have the material, or move the day. Silent once a floor
//! was agreed.

use std::iter;

use jiff::civil::Date;

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::price::case::Case;
use crate::price::signing::{ORDER_DAYS, TimeToSign, is_working_day, time_to_sign};

pub const CHECK: Check = Check {
    limits: &[("order", Limit::common_practice(Figure::Count(ORDER_DAYS as u32)))],
    ..Check::new("start-too-soon", FindingPlace::Shop, Source::CommonPractice, find)
        .severities(&[Severity::Caution])
};

/// The most days after the planned one among which an earliest start is looked for.
const DAYS_AHEAD: usize = 90;

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(start) = case.job.plan.start.filter(|_| case.job.accepted.is_none()) else {
        return vec![];
    };
    let time = |start: Date| time_to_sign(start, case.job, case.shop);
    let lacks = match time(start) {
        TimeToSign::Until(_) => return vec![],
        TimeToSign::WithoutOrder(_) => "order",
        TimeToSign::None => "sign",
    };
    // From the day of the paper on where the start lies before it.
    let days = iter::successors(Some(start.max(case.job.date)), |day| day.tomorrow().ok());
    let open =
        |day: &Date| is_working_day(*day, case.shop) && matches!(time(*day), TimeToSign::Until(_));
    let finding = CHECK.caution().value("start", start).value("lacks", lacks);
    vec![finding.value_if("earliest", days.take(DAYS_AHEAD).find(open))]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The sample is of Tuesday, May 12, 2026. By hand: signed that day, the material is ordered on Wednesday and the
    /// work starts on Thursday at the earliest. Sold at home it may be cancelled until Friday (16 CFR 429.1), so the
    /// material is ordered on Monday the 18th.
    #[test]
    fn fires_and_stays_silent() {
        let on = |date: &str| sample().job("plan.start", date);
        let at_home = |date: &str| on(date).job("garage.sold-at-home", "true");
        CHECK.says([
            (on("2026-05-13"), "", CAUTION),
            (on("2026-05-14"), "", SILENT),
            (at_home("2026-05-15"), "", CAUTION),
            (at_home("2026-05-18"), "", CAUTION),
            (at_home("2026-05-19"), "", SILENT),
            (sample(), "", SILENT),
        ]);
    }

    #[test]
    fn tells_what_lacks_and_the_earliest_start() {
        let early = sample().job("plan.start", "2026-05-15").job("garage.sold-at-home", "true");
        assert_eq!(early.values(&CHECK, "lacks"), ["sign".into()]);
        let earliest: Figure = jiff::civil::date(2026, 5, 19).into();
        assert_eq!(early.values(&CHECK, "earliest"), [earliest]);
        let late = sample().job("plan.start", "2026-05-13");
        assert_eq!(late.values(&CHECK, "lacks"), ["order".into()]);
    }
}
