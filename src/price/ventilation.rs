//! Air for a coat that gives off a flammable vapor.
//!
//! Dilution ventilation as in the ACGIH Industrial Ventilation manual: a flow that holds a vapor
//! at a concentration is the rate at which it evolves over that concentration, times a factor for
//! poor mixing. The manual prints `403 x SG x pints a minute / molar mass`; its 403 is rounded
//! from 386.8 ft3 per pound-mole at 70 F times 1.0432 lb per pint of water (403.5). Here the mass
//! is used directly. All of it assumes mixing that no garage has: data sheet and fire code rule.

use schemars::JsonSchema;
use serde::{Serialize, Serializer};

use crate::base::quantity::*;
use crate::model::book::Resin;

/// Volume of a mole of vapor at 70 F and 1 atmosphere: 386.8 ft3/lbmol, in liters per mole.
const MOLAR_VOLUME_L: f64 = 386.8 * 28.316846592 / 453.59237;

/// Ventilation is adequate while vapor stays at or below a quarter of the lower explosive limit:
/// 29 CFR 1910.106(a)(31).
pub const PART_OF_LEL: f64 = 0.25;

/// Factor for poor mixing, from 1 (perfect) to 10; 3 to 10 is usual (ACGIH manual, from memory).
pub const POOR_MIXING: f64 = 5.0;

/// The lower explosive limit falls to 0.7 of its value above 250 F (ACGIH manual, from memory).
const HOT: Temperature = Temperature::fahrenheit(250.0);
const HOT_FACTOR: f64 = 0.7;

/// Vapor that a mass of solvent makes when it has evaporated.
pub fn vapor(solvent: Mass, molar_mass: MolarMass) -> Room {
    let moles = solvent.as_grams() / molar_mass.as_grams_per_mole();
    Room::cubic_meters(moles * MOLAR_VOLUME_L / 1000.0)
}

/// Airflow that holds a vapor at a part of its lower explosive limit. `room` is the temperature
/// of the air: hot air explodes sooner.
pub fn airflow_for_fire(
    vapor: Room,
    over: Hours,
    lel: Share,
    part: f64,
    room: Temperature,
) -> Airflow {
    let hot = if room > HOT { HOT_FACTOR } else { 1.0 };
    flow(vapor, over, lel.as_of_one() * part * hot)
}

/// Airflow that holds a vapor at an exposure limit, with a factor for poor mixing.
pub fn airflow_for_health(vapor: Room, over: Hours, limit: Ppm, mixing: f64) -> Airflow {
    flow(vapor, over, limit.as_parts_per_million() / 1e6) * mixing
}

fn flow(vapor: Room, over: Hours, concentration: f64) -> Airflow {
    Airflow::cubic_meters_per_hour(vapor.as_cubic_meters() / over.as_hours() / concentration)
}

/// Time until clean air has brought a concentration from `from` to `to` (any one unit):
/// `t = -(V / Q') ln(to / from)`, with `Q' = Q / mixing`.
pub fn purge_time(room: Room, flow: Airflow, mixing: f64, from: f64, to: f64) -> Hours {
    let effective = flow.as_cubic_meters_per_hour() / mixing;
    Hours::hours(room.as_cubic_meters() / effective * (from / to).ln())
}

/// Air for one coat, while it is spread.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CoatAir {
    /// The exposure limit that `health` and `clears` are for.
    #[serde(skip)]
    pub exposure: Ppm,
    /// Whose limit that is, and of which year, where the book says so.
    #[serde(skip)]
    pub exposure_source: Option<String>,
    /// All the vapor that the coat gives off, cubic meters.
    #[serde(rename = "vapor_m3")]
    pub vapor: Room,
    /// Flow of fresh air that holds the vapor at a quarter of its lower explosive limit, cubic
    /// meters an hour.
    #[serde(rename = "fire_m3_per_hour")]
    pub fire: Airflow,
    /// Flow of fresh air that holds the vapor at its exposure limit, cubic meters an hour.
    #[serde(rename = "health_m3_per_hour")]
    pub health: Airflow,
    /// Number of the shop's fans that reach each flow; null when the shop has not said what one moves.
    pub fans: Option<Fans>,
    /// Least time to clear the room from a quarter of the lower explosive limit to the exposure
    /// limit, minutes; null when the height of the room is not known.
    // With the airflow against fire, that of its fans where known. The film goes on giving off vapor while it
    // dries, so it is never a promise.
    #[serde(rename = "clears_minutes", serialize_with = "in_minutes")]
    pub clears: Option<Hours>,
    /// Volume of the coat that brings the closed garage to a quarter of the lower explosive limit,
    /// liters; null when the height of the room is not known.
    #[serde(rename = "closed_room_litres")]
    pub closed_room: Option<Volume>,
}

fn in_minutes<S: Serializer>(time: &Option<Hours>, serializer: S) -> Result<S::Ok, S::Error> {
    time.map(|time| rounded(time.as_minutes())).serialize(serializer)
}

/// Whole fans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(rename = "FanCount")]
pub struct Fans {
    /// For the flow against fire.
    pub fire: u32,
    /// For the flow at the exposure limit.
    pub health: u32,
}

/// Air for a solvent-borne coat that is spread over some hours. `None` without a solvent.
pub fn coat_air(
    resin: &Resin,
    used: Volume,
    over: Hours,
    floor: Area,
    height: Option<Length>,
    fan: Option<Airflow>,
) -> Option<CoatAir> {
    let solvent = resin.solvent.given()?;
    let released = Mass::grams(solvent.content.as_grams_per_liter() * used.as_liters());
    let vapor_all = vapor(released, solvent.molar_mass);
    let room = Temperature::fahrenheit(70.0);
    let air =
        height.map(|height| Room::cubic_meters(floor.as_square_meters() * height.as_meters()));
    let most = solvent.lel.as_of_one() * PART_OF_LEL;
    let closed_room =
        air.map(|air| used * (air.as_cubic_meters() * most / vapor_all.as_cubic_meters()));
    // A film of next to nothing gives off next to nothing: there is nothing to say of it.
    let closed_room = closed_room.filter(|volume| volume.as_liters().is_finite());
    let fire = airflow_for_fire(vapor_all, over, solvent.lel, PART_OF_LEL, room);
    let health = airflow_for_health(vapor_all, over, solvent.exposure, POOR_MIXING);
    let fans = fan.map(|fan| Fans { fire: whole_up(fire / fan), health: whole_up(health / fan) });
    let moved = match (fan, fans) {
        (Some(fan), Some(fans)) => fan * f64::from(fans.fire),
        _ => fire,
    };
    let limit = solvent.exposure.as_parts_per_million() / 1e6;
    let clears = air.map(|air| {
        if limit < most { purge_time(air, moved, POOR_MIXING, most, limit) } else { Hours::ZERO }
    });
    let clears = clears.filter(|time| time.as_hours().is_finite());
    let (exposure, exposure_source) = (solvent.exposure, solvent.exposure_source.clone());
    Some(CoatAir {
        exposure,
        exposure_source,
        vapor: vapor_all,
        fire,
        health,
        fans,
        clears,
        closed_room,
    })
}
