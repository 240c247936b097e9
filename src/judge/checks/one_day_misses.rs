//! `one-day-misses`: a floor that is sold as a one-day floor and does not fit into one day here.
//!
//! Compares what the work and its waits come to without going home, at this slab's temperature and
//! with this crew, with the hours of the crew's day. Caution: the chemistry may be right and the
//! day too short. The hours themselves are the shop's and are not given to the sentences.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("one-day-misses", FindingPlace::Floors, Source::Shop, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_floor(case, |option| {
        let schedule = &option.estimate.schedule;
        if !option.floor.system.one_day || schedule.fits_one_day() {
            return None;
        }
        let finding = CHECK
            .caution()
            .value("waits", Figure::NoShorter(schedule.one_day.waits))
            .value("days", Figure::Days(schedule.days));
        Some(finding.value_if("slab", case.site.air.map(|air| air.slab)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        let short = sample().book("labor.day-ends", "13:00:00");
        let alone = sample().job("plan.crew", "1");
        CHECK.says([
            // 68 F: a primer and a topcoat with under two hours of waiting between them.
            (sample(), "fast-cure", SILENT),
            // A short day and a crew of one miss it too.
            (short, "fast-cure", CAUTION),
            (alone, "fast-cure", CAUTION),
            // A floor that nobody sells by the day is let be.
            (sample().job("plan.crew", "1"), "barrier", SILENT),
        ]);
    }

    /// 36 F is within the range of both coats, and the wait grows to most of a day.
    #[test]
    fn a_cold_slab_takes_the_day_and_not_the_chemistry() {
        let cold = sample().job("air.slab", "\"36 F\"");
        cold.expect(&CHECK, "fast-cure", Severity::Caution);
        cold.expect_silent(&crate::judge::checks::slab_temperature::CHECK, "fast-cure");
    }
}
