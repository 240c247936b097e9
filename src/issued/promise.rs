//! A promise: what an issued paper said of prices, payments and warranty, until its own last day.
//!
//! Every revision keeps the last day that it named. A later one cannot shorten it, and age alone takes
//! nothing back. Only the customer's own change, asked for after the revision, lets a later paper ask for
//! more.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::base::lists::each_once;
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
    let floors = standing.iter().flat_map(|promise| &promise.facts.floors);
    for key in each_once(floors.map(|floor| floor.key.as_str())) {
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
    let of = |floor: &'p Offered| floor.additions.iter().map(|one| one.key.as_str());
    for key in each_once(promised.iter().flat_map(|(_, floor)| of(floor))) {
        let same = || {
            promised.iter().filter_map(|(promise, floor)| {
                Some((*promise, *floor, floor.additions.iter().find(|one| one.key == key)?))
            })
        };
        // The floor has the name by which the first promise calls it.
        let (Some((_, first, _)), Some((lowest, _, cap))) =
            (same().next(), same().min_by_key(|(_, _, one)| one.adds))
        else {
            continue;
        };
        let (floor, addition) = (first.name.clone(), cap.name.clone());
        match now.additions.iter().find(|one| one.key == key) {
            None => found.push((lowest, Broken::AdditionGone { floor, addition })),
            Some(one) if one.adds > cap.adds => {
                let (cap, now) = (cap.adds, one.adds);
                found.push((lowest, Broken::Addition { floor, addition, cap, now }));
            }
            Some(_) => {}
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::issued::OfferedAddition;
    use crate::issued::facts::testing::{self, offered};
    use jiff::civil::date;

    const DAY: Date = date(2026, 5, 20);

    fn step(when: &str, amount: i64) -> Step {
        Step { when: when.into(), amount }
    }

    fn facts(total: i64) -> Facts {
        let (key, name) = ("grip".into(), "Grip".into());
        let floor = Offered {
            name: "the floor".into(),
            additions: vec![OfferedAddition { key, name, adds: 95, days: 2 }],
            payments: vec![step("sign", total / 10), step("done", total - total / 10)],
            ..offered("barrier", total)
        };
        Facts { warranty: Some(vec!["Five years.".into()]), ..testing::facts(vec![floor]) }
    }

    fn promise(revision: u32, until: Date, total: i64) -> Promise {
        Promise { revision, date: date(2026, 5, 12), until, facts: facts(total) }
    }

    fn found(promises: &[Promise], now: &Facts, asked: &[Asked]) -> Vec<Broken> {
        let offers = [Key("barrier".into())];
        let all = breaches(promises, now, &offers, asked, DAY, |_, _| false);
        all.into_iter().map(|breach| breach.what).collect()
    }

    fn dearer(cap: i64, now: i64) -> Broken {
        Broken::Price { floor: "the floor".into(), cap, now }
    }

    #[test]
    fn the_lowest_price_whose_own_days_run_is_the_cap() {
        let june = date(2026, 6, 11);
        let both = [promise(1, june, 1000), promise(2, june, 900)];
        assert_eq!(found(&both, &facts(950), &[]), [dearer(900, 950)]);
        assert_eq!(found(&both, &facts(900), &[]), []);
        // The lower one has ended.
        let ended = [promise(1, june, 1000), promise(2, date(2026, 5, 19), 900)];
        assert_eq!(found(&ended, &facts(950), &[]), []);
        assert_eq!(found(&ended, &facts(1001), &[]), [dearer(1000, 1001)]);
        assert_eq!(caps(&ended, &[], DAY)["barrier"], 1000);
        assert_eq!(caps(&both, &[], DAY)["barrier"], 900);
    }

    #[test]
    fn a_change_that_the_paper_did_not_know_lets_go_of_it() {
        let one = |on| Asked { on, by: "Ana".into(), what: "More".into() };
        let mut first = promise(1, date(2026, 6, 11), 1000);
        assert_eq!(found(&[first.clone()], &facts(1100), &[one(date(2026, 5, 12))]), []);
        let early = [one(date(2026, 5, 11))];
        assert_eq!(found(&[first.clone()], &facts(1100), &early), [dearer(1000, 1100)]);
        first.facts.asked = vec![AskedFor::from(&one(date(2026, 5, 12)))];
        assert_eq!(found(&[first], &facts(1100), &[one(date(2026, 5, 12))]), [dearer(1000, 1100)]);
    }

    #[test]
    fn payments_additions_and_warranty_are_held_too() {
        let promises = [promise(1, date(2026, 6, 11), 1000)];
        let changed = |change: &dyn Fn(&mut Facts)| {
            let mut now = facts(1000);
            change(&mut now);
            found(&promises, &now, &[])
        };
        let sooner = changed(&|now| now.floors[0].payments[0].amount = 300);
        let floor = || "the floor".to_owned();
        assert_eq!(
            sooner,
            [Broken::Payment { floor: floor(), when: "sign".into(), cap: 100, now: 300 }]
        );
        let later = changed(&|now| now.floors[0].payments[0].amount = 50);
        // What is not paid at once is paid at the end: more than was promised there, if the sum is more.
        assert_eq!(later, []);
        let when = changed(&|now| now.floors[0].payments[1].when = "start".into());
        let (was, now) = ("done".to_owned(), "start".to_owned());
        assert_eq!(when, [Broken::When { floor: floor(), was, now }]);
        let grip = changed(&|now| now.floors[0].additions[0].adds = 96);
        let addition = "Grip".to_owned();
        assert_eq!(grip, [Broken::Addition { floor: floor(), addition, cap: 95, now: 96 }]);
        let gone = changed(&|now| now.floors[0].additions.clear());
        assert_eq!(gone, [Broken::AdditionGone { floor: floor(), addition: "Grip".into() }]);
        let less = changed(&|now| now.warranty = Some(vec!["Two years.".into()]));
        assert_eq!(less, [Broken::Warranty { paragraph: "Five years.".into() }]);
    }
}
