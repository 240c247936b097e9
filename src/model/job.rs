//! A job: one slab, one customer, what a visit found, and what is on offer.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};

use crate::base::names::{JobNumber, Key, choices};
use crate::base::quantity::*;
use crate::base::source::{Located, Span};
pub use crate::model::accepted::Accepted;
use crate::model::bid::Bid;
use crate::model::choices::{Addition, Choices, Discount, Item, Receipt};
pub use crate::model::customer::Customer;
use crate::model::failure::Failure;
use crate::model::handover::Handover;
pub use crate::model::laid::CoatRecord;
pub use crate::model::orders::{Asked, Order, SignedOrder};
pub use crate::model::photo::{Photo, PhotoWhen};
use crate::model::space::{Place, Space};
use crate::model::worked::Worked;

#[derive(Debug, Clone)]
pub struct Job {
    pub number: JobNumber,
    /// The date of the proposal.
    pub date: Date,
    pub units: Units,
    pub paper: PaperSize,
    pub print: Print,
    pub edition: Edition,
    /// The language of the customer's papers, where it is not the shop's.
    pub language: Option<String>,
    /// True when the people and the place are invented; the paper then says so.
    pub invented: bool,
    pub customer: Customer,
    /// Wishes of the customer, most important first.
    pub wishes: Vec<Wish>,
    pub house: House,
    /// The spaces of a job that has several; slab, shapes, moisture, air, garage, offer and extras are
    /// then those of the first. [`Job::of_spaces`] makes a job of each.
    pub spaces: Vec<Space>,
    /// The space that this job is of, where it is one of several.
    pub place: Option<Place>,
    pub slab: Slab,
    pub shapes: Shapes,
    pub moisture: Moisture,
    pub air: Option<Air>,
    pub garage: Garage,
    /// The systems on offer, in the order in which they are shown.
    pub offer: Vec<Located<Key>>,
    /// By system: the extras that its price includes.
    pub extras: BTreeMap<Key, Vec<Located<Key>>>,
    pub plan: WorkPlan,
    /// The coats as they were laid, in the order of work; empty until they are recorded.
    pub laid: Vec<CoatRecord>,
    pub worked: Vec<Worked>,
    pub choices: Choices,
    /// What may be ticked; empty where the systems' own extras may be.
    pub additions: Vec<Addition>,
    pub items: Vec<Item>,
    pub discount: Option<Discount>,
    pub accepted: Option<Accepted>,
    /// For one space of several, its part of what was accepted and changed by signed orders of the whole.
    pub agreed: Option<Accepted>,
    /// What the customer asked to be other than in a paper that was issued.
    pub asked: Vec<Asked>,
    /// Changes of what was signed, in their order.
    pub orders: Vec<Order>,
    /// Money received, in the order in which it is written.
    pub paid: Vec<Receipt>,
    /// Bids of other firms, to be read beside ours.
    pub bids: Vec<Bid>,
    pub handover: Option<Handover>,
    /// Failures that were seen after the floor was laid, in the order in which they are written.
    pub failures: Vec<Failure>,
    pub photos: Vec<Photo>,
    /// Notes for the customer.
    pub notes: Vec<String>,
    /// Notes for the crew. They never reach the customer.
    pub crew_notes: Vec<String>,
    pub span: Span,
}

choices! {
    /// The units of the paper.
    Units { Us = "us", Metric = "metric", }

    PaperSize { Letter = "letter", A4 = "a4", }

    /// The size of the type in what the customer reads.
    Print { Usual = "usual", Large = "large", }

    /// The editions of proposal and leaflet that are written.
    Edition {
        /// Sheets to print and sign.
        Paper = "paper",
        /// Narrow pages for a telephone beside them.
        Phone = "phone",
    }

    /// A wish that a customer may have. Each is one comparison of the recommendation's rule.
    Wish {
        /// Fewest days until the car may return.
        Quick = "quick",
        /// Longest usual service life.
        Lasting = "lasting",
        /// Lowest price.
        LowPrice = "low-price",
        /// No coat that turns amber in daylight.
        NoYellowing = "no-yellowing",
        /// Most room over the highest moisture reading.
        MoistureRoom = "moisture-room",
    }
}

#[derive(Debug, Clone, Default)]
pub struct House {
    /// The year in which the house was built.
    pub built: Option<u32>,
    /// Years for which its owners plan to stay.
    pub stay_years: Option<u32>,
}

/// The slab as found. What was not looked at is `None`: not known, and never a pass.
#[derive(Debug, Clone)]
pub struct Slab {
    pub thickness: Option<Length>,
    pub poured: Option<Poured>,
    pub on_ground: bool,
    pub retarder: Known,
    pub strength: Option<Strength>,
    pub water_drop: Option<WaterDrop>,
    pub oil: Option<bool>,
    pub salts: Option<bool>,
    pub coating: Option<OldCoating>,
    pub tile_glue: Option<TileGlue>,
    /// Other things that lay on it or were worked into it; `None` when nobody looked or asked.
    pub treatments: Option<Vec<Treatment>>,
    /// Things cast into the slab; `None` when it is not known. Empty when there is nothing.
    pub inside: Option<Vec<Inside>>,
    /// pH of the surface.
    pub ph: Option<Ph>,
    /// Mean depth of texture, in place of the book's.
    pub texture: Option<Thickness>,
}

