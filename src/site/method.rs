//! Departures from a test method, and which way each may turn a reading.
//!
//! A fault that may read low, or either way, leaves a reading that cannot prove a slab dry; it can
//! still prove it damp. A fault that can only read high is a note.

use crate::base::quantity::*;
use crate::model::job::{Calibrated, Dish, DishTest, Probe, ProbeTest, SheetTest, TestSurface};
use crate::site::moisture::{days_between, hours_between};

/// A way to test a slab for moisture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TestMethod {
    /// Calcium chloride dishes, ASTM F1869.
    Dish,
    /// Humidity probes, ASTM F2170.
    Probe,
    /// Taped plastic sheets, ASTM D4263.
    Sheet,
}

impl TestMethod {
    /// The plain word that words files know it by.
    pub fn word(self) -> &'static str {
        match self {
            Self::Dish => "dish",
            Self::Probe => "probe",
            Self::Sheet => "sheet",
        }
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

/// A departure from a test method. Each makes the result one "not to the method", not no result.
#[derive(Debug, Clone, PartialEq)]
pub enum MethodFault {
    TooFewTests {
        done: u32,
        needed: u32,
    },
    Exposure {
        place: String,
        hours: Hours,
    },
    /// The spot was not ground and left open; `None` when nobody wrote it down.
    Surface {
        place: String,
        surface: Option<TestSurface>,
    },
    CoarseScale {
        step: Mass,
    },
    RoomUnknown,
    RoomOutside {
        temperature: Temperature,
        humidity: Humidity,
        low: bool,
    },
    NotSettled,
    WaitTooShort {
        place: String,
        hours: Hours,
        needed: Hours,
    },
    Depth {
        place: String,
        depth: Length,
        needed: Length,
    },
    DepthUnknown,
    CalibrationUnknown {
        place: String,
    },
    CalibrationOld {
        place: String,
        days: u32,
    },
    SheetTooShort {
        place: String,
        hours: Hours,
        needed: Hours,
    },
    SheetNotSealed {
        place: String,
    },
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
    let mut faults = vec![];
    if thickness.is_none() {
        faults.push(MethodFault::DepthUnknown);
    }
    if test.settled != Some(true) {
        faults.push(MethodFault::NotSettled);
    }
    faults
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
