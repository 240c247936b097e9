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
        [self.slab, self.humidity, self.over_dew_point].contains(&ConditionKept::Missed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{BARRIER, laid};
    use crate::judge::laid::floor_as_laid;

    fn of(record: &str) -> Conditions {
        laid(&[record]).with_case(|case| {
            let floor = floor_as_laid(&case).unwrap();
            floor.coats[0].records[0].conditions.unwrap()
        })
    }

    /// 70 F and 50 % have their dew point at 50.5 F (psychrolib 2.5.0, ASHRAE equations): a slab of 68 F lies 17.5
    /// degrees above it, one of 54 F 3.5, and the handbook asks for five (MIL-HDBK-1110, section 9.6.6).
    #[test]
    fn one_that_was_missed_or_not_written_down_is_told() {
        use ConditionKept::{Kept, Missed, NotKnown};
        let told = |conditions: Conditions| {
            let Conditions { slab, humidity, over_dew_point, .. } = conditions;
            ([slab, humidity, over_dew_point], conditions.any_missed())
        };
        assert_eq!(told(of(BARRIER)), ([Kept, Kept, Kept], false));
        let spread = of(BARRIER).spread.unwrap().as_kelvin() * 1.8;
        assert!((spread - 17.5).abs() < 0.05, "{spread}");
        let cold = of(&BARRIER.replace("slab = \"68 F\"", "slab = \"54 F\""));
        assert_eq!(told(cold), ([Kept, Kept, Missed], true));
        let dry = of(&BARRIER.replace("humidity = \"50 %\", ", ""));
        assert_eq!(told(dry), ([Kept, NotKnown, NotKnown], false));
        let bare = of(&BARRIER.replace(", slab = \"68 F\"", ""));
        assert_eq!(told(bare), ([NotKnown, Kept, NotKnown], false));
        let damp = of(&BARRIER.replace("50 %", "95 %").replace(", slab = \"68 F\"", ""));
        assert_eq!(told(damp), ([NotKnown, Missed, NotKnown], true));
    }
}
