//! The liquid coats on the crew sheet: how each is mixed, when its batches start, what its film has
//! to measure, and what has to hold before it goes down.

use serde::Serialize;

use crate::base::calendar::Moment;
use crate::base::figure::Figure;
use crate::base::names::Key;
use crate::base::quantity::*;
use crate::judge::checks::air_humidity;
use crate::judge::laid::film::places_to_read;
use crate::model::book::Resin;
use crate::model::job::Units;
use crate::model::system::{GritHow, Lay};
use crate::papers::prepare::sheet::Pair;
use crate::papers::proposal::writer::{Writer, joined};
use crate::price::batches::{BatchVerdict, Batches};
use crate::price::case::FloorOption;
use crate::price::estimate::materials::ProductNeed;
use crate::price::floor::{CoatStuff, FloorCoat};
use crate::price::schedule::LaidCoat;
use crate::say::figures::{CLOCK_STEP, Toward};
use crate::site::dew_point::{LEAST_SPREAD, dew_point};

/// Mixing instructions of one coat, with the figures that it has to reach.
#[derive(Debug, Clone, Serialize)]
pub struct Mix {
    pub coat: String,
    pub count: String,
    pub batch: String,
    /// Parts of one batch by volume, resin first.
    pub parts: Vec<Pair>,
    /// Start of the batches: clock times, or the first and the time between.
    pub starts: String,
    /// Earliest and latest hour; empty for the coat on the concrete.
    pub window: String,
    /// Working figures: area of a batch, pot life, film, spread, all of it.
    pub figures: Vec<Pair>,
    pub note: String,
}

/// Conditions before a coat goes down, with room to write what was measured.
#[derive(Debug, Clone, Serialize)]
pub struct Gate {
    pub coat: String,
    pub humidity: String,
    pub slab: String,
    pub spread: String,
}

/// Room to write down how a coat was laid, in the order of the keys of `[[laid]]`.
#[derive(Debug, Clone, Serialize)]
pub struct Blank {
    pub coat: String,
    /// Mixed, or thrown.
    pub used: String,
    /// The number of places to read; empty for flake and grit.
    pub places: String,
}

/// Dew points to read off: a row for each air temperature, a column for each humidity. The unit stands at the air
/// alone, so that no figures run into each other.
#[derive(Debug, Clone, Serialize)]
pub struct DewTable {
    pub humidities: Vec<String>,
    pub rows: Vec<DewRow>,
}

#[derive(Debug, Clone, Serialize)]
pub struct DewRow {
    pub air: String,
    pub dew_points: Vec<String>,
}

/// A liquid coat with all that was worked out for it.
pub struct LiquidCoat<'c> {
    pub coat: &'c FloorCoat<'c>,
    pub resin: &'c Resin,
    pub laid: &'c LaidCoat,
    pub batches: &'c Batches,
    pub volume: Volume,
}

/// More clock times than these are no glance: then the first and the time between say it.
const MOST_STARTS: u32 = 8;

pub fn coats<'c>(option: &'c FloorOption<'c>) -> Vec<LiquidCoat<'c>> {
    let e = &option.estimate;
    let coats = option.floor.resins().filter_map(|(coat, resin)| {
        let key = &coat.spec.key;
        let (_, batches) = e.batches.iter().find(|(of, _)| of == key)?;
        let volume = e.coat_volume(key)?;
        Some(LiquidCoat { coat, resin, laid: e.schedule.laid(key)?, batches, volume })
    });
    coats.collect()
}

impl LiquidCoat<'_> {
    /// Returns the start of the batches, counted from the time that the day's list shows.
    pub fn starts(&self, w: &Writer<'_>) -> String {
        let b = self.batches;
        let step = f64::from(CLOCK_STEP);
        let first = (self.laid.from.0.as_minutes() / step).round() * step;
        let start = |batch: u32| {
            let minutes = first + f64::from(batch) * b.every.as_minutes();
            w.figures.clock_face(Moment(Hours::minutes(minutes)))
        };
        if b.count > MOST_STARTS {
            let every = w.figures.minutes(Hours::minutes(b.every.as_minutes().round()));
            return w.say("crew.mix.rhythm", [("first", start(0)), ("every", every)]);
        }
        let times: Vec<String> = (0..b.count).map(start).collect();
        w.say("crew.mix.starts", [("times", times.join(", "))])
    }

    /// The earliest and the latest hour, each rounded to the safe side; empty for the first coat.
    fn window(&self, w: &Writer<'_>) -> String {
        let Some(window) = self.laid.window else { return String::new() };
        let say = |moment: Moment, toward: Toward| {
            let moment = toward.moment(moment, CLOCK_STEP);
            let clock = w.figures.crew_clock(moment);
            let day = match w.day_of(moment) {
                Some(date) => w.figures.date_short(date),
                None => w.say("time.tick", [("day", moment.day())]),
            };
            w.say("crew.sheet.other_day", [("day", day), ("clock", clock)])
        };
        let (from, to) = (say(window.from, Toward::More), say(window.to, Toward::Less));
        w.say("crew.mix.window", [("from", from), ("to", to)])
    }
}

