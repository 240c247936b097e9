//! Days and clocks: when a shop works, and what the clock shows after some hours have passed.
//!
//! Coats cure by elapsed time and people meet by the clock. On two nights of the year these
//! differ by an hour, so hours are added on the time line of the shop's time zone (IANA time zone
//! database) and read on the clock again. Without a zone or without a first day there is nothing
//! to convert, and the two are one.

use jiff::civil::{Date, DateTime, Weekday};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, ZonedDateTime};

use crate::base::business_days::{is_holiday, is_observed};
use crate::base::quantity::Hours;

/// A moment as a clock in the garage shows it, counted from midnight before the first day of
/// work: 33 is 9 in the morning of the second day.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Moment(pub Hours);

impl Moment {
    /// A time of a day; the first day is 1.
    pub fn on(day: u32, clock: Hours) -> Self {
        Self(Hours::days(f64::from(day) - 1.0) + clock)
    }

    /// The day it falls on; the first day is 1.
    pub fn day(self) -> u32 {
        (self.0.as_days().floor() as u32).min(LAST_DAY) + 1
    }

    /// Hours since that day's midnight.
    pub fn of_day(self) -> Hours {
        Hours::hours(self.0.as_hours() - f64::from(self.day() - 1) * 24.0)
    }

    /// The half hour from which something may be done. It is never midnight, of which a reader cannot tell
    /// whether it opens the day or ends it.
    pub fn half_hour(self) -> Self {
        let half_hour = Self(Hours::hours((self.0.as_hours() * 2.0 - STEP_SLACK).ceil() / 2.0));
        let at_midnight = half_hour.of_day().as_minutes() < 1.0;
        if at_midnight { Self(half_hour.0 + Hours::hours(0.5)) } else { half_hour }
    }

    /// The moment from which a customer may do something: the half hour, or by night the morning after it.
    /// The rule, every paper and the calendars take it from here.
    pub fn by_day(self) -> Self {
        let moment = self.half_hour();
        if !moment.is_at_night() {
            return moment;
        }
        let day = moment.day() + u32::from(moment.of_day().as_hours() >= EVENING);
        Self::on(day, Hours::hours(MORNING))
    }

    /// True for an hour that nobody plans by.
    pub fn is_at_night(self) -> bool {
        !(MORNING..EVENING).contains(&self.of_day().as_hours())
    }
}

/// Covers the last bits of binary arithmetic, in half hours.
const STEP_SLACK: f64 = 1e-6;

/// Hours of the day between which a customer may be told an hour. Common practice, no published source.
const MORNING: f64 = 7.0;
const EVENING: f64 = 21.0;

/// Days past this are one: no floor takes millennia, and days can be added without overflow.
const LAST_DAY: u32 = 1_000_000;

/// The days and hours on which a shop works.
#[derive(Debug, Clone, Default)]
pub struct Calendar {
    /// Time zone of its clocks; `None` when the shop has not said.
    pub zone: Option<TimeZone>,
    pub closed_weekdays: Vec<Weekday>,
    /// Closed on the federal holidays of the United States and on the days they are observed.
    pub federal_holidays: bool,
    pub closed_days: Vec<Date>,
}

/// The reason for which a shop does not work on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closed {
    Weekday,
    Holiday,
    /// A day that the shop has named.
    Named,
}

impl Calendar {
    pub fn closed(&self, date: Date) -> Option<Closed> {
        if self.closed_days.contains(&date) {
            Some(Closed::Named)
        } else if self.federal_holidays && (is_holiday(date) || is_observed(date)) {
            Some(Closed::Holiday)
        } else if self.closed_weekdays.contains(&date.weekday()) {
            Some(Closed::Weekday)
        } else {
            None
        }
    }

    /// The time that passes between two moments of the clock; below zero where the second is earlier.
    pub fn between(&self, from: DateTime, to: DateTime) -> Hours {
        let zoned = |moment: DateTime| moment.to_zoned_datetime(self.zone.clone()?).ok();
        let seconds = match (zoned(from), zoned(to)) {
            (Some(from), Some(to)) => to.duration_since(&from).as_secs_f64(),
            _ => to.duration_since(from).as_secs_f64(),
        };
        Hours::hours(seconds / 3600.0)
    }

