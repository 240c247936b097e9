//! A promise: what an issued paper said of prices, payments and warranty, until its own last day.
//!
//! Every revision keeps the last day that it named. A later one cannot shorten it, and age alone takes
//! nothing back. Only the customer's own change, asked for after the revision, lets a later paper ask for
//! more.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::base::names::Key;
use crate::issued::{AskedFor, Facts, Offered, Step};
use crate::model::job::Asked;

/// A revision with the last day of its prices.
#[derive(Debug, Clone)]
pub struct Promise {
    pub revision: u32,
    /// The date on the paper.
    pub date: Date,
    pub until: Date,
    pub facts: Facts,
}

/// Something that a new paper would take back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Breach {
    pub revision: u32,
    pub date: Date,
    pub until: Date,
    pub what: Broken,
}

/// The kind of a breach. Names are those within a sentence, amounts are cents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Broken {
    /// The prices are in another currency.
    Currency { was: String, now: String },
    /// A floor costs more than promised.
    Price { floor: String, cap: i64, now: i64 },
    /// An addition costs more than promised.
    Addition { floor: String, addition: String, cap: i64, now: i64 },
    /// An addition may not be ticked any more.
    AdditionGone { floor: String, addition: String },
    /// The job does not offer the floor any more.
    Withdrawn { floor: String },
    /// The floor waits or is not offered, for no other reason than the later date.
    Aged { floor: String },
    /// By the time of a payment more is asked for than was promised.
    Payment { floor: String, when: String, cap: i64, now: i64 },
    /// A payment falls due at another time.
    When { floor: String, was: String, now: String },
    /// A paragraph of the warranty is gone.
    Warranty { paragraph: String },
}

impl Promise {
    /// True while it binds: its last day has not passed, and the customer has asked for nothing since
    /// that it did not know of.
    pub fn stands(&self, today: Date, asked: &[Asked]) -> bool {
        let known = |one: &Asked| self.facts.asked.contains(&AskedFor::from(one));
        today <= self.until && !asked.iter().any(|one| one.on >= self.date && !known(one))
    }
}

/// Returns the lowest promised total of each floor that a promise stands for, by its key.
pub fn caps(promises: &[Promise], asked: &[Asked], today: Date) -> BTreeMap<String, i64> {
    let mut caps = BTreeMap::new();
    for promise in promises.iter().filter(|one| one.stands(today, asked)) {
        for floor in &promise.facts.floors {
            let cap = caps.entry(floor.key.clone()).or_insert(floor.total);
            *cap = floor.total.min(*cap);
        }
    }
    caps
}

/// Returns what a paper with these facts would take back of the promises that stand, the gravest of
/// each floor first. `offers` are the floors that the job names; `aged` tells if a floor would still be
/// offered had the paper the date of that promise.
pub fn breaches(
    promises: &[Promise],
    now: &Facts,
    offers: &[Key],
    asked: &[Asked],
    today: Date,
    aged: impl Fn(&str, Date) -> bool,
) -> Vec<Breach> {
    let standing: Vec<&Promise> = promises.iter().filter(|one| one.stands(today, asked)).collect();
    let mut found = vec![];
    let mut tell = |promise: &Promise, what: Broken| {
        let Promise { revision, date, until, .. } = *promise;
        let known = found.iter().any(|breach: &Breach| breach.what == what);
        if !known {
            found.push(Breach { revision, date, until, what });
        }
    };
    for promise in &standing {
        let (was, is) = (&promise.facts.currency, &now.currency);
        if was != is {
            tell(promise, Broken::Currency { was: was.clone(), now: is.clone() });
            return found;
        }
    }
    let mut keys: Vec<&str> = vec![];
    for promise in &standing {
        for floor in &promise.facts.floors {
            if !keys.contains(&floor.key.as_str()) {
                keys.push(&floor.key);
            }
        }
    }
    for key in keys {
        let promised: Vec<(&Promise, &Offered)> = standing
            .iter()
            .filter_map(|promise| Some((*promise, promise.facts.floor(key)?)))
            .collect();
        // The lowest total is the one that binds; of two the earlier one.
        let Some((lowest, cap)) = promised.iter().min_by_key(|(_, floor)| floor.total) else {
            continue;
        };
        let name = || cap.name.clone();
        let Some(floor) = now.floor(key) else {
            // Floors of several spaces together are no offer of their own: each of them is.
            let is_together = key.contains(" = ");
            if is_together {
                continue;
            }
            if !offers.iter().any(|offer| offer.0 == key) {
                tell(lowest, Broken::Withdrawn { floor: name() });
            } else if let Some((promise, _)) =
                promised.iter().find(|(promise, _)| aged(key, promise.date))
            {
                tell(promise, Broken::Aged { floor: name() });
            }
            continue;
        };
        if floor.total > cap.total {
            tell(lowest, Broken::Price { floor: name(), cap: cap.total, now: floor.total });
        } else {
            for (promise, was) in &promised {
                if let Some(broken) = payment_broken(was, floor) {
                    tell(promise, broken);
                }
            }
        }
        additions_broken(&promised, floor).into_iter().for_each(|(by, what)| tell(by, what));
    }
    let paragraphs = now.warranty.as_deref().unwrap_or_default();
    for promise in &standing {
        let promised = promise.facts.warranty.iter().flatten();
        for paragraph in promised.filter(|paragraph| !paragraphs.contains(paragraph)) {
            tell(promise, Broken::Warranty { paragraph: paragraph.clone() });
        }
    }
    found
}

/// Holds the additions of a floor against the lowest promise of each.
fn additions_broken<'p>(
    promised: &[(&'p Promise, &'p Offered)],
    now: &Offered,
) -> Vec<(&'p Promise, Broken)> {
    let mut found: Vec<(&Promise, Broken)> = vec![];
    let mut seen: Vec<&str> = vec![];
    for (_, floor) in promised {
        for addition in &floor.additions {
            if seen.contains(&addition.key.as_str()) {
                continue;
            }
            seen.push(&addition.key);
            let same = promised.iter().filter_map(|(promise, floor)| {
                Some((*promise, floor.additions.iter().find(|one| one.key == addition.key)?))
            });
            let Some((lowest, cap)) = same.min_by_key(|(_, one)| one.adds) else { continue };
            let (floor, name) = (floor.name.clone(), cap.name.clone());
            match now.additions.iter().find(|one| one.key == cap.key) {
                None => found.push((lowest, Broken::AdditionGone { floor, addition: name })),
                Some(one) if one.adds > cap.adds => {
                    let broken =
                        Broken::Addition { floor, addition: name, cap: cap.adds, now: one.adds };
                    found.push((lowest, broken));
                }
                Some(_) => {}
            }
        }
    }
    found
}

/// Holds the payments of a floor against promised ones: none falls due at another time, and by none is
/// more paid than was promised. Nothing where the older record has none.
fn payment_broken(was: &Offered, now: &Offered) -> Option<Broken> {
    if was.payments.is_empty() {
        return None;
    }
    let (mut promised, mut asked) = (0, 0);
    for (at, step) in now.payments.iter().enumerate() {
        let before: Option<&Step> = was.payments.get(at);
        if let Some(before) = before
            && before.when != step.when
        {
            let (was, now_when) = (before.when.clone(), step.when.clone());
            return Some(Broken::When { floor: now.name.clone(), was, now: now_when });
        }
        promised += before.map_or(0, |before| before.amount);
        asked += step.amount;
        if asked > promised {
            let (floor, when) = (now.name.clone(), step.when.clone());
            return Some(Broken::Payment { floor, when, cap: promised, now: asked });
        }
    }
    None
}
