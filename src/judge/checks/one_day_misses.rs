//! `one-day-misses`: a floor that is sold as a one-day floor and does not fit into one day here.
//!
//! Compares what the work and its waits come to without going home, at this slab's temperature and
//! with this crew, with the hours of the crew's day. Caution: the chemistry may be right and the
//! day too short. The hours themselves are the shop's and are not given to the sentences.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "one-day-misses",
    place: FindingPlace::Floors,
    source: Source::Shop,
    severities: &[Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let mut found = vec![];
    for option in &case.options {
        let schedule = &option.estimate.schedule;
        if !option.floor.system.one_day || schedule.fits_one_day() {
            continue;
        }
        let mut finding = Finding::new(&CHECK, Severity::Caution)
            .about(option)
            .value("waits", Figure::NoShorter(schedule.one_day.waits))
            .value("days", Figure::Days(schedule.days));
        if let Some(air) = case.site.air {
            finding = finding.value("slab", air.slab);
        }
        found.push(finding);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    /// 68 F: a primer and a topcoat with under two hours of waiting between them.
    #[test]
    fn stays_silent_where_the_day_is_long_enough() {
        testing::sample().expect_silent(&CHECK, "fast-cure");
    }

    /// 36 F is within the range of both coats, and the wait grows to most of a day.
    #[test]
    fn a_cold_slab_takes_the_day_and_not_the_chemistry() {
        let cold = testing::sample().job("air.slab", "\"36 F\"");
        cold.expect(&CHECK, "fast-cure", Severity::Caution);
        cold.expect_silent(&crate::judge::checks::slab_temperature::CHECK, "fast-cure");
    }

    #[test]
    fn a_short_day_and_a_crew_of_one_miss_it_too() {
        let short = testing::sample().book("labor.day-ends", "13:00:00");
        short.expect(&CHECK, "fast-cure", Severity::Caution);
        let alone = testing::sample().job("plan.crew", "1");
        alone.expect(&CHECK, "fast-cure", Severity::Caution);
    }

    #[test]
    fn a_floor_that_nobody_sells_by_the_day_is_let_be() {
        testing::sample().job("plan.crew", "1").expect_silent(&CHECK, "barrier");
    }
}