/// The card of one coat.
pub fn mix(w: &Writer<'_>, option: &FloorOption<'_>, coat: &LiquidCoat<'_>) -> Mix {
    let b = coat.batches;
    let (batch, measured) = w.figures.batch(b.volume, &b.parts);
    // Parts of a mix go by letters, as on pails: A, B, C, D.
    let parts = ('A'..='Z').zip(measured).map(|(letter, part)| Pair {
        label: match b.parts.len() {
            1 => w.plain("crew.mix.whole"),
            _ => w.say("crew.mix.part", [("letter", letter.to_string())]),
        },
        value: w.figures.measured_out(part),
    });
    let note = joined([
        lay_note(w, option, coat),
        w.plain_if(b.verdict == BatchVerdict::Tight, "crew.mix.tight"),
        w.plain_if(coat.resin.whole_kits, "crew.mix.whole_kits"),
        w.plain_if(coat.resin.humidity_speeds, "crew.mix.humidity"),
    ]);
    let figures = [
        ("crew.mix.figures.covers", w.figure(b.area)),
        ("crew.mix.figures.gels", w.figures.minutes(b.pot_life)),
        ("crew.mix.figures.wet", w.figure(coat.coat.wet_film(coat.resin))),
        ("crew.mix.figures.dry", w.figure(coat.coat.dry_film(coat.resin))),
        ("crew.mix.figures.spread", w.figure(coat.coat.spread(coat.resin))),
        ("crew.mix.figures.all", w.figure(coat.volume)),
    ];
    let figures = figures.into_iter().map(|(name, value)| Pair { label: w.plain(name), value });
    Mix {
        coat: coat.coat.product.name.clone(),
        count: w.figures.number(f64::from(b.count), 0),
        batch: w.figures.measured_out(batch),
        parts: parts.collect(),
        starts: coat.starts(w),
        window: coat.window(w),
        figures: figures.collect(),
        note,
    }
}

/// The way in which a coat is laid, what is stirred into each of its batches and what is thrown into it;
/// empty for a coat that is rolled as it comes.
fn lay_note(w: &Writer<'_>, option: &FloorOption<'_>, coat: &LiquidCoat<'_>) -> String {
    let spec = coat.coat.spec;
    let batches = f64::from(coat.batches.count.max(1));
    let mut lines = vec![
        w.plain_if(spec.lay == Lay::Poured, "crew.mix.poured"),
        w.plain_if(spec.lay == Lay::Troweled, "crew.mix.troweled"),
    ];
    let stir = |name: &str, mass: Mass| {
        let each = w.figures.weighed_out(mass * (1.0 / batches));
        w.say("crew.mix.stir", [("name", name.to_owned()), ("mass", each)])
    };
    if let Some((product, pigment)) = coat.coat.pigment {
        lines.push(stir(&product.name, pigment.for_volume(coat.volume)));
    }
    for (grit, how, mass) in grits(option, &spec.key) {
        lines.push(match how {
            GritHow::Mixed => stir(&grit.product.name, mass),
            GritHow::Thrown => {
                let facts = [("name", grit.product.name.clone()), ("mass", w.figure(mass))];
                w.say("crew.mix.throw", facts)
            }
        });
    }
    joined(lines)
}

/// The grits that go into a liquid coat, each with its mass.
fn grits<'c>(
    option: &'c FloorOption<'c>,
    coat: &Key,
) -> impl Iterator<Item = (&'c FloorCoat<'c>, GritHow, Mass)> {
    let needs = &option.estimate.coats;
    option.floor.upon(coat).filter_map(|grit| {
        let CoatStuff::Grit(_, how) = grit.stuff else { return None };
        match needs.iter().find(|need| need.coat == grit.spec.key)?.need {
            ProductNeed::Solid(mass) => Some((grit, how, mass)),
            _ => None,
        }
    })
}

/// The blanks of every coat of a floor, bottom coat first.
pub fn blanks(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Blank> {
    let count = places_to_read(w.case.site.take_off.coated());
    let places = w.say("crew.blank.places", [("count", count)]);
    let blank = |coat: &FloorCoat<'_>| {
        let liquid = coat.resin().is_some();
        let used = if liquid { "crew.blank.mixed" } else { "crew.blank.thrown" };
        Blank {
            coat: coat.product.name.clone(),
            used: w.plain(used),
            places: if liquid { places.clone() } else { String::new() },
        }
    };
    option.floor.coats.iter().map(blank).collect()
}

/// Returns the conditions before a coat.
pub fn gate(w: &Writer<'_>, coat: &LiquidCoat<'_>) -> Gate {
    let resin = coat.resin;
    let most = Figure::Humidity(resin.air_humidity_to.unwrap_or(air_humidity::USUAL_LIMIT.value));
    let range = [("from", w.figure(resin.slab_from)), ("to", w.figure(resin.slab_to))];
    let spread = w.figure(resin.dew_spread.unwrap_or(LEAST_SPREAD));
    Gate {
        coat: coat.coat.product.name.clone(),
        humidity: w.say("crew.gate.at_most", [("limit", w.figure(most))]),
        slab: w.say("crew.gate.range", range),
        spread: w.say("crew.gate.at_least", [("limit", spread)]),
    }
}

/// Air temperatures and humidities of the table: those at which floors are laid.
pub fn dew_table(w: &Writer<'_>) -> DewTable {
    let airs = (0..=5).map(f64::from).map(|at| match w.case.job.units {
        Units::Us => Temperature::fahrenheit(45.0 + 10.0 * at),
        Units::Metric => Temperature::celsius(5.0 + 6.0 * at),
    });
    let humidities: Vec<Humidity> =
        (0..=6).map(|at| Humidity::percent(30.0 + 10.0 * f64::from(at))).collect();
    let rows = airs.map(|air| DewRow {
        air: w.figure(air),
        dew_points: humidities
            .iter()
            .map(|rh| w.figures.degrees_alone(dew_point(air, *rh)))
            .collect(),
    });
    DewTable {
        rows: rows.collect(),
        humidities: humidities.iter().map(|rh| w.figure(Figure::Humidity(*rh))).collect(),
    }
}
