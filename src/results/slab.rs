//! What was found on the slab: take-off, moisture, air. Nothing here costs anything.

use jiff::civil::DateTime;
use schemars::JsonSchema;
use serde::Serialize;

use crate::job::SheetFound;
use crate::proposal::writer::Writer;
use crate::quantity::{Humidity, Mver};
use crate::results::values::{Day, rounded};
use crate::site::method;
use crate::site::moisture::{self, MoistureReading, Part, Series};
use crate::site::standing::{self, FloorMoisture, Headroom};
use crate::site::take_off;

/// What was measured of the slab, summed up.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TakeOff {
    /// Flat floor to coat, square metres.
    pub floor_m2: f64,
    /// Upright faces, coves, treads and risers, square metres.
    pub upright_m2: f64,
    /// Outline of the floor and of what is left out of it, metres.
    pub edge_m: f64,
    /// All cracks together, metres.
    pub cracks_m: f64,
    /// All joints that are filled, metres.
    pub filled_joints_m: f64,
}

impl From<&take_off::TakeOff> for TakeOff {
    fn from(t: &take_off::TakeOff) -> Self {
        Self {
            floor_m2: rounded(t.floor.as_square_metres()),
            upright_m2: rounded(t.upright.as_square_metres()),
            edge_m: rounded(t.edge.as_metres()),
            cracks_m: rounded(t.cracks.as_metres()),
            filled_joints_m: rounded(t.filled_joints.as_metres()),
        }
    }
}

/// Air and slab on the day of the visit, and the dew point that follows.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Air {
    /// The day of the measurement; null when the job does not give it.
    pub measured: Option<Day>,
    /// Temperature of the air, degrees Celsius.
    pub air_c: f64,
    /// Relative humidity of the air, percent.
    pub humidity_percent: f64,
    /// Temperature of the slab, degrees Celsius.
    pub slab_c: f64,
    /// Temperature at which this air starts to leave water on a surface, degrees Celsius.
    pub dew_point_c: f64,
    /// Slab minus dew point, kelvin; negative when water settles on the slab.
    pub slab_above_dew_point_k: f64,
}

impl Air {
    /// What is known of the air; `None` when nobody measured it.
    pub fn of(w: &Writer<'_>) -> Option<Self> {
        w.case.site.air.map(|air| Self {
            measured: w.case.job.air.map(|air| air.measured.into()),
            air_c: rounded(air.air.as_celsius()),
            humidity_percent: rounded(air.humidity.as_percent()),
            slab_c: rounded(air.slab.as_celsius()),
            dew_point_c: rounded(air.dew_point.as_celsius()),
            slab_above_dew_point_k: rounded(air.spread.as_kelvin()),
        })
    }
}

// ------------------------------------------------------------------------------ moisture

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

impl From<Part> for ReadingPart {
    fn from(part: Part) -> Self {
        match part {
            Part::Latest => Self::Latest,
            Part::Unanswered => Self::Unanswered,
            Part::Answered(_) => Self::Answered,
            Part::Void => Self::Void,
            Part::VoidReadAgain(_) => Self::VoidReadAgain,
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
        /// Its depth, millimetres.
        depth_mm: f64,
        /// The depth that the method asks for, millimetres.
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
                depth_mm: rounded(depth.as_millimetres()),
                needed_mm: rounded(needed.as_millimetres()),
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

// ------------------------------------------------------------------- against a floor's limits

/// The highest readings against a floor's moisture limits.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MoistureRoom {
    /// How the floor stands to all tests together.
    pub standing: Standing,
    /// The reasons for it, most serious first.
    pub reasons: Vec<Reason>,
    /// What would settle a floor that is not judged; null for one that is.
    pub settles: Option<Settles>,
    /// Dishes; null without a reading, or without a limit on the first coat's sheet.
    pub dishes: Option<DishRoom>,
    /// Probes; null without a reading, or without a limit on the first coat's sheet.
    pub probes: Option<ProbeRoom>,
}

/// How a floor or a reading stands to a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Below the limit by more than the doubt of every reading.
    Clear,
    /// Nearer to the limit than a reading can tell, or over it within the last year.
    Close,
    /// Not known: too few good readings, or no limit to hold them against.
    NotJudged,
    /// Above the limit.
    Over,
}

/// A reason for a floor's standing.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(tag = "reason", rename_all = "kebab-case")]
pub enum Reason {
    /// A reading is over the limit.
    Over {
        /// The method.
        method: Method,
    },
    /// A plastic sheet that the data sheet asks for was damp.
    DampSheet,
    /// A reading is nearer to the limit than it can tell.
    Near {
        /// The method.
        method: Method,
    },
    /// A reading was over the limit before a later one answered it.
    WasOver {
        /// The method.
        method: Method,
        /// The day of that reading.
        read: Day,
    },
    /// No test was made.
    NotTested,
    /// Fewer places have a good and recent reading than the method asks for.
    FewGood {
        /// The method.
        method: Method,
        /// Places with one.
        good: u32,
        /// Places that the method asks for.
        needed: u32,
    },
    /// A void reading over the limit, whose place was not read again.
    ReadAgain {
        /// The method.
        method: Method,
        /// The place, as typed.
        place: String,
    },
    /// The data sheet has no limit for a method that was used.
    NoLimit {
        /// The method.
        method: Method,
    },
    /// Such a method reads high, so the floor waits for its maker's word.
    AskMaker {
        /// The method.
        method: Method,
    },
    /// The data sheet asks for both methods, and this one is not judged.
    BothAsked {
        /// The method.
        method: Method,
    },
}

/// A way to test a slab for moisture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Method {
    /// Calcium chloride dishes, ASTM F1869.
    Dish,
    /// Humidity probes, ASTM F2170.
    Probe,
    /// Taped plastic sheets, ASTM D4263.
    Sheet,
}

