//! The floor as it was laid, in the results. What a customer may know of it is a type of its own: it has
//! no volume of what was used, and no name of the crew.

use jiff::civil::DateTime;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::Key;
use crate::base::quantity::{Area, Degrees, Hours, Humidity, Mass, Temperature, Thickness, Volume};
use crate::judge::laid::conditions::ConditionKept;
use crate::judge::laid::film::{FilmAsLaid, FilmRange, FilmStanding, WetReadings};
use crate::judge::laid::times::RealTimes;
use crate::judge::laid::window::WindowKept;
use crate::judge::laid::{CoatAsLaid, FloorAsLaid, RecordAsLaid, floor_as_laid};
use crate::papers::proposal::writer::Writer;
use crate::price::cure::CureBasis;

/// A floor as it was laid, for the shop.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShopLaid {
    /// The key of the floor that was agreed.
    pub floor: Key,
    /// True when every liquid coat that was agreed is recorded on the whole floor.
    pub complete: bool,
    /// Every coat of the floor, bottom coat first, those of extras that were laid without an order too.
    pub coats: Vec<ShopLaidCoat>,
    /// Null where the last coat is not recorded, or its times are not known.
    pub times: Option<LaidTimes>,
}

/// A floor as it was laid, for its customer.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CustomerLaid {
    /// The key of the floor that was agreed.
    pub floor: Key,
    /// True when every liquid coat that was agreed is recorded on the whole floor.
    pub complete: bool,
    /// Every coat of the floor, bottom coat first, those of extras that were laid without an order too.
    pub coats: Vec<CustomerLaidCoat>,
    /// Null where the last coat is not recorded, or its times are not known.
    pub times: Option<LaidTimes>,
}

/// One coat as it was laid, for the shop.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShopLaidCoat {
    /// The coat's key in its floor.
    pub coat: Key,
    /// The name of its product.
    pub name: String,
    /// False for a coat of an extra that was not agreed.
    pub agreed: bool,
    /// True where the records cover the floor.
    pub recorded: bool,
    /// The area that the records cover, square meters.
    pub area_m2: Area,
    /// Null for flake and grit, and for a coat that is not recorded.
    pub film: Option<LaidFilm>,
    /// In the order of work; empty where the coat is not recorded.
    pub records: Vec<ShopLaidRecord>,
}

/// One coat as it was laid, for the customer.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CustomerLaidCoat {
    /// The coat's key in its floor.
    pub coat: Key,
    /// The name of its product.
    pub name: String,
    /// True where the records cover the floor.
    pub recorded: bool,
    /// Lot numbers on the pails and boxes that were opened for it.
    pub lot_numbers: Vec<String>,
    /// Null for flake and grit, and for a coat that is not recorded.
    pub film: Option<LaidFilm>,
    /// In the order of work; empty where the coat is not recorded.
    pub records: Vec<CustomerLaidRecord>,
}

/// The film of a coat as it was laid.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LaidFilm {
    /// Wet film that was planned, micrometers.
    pub planned_um: Thickness,
    /// Wet film by what went on the floor, on the average; null where nobody wrote that down.
    pub by_volume: Option<FilmRange>,
    /// Dry film that follows from it; null like it.
    pub dry_by_volume: Option<FilmRange>,
    /// Readings of a notch gauge (ASTM D4414); null without any, and where the coat went down in two passes.
    pub readings: Option<WetReadings>,
    /// Standing of the film to the plan.
    pub standing: FilmStanding,
    /// False where volume and readings cannot both be right; null where one of them does not tell.
    pub agrees: Option<bool>,
}

/// One record of a coat, for the shop.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShopLaidRecord {
    #[serde(flatten)]
    pub record: CustomerLaidRecord,
    /// True where it went over the same floor once more.
    pub again: bool,
    /// The area that it covered, square meters; null for the whole floor.
    pub area_m2: Option<Area>,
    /// Liquid, mixed, that went on the floor, liters; null where nobody wrote it down.
    pub used_litres: Option<Volume>,
    /// Flake or grit that was thrown, kilograms; null where nobody wrote it down.
    pub weight_kg: Option<Mass>,
    /// Lot numbers on the pails and boxes that were opened for it.
    pub lot_numbers: Vec<String>,
    /// From the end of the coat below to its start, hours; null where that is not known.
    pub waited_hours: Option<Hours>,
    /// The time of a batch from mixing to the floor, on the average, hours; null where it cannot be told.
    pub batch_took_hours: Option<Hours>,
    /// The pot life at the temperature of the surface, hours; null like it.
    pub pot_life_hours: Option<Hours>,
    /// The person who laid it, as typed.
    pub who: Option<String>,
    /// A note of the crew, as typed.
    pub note: Option<String>,
}