impl Slab {
    /// True where the ground's moisture may reach it: it lies on the ground, and no plastic sheet is
    /// known beneath it.
    pub fn open_to_ground(&self) -> bool {
        self.on_ground && self.retarder != Known::Yes
    }

    /// True unless nothing is known to lie in it: nobody drills or cuts before a scan.
    pub fn needs_scan(&self) -> bool {
        self.inside.as_ref().is_none_or(|inside| !inside.is_empty())
    }
}

/// Date on which the concrete was placed: a day for new work, a year for old.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Poured {
    Day(Date),
    Year(u32),
}

choices! {
    Known { Yes = "yes", No = "no", Unknown = "unknown", }

    /// Behavior of a drop of water on the bare slab.
    WaterDrop { SoaksIn = "soaks-in", Beads = "beads", }

    /// Coating that is on the slab now.
    OldCoating { Nothing = "none", Paint = "paint", Sealer = "sealer", Epoxy = "epoxy", }

    /// Glue of old floor tiles.
    TileGlue { Nothing = "none", Light = "light", Dark = "dark", }

    /// Things beside coatings that keep a coat from holding.
    Treatment {
        Nothing = "none",
        /// Sprayed on fresh concrete to keep its water in.
        CuringCompound = "curing-compound",
        /// A hardener or densifier that fills the pores.
        Densifier = "densifier",
        /// Silicone, such as tire dressing leaves.
        Silicone = "silicone",
        Wax = "wax",
    }

    /// Things cast into a slab, which a drill or a saw must not meet.
    Inside {
        Nothing = "none",
        /// Steel cables under tension: cut, they can kill.
        Cables = "post-tension-cables",
        HeatingTubes = "heating-tubes",
        HeatingWires = "heating-wires",
        Pipes = "pipes",
        /// Wires or conduit for power.
        Wiring = "wiring",
    }
}

/// The measured shapes.
#[derive(Debug, Clone, Default)]
pub struct Shapes {
    pub areas: Vec<Patch>,
    pub cutouts: Vec<Patch>,
    pub uprights: Vec<Upright>,
    pub steps: Vec<Steps>,
    pub cracks: Vec<Crack>,
    pub joints: Vec<Joint>,
    pub spalls: Vec<Spall>,
    pub coves: Vec<Cove>,
    pub doors: Vec<Door>,
}

/// A flat patch of floor: coated, or left out.
#[derive(Debug, Clone)]
pub struct Patch {
    pub name: String,
    /// Corners in order; a rectangle has four. Meters are inside `Length`.
    pub corners: Vec<Point>,
    /// True when the job gives the place of its corner on the plan.
    pub placed: bool,
}

/// A place on the plan, from the plan's origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    pub x: Length,
    pub y: Length,
}

/// A coated upright face: stem wall, curb.
#[derive(Debug, Clone)]
pub struct Upright {
    pub name: String,
    pub length: Length,
    pub height: Length,
}

/// A flight of steps: treads and risers are both coated.
#[derive(Debug, Clone)]
pub struct Steps {
    pub count: u32,
    pub width: Length,
    pub tread: Length,
    pub riser: Length,
    /// The lower left corner of their flight on the plan, when the job says so.
    pub at: Option<Point>,
}

#[derive(Debug, Clone)]
pub struct Crack {
    pub name: String,
    pub length: Length,
    pub width: Length,
    pub moves: Known,
    /// Line on the plan; empty when the job does not say.
    pub path: Vec<Point>,
}

#[derive(Debug, Clone)]
pub struct Joint {
    pub name: String,
    pub length: Length,
    pub treatment: JointTreatment,
    /// Line on the plan; empty when the job does not say.
    pub path: Vec<Point>,
}

/// A door, as the plan shows it.
#[derive(Debug, Clone)]
pub struct Door {
    pub name: String,
    pub from: Point,
    pub to: Point,
}

/// A hole or a broken edge in the slab.
#[derive(Debug, Clone)]
pub struct Spall {
    pub name: String,
    pub area: Area,
    /// Mean depth.
    pub depth: Length,
}

/// A rounded corner between floor and wall, so that water and dirt find no edge.
#[derive(Debug, Clone)]
pub struct Cove {
    pub name: String,
    pub length: Length,
    pub radius: Length,
}

choices! {
    JointTreatment {
        /// The joint stays open in the new floor.
        Honor = "honor",
        /// Filled with a flexible filler; the line may show.
        Fill = "fill",
    }
}

/// Moisture tests of one or more visits. The methods measure different things and are never
/// converted into each other.
#[derive(Debug, Clone, Default)]
pub struct Moisture {
    /// In the order in which the visits were made.
    pub visits: Vec<TestVisit>,
}

impl Moisture {
    /// All series of dishes, in the order of the visits.
    pub fn dish_tests(&self) -> impl Iterator<Item = &DishTest> {
        self.visits.iter().filter_map(|visit| visit.dishes.as_ref())
    }

