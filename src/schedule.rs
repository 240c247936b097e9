//! Lays the work into the crew's days: hours of work by day, curing by day and night.

use crate::book::{Labor, Rates, Resin};
use crate::cure::{self, Basis, CureAt};
use crate::estimate::labour::{Task, Work};
use crate::quantity::*;

/// A moment, counted from midnight before the first day of work.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Moment(pub Hours);

impl Moment {
    /// The day it falls on; the first day is 1.
    pub fn day(self) -> u32 {
        (self.0.as_days().floor() as u32) + 1
    }

    /// Hours since that day's midnight.
    pub fn of_day(self) -> Hours {
        Hours::hours(self.0.as_hours() - f64::from(self.day() - 1) * 24.0)
    }

    fn after(self, time: Hours) -> Self {
        Self(self.0 + time)
    }
}

/// A stretch of work on the clock.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    pub task: Task,
    pub from: Moment,
    pub to: Moment,
}

/// A coat that went down later than the coat below it allows without sanding.
#[derive(Debug, Clone, PartialEq)]
pub struct MissedRecoat {
    pub task: Task,
    pub late_by: Hours,
}

/// The days of one floor.
#[derive(Debug, Clone)]
pub struct Schedule {
    pub stretches: Vec<Stretch>,
    pub days: u32,
    /// When the last coat is down.
    pub done: Moment,
    pub walk: Moment,
    pub carry: Moment,
    pub drive: Moment,
    pub missed: Vec<MissedRecoat>,
    pub basis: PlanBasis,
}

/// At what slab temperature the times were taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlanBasis {
    /// At the slab as measured.
    Measured { slab: Temperature, by: Basis },
    /// No slab temperature: reckoned at a usual one.
    Assumed { slab: Temperature },
    /// The slab as measured is beyond what a coat's data sheet covers: reckoned at the nearest
    /// temperature that it does cover.
    Nearest,
}

/// Slab temperature used for planning when none was measured: 70 F.
pub const USUAL_SLAB: Temperature = Temperature::fahrenheit(70.0);

/// Things may be carried in a day after the last coat, never before one may walk and never later
/// than one may drive. Common practice, no published source.
const CARRY_AFTER: Hours = Hours::hours(24.0);

