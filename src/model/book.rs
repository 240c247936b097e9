//! The price book: what materials cost and what their data sheets say, what work costs and how
//! fast it goes, and how a price is made of it.

pub mod additives;
pub mod changes;
pub mod hazards;
pub mod kits;

use jiff::civil::{Date, Time};
use rust_decimal::Decimal;

use crate::base::money::Cents;
use crate::base::names::{Key, choices};
use crate::base::quantity::*;
use crate::base::source::{Located, Span};
pub use crate::model::book::additives::{Grit, Pigment};
use crate::model::book::changes::PriceChange;
pub use crate::model::book::hazards::{CleaningSolvent, Sensitizer, Skin, Solvent, Stated};

/// A whole price book.
#[derive(Debug, Clone)]
pub struct Book {
    pub name: String,
    /// ISO 4217 code.
    pub currency: String,
    pub effective: Date,
    /// For how many days after `effective` the prices may be used.
    pub good_for_days: u32,
    /// True when the book says that its products and prices are invented.
    pub invented: bool,
    pub labor: Labor,
    pub rates: Rates,
    pub terms: PriceTerms,
    pub prep: Prep,
    pub repair: RepairTerms,
    pub mixing: Mixing,
    pub cleaning: Stated<CleaningSolvent>,
    pub products: Vec<Product>,
    /// Changes of prices that are still to come, as they stand in the file.
    pub changes: Vec<PriceChange>,
    /// Keys of products that have mistakes; none in a book that was accepted.
    pub unread: Vec<Key>,
    /// Place of the book in its file, for problems that are found later.
    pub span: Span,
}

impl Book {
    pub fn product(&self, key: &Key) -> Option<&Product> {
        self.products.iter().find(|product| product.key == *key)
    }

    /// The last day on which the book may be used.
    pub fn last_day(&self) -> Date {
        self.effective
            .checked_add(jiff::Span::new().days(i64::from(self.good_for_days)))
            .unwrap_or(Date::MAX)
    }
}

/// The crew and what an hour of it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Labor {
    /// Money per hour of one person, before burden.
    pub wage: Decimal,
    /// Taxes, insurance and benefits on the wage, as a share of it.
    pub burden: Decimal,
    pub crew: u32,
    pub day_starts: Time,
    pub day_ends: Time,
}

impl Labor {
    /// Money per hour of one person, burden included.
    pub fn burdened_rate(&self) -> Decimal {
        self.wage * (Decimal::ONE + self.burden)
    }

    /// Returns the start of the working day, from midnight.
    pub fn starts(&self) -> Hours {
        from_midnight(self.day_starts)
    }

    /// Returns the end of the working day, from midnight.
    pub fn ends(&self) -> Hours {
        from_midnight(self.day_ends)
    }
}

fn from_midnight(time: Time) -> Hours {
    Hours::minutes(f64::from(time.hour()) * 60.0 + f64::from(time.minute()))
}

/// Work rates of one person.
#[derive(Debug, Clone, PartialEq)]
pub struct Rates {
    /// Cover and clear, once a day on site.
    pub set_up: Hours,
    /// Clean tools and take up, once a day on site.
    pub clean_up: Hours,
    pub grind: AreaRate,
    /// Grinding where an old coating has to come off.
    pub grind_coated: AreaRate,
    /// Grinding off a whole floor that came loose.
    pub strip: AreaRate,
    /// Sanding a sound floor before a new topcoat; `None` where the book has no rate.
    pub sand: Option<AreaRate>,
    pub edge: LengthRate,
    pub crack: LengthRate,
    pub joint: LengthRate,
    pub cove: LengthRate,
    /// Spalls and holes, by their surface.
    pub patch: AreaRate,
    pub roll: AreaRate,
    /// Pouring a coat and spreading it; `None` where the book has no rate.
    pub pour: Option<AreaRate>,
    /// Laying a coat with a trowel; `None` where the book has no rate.
    pub trowel: Option<AreaRate>,
    pub upright: AreaRate,
    pub broadcast: AreaRate,
    pub scrape: AreaRate,
}

