//! `day-overrun`: work that runs past the end of the crew's day.
//!
//! Compares each stretch of the schedule with the hour at which the book ends the day. A coat
//! cannot stop halfway, so one that is longer than a day runs over. Caution, for the shop alone.

use crate::base::calendar::Moment;
use crate::base::figure::Figure;
use crate::base::quantity::Hours;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::model::book::Labor;
use crate::price::case::Case;
use crate::price::schedule::{Schedule, WorkStretch};

pub const CHECK: Check = Check::new("day-overrun", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Caution]);

/// Slack: nobody plans a day to the minute.
const SLACK: Hours = Hours::minutes(1.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_floor(case, |option| {
        let (day, over) = worst_overrun(&option.estimate.schedule, &case.book.labor)?;
        Some(CHECK.caution().value("day", Figure::Count(day)).value("over", over))
    })
}

/// The day that runs over most, and by how much.
fn worst_overrun(schedule: &Schedule, labor: &Labor) -> Option<(u32, Hours)> {
    schedule
        .stretches
        .iter()
        .map(|stretch| (stretch.from.day(), over(stretch, labor)))
        .filter(|(_, over)| *over > SLACK)
        .max_by(|a, b| a.1.order(b.1))
}

/// The time by which a stretch runs past the end of the day on which it starts.
fn over(stretch: &WorkStretch, labor: &Labor) -> Hours {
    stretch.to.0 - Moment::on(stretch.from.day(), labor.ends()).0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The longest task that may not pause is a first coat with its flake: 484 ft2 at 300 and at
    /// 600 ft2/h, 72.6 minutes for two. (4.84 + 1.188 of texture) / 0.9 = 6.70 gallons of it gel after
    /// 50 x (25 / 50) ^ (18 / 27) = 31.5 minutes; of three quarters of that 20.6 are left after
    /// stirring, in which two roll for 41.2 less the 3 of the next stirring, 2.65 gallons: three
    /// batches. 3 minutes for the first, and half of 3 for each of the others. With half an hour to set
    /// up and 22.5 minutes to clean up, a day from 7:30 on has to last until 9:41:06.
    fn ends(time: &str) -> Sample {
        sample().book("labor.day-ends", time)
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Fires when a coat is longer than the day.
            (ends("09:39:00"), "barrier", CAUTION),
            // Stays silent when the work fits.
            (ends("09:42:00"), "barrier", SILENT),
            (sample(), EVERY_FLOOR, SILENT),
        ]);
    }
}
