//! Values that all results are made of: days and moments.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::calendar;
use crate::base::quantity::Hours;
use crate::papers::proposal::writer::Writer;

/// A day of the calendar: year, month, day, as in `2026-05-12`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(extend("pattern" = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"))]
pub struct Day(String);

impl From<Date> for Day {
    fn from(date: Date) -> Self {
        Self(date.to_string())
    }
}

/// A text, or null when it is empty.
pub fn unless_empty(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}

/// A moment as a clock in the garage shows it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ClockMoment {
    /// Day of the job; the first day of work is 1.
    pub day: u32,
    /// That day in the calendar; null while no first day of work is agreed.
    pub date: Option<Day>,
    /// Hours since that day's midnight, by the clock: 13.5 is half past one in the afternoon.
    pub hour: Hours,
}

impl ClockMoment {
    pub fn of(w: &Writer<'_>, moment: calendar::Moment) -> Self {
        let date = w.day_of(moment).map(Day::from);
        Self { day: moment.day(), date, hour: moment.of_day() }
    }
}
