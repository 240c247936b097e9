//! The agreement: the floor and the additions that a customer signed for, with the signed orders after
//! it, as the papers stated them. Total and days of "what was accepted" come from here alone.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::source::{Located, Span};
use crate::issued::{Facts, Offered, OfferedAddition, RecordDate, Step};
use crate::model::job::{Accepted, SignedOrder};

/// A state of the work that both sides have signed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Agreed {
    /// The accepted revision of the proposal.
    pub revision: u32,
    /// The date on that revision.
    pub date: RecordDate,
    /// The day on which it was signed.
    pub signed: RecordDate,
    /// The last day of its prices, where it is known.
    pub valid_until: Option<RecordDate>,
    /// The key of the floor; of several spaces each with its floor.
    pub floor: String,
    /// By space, where the job has several: the key of its floor.
    #[serde(default)]
    pub floors: Vec<(String, String)>,
    /// Its name within a sentence.
    pub name: String,
    /// ISO 4217 code of all amounts.
    pub currency: String,
    /// Keys of the additions.
    pub additions: Vec<String>,
    /// The price, tax included, in cents.
    pub total: i64,
    /// Days on site.
    pub days: u32,
    /// The days of work, counted from the first one; empty where the paper did not keep them.
    pub visits: Vec<u32>,
    /// The first day of work that the paper named.
    pub start: Option<RecordDate>,
    /// The signed orders by their revisions, in their order.
    pub orders: Vec<u32>,
    /// The payments of the total; a paper of before they were kept has none.
    #[serde(rename = "payment", default)]
    pub payments: Vec<Step>,
}

/// The part of a change order that a later one starts from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Ordered {
    /// The price that was agreed before it, in cents.
    pub before: i64,
    /// The price of the change, in cents; below zero when something comes off.
    pub change: i64,
    /// The agreement with it.
    pub agreed: Agreed,
}

/// The reason for which a signature does not fit the paper that it names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotAgreed {
    /// The paper does not offer the floor.
    Floor(Key),
    /// The paper does not offer the addition with that floor.
    Addition(Key),
    /// It was signed before the date on the paper.
    TooEarly { paper: Date, signed: Date },
}

impl std::fmt::Display for NotAgreed {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Floor(floor) => write!(f, "it does not offer `{floor}`"),
            Self::Addition(addition) => write!(f, "it does not offer `{addition}` with that floor"),
            Self::TooEarly { paper, signed } => write!(f, "it is of {paper}, and `on` is {signed}"),
        }
    }
}

/// Returns what was signed for: the floor of a revision with the additions that were ticked, each for what
/// the paper said that it adds.
///
/// # Errors
/// [`NotAgreed`] where that revision cannot have been signed so.
pub fn agreed(facts: &Facts, date: Date, accepted: &Accepted) -> Result<Agreed, NotAgreed> {
    let floor = &signed_floor(facts, accepted)?;
    if accepted.on < date {
        return Err(NotAgreed::TooEarly { paper: date, signed: accepted.on });
    }
    let (mut total, mut days) = (floor.total, floor.days);
    let mut additions = vec![];
    let mut adds_days = false;
    for ticked in &accepted.additions {
        let key = &ticked.value;
        // A record of before additions were kept knows none; nobody can say what it adds.
        let Some(offered) = floor.additions.iter().find(|one| one.key == key.0) else {
            return Err(NotAgreed::Addition(key.clone()));
        };
        total += offered.adds;
        adds_days |= offered.days > floor.days;
        days = days.max(offered.days);
        additions.push(key.0.clone());
    }
    let payments = with_change(&floor.payments, total - floor.total);
    Ok(Agreed {
        revision: accepted.revision,
        date: RecordDate(date),
        signed: RecordDate(accepted.on),
        valid_until: facts.valid_until,
        floor: floor.key.clone(),
        floors: accepted.floors.iter().map(|(space, key)| (space.clone(), key.0.clone())).collect(),
        name: floor.name.clone(),
        currency: facts.currency.clone(),
        additions,
        total,
        days,
        visits: if adds_days { vec![] } else { floor.visits.clone() },
        start: facts.start,
        orders: vec![],
        payments,
    })
}

/// The floor that was signed for; of several spaces their floors together, each for its own price.
fn signed_floor(facts: &Facts, accepted: &Accepted) -> Result<Offered, NotAgreed> {
    let not_there = |floor: &Key| NotAgreed::Floor(floor.clone());
    if accepted.floors.is_empty() {
        return facts.floor(&accepted.floor.0).cloned().ok_or_else(|| not_there(&accepted.floor));
    }
    let mut all: Option<Offered> = None;
    let (mut keys, mut names) = (vec![], vec![]);
    for (space, floor) in &accepted.floors {
        let one = facts.floor(&Facts::in_space(space, &floor.0)).ok_or_else(|| not_there(floor))?;
        keys.push(format!("{space} = {floor}"));
        names.push(one.name.clone());
        all = Some(match all {
            None => one.clone(),
            Some(all) => Offered {
                total: all.total + one.total,
                days: all.days + one.days,
                visits: vec![],
                additions: [all.additions, one.additions.clone()].concat(),
                payments: together(&all.payments, &one.payments),
                ..all
            },
        });
    }
    let all = all.ok_or_else(|| not_there(&accepted.floor))?;
    let key = keys.join(", ");
    // The paper says the days of the floors that it recommends together.
    let together = facts.floor(&key);
    let days = together.map_or(all.days, |together| together.days);
    let total = all.total + facts.beside;
    let payments = match together.filter(|together| together.total == total) {
        Some(together) => together.payments.clone(),
        None => with_change(&all.payments, facts.beside),
    };
    // What is ticked for the whole adds no day to those of the floors.
    let whole = facts.additions.iter().map(|one| OfferedAddition { days: 0, ..one.clone() });
    let additions = all.additions.into_iter().chain(whole).collect();
    Ok(Offered {
        key,
        name: names.join(", "),
        days,
        total,
        payments,
        additions,
        visits: all.visits,
    })
}