    /// All series of probes, in the order of the visits.
    pub fn probe_tests(&self) -> impl Iterator<Item = &ProbeTest> {
        self.visits.iter().filter_map(|visit| visit.probes.as_ref())
    }

    /// All plastic sheets that were taped down for a test, in the order of the visits.
    pub fn sheet_tests(&self) -> impl Iterator<Item = &SheetTest> {
        self.visits.iter().flat_map(|visit| &visit.sheets)
    }
}

/// The moisture tests of one visit.
#[derive(Debug, Clone, Default)]
pub struct TestVisit {
    pub dishes: Option<DishTest>,
    pub probes: Option<ProbeTest>,
    /// Plastic sheets taped to the slab, ASTM D4263.
    pub sheets: Vec<SheetTest>,
}

/// Calcium chloride dishes, ASTM F1869.
#[derive(Debug, Clone)]
pub struct DishTest {
    /// The smallest step that the scale shows.
    pub scale: Mass,
    /// Room conditions while the dishes stood.
    pub room: Option<RoomAir>,
    /// The room was as damp as it is in normal use.
    pub as_used: bool,
    /// The room was at its conditions for 48 hours before.
    pub settled: Option<bool>,
    pub instrument: Option<String>,
    pub dishes: Vec<Dish>,
}

#[derive(Debug, Clone)]
pub struct Dish {
    pub place: String,
    pub at: Option<Point>,
    /// The concrete under it; `None` when nobody wrote it down.
    pub surface: Option<TestSurface>,
    /// Time at which its spot was ground.
    pub ground: Option<DateTime>,
    /// Concrete under the dome, without the dish's own footprint.
    pub exposed: Area,
    pub before: Mass,
    pub after: Mass,
    pub set: DateTime,
    pub lifted: DateTime,
    /// The reason for which its result does not count.
    pub void: Option<String>,
    pub span: Span,
}

choices! {
    /// The concrete on which a test dish stood.
    TestSurface {
        /// Ground bare and left open for 24 hours, as ASTM F1869 asks.
        GroundOpen = "ground-open-24h",
        /// Bare, and not known to be ground and left open.
        Bare = "bare",
        /// Painted, sealed or coated.
        Coated = "coated",
    }
}

/// Air in the room during a test.
#[derive(Debug, Clone, Copy)]
pub struct RoomAir {
    pub temperature: Temperature,
    pub humidity: Humidity,
}

/// Humidity probes in drilled holes, ASTM F2170.
#[derive(Debug, Clone)]
pub struct ProbeTest {
    pub edition: u32,
    /// Accuracy of the probes, either way, by their data sheet.
    pub accuracy: Option<Humidity>,
    pub settled: Option<bool>,
    pub instrument: Option<String>,
    pub probes: Vec<Probe>,
}

#[derive(Debug, Clone)]
pub struct Probe {
    pub place: String,
    pub at: Option<Point>,
    pub depth: Length,
    pub reading: Humidity,
    pub drilled: DateTime,
    pub read: DateTime,
    pub calibrated: Option<Calibrated>,
    /// The reason for which its reading does not count.
    pub void: Option<String>,
    pub span: Span,
}

/// Last check of a probe against a known humidity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Calibrated {
    On(Date),
    /// A new probe, with the maker's own certificate: it needs no check within 30 days.
    New,
}

/// A plastic sheet taped to the slab, ASTM D4263.
#[derive(Debug, Clone)]
pub struct SheetTest {
    pub place: String,
    pub at: Option<Point>,
    pub taped: DateTime,
    pub lifted: DateTime,
    /// All four edges were sealed with tape.
    pub sealed: Option<bool>,
    pub found: SheetFound,
    /// The reason for which its result does not count.
    pub void: Option<String>,
    pub span: Span,
}

choices! {
    /// The underside of a test sheet, and the concrete below it, when it was lifted.
    SheetFound { Dry = "dry", Damp = "damp", }
}

/// Air and slab as measured on the visit.
#[derive(Debug, Clone, Copy)]
pub struct Air {
    pub measured: Date,
    pub temperature: Temperature,
    pub humidity: Humidity,
    pub slab: Temperature,
}

#[derive(Debug, Clone)]
pub struct Garage {
    pub height: Option<Length>,
    /// Flames, heaters, motors: named one by one.
    pub ignition: Vec<String>,
    /// Daylight reaches the floor, through the open door or a window.
    pub daylight: bool,
    /// Cars bring in rain, snow or wash water.
    pub wet: bool,
    /// The sale is made at the customer's home, so that the buyer may cancel.
    pub sold_at_home: bool,
}

#[derive(Debug, Clone, Default)]
pub struct WorkPlan {
    /// The first day of work, when it is agreed.
    pub start: Option<Date>,
    /// In place of the book's crew.
    pub crew: Option<u32>,
    /// The crew that comes, by the name that the shop calls it.
    pub crew_name: Option<String>,
    /// Whom to call on the day.
    pub contact: Option<String>,
    /// The day on which the floor was done.
    pub laid: Option<Date>,
}
