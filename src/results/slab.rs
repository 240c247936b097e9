//! What was measured of the slab, in the results: take-off and air.

use schemars::JsonSchema;
use serde::Serialize;

use crate::papers::proposal::writer::Writer;
use crate::results::values::{Day, rounded};
use crate::site::take_off;

/// What was measured of the slab, summed up.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TakeOff {
    /// Flat floor to coat, square meters.
    pub floor_m2: f64,
    /// Upright faces, coves, treads and risers, square meters.
    pub upright_m2: f64,
    /// Outline of the floor and of what is left out of it, meters.
    pub edge_m: f64,
    /// All cracks together, meters.
    pub cracks_m: f64,
    /// All joints that are filled, meters.
    pub filled_joints_m: f64,
}

impl From<&take_off::TakeOff> for TakeOff {
    fn from(t: &take_off::TakeOff) -> Self {
        Self {
            floor_m2: rounded(t.floor.as_square_meters()),
            upright_m2: rounded(t.upright.as_square_meters()),
            edge_m: rounded(t.edge.as_meters()),
            cracks_m: rounded(t.cracks.as_meters()),
            filled_joints_m: rounded(t.filled_joints.as_meters()),
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
