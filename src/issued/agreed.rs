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
        floors: by_space(accepted),
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

/// By space, where the job has several: the key of the floor that was chosen.
pub fn by_space(accepted: &Accepted) -> Vec<(String, String)> {
    accepted.floors.iter().map(|(space, key)| (space.clone(), key.0.clone())).collect()
}

/// The floor that was signed for; of several spaces their floors together, each for its own price.
fn signed_floor(facts: &Facts, accepted: &Accepted) -> Result<Offered, NotAgreed> {
    let not_there = |floor: &Key| NotAgreed::Floor(floor.clone());
    if accepted.floors.is_empty() {
        return facts.floor(&accepted.floor.0).cloned().ok_or_else(|| not_there(&accepted.floor));
    }
    let mut all: Option<Offered> = None;
    let mut names = vec![];
    for (space, floor) in &accepted.floors {
        let one = facts.floor(&Facts::in_space(space, &floor.0)).ok_or_else(|| not_there(floor))?;
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
    let key = Agreed::floors_as_key(&by_space(accepted));
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
    use crate::issued::facts::testing;
    use jiff::civil::date;

    const PAPER: Date = date(2026, 5, 12);

    fn addition(key: &str, adds: i64, days: u32) -> OfferedAddition {
        OfferedAddition { key: key.into(), name: key.into(), adds, days }
    }

    fn offered(key: &str, total: i64, days: u32, payments: &[i64]) -> Offered {
        let (visits, payments) = (vec![1, 3], steps(payments));
        Offered { days, visits, payments, ..testing::offered(key, total) }
    }

    fn facts(floors: Vec<Offered>) -> Facts {
        let valid_until = Some(RecordDate(date(2026, 6, 11)));
        Facts { valid_until, ..testing::facts(floors) }
    }

    fn accepted(on: Date, additions: &[&str], floors: &[(&str, &str)]) -> Accepted {
        let span = Span::default();
        let located = |key: &&str| Located { value: Key((*key).into()), span: span.clone() };
        Accepted {
            revision: 1,
            floor: Key(floors[0].1.into()),
            floors: match floors {
                [_] => vec![],
                all => all.iter().map(|(at, key)| ((*at).into(), Key((*key).into()))).collect(),
            },
            on,
            additions: additions.iter().map(located).collect(),
            span: span.clone(),
        }
    }

    /// By hand: $5,000.00 with a grip for $95.00 and steps for $400.00 are $5,495.00. The last payment takes what
    /// was ticked, $2,500.00 + $495.00. The steps take a third day, and on which days the crew then comes the
    /// paper does not say.
    #[test]
    fn what_was_ticked_is_added_for_what_the_paper_said() {
        let floor = Offered {
            additions: vec![addition("grip", 9_500, 2), addition("steps", 40_000, 3)],
            ..offered("barrier", 500_000, 2, &[50_000, 200_000, 250_000])
        };
        let facts = facts(vec![offered("plain", 1, 1, &[1]), floor]);
        let signed = |additions: &[&str]| {
            agreed(&facts, PAPER, &accepted(PAPER, additions, &[("", "barrier")])).unwrap()
        };
        let bare = signed(&[]);
        assert_eq!((bare.total(), bare.days), (Cents(500_000), 2));
        assert_eq!((bare.visits, bare.payments), (vec![1, 3], steps(&[50_000, 200_000, 250_000])));
        let grip = signed(&["grip"]);
        assert_eq!((grip.total(), grip.days), (Cents(509_500), 2));
        assert_eq!((grip.visits, grip.additions), (vec![1, 3], vec!["grip".to_owned()]));
        let both = signed(&["grip", "steps"]);
        assert_eq!((both.total(), both.days), (Cents(549_500), 3));
        assert_eq!((both.visits, both.payments), (vec![], steps(&[50_000, 200_000, 299_500])));
        assert_eq!(signed(&["steps", "grip"]).days, 3);
    }

    #[test]
    fn nobody_signed_for_what_the_paper_did_not_offer_nor_before_its_day() {
        let facts = facts(vec![offered("barrier", 500_000, 2, &[])]);
        let signed = |on, additions: &[&str], floor| {
            agreed(&facts, PAPER, &accepted(on, additions, &[("", floor)]))
        };
        assert!(signed(PAPER, &[], "barrier").is_ok());
        let key = |key: &str| Key(key.into());
        let eve = date(2026, 5, 11);
        let early = NotAgreed::TooEarly { paper: PAPER, signed: eve };
        assert_eq!(signed(eve, &[], "barrier"), Err(early));
        assert_eq!(signed(PAPER, &["grip"], "barrier"), Err(NotAgreed::Addition(key("grip"))));
        assert_eq!(signed(PAPER, &[], "plain"), Err(NotAgreed::Floor(key("plain"))));
    }

    /// A price holds through its last day: the day after is late. Without a last day nothing is.
    #[test]
    fn a_signature_is_late_after_the_last_day_of_the_prices() {
        let mut facts = facts(vec![offered("barrier", 500_000, 2, &[])]);
        let late = |facts: &Facts, on| {
            agreed(facts, PAPER, &accepted(on, &[], &[("", "barrier")])).unwrap().signed_late()
        };
        assert!(!late(&facts, date(2026, 6, 11)));
        assert!(late(&facts, date(2026, 6, 12)));
        facts.valid_until = None;
        assert!(!late(&facts, date(2026, 6, 12)));
    }

    /// Two spaces, by hand: $3,000.00 and $1,000.00, with items of $200.00 beside them, are $4,200.00; the payments
    /// go together one by one, and what is beside falls on the last. For floors that the paper names together
    /// its own days and payments stand.
    #[test]
    fn the_floors_of_several_spaces_are_one_price() {
        let mut facts = facts(vec![
            offered("garage: barrier", 300_000, 2, &[30_000, 120_000, 150_000]),
            offered("porch: barrier", 100_000, 1, &[10_000, 40_000, 50_000]),
            offered("porch: plain", 80_000, 1, &[80_000]),
        ]);
        facts.beside = 20_000;
        facts.additions = vec![addition("grip", 9_500, 9)];
        let signed = |facts: &Facts, porch, additions: &[&str]| {
            let floors = [("garage", "barrier"), ("porch", porch)];
            agreed(facts, PAPER, &accepted(PAPER, additions, &floors)).unwrap()
        };
        let both = signed(&facts, "barrier", &[]);
        assert_eq!((both.total, both.days), (420_000, 3));
        assert_eq!(both.payments, steps(&[40_000, 160_000, 220_000]));
        assert_eq!(both.floor, "garage = barrier, porch = barrier");
        assert_eq!(both.floor, Agreed::floors_as_key(&both.floors));
        assert!(both.visits.is_empty(), "{:?}", both.visits);
        let ticked = signed(&facts, "barrier", &["grip"]);
        assert_eq!((ticked.total, ticked.days), (429_500, 3));
        // Payments of other counts cannot be put together.
        assert_eq!(signed(&facts, "plain", &[]).payments, []);
        let named = |total| offered("garage = barrier, porch = barrier", total, 2, &[1, 2, 3]);
        facts.floors.push(named(420_000));
        let together = signed(&facts, "barrier", &[]);
        assert_eq!((together.total, together.days), (420_000, 2));
        assert_eq!(together.payments, steps(&[1, 2, 3]));
        // Of another total its payments are not those of this price.
        facts.floors.pop();
        facts.floors.push(named(1));
        assert_eq!(signed(&facts, "barrier", &[]).payments, steps(&[40_000, 160_000, 220_000]));
    }

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
