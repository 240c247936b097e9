//! Moisture tests of the slab in the results: each reading with the part that it plays, and the
//! departures from its method.

use jiff::civil::DateTime;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::quantity::{Humidity, Mver};
use crate::model::job::SheetFound;
use crate::papers::proposal::writer::Writer;
use crate::results::values::{Day, rounded};
use crate::site::method;
use crate::site::moisture::{self, MoistureReading, ReadingRole, Series};

/// Results of the moisture tests. The two methods measure different things and are never
/// converted into each other; a method that was not used is null, never a pass.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Moisture {
    /// How many tests either method asks for on a floor of this size.
    pub tests_needed: u32,
    /// Calcium chloride dishes (ASTM F1869).
    pub dishes: Option<Dishes>,
    /// Humidity probes in drilled holes (ASTM F2170).
    pub probes: Option<Probes>,
    /// Plastic sheets taped to the slab (ASTM D4263).
    pub sheets: Option<Sheets>,
}

impl Moisture {
    pub fn of(w: &Writer<'_>) -> Self {
        let site = &w.case.site;
        Self {
            tests_needed: moisture::tests_needed(site.take_off.floor),
            dishes: site.moisture.mver.as_ref().map(Dishes::from),
            probes: site.moisture.rh.as_ref().map(Probes::from),
            sheets: site.moisture.sheets.as_ref().map(Sheets::from),
        }
    }
}

/// The dishes of a job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Dishes {
    /// Every reading, in the order in which the job has them.
    pub readings: Vec<DishReading>,
    /// The highest reading that counts, by which everything is decided.
    pub highest: DishReading,
    /// The day of the last reading that counts.
    pub date: Day,
    /// The instrument, as typed; null when the job does not name it.
    pub instrument: Option<String>,
    /// What was not done as the method says.
    pub faults: Vec<MethodFault>,
}

/// One dish.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DishReading {
    /// Where it stood, as typed.
    pub place: String,
    /// Moisture vapor emission rate, pounds per 1000 square feet in 24 hours.
    pub rate_lb_per_1000ft2_24h: f64,
    /// Doubt either way from the step of the scale, in the same unit.
    pub doubt_lb_per_1000ft2_24h: f64,
    /// When it was set: local day and time.
    pub from: String,
    /// When it was lifted: local day and time.
    pub to: String,
    /// The part that it plays among all readings of its place.
    pub part: ReadingPart,
}

/// The probes of a job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Probes {
    /// Every reading, in the order in which the job has them.
    pub readings: Vec<ProbeReading>,
    /// The highest reading that counts, by which everything is decided.
    pub highest: ProbeReading,
    /// The day of the last reading that counts.
    pub date: Day,
    /// The instrument, as typed; null when the job does not name it.
    pub instrument: Option<String>,
    /// What was not done as the method says.
    pub faults: Vec<MethodFault>,
}

/// One probe.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ProbeReading {
    /// Where it was, as typed.
    pub place: String,
    /// Relative humidity inside the slab, percent.
    pub humidity_percent: f64,
    /// Doubt either way from the accuracy of the probe, percent of relative humidity.
    pub doubt_percent: f64,
    /// When the hole was drilled: local day and time.
    pub from: String,
    /// When it was read: local day and time.
    pub to: String,
    /// The part that it plays among all readings of its place.
    pub part: ReadingPart,
}

/// Plastic sheets of a job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Sheets {
    /// Every sheet, in the order in which the job has them.
    pub readings: Vec<SheetReading>,
    /// How many sheets a floor of this size needs.
    pub needed: u32,
    /// The day of the last reading that counts.
    pub date: Day,
    /// What was not done as the method says.
    pub faults: Vec<MethodFault>,
}

/// One plastic sheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SheetReading {
    /// Where it lay, as typed.
    pub place: String,
    /// True when its underside or the concrete below was damp.
    pub damp: bool,
    /// When it was taped down: local day and time.
    pub from: String,
    /// When it was lifted: local day and time.
    pub to: String,
    /// The part that it plays among all readings of its place.
    pub part: ReadingPart,
}

/// The part that a reading plays among all readings of its place by its method.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ReadingPart {
    /// The latest good reading: it counts.
    Latest,
    /// Not answered by a later good reading: it counts, and cannot prove the place dry.
    Unanswered,
    /// A later good reading speaks for its place.
    Answered,
    /// Void, and its place was not read again.
    Void,
    /// Void, and a later good reading speaks for its place.
    VoidReadAgain,
}

impl From<ReadingRole> for ReadingPart {
    fn from(part: ReadingRole) -> Self {
        match part {
            ReadingRole::Latest => Self::Latest,
            ReadingRole::Unanswered => Self::Unanswered,
            ReadingRole::Answered(_) => Self::Answered,
            ReadingRole::Void => Self::Void,
            ReadingRole::VoidReadAgain(_) => Self::VoidReadAgain,
        }
    }
}

impl From<&Series<SheetFound>> for Sheets {
    fn from(series: &Series<SheetFound>) -> Self {
        let reading = |r: &MoistureReading<SheetFound>| SheetReading {
            place: r.place.clone(),
            damp: r.value == SheetFound::Damp,
            from: stamp(r.from),
            to: stamp(r.to),
            part: r.part.into(),
        };
        Self {
            readings: series.readings.iter().map(reading).collect(),
            needed: series.needed,
            date: series.date.into(),
            faults: series.faults.iter().map(MethodFault::from).collect(),
        }
    }
}

