//! Moisture of the slab: calcium chloride dishes (ASTM F1869) and humidity probes (ASTM F2170),
//! each with the conditions that its own method sets.
//!
//! The two methods measure different things. There is no published conversion between them, so
//! nothing here turns one into the other. What was not measured is absent, never a pass.

use jiff::civil::{Date, DateTime};

use crate::job::{Dish, DishTest, Job, Probe, ProbeTest};
use crate::quantity::*;

/// `1000 ft2 x 24 h` over grams in a pound: pounds per 1000 ft2 in 24 hours from a gain in grams,
/// an area in ft2 and hours. ASTM F1869, section on calculation, prints 52.91.
const MVER_FACTOR: f64 = 1000.0 * 24.0 / 453.59237;

/// Both methods: three tests for the first 1000 ft2, one more for each further 1000 ft2 or part
/// of it (ASTM F1869 and F2170; repeated in secondary sources).
const TESTS_FOR_FIRST: u32 = 3;
const AREA_PER_TEST: Area = Area::square_feet(1000.0);

/// Exposure of a dish, hours: ASTM F1869.
const EXPOSURE: (Hours, Hours) = (Hours::hours(60.0), Hours::hours(72.0));
/// Scale that reads to 0.1 g: ASTM F1869.
const SCALE_STEP: Mass = Mass::grams(0.1);
/// Room while the dishes stand, when it is not at its own service conditions: 75 F within 10 and
/// 50 % within 10, held for 48 hours before (ASTM F1869).
const ROOM_TEMPERATURE: (Temperature, Temperature) =
    (Temperature::fahrenheit(65.0), Temperature::fahrenheit(85.0));
const ROOM_HUMIDITY: (Humidity, Humidity) = (Humidity::percent(40.0), Humidity::percent(60.0));

/// Depth of a probe in a slab that dries from one side: 40 % of its thickness (ASTM F2170); 20 %
/// when it dries from two. A hole is drilled to within an eighth of an inch or so (from memory).
const DEPTH_ONE_SIDE: f64 = 0.4;
const DEPTH_TWO_SIDES: f64 = 0.2;
const DEPTH_SLACK: Length = Length::inches(0.25);
/// Wait between drilling and reading: 72 h in the 2009 and 2011 editions, 24 h since 2018.
const WAIT_OLD: Hours = Hours::hours(72.0);
const WAIT_NEW: Hours = Hours::hours(24.0);
const EDITION_WITH_NEW_WAIT: u32 = 2018;
/// A reusable probe is checked within 30 days before use (ASTM F2170).
const CALIBRATION_DAYS: i32 = 30;
/// Accuracy of a probe, percent RH either way (from memory: the class of instrument).
const PROBE_DOUBT: Humidity = Humidity::percent(2.0);

/// Results of both methods; `None` where a method was not used.
#[derive(Debug, Clone, Default)]
pub struct MoistureResult {
    pub mver: Option<Series<Mver>>,
    pub rh: Option<Series<Humidity>>,
}

impl MoistureResult {
    pub fn known(&self) -> bool {
        self.mver.is_some() || self.rh.is_some()
    }
}

/// The readings of one method.
#[derive(Debug, Clone)]
pub struct Series<Q> {
    pub readings: Vec<MoistureReading<Q>>,
    /// Position of the highest reading, by which everything is decided.
    pub highest: usize,
    /// Tests that the method asks for on this floor.
    pub needed: u32,
    /// The day of the last reading.
    pub date: Date,
    /// What was not done as the method says.
    pub faults: Vec<MethodFault>,
    pub instrument: Option<String>,
}

impl<Q: Copy> Series<Q> {
    pub fn highest(&self) -> &MoistureReading<Q> {
        &self.readings[self.highest]
    }
}

/// One reading with the band in which the true value may lie.
#[derive(Debug, Clone)]
pub struct MoistureReading<Q> {
    pub place: String,
    pub value: Q,
    /// Doubt either way, from the scale or the probe.
    pub doubt: Q,
    pub from: DateTime,
    pub to: DateTime,
}

