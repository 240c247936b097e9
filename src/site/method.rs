//! Departures from a test method, and which way each may turn a reading.
//!
//! A fault that may read low, or either way, leaves a reading that cannot prove a slab dry; it can
//! still prove it damp. A fault that can only read high is a note.

use schemars::JsonSchema;
use serde::{Serialize, Serializer};

use crate::base::names::choices;
use crate::base::quantity::*;
use crate::model::job::{Calibrated, Dish, DishTest, Probe, ProbeTest, SheetTest, TestSurface};
use crate::site::moisture::{days_between, hours_between};

choices! {
    /// A way to test a slab for moisture.
    TestMethod {
        /// Calcium chloride dishes, ASTM F1869.
        Dish = "dish",
        /// Humidity probes, ASTM F2170.
        Probe = "probe",
        /// Taped plastic sheets, ASTM D4263.
        Sheet = "sheet",
    }
}

/// Exposure of a dish, hours: ASTM F1869.
const EXPOSURE: (Hours, Hours) = (Hours::hours(60.0), Hours::hours(72.0));
/// Walking from dish to dish takes some minutes, and clocks are read roughly. Common practice, no
/// published source.
const EXPOSURE_SLACK: Hours = Hours::minutes(15.0);
/// Scale that reads to 0.1 g: ASTM F1869.
const SCALE_STEP: Mass = Mass::grams(0.1);
/// Room while the dishes stand: 75 F within 10 and 50 % within 10, held for 48 hours before, where
/// it is not kept as in normal use (ASTM F1869).
const ROOM_TEMPERATURE: (Temperature, Temperature) =
    (Temperature::fahrenheit(65.0), Temperature::fahrenheit(85.0));
const ROOM_HUMIDITY: (Humidity, Humidity) = (Humidity::percent(40.0), Humidity::percent(60.0));

/// Depth of a probe in a slab that dries from one side: 40 % of its thickness (ASTM F2170); 20 %
/// when it dries from two.
const DEPTH_ONE_SIDE: f64 = 0.4;
const DEPTH_TWO_SIDES: f64 = 0.2;
/// Wait between drilling and reading: 72 h in the 2009 and 2011 editions, 24 h since 2018.
const WAIT_OLD: Hours = Hours::hours(72.0);
const WAIT_NEW: Hours = Hours::hours(24.0);
const EDITION_WITH_NEW_WAIT: u32 = 2018;
/// A reusable probe is checked within 30 days before use (ASTM F2170).
const CALIBRATION_DAYS: u32 = 30;

/// Time for which a plastic sheet stays taped down, at the least: ASTM D4263.
const SHEET_STAYS: Hours = Hours::hours(16.0);

/// A departure from a test method. Each makes the result one that is not to the method, not no
/// result.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "fault", rename_all = "kebab-case")]
pub enum MethodFault {
    /// Fewer tests than the method asks for.
    TooFewTests {
        /// Tests that were done.
        done: u32,
        /// Tests that the method asks for.
        needed: u32,
    },
    /// A dish stood for too short or too long.
    Exposure {
        /// Its place.
        place: String,
        /// Time for which it stood, hours.
        #[serde(rename = "exposed_hours")]
        hours: Hours,
    },
    /// The spot of a dish was not ground bare and left open for 24 hours, or nobody wrote it down.
    Surface {
        /// Its place.
        place: String,
        /// The concrete under it; null when nobody wrote it down.
        #[schemars(with = "Option<String>")]
        surface: Option<TestSurface>,
    },
    /// The scale shows too coarse a step.
    CoarseScale {
        /// Its smallest step, grams.
        #[serde(rename = "step_g", serialize_with = "in_grams")]
        step: Mass,
    },
    /// Nobody wrote down the air of the room.
    RoomUnknown,
    /// The air of the room was outside the method's range.
    RoomOutside {
        /// Temperature of the room, degrees Celsius.
        #[serde(rename = "temperature_c")]
        temperature: Temperature,
        /// Relative humidity of the room, percent.
        #[serde(rename = "humidity_percent")]
        humidity: Humidity,
        /// True when the reading may be too low for it; false when it can only read high.
        #[serde(rename = "may_read_low")]
        low: bool,
    },
    /// It is not known that the room was at its conditions for 48 hours before.
    NotSettled,
    /// A probe was read too soon after its hole was drilled.
    WaitTooShort {
        /// Its place.
        place: String,
        /// Time for which the hole was left alone, hours.
        #[serde(rename = "waited_hours")]
        hours: Hours,
        /// Time that the method asks for, hours.
        #[serde(rename = "wait_needed_hours")]
        needed: Hours,
    },
    /// A probe was not at the method's depth.
    Depth {
        /// Its place.
        place: String,
        /// Its depth, millimeters.
        #[serde(rename = "depth_mm", serialize_with = "in_millimeters")]
        depth: Length,
        /// The depth that the method asks for, millimeters.
        #[serde(rename = "needed_mm", serialize_with = "in_millimeters")]
        needed: Length,
    },
    /// The slab's thickness is not known, so nobody can say whether the depth was right.
    DepthUnknown,
    /// Nobody wrote down when a probe was last checked.
    CalibrationUnknown {
        /// Its place.
        place: String,
    },
    /// A probe was last checked too long ago.
    CalibrationOld {
        /// Its place.
        place: String,
        /// Days between the check and the reading.
        days: u32,
    },
    /// A plastic sheet was lifted too soon.
    SheetTooShort {
        /// Its place.
        place: String,
        /// Time for which it lay, hours.
        #[serde(rename = "lay_hours")]
        hours: Hours,
        /// Time that the method asks for, hours.
        #[serde(rename = "lay_needed_hours")]
        needed: Hours,
    },
    /// The edges of a plastic sheet were not all sealed, or nobody wrote it down.
    SheetNotSealed {
        /// Its place.
        place: String,
    },
}

