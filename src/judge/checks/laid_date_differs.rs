//! `laid-date-differs`: the day on which the job says that the floor was done, against its last record.
//!
//! Caution: one of the two is a slip, and papers for the customer take both.

use jiff::civil::Date;

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::judge::laid::floor_as_laid;
use crate::price::case::Case;

pub const CHECK: Check = Check::new("laid-date-differs", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let (Some(laid), Some(said)) = (floor_as_laid(case), case.job.plan.laid) else {
        return vec![];
    };
    let last = laid.last_day();
    // Of several spaces another one may have been done later.
    let differs = |last: &Date| said < *last || (case.job.place.is_none() && said != *last);
    let last = last.filter(|_| laid.is_complete()).filter(differs);
    let finding = last.map(|last| CHECK.caution().measured(said).limit(last).of(&laid));
    finding.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;
    use crate::price::visit::OtherSpaces;

    /// Of several spaces another one may have been done later than this one, on 27 May, but none earlier.
    #[test]
    fn a_space_was_laid_by_the_day_on_which_all_were() {
        let said = |day: &str| {
            let input = laid(&[BARRIER, TOP]).job("plan.laid", day).input();
            let mut job = input.job.clone();
            let spaces = sample().in_space("garage", "daylight = false").input().job.spaces;
            job.place = Some(spaces[0].place.clone());
            job.agreed = input.job.agreed_by_orders();
            let case = crate::price::case::case_of(&job, &input, OtherSpaces::default());
            (CHECK.find)(&case).len()
        };
        assert_eq!((said("2026-05-27"), said("2026-05-28"), said("2026-05-26")), (0, 0, 1));
    }

    #[test]
    fn two_days_for_one_floor_are_told() {
        let said = |day: &str| laid(&[BARRIER, TOP]).job("plan.laid", day);
        CHECK.says([
            (said("2026-05-27"), "barrier", SILENT),
            (said("2026-05-28"), "barrier", CAUTION),
            (said("2026-05-26"), "barrier", CAUTION),
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            // What is missing is told by another check.
            (laid(&[BARRIER]).job("plan.laid", "2026-05-28"), "barrier", SILENT),
        ]);
    }
}
