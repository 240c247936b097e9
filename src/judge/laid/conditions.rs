//! Air and surface when a coat went down, against its data sheet.

use crate::base::names::choices;
use crate::base::quantity::{Degrees, Humidity, Temperature};
use crate::judge::checks::{Limit, air_humidity};
use crate::model::book::Resin;
use crate::model::job::CoatRecord;
use crate::site::dew_point::{LEAST_SPREAD, dew_point};

choices! {
    /// Standing of a condition to its limit.
    ConditionKept {
        Kept = "kept",
        Missed = "missed",
        /// Nobody wrote it down.
        NotKnown = "not-known",
    }
}

/// The conditions of one record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Temperature of the surface within the data sheet's range.
    pub slab: ConditionKept,
    pub humidity: ConditionKept,
    /// The dampest air that the coat may be laid in.
    pub most_humidity: Limit<Humidity>,
    pub dew_point: Option<Temperature>,
    /// Surface over dew point.
    pub spread: Option<Degrees>,
    pub over_dew_point: ConditionKept,
    pub least_spread: Degrees,
}

/// Last bits of binary arithmetic.
const SLACK: f64 = 1e-6;

fn held(kept: Option<bool>) -> ConditionKept {
    match kept {
        Some(true) => ConditionKept::Kept,
        Some(false) => ConditionKept::Missed,
        None => ConditionKept::NotKnown,
    }
}

pub fn conditions(resin: &Resin, record: &CoatRecord) -> Conditions {
    let most_humidity = air_humidity::USUAL_LIMIT.unless(resin.air_humidity_to);
    let least_spread = resin.dew_spread.unwrap_or(LEAST_SPREAD);
    let dew_point = record.air.zip(record.humidity).map(|(air, humidity)| dew_point(air, humidity));
    let spread = record.slab.zip(dew_point).map(|(slab, dew_point)| slab - dew_point);
    let in_range = |slab: Temperature| resin.slab_from <= slab && slab <= resin.slab_to;
    Conditions {
        slab: held(record.slab.map(in_range)),
        humidity: held(record.humidity.map(|humidity| humidity <= most_humidity.value)),
        most_humidity,
        dew_point,
        spread,
        over_dew_point: held(
            spread.map(|spread| spread.as_kelvin() + SLACK >= least_spread.as_kelvin()),
        ),
        least_spread,
    }
}

impl Conditions {
    /// True where one of them was missed for certain.
    pub fn any_missed(&self) -> bool {
        self.all().contains(&ConditionKept::Missed)
    }

    /// True where one of them is not known.
    pub fn any_unknown(&self) -> bool {
        self.all().contains(&ConditionKept::NotKnown)
    }

    fn all(&self) -> [ConditionKept; 3] {
        [self.slab, self.humidity, self.over_dew_point]
    }
}