    /// Returns the moment that the clock shows after some time has passed.
    pub fn after(&self, moment: DateTime, time: Hours) -> DateTime {
        let time = SignedDuration::try_from_secs_f64(time.as_hours() * 3600.0).ok();
        let later = time.and_then(|time| {
            let zoned = self.zone.clone().and_then(|zone| moment.to_zoned_datetime(zone).ok());
            match zoned {
                Some(zoned) => Some(zoned.checked_add(time).ok()?.datetime()),
                None => moment.checked_add(time).ok(),
            }
        });
        later.unwrap_or(DateTime::MAX)
    }
}

/// The calendar of one job, from its first day on.
#[derive(Debug, Clone, Copy)]
pub struct Clock<'a> {
    pub calendar: &'a Calendar,
    /// The first day of work, when it is agreed.
    pub start: Option<Date>,
}

/// Days that are looked at in search of an open one; a shop that is closed for longer has closed.
const MOST_CLOSED_DAYS: u32 = 366;

impl Clock<'_> {
    /// The date of a day of work; the first day is 1.
    pub fn date(&self, day: u32) -> Option<Date> {
        let days = jiff::Span::new().try_days(i64::from(day) - 1).ok()?;
        self.start?.checked_add(days).ok()
    }

    /// Returns the moment that the clock shows after some time has passed.
    pub fn after(&self, moment: Moment, time: Hours) -> Moment {
        let later = self.zoned(moment).and_then(|from| {
            let time = SignedDuration::try_from_secs_f64(time.as_hours() * 3600.0).ok()?;
            self.moment(&from.checked_add(time).ok()?)
        });
        later.unwrap_or(Moment(moment.0 + time))
    }

    /// The time that passes between two moments.
    pub fn between(&self, from: Moment, to: Moment) -> Hours {
        match (self.zoned(from), self.zoned(to)) {
            (Some(from), Some(to)) => Hours::hours(to.duration_since(&from).as_secs_f64() / 3600.0),
            _ => to.0 - from.0,
        }
    }

    /// The first day from `day` on that the shop works.
    pub fn open_day(&self, day: u32) -> u32 {
        let open =
            |day: &u32| self.date(*day).is_none_or(|date| self.calendar.closed(date).is_none());
        (day..day.saturating_add(MOST_CLOSED_DAYS)).find(open).unwrap_or(day)
    }

    /// The moment on the time line, when the first day and the zone are known.
    pub fn zoned(&self, moment: Moment) -> Option<ZonedDateTime> {
        let zone = self.calendar.zone.as_ref()?;
        let midnight = self.date(moment.day())?.to_datetime(jiff::civil::Time::midnight());
        let clock = SignedDuration::try_from_secs_f64(moment.of_day().as_hours() * 3600.0).ok()?;
        midnight.checked_add(clock).ok()?.to_zoned_datetime(zone.clone()).ok()
    }

    fn moment(&self, zoned: &ZonedDateTime) -> Option<Moment> {
        let start = self.start?;
        let day = zoned.date().since(start).ok()?.get_days();
        let clock = zoned.time().duration_since(jiff::civil::Time::midnight());
        let day = u32::try_from(day).ok()? + 1;
        Some(Moment::on(day, Hours::hours(clock.as_secs_f64() / 3600.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::tz::TimeZoneDatabase;

    fn calendar(zone: &str) -> Calendar {
        Calendar {
            zone: Some(TimeZoneDatabase::bundled().get(zone).unwrap()),
            ..Calendar::default()
        }
    }

    fn after(start: &str, zone: &str, day: u32, clock: f64, hours: f64) -> (u32, f64) {
        let calendar = calendar(zone);
        let clock_of = Clock { calendar: &calendar, start: Some(start.parse().unwrap()) };
        let end = clock_of.after(Moment::on(day, Hours::hours(clock)), Hours::hours(hours));
        (end.day(), (end.of_day().as_hours() * 1e6).round() / 1e6)
    }

    /// Clocks in the United States go forward at 2 am on the second Sunday of March and back at
    /// 2 am on the first Sunday of November: 15 U.S.C. 260a.
    #[test]
    fn hours_pass_over_the_nights_on_which_clocks_change() {
        // Saturday 4 pm and 24 hours: 5 pm on the short day, 3 pm on the long one.
        assert_eq!(after("2026-03-07", "America/Chicago", 1, 16.0, 24.0), (2, 17.0));
        assert_eq!(after("2026-10-31", "America/Chicago", 1, 16.0, 24.0), (2, 15.0));
        // Most of Arizona keeps its clocks as they are.
        assert_eq!(after("2026-03-07", "America/Phoenix", 1, 16.0, 24.0), (2, 16.0));
        // European Union: last Sunday of March, 1:00 UTC (Directive 2000/84/EC).
        assert_eq!(after("2026-03-28", "Europe/Oslo", 1, 16.0, 24.0), (2, 17.0));
    }

    #[test]
    fn time_between_two_clocks_is_what_a_stopwatch_shows() {
        let calendar = calendar("America/Chicago");
        let clock = Clock { calendar: &calendar, start: Some("2026-03-07".parse().unwrap()) };
        let at = |day, hour| Moment::on(day, Hours::hours(hour));
        assert_eq!(clock.between(at(1, 16.0), at(2, 8.0)), Hours::hours(15.0));
        let nowhere = Clock { start: None, ..clock };
        assert_eq!(nowhere.between(at(1, 16.0), at(2, 8.0)), Hours::hours(16.0));
    }

    /// At the end of the time line, hours are added as on a clock of no place.
    #[test]
    fn time_past_the_end_of_the_calendar_passes_all_the_same() {
        let calendar = calendar("America/Chicago");
        let clock = Clock { calendar: &calendar, start: Some(Date::MAX) };
        let noon = Moment::on(1, Hours::hours(12.0));
        for hours in [24.0, 1e300] {
            assert_eq!(clock.after(noon, Hours::hours(hours)).0, Hours::hours(12.0 + hours));
        }
        assert_eq!(clock.date(2), None);
        assert_eq!(clock.open_day(2), 2);
    }

    #[test]
    fn closed_days_are_passed_over() {
        let calendar = Calendar {
            closed_weekdays: vec![Weekday::Sunday],
            federal_holidays: true,
            closed_days: vec!["2026-07-06".parse().unwrap()],
            ..Calendar::default()
        };
        // Thursday July 2, 2026: the 3rd is the day on which July 4 is observed, then come the
        // holiday, a Sunday and a day that the shop has closed.
        let clock = Clock { calendar: &calendar, start: Some("2026-07-02".parse().unwrap()) };
        assert_eq!(clock.open_day(1), 1);
        assert_eq!(clock.open_day(2), 6);
        assert_eq!(clock.date(6), Some("2026-07-07".parse().unwrap()));
    }

    /// By hand: 8:10 pm is said as 8:30 pm; 9 pm and later, and before 7 am, as the morning that follows.
    #[test]
    fn what_falls_into_the_night_is_the_morning_after() {
        let of = |day: u32, hour: f64| {
            let moment = Moment::on(day, Hours::hours(hour)).by_day();
            (moment.day(), moment.of_day().as_hours())
        };
        assert_eq!(of(1, 20.0 + 1.0 / 6.0), (1, 20.5));
        assert_eq!(of(1, 20.5), (1, 20.5));
        assert_eq!(of(1, 20.6), (2, 7.0));
        assert_eq!(of(1, 23.9), (2, 7.0));
        assert_eq!(of(2, 0.0), (2, 7.0));
        assert_eq!(of(2, 6.5), (2, 7.0));
        assert_eq!(of(2, 7.0), (2, 7.0));
    }
}
