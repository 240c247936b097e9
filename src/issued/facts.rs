//! Facts that a revision stated, as far as a customer may know them. A cost has no field to be in.

use serde::{Deserialize, Serialize};

use crate::issued::{Ordered, RecordDate};
use crate::model::job::Asked;

/// The facts of a paper that its next revision is compared with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Facts {
    /// The customer's name, as typed, with its Latin letters where there are some.
    pub customer: String,
    pub address: Vec<String>,
    /// ISO 4217 code of all prices.
    pub currency: String,
    /// The key of the floor that was recommended.
    pub recommended: Option<String>,
    /// The first day of work.
    pub start: Option<RecordDate>,
    /// Every moisture reading with its place.
    pub readings: Vec<String>,
    /// Coated area, flat and upright, in square meters.
    pub area_m2: (f64, f64),
    /// The last day of its prices; a record of before this was kept has none.
    #[serde(default)]
    pub valid_until: Option<RecordDate>,
    /// The shop's own promise, paragraph by paragraph; a record of before this was kept has none.
    #[serde(default)]
    pub warranty: Option<Vec<String>>,
    /// Of several spaces: what items and discount add to the prices of their floors, tax included, in cents.
    #[serde(default)]
    pub beside: i64,
    /// Changes that the customer had asked for by then.
    #[serde(default)]
    pub asked: Vec<AskedFor>,
    /// Of a change order: what it changes.
    #[serde(default)]
    pub order: Option<Ordered>,
    /// Of several spaces: additions to the whole that may be ticked.
    #[serde(rename = "addition", default)]
    pub additions: Vec<OfferedAddition>,
    /// The floors on offer, in their order.
    #[serde(rename = "floor", default)]
    pub floors: Vec<Offered>,
}

/// A floor on offer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Offered {
    pub key: String,
    /// Its name within a sentence: `the vapor-barrier floor`.
    pub name: String,
    /// Total price for the customer, in cents.
    pub total: i64,
    /// Days on site.
    pub days: u32,
    /// The days of work, counted from the first one; a record of before they were kept has none.
    #[serde(default)]
    pub visits: Vec<u32>,
    /// Additions that may be ticked.
    #[serde(rename = "addition", default)]
    pub additions: Vec<OfferedAddition>,
    /// The payments of its price; a record of before this was kept has none.
    #[serde(rename = "payment", default)]
    pub payments: Vec<Step>,
}

/// An addition to a floor that the customer may tick.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct OfferedAddition {
    pub key: String,
    /// Its name on the paper.
    pub name: String,
    /// Addition to the total, in cents.
    pub adds: i64,
    /// Days on site with it.
    pub days: u32,
}

/// A payment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Step {
    pub when: String,
    /// In cents.
    pub amount: i64,
}

/// A change that the customer asked for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct AskedFor {
    pub on: RecordDate,
    pub by: String,
    pub what: String,
}

impl From<&Asked> for AskedFor {
    fn from(Asked { on, by, what }: &Asked) -> Self {
        Self { on: RecordDate(*on), by: by.clone(), what: what.clone() }
    }
}

impl Facts {
    /// The key of a floor of one of several spaces.
    pub fn in_space(space: &str, floor: &str) -> String {
        format!("{space}: {floor}")
    }

    pub fn floor(&self, key: &str) -> Option<&Offered> {
        self.floors.iter().find(|floor| floor.key == key)
    }

    /// The floor that was recommended.
    pub fn recommended(&self) -> Option<&Offered> {
        self.floor(self.recommended.as_deref()?)
    }
}

#[cfg(test)]
pub mod testing {
    use super::*;

    /// A floor of two days with nothing beside it.
    pub fn offered(key: &str, total: i64) -> Offered {
        let (visits, additions, payments) = (vec![], vec![], vec![]);
        let name = format!("the {key} floor");
        Offered { key: key.to_owned(), name, total, days: 2, visits, additions, payments }
    }

    /// A paper of which nothing is known but its floors.
    pub fn facts(floors: Vec<Offered>) -> Facts {
        Facts {
            customer: "Ana Quill".into(),
            address: vec![],
            currency: "USD".into(),
            recommended: None,
            start: None,
            readings: vec![],
            area_m2: (40.0, 0.0),
            valid_until: None,
            warranty: None,
            beside: 0,
            asked: vec![],
            order: None,
            additions: vec![],
            floors,
        }
    }
}
