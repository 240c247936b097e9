//! Dew point and how far the slab lies above it.

use crate::base::quantity::{Degrees, Humidity, Temperature};
use crate::model::job::Air;

/// Constants of the Magnus form over water: Alduchov and Eskridge, "Improved Magnus form
/// approximation of saturation vapor pressure", J. Appl. Meteor. 35(4), 1996 (17.625, 243.04 C;
/// constants from memory, checked against psychrolib 2.5.0 within 0.05 C from 5 to 35 C).
const MAGNUS_B: f64 = 17.625;
const MAGNUS_C: f64 = 243.04;

/// The spread of the slab over the dew point below which nothing is coated, when the product's
/// sheet names none: 5 F, MIL-HDBK-1110 section 9.6.6. (ISO 8502-4 practice is 3 C, which is
/// 5.4 F: not the same number.)
pub const LEAST_SPREAD: Degrees = Degrees::fahrenheit(5.0);

/// Air and slab of a visit with what follows from them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirState {
    pub air: Temperature,
    pub humidity: Humidity,
    pub slab: Temperature,
    pub dew_point: Temperature,
    /// Slab minus dew point; negative when water condenses on the slab.
    pub spread: Degrees,
}

pub fn air_state(air: &Air) -> AirState {
    let dew_point = dew_point(air.temperature, air.humidity);
    AirState {
        air: air.temperature,
        humidity: air.humidity,
        slab: air.slab,
        dew_point,
        spread: air.slab - dew_point,
    }
}

/// The temperature at which air of this temperature and humidity starts to condense:
/// `g = ln(RH/100) + b T / (c + T)`, `Td = c g / (b - g)`, in degrees C. The humidity must be
/// above zero, which the input checks.
pub fn dew_point(air: Temperature, humidity: Humidity) -> Temperature {
    let t = air.as_celsius();
    let g = (humidity.as_percent() / 100.0).ln() + MAGNUS_B * t / (MAGNUS_C + t);
    Temperature::celsius(MAGNUS_C * g / (MAGNUS_B - g))
}
