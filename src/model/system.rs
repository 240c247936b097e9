//! Floor systems: stacks of coats over products of the book. Systems are data: the shipped four
//! are files like any that a shop adds.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::base::names::{Key, choices};
use crate::base::quantity::{Spread, Thickness};
use crate::base::source::{Located, Span};

/// A floor system, bottom coat first.
#[derive(Debug, Clone)]
pub struct System {
    pub key: Key,
    pub coats: Vec<SystemCoat>,
    /// Usual service life of such a floor in years: from, to. Common practice, no published source.
    pub life_years: (u32, u32),
    /// Years after which its topcoat is renewed, from and to; `None` for a floor that is not renewed.
    /// Common practice, no published source.
    pub renew_years: Option<(u32, u32)>,
    /// Sold as a floor that is done in one day.
    pub one_day: bool,
    /// Words that come with the system's own file, for systems that do not ship.
    pub words: Option<SystemWords>,
    pub span: Span,
}

/// One coat of a system.
#[derive(Debug, Clone)]
pub struct SystemCoat {
    /// Its name within the system: `primer`, `flake`, `top`.
    pub key: Key,
    pub product: Located<Key>,
    pub look: Look,
    /// The name of the extra that adds this coat; without one the coat is always there.
    pub extra: Option<Key>,
    /// In place of the product's own coverage.
    pub spread: Option<Spread>,
    pub film: Option<Thickness>,
    /// For a flake coat: how it is thrown.
    pub broadcast: Option<Broadcast>,
    /// For a grit coat: how it goes into the coat below.
    pub grit: Option<GritHow>,
    /// The way in which a liquid coat is laid.
    pub lay: Lay,
    /// Color that is stirred into a liquid coat.
    pub pigment: Option<Located<Key>>,
}

impl SystemCoat {
    /// The products that it is made of.
    pub fn products(&self) -> impl Iterator<Item = &Key> {
        std::iter::once(&self.product).chain(&self.pigment).map(|name| &name.value)
    }
}

choices! {
    /// Pattern in which a coat is drawn.
    Look {
        Primer = "primer",
        Barrier = "barrier",
        Flake = "flake",
        Clear = "clear",
        Top = "top",
        Thin = "thin",
        /// One color that hides what lies below.
        Solid = "solid",
        Grit = "grit",
    }

    /// The way in which flake is thrown.
    Broadcast {
        /// Thrown until the wet resin takes no more; the loose flake is scraped off.
        Full = "full",
        /// Thrown lightly.
        Scattered = "scattered",
    }

    /// The way in which grit goes into a coat.
    GritHow {
        /// Thrown into it while it is wet.
        Thrown = "thrown",
        /// Stirred into it before it is laid.
        Mixed = "mixed",
    }

    /// The way in which a liquid coat is laid; each has its own rate in the book.
    Lay {
        Rolled = "rolled",
        /// Poured out and spread.
        Poured = "poured",
        Troweled = "troweled",
    }
}

/// A system's words, in one language. The concrete under every floor has only a name and what
/// is done to it.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SystemWords {
    pub name: String,
    pub the_name: String,
    pub summary: String,
    pub better_at: Vec<String>,
    pub harder_at: Vec<String>,
    pub choose_if: String,
    pub yellowing: String,
    pub tires: String,
    pub smell: String,
    pub damp: String,
    pub does: String,
    /// By the coat's key.
    pub coats: BTreeMap<String, CoatWords>,
}

/// Name of a coat and its purpose, in words.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CoatWords {
    pub name: String,
    pub does: String,
}
