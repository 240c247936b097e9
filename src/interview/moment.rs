//! Dates and times of day as people type them: `5/1/26`, `yesterday`, `5:30 pm`.

use jiff::ToSpan;
use jiff::civil::{Date, DateTime, Time};

use crate::interview::typed::{Here, Typed, Untaken, unquoted};
use crate::model::job::Calibrated;

impl Typed for Date {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        date(unquoted(typed), here).map(|date| date.to_string())
    }
}

/// A day, or what people say of a probe that was never used before.
impl Typed for Calibrated {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        let typed = unquoted(typed);
        let lower = typed.to_lowercase();
        let mut words = lower.split(|c: char| !c.is_alphanumeric());
        let is_new = words.any(|word| word == "new") && !lower.contains("not");
        if is_new {
            return Ok("new".to_owned());
        }
        date(typed, here).map(|date| date.to_string()).map_err(|untaken| {
            untaken.or_without_help(here.no_day("That is neither a date nor `new`"))
        })
    }
}

impl Typed for DateTime {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        let no = || here.no("That is no date with a time");
        let typed = unquoted(typed);
        let (day, time) =
            typed.split_once(|c: char| c.is_whitespace() || c == 'T').ok_or_else(no)?;
        let time = time.trim();
        let time = of_day(time.strip_prefix("at ").unwrap_or(time)).ok_or_else(no)?;
        // Which way round a date goes is worth saying here too.
        let day = date(day.trim_end_matches(','), here)
            .map_err(|untaken| untaken.or_without_help(no()))?;
        Ok(format!("{day} {}", shown(time)))
    }
}

impl Typed for Time {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        of_day(unquoted(typed)).map(shown).ok_or_else(|| here.no("That is no time of day"))
    }
}

fn shown(time: Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}

fn date(typed: &str, here: &Here<'_>) -> Result<Date, Untaken> {
    let no = || here.no_day("That is no date");
    match typed.to_lowercase().as_str() {
        "today" => return Ok(here.today),
        "yesterday" => return here.today.checked_sub(1.day()).map_err(|_| no()),
        "tomorrow" => return here.today.checked_add(1.day()).map_err(|_| no()),
        _ => {}
    }
    let parts: Vec<&str> = typed.split(['-', '/']).map(str::trim).collect();
    let [first, second, third] = parts.as_slice() else { return Err(no()) };
    let number = |part: &str| match part.parse::<i16>() {
        Ok(number) if is_digits(part) => Ok((number, part.len())),
        _ => Err(no()),
    };
    let (year, month, day) = match (number(first)?, number(second)?, number(third)?) {
        ((year, 4), (month, 1 | 2), (day, 1 | 2)) => (year, month, day),
        ((month, 1 | 2), (day, 1 | 2), (year, digits @ (2 | 4))) if typed.contains('/') => {
            if !here.month_first() {
                let help = "year, month, day: then nobody takes the month for the day";
                return Err(here.no_day("That date can be read in two ways").help(help));
            }
            (if digits == 2 { CENTURY + year } else { year }, month, day)
        }
        _ => return Err(no()),
    };
    let small = |n: i16| i8::try_from(n).map_err(|_| no());
    Date::new(year, small(month)?, small(day)?).map_err(|_| no())
}

/// The year that years of two digits are counted from.
const CENTURY: i16 = 2000;

