//! Solids that go into a liquid coat: pigment that colors it, grit that roughens it.

use crate::base::quantity::{ArealMass, Content, Mass, Volume};
use crate::model::book::{Kit, Product, Stuff};

/// Color that is stirred into a liquid.
#[derive(Debug, Clone, PartialEq)]
pub struct Pigment {
    pub kits: Vec<Kit<Mass>>,
    pub stock: Mass,
    /// Mass for a volume of the mixed liquid.
    pub dose: Content,
}

/// Hard grains that roughen a coat.
#[derive(Debug, Clone, PartialEq)]
pub struct Grit {
    pub kits: Vec<Kit<Mass>>,
    pub stock: Mass,
    /// Mass for an area, as its data sheet has it.
    pub rate: ArealMass,
    /// It holds crystalline silica, such as quartz sand does; `None` where the book does not say.
    pub silica: Option<bool>,
}

impl Pigment {
    /// Mass for a volume of mixed liquid.
    pub fn for_volume(&self, volume: Volume) -> Mass {
        Mass::grams(self.dose.as_grams_per_liter() * volume.as_liters())
    }
}

impl Product {
    pub fn pigment(&self) -> Option<&Pigment> {
        match &self.stuff {
            Stuff::Pigment(pigment) => Some(pigment),
            _ => None,
        }
    }

    pub fn grit(&self) -> Option<&Grit> {
        match &self.stuff {
            Stuff::Grit(grit) => Some(grit),
            _ => None,
        }
    }

    /// True when its dust may hold crystalline silica: where the book does not say, it may.
    pub fn may_hold_silica(&self) -> bool {
        self.grit().is_some_and(|grit| grit.silica != Some(false))
    }
}
