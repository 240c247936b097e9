//! `silica`: dust from grinding concrete.
//!
//! Every floor here is ground, so it always speaks. A floor grinder with its dust collector needs
//! no respirator by Table 1; a hand-held grinder indoors does when all tasks of the table that one
//! person does in a shift take over 4 hours together: then it is a caution. The grinding of a day
//! (floor, edge, cracks and holes) is counted as one person's, the worst case. The hours
//! themselves are the shop's and are not given to the sentences.

use crate::base::figure::Figure;
use crate::base::quantity::{Hours, Share};
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::model::rules::Subject;
use crate::price::case::Case;
use crate::price::estimate::Estimate;
use crate::price::estimate::labor::Task;
use crate::price::repair;

pub const CHECK: Check = Check {
    limits: &[
        ("hours", Limit::new(Figure::Count(BARE_FACE_HOURS), SOURCE)),
        ("factor", Limit::new(Figure::Count(FACTOR), SOURCE)),
        ("over", Limit::common_practice(Figure::Share(PLAN_OVER.value))),
    ],
    ..Check::new("silica", FindingPlace::Safety, SOURCE, find)
        .severities(&[Severity::Caution, Severity::Note])
};

const SOURCE: Source = Source::Rule(Subject::Dust, "29 CFR 1926.1153(c) and Table 1");

/// Hours in a shift over which whoever holds a hand-held grinder indoors wears a respirator: 29 CFR
/// 1926.1153, Table 1, row xii. All tasks of the table in one person's shift count together:
/// 1926.1153(c)(3).
pub const BARE_FACE_HOURS: u32 = 4;

/// The same as a length of time.
pub const LIMIT: Hours = Hours::hours(BARE_FACE_HOURS as f64);

/// The least assigned protection factor of that respirator: the same row.
pub const FACTOR: u32 = 10;

/// Hours of a plan may be over by this much on the floor.
pub const PLAN_OVER: Limit<Share> = Limit::common_practice(Share::percent(20.0));

/// Nothing is planned finer than this.
const SLACK: Hours = Hours::minutes(0.01);

/// The grinding of one day on site, as one person's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grinding {
    /// With the floor grinder.
    pub floor: Hours,
    /// With a hand grinder: the edge, cracks and holes.
    pub by_hand: Hours,
}

impl Grinding {
    pub fn together(self) -> Hours {
        self.floor + self.by_hand
    }

    /// True when it is planned so near the limit that the work itself may pass it.
    pub fn is_near(self) -> bool {
        let near = LIMIT * ((100.0 - PLAN_OVER.value.as_percent()) / 100.0);
        self.by_hand > Hours::ZERO && !self.is_long() && self.together() > near
    }

    /// True when whoever does all of it needs a respirator for the hand grinder.
    pub fn is_long(self) -> bool {
        self.by_hand > Hours::ZERO && self.together() > LIMIT + SLACK
    }
}

fn find(case: &Case<'_>) -> Vec<Finding> {
    let long = case.options.iter().any(|option| longest_shift(case, &option.estimate).is_long());
    vec![Finding::new(&CHECK, if long { Severity::Caution } else { Severity::Note })]
}