/// Lays work into days.
pub fn schedule(
    work: &[Work<'_>],
    labor: &Labor,
    rates: &Rates,
    crew: u32,
    slab: Option<Temperature>,
) -> Schedule {
    let mut desk = Desk::new(labor, rates, crew);
    let mut basis = match slab {
        Some(slab) => PlanBasis::Measured { slab, by: Basis::Sheet },
        None => PlanBasis::Assumed { slab: USUAL_SLAB },
    };
    let mut missed = vec![];
    let mut below: Option<(Moment, CureAt)> = None;
    for piece in work {
        if let (Task::Scrape | Task::Coat(_), Some((laid, cure))) = (&piece.task, &below) {
            desk.wait_until(laid.after(cure.times.recoat_from));
        }
        let (from, to) = desk.place(piece);
        let Some(resin) = piece.lays else { continue };
        if let Some((laid, cure)) = below {
            let latest = laid.after(cure.times.recoat_to);
            if from > latest {
                missed.push(MissedRecoat { task: piece.task.clone(), late_by: from.0 - latest.0 });
            }
        }
        let (cure, outside) = planning_cure(resin, slab.unwrap_or(USUAL_SLAB));
        basis = match (basis, outside, cure.basis) {
            (PlanBasis::Measured { .. }, true, _) => PlanBasis::Nearest,
            (PlanBasis::Measured { slab, .. }, false, Basis::Rule) => {
                PlanBasis::Measured { slab, by: Basis::Rule }
            }
            (basis, _, _) => basis,
        };
        below = Some((to, cure));
    }
    let days = desk.close();
    let (done, times) = below.map_or((desk.now, None), |(laid, cure)| (laid, Some(cure.times)));
    let (foot, vehicle) = times.map_or((Hours::ZERO, Hours::ZERO), |t| (t.foot, t.vehicle));
    let carry = CARRY_AFTER.max(foot).min(vehicle.max(foot));
    Schedule {
        stretches: desk.stretches,
        days,
        done,
        walk: done.after(foot),
        carry: done.after(carry),
        drive: done.after(vehicle.max(foot)),
        missed,
        basis,
    }
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
    let none = crate::book::Cure {
        at: slab,
        pot_life: Hours::ZERO,
        recoat_from: Hours::ZERO,
        recoat_to: Hours::ZERO,
        foot: Hours::ZERO,
        vehicle: Hours::ZERO,
    };
    let cure = cure::cure_at(resin, nearest).unwrap_or(CureAt {
        times: resin.cure.first().copied().unwrap_or(none),
        basis: Basis::Sheet,
    });
    (cure, true)
}

/// The crew's clock while work is laid out.
struct Desk {
    now: Moment,
    starts: Hours,
    ends: Hours,
    set_up: Hours,
    clean_up: Hours,
    crew: f64,
    /// Days on which the crew is there.
    days: u32,
    stretches: Vec<Stretch>,
}

impl Desk {
    fn new(labor: &Labor, rates: &Rates, crew: u32) -> Self {
        let clock = |time: jiff::civil::Time| {
            Hours::minutes(f64::from(time.hour()) * 60.0 + f64::from(time.minute()))
        };
        let crew = f64::from(crew.max(1));
        let mut desk = Self {
            now: Moment(clock(labor.day_starts)),
            starts: clock(labor.day_starts),
            ends: clock(labor.day_ends),
            set_up: rates.set_up * (1.0 / crew),
            clean_up: rates.clean_up * (1.0 / crew),
            crew,
            days: 1,
            stretches: vec![],
        };
        desk.put(Task::SetUp, desk.set_up);
        desk
    }

    /// When work has to stop today, so that there is time to clean up.
    fn last_call(&self) -> Moment {
        let midnight = Hours::days(f64::from(self.now.day() - 1));
        Moment(midnight + self.ends - self.clean_up)
    }

    fn put(&mut self, task: Task, time: Hours) -> (Moment, Moment) {
        let (from, to) = (self.now, self.now.after(time));
        self.stretches.push(Stretch { task, from, to });
        self.now = to;
        (from, to)
    }

    /// Ends today's work and begins on a later day; the crew stays away on the days between.
    fn go_on(&mut self, day: u32) {
        self.put(Task::CleanUp, self.clean_up);
        self.days += 1;
        self.now = Moment(Hours::days(f64::from(day - 1)) + self.starts);
        self.put(Task::SetUp, self.set_up);
    }

    fn next_day(&mut self) {
        self.go_on(self.now.day() + 1);
    }

    /// Lets time pass until a moment. Past the end of today's work the crew comes back on the
    /// first day on which the moment leaves time to work.
    fn wait_until(&mut self, moment: Moment) {
        if self.now >= moment {
            return;
        }
        if moment.day() > self.now.day() || moment >= self.last_call() {
            let last_call_that_day = self.ends - self.clean_up;
            let late = moment.of_day() >= last_call_that_day;
            self.go_on(moment.day().max(self.now.day()) + u32::from(late));
        }
        if self.now < moment {
            self.now = moment;
        }
    }

    fn place(&mut self, piece: &Work<'_>) -> (Moment, Moment) {
        let mut left = piece.hours * (1.0 / self.crew);
        if piece.task.may_pause() {
            let mut from = None;
            loop {
                let room = self.last_call().0 - self.now.0;
                if room <= Hours::minutes(1.0) {
                    self.next_day();
                    // A day with no room at all would never end.
                    if self.last_call().0 - self.now.0 <= Hours::minutes(1.0) {
                        let (start, to) = self.put(piece.task.clone(), left);
                        return (from.unwrap_or(start), to);
                    }
                    continue;
                }
                let (start, to) = self.put(piece.task.clone(), left.min(room));
                from = from.or(Some(start));
                left = left - left.min(room);
                if left <= Hours::minutes(0.001) {
                    return (from.unwrap_or(start), to);
                }
            }
        }
        let fits = |desk: &Self| desk.now.0 + left <= desk.last_call().0 + Hours::minutes(0.001);
        // On a day that has only begun there is no better day to wait for.
        let fresh =
            self.stretches.last().is_some_and(|s| s.task == Task::SetUp && s.to == self.now);
        if !fits(self) && !fresh {
            self.next_day();
        }
        self.put(piece.task.clone(), left)
    }

    fn close(&mut self) -> u32 {
        self.put(Task::CleanUp, self.clean_up);
        self.days
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Coverage, Cure, Kit};
    use crate::input::scalar::Key;
    use crate::money::Cents;

    fn resin(recoat_from: f64) -> Resin {
        let hours = Hours::hours;
        Resin {
            kits: vec![Kit { size: Volume::litres(10.0), price: Cents(1) }],
            stock: Volume::ZERO,
            solids: Share::of_one(1.0),
            mix: "1 : 1".into(),
            coverage: Coverage::Film(Thickness::mils(10.0)),
            loss: Share::ZERO,
            barrier: false,
            mver_limit: None,
            rh_limit: None,
            voc: None,
            solvent: None,
            isocyanate: false,
            uv_stable: true,
            water_based: false,
            slab_from: Temperature::celsius(0.0),
            slab_to: Temperature::celsius(40.0),
            air_humidity_to: None,
            dew_spread: None,
            strength_from: None,
            concrete_days: None,
            cure: vec![Cure {
                at: USUAL_SLAB,
                pot_life: hours(0.5),
                recoat_from: hours(recoat_from),
                recoat_to: hours(200.0),
                foot: hours(6.0),
                vehicle: hours(24.0),
            }],
        }
    }

    /// Two coats with a wait between them, from 8 to 17 with half an hour before and after.
    fn two_coats(wait: f64) -> Schedule {
        let labor = Labor {
            wage: 1.into(),
            burden: 0.into(),
            crew: 1,
            day_starts: jiff::civil::time(8, 0, 0, 0),
            day_ends: jiff::civil::time(17, 0, 0, 0),
        };
        let (area, length) = (AreaRate::square_feet_per_hour(1.0), LengthRate::feet_per_hour(1.0));
        let rates = Rates {
            set_up: Hours::hours(0.5),
            clean_up: Hours::hours(0.5),
            grind: area,
            grind_coated: area,
            edge: length,
            crack: length,
            roll: area,
            upright: area,
            broadcast: area,
            scrape: area,
        };
        let coat = resin(wait);
        let lay = |name: &str| Work {
            task: Task::Coat(Key(name.into())),
            hours: Hours::hours(2.0),
            lays: Some(&coat),
        };
        schedule(&[lay("one"), lay("two")], &labor, &rates, 1, None)
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