/// Rules that turn a cost into a price.
#[derive(Debug, Clone)]
pub struct PriceTerms {
    /// Money per area for pads, rollers, blades, tape, bags; the area as written.
    pub consumables: Decimal,
    pub consumables_per: Area,
    /// Money per area for blades and disposal where an old coating comes off, beside the rest.
    pub removal: Decimal,
    pub removal_per: Area,
    /// Money per area for discs and disposal where a whole floor that came loose is ground off.
    pub strip: Decimal,
    pub strip_per: Area,
    /// Travel, dump fees and the like, once a job.
    pub per_job: Cents,
    /// Share of the direct cost.
    pub overhead: Decimal,
    /// Target margin, a share of the price.
    pub margin: Decimal,
    /// The lowest margin that the shop accepts.
    pub margin_floor: Decimal,
    pub minimum: Cents,
    /// Prices are rounded up to a multiple of this.
    pub round_to: Cents,
    pub tax_name: Option<String>,
    pub tax: Decimal,
    pub tax_on: TaxOn,
    /// For how many days a proposal's price holds.
    pub hold_days: u32,
}

impl PriceTerms {
    /// The last day on which the prices of a paper of this date hold.
    pub fn valid_until(&self, date: Date) -> Date {
        date.checked_add(jiff::Span::new().days(i64::from(self.hold_days))).unwrap_or(date)
    }
}

choices! {
    /// Base of the sales tax. Which one is right depends on the state.
    TaxOn {
        /// The whole price: the customer sees the tax as a line.
        Price = "price",
        /// Purchases of the shop: part of its cost, no line of its own.
        Purchases = "purchases",
        /// There is none.
        Nothing = "nothing",
    }
}

/// Effect of the slab's surface and of the job's shape on quantities.
#[derive(Debug, Clone, PartialEq)]
pub struct Prep {
    /// Mean depth of the ground texture, which the first coat has to fill.
    pub texture: Thickness,
    /// Share of material that is lost on upright faces and steps, in place of the product's own.
    pub upright_loss: Share,
    /// Depth to which a crack is filled.
    pub crack_depth: Length,
    /// The surface strength that the shop asks for where a first coat's data sheet names none.
    pub strength_from: Option<Strength>,
}

/// Products that mend cracks, joints, holes and corners, and the size of the cuts.
#[derive(Debug, Clone)]
pub struct RepairTerms {
    /// Hard filler for cracks that do not move.
    pub rigid: Option<ProductName>,
    /// Soft filler for joints and for cracks that move.
    pub flexible: Option<ProductName>,
    /// Mortar for spalls and holes.
    pub patch: Option<ProductName>,
    /// Thickened resin for coves.
    pub cove: Option<ProductName>,
    /// A crack up to this width is filled by the first coat.
    pub hairline: Length,
    /// A wider one is chased to at least this width.
    pub chase: Length,
    pub joint_width: Length,
    pub joint_depth: Length,
}

/// Mixing habits of the crew.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixing {
    /// Measuring and stirring one batch.
    pub time: Hours,
    /// The largest batch that a pail holds.
    pub largest: Volume,
    /// The smallest batch that can be measured well.
    pub smallest: Volume,
    /// The part of the pot life in which a batch should be out of the pail.
    pub part_of_pot_life: Share,
}

/// One product of the book with its technical data.
#[derive(Debug, Clone)]
pub struct Product {
    pub key: Key,
    /// As the customer may read it: what it is, not whose it is.
    pub name: String,
    pub supplier: String,
    /// Date or edition of its data sheet, as typed; `None` where it was not noted.
    pub data_sheet: Option<String>,
    pub stuff: Stuff,
    pub span: Span,
}

/// Kind of a product, with its own values.
#[derive(Debug, Clone, PartialEq)]
pub enum Stuff {
    Resin(Box<Resin>),
    Flake(Flake),
    Filler(Filler),
    Pigment(Pigment),
    Grit(Grit),
}

