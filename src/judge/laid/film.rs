//! Films of a coat as it was laid: the one that follows from the liquid that went on the floor (mass
//! balance), and the one that a wet film gauge read.
//!
//! `wet = volume / area`: one US gallon is 231 in3, so 1604 ft2 mil (NIST SP 811). Neither figure is a
//! thickness that anybody measured on the cured floor: the first says nothing of evenness, the second
//! only of the places that were read.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::choices;
use crate::base::quantity::{Area, Share, Thickness, Volume, whole_up};
use crate::judge::checks::{Limit, Source};
use crate::price::film;

/// The error of an area that was measured with a tape, either way.
pub const AREA_ERROR: Limit<Share> = Limit::common_practice(Share::percent(2.0));
/// The error of a mixed volume that was read off marks on pails, either way.
pub const VOLUME_ERROR: Limit<Share> = Limit::common_practice(Share::percent(3.0));
/// The error of the mean depth of texture that a first coat fills, either way: nobody measures it.
pub const TEXTURE_ERROR: Limit<Share> = Limit::common_practice(Share::percent(50.0));

/// The standard whose counts and tolerances are held against readings of the wet film. It is written for
/// dry films on metal; ASTM D4414 leaves number and tolerance of wet readings to those who agree on them
/// (that it does is from memory).
const SPOTS: Source = Source::Published("SSPC-PA 2 (2015), level 3");
/// Places that are read in each area of the size below.
pub const PLACES: Limit<u32> = Limit::new(5, SPOTS);
pub const EACH: Limit<Area> = Limit::new(Area::square_feet(100.0), SPOTS);
/// Up to this every such area is read.
pub const ALL_UP_TO: Limit<Area> = Limit::new(Area::square_feet(300.0), SPOTS);
/// Up to this three of them are read, and one more for each further area of this size.
pub const THREE_UP_TO: Limit<Area> = Limit::new(Area::square_feet(1000.0), SPOTS);
/// The least of a single place, as a share of the film that was asked for.
pub const LEAST_PLACE: Limit<Share> = Limit::new(Share::percent(80.0), SPOTS);

/// The number of places at which a wet film is read on an area.
pub fn places_to_read(area: Area) -> u32 {
    let areas = if area <= ALL_UP_TO.value {
        whole_up(area / EACH.value).max(1)
    } else {
        3 + whole_up((area - THREE_UP_TO.value) / THREE_UP_TO.value)
    };
    areas * PLACES.value
}

/// A film that lies between two bounds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct FilmRange {
    /// Micrometers.
    #[serde(rename = "least_um")]
    pub least: Thickness,
    /// Micrometers.
    #[serde(rename = "most_um")]
    pub most: Thickness,
}

impl FilmRange {
    /// The dry film that it leaves.
    pub fn dry(self, solids: Share) -> Self {
        let dry = |wet| film::dry_from_wet(wet, solids, Share::ZERO);
        Self { least: dry(self.least), most: dry(self.most) }
    }

    /// True where both may be right.
    pub fn meets(self, other: Self) -> bool {
        self.least <= other.most && other.least <= self.most
    }

    fn middle(self) -> Thickness {
        (self.least + self.most) * 0.5
    }
}

/// Liquid that went on a floor, with what is known of where it went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spent {
    /// Mixed.
    pub used: Volume,
    /// All that it covered.
    pub area: Area,
    /// Texture of bare concrete that it filled first.
    pub texture: Volume,
    /// Fine cracks that it filled first.
    pub cracks: Volume,
    /// The share of it that stays in pails and rollers, at the most.
    pub loss: Share,
}

/// The wet film by mass balance. At the most all that was mixed is on the floor, at the least that without
/// the book's loss; area, volume and texture may be off either way.
pub fn balance(spent: &Spent) -> FilmRange {
    let with = |error: Share, sign: f64| 1.0 + sign * error.as_of_one();
    let (volume, area, texture) = (VOLUME_ERROR.value, AREA_ERROR.value, TEXTURE_ERROR.value);
    let film = |used: Volume, sign: f64| {
        let filled = spent.texture * with(texture, -sign) + spent.cracks;
        let above = (used * with(volume, sign) - filled).max(Volume::ZERO);
        let over = spent.area * with(area, -sign);
        Thickness::micrometers(above.as_liters() / over.as_square_meters() * 1000.0)
    };
    FilmRange {
        least: film(spent.used * (1.0 - spent.loss.as_of_one()), -1.0),
        most: film(spent.used, 1.0),
    }
}

