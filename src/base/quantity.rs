//! Physical quantities as types: no bare number in the program is a length or a temperature.
//!
//! Each type keeps one base unit inside and is made and read through constructors that name the
//! unit. Values are finite; whoever reads text checks that (`read::scalar`). Conversion factors
//! are exact by definition of the international yard and pound (NIST SP 811, appendix B).

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, Div, Mul, Sub};

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Serialize, Serializer};

/// Defines quantities: the base unit of each, and pairs of constructor and getter with their factor.
macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident { $($make:ident, $read:ident = $factor:expr;)* })*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            pub const ZERO: Self = Self(0.0);
            $(
                // `Hours::hours` reads as every other constructor does.
                #[allow(clippy::self_named_constructors)]
                pub const fn $make(value: f64) -> Self {
                    Self(value * $factor)
                }
                pub const fn $read(self) -> f64 {
                    self.0 / $factor
                }
            )*
            pub fn max(self, other: Self) -> Self {
                if other.0 > self.0 { other } else { self }
            }
            pub fn min(self, other: Self) -> Self {
                if other.0 < self.0 { other } else { self }
            }
            /// Order of finite values.
            pub fn order(self, other: Self) -> Ordering {
                self.0.total_cmp(&other.0)
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                values.fold(Self::ZERO, Add::add)
            }
        }
    )*};
}

pub(crate) const FOOT_M: f64 = 0.3048;
/// 1 lb/1000 ft2/24 h in micrograms per second and square meter.
pub(crate) const MICROGRAMS_PER_POUND_RATE: f64 =
    POUND_KG * 1e9 / (1000.0 * SQUARE_FOOT_M2 * 24.0 * 3600.0);
/// 1 lb/1000 ft2/24 h in grams per square meter in 24 hours.
pub(crate) const GRAMS_PER_POUND_RATE: f64 = POUND_KG * 1000.0 / (1000.0 * SQUARE_FOOT_M2);
pub(crate) const SQUARE_FOOT_M2: f64 = FOOT_M * FOOT_M;
pub(crate) const GALLON_L: f64 = 3.785411784;
pub(crate) const POUND_KG: f64 = 0.45359237;
pub(crate) const POUND_FORCE_PER_SQUARE_INCH_MPA: f64 = 0.006894757293168;
/// A US perm (one grain an hour, square foot and inch of mercury at 0 C) in nanograms per second,
/// square meter and pascal: NIST SP 811, appendix B.8.
pub(crate) const PERM_NG: f64 = 57.2135;