/// A departure from a test method. Each makes the result one "not to the method", not no result.
#[derive(Debug, Clone, PartialEq)]
pub enum MethodFault {
    TooFewTests { done: u32, needed: u32 },
    Exposure { place: String, hours: Hours },
    CoarseScale { step: Mass },
    RoomUnknown,
    RoomOutside { temperature: Temperature, humidity: Humidity },
    NotSettled,
    WaitTooShort { place: String, hours: Hours, needed: Hours },
    Depth { place: String, depth: Length, needed: Length },
    DepthUnknown,
    CalibrationUnknown { place: String },
    CalibrationOld { place: String, days: u32 },
}

/// Works out the results of a job's tests.
pub fn result(job: &Job, floor: Area) -> MoistureResult {
    let needed = tests_needed(floor);
    MoistureResult {
        mver: job.moisture.dishes.as_ref().and_then(|test| dishes(test, needed)),
        rh: job
            .moisture
            .probes
            .as_ref()
            .and_then(|test| probes(test, job.slab.thickness, job.slab.on_ground, needed)),
    }
}

/// How many tests either method asks for on a floor.
pub fn tests_needed(floor: Area) -> u32 {
    TESTS_FOR_FIRST + whole_up(floor / AREA_PER_TEST).saturating_sub(1)
}

/// Moisture vapour emission rate of one dish: `52.91 x gain / (area x hours)`.
pub fn mver(gain: Mass, exposed: Area, exposure: Hours) -> Mver {
    Mver::pounds(MVER_FACTOR * gain.as_grams() / (exposed.as_square_feet() * exposure.as_hours()))
}

/// The depth at which a probe reads.
pub fn probe_depth(thickness: Length, dries_from_one_side: bool) -> Length {
    thickness * if dries_from_one_side { DEPTH_ONE_SIDE } else { DEPTH_TWO_SIDES }
}

/// The time between two moments on the clock of a test.
pub fn hours_between(from: DateTime, to: DateTime) -> Hours {
    Hours::minutes(
        (to - from)
            .total((jiff::Unit::Minute, jiff::SpanRelativeTo::days_are_24_hours()))
            .unwrap_or(0.0),
    )
}

/// How many days lie between two dates, never below zero.
pub fn days_between(from: Date, to: Date) -> u32 {
    let days = (to - from).total((jiff::Unit::Day, jiff::SpanRelativeTo::days_are_24_hours()));
    days.unwrap_or(0.0).max(0.0) as u32
}

fn dishes(test: &DishTest, needed: u32) -> Option<Series<Mver>> {
    // Two weighings, each doubtful by one step of the scale, add as independent errors do.
    let doubt_in_gain = test.scale * std::f64::consts::SQRT_2;
    let readings: Vec<MoistureReading<Mver>> = test
        .dishes
        .iter()
        .map(|dish| {
            let exposure = hours_between(dish.set, dish.lifted);
            MoistureReading {
                place: dish.place.clone(),
                value: mver(dish.after - dish.before, dish.exposed, exposure),
                doubt: mver(doubt_in_gain, dish.exposed, exposure),
                from: dish.set,
                to: dish.lifted,
            }
        })
        .collect();
    series(readings, needed, dish_faults(test), test.instrument.clone())
}

fn dish_faults(test: &DishTest) -> Vec<MethodFault> {
    let mut faults = vec![];
    for Dish { place, set, lifted, .. } in &test.dishes {
        let hours = hours_between(*set, *lifted);
        if hours < EXPOSURE.0 || hours > EXPOSURE.1 {
            faults.push(MethodFault::Exposure { place: place.clone(), hours });
        }
    }
    if test.scale.as_grams() > SCALE_STEP.as_grams() + 1e-9 {
        faults.push(MethodFault::CoarseScale { step: test.scale });
    }
    match test.room {
        None => faults.push(MethodFault::RoomUnknown),
        Some(room) => {
            let warm =
                room.temperature >= ROOM_TEMPERATURE.0 && room.temperature <= ROOM_TEMPERATURE.1;
            let damp = room.humidity >= ROOM_HUMIDITY.0 && room.humidity <= ROOM_HUMIDITY.1;
            if !warm || !damp {
                faults.push(MethodFault::RoomOutside {
                    temperature: room.temperature,
                    humidity: room.humidity,
                });
            }
        }
    }
    if test.settled != Some(true) {
        faults.push(MethodFault::NotSettled);
    }
    faults
}