fn in_grams<S: Serializer>(mass: &Mass, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_f64(rounded(mass.as_grams()))
}

fn in_millimeters<S: Serializer>(length: &Length, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_f64(rounded(length.as_millimeters()))
}

impl MethodFault {
    /// True when the reading may be too low for it, or off either way.
    pub fn may_read_low(&self) -> bool {
        match self {
            Self::Exposure { .. }
            | Self::Surface { .. }
            | Self::RoomUnknown
            | Self::NotSettled
            | Self::WaitTooShort { .. }
            | Self::DepthUnknown
            | Self::CalibrationUnknown { .. }
            | Self::CalibrationOld { .. }
            | Self::SheetTooShort { .. }
            | Self::SheetNotSealed { .. } => true,
            Self::RoomOutside { low, .. } => *low,
            Self::Depth { depth, needed, .. } => depth < needed,
            // A coarse scale widens the band of its readings, and few tests are counted.
            Self::CoarseScale { .. } | Self::TooFewTests { .. } => false,
        }
    }
}

/// The depth at which a probe reads.
pub fn probe_depth(thickness: Length, dries_from_one_side: bool) -> Length {
    thickness * if dries_from_one_side { DEPTH_ONE_SIDE } else { DEPTH_TWO_SIDES }
}

/// The faults of one dish.
pub fn dish(dish: &Dish) -> Vec<MethodFault> {
    let mut faults = vec![];
    let hours = hours_between(dish.set, dish.lifted);
    if hours < EXPOSURE.0 - EXPOSURE_SLACK || hours > EXPOSURE.1 + EXPOSURE_SLACK {
        faults.push(MethodFault::Exposure { place: dish.place.clone(), hours });
    }
    if dish.surface != Some(TestSurface::GroundOpen) {
        faults.push(MethodFault::Surface { place: dish.place.clone(), surface: dish.surface });
    }
    faults
}

/// The faults that all dishes of one series share.
pub fn dish_series(test: &DishTest) -> Vec<MethodFault> {
    let mut faults = vec![];
    if test.scale.as_grams() > SCALE_STEP.as_grams() + 1e-9 {
        faults.push(MethodFault::CoarseScale { step: test.scale });
    }
    match test.room {
        None => faults.push(MethodFault::RoomUnknown),
        Some(room) => {
            let (temperature, humidity) = (room.temperature, room.humidity);
            // A cold slab gives off less, whatever the room is used for; a room that is as damp as
            // it always is tells of the slab in use.
            let cold = temperature < ROOM_TEMPERATURE.0;
            let damp = humidity > ROOM_HUMIDITY.1 && !test.as_used;
            let hot = temperature > ROOM_TEMPERATURE.1;
            let dry = humidity < ROOM_HUMIDITY.0 && !test.as_used;
            if cold || damp || hot || dry {
                faults.push(MethodFault::RoomOutside { temperature, humidity, low: cold || damp });
            }
        }
    }
    if test.settled != Some(true) {
        faults.push(MethodFault::NotSettled);
    }
    faults
}

/// The faults of one probe. `needed` is the depth that the method asks for, where it is known.
pub fn probe(
    probe: &Probe,
    edition: u32,
    needed: Option<Length>,
    slack: Length,
) -> Vec<MethodFault> {
    let Probe { place, depth, drilled, read, calibrated, .. } = probe;
    let place = || place.clone();
    let mut faults = vec![];
    let wait = if edition >= EDITION_WITH_NEW_WAIT { WAIT_NEW } else { WAIT_OLD };
    let hours = hours_between(*drilled, *read);
    if hours < wait {
        faults.push(MethodFault::WaitTooShort { place: place(), hours, needed: wait });
    }
    if let Some(needed) = needed
        && (*depth - needed).max(needed - *depth) > slack
    {
        faults.push(MethodFault::Depth { place: place(), depth: *depth, needed });
    }
    match calibrated {
        None => faults.push(MethodFault::CalibrationUnknown { place: place() }),
        Some(Calibrated::New) => {}
        Some(Calibrated::On(day)) => {
            let days = days_between(*day, read.date());
            if days > CALIBRATION_DAYS {
                faults.push(MethodFault::CalibrationOld { place: place(), days });
            }
        }
    }
    faults
}

/// The faults that all probes of one series share.
pub fn probe_series(test: &ProbeTest, thickness: Option<Length>) -> Vec<MethodFault> {
    let unknown = thickness.is_none().then_some(MethodFault::DepthUnknown);
    let unsettled = (test.settled != Some(true)).then_some(MethodFault::NotSettled);
    unknown.into_iter().chain(unsettled).collect()
}

/// The faults of one plastic sheet.
pub fn sheet(test: &SheetTest) -> Vec<MethodFault> {
    let mut faults = vec![];
    let hours = hours_between(test.taped, test.lifted);
    if hours < SHEET_STAYS {
        let place = test.place.clone();
        faults.push(MethodFault::SheetTooShort { place, hours, needed: SHEET_STAYS });
    }
    if test.sealed != Some(true) {
        faults.push(MethodFault::SheetNotSealed { place: test.place.clone() });
    }
    faults
}