quantities! {
    /// A length. Base unit: meter.
    Length {
        meters, as_meters = 1.0;
        millimeters, as_millimeters = 0.001;
        feet, as_feet = FOOT_M;
        inches, as_inches = 0.0254;
    }

    /// An area. Base unit: square meter.
    Area {
        square_meters, as_square_meters = 1.0;
        square_feet, as_square_feet = SQUARE_FOOT_M2;
    }

    /// A volume of liquid. Base unit: liter. A gallon is the US gallon.
    Volume {
        liters, as_liters = 1.0;
        gallons, as_gallons = GALLON_L;
        fluid_ounces, as_fluid_ounces = GALLON_L / 128.0;
    }

    /// A volume of air. Base unit: cubic meter.
    Room {
        cubic_meters, as_cubic_meters = 1.0;
        cubic_feet, as_cubic_feet = FOOT_M * FOOT_M * FOOT_M;
    }

    /// The thickness of a film, or a mean depth of texture. Base unit: micrometer. 1 mil is
    /// 0.001 in.
    Thickness {
        micrometers, as_micrometers = 1.0;
        mils, as_mils = 25.4;
    }

    /// Area that a volume of liquid covers. Base unit: square meter per liter.
    Spread {
        square_meters_per_liter, as_square_meters_per_liter = 1.0;
        square_feet_per_gallon, as_square_feet_per_gallon = SQUARE_FOOT_M2 / GALLON_L;
    }

    /// A mass. Base unit: kilogram.
    Mass {
        kilograms, as_kilograms = 1.0;
        grams, as_grams = 0.001;
        pounds, as_pounds = POUND_KG;
    }

    /// Mass thrown on an area. Base unit: kilogram per square meter.
    ArealMass {
        kilograms_per_square_meter, as_kilograms_per_square_meter = 1.0;
        pounds_per_square_foot, as_pounds_per_square_foot = POUND_KG / SQUARE_FOOT_M2;
    }

    /// Tensile strength of a surface. Base unit: megapascal.
    Strength {
        megapascals, as_megapascals = 1.0;
        psi, as_psi = POUND_FORCE_PER_SQUARE_INCH_MPA;
    }

    /// Moisture vapor emission rate. Base unit: pounds per 1000 square feet in 24 hours, the
    /// unit of ASTM F1869; 1 of it is 56.5096 micrograms per second and square meter.
    Mver {
        pounds, as_pounds = 1.0;
        micrograms_per_second_square_meter, as_micrograms_per_second_square_meter = 1.0 / MICROGRAMS_PER_POUND_RATE;
    }

    /// Relative humidity in percent.
    Humidity {
        percent, as_percent = 1.0;
    }

    /// A share of a whole. Base: 1 is the whole.
    Share {
        of_one, as_of_one = 1.0;
        percent, as_percent = 0.01;
    }

    /// A stretch of time, or of labor. Base unit: hour.
    Hours {
        hours, as_hours = 1.0;
        minutes, as_minutes = 1.0 / 60.0;
        days, as_days = 24.0;
    }

    /// Area that one person works in an hour. Base unit: square meter per hour.
    AreaRate {
        square_meters_per_hour, as_square_meters_per_hour = 1.0;
        square_feet_per_hour, as_square_feet_per_hour = SQUARE_FOOT_M2;
    }

    /// Length that one person works in an hour. Base unit: meter per hour.
    LengthRate {
        meters_per_hour, as_meters_per_hour = 1.0;
        feet_per_hour, as_feet_per_hour = FOOT_M;
    }

    /// Volatile organic compounds, or any solvent, by mass in a volume. Base unit: gram per liter.
    Content {
        grams_per_liter, as_grams_per_liter = 1.0;
        pounds_per_gallon, as_pounds_per_gallon = POUND_KG * 1000.0 / GALLON_L;
    }

    /// Molar mass of a solvent. Base unit: gram per mole.
    MolarMass {
        grams_per_mole, as_grams_per_mole = 1.0;
    }

    /// A concentration of vapor in air. Base unit: parts per million by volume.
    Ppm {
        parts_per_million, as_parts_per_million = 1.0;
    }

    /// A flow of air. Base unit: cubic meter per hour.
    Airflow {
        cubic_meters_per_hour, as_cubic_meters_per_hour = 1.0;
        cubic_feet_per_minute, as_cubic_feet_per_minute = 60.0 * FOOT_M * FOOT_M * FOOT_M;
    }

    /// A difference between two temperatures. Base unit: kelvin.
    Degrees {
        kelvin, as_kelvin = 1.0;
        fahrenheit, as_fahrenheit = 5.0 / 9.0;
    }

    /// Permeance to water vapor. Base unit: nanograms per second, square meter and pascal.
    Permeance {
        nanograms, as_nanograms = 1.0;
        perms, as_perms = PERM_NG;
    }

    /// Acidity of a surface, 0 to 14: 7 is neutral, fresh concrete about 12 to 13.
    Ph {
        units, as_units = 1.0;
    }
}

/// A temperature. Base unit: degree Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    pub const fn celsius(value: f64) -> Self {
        Self(value)
    }

    pub const fn fahrenheit(value: f64) -> Self {
        Self((value - 32.0) * 5.0 / 9.0)
    }

    pub const fn as_celsius(self) -> f64 {
        self.0
    }

    pub const fn as_fahrenheit(self) -> f64 {
        self.0 * 9.0 / 5.0 + 32.0
    }

    pub fn order(self, other: Self) -> Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl Sub for Temperature {
    type Output = Degrees;
    fn sub(self, other: Self) -> Degrees {
        Degrees::kelvin(self.0 - other.0)
    }
}