/// The day of a floor with the most grinding, before all the days on which some is done by hand.
pub fn longest_shift(case: &Case<'_>, estimate: &Estimate) -> Grinding {
    let repairs = repair::repairs(&case.job.shapes, case.book);
    let mending = repair::hours(&repairs);
    let ground =
        if mending > Hours::ZERO { repair::grinder_hours(&repairs) / mending } else { 0.0 };
    let crew = f64::from(estimate.crew.max(1));
    let mut days: Vec<(u32, Grinding)> = vec![];
    for stretch in &estimate.schedule.stretches {
        let hours = (stretch.to.0 - stretch.from.0) * crew;
        let (floor, by_hand) = match stretch.task {
            Task::Strip | Task::Grind => (hours, Hours::ZERO),
            Task::Edge => (Hours::ZERO, hours),
            Task::Repair => (Hours::ZERO, hours * ground),
            _ => continue,
        };
        let day = stretch.from.day();
        match days.last_mut() {
            Some((last, grinding)) if *last == day => {
                grinding.floor = grinding.floor + floor;
                grinding.by_hand = grinding.by_hand + by_hand;
            }
            _ => days.push((day, Grinding { floor, by_hand })),
        }
    }
    let none = Grinding { floor: Hours::ZERO, by_hand: Hours::ZERO };
    days.into_iter().map(|(_, grinding)| grinding).fold(none, |most, grinding| {
        let rank = |g: Grinding| (g.by_hand > Hours::ZERO, g.together().as_hours());
        if rank(grinding) > rank(most) { grinding } else { most }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    /// 484 ft2 of floor and 88 ft of edge at such rates; one person, days without end.
    fn rates(floor: &str, edge: &str) -> Sample {
        testing::sample()
            .job("plan.crew", "1")
            .book("labor.day-starts", "06:00:00")
            .book("labor.day-ends", "22:00:00")
            .book("rates.grind", &format!("\"{floor} ft2/h\""))
            .book("rates.edge", &format!("\"{edge} ft/h\""))
    }

    fn shift(sample: &Sample) -> Grinding {
        sample.with_case(|case| longest_shift(&case, &case.options[0].estimate))
    }

    /// 29 CFR 1926.1153(c)(3): the tasks of a shift count together. Two hours each are four, which
    /// is not more than four.
    #[test]
    fn cautions_when_floor_and_edge_together_pass_four_hours() {
        rates("242", "44").expect(&CHECK, "", Severity::Note);
        rates("242", "43.5").expect(&CHECK, "", Severity::Caution);
        rates("241", "44").expect(&CHECK, "", Severity::Caution);
    }

    /// Two hours each and a little less are planned under four, and the work may pass that.
    #[test]
    fn a_plan_near_the_limit_is_no_leave_to_go_without() {
        assert!(shift(&rates("243", "44")).is_near() && !shift(&rates("243", "44")).is_long());
        assert!(!shift(&rates("241", "44")).is_near(), "over it");
        assert!(!shift(&rates("484", "44")).is_near(), "three hours");
    }

    /// 484 / 93 is 5.2 hours of floor and 88 / 35.2 is 2.5 of edge: more than four together,
    /// though neither task asks for it by its own hours at the edge.
    #[test]
    fn counts_what_one_person_grinds_in_a_day() {
        let grinding = shift(&rates("93.0769", "35.2"));
        assert!((grinding.floor.as_hours() - 5.2).abs() < 0.001, "{grinding:?}");
        assert!((grinding.by_hand.as_hours() - 2.5).abs() < 0.001, "{grinding:?}");
        assert!(grinding.is_long());
    }

    /// The respirator of Table 1 is that of row xii, hand grinders: five hours with the floor grinder alone ask for none.
    #[test]
    fn a_floor_grinder_alone_asks_for_no_respirator() {
        let hours = |floor: f64, by_hand: f64| Grinding {
            floor: Hours::hours(floor),
            by_hand: Hours::hours(by_hand),
        };
        assert!(!hours(5.0, 0.0).is_long());
        assert!(hours(5.0, 0.1).is_long());
    }

    #[test]
    fn counts_cracks_that_are_ground_flush() {
        let crack = |width: &str| {
            rates("400", "44").book("rates.crack", "\"10 ft/h\"").job(
                "crack",
                &format!(
                    "[{{ name = \"a\", length = \"10 ft\", width = \"{width}\", moves = \"no\" }}]"
                ),
            )
        };
        assert!((shift(&crack("0.25 in")).by_hand.as_hours() - 3.0).abs() < 0.001);
        // A hairline takes the first coat and no wheel.
        assert!((shift(&crack("0.001 in")).by_hand.as_hours() - 2.0).abs() < 0.001);
    }

    #[test]
    fn counts_days_apart() {
        let grinding = shift(
            &rates("121", "44")
                .book("labor.day-starts", "08:00:00")
                .book("labor.day-ends", "13:00:00"),
        );
        assert!(grinding.together().as_hours() < 5.0, "{grinding:?}");
        assert!(grinding.by_hand > Hours::ZERO);
    }

    #[test]
    fn gives_no_hours_away() {
        let found = rates("100", "20").findings(&CHECK);
        assert!(
            found[0].measured.is_none() && found[0].limit.is_none() && found[0].values.is_empty()
        );
    }
}
