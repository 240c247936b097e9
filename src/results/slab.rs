//! Air and dew point over the slab, in the results.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::quantity::{Degrees, Humidity, Temperature};
use crate::papers::proposal::writer::Writer;
use crate::results::values::Day;

/// Air and slab on the day of the visit, and the dew point that follows.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Air {
    /// The day of the measurement; null when the job does not give it.
    pub measured: Option<Day>,
    /// Temperature of the air, degrees Celsius.
    pub air_c: Temperature,
    /// Relative humidity of the air, percent.
    pub humidity_percent: Humidity,
    /// Temperature of the slab, degrees Celsius.
    pub slab_c: Temperature,
    /// Temperature at which this air starts to leave water on a surface, degrees Celsius.
    pub dew_point_c: Temperature,
    /// Slab minus dew point, kelvin; negative when water settles on the slab.
    pub slab_above_dew_point_k: Degrees,
}

impl Air {
    /// The air as measured; `None` when nobody measured it.
    pub fn of(w: &Writer<'_>) -> Option<Self> {
        w.case.site.air.map(|air| Self {
            measured: w.case.job.air.map(|air| air.measured.into()),
            air_c: air.air,
            humidity_percent: air.humidity,
            slab_c: air.slab,
            dew_point_c: air.dew_point,
            slab_above_dew_point_k: air.spread,
        })
    }
}