/// A size in which a product is sold.
#[derive(Debug, Clone, PartialEq)]
pub struct Kit<Q> {
    pub size: Q,
    pub price: Cents,
}

/// A liquid coat, as its data sheet describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct Resin {
    pub kits: Vec<Kit<Volume>>,
    pub stock: Volume,
    /// Volume solids: dry film over wet film.
    pub solids: Share,
    /// Parts by volume, resin first.
    pub mix: MixRatio,
    /// The parts come measured for each other and are mixed whole.
    pub whole_kits: bool,
    /// Moisture in the air speeds it: damp air shortens its times.
    pub humidity_speeds: bool,
    /// The sheet's wet coverage, or a dry film to reach.
    pub coverage: Coverage,
    /// Share of what is bought that does not reach the floor.
    pub loss: Share,
    /// True for a moisture-vapor barrier.
    pub barrier: bool,
    pub mver_limit: Option<Mver>,
    pub rh_limit: Option<Humidity>,
    /// The moisture test that the sheet asks for.
    pub moisture_test: MoistureTestAsked,
    /// The sheet's condition for a slab on the ground; `None` when it is silent.
    pub ground_contact: Option<GroundContact>,
    /// The roughness of ground concrete that it needs.
    pub profile: Option<SurfaceProfile>,
    /// Permeance of the cured coat to water vapor.
    pub permeance: Option<Permeance>,
    /// pH of the concrete that it may go on, from and to.
    pub ph: Option<(Ph, Ph)>,
    /// True when nothing below it shows.
    pub opaque: Option<bool>,
    /// VOC content less water and exempt compounds, which is what rules set limits for.
    pub voc: Option<Content>,
    /// A solvent that can catch fire, as its safety data sheet has it.
    pub solvent: Stated<Solvent>,
    pub isocyanate: bool,
    /// Things in it that can make skin allergic beside isocyanates; `None` where the book does not say.
    pub sensitizers: Option<Vec<Sensitizer>>,
    pub uv_stable: bool,
    pub water_based: bool,
    pub slab_from: Temperature,
    pub slab_to: Temperature,
    pub air_humidity_to: Option<Humidity>,
    /// Spread of the slab over the dew point that the sheet asks for.
    pub dew_spread: Option<Degrees>,
    pub strength_from: Option<Strength>,
    pub concrete_days: Option<u32>,
    /// Times at one or more temperatures, coolest first.
    pub cure: Vec<Cure>,
}

choices! {
    /// The moisture test that a data sheet asks for.
    MoistureTestAsked {
        /// Dishes or probes, whichever it has a limit for.
        Either = "either",
        /// Dishes and probes: both limits must be kept.
        Both = "both",
        /// A plastic sheet taped to the slab.
        PlasticSheet = "plastic-sheet",
        /// None: only a vapor barrier may say so.
        NoneNeeded = "none-needed",
    }

    /// A data sheet's condition for a slab on the ground.
    GroundContact {
        /// A vapor barrier below this coat, or in it.
        Barrier = "barrier",
        /// A plastic sheet that is known to lie under the slab.
        Sheet = "sheet",
        /// Such a sheet, or a moisture test that is clear of the limit.
        SheetOrTest = "sheet-or-test",
        /// None.
        Any = "any",
    }
}

/// Roughness of ground concrete as ICRI 310.2R numbers it, from and to: CSP 2 to CSP 3.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SurfaceProfile {
    pub from: u8,
    pub to: u8,
}

impl SurfaceProfile {
    /// The profiles that ICRI 310.2R (2013) numbers.
    pub const NUMBERED: std::ops::RangeInclusive<u8> = 1..=10;
}

/// Parts of a mix by volume, resin first: 2 : 1.
#[derive(Debug, Clone, PartialEq)]
pub struct MixRatio {
    pub parts: Vec<f64>,
}