fn probes(
    test: &ProbeTest,
    thickness: Option<Length>,
    one_side: bool,
    needed: u32,
) -> Option<Series<Humidity>> {
    let readings: Vec<MoistureReading<Humidity>> = test
        .probes
        .iter()
        .map(|probe| MoistureReading {
            place: probe.place.clone(),
            value: probe.reading,
            doubt: PROBE_DOUBT,
            from: probe.drilled,
            to: probe.read,
        })
        .collect();
    series(readings, needed, probe_faults(test, thickness, one_side), test.instrument.clone())
}

fn probe_faults(test: &ProbeTest, thickness: Option<Length>, one_side: bool) -> Vec<MethodFault> {
    let mut faults = vec![];
    let wait = if test.edition >= EDITION_WITH_NEW_WAIT { WAIT_NEW } else { WAIT_OLD };
    for Probe { place, depth, drilled, read, calibrated, .. } in &test.probes {
        let waited = hours_between(*drilled, *read);
        if waited < wait {
            faults.push(MethodFault::WaitTooShort {
                place: place.clone(),
                hours: waited,
                needed: wait,
            });
        }
        if let Some(thickness) = thickness {
            let needed = probe_depth(thickness, one_side);
            let off = (*depth - needed).max(needed - *depth);
            if off > DEPTH_SLACK {
                faults.push(MethodFault::Depth { place: place.clone(), depth: *depth, needed });
            }
        }
        match calibrated {
            None => faults.push(MethodFault::CalibrationUnknown { place: place.clone() }),
            Some(day) => {
                let days = days_between(*day, read.date());
                if days as i32 > CALIBRATION_DAYS {
                    faults.push(MethodFault::CalibrationOld { place: place.clone(), days });
                }
            }
        }
    }
    if thickness.is_none() {
        faults.push(MethodFault::DepthUnknown);
    }
    if test.settled != Some(true) {
        faults.push(MethodFault::NotSettled);
    }
    faults
}

/// Sums readings up; no readings, no result.
fn series<Q: Copy + PartialOrd>(
    readings: Vec<MoistureReading<Q>>,
    needed: u32,
    mut faults: Vec<MethodFault>,
    instrument: Option<String>,
) -> Option<Series<Q>> {
    let mut highest = 0;
    for (at, reading) in readings.iter().enumerate() {
        if reading.value > readings[highest].value {
            highest = at;
        }
    }
    let date = readings.iter().map(|reading| reading.to.date()).max()?;
    let done = readings.len() as u32;
    if done < needed {
        faults.insert(0, MethodFault::TooFewTests { done, needed });
    }
    Some(Series { readings, highest, needed, date, faults, instrument })
}

/// How the highest reading stands to a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Below the limit by more than the doubt of the reading.
    Clear,
    /// Nearer to the limit than the reading can tell.
    Close,
    /// Above the limit by more than the doubt of the reading.
    Over,
    /// No reading, or no limit for the method that was used.
    Unknown,
}

impl Standing {
    /// The plain word that layouts and templates know it by.
    pub fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Close => "close",
            Self::Over => "over",
            Self::Unknown => "unknown",
        }
    }
}

/// A limit, the reading against it, and the room that is left (negative when it is over).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Headroom<Q> {
    pub limit: Q,
    pub reading: Q,
    pub doubt: Q,
    pub standing: Standing,
}

/// Holds the highest reading against a limit.
pub fn headroom<Q>(series: &Series<Q>, limit: Q) -> Headroom<Q>
where
    Q: Copy + PartialOrd + std::ops::Add<Output = Q> + std::ops::Sub<Output = Q>,
{
    let MoistureReading { value: reading, doubt, .. } = *series.highest();
    let standing = if reading > limit + doubt {
        Standing::Over
    } else if reading + doubt >= limit {
        // A reading at the limit is not clear of it.
        Standing::Close
    } else {
        Standing::Clear
    };
    Headroom { limit, reading, doubt, standing }
}
