//! Lays the work into the crew's days: hours of work by day, curing by day and night.

mod crew_clock;

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::calendar::{Clock, Moment};
use crate::base::names::Key;
use crate::base::quantity::*;
use crate::model::book::{Cure, Labor, Rates, Resin};
use crate::price::cure::{self, CureAt, CureBasis};
use crate::price::estimate::labor::{Task, Work};
use crew_clock::CrewClock;

/// A stretch of work on the clock.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkStretch {
    pub task: Task,
    pub from: Moment,
    pub to: Moment,
}

/// A liquid coat on the clock, with its times at the slab's temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidCoat {
    pub coat: Key,
    pub from: Moment,
    pub to: Moment,
    pub cure: CureAt,
    /// Time in which the coat below takes this one; `None` for the coat on the concrete.
    pub window: Option<Window>,
}

/// The earliest and the latest moment for a coat, as the data sheet of the coat below has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    pub from: Moment,
    /// Later than this the coat below has to be abraded.
    pub to: Moment,
}

/// A coat that went down later than the coat below it allows without sanding.
#[derive(Debug, Clone, PartialEq)]
pub struct MissedRecoat {
    pub task: Task,
    pub late_by: Hours,
}

/// Time for the whole floor without going home.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct OneDay {
    /// From the crew's arrival to the end of its clean-up, hours.
    #[serde(rename = "needs_hours")]
    pub needs: Hours,
    /// Part of that which is waiting for a coat or a repair to cure, hours.
    #[serde(rename = "waits_hours")]
    pub waits: Hours,
    /// The crew's working day, hours.
    #[serde(rename = "has_hours")]
    pub has: Hours,
}

/// The days of one floor.
#[derive(Debug, Clone)]
pub struct Schedule {
    pub stretches: Vec<WorkStretch>,
    pub coats: Vec<LaidCoat>,
    pub days: u32,
    /// Moment at which the last coat is down.
    pub done: Moment,
    pub walk: Moment,
    pub carry: Moment,
    pub drive: Moment,
    pub missed: Vec<MissedRecoat>,
    pub one_day: OneDay,
    pub basis: PlanBasis,
}

impl Schedule {
    /// The whole floor is done on one day.
    pub fn fits_one_day(&self) -> bool {
        self.days == 1
    }

    /// The days on which the crew is there, counted from the first one.
    pub fn visit_days(&self) -> Vec<u32> {
        let worked = self.stretches.iter().filter(|stretch| stretch.to > stretch.from);
        let mut days: Vec<u32> = worked.map(|stretch| stretch.from.day()).collect();
        days.dedup();
        days
    }

    /// The moment from which on the floor is in full use: a car may drive on it, or, where none does, things
    /// may be carried in.
    pub fn in_full_use(&self, cars: bool) -> Moment {
        if cars { self.drive } else { self.carry }
    }

    /// The stretch in which a coat is laid.
    pub fn laid(&self, coat: &Key) -> Option<&LaidCoat> {
        self.coats.iter().find(|laid| laid.coat == *coat)
    }
}

/// At what slab temperature the times were taken.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "slab", rename_all = "kebab-case")]
pub enum PlanBasis {
    /// At the slab as measured.
    Measured {
        /// Its temperature, degrees Celsius.
        #[serde(rename = "slab_c")]
        slab: Temperature,
        /// The way in which the times were found.
        by: CureBasis,
    },
    /// No slab temperature was measured: reckoned at a usual one.
    Assumed {
        /// That temperature, degrees Celsius.
        #[serde(rename = "slab_c")]
        slab: Temperature,
    },
    /// The slab as measured is beyond what a coat's data sheet covers: reckoned at the nearest
    /// temperature that it does cover.
    Nearest,
}

/// Slab temperature used for planning when none was measured: 70 F.
pub const USUAL_SLAB: Temperature = Temperature::fahrenheit(70.0);

/// Things may be carried in a day after the last coat, never before one may walk and never later
/// than one may drive. Common practice, no published source.
const CARRY_AFTER: Hours = Hours::hours(24.0);

/// Times after the last coat until a floor may be used.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct InUse {
    pub walk: Hours,
    pub carry: Hours,
    pub drive: Hours,
}

