//! Spaces of a job that has several: a garage, a patio, a basement, a room, steps. Each is a job of
//! its own for all that was measured there and is offered there.

use std::collections::BTreeMap;

use crate::base::names::{Key, choices};
use crate::base::source::{Located, Span};
use crate::model::choices::{AdditionKind, Choices};
use crate::model::job::{Air, Garage, Job, Moisture, Shapes, Slab};

choices! {
    /// The kind of a space: what it is used for.
    SpaceKind {
        /// Cars stand on it.
        Garage = "garage",
        /// Outdoors, beside the house.
        Patio = "patio",
        /// Below the house.
        Basement = "basement",
        /// People live in it.
        Room = "room",
        Steps = "steps",
    }
}

impl SpaceKind {
    /// True where a car drives on the floor.
    pub fn has_cars(self) -> bool {
        self == Self::Garage
    }

    /// True for a space inside the house, where people breathe what a coat gives off.
    pub fn is_in_house(self) -> bool {
        matches!(self, Self::Basement | Self::Room)
    }
}

/// A space by its name and its surroundings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Its place among the spaces of the job, from 1.
    pub number: usize,
    pub name: String,
    pub kind: SpaceKind,
    /// Sun, rain and dew reach it.
    pub outdoors: bool,
    /// A roof keeps the rain off.
    pub covered: Option<bool>,
    /// A window, a door or a fan brings in outside air.
    pub air_exchange: Option<bool>,
    /// People sleep in it, or beside it.
    pub slept_in: Option<bool>,
}

/// One space: what was measured in it, and what is offered for it.
#[derive(Debug, Clone)]
pub struct Space {
    pub place: Place,
    pub slab: Slab,
    pub shapes: Shapes,
    pub moisture: Moisture,
    pub air: Option<Air>,
    pub garage: Garage,
    /// In the order in which they are shown.
    pub offer: Vec<Located<Key>>,
    pub extras: BTreeMap<Key, Vec<Located<Key>>>,
    /// The look of its floor; `None` where that of the whole job holds.
    pub choices: Option<Choices>,
    pub span: Span,
}

impl Job {
    /// True for a job that has several spaces.
    pub fn has_spaces(&self) -> bool {
        !self.spaces.is_empty()
    }

    /// True where a car drives on the floor.
    pub fn has_cars(&self) -> bool {
        self.place.as_ref().is_none_or(|place| place.kind.has_cars())
    }

    /// Each space as a job of its own; none for a job without spaces. What is of the whole job (items,
    /// discount, notes) stays with the whole.
    pub fn of_spaces(&self) -> Vec<Job> {
        self.spaces.iter().map(|space| self.of_space(space)).collect()
    }

    fn of_space(&self, space: &Space) -> Job {
        let mut own = Job { spaces: vec![], ..self.clone() };
        own.place = Some(space.place.clone());
        own.slab = space.slab.clone();
        own.shapes = space.shapes.clone();
        own.moisture = space.moisture.clone();
        own.air = space.air;
        own.garage = space.garage.clone();
        own.offer = space.offer.clone();
        own.extras = space.extras.clone();
        own.choices = space.choices.clone().unwrap_or_else(|| self.choices.clone());
        own.additions.retain(|one| matches!(one.what, AdditionKind::Extra(_)));
        own.items = vec![];
        own.discount = None;
        own.paid = vec![];
        own.orders = vec![];
        own.agreed = self.agreed_by_orders().and_then(|agreed| agreed.of(&space.place.name));
        own.laid.retain(|record| record.space.as_ref() == Some(&space.place.name));
        own.notes = vec![];
        own.crew_notes = vec![];
        own.accepted = self.accepted.as_ref().and_then(|accepted| accepted.of(&space.place.name));
        own.span = space.span.clone();
        own
    }
}
