//! Facts that a revision stated, as far as a customer may know them. A cost has no field to be in.

use serde::{Deserialize, Serialize};

use crate::issued::RecordDate;

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
}

impl Facts {
    pub fn floor(&self, key: &str) -> Option<&Offered> {
        self.floors.iter().find(|floor| floor.key == key)
    }

    /// The floor that was recommended.
    pub fn recommended(&self) -> Option<&Offered> {
        self.floor(self.recommended.as_deref()?)
    }
}
