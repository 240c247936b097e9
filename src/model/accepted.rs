//! What the customer signed.

use jiff::civil::Date;

use crate::base::names::Key;
use crate::base::source::{Located, Span};
use crate::model::job::Job;

/// The signed acceptance: the job is never revised after that.
#[derive(Debug, Clone, PartialEq)]
pub struct Accepted {
    /// The revision of the proposal.
    pub revision: u32,
    /// The floor that was ticked; of several spaces that of the first which has one.
    pub floor: Key,
    /// By space, where the job has several: the floor that was ticked. A space may be left out.
    pub floors: Vec<(String, Key)>,
    /// The day on which it was signed.
    pub on: Date,
    /// The additions that were ticked.
    pub additions: Vec<Located<Key>>,
    pub span: Span,
}

impl Accepted {
    /// The floors that were ticked: one, or that of each space.
    pub fn all_floors(&self) -> Vec<Key> {
        match self.floors.as_slice() {
            [] => vec![self.floor.clone()],
            floors => floors.iter().map(|(_, floor)| floor.clone()).collect(),
        }
    }

    /// The acceptance of one of several spaces: the floor that was chosen for it.
    pub fn of(&self, space: &str) -> Option<Self> {
        let (_, floor) = self.floors.iter().find(|(name, _)| name == space)?;
        Some(Self { floor: floor.clone(), floors: vec![], ..self.clone() })
    }
}

impl Job {
    /// Returns the additions that were ticked with a floor; none unless it was accepted.
    pub fn ticked(&self, floor: &Key) -> &[Located<Key>] {
        match &self.accepted {
            Some(accepted) if accepted.floor == *floor => &accepted.additions,
            _ => &[],
        }
    }
}