/// The times of use that follow from those of the last coat.
pub fn in_use_after(times: &Cure) -> InUse {
    let (walk, drive) = (times.foot, times.vehicle.max(times.foot));
    InUse { walk, carry: CARRY_AFTER.max(walk).min(drive), drive }
}

/// The crew that does the work, and its clock.
#[derive(Debug, Clone, Copy)]
pub struct Crew<'a> {
    pub labor: &'a Labor,
    pub rates: &'a Rates,
    pub persons: u32,
    pub clock: Clock<'a>,
}

/// Lays work into days.
pub fn schedule(work: &[Work<'_>], crew: Crew<'_>, slab: Option<Temperature>) -> Schedule {
    let mut visit = visit(&[SpaceWork { work, slab }], crew);
    visit.spaces.swap_remove(0)
}

/// The work of one space, and its slab.
#[derive(Debug, Clone, Copy)]
pub struct SpaceWork<'a> {
    pub work: &'a [Work<'a>],
    pub slab: Option<Temperature>,
}

/// The days of several spaces, one after the other.
#[derive(Debug, Clone)]
pub struct Visit {
    /// One for each space, on the clock of the whole visit.
    pub spaces: Vec<Schedule>,
    /// Days on which the crew is there.
    pub days: u32,
}

/// Lays the work of several spaces into the days of one crew. No space is begun before the crew is done
/// with the one before; a day that has room left goes on in the next space.
pub fn visit(spaces: &[SpaceWork<'_>], crew: Crew<'_>) -> Visit {
    let clock = crew.clock;
    let crew_clock = || CrewClock::new(crew.labor, crew.rates, crew.persons, clock);
    let mut at_work = crew_clock();
    let mut schedules = vec![];
    let mut from = 0;
    for (at, space) in spaces.iter().enumerate() {
        let laid = lay(space.work, &mut at_work, clock, space.slab);
        let now = at_work.now;
        if at + 1 == spaces.len() {
            at_work.close();
        }
        let stretches: Vec<WorkStretch> = at_work.stretches[from..].to_vec();
        from = at_work.stretches.len();
        let last = laid.coats.last();
        let done = last.map_or(now, |coat| coat.to);
        let in_use = last.map_or(InUse::default(), |coat| in_use_after(&coat.cure.times));
        schedules.push(Schedule {
            days: days_of(&stretches),
            stretches,
            coats: laid.coats,
            done,
            walk: clock.after(done, in_use.walk),
            carry: clock.after(done, in_use.carry),
            drive: clock.after(done, in_use.drive),
            missed: laid.missed,
            one_day: one_day(space.work, crew, crew_clock().endless(), space.slab),
            basis: laid.basis,
        });
    }
    let days = at_work.days();
    if let [alone] = schedules.as_mut_slice() {
        alone.days = days;
    }
    Visit { spaces: schedules, days }
}

/// Days on which some of this is done.
fn days_of(stretches: &[WorkStretch]) -> u32 {
    let mut days: Vec<u32> = stretches.iter().map(|stretch| stretch.from.day()).collect();
    days.dedup();
    days.len() as u32
}

fn one_day(
    work: &[Work<'_>],
    crew: Crew<'_>,
    mut crew_clock: CrewClock<'_>,
    slab: Option<Temperature>,
) -> OneDay {
    lay(work, &mut crew_clock, crew.clock, slab);
    crew_clock.close();
    let busy: Hours = crew_clock.stretches.iter().map(|s| crew.clock.between(s.from, s.to)).sum();
    let (starts, ends) = (crew.labor.starts(), crew.labor.ends());
    let needs = crew.clock.between(Moment(starts), crew_clock.now);
    OneDay { needs, waits: (needs - busy).max(Hours::ZERO), has: ends - starts }
}

struct LaidWork {
    coats: Vec<LaidCoat>,
    missed: Vec<MissedRecoat>,
    basis: PlanBasis,
}

fn lay(
    work: &[Work<'_>],
    crew_clock: &mut CrewClock<'_>,
    clock: Clock<'_>,
    slab: Option<Temperature>,
) -> LaidWork {
    let mut basis = match slab {
        Some(slab) => PlanBasis::Measured { slab, by: CureBasis::Sheet },
        None => PlanBasis::Assumed { slab: USUAL_SLAB },
    };
    let mut coats: Vec<LaidCoat> = vec![];
    let mut missed = vec![];
    // What was filled has to be hard before anything goes over it.
    let mut filled = Moment::default();
    for (at, piece) in work.iter().enumerate() {
        let window = coats.last().map(|below| Window {
            from: clock.after(below.to, below.cure.times.recoat_from),
            to: clock.after(below.to, below.cure.times.recoat_to),
        });
        let cured = window.map_or(Moment::default(), |window| window.from);
        let ready = match piece.task {
            Task::Scrape => cured,
            Task::Coat(_) if filled > cured => filled,
            Task::Coat(_) => cured,
            _ => Moment::default(),
        };
        // Who comes to scrape stays to coat.
        let follows = match (&piece.task, work.get(at + 1)) {
            (Task::Scrape, Some(next)) => next.takes,
            _ => Hours::ZERO,
        };
        let (from, to) = crew_clock.place(piece, ready, follows);
        if let Some(sets) = piece.sets {
            filled = clock.after(to, sets);
        }
        let (Some(resin), Task::Coat(coat)) = (piece.lays, &piece.task) else { continue };
        if let Some(window) = window.filter(|window| from > window.to) {
            let late_by = clock.between(window.to, from);
            missed.push(MissedRecoat { task: piece.task.clone(), late_by });
        }
        let (cure, outside) = planning_cure(resin, slab.unwrap_or(USUAL_SLAB));
        basis = match (basis, outside, cure.basis) {
            (PlanBasis::Measured { .. }, true, _) => PlanBasis::Nearest,
            (PlanBasis::Measured { slab, .. }, false, CureBasis::Rule) => {
                PlanBasis::Measured { slab, by: CureBasis::Rule }
            }
            (basis, _, _) => basis,
        };
        coats.push(LaidCoat { coat: coat.clone(), from, to, cure, window });
    }
    LaidWork { coats, missed, basis }
}

/// A coat's times on a slab as the plan reckons with them.
pub fn planning_times(resin: &Resin, slab: Option<Temperature>) -> CureAt {
    planning_cure(resin, slab.unwrap_or(USUAL_SLAB)).0
}

/// Times for planning: at the slab if the data sheet covers it, else at the nearest temperature
/// that it does cover, within the product's own range and the reach of the rule of thumb. The
/// flag tells which; the page then says what the times are for.
fn planning_cure(resin: &Resin, slab: Temperature) -> (CureAt, bool) {
    if let Ok(cure) = cure::cure_at(resin, slab) {
        return (cure, false);
    }
    let (first, last) = match (resin.cure.first(), resin.cure.last()) {
        (Some(first), Some(last)) => (first.at, last.at),
        // The input refuses a product without any times.
        _ => (USUAL_SLAB, USUAL_SLAB),
    };
    let reach_down = first + (Degrees::ZERO - cure::REACH);
    let reach_up = last + cure::REACH;
    let coldest = if reach_down > resin.slab_from { reach_down } else { resin.slab_from };
    let warmest = if reach_up < resin.slab_to { reach_up } else { resin.slab_to };
    let nearest = if slab < coldest { coldest } else { warmest };
    let none = Cure {
        at: slab,
        pot_life: Hours::ZERO,
        recoat_from: Hours::ZERO,
        recoat_to: Hours::ZERO,
        foot: Hours::ZERO,
        vehicle: Hours::ZERO,
    };
    let cure = cure::cure_at(resin, nearest).unwrap_or(CureAt {
        times: resin.cure.first().copied().unwrap_or(none),
        basis: CureBasis::Sheet,
    });
    (cure, true)
}

#[cfg(test)]
pub(crate) mod testing {
    use super::*;
    use crate::model::book::{Coverage, MixRatio, Product};
    use crate::price::testing::sample;

    /// A coat that is ready for the next after some hours.
    pub(crate) fn resin(recoat_from: f64) -> Resin {
        let hours = Hours::hours;
        let book = sample().input().book;
        let coat = book.product(&Key("barrier-epoxy".into())).and_then(Product::resin).unwrap();
        Resin {
            mix: MixRatio { parts: vec![1.0, 1.0] },
            coverage: Coverage::Film(Thickness::mils(10.0)),
            slab_from: Temperature::celsius(0.0),
            slab_to: Temperature::celsius(40.0),
            cure: vec![Cure {
                at: USUAL_SLAB,
                pot_life: hours(0.5),
                recoat_from: hours(recoat_from),
                recoat_to: hours(200.0),
                foot: hours(6.0),
                vehicle: hours(24.0),
            }],
            ..coat.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::testing::resin;
    use super::*;
    use crate::base::calendar::Calendar;
    use crate::price::testing::sample;
    use jiff::civil::time;

    /// Two coats with a wait between them, from 8 to 17 with half an hour before and after.
    fn two_coats(wait: f64) -> Schedule {
        let book = sample().input().book;
        let (day_starts, day_ends) = (time(8, 0, 0, 0), time(17, 0, 0, 0));
        let labor = Labor { day_starts, day_ends, ..book.labor };
        let half = Hours::hours(0.5);
        let rates = Rates { set_up: half, clean_up: half, ..book.rates };
        let coat = resin(wait);
        let lay = |name: &str| Work {
            task: Task::Coat(Key(name.into())),
            hours: Hours::hours(2.0),
            takes: Hours::hours(2.0),
            lays: Some(&coat),
            sets: None,
        };
        let calendar = Calendar::default();
        let clock = Clock { calendar: &calendar, start: None };
        let crew = Crew { labor: &labor, rates: &rates, persons: 1, clock };
        schedule(&[lay("one"), lay("two")], crew, None)
    }

    fn second_coat(schedule: &Schedule) -> (u32, f64) {
        let two = Task::Coat(Key("two".into()));
        let from = schedule.stretches.iter().find(|s| s.task == two).unwrap().from;
        (from.day(), (from.of_day().as_hours() * 100.0).round() / 100.0)
    }

    /// A slab that gets colder never shortens the times for planning, also where the sheet ends.
    #[test]
    fn a_colder_slab_is_never_promised_sooner() {
        let mut coat = resin(8.0);
        coat.slab_from = Temperature::fahrenheit(35.0);
        let mut before = Hours::ZERO;
        for slab in (20..80).rev() {
            let (cure, _) = planning_cure(&coat, Temperature::fahrenheit(f64::from(slab)));
            assert!(cure.times.vehicle >= before, "at {slab} F");
            before = cure.times.vehicle;
        }
    }

    /// A sheet with times at 70 F alone, for slabs from 0 to 40 C. By the rule of thumb (double for each 10 C
    /// colder) it reaches 15 C to either side, which is 2 to the 1.5th, 2.83 times as fast or slow; a product that
    /// ends sooner is planned with its own end: 30 C is 8.89 C from 70 F, 1.85 times as fast (by hand).
    #[test]
    fn beyond_the_sheet_the_nearest_times_are_planned_with() {
        let hours = |coat: &Resin, celsius: f64| {
            let (cure, outside) = planning_cure(coat, Temperature::celsius(celsius));
            assert!(outside);
            (cure.times.vehicle.as_hours() * 100.0).round() / 100.0
        };
        let mut coat = resin(8.0);
        assert_eq!((hours(&coat, 55.0), hours(&coat, 39.0)), (8.49, 8.49));
        assert_eq!(hours(&coat, 2.0), 67.88);
        coat.slab_to = Temperature::celsius(30.0);
        coat.slab_from = Temperature::celsius(12.0);
        assert_eq!((hours(&coat, 55.0), hours(&coat, 31.0)), (12.96, 12.96));
        assert_eq!(hours(&coat, 2.0), 45.13);
    }

    #[test]
    fn a_short_wait_stays_within_the_day() {
        // 8:30 to 10:30, two hours, 12:30.
        assert_eq!(second_coat(&two_coats(2.0)), (1, 12.5));
        assert_eq!(two_coats(2.0).days, 1);
    }

    #[test]
    fn a_wait_past_closing_goes_on_in_the_morning() {
        assert_eq!(second_coat(&two_coats(5.0)), (2, 8.5));
        assert_eq!(two_coats(5.0).days, 2);
    }

    #[test]
    fn the_crew_stays_away_while_the_floor_cures_for_days() {
        // 10:30 and 50 hours is 12:30 on the third day: two days of work, not three.
        let schedule = two_coats(50.0);
        assert_eq!(second_coat(&schedule), (3, 12.5));
        assert_eq!(schedule.days, 2);
        assert_eq!(schedule.stretches.iter().filter(|s| s.task == Task::SetUp).count(), 2);
    }
}
