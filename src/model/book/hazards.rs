//! Statements of a price book on things that can hurt people.

use crate::base::names::choices;
use crate::base::quantity::{Content, MolarMass, Ppm, Share};

/// A book's statement on something that can hurt people. A statement that it leaves out is not known,
/// and never none.
#[derive(Debug, Clone, PartialEq)]
pub enum Stated<T> {
    /// It says that there is none.
    Nothing,
    Given(T),
    NotSaid,
}

impl<T> Stated<T> {
    pub fn given(&self) -> Option<&T> {
        match self {
            Self::Given(value) => Some(value),
            Self::Nothing | Self::NotSaid => None,
        }
    }

    /// True only where the book says that there is none.
    pub fn is_nothing(&self) -> bool {
        matches!(self, Self::Nothing)
    }

    pub fn is_not_said(&self) -> bool {
        matches!(self, Self::NotSaid)
    }
}

/// A solvent that surfaces are wiped and tools are cleaned with, by its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CleaningSolvent(pub String);

choices! {
    /// Things that can make skin allergic beside isocyanates.
    Sensitizer {
        /// Epoxy resin.
        Epoxy = "epoxy",
        /// An amine, as in hardeners.
        Amine = "amine",
    }
}

/// A flammable solvent in a coat, with the figures of its safety data sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Solvent {
    pub name: String,
    /// Mass of solvent in a volume of the mixed coat.
    pub content: Content,
    pub molar_mass: MolarMass,
    /// Lower explosive limit, percent by volume in air.
    pub lel: Share,
    /// The exposure limit that the book goes by.
    pub exposure: Ppm,
    /// Whose limit that is, and of which year; `None` where the book does not say.
    pub exposure_source: Option<String>,
}

/// A product as a cause of skin allergy, isocyanates aside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Skin {
    /// The book names nothing that does.
    Nothing,
    /// The book names something that does.
    Allergy,
    /// The book does not say.
    NotSaid,
}
