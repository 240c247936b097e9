//! From when a floor may be used: as it was laid where that was written down, else as it is planned.

use jiff::civil::{Date, DateTime, Time};

use crate::base::calendar::Moment;
use crate::base::quantity::Hours;
use crate::judge::laid::FloorAsLaid;
use crate::papers::proposal::writer::Writer;
use crate::price::cure::CureBasis;
use crate::price::schedule::Schedule;

/// Moments from which a floor may be used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usable {
    pub walk: Moment,
    pub carry: Moment,
    pub park: Moment,
    /// True where they are an estimate: beyond the points of the data sheet, or from an end that nobody wrote
    /// down.
    pub about: bool,
}

impl Usable {
    /// The moments of a floor that was laid, as far as they are known.
    pub fn as_laid(w: &Writer<'_>, laid: &FloorAsLaid<'_>) -> Option<Self> {
        let times = laid.times?;
        let start = w.clock().start?;
        Some(Self {
            walk: moment_after(start, times.walk)?,
            carry: moment_after(start, times.carry)?,
            park: moment_after(start, times.drive)?,
            about: times.done_reckoned || times.basis == CureBasis::Rule,
        })
    }
}

/// The moments of the plan.
impl From<&Schedule> for Usable {
    fn from(schedule: &Schedule) -> Self {
        Self { walk: schedule.walk, carry: schedule.carry, park: schedule.drive, about: false }
    }
}

/// A time of the calendar as a moment of the work that began on a day; `None` before it.
fn moment_after(start: Date, time: DateTime) -> Option<Moment> {
    let days = u32::try_from(time.date().since(start).ok()?.get_days()).ok()?;
    let clock = time.time().duration_since(Time::midnight());
    Some(Moment::on(days + 1, Hours::hours(clock.as_secs_f64() / 3600.0)))
}

/// The words behind `until` for children and pets: the last moment that data sheets give of a floor, that of a car.
/// `None` stands for the floors of a paper; then a car says it without a date where one may park.
pub fn back_in(w: &Writer<'_>, from: Option<Moment>) -> String {
    match from {
        Some(moment) => back_at(w, w.case.job.has_cars(), Some(moment), 1),
        None if w.case.job.has_cars() => back_at(w, true, None, 1),
        None => back_in_all(std::slice::from_ref(w)),
    }
}

/// The same for the floors of several spaces together: the last of all that they may choose from.
pub fn back_in_all(writers: &[Writer<'_>]) -> String {
    let Some(w) = writers.first() else { return String::new() };
    let floors = writers.iter().flat_map(|w| w.priced());
    let moments: Vec<Moment> = floors.map(|option| option.estimate.schedule.drive).collect();
    let last = moments.iter().copied().reduce(|one, other| if one > other { one } else { other });
    match last {
        Some(_) => back_at(w, false, last, moments.len()),
        None => w.plain("time.back_in_unknown"),
    }
}

fn back_at(w: &Writer<'_>, cars: bool, at: Option<Moment>, count: usize) -> String {
    let at = at.map(|moment| w.usable(moment)).unwrap_or_default();
    w.say_with("time.back_in", minijinja::context! { cars, at, several => count > 1 })
}
