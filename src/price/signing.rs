//! The days before a start: the last one on which a customer can sign, so that what has to come between can be
//! done in its order. First any right to cancel ends, then the material is ordered, then the work starts.

use std::iter;

use jiff::civil::{Date, Weekday};

use crate::base::business_days::{is_holiday, is_observed, last_day_to_cancel};
use crate::model::job::Job;
use crate::model::shop::Shop;

/// Working days to order the material, before the start and after any right to cancel. Common practice, no
/// published source.
pub const ORDER_DAYS: usize = 1;

/// Days before a start among which the last one to sign is looked for: three business days, one to order and the
/// closed days between them never take as many.
const DAYS_BEFORE: usize = 28;

/// Time that a start leaves between the paper and the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeToSign {
    /// Everything can be done in its order by a customer who signs on this day at the latest, a working day.
    Until(Date),
    /// By this day the customer can sign, and any right to cancel is over in time; but no working day is left to
    /// order material.
    WithoutOrder(Date),
    /// Whoever signs on the day of the paper may still cancel on the day of the start, or signs after it.
    None,
}

impl TimeToSign {
    /// The last day on which to sign, as far as there is one.
    pub fn last_day(self) -> Option<Date> {
        match self {
            Self::Until(day) | Self::WithoutOrder(day) => Some(day),
            Self::None => None,
        }
    }
}

/// True where the federal rule on sales at home gives the customer days to cancel.
pub fn can_be_cancelled(job: &Job, shop: &Shop) -> bool {
    job.garage.sold_at_home && shop.jurisdiction().has_us_notice()
}

/// True on a day on which shop and suppliers work: from Monday to Friday, no day on which the shop is closed, and no
/// federal holiday where those are known to be kept.
pub fn is_working_day(day: Date, shop: &Shop) -> bool {
    let weekend = matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday);
    let holiday = shop.jurisdiction().is_us() && (is_holiday(day) || is_observed(day));
    !weekend && !holiday && shop.calendar.closed(day).is_none()
}

/// The working day so many working days before a day, no earlier than the day of the paper.
pub fn working_days_before(day: Date, count: usize, job: &Job, shop: &Shop) -> Option<Date> {
    let mut working = days_before(day, job).filter(|day| is_working_day(*day, shop));
    working.nth(count.checked_sub(1)?)
}

/// The time that is left to sign for a start.
pub fn time_to_sign(start: Date, job: &Job, shop: &Shop) -> TimeToSign {
    let free = |signed: Date| match can_be_cancelled(job, shop) {
        true => last_day_to_cancel(signed),
        false => signed,
    };
    let ordered = working_days_before(start, ORDER_DAYS, job, shop);
    let until = ordered.and_then(|ordered| {
        days_before(ordered, job).find(|day| is_working_day(*day, shop) && free(*day) < ordered)
    });
    match until {
        Some(day) => TimeToSign::Until(day),
        None => {
            let last = days_before(start, job).find(|day| free(*day) < start);
            last.map_or(TimeToSign::None, TimeToSign::WithoutOrder)
        }
    }
}

/// The days before a day, the latest first, back to the day of the paper.
fn days_before(day: Date, job: &Job) -> impl Iterator<Item = Date> {
    let days = iter::successors(day.yesterday().ok(), |day| day.yesterday().ok());
    let date = job.date;
    days.take(DAYS_BEFORE).take_while(move |day| *day >= date)
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;
    use crate::price::testing;

    /// A paper of Tuesday, May 12, 2026.
    fn until(start: Date, sold_at_home: bool) -> TimeToSign {
        let at_home = if sold_at_home { "true" } else { "false" };
        let sample = testing::sample().job("garage.sold-at-home", at_home);
        sample.with_case(|case| time_to_sign(start, case.job, case.shop))
    }

    /// By hand, with 16 CFR 429.0(f) and 429.1(a): Memorial Day is Monday, May 25, so the last working day before the
    /// 26th is Friday the 22nd. Who signs on Monday the 18th may cancel until Thursday the 21st.
    #[test]
    fn leaves_time_to_cancel_and_to_order() {
        assert_eq!(until(date(2026, 5, 26), true), TimeToSign::Until(date(2026, 5, 18)));
        assert_eq!(until(date(2026, 5, 26), false), TimeToSign::Until(date(2026, 5, 21)));
    }

    /// The paper is of Tuesday the 12th: signed that day, the right to cancel ends on Friday the 15th; signed on the
    /// 13th, on Saturday the 16th, which is a business day in the rule.
    #[test]
    fn says_where_no_time_is_left() {
        let paper = date(2026, 5, 12);
        assert_eq!(until(date(2026, 5, 16), true), TimeToSign::WithoutOrder(paper));
        let next = date(2026, 5, 13);
        assert_eq!(until(date(2026, 5, 18), true), TimeToSign::WithoutOrder(next));
        assert_eq!(until(date(2026, 5, 19), true), TimeToSign::Until(next));
        assert_eq!(until(date(2026, 5, 15), true), TimeToSign::None);
        assert_eq!(until(date(2026, 5, 13), false), TimeToSign::WithoutOrder(paper));
        assert_eq!(until(paper, false), TimeToSign::None);
    }
}
