//! The roll: every job of a shop with its standing, its price and what is due, as job files and records
//! tell it. Nothing is worked out anew here.

mod due;
mod sheet;
mod sums;

pub use due::{Due, LOOK_AHEAD, Said, due};
pub use sheet::sheet;
pub use sums::{Clash, MonthSum, StateSum, Sums, clashes, sums};

use jiff::civil::Date;

use crate::base::money::Cents;
use crate::base::names::choices;

choices! {
    /// Standing of a job on the day that is asked about.
    RollState {
        /// No proposal was issued yet.
        Draft = "draft",
        /// A proposal is out, and its prices hold.
        Offered = "offered",
        /// A proposal is out, and the days are over for which its prices held.
        Expired = "expired",
        /// The customer has signed.
        Accepted = "accepted",
        /// The customer has signed, and the job is no longer what was signed.
        Changed = "changed",
        /// The floor is done.
        Laid = "laid",
        /// The job could not be read.
        Unreadable = "unreadable",
    }
}

impl RollState {
    /// True where a customer's signature binds.
    pub fn is_signed(self) -> bool {
        matches!(self, Self::Accepted | Self::Changed)
    }
}

/// A job on the roll.
#[derive(Debug, Clone, PartialEq)]
pub struct RolledJob {
    /// Its file, as a person finds it.
    pub path: String,
    /// Empty where it cannot be read.
    pub number: String,
    pub customer: String,
    /// The address of the garage.
    pub place: String,
    pub state: RollState,
    /// ISO 4217 code of the price; none without a price.
    pub currency: Option<String>,
    /// The price of what was signed, with its orders; else of the recommended floor as it was issued last.
    pub price: Option<Cents>,
    /// The floor that the price is for: its key.
    pub floor: Option<String>,
    pub valid_until: Option<Date>,
    pub start: Option<Date>,
    /// The day on which the floor was done.
    pub laid: Option<Date>,
    pub crew: Option<String>,
    /// The days on which the crew is there; empty unless they are known.
    pub work_days: Vec<Date>,
    pub due: Vec<Due>,
    /// Trouble in reading it or its records; empty when there was none.
    pub trouble: String,
}

impl RolledJob {
    /// A job of which nothing is known but its file.
    pub fn unread(path: String, number: String, trouble: String) -> Self {
        Self {
            path,
            number,
            customer: String::new(),
            place: String::new(),
            state: RollState::Unreadable,
            currency: None,
            price: None,
            floor: None,
            valid_until: None,
            start: None,
            laid: None,
            crew: None,
            work_days: vec![],
            due: vec![],
            trouble,
        }
    }
}