/// One record of a coat, for the customer.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CustomerLaidRecord {
    /// Local day and time at which the first of it was on the floor.
    pub start: String,
    /// Local day and time at which the last of it was on the floor; null where nobody wrote it down.
    pub end: Option<String>,
    /// Temperature of the air, degrees Celsius; null where nobody wrote it down.
    pub air_c: Option<Temperature>,
    /// Relative humidity of the air, percent; null where nobody wrote it down.
    pub humidity_percent: Option<Humidity>,
    /// Temperature of the surface, degrees Celsius; null where nobody wrote it down.
    pub slab_c: Option<Temperature>,
    /// Dew point of that air, degrees Celsius; null where it is not known.
    pub dew_point_c: Option<Temperature>,
    /// Surface over dew point, kelvin; null where it is not known.
    pub over_dew_point_k: Option<Degrees>,
    /// Surface within the range of the data sheet; null for flake and grit, like the two that follow.
    pub slab_kept: Option<ConditionKept>,
    /// Humidity within the limit of the data sheet, or the usual one.
    pub humidity_kept: Option<ConditionKept>,
    /// Surface far enough over the dew point.
    pub dew_point_kept: Option<ConditionKept>,
    /// Standing to the window of the coat below; null for the coat on the concrete, for flake and grit.
    pub window: Option<WindowKept>,
}

/// Moments of use from the real end and temperature of the last coat, local day and time.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LaidTimes {
    /// The last of the last coat was down.
    pub done: String,
    /// True where nobody wrote the end of the last coat down: it is its start and the time that was planned.
    pub done_reckoned: bool,
    /// One may walk on it.
    pub walk: String,
    /// Things may be carried in.
    pub carry: String,
    /// A car may drive on it.
    pub drive: String,
    /// The temperature that they are for, degrees Celsius.
    pub slab_c: Temperature,
    /// The way in which they were found.
    pub by: CureBasis,
}

impl ShopLaid {
    /// Null in a job without a record.
    pub fn of(w: &Writer<'_>) -> Option<Self> {
        let laid = floor_as_laid(w.case)?;
        Some(Self {
            floor: laid.floor.system.key.clone(),
            complete: laid.is_complete(),
            coats: laid.coats.iter().map(shop_coat).collect(),
            times: times(&laid),
        })
    }
}

impl CustomerLaid {
    /// Null in a job without a record.
    pub fn of(w: &Writer<'_>) -> Option<Self> {
        let laid = floor_as_laid(w.case)?;
        Some(Self {
            floor: laid.floor.system.key.clone(),
            complete: laid.is_complete(),
            coats: laid.coats.iter().map(customer_coat).collect(),
            times: times(&laid),
        })
    }
}

fn shop_coat(coat: &CoatAsLaid<'_>) -> ShopLaidCoat {
    ShopLaidCoat {
        coat: coat.coat.spec.key.clone(),
        name: coat.name().to_owned(),
        agreed: coat.agreed,
        recorded: coat.is_recorded(),
        area_m2: coat.area,
        film: coat.film.as_ref().map(LaidFilm::of),
        records: coat.records.iter().map(shop_record).collect(),
    }
}

fn customer_coat(coat: &CoatAsLaid<'_>) -> CustomerLaidCoat {
    CustomerLaidCoat {
        coat: coat.coat.spec.key.clone(),
        name: coat.name().to_owned(),
        recorded: coat.is_recorded(),
        lot_numbers: coat.batches().into_iter().map(str::to_owned).collect(),
        film: coat.film.as_ref().map(LaidFilm::of),
        records: coat.records.iter().map(customer_record).collect(),
    }
}

impl LaidFilm {
    fn of(film: &FilmAsLaid) -> Self {
        Self {
            planned_um: film.planned,
            by_volume: film.balance,
            dry_by_volume: film.balance.map(|wet| wet.dry(film.solids)),
            readings: film.readings,
            standing: film.standing(),
            agrees: film.agrees(),
        }
    }
}

fn shop_record(one: &RecordAsLaid<'_>) -> ShopLaidRecord {
    let record = one.record;
    ShopLaidRecord {
        record: customer_record(one),
        again: record.again,
        area_m2: record.area,
        used_litres: record.used,
        weight_kg: record.weight,
        lot_numbers: record.batches.clone(),
        waited_hours: one.window.and_then(|window| window.waited),
        batch_took_hours: one.pot_life.map(|pot| pot.took),
        pot_life_hours: one.pot_life.map(|pot| pot.pot_life),
        who: record.who.clone(),
        note: record.note.clone(),
    }
}

fn customer_record(one: &RecordAsLaid<'_>) -> CustomerLaidRecord {
    let (record, held) = (one.record, one.conditions);
    CustomerLaidRecord {
        start: record.start.to_string(),
        end: record.end.as_ref().map(DateTime::to_string),
        air_c: record.air,
        humidity_percent: record.humidity,
        slab_c: record.slab,
        dew_point_c: held.and_then(|held| held.dew_point),
        over_dew_point_k: held.and_then(|held| held.spread),
        slab_kept: held.map(|held| held.slab),
        humidity_kept: held.map(|held| held.humidity),
        dew_point_kept: held.map(|held| held.over_dew_point),
        window: one.window.map(|window| window.kept),
    }
}

fn times(laid: &FloorAsLaid<'_>) -> Option<LaidTimes> {
    let RealTimes { done, done_reckoned, walk, carry, drive, slab, basis } = laid.times?;
    Some(LaidTimes {
        done: done.to_string(),
        done_reckoned,
        walk: walk.to_string(),
        carry: carry.to_string(),
        drive: drive.to_string(),
        slab_c: slab,
        by: basis,
    })
}