/// The payments of two floors together, where both have as many.
fn together(one: &[Step], other: &[Step]) -> Vec<Step> {
    if one.len() != other.len() {
        return vec![];
    }
    let both = one.iter().zip(other);
    both.map(|(one, other)| Step { when: one.when.clone(), amount: one.amount + other.amount })
        .collect()
}

impl Agreed {
    /// The floors of several spaces as one key.
    pub fn floors_as_key(floors: &[(String, String)]) -> String {
        let keys = floors.iter().map(|(space, floor)| format!("{space} = {floor}"));
        keys.collect::<Vec<_>>().join(", ")
    }

    pub fn total(&self) -> Cents {
        Cents(self.total)
    }

    /// True when it was signed after the last day of its prices.
    pub fn signed_late(&self) -> bool {
        self.valid_until.is_some_and(|until| self.signed.0 > until.0)
    }

    /// Returns the agreement with an order that was signed after it.
    pub fn with(self, order: &Ordered, signed: SignedOrder) -> Self {
        let mut orders = self.orders;
        orders.push(signed.revision);
        Self { orders, ..order.agreed.clone() }
    }

    /// The acceptance of a job that says floor and additions as they are agreed.
    pub fn as_accepted(&self, span: &Span) -> Accepted {
        let additions = self.additions.iter();
        let located = |key: &String| Located { value: Key(key.clone()), span: span.clone() };
        let by_space = self.floors.iter().map(|(space, key)| (space.clone(), Key(key.clone())));
        Accepted {
            revision: self.revision,
            floor: Key(self.floors.first().map_or(&self.floor, |(_, floor)| floor).clone()),
            floors: by_space.collect(),
            on: self.signed.0,
            additions: additions.map(located).collect(),
            span: span.clone(),
        }
    }
}

/// Payments with a change of their sum: it falls on the last one, and where it takes more off than that has,
/// on those before it. None is below zero.
pub fn with_change(payments: &[Step], change: i64) -> Vec<Step> {
    let mut payments = payments.to_vec();
    let mut left = change;
    for step in payments.iter_mut().rev() {
        let amount = (step.amount + left).max(0);
        left += step.amount - amount;
        step.amount = amount;
        if left == 0 {
            break;
        }
    }
    payments
}

/// The payments that are still to come once some money was received: it counts for the earliest first.
pub fn still_to_pay(payments: &[Step], received: Cents) -> Vec<Step> {
    let mut left = received.0;
    let mut open = vec![];
    for step in payments {
        let paid = step.amount.min(left).max(0);
        left -= paid;
        if step.amount > paid {
            open.push(Step { when: step.when.clone(), amount: step.amount - paid });
        }
    }
    open
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(amounts: &[i64]) -> Vec<Step> {
        let names = ["sign", "start", "done"];
        let steps = names.iter().zip(amounts);
        steps.map(|(when, amount)| Step { when: (*when).into(), amount: *amount }).collect()
    }

    #[test]
    fn a_change_falls_on_the_last_payment_and_none_is_negative() {
        assert_eq!(with_change(&steps(&[10, 20, 30]), 5), steps(&[10, 20, 35]));
        assert_eq!(with_change(&steps(&[10, 20, 30]), -30), steps(&[10, 20, 0]));
        assert_eq!(with_change(&steps(&[10, 20, 30]), -45), steps(&[10, 5, 0]));
        assert_eq!(with_change(&steps(&[10, 20, 30]), -70), steps(&[0, 0, 0]));
        assert_eq!(with_change(&[], 5), []);
    }

    #[test]
    fn money_counts_for_the_earliest_payment() {
        assert_eq!(still_to_pay(&steps(&[10, 20, 30]), Cents(0)), steps(&[10, 20, 30]));
        assert_eq!(still_to_pay(&steps(&[10, 20, 30]), Cents(10)), steps(&[10, 20, 30])[1..]);
        let part = vec![Step { when: "start".into(), amount: 5 }, steps(&[0, 0, 30])[2].clone()];
        assert_eq!(still_to_pay(&steps(&[10, 20, 30]), Cents(25)), part);
        assert_eq!(still_to_pay(&steps(&[10, 20, 30]), Cents(99)), []);
    }
}
