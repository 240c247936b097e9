//! The parts of the page that a job of several spaces has: each space with its own, and the whole.

use serde::Serialize;

use crate::papers::proposal::page::{
    AmountLine, Compare, Drying, FloorExtras, HangsRow, Layers, NextStep, OpenWays, PriceTable,
    SignedFloor, SlabPart, TestOrder, TimeRow, Timeline,
};

/// One of several spaces, with the parts that a job of one space has.
#[derive(Debug, Clone, Serialize)]
pub struct SpacePart {
    /// `Patio`.
    pub name: String,
    /// Head of its pages on the slab: `Patio: the slab`.
    pub slab_title: String,
    /// Head of its comparison.
    pub compare_title: String,
    /// Head of the list of its areas, where the plan has numbers.
    pub areas_title: String,
    /// Head of its findings.
    pub findings_title: String,
    pub slab: SlabPart,
    pub drying: Option<Drying>,
    pub layers: Option<Layers>,
    pub compare: Option<Compare>,
    /// True where an earlier space has shown what each of these floors is better and harder at.
    pub same_ways: bool,
    pub open_ways: Option<OpenWays>,
    /// The floors with a price, each with its lines.
    pub prices: Vec<PriceTable>,
    /// Work in the price that this slab asks for.
    pub included_here: Vec<String>,
}

/// Price and days of all spaces together.
#[derive(Debug, Clone, Serialize)]
pub struct WholePart {
    /// The floor that comes first in each space, a line for each.
    pub rows: Vec<SpaceLine>,
    /// Items, discount, and the tax on them.
    pub lines: Vec<AmountLine>,
    /// All rows and lines together.
    pub total: AmountLine,
    /// How the spaces are done and how their prices come about.
    pub rule: Vec<String>,
    /// Why that floor comes first, space by space.
    pub reasons: Vec<NextStep>,
    pub timeline: Option<Timeline>,
    pub times: Vec<TimeRow>,
    pub times_note: String,
    pub payments: Vec<AmountLine>,
    pub payments_note: String,
    /// Work in the price of every job.
    pub included: Vec<String>,
    pub excluded: Vec<String>,
    /// Items that could be added, each with its price.
    pub could_add: Vec<AmountLine>,
}

/// A space in a line.
#[derive(Debug, Clone, Default, Serialize)]
pub struct SpaceLine {
    pub space: String,
    /// The floor that comes first; the reason for which there is none.
    pub floor: String,
    /// Empty where no floor has a price.
    pub price: String,
    pub days: String,
    /// From when on it is in full use.
    pub ready: String,
    pub standing: String,
    pub recommended: bool,
}

/// One space on the leaf that is signed.
#[derive(Debug, Clone, Serialize)]
pub struct SignedSpace {
    pub name: String,
    /// The offered floors, each with a box.
    pub options: Vec<SignedFloor>,
    pub extras: Vec<FloorExtras>,
    /// The test that its waiting floors need.
    pub test: Option<TestOrder>,
    /// Floors that wait, with their prices and the results that would let them be laid.
    pub waits: Vec<HangsRow>,
}
