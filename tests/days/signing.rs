//! The steps before a start in their order, on every day of two years: sign, the right to cancel ends, the material is
//! ordered, the work begins.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday, date};
use slableaf::price::signing::{TimeToSign, time_to_sign};

use super::Day;

/// Federal holidays of 5 U.S.C. 6103(a) with the days on which they are observed, written out from a calendar.
const HOLIDAYS: &[(i16, i8, i8)] = &[
    (2026, 5, 25),
    (2026, 6, 19),
    (2026, 7, 3),
    (2026, 7, 4),
    (2026, 9, 7),
    (2026, 10, 12),
    (2026, 11, 11),
    (2026, 11, 26),
    (2026, 12, 25),
    (2027, 1, 1),
    (2027, 1, 18),
    (2027, 2, 15),
    (2027, 5, 31),
    (2027, 6, 18),
    (2027, 6, 19),
    (2027, 7, 4),
    (2027, 7, 5),
    (2027, 9, 6),
    (2027, 10, 11),
    (2027, 11, 11),
    (2027, 11, 25),
    (2027, 12, 24),
    (2027, 12, 25),
    (2027, 12, 31),
];

fn is_holiday(day: Date) -> bool {
    HOLIDAYS.iter().any(|(year, month, of)| day == date(*year, *month, *of))
}

fn after(day: Date) -> impl Iterator<Item = Date> {
    (1..40).map(move |days| day.saturating_add(days.days()))
}

/// Midnight of the third business day: any day but Sunday and a federal holiday (16 CFR 429.0(f), 429.1(a)).
fn cancel_until(signed: Date) -> Date {
    let business = |day: &Date| day.weekday() != Weekday::Sunday && !is_holiday(*day);
    after(signed).filter(business).nth(2).unwrap()
}

/// A day from Monday to Friday on which the shop and its suppliers work.
fn works(day: Date) -> bool {
    !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) && !is_holiday(day)
}

#[test]
fn the_last_day_to_sign_leaves_time_for_every_step() {
    let mut day = Day::new();
    let paper = day.input.job.date;
    let mut seen = [0, 0, 0];
    for at_home in [true, false] {
        day.input.job.garage.sold_at_home = at_home;
        let over = |signed: Date| if at_home { cancel_until(signed) } else { signed };
        // With a working day between the end of the right to cancel and the start.
        let fits = |signed: Date, start: Date| {
            after(over(signed)).take_while(|day| *day < start).any(works)
        };
        for days in -2..560_i64 {
            let start = paper.checked_add(days.days()).unwrap();
            let found = time_to_sign(start, &day.input.job, &day.input.shop);
            match found {
                TimeToSign::Until(signed) => {
                    seen[0] += 1;
                    assert!(
                        works(signed) && signed >= paper && fits(signed, start),
                        "{start} {signed}"
                    );
                    // No later working day would do.
                    let later = after(signed).take_while(|day| *day < start);
                    let mut later = later.filter(|day| works(*day));
                    assert!(!later.any(|day| fits(day, start)), "{start} {signed}");
                }
                TimeToSign::WithoutOrder(signed) => {
                    seen[1] += 1;
                    assert!(signed >= paper && over(signed) < start, "{start} {signed}");
                    assert!(!works(paper) || !fits(paper, start), "{start}");
                }
                TimeToSign::None => {
                    seen[2] += 1;
                    assert!(over(paper) >= start, "{start}");
                }
            }
        }
    }
    assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
}