impl From<method::TestMethod> for Method {
    fn from(method: method::TestMethod) -> Self {
        match method {
            method::TestMethod::Dish => Self::Dish,
            method::TestMethod::Probe => Self::Probe,
            method::TestMethod::Sheet => Self::Sheet,
        }
    }
}

/// What would settle a floor that is not judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Settles {
    /// A moisture test.
    Test,
    /// A word from the maker of the coat.
    Maker,
}

impl From<standing::Settles> for Settles {
    fn from(settles: standing::Settles) -> Self {
        match settles {
            standing::Settles::Test => Self::Test,
            standing::Settles::Maker => Self::Maker,
        }
    }
}

impl Reason {
    /// A reason with what its places and days are. `None` for a reading that is not there.
    fn of(reason: standing::Reason, moisture: &moisture::MoistureResult) -> Option<Self> {
        use standing::Reason as Known;
        Some(match reason {
            Known::Over(method) => Self::Over { method: method.into() },
            Known::DampSheet => Self::DampSheet,
            Known::Near(method) => Self::Near { method: method.into() },
            Known::WasOver(method, at) => {
                let read = match method {
                    method::TestMethod::Dish => moisture.mver.as_ref()?.readings.get(at)?.to,
                    method::TestMethod::Probe => moisture.rh.as_ref()?.readings.get(at)?.to,
                    method::TestMethod::Sheet => moisture.sheets.as_ref()?.readings.get(at)?.to,
                };
                Self::WasOver { method: method.into(), read: read.date().into() }
            }
            Known::NotTested => Self::NotTested,
            Known::FewGood { method, good, needed } => {
                Self::FewGood { method: method.into(), good, needed }
            }
            Known::ReadAgain(method, at) => Self::ReadAgain {
                method: method.into(),
                place: moisture.place(method, at)?.to_owned(),
            },
            Known::NoLimit(method) => Self::NoLimit { method: method.into() },
            Known::AskMaker(method) => Self::AskMaker { method: method.into() },
            Known::BothAsked(method) => Self::BothAsked { method: method.into() },
        })
    }
}

/// Dishes against a limit, all in pounds per 1000 square feet in 24 hours.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DishRoom {
    /// How the reading stands to the limit.
    pub standing: Standing,
    /// The limit on the sheet of the coat on the concrete.
    pub limit_lb_per_1000ft2_24h: f64,
    /// The highest reading.
    pub reading_lb_per_1000ft2_24h: f64,
    /// Doubt of that reading either way.
    pub doubt_lb_per_1000ft2_24h: f64,
    /// Limit minus reading; negative when the reading is over it.
    pub room_lb_per_1000ft2_24h: f64,
}

/// Probes against a limit, all in percent of relative humidity.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ProbeRoom {
    /// How the reading stands to the limit.
    pub standing: Standing,
    /// The limit on the sheet of the coat on the concrete.
    pub limit_percent: f64,
    /// The highest reading.
    pub reading_percent: f64,
    /// Doubt of that reading either way.
    pub doubt_percent: f64,
    /// Limit minus reading; negative when the reading is over it.
    pub room_percent: f64,
}

impl MoistureRoom {
    /// How a floor stands to a slab's tests.
    pub fn of(m: &FloorMoisture, tests: &moisture::MoistureResult) -> Self {
        let dishes = |h: Headroom<Mver>| DishRoom {
            standing: h.standing.into(),
            limit_lb_per_1000ft2_24h: rounded(h.limit.as_pounds()),
            reading_lb_per_1000ft2_24h: rounded(h.reading.as_pounds()),
            doubt_lb_per_1000ft2_24h: rounded(h.doubt.as_pounds()),
            room_lb_per_1000ft2_24h: rounded((h.limit - h.reading).as_pounds()),
        };
        let probes = |h: Headroom<Humidity>| ProbeRoom {
            standing: h.standing.into(),
            limit_percent: rounded(h.limit.as_percent()),
            reading_percent: rounded(h.reading.as_percent()),
            doubt_percent: rounded(h.doubt.as_percent()),
            room_percent: rounded((h.limit - h.reading).as_percent()),
        };
        Self {
            standing: m.standing.into(),
            reasons: m.reasons.iter().filter_map(|one| Reason::of(*one, tests)).collect(),
            settles: m.settles().map(Settles::from),
            dishes: m.mver.map(dishes),
            probes: m.rh.map(probes),
        }
    }
}

impl From<standing::Standing> for Standing {
    fn from(standing: standing::Standing) -> Self {
        match standing {
            standing::Standing::Clear => Self::Clear,
            standing::Standing::Close => Self::Close,
            standing::Standing::NotJudged => Self::NotJudged,
            standing::Standing::Over => Self::Over,
        }
    }
}