impl From<&Series<Mver>> for Dishes {
    fn from(series: &Series<Mver>) -> Self {
        let reading = |r: &MoistureReading<Mver>| DishReading {
            place: r.place.clone(),
            rate_lb_per_1000ft2_24h: rounded(r.value.as_pounds()),
            doubt_lb_per_1000ft2_24h: rounded(r.doubt.as_pounds()),
            from: stamp(r.from),
            to: stamp(r.to),
            part: r.part.into(),
        };
        Self {
            readings: series.readings.iter().map(reading).collect(),
            highest: reading(series.highest()),
            date: series.date.into(),
            instrument: series.instrument.clone(),
            faults: series.faults.iter().map(MethodFault::from).collect(),
        }
    }
}

impl From<&Series<Humidity>> for Probes {
    fn from(series: &Series<Humidity>) -> Self {
        let reading = |r: &MoistureReading<Humidity>| ProbeReading {
            place: r.place.clone(),
            humidity_percent: rounded(r.value.as_percent()),
            doubt_percent: rounded(r.doubt.as_percent()),
            from: stamp(r.from),
            to: stamp(r.to),
            part: r.part.into(),
        };
        Self {
            readings: series.readings.iter().map(reading).collect(),
            highest: reading(series.highest()),
            date: series.date.into(),
            instrument: series.instrument.clone(),
            faults: series.faults.iter().map(MethodFault::from).collect(),
        }
    }
}

fn stamp(moment: DateTime) -> String {
    moment.to_string()
}

/// A departure from a test method. Each makes the result one that is not to the method, not no
/// result.
#[derive(Debug, Clone, Serialize, JsonSchema)]
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
        /// Where it stood.
        place: String,
        /// How long it stood, hours.
        exposed_hours: f64,
    },
    /// The spot of a dish was not ground bare and left open for 24 hours, or nobody wrote it down.
    Surface {
        /// Where it stood.
        place: String,
        /// The concrete under it; null when nobody wrote it down.
        surface: Option<&'static str>,
    },
    /// The scale shows too coarse a step.
    CoarseScale {
        /// Its smallest step, grams.
        step_g: f64,
    },
    /// Nobody wrote down the air of the room.
    RoomUnknown,
    /// The air of the room was outside the method's range.
    RoomOutside {
        /// Temperature of the room, degrees Celsius.
        temperature_c: f64,
        /// Relative humidity of the room, percent.
        humidity_percent: f64,
        /// True when the reading may be too low for it; false when it can only read high.
        may_read_low: bool,
    },
    /// It is not known that the room was at its conditions for 48 hours before.
    NotSettled,
    /// A probe was read too soon after its hole was drilled.
    WaitTooShort {
        /// Where it was.
        place: String,
        /// How long the hole was left alone, hours.
        waited_hours: f64,
        /// How long it should be, hours.
        wait_needed_hours: f64,
    },
    /// A probe was not at the method's depth.
    Depth {
        /// Where it was.
        place: String,
        /// Its depth, millimeters.
        depth_mm: f64,
        /// The depth that the method asks for, millimeters.
        needed_mm: f64,
    },
    /// The slab's thickness is not known, so nobody can say whether the depth was right.
    DepthUnknown,
    /// Nobody wrote down when a probe was last checked.
    CalibrationUnknown {
        /// Where it was.
        place: String,
    },
    /// A probe was last checked too long ago.
    CalibrationOld {
        /// Where it was.
        place: String,
        /// Days between the check and the reading.
        days: u32,
    },
    /// A plastic sheet was lifted too soon.
    SheetTooShort {
        /// Where it lay.
        place: String,
        /// How long it lay, hours.
        lay_hours: f64,
        /// How long it should lie, hours.
        lay_needed_hours: f64,
    },
    /// The edges of a plastic sheet were not all sealed, or nobody wrote it down.
    SheetNotSealed {
        /// Where it lay.
        place: String,
    },
}

impl From<&method::MethodFault> for MethodFault {
    fn from(fault: &method::MethodFault) -> Self {
        use method::MethodFault as Fault;
        match fault {
            Fault::TooFewTests { done, needed } => {
                Self::TooFewTests { done: *done, needed: *needed }
            }
            Fault::Exposure { place, hours } => {
                Self::Exposure { place: place.clone(), exposed_hours: rounded(hours.as_hours()) }
            }
            Fault::CoarseScale { step } => Self::CoarseScale { step_g: rounded(step.as_grams()) },
            Fault::RoomUnknown => Self::RoomUnknown,
            Fault::RoomOutside { temperature, humidity, low } => Self::RoomOutside {
                temperature_c: rounded(temperature.as_celsius()),
                humidity_percent: rounded(humidity.as_percent()),
                may_read_low: *low,
            },
            Fault::Surface { place, surface } => {
                Self::Surface { place: place.clone(), surface: surface.map(|s| s.word()) }
            }
            Fault::SheetTooShort { place, hours, needed } => Self::SheetTooShort {
                place: place.clone(),
                lay_hours: rounded(hours.as_hours()),
                lay_needed_hours: rounded(needed.as_hours()),
            },
            Fault::SheetNotSealed { place } => Self::SheetNotSealed { place: place.clone() },
            Fault::NotSettled => Self::NotSettled,
            Fault::WaitTooShort { place, hours, needed } => Self::WaitTooShort {
                place: place.clone(),
                waited_hours: rounded(hours.as_hours()),
                wait_needed_hours: rounded(needed.as_hours()),
            },
            Fault::Depth { place, depth, needed } => Self::Depth {
                place: place.clone(),
                depth_mm: rounded(depth.as_millimeters()),
                needed_mm: rounded(needed.as_millimeters()),
            },
            Fault::DepthUnknown => Self::DepthUnknown,
            Fault::CalibrationUnknown { place } => {
                Self::CalibrationUnknown { place: place.clone() }
            }
            Fault::CalibrationOld { place, days } => {
                Self::CalibrationOld { place: place.clone(), days: *days }
            }
        }
    }
}