/// A time of day: `8`, `8:30`, `8 am`, `5:30 pm`, `17:30`.
fn of_day(typed: &str) -> Option<Time> {
    let lower = typed.trim().to_lowercase().replace("a.m.", "am").replace("p.m.", "pm");
    let minutes = lower.split(':').nth(1).unwrap_or("00").trim_end_matches(['a', 'p', 'm', ' ']);
    let forms = ["%H", "%H:%M", "%H:%M:%S", "%I %p", "%I:%M %p", "%I:%M:%S %p"];
    let time = forms.iter().find_map(|form| Time::strptime(form, &lower).ok());
    // A digit that is missing is not guessed.
    time.filter(|_| minutes.len() == 2)
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::interview::typed::testing::here;

    #[test]
    fn dates_are_taken_as_people_type_them_and_written_as_a_file_has_them() {
        for (typed, day) in [
            ("2026-05-01", "2026-05-01"),
            ("2026-5-1", "2026-05-01"),
            ("2026/05/01", "2026-05-01"),
            ("5/1/2026", "2026-05-01"),
            ("05/01/26", "2026-05-01"),
            ("\"2026-05-01\"", "2026-05-01"),
            ("today", "2026-05-12"),
            ("Yesterday", "2026-05-11"),
            ("tomorrow", "2026-05-13"),
        ] {
            assert_eq!(Date::plainly(typed, &here()).unwrap(), day, "{typed}");
        }
        for typed in [
            "12.5.2026",
            "5/1",
            "2026-02-30",
            "13/1/2026",
            "5-1-2026",
            "May",
            "",
            "5/1/126",
            "2026-05-01-02",
            "-1/2/2026",
            "+5/1/2026",
            "99999/1/1",
        ] {
            let untaken = Date::plainly(typed, &here()).unwrap_err();
            assert_eq!(untaken.message, "That is no date; type it as 2026-05-01", "{typed}");
        }
    }

    #[test]
    fn where_days_may_come_first_a_date_with_slashes_is_refused() {
        let metric = Here { metric: true, ..here() };
        let untaken = Date::plainly("5/1/2026", &metric).unwrap_err();
        assert_eq!(untaken.message, "That date can be read in two ways; type it as 2026-05-01");
        let timed = Here { example: "2026-05-01 09:15".into(), ..metric.clone() };
        let untaken = DateTime::plainly("5/1/2026 9:15", &timed).unwrap_err();
        assert!(untaken.message.contains("two ways; type it as 2026-05-01"), "{untaken:?}");
        assert_eq!(Date::plainly("2026/5/1", &metric).unwrap(), "2026-05-01");
    }

    #[test]
    fn times_are_taken_by_either_clock() {
        for (typed, time) in [
            ("8", "08:00"),
            ("7:30", "07:30"),
            ("07:30:00", "07:30"),
            ("8 am", "08:00"),
            ("5pm", "17:00"),
            ("5:30 PM", "17:30"),
            ("5:30 p.m.", "17:30"),
            ("12 am", "00:00"),
            ("12:15 pm", "12:15"),
            ("17:00", "17:00"),
        ] {
            assert_eq!(Time::plainly(typed, &here()).unwrap(), time, "{typed}");
        }
        for typed in
            ["", "am", "13 pm", "0 am", "24", "7:5", "7:60", "7:300", "half past", "1:2:3:4"]
        {
            let untaken = Time::plainly(typed, &here()).unwrap_err();
            assert!(untaken.message.starts_with("That is no time of day"), "{typed}");
        }
    }

    #[test]
    fn a_date_with_a_time_has_both() {
        for typed in [
            "2026-05-05 9:10",
            "2026-05-05T09:10:00",
            "2026-05-05 09:10:00",
            "5/5/2026 9:10 am",
            "5/5/26, 9:10 AM",
            "2026-05-05 at 9:10",
        ] {
            assert_eq!(DateTime::plainly(typed, &here()).unwrap(), "2026-05-05 09:10", "{typed}");
        }
        assert_eq!(DateTime::plainly("yesterday 5pm", &here()).unwrap(), "2026-05-11 17:00");
        for typed in [
            "2026-05-05",
            "9:10",
            "5/1 9:30 am",
            "2026-02-30 9:10",
            "2026-05-05T09:10:00Z",
            "2026-05-05T09:10:00+02:00",
        ] {
            let untaken = DateTime::plainly(typed, &here()).unwrap_err();
            assert!(untaken.message.starts_with("That is no date with a time"), "{typed}");
        }
    }
}
