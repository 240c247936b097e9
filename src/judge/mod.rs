//! A case with its judgment: the start of `check`, `estimate` and `write`.

pub mod checks;
pub mod laid;
pub mod recommend;
pub mod what_if;
pub mod spaces;

use crate::base::money::{Cents, MOST_CENTS};
use crate::base::names::Key;
use crate::judge::checks::Finding;
use crate::judge::recommend::Recommendation;
use crate::price::case::{self, Case};
use crate::read::{Input, limits};

/// A case, its findings, and what is recommended.
#[derive(Debug, Clone)]
pub struct Judged<'a> {
    pub case: Case<'a>,
    pub findings: Vec<Finding>,
    pub recommendation: Recommendation,
}

/// A limit beyond which a floor is nothing to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExceededLimit {
    /// The work takes more days than any floor, or the floor cannot be used for years.
    Days,
    /// A price has reached the most that money can hold, so that it is no price.
    Money,
    /// The discount is more than the price of a floor.
    Discount,
}

impl std::fmt::Display for ExceededLimit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Days => {
                write!(f, "the work on a floor comes to more than {} days", limits::DAYS)
            }
            Self::Money => write!(f, "a price comes to more than any floor can cost"),
            Self::Discount => write!(f, "the discount is more than the price of a floor"),
        }
    }
}

/// A floor that costs less than the discount takes off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OverDiscounted {
    pub floor: Key,
    /// Its price with items, before the discount and before tax.
    pub price: Cents,
    pub off: Cents,
}

/// Years from the first day of work until one may drive: eight coats may each cure for one.
const YEARS: u32 = 10;

impl Judged<'_> {
    /// The limit that a floor exceeds.
    pub fn exceeded_limit(&self) -> Option<ExceededLimit> {
        let mut schedules = self.case.options.iter().map(|option| &option.estimate.schedule);
        let endless = schedules.any(|schedule| {
            schedule.days > limits::DAYS || schedule.drive.day() > YEARS * limits::DAYS
        });
        let priceless = || self.case.options.iter().any(|one| one.quote.total.0 >= MOST_CENTS);
        if endless {
            Some(ExceededLimit::Days)
        } else {
            let money = priceless().then_some(ExceededLimit::Money);
            money.or_else(|| self.over_discounted().map(|_| ExceededLimit::Discount))
        }
    }

    /// The first floor that costs less than the discount takes off.
    pub fn over_discounted(&self) -> Option<OverDiscounted> {
        let option = self.case.options.iter().find(|one| one.estimate.bill.capped)?;
        let bill = &option.estimate.bill;
        let price = bill.net.plus(bill.discount);
        let off = self.case.job.discount.as_ref()?.of(price, option.key());
        Some(OverDiscounted { floor: option.key().clone(), price, off })
    }
}

/// Computes and judges a job.
pub fn judge(input: &Input) -> Judged<'_> {
    judged(case::case(input))
}

/// Judges a case.
fn judged(case: Case<'_>) -> Judged<'_> {
    let findings = checks::findings(&case);
    let recommendation = recommend::recommend(&case, &findings);
    Judged { case, findings, recommendation }
}
