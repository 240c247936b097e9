//! What the customer changed: before a signature what was asked for, after it the orders.

use jiff::civil::Date;

use crate::base::names::Key;
use crate::base::source::{Located, Span};
use crate::model::job::{Accepted, Job};

/// A change that the customer asked for after a paper was issued. It lets a later paper cost more than
/// was promised.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    pub on: Date,
    /// Who asked, by name.
    pub by: String,
    /// The change, in words that the customer would use.
    pub what: String,
}

/// A change of what was signed.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// Present once it is signed; from then on it is part of what was agreed.
    pub signed: Option<SignedOrder>,
    /// The date on the change order.
    pub date: Option<Date>,
    /// The change, in words that the customer would use.
    pub what: Option<String>,
    /// The floor from this order on, where it is another one.
    pub floor: Option<Key>,
    /// By space, where the job has several: the floor from this order on; `None` for a space that is left out.
    pub floors: Vec<(String, Option<Key>)>,
    /// The additions from this order on, where they are other ones.
    pub additions: Option<Vec<Located<Key>>>,
    pub span: Span,
}

/// The signature under an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SignedOrder {
    /// The number behind the `r` in the name of the change order.
    pub revision: u32,
    pub on: Date,
}

impl Accepted {
    /// The acceptance with what an order changes of it.
    pub fn with(mut self, order: &Order) -> Self {
        if let Some(floor) = &order.floor {
            self.floor = floor.clone();
        }
        for (space, floor) in &order.floors {
            self.floors.retain(|(name, _)| name != space);
            self.floors.extend(floor.clone().map(|floor| (space.clone(), floor)));
        }
        if let Some((_, first)) = self.floors.first() {
            self.floor = first.clone();
        }
        if let Some(additions) = &order.additions {
            self.additions.clone_from(additions);
        }
        self
    }
}

impl Job {
    /// The signed orders, in their order.
    pub fn signed_orders(&self) -> impl DoubleEndedIterator<Item = SignedOrder> {
        self.orders.iter().filter_map(|order| order.signed)
    }

    /// The floor that was agreed, with the signed orders; of several spaces that of the one named. `None`
    /// where none was accepted there.
    pub fn agreed_floor(&self, space: Option<&str>) -> Option<Key> {
        let accepted = self.accepted.as_ref()?;
        let signed = self.orders.iter().filter(|order| order.signed.is_some());
        let Some(space) = space.filter(|_| self.has_spaces()) else {
            let last = signed.filter_map(|order| order.floor.clone()).next_back();
            return Some(last.unwrap_or_else(|| accepted.floor.clone()));
        };
        let mut of_space = signed.flat_map(|order| &order.floors).filter(|(name, _)| name == space);
        match of_space.next_back() {
            Some((_, floor)) => floor.clone(),
            None => Some(accepted.of(space)?.floor),
        }
    }

    /// The order that is not signed yet.
    pub fn open_order(&self) -> Option<&Order> {
        self.orders.last().filter(|order| order.signed.is_none())
    }
}
