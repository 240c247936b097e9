//! Dates, hours and clock times as a reader sees them.

use jiff::civil::{Date, Time};

use super::Figures;
use crate::base::calendar::Moment;
use crate::base::quantity::Hours;

impl Figures<'_> {
    pub fn date(&self, date: Date) -> String {
        self.dated(date, &self.words.date)
    }

    /// A date without its year, for the days of work.
    pub fn date_short(&self, date: Date) -> String {
        self.dated(date, &self.words.date_short)
    }

    /// A date with its weekday and year: `Tuesday, May 12, 2026`.
    pub fn date_long(&self, date: Date) -> String {
        self.dated(date, &self.words.date_long)
    }

    /// A date with its weekday, without its year: `Tuesday, May 12`.
    pub fn date_weekday(&self, date: Date) -> String {
        self.dated(date, &self.words.date_weekday)
    }

    /// A date with its weekday, both cut short where they can be: `Tue, May 12`.
    pub fn date_weekday_short(&self, date: Date) -> String {
        let pattern = self.words.date_weekday.replace("{weekday}", &self.weekday_short(date));
        self.dated(date, &pattern)
    }

    /// The weekday of a date, cut short: `Tue`.
    pub fn weekday_short(&self, date: Date) -> String {
        weekday(&self.words.weekdays_short, date)
    }

    fn dated(&self, date: Date, pattern: &str) -> String {
        let month = self.words.months.get(date.month() as usize - 1).cloned().unwrap_or_default();
        pattern
            .replace("{weekday}", &weekday(&self.words.weekdays, date))
            .replace("{day}", &date.day().to_string())
            .replace("{month}", &month)
            .replace("{year}", &date.year().to_string())
    }

    pub fn days(&self, days: u32) -> String {
        let word = if days == 1 { &self.words.day } else { &self.words.days };
        format!("{}{word}", self.number(f64::from(days), 0))
    }

    /// Minutes as a number that is already written, with their word.
    pub(super) fn minutes_of(&self, number: &str) -> String {
        let word = if number == "1" { &self.words.minute } else { &self.words.minutes };
        format!("{number}{word}")
    }

    /// Hours as one says them: `45 minutes`, `2.5 hours`, `14 hours`.
    pub fn hours(&self, hours: Hours) -> String {
        let h = hours.as_hours();
        if h < 1.0 {
            return self.minutes_of(&self.number((h * 60.0 / 5.0).round() * 5.0, 0));
        }
        let text =
            if h < 10.0 { self.short((h * 2.0).round() / 2.0, 1) } else { self.number(h, 0) };
        let word = if text == "1" { &self.words.hour } else { &self.words.hours };
        format!("{text}{word}")
    }

    /// Hours that somebody holds to, to the minute below an hour: `8 minutes`, `2.5 hours`.
    pub(super) fn hours_toward(&self, hours: Hours, toward: Toward) -> String {
        let h = hours.as_hours();
        let minutes = toward.step(hours.as_minutes(), 1.0);
        if minutes < 60.0 {
            return self.minutes_of(&self.number(minutes, 0));
        }
        self.hours(Hours::hours(toward.step(h, if h < 10.0 { 0.5 } else { 1.0 })))
    }

    /// The time of day from which something may be done, to the half hour and never earlier than it
    /// is: `4 pm`, `4:30 pm`, `noon`. Its day is that of [`Moment::half_hour`].
    pub fn clock(&self, moment: Moment) -> String {
        self.clock_by(moment.half_hour(), HALF_HOUR)
    }

    /// A time of day for a crew, to the nearest five minutes: `4:35 pm`.
    pub fn crew_clock(&self, moment: Moment) -> String {
        self.clock_by(moment, CLOCK_STEP)
    }

    /// An hour of the day as clocks count it here.
    pub(super) fn hour(&self, hour: u32) -> u32 {
        if self.words.clock_24 { hour } else { (hour + 11) % 12 + 1 }
    }

    fn clock_by(&self, moment: Moment, step: u32) -> String {
        let steps = (moment.of_day().as_minutes() / f64::from(step)).round() as u32;
        let minutes = steps * step % (24 * 60);
        let named = match minutes {
            0 => &self.words.midnight,
            NOON => &self.words.noon,
            _ => "",
        };
        if named.is_empty() { self.time_of(minutes / 60, minutes % 60) } else { named.to_owned() }
    }

    /// A time of day to the minute, as somebody noted it: `8:20 am`.
    pub fn time(&self, time: Time) -> String {
        let [hour, minute] = [time.hour(), time.minute()].map(|part| part.unsigned_abs().into());
        self.time_of(hour, minute)
    }

    fn time_of(&self, hour: u32, minute: u32) -> String {
        let minute = format!("{minute:02}");
        let half = if hour < 12 { &self.words.morning } else { &self.words.afternoon };
        let pattern = if minute == "00" { &self.words.clock_full_hour } else { &self.words.clock };
        pattern
            .replace("{hour}", &self.hour(hour).to_string())
            .replace("{minute}", &minute)
            .replace("{half}", half)
    }
}

fn weekday(names: &[String], date: Date) -> String {
    let at = date.weekday().to_monday_zero_offset() as usize;
    names.get(at).cloned().unwrap_or_default()
}

/// Which way a figure is rounded. What somebody holds to is rounded to the safe side: a limit that may
/// not be passed to less, a wait to more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toward {
    Less,
    More,
}

impl Toward {
    /// A value to a step. What binary arithmetic leaves behind a step is the step.
    pub fn step(self, value: f64, step: f64) -> f64 {
        let steps = value / step;
        let rounded = match self {
            Self::Less => (steps + STEP_SLACK).floor(),
            Self::More => (steps - STEP_SLACK).ceil(),
        };
        rounded * step
    }

    /// A moment to a step of minutes.
    pub fn moment(self, moment: Moment, step: u32) -> Moment {
        Moment(Hours::minutes(self.step(moment.0.as_minutes(), f64::from(step))))
    }
}

/// Covers the last bits of binary arithmetic, in steps.
const STEP_SLACK: f64 = 1e-6;

/// The step of a crew's clock times, in minutes.
pub const CLOCK_STEP: u32 = 5;

/// The step of [`Moment::half_hour`], in minutes.
const HALF_HOUR: u32 = 30;
const NOON: u32 = 12 * 60;
