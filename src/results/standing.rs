//! How a floor stands to the moisture of the slab, in the results, with its reasons.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::quantity::{Humidity, Mver};
use crate::results::values::{Day, rounded};
use crate::site::method;
use crate::site::moisture;
use crate::site::standing::{self, FloorMoisture, Headroom};

/// The highest readings against a floor's moisture limits.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MoistureRoom {
    /// How the floor stands to all tests together.
    pub standing: Standing,
    /// The reasons for it, most serious first.
    pub reasons: Vec<StandingReason>,
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
pub enum StandingReason {
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

impl StandingReason {
    /// A reason with what its places and days are. `None` for a reading that is not there.
    fn of(reason: standing::StandingReason, moisture: &moisture::MoistureResult) -> Option<Self> {
        use standing::StandingReason as Known;
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
            reasons: m.reasons.iter().filter_map(|one| StandingReason::of(*one, tests)).collect(),
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
