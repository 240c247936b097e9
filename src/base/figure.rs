//! A value that may be printed: how it is written is said in the room `say`.

use jiff::civil::Date;

use crate::base::money::Cents;
use crate::base::quantity::*;

/// A value that may be printed.
#[derive(Debug, Clone, PartialEq)]
pub enum Figure {
    Text(String),
    Texts(Vec<String>),
    Count(u32),
    Money(Cents),
    Date(Date),
    Days(u32),
    Length(Length),
    Area(Area),
    Thickness(Thickness),
    Temperature(Temperature),
    Degrees(Degrees),
    Mver(Mver),
    /// Relative humidity of air.
    Humidity(Humidity),
    /// Relative humidity inside a slab, as a test result.
    SlabHumidity(Humidity),
    /// A difference of two humidities of a slab, in points of percent.
    Points(Humidity),
    Share(Share),
    Strength(Strength),
    Content(Content),
    Hours(Hours),
    /// A time that ends something: never printed longer than it is.
    NoLonger(Hours),
    /// A time that has to pass: never printed shorter than it is.
    NoShorter(Hours),
    Volume(Volume),
    Mass(Mass),
    Spread(Spread),
    Airflow(Airflow),
    /// A volume of air or vapor.
    Room(Room),
    Ph(Ph),
    Permeance(Permeance),
}

macro_rules! figure_from {
    ($($kind:ident),*) => {$(
        impl From<$kind> for Figure {
            fn from(value: $kind) -> Self {
                Self::$kind(value)
            }
        }
    )*};
}
figure_from!(
    Date,
    Length,
    Area,
    Thickness,
    Temperature,
    Degrees,
    Mver,
    Share,
    Strength,
    Content,
    Hours,
    Volume,
    Mass,
    Spread,
    Airflow,
    Room
);

impl From<String> for Figure {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<&str> for Figure {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}
