//! Values that all results are made of: money, days, moments, rounded figures.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::calendar::{self, Clock};
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::papers::proposal::writer::Writer;

/// An amount of money in the results' currency, as text with two decimals: `-1234.50`. Never a
/// binary number, so that no reader rounds it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(extend("pattern" = "^-?[0-9]+\\.[0-9]{2}$"))]
pub struct Money(String);

impl From<Cents> for Money {
    fn from(cents: Cents) -> Self {
        Self(cents.to_string())
    }
}

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

/// A moment as a clock in the garage shows it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Moment {
    /// Day of the job; the first day of work is 1.
    pub day: u32,
    /// That day in the calendar; null while no first day of work is agreed.
    pub date: Option<Day>,
    /// Hours since that day's midnight, by the clock: 13.5 is half past one in the afternoon.
    pub hour: f64,
}

impl Moment {
    pub fn of(w: &Writer<'_>, moment: calendar::Moment) -> Self {
        let clock = Clock { calendar: &w.case.shop.calendar, start: w.case.job.plan.start };
        Self {
            day: moment.day(),
            date: clock.date(moment.day()).map(Day::from),
            hour: rounded(moment.of_day().as_hours()),
        }
    }
}

/// A measured figure to four decimals, so that the last bits of arithmetic stay out of files.
pub fn rounded(value: f64) -> f64 {
    // Adding zero makes the zero of a tiny negative figure a plain one.
    (value * 10_000.0).round() / 10_000.0 + 0.0
}

/// Names as texts.
pub fn texts(keys: &[Key]) -> Vec<String> {
    keys.iter().map(|key| key.0.clone()).collect()
}
