//! The last day of the right to cancel: 16 CFR 429, the FTC's Cooling-Off Rule.
//!
//! A business day is any calendar day except Sunday and federal holidays (16 CFR 429.0(f)), so
//! Saturday counts. The rule does not say what happens with *observed* days (5 U.S.C. 6103(b):
//! Friday for a Saturday holiday, Monday for a Sunday one). 429.1(c) allows a later day and no
//! earlier one, so both counts are made and the later is printed.

use jiff::civil::{Date, Weekday};

/// Business days after the date of the transaction: 16 CFR 429.1(a).
pub const DAYS_TO_CANCEL: u32 = 3;

/// The last day on which the buyer may cancel.
pub fn last_day_to_cancel(signed: Date) -> Date {
    count(signed, &|day| is_holiday(day))
        .max(count(signed, &|day| is_holiday(day) || is_observed(day)))
}

fn count(signed: Date, closed: &dyn Fn(Date) -> bool) -> Date {
    let mut day = signed;
    let mut counted = 0;
    while counted < DAYS_TO_CANCEL {
        let Ok(next) = day.tomorrow() else { return day };
        day = next;
        if day.weekday() != Weekday::Sunday && !closed(day) {
            counted += 1;
        }
    }
    day
}

/// A federal holiday on its own date: 5 U.S.C. 6103(a), with Juneteenth since 2021.
pub fn is_holiday(day: Date) -> bool {
    let fixed = matches!((day.month(), day.day()), (1, 1) | (6, 19) | (7, 4) | (11, 11) | (12, 25));
    let nth = |month: i8, weekday: Weekday, nth: i8| {
        day.month() == month && day.weekday() == weekday && (day.day() - 1) / 7 + 1 == nth
    };
    let last_monday_of_may = day.month() == 5 && day.weekday() == Weekday::Monday && day.day() > 24;
    fixed
        || nth(1, Weekday::Monday, 3)
        || nth(2, Weekday::Monday, 3)
        || last_monday_of_may
        || nth(9, Weekday::Monday, 1)
        || nth(10, Weekday::Monday, 2)
        || nth(11, Weekday::Thursday, 4)
}

/// A weekday on which a holiday of the weekend is observed.
pub fn is_observed(day: Date) -> bool {
    match day.weekday() {
        Weekday::Friday => day.tomorrow().is_ok_and(is_holiday),
        Weekday::Monday => day.yesterday().is_ok_and(is_holiday),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use jiff::ToSpan;

    use super::*;

    #[test]
    fn the_count_ends_with_the_calendar() {
        assert_eq!(last_day_to_cancel(Date::MAX), Date::MAX);
    }

    /// 5 U.S.C. 6103(a), by the nth weekday of a month as the library `jiff` finds it: every day from
    /// 2021 to 2060.
    #[test]
    fn holidays_are_those_of_the_law() {
        let floating = [
            (1, Weekday::Monday, 3),
            (2, Weekday::Monday, 3),
            (5, Weekday::Monday, -1),
            (9, Weekday::Monday, 1),
            (10, Weekday::Monday, 2),
            (11, Weekday::Thursday, 4),
        ];
        for year in 2021..=2060 {
            let first = |month| Date::new(year, month, 1).unwrap();
            let nth =
                |(month, weekday, nth)| first(month).nth_weekday_of_month(nth, weekday).unwrap();
            let fixed = [(1, 1), (6, 19), (7, 4), (11, 11), (12, 25)];
            let fixed = fixed.map(|(month, day)| Date::new(year, month, day).unwrap());
            let of_the_law: Vec<Date> = floating.into_iter().map(nth).chain(fixed).collect();
            for day in first(1).series(1.day()).take_while(|day| day.year() == year) {
                assert_eq!(is_holiday(day), of_the_law.contains(&day), "{day}");
            }
        }
    }

    fn day(text: &str) -> Date {
        text.parse().unwrap()
    }

    /// Counted by hand on a calendar, and with the Python package `holidays` 0.109; where the two
    /// counts differ the later one stands.
    #[test]
    fn the_last_day_to_cancel_is_the_later_of_both_counts() {
        for (signed, last) in [
            ("2026-03-06", "2026-03-10"),
            ("2026-03-08", "2026-03-11"),
            ("2026-02-12", "2026-02-17"),
            ("2026-05-22", "2026-05-27"),
            ("2026-06-17", "2026-06-22"),
            ("2026-07-02", "2026-07-08"),
            ("2026-10-09", "2026-10-14"),
            ("2026-11-10", "2026-11-14"),
            ("2026-11-25", "2026-11-30"),
            ("2026-12-23", "2026-12-28"),
            ("2027-07-02", "2027-07-07"),
            ("2027-12-22", "2027-12-28"),
            ("2027-12-24", "2027-12-29"),
            ("2028-02-28", "2028-03-02"),
            ("2028-06-16", "2028-06-21"),
            ("2028-11-08", "2028-11-14"),
        ] {
            assert_eq!(last_day_to_cancel(day(signed)), day(last), "signed {signed}");
        }
    }
}
