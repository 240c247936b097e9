//! Changes from one revision to the next, in the order in which a customer should read them.

use serde::{Deserialize, Serialize};

use crate::issued::{Facts, Offered, RecordDate};

/// The revision that a paper replaces, and what is different.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Replaced {
    pub revision: u32,
    pub date: RecordDate,
    #[serde(rename = "change")]
    pub changes: Vec<Change>,
}

/// One difference. Names are those within a sentence, prices are cents.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "what", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Change {
    /// The customer asked for something else.
    Asked {
        on: RecordDate,
        by: String,
        wish: String,
    },
    /// Another floor is recommended; none when nothing can be offered.
    Recommended {
        from: Option<String>,
        to: Option<String>,
    },
    /// The price of the recommended floor.
    Price {
        from: i64,
        to: i64,
    },
    /// Floors that came onto the offer, or went.
    Offered {
        added: Vec<String>,
        removed: Vec<String>,
    },
    /// Prices of other floors, or the currency of all.
    Prices,
    /// Days on site for the recommended floor.
    Days {
        from: u32,
        to: u32,
    },
    /// The first day of work.
    Start {
        from: Option<RecordDate>,
        to: Option<RecordDate>,
    },
    Readings,
    Area,
    /// Name or address.
    Customer,
    /// Something else that the job, the book or the shop says.
    Details,
    /// Nothing but words, layout or size of print.
    Wording,
}

impl Change {
    /// Its name in the words of the pages.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Asked { .. } => "asked",
            Self::Recommended { .. } => "recommended",
            Self::Price { .. } => "price",
            Self::Offered { .. } => "offered",
            Self::Prices => "prices",
            Self::Days { .. } => "days",
            Self::Start { .. } => "start",
            Self::Readings => "readings",
            Self::Area => "area",
            Self::Customer => "customer",
            Self::Details => "details",
            Self::Wording => "wording",
        }
    }
}

/// Returns the differences, the weightiest first; never empty. `same_input` is true when job, book,
/// shop, systems and pictures are what they were, so that only words or layout can differ.
pub fn changes(before: &Facts, after: &Facts, same_input: bool) -> Vec<Change> {
    let new_wishes = after.asked.iter().filter(|asked| !before.asked.contains(asked));
    let asked = new_wishes.map(|asked| Change::Asked {
        on: asked.on,
        by: asked.by.clone(),
        wish: asked.what.clone(),
    });
    let mut changes: Vec<Change> = asked.collect();
    let (old, new) = (before.recommended(), after.recommended());
    let name = |floor: Option<&Offered>| floor.map(|floor| floor.name.clone());
    if before.recommended != after.recommended {
        changes.push(Change::Recommended { from: name(old), to: name(new) });
    }
    let same_money = before.currency == after.currency;
    if let (Some(old), Some(new)) = (old, new)
        && same_money
        && old.total != new.total
    {
        changes.push(Change::Price { from: old.total, to: new.total });
    }
    let missing = |from: &Facts, of: &Facts| -> Vec<String> {
        let gone = of.floors.iter().filter(|floor| from.floor(&floor.key).is_none());
        gone.map(|floor| floor.name.clone()).collect()
    };
    let (added, removed) = (missing(before, after), missing(after, before));
    if !added.is_empty() || !removed.is_empty() {
        changes.push(Change::Offered { added, removed });
    }
    let other_price = |floor: &Offered| {
        let told =
            new.zip(old).is_some_and(|(new, old)| floor.key == new.key && new.key == old.key);
        !told && before.floor(&floor.key).is_some_and(|old| old.total != floor.total)
    };
    if !same_money || after.floors.iter().any(other_price) {
        changes.push(Change::Prices);
    }
    if let (Some(old), Some(new)) = (old, new)
        && old.days != new.days
    {
        changes.push(Change::Days { from: old.days, to: new.days });
    }
    if before.start != after.start {
        changes.push(Change::Start { from: before.start, to: after.start });
    }
    if before.readings != after.readings {
        changes.push(Change::Readings);
    }
    if before.area_m2 != after.area_m2 {
        changes.push(Change::Area);
    }
    if (&before.customer, &before.address) != (&after.customer, &after.address) {
        changes.push(Change::Customer);
    }
    if changes.is_empty() {
        changes.push(if same_input { Change::Wording } else { Change::Details });
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::issued::facts::testing::{self, offered};

    fn facts() -> Facts {
        let floors = vec![offered("barrier", 537_293), offered("fast-cure", 480_000)];
        let (recommended, readings) = (Some("barrier".into()), vec!["dish, door: 4.1".into()]);
        Facts { recommended, readings, ..testing::facts(floors) }
    }

    #[track_caller]
    fn assert_changes(change: impl Fn(&mut Facts), expected: &[Change]) {
        let mut after = facts();
        change(&mut after);
        assert_eq!(changes(&facts(), &after, false), expected);
    }

    #[test]
    fn each_fact_that_differs_is_named() {
        assert_changes(
            |f| f.floors[0].total = 550_000,
            &[Change::Price { from: 537_293, to: 550_000 }],
        );
        assert_changes(|f| f.floors[1].total = 1, &[Change::Prices]);
        assert_changes(|f| f.floors[0].days = 3, &[Change::Days { from: 2, to: 3 }]);
        assert_changes(|f| f.readings.clear(), &[Change::Readings]);
        assert_changes(|f| f.area_m2.1 = 1.0, &[Change::Area]);
        assert_changes(|f| f.address.push("1 Elm".into()), &[Change::Customer]);
        let day = RecordDate(jiff::civil::date(2026, 5, 26));
        assert_changes(|f| f.start = Some(day), &[Change::Start { from: None, to: Some(day) }]);
        let removed = vec!["the fast-cure floor".to_owned()];
        assert_changes(|f| drop(f.floors.pop()), &[Change::Offered { added: vec![], removed }]);
    }

    /// Prices in another currency are not set beside the old ones.
    #[test]
    fn amounts_of_two_currencies_are_not_compared() {
        assert_changes(|f| f.currency = "CAD".into(), &[Change::Prices]);
        let both = |f: &mut Facts| {
            f.currency = "CAD".into();
            f.floors[0].total = 1;
        };
        assert_changes(both, &[Change::Prices]);
    }

    #[test]
    fn another_recommendation_comes_first_with_its_price() {
        let name = |key: &str| Some(format!("the {key} floor"));
        assert_changes(
            |f| f.recommended = Some("fast-cure".into()),
            &[
                Change::Recommended { from: name("barrier"), to: name("fast-cure") },
                Change::Price { from: 537_293, to: 480_000 },
            ],
        );
        assert_changes(
            |f| f.recommended = None,
            &[Change::Recommended { from: name("barrier"), to: None }],
        );
    }

    #[test]
    fn nothing_that_is_told_apart_is_details_or_wording() {
        assert_eq!(changes(&facts(), &facts(), true), [Change::Wording]);
        assert_eq!(changes(&facts(), &facts(), false), [Change::Details]);
    }
}
