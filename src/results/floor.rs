//! Facts of a floor that shop and customer may both know: what it is, its prices, its days, its air.
//! Nothing in here costs the shop anything.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::Key;
use crate::base::quantity::Thickness;
use crate::papers::proposal::writer::Writer;
use crate::price::case::{FloorOption, coat_airs};
use crate::price::schedule::PlanBasis;
use crate::price::ventilation;
use crate::results::standing::MoistureRoom;
use crate::results::values::ClockMoment;

/// A floor, and how it stands.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FloorFacts {
    /// The floor's key, as the job offers it.
    pub floor: Key,
    /// Its name on the pages.
    pub name: String,
    /// True when it may be signed for.
    pub offered: bool,
    /// True when it is priced, and waits for a test or for its maker's word.
    pub waits: bool,
    /// True for the one floor that is recommended.
    pub recommended: bool,
    /// The highest readings against its moisture limits.
    pub moisture: MoistureRoom,
    /// The coat on the concrete is a moisture-vapor barrier.
    pub barrier: bool,
    /// Daylight can reach a coat that turns amber.
    pub turns_amber: bool,
    /// Dry film of all liquid coats together, micrometers.
    pub resin_film_um: Thickness,
    /// Such a floor usually serves at least this long, years.
    pub life_from_years: u32,
    /// Such a floor usually serves at most this long, years.
    pub life_to_years: u32,
    /// Air for its coats with a flammable solvent. Data sheets, the fire code and licensed practice
    /// rule; these figures assume mixing that no garage has.
    pub air: Vec<CoatAir>,
}

impl FloorFacts {
    pub fn of(w: &Writer<'_>, option: &FloorOption<'_>) -> Self {
        let floor = &option.floor;
        let (life_from_years, life_to_years) = floor.system.life_years;
        Self {
            floor: option.key().clone(),
            name: w.name(option.key()),
            offered: w.recommendation.offers(option.key()),
            waits: w.recommendation.waits(option.key()),
            recommended: w.recommendation.recommends(option.key()),
            moisture: MoistureRoom::of(&option.moisture, &w.case.site.moisture),
            barrier: floor.has_barrier(),
            turns_amber: floor.shows_ambering(),
            resin_film_um: floor.resin_film(),
            life_from_years,
            life_to_years,
            air: CoatAir::all(w, option),
        }
    }
}

// ------------------------------------------------------------------------------------ days

/// The days that a floor takes, and when it can be used.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Days {
    /// Days on site.
    pub days: u32,
    /// First moment at which one may walk on it.
    pub walk: ClockMoment,
    /// First moment at which things may be carried in.
    pub carry: ClockMoment,
    /// First moment at which a car may drive in.
    pub drive: ClockMoment,
    /// The slab temperature that these times are for.
    pub basis: PlanBasis,
}

impl Days {
    pub fn of(w: &Writer<'_>, option: &FloorOption<'_>) -> Self {
        let schedule = &option.estimate.schedule;
        Self {
            days: schedule.days,
            walk: ClockMoment::of(w, schedule.walk),
            carry: ClockMoment::of(w, schedule.carry),
            drive: ClockMoment::of(w, schedule.drive),
            basis: schedule.basis,
        }
    }
}

// ------------------------------------------------------------------------------------- air

/// Air for one coat with a flammable solvent.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CoatAir {
    /// The coat's key in its floor.
    pub coat: Key,
    #[serde(flatten)]
    pub air: ventilation::CoatAir,
}

impl CoatAir {
    fn all(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Self> {
        coat_airs(w.case, option).into_iter().map(|(coat, air)| Self { coat, air }).collect()
    }
}
