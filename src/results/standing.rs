//! Standing of a floor to the moisture of the slab, in the results, with its reasons.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::quantity::{Humidity, Mver};
use crate::results::values::Day;
use crate::site::method::TestMethod;
use crate::site::moisture;
use crate::site::standing::{self, FloorMoisture, Headroom, Settles, Standing};

/// The highest readings against a floor's moisture limits.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MoistureRoom {
    /// Standing of the floor to all tests together.
    pub standing: Standing,
    /// The reasons for it, most serious first.
    pub reasons: Vec<StandingReason>,
    /// The thing that would settle a floor that is not judged; null for one that is.
    pub settles: Option<Settles>,
    /// Dishes; null without a reading, or without a limit on the first coat's sheet.
    pub dishes: Option<DishRoom>,
    /// Probes; null without a reading, or without a limit on the first coat's sheet.
    pub probes: Option<ProbeRoom>,
}

/// A reason for a floor's standing.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(tag = "reason", rename_all = "kebab-case")]
pub enum StandingReason {
    /// A reading is over the limit.
    Over {
        /// The method.
        method: TestMethod,
    },
    /// A plastic sheet that the data sheet asks for was damp.
    DampSheet,
    /// A reading is nearer to the limit than it can tell.
    Near {
        /// The method.
        method: TestMethod,
    },
    /// A reading was over the limit before a later one answered it.
    WasOver {
        /// The method.
        method: TestMethod,
        /// The day of that reading.
        read: Day,
    },
    /// No test was made.
    NotTested,
    /// Fewer places have a good and recent reading than the method asks for.
    FewGood {
        /// The method.
        method: TestMethod,
        /// Places with one.
        good: u32,
        /// Places that the method asks for.
        needed: u32,
    },
    /// A void reading over the limit, whose place was not read again.
    ReadAgain {
        /// The method.
        method: TestMethod,
        /// The place, as typed.
        place: String,
    },
    /// The data sheet has no limit for a method that was used.
    NoLimit {
        /// The method.
        method: TestMethod,
    },
    /// Such a method reads high, so the floor waits for its maker's word.
    AskMaker {
        /// The method.
        method: TestMethod,
    },
    /// The data sheet asks for both methods, and this one is not judged.
    BothAsked {
        /// The method.
        method: TestMethod,
    },
}

impl StandingReason {
    /// A reason with the places and days of its readings. `None` for a reading that is not there.
    fn of(reason: standing::StandingReason, moisture: &moisture::MoistureResult) -> Option<Self> {
        use standing::StandingReason as Known;
        Some(match reason {
            Known::Over(method) => Self::Over { method },
            Known::DampSheet => Self::DampSheet,
            Known::Near(method) => Self::Near { method },
            Known::WasOver(method, at) => {
                let read = match method {
                    TestMethod::Dish => moisture.mver.as_ref()?.readings.get(at)?.to,
                    TestMethod::Probe => moisture.rh.as_ref()?.readings.get(at)?.to,
                    TestMethod::Sheet => moisture.sheets.as_ref()?.readings.get(at)?.to,
                };
                Self::WasOver { method, read: read.date().into() }
            }
            Known::NotTested => Self::NotTested,
            Known::FewGood { method, good, needed } => Self::FewGood { method, good, needed },
            Known::ReadAgain(method, at) => {
                Self::ReadAgain { method, place: moisture.place(method, at)?.to_owned() }
            }
            Known::NoLimit(method) => Self::NoLimit { method },
            Known::AskMaker(method) => Self::AskMaker { method },
            Known::BothAsked(method) => Self::BothAsked { method },
        })
    }
}

/// Dishes against a limit, all in pounds per 1000 square feet in 24 hours.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DishRoom {
    /// Standing of the reading to the limit.
    pub standing: Standing,
    /// The limit on the sheet of the coat on the concrete.
    pub limit_lb_per_1000ft2_24h: Mver,
    /// The highest reading.
    pub reading_lb_per_1000ft2_24h: Mver,
    /// Doubt of that reading either way.
    pub doubt_lb_per_1000ft2_24h: Mver,
    /// Limit minus reading; negative when the reading is over it.
    pub room_lb_per_1000ft2_24h: Mver,
}

/// Probes against a limit, all in percent of relative humidity.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ProbeRoom {
    /// Standing of the reading to the limit.
    pub standing: Standing,
    /// The limit on the sheet of the coat on the concrete.
    pub limit_percent: Humidity,
    /// The highest reading.
    pub reading_percent: Humidity,
    /// Doubt of that reading either way.
    pub doubt_percent: Humidity,
    /// Limit minus reading; negative when the reading is over it.
    pub room_percent: Humidity,
}

impl MoistureRoom {
    /// The standing of a floor to a slab's tests.
    pub fn of(m: &FloorMoisture, tests: &moisture::MoistureResult) -> Self {
        let dishes = |h: Headroom<Mver>| DishRoom {
            standing: h.standing,
            limit_lb_per_1000ft2_24h: h.limit,
            reading_lb_per_1000ft2_24h: h.reading,
            doubt_lb_per_1000ft2_24h: h.doubt,
            room_lb_per_1000ft2_24h: h.limit - h.reading,
        };
        let probes = |h: Headroom<Humidity>| ProbeRoom {
            standing: h.standing,
            limit_percent: h.limit,
            reading_percent: h.reading,
            doubt_percent: h.doubt,
            room_percent: h.limit - h.reading,
        };
        Self {
            standing: m.standing,
            reasons: m.reasons.iter().filter_map(|one| StandingReason::of(*one, tests)).collect(),
            settles: m.settles(),
            dishes: m.mver.map(dishes),
            probes: m.rh.map(probes),
        }
    }
}