impl Add<Degrees> for Temperature {
    type Output = Self;
    fn add(self, by: Degrees) -> Self {
        Self(self.0 + by.as_kelvin())
    }
}

/// A measured figure to four decimals, so that the last bits of arithmetic stay out of files.
pub fn rounded(value: f64) -> f64 {
    // Adding zero makes the zero of a tiny negative figure a plain one.
    (value * 10_000.0).round() / 10_000.0 + 0.0
}

/// Writes quantities in results: a number in one unit, which the field's name tells.
macro_rules! serialized {
    ($($name:ident, $read:ident;)*) => {$(
        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_f64(rounded(self.$read()))
            }
        }

        impl JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                f64::json_schema(generator)
            }
        }
    )*};
}
serialized! {
    Length, as_meters;
    Area, as_square_meters;
    Volume, as_liters;
    Room, as_cubic_meters;
    Thickness, as_micrometers;
    Spread, as_square_meters_per_liter;
    Mass, as_kilograms;
    Hours, as_hours;
    Humidity, as_percent;
    Mver, as_pounds;
    Share, as_of_one;
    Airflow, as_cubic_meters_per_hour;
    Degrees, as_kelvin;
    Temperature, as_celsius;
}

impl Area {
    /// A rectangle's area.
    pub fn rectangle(length: Length, width: Length) -> Self {
        Self::square_meters(length.as_meters() * width.as_meters())
    }

    /// The liquid that a film of this wet thickness holds on this area.
    pub fn at(self, wet: Thickness) -> Volume {
        Volume::liters(self.as_square_meters() * wet.as_micrometers() / 1000.0)
    }

    /// The liquid that this area takes at a spread.
    pub fn over(self, spread: Spread) -> Volume {
        Volume::liters(self.as_square_meters() / spread.as_square_meters_per_liter())
    }

    pub fn times(self, mass: ArealMass) -> Mass {
        Mass::kilograms(self.as_square_meters() * mass.as_kilograms_per_square_meter())
    }

    /// Hours of one person's work.
    pub fn worked_at(self, rate: AreaRate) -> Hours {
        Hours::hours(self.as_square_meters() / rate.as_square_meters_per_hour())
    }
}

impl Div<Volume> for Mass {
    type Output = Content;
    fn div(self, volume: Volume) -> Content {
        Content::grams_per_liter(self.as_grams() / volume.as_liters())
    }
}

impl Length {
    /// Hours of one person's work along this length.
    pub fn worked_at(self, rate: LengthRate) -> Hours {
        Hours::hours(self.as_meters() / rate.as_meters_per_hour())
    }
}

/// Slack when whole pieces are counted, as a share of one piece: 3.0000000001 kits are 3 kits,
/// 3.01 are 4. Covers the last bits of binary arithmetic and nothing a scale could show.
const WHOLE_SLACK: f64 = 1e-6;

/// The smallest whole number of pieces that is not less than `count`.
pub fn whole_up(count: f64) -> u32 {
    let up = (count - WHOLE_SLACK).ceil();
    if up <= 0.0 { 0 } else { up as u32 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_up_ignores_the_last_bits_of_binary_arithmetic() {
        assert_eq!(whole_up(3.0000000001), 3);
        assert_eq!(whole_up(3.01), 4);
        assert_eq!(whole_up(0.0), 0);
        assert_eq!(whole_up(-0.5), 0);
    }

    #[test]
    fn temperatures_convert_both_ways() {
        assert_eq!(Temperature::fahrenheit(212.0).as_celsius(), 100.0);
        assert_eq!(Temperature::celsius(-40.0).as_fahrenheit(), -40.0);
        // 3 degrees C is 5.4 degrees F of difference, not 37.4.
        assert!((Degrees::kelvin(3.0).as_fahrenheit() - 5.4).abs() < 1e-12);
    }
}
