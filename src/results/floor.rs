//! What shop and customer may both know of a floor: what it is, its prices, its days, its air.
//! Nothing in here costs the shop anything.

use schemars::JsonSchema;
use serde::Serialize;

use crate::papers::proposal::writer::Writer;
use crate::price::case::{self, FloorOption, coat_airs};
use crate::price::floor::FloorCoat;
use crate::results::standing::MoistureRoom;
use crate::results::values::{Moment, Money, rounded};

/// What a floor is, and how it stands.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FloorFacts {
    /// The floor's key, as the job offers it.
    pub floor: String,
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
    pub resin_film_um: f64,
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
            floor: option.key().0.clone(),
            name: w.name(option.key()),
            offered: w.recommendation.offers(option.key()),
            waits: w.recommendation.waits(option.key()),
            recommended: w.recommendation.recommends(option.key()),
            moisture: MoistureRoom::of(&option.moisture, &w.case.site.moisture),
            barrier: floor.has_barrier(),
            turns_amber: floor.shows_ambering(),
            resin_film_um: rounded(floor.resin_film().as_micrometers()),
            life_from_years,
            life_to_years,
            air: CoatAir::all(w, option),
        }
    }
}

/// A coat's name on the pages.
pub fn coat_name(w: &Writer<'_>, option: &FloorOption<'_>, coat: &FloorCoat<'_>) -> String {
    let words = w.system(&option.floor);
    words.coats.get(&coat.spec.key.0).map_or_else(|| coat.product.name.clone(), |c| c.name.clone())
}

// ---------------------------------------------------------------------------------- prices

/// The prices that a customer may see. Floor, extras and tax sum to the total.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Quote {
    /// The floor without extras, before tax.
    pub floor_price: Money,
    /// Extras that are included.
    pub extras: Vec<Extra>,
    /// Tax on the price; zero where the customer pays none.
    pub tax: Money,
    /// What the customer pays in all.
    pub total: Money,
    /// Extras that may still be added.
    pub could_add: Vec<CouldAdd>,
}

/// An extra that the price includes.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Extra {
    /// The extra's key.
    pub extra: String,
    /// What it adds to the price, before tax.
    pub price: Money,
}

/// An extra that may be added.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CouldAdd {
    /// The extra's key.
    pub extra: String,
    /// What it adds to the total, tax included.
    pub adds: Money,
    /// Days on site with it.
    pub days: u32,
    /// It brings a flammable solvent; null where the price book does not say.
    pub flammable: Option<bool>,
    /// It brings isocyanates.
    pub isocyanate: bool,
}

impl From<&case::Quote> for Quote {
    fn from(quote: &case::Quote) -> Self {
        let extra = |(key, price): &(crate::base::names::Key, crate::base::money::Cents)| Extra {
            extra: key.0.clone(),
            price: (*price).into(),
        };
        let could_add = |e: &case::CouldAdd| CouldAdd {
            extra: e.extra.0.clone(),
            adds: e.adds.into(),
            days: e.days,
            flammable: e.flammable,
            isocyanate: e.isocyanate,
        };
        Self {
            floor_price: quote.floor.into(),
            extras: quote.extras.iter().map(extra).collect(),
            tax: quote.tax.into(),
            total: quote.total.into(),
            could_add: quote.could_add.iter().map(could_add).collect(),
        }
    }
}

// ------------------------------------------------------------------------------------ days

/// How many days a floor takes and when it can be used.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Days {
    /// Days on site.
    pub days: u32,
    /// When one may walk on it.
    pub walk: Moment,
    /// When things may be carried in.
    pub carry: Moment,
    /// When a car may drive in.
    pub drive: Moment,
    /// At what slab temperature these times were taken.
    pub basis: Basis,
}

/// At what slab temperature times were taken.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(tag = "slab", rename_all = "kebab-case")]
pub enum Basis {
    /// At the slab as measured.
    Measured {
        /// Its temperature, degrees Celsius.
        slab_c: f64,
        /// How the times were found.
        by: TimesBy,
    },
    /// No slab temperature was measured: reckoned at a usual one.
    Assumed {
        /// That temperature, degrees Celsius.
        slab_c: f64,
    },
    /// The slab as measured is beyond what a coat's data sheet covers: reckoned at the nearest
    /// temperature that it does cover.
    Nearest,
}

/// How times were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TimesBy {
    /// From the data sheet's points, or between two of them.
    Sheet,
    /// Estimated beyond the points by a rule of thumb.
    Rule,
}

impl Days {
    pub fn of(w: &Writer<'_>, option: &FloorOption<'_>) -> Self {
        let schedule = &option.estimate.schedule;
        Self {
            days: schedule.days,
            walk: Moment::of(w, schedule.walk),
            carry: Moment::of(w, schedule.carry),
            drive: Moment::of(w, schedule.drive),
            basis: schedule.basis.into(),
        }
    }
}

impl From<crate::price::schedule::PlanBasis> for Basis {
    fn from(basis: crate::price::schedule::PlanBasis) -> Self {
        use crate::price::schedule::PlanBasis;
        match basis {
            PlanBasis::Measured { slab, by } => {
                Self::Measured { slab_c: rounded(slab.as_celsius()), by: by.into() }
            }
            PlanBasis::Assumed { slab } => Self::Assumed { slab_c: rounded(slab.as_celsius()) },
            PlanBasis::Nearest => Self::Nearest,
        }
    }
}

impl From<crate::price::cure::CureBasis> for TimesBy {
    fn from(basis: crate::price::cure::CureBasis) -> Self {
        match basis {
            crate::price::cure::CureBasis::Sheet => Self::Sheet,
            crate::price::cure::CureBasis::Rule => Self::Rule,
        }
    }
}

// ------------------------------------------------------------------------------------- air

/// Air for one coat with a flammable solvent.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CoatAir {
    /// The coat's key in its floor.
    pub coat: String,
    /// All the vapor that the coat gives off, cubic meters.
    pub vapor_m3: f64,
    /// Flow of fresh air that holds the vapor at a quarter of its lower explosive limit, cubic
    /// meters an hour.
    pub fire_m3_per_hour: f64,
    /// Flow of fresh air that holds the vapor at its exposure limit, cubic meters an hour.
    pub health_m3_per_hour: f64,
    /// How many of the shop's fans reach each flow; null when the shop has not said what one moves.
    pub fans: Option<FanCount>,
    /// Least time to clear the room from a quarter of the lower explosive limit to the exposure
    /// limit, minutes; null when the height of the room is not known.
    pub clears_minutes: Option<f64>,
    /// How much of the coat brings the closed garage to a quarter of the lower explosive limit,
    /// liters; null when the height of the room is not known.
    pub closed_room_litres: Option<f64>,
}

/// Whole fans.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct FanCount {
    /// For the flow against fire.
    pub fire: u32,
    /// For the flow at the exposure limit.
    pub health: u32,
}

impl CoatAir {
    fn all(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Self> {
        let airs = coat_airs(w.case, option).into_iter();
        airs.map(|(coat, air)| Self {
            coat: coat.0,
            vapor_m3: rounded(air.vapor.as_cubic_meters()),
            fire_m3_per_hour: rounded(air.fire.as_cubic_meters_per_hour()),
            health_m3_per_hour: rounded(air.health.as_cubic_meters_per_hour()),
            fans: air.fans.map(|fans| FanCount { fire: fans.fire, health: fans.health }),
            clears_minutes: air.clears.map(|time| rounded(time.as_minutes())),
            closed_room_litres: air.closed_room.map(|volume| rounded(volume.as_liters())),
        })
        .collect()
    }
}
