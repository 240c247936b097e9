//! The comparison: every way to go on in the same room, and the way to the recommendation.

use serde::Serialize;

use crate::papers::proposal::page::{AmountLine, FloorMark};

/// The ways to go on side by side: each floor with a price, then those without a floor.
#[derive(Debug, Clone, Serialize)]
pub struct Compare {
    pub intro: String,
    /// Interest of the shop in what is chosen.
    pub earns: String,
    /// Date of these pages, and until when their readings and prices hold.
    pub dated: String,
    pub wishes: Wishes,
    /// Steps to a decision after the order of the wishes.
    pub decide: Vec<String>,
    /// Columns of the table: the floor that comes first, the others in the order of the offer, then
    /// to leave the slab as it is, and a further test where one may change what is offered.
    pub ways: Vec<Way>,
    pub rows: Vec<CompareRow>,
    pub not_offered: Vec<NotOffered>,
    pub even: Vec<EvenChanceText>,
    /// The shop's own records of the floors that were compared; absent without any.
    pub records: Option<OwnRecords>,
    /// Steps of the rule that left floors behind, each in a line.
    pub steps: Vec<String>,
}

/// The ways that are open where no floor has a price.
#[derive(Debug, Clone, Serialize)]
pub struct OpenWays {
    /// The decision that is to be made.
    pub intro: String,
    /// Interest of the shop in what is chosen.
    pub earns: String,
    /// Date of these pages, and until when their readings hold.
    pub dated: String,
    pub ways: Vec<Way>,
    /// Steps to a decision.
    pub decide: Vec<String>,
    /// Questions for anyone who wants to coat the floor.
    pub questions: Vec<String>,
    /// The shop's own records of the floors that were compared; absent without any.
    pub records: Option<OwnRecords>,
}

/// The customer's wishes as they were taken, with a box for each that there is.
#[derive(Debug, Clone, Serialize)]
pub struct Wishes {
    pub said: String,
    pub boxes: Vec<WishBox>,
    /// Request to correct the order.
    pub ask: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct WishBox {
    pub name: String,
    /// Its place as taken: `we wrote 1`; empty for one that was not named.
    pub taken: String,
}

/// A way to go on, both sides of it with the same room for each.
#[derive(Debug, Clone, Serialize)]
pub struct Way {
    pub name: String,
    /// Absent for a floor that is offered and not recommended, and for what is no floor.
    pub mark: Option<FloorMark>,
    pub better_at: Vec<String>,
    pub harder_at: Vec<String>,
    pub choose_if: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct CompareRow {
    pub label: String,
    /// One cell for each of `Compare::ways`, in their order.
    pub cells: Vec<String>,
}

/// A floor that is not offered, with the reason.
#[derive(Debug, Clone, Serialize)]
pub struct NotOffered {
    pub name: String,
    pub why: String,
}

/// The chance of a moisture failure at which the dearer, more tolerant floor pays for itself.
#[derive(Debug, Clone, Serialize)]
pub struct EvenChanceText {
    pub title: String,
    /// `about 13 in 100`.
    pub chance: String,
    /// The chance as a grid; absent where it would not be read.
    pub grid: Option<ChanceGrid>,
    pub says: String,
    /// The price of doing the floor over, in parts and in all; empty where the parts are one.
    pub redo: Vec<AmountLine>,
    pub leaves_out: String,
}

/// The shop's records of the floors that were compared, all out of a hundred.
#[derive(Debug, Clone, Serialize)]
pub struct OwnRecords {
    pub intro: String,
    /// In the order of the offer.
    pub rows: Vec<OwnRecord>,
    /// The floors of which the shop has no count; empty where it has one of each.
    pub without: String,
}

/// A shop's record of a floor, in words and as a grid.
#[derive(Debug, Clone, Serialize)]
pub struct OwnRecord {
    /// The floor.
    pub name: String,
    pub says: String,
    pub grid: ChanceGrid,
}

/// So many floors of a hundred. All chances of a proposal have this one denominator.
#[derive(Debug, Clone, Serialize)]
pub struct ChanceGrid {
    pub all: u32,
    pub marked: u32,
    /// Floors that may come to it, beside those that are marked.
    pub maybe: u32,
    pub alt: String,
}