impl MixRatio {
    /// Returns the volume of each part of a mixed volume.
    pub fn split(&self, mixed: Volume) -> Vec<Volume> {
        let whole: f64 = self.parts.iter().sum();
        self.parts.iter().map(|part| mixed * (part / whole)).collect()
    }
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Coverage {
    /// Wet coverage, before loss.
    Spread(Spread),
    /// Dry film.
    Film(Thickness),
}

/// The data sheet's times at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cure {
    pub at: Temperature,
    pub pot_life: Hours,
    pub recoat_from: Hours,
    pub recoat_to: Hours,
    pub foot: Hours,
    pub vehicle: Hours,
}

/// Decorative flake.
#[derive(Debug, Clone, PartialEq)]
pub struct Flake {
    pub kits: Vec<Kit<Mass>>,
    pub stock: Mass,
    /// Thrown to refusal.
    pub full: ArealMass,
    /// Thrown lightly.
    pub scattered: ArealMass,
    /// Share of what is thrown that is swept up and used again.
    pub reclaimed: Share,
    /// Thickness that a full broadcast adds to the floor after scraping.
    pub thickness: Thickness,
}

/// A filler of cracks, joints, holes or corners. A kit's size is what it fills.
#[derive(Debug, Clone, PartialEq)]
pub struct Filler {
    pub kits: Vec<Kit<Volume>>,
    pub stock: Volume,
    pub loss: Share,
    /// Stays soft enough to move with the concrete.
    pub flexible: bool,
    pub isocyanate: bool,
    /// Things in it that can make skin allergic beside isocyanates; `None` where the book does not say.
    pub sensitizers: Option<Vec<Sensitizer>>,
    /// Until it may be ground and coated.
    pub sets: Hours,
}

impl Resin {
    /// True where something may evaporate from it and nobody has said if that can catch fire. A
    /// water-based coat is left out: what evaporates from it is mostly water.
    pub fn solvent_unknown(&self) -> bool {
        let evaporates =
            self.voc.is_none_or(|voc| voc > Content::ZERO) || self.solids.as_of_one() < 1.0;
        self.solvent.is_not_said() && evaporates && !self.water_based
    }

    /// True when its vapor can catch fire; `None` where the book does not say.
    pub fn flammable(&self) -> Option<bool> {
        match self.solvent {
            Stated::Given(_) => Some(true),
            Stated::Nothing => Some(false),
            Stated::NotSaid => None,
        }
    }
}

impl Product {
    pub fn resin(&self) -> Option<&Resin> {
        match &self.stuff {
            Stuff::Resin(resin) => Some(resin),
            _ => None,
        }
    }

    pub fn flake(&self) -> Option<&Flake> {
        match &self.stuff {
            Stuff::Flake(flake) => Some(flake),
            _ => None,
        }
    }

    pub fn filler(&self) -> Option<&Filler> {
        match &self.stuff {
            Stuff::Filler(filler) => Some(filler),
            _ => None,
        }
    }

    /// It hardens with isocyanates.
    pub fn isocyanate(&self) -> bool {
        match &self.stuff {
            Stuff::Resin(resin) => resin.isocyanate,
            Stuff::Filler(filler) => filler.isocyanate,
            Stuff::Flake(_) | Stuff::Pigment(_) | Stuff::Grit(_) => false,
        }
    }

    /// Returns the book's statement on an allergy of the skin that it can cause.
    pub fn skin(&self) -> Skin {
        let (sensitizers, isocyanate) = match &self.stuff {
            Stuff::Resin(resin) => (&resin.sensitizers, resin.isocyanate),
            Stuff::Filler(filler) => (&filler.sensitizers, filler.isocyanate),
            Stuff::Flake(_) | Stuff::Pigment(_) | Stuff::Grit(_) => return Skin::Nothing,
        };
        match sensitizers {
            Some(list) if list.is_empty() => Skin::Nothing,
            Some(_) => Skin::Allergy,
            // What hardens with isocyanates has cautions of its own, for skin too.
            None if isocyanate => Skin::Nothing,
            None => Skin::NotSaid,
        }
    }
}

/// A product named somewhere, to be looked up.
pub type ProductName = Located<Key>;