/// Steps between the tabs of the gauge that ASTM D4414-95 (2020), 7.1.2, gives as its example: each with the
/// film up to which it holds. Beyond the last it is 5 mil.
const STEPS: [(Thickness, Thickness); 3] = [
    (Thickness::mils(6.0), Thickness::mils(0.5)),
    (Thickness::mils(10.0), Thickness::mils(1.0)),
    (Thickness::mils(30.0), Thickness::mils(2.0)),
];
const LAST_STEP: Thickness = Thickness::mils(5.0);
/// A notch is at a bound of the steps when it is nearer to it than this; gauges in micrometers round them.
const AT_NOTCH: Thickness = Thickness::micrometers(4.0);

/// The film of one reading: from the last wet notch to the next one, which stayed dry.
fn bracket(notch: Thickness, step: Option<Thickness>) -> FilmRange {
    let of_gauge = || {
        let found = STEPS.iter().find(|(up_to, _)| notch + AT_NOTCH < *up_to);
        found.map_or(LAST_STEP, |(_, step)| *step)
    };
    FilmRange { least: notch, most: notch + step.unwrap_or_else(of_gauge) }
}

/// Readings of a wet film, each with the step of its gauge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct WetReadings {
    /// Places that were read.
    pub count: u32,
    /// Places that are to be read on an area of this size.
    pub needed: u32,
    /// Their mean.
    pub mean: FilmRange,
    /// The thinnest place.
    pub thinnest: FilmRange,
    /// The thickest place.
    pub thickest: FilmRange,
    /// Places that are too thin for certain: below 80 % of the film that was asked for.
    pub thin: u32,
}

/// Sums up readings; `None` without any.
pub fn readings(
    read: &[(Thickness, Option<Thickness>)],
    planned: Thickness,
    area: Area,
) -> Option<WetReadings> {
    let films: Vec<FilmRange> = read.iter().map(|(notch, step)| bracket(*notch, *step)).collect();
    let order = |a: &&FilmRange, b: &&FilmRange| a.middle().order(b.middle());
    let each = 1.0 / films.len().max(1) as f64;
    let least_place = planned * LEAST_PLACE.value.as_of_one();
    Some(WetReadings {
        count: films.len() as u32,
        needed: places_to_read(area),
        mean: FilmRange {
            least: films.iter().map(|film| film.least).sum::<Thickness>() * each,
            most: films.iter().map(|film| film.most).sum::<Thickness>() * each,
        },
        thinnest: *films.iter().min_by(order)?,
        thickest: *films.iter().max_by(order)?,
        thin: films.iter().filter(|film| film.most < least_place).count() as u32,
    })
}

impl WetReadings {
    pub fn are_enough(&self) -> bool {
        self.count >= self.needed
    }
}

choices! {
    /// Standing of a film as it was laid to the one that was planned.
    FilmStanding {
        /// Read at enough places and not too thin at any, as far as the gauge can tell; what went on the
        /// floor does not speak against it.
        AsPlanned = "as-planned",
        /// Too thin: by what went on the floor, by the mean of enough readings, or at a place.
        Low = "low",
        /// Not read at enough places. It may be as planned or not.
        NotShown = "not-shown",
    }
}

/// The film of a coat as it was laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmAsLaid {
    /// Wet film that was planned.
    pub planned: Thickness,
    pub solids: Share,
    /// By mass balance; `None` where nobody wrote down what went on the floor.
    pub balance: Option<FilmRange>,
    /// `None` without a reading, and where the coat went down in two passes: a gauge reads one of them.
    pub readings: Option<WetReadings>,
}

impl FilmAsLaid {
    pub fn standing(&self) -> FilmStanding {
        if self.is_low_by_balance() || self.is_low_by_readings() {
            FilmStanding::Low
        } else if self.readings.is_some_and(|read| read.are_enough()) {
            FilmStanding::AsPlanned
        } else {
            FilmStanding::NotShown
        }
    }

    /// True where all that was used would not have made the film.
    pub fn is_low_by_balance(&self) -> bool {
        self.balance.is_some_and(|film| film.most < self.planned)
    }

    /// True where a place is too thin for certain, or the mean of enough places.
    pub fn is_low_by_readings(&self) -> bool {
        self.readings.is_some_and(|read| {
            read.thin > 0 || (read.are_enough() && read.mean.most < self.planned)
        })
    }

    /// Tells if what went on the floor and what was read can both be right; `None` where one is not known, or
    /// too few places were read to say what the mean is.
    pub fn agrees(&self) -> Option<bool> {
        let read = self.readings.filter(WetReadings::are_enough)?;
        Some(self.balance?.meets(read.mean))
    }
}
