//! The floor as it was laid, held against the plan and the data sheets: films, windows, conditions, and the
//! times at which it may really be used. Nothing here is a verdict on what nobody wrote down.

pub mod conditions;
pub mod film;
pub mod times;
pub mod window;

use jiff::civil::Date;

use crate::base::lists::each_once;
use crate::base::quantity::{Area, Hours, Share, Temperature, Thickness, Volume};
use crate::judge::checks::Limit;
use crate::judge::laid::conditions::{Conditions, conditions};
use crate::judge::laid::film::{
    FilmAsLaid, FilmStanding, Spent, balance, places_to_read, readings,
};
use crate::judge::laid::times::{RealTimes, real_times};
use crate::judge::laid::window::{WindowAsLaid, uncovered, window};
use crate::model::book::Resin;
use crate::model::job::{CoatRecord, Job};
use crate::price::case::{Case, FloorOption};
use crate::price::cure::cure_at;
use crate::price::film::texture_fill;
use crate::price::floor::{Floor, FloorCoat};
use crate::price::repair;
use crate::price::whole;
use crate::read::Input;

/// The floor of a job as it was laid.
#[derive(Debug, Clone)]
pub struct FloorAsLaid<'a> {
    /// The floor that was agreed, with the extras of all coats that are recorded.
    pub floor: Floor<'a>,
    /// Every coat of it, bottom coat first.
    pub coats: Vec<CoatAsLaid<'a>>,
    /// `None` where the last coat is not recorded, or its times are not known.
    pub times: Option<RealTimes>,
}

/// One coat of the floor.
#[derive(Debug, Clone)]
pub struct CoatAsLaid<'a> {
    pub coat: FloorCoat<'a>,
    /// False for a coat of an extra that was not agreed.
    pub agreed: bool,
    /// Empty where the coat is not recorded.
    pub records: Vec<RecordAsLaid<'a>>,
    /// The area that the records cover.
    pub area: Area,
    /// Its share of the floor; never above all of it.
    pub covered: Share,
    /// `None` for flake and grit, and for a coat that is not recorded.
    pub film: Option<FilmAsLaid>,
}

/// One record of a liquid coat, or of flake or grit.
#[derive(Debug, Clone)]
pub struct RecordAsLaid<'a> {
    pub record: &'a CoatRecord,
    /// `None` for flake and grit.
    pub conditions: Option<Conditions>,
    /// `None` for the coat on the concrete, and for flake and grit.
    pub window: Option<WindowAsLaid>,
    /// `None` where it cannot be told.
    pub pot_life: Option<PotLifeAsLaid>,
}

/// The time that a batch took on the floor, on the average, against the pot life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotLifeAsLaid {
    /// From the moment its parts met to the moment the last of it was down, for as many batches as planned.
    pub took: Hours,
    pub pot_life: Hours,
}

impl PotLifeAsLaid {
    pub fn is_passed(&self) -> bool {
        self.took > self.pot_life
    }
}

/// A floor is recorded when this much of it is: a corner that was measured again is no gap.
pub const COVERED: Limit<Share> = Limit::common_practice(Share::percent(95.0));

impl CoatAsLaid<'_> {
    /// The name of its product, by which people know it.
    pub fn name(&self) -> &str {
        &self.coat.product.name
    }

    /// The number of places at which its wet film is read.
    pub fn places_to_read(&self) -> u32 {
        places_to_read(self.area)
    }

    /// True where records cover the floor.
    pub fn is_recorded(&self) -> bool {
        self.covered >= COVERED.value
    }

    pub fn film_standing(&self) -> Option<FilmStanding> {
        self.film.as_ref().map(FilmAsLaid::standing)
    }

    /// The numbers of all batches that were opened for it, in their order, each once.
    pub fn batches(&self) -> Vec<&str> {
        let all = self.records.iter().flat_map(|one| &one.record.batches).map(String::as_str);
        each_once(all)
    }
}

impl<'a> FloorAsLaid<'a> {
    /// True when every liquid coat that was agreed is recorded on the whole floor. Flake and grit lie in
    /// those: their own records may be left out.
    pub fn is_complete(&self) -> bool {
        self.liquids().all(|coat| !coat.agreed || coat.is_recorded())
    }

    /// The liquid coats, bottom coat first.
    pub fn liquids(&self) -> impl DoubleEndedIterator<Item = &CoatAsLaid<'a>> {
        self.coats.iter().filter(|coat| coat.coat.resin().is_some())
    }

    /// The day of the last record.
    pub fn last_day(&self) -> Option<Date> {
        self.records().map(|(_, one)| one.record.end.unwrap_or(one.record.start).date()).max()
    }

    /// All records, in the order of the coats.
    pub fn records(&self) -> impl Iterator<Item = (&CoatAsLaid<'a>, &RecordAsLaid<'a>)> {
        self.coats.iter().flat_map(|coat| coat.records.iter().map(move |record| (coat, record)))
    }
}

/// The day of the last coat, once every floor that was agreed is recorded; `None` before that.
pub fn laid_on(input: &Input) -> Option<Date> {
    let spaces = input.job.of_spaces();
    let jobs = if spaces.is_empty() { std::slice::from_ref(&input.job) } else { &spaces };
    let ordered: Vec<Job> =
        jobs.iter().filter(|job| job.agreed_by_orders().is_some()).cloned().collect();
    let days = whole::alone(input, &ordered).iter().map(last_day).collect::<Option<Vec<Date>>>();
    days?.into_iter().max()
}

fn last_day(case: &Case<'_>) -> Option<Date> {
    floor_as_laid(case).filter(FloorAsLaid::is_complete)?.last_day()
}

/// Holds the records of a job against the floor that was agreed; `None` in a job without a record.
pub fn floor_as_laid<'a>(case: &Case<'a>) -> Option<FloorAsLaid<'a>> {
    let job = case.job;
    if job.laid.is_empty() {
        return None;
    }
    let agreed = Job { accepted: Some(job.agreed_by_orders()?), ..job.clone() };
    let chosen = agreed.accepted.as_ref().map(|accepted| &accepted.floor)?;
    let option = case.options.iter().find(|option| option.key() == chosen)?;
    let system = option.floor.system;
    let extras = Floor::chosen_extras(&agreed, &system.key);
    let recorded = system.coats.iter().filter(|coat| job.records_of(&coat.key).next().is_some());
    let mut all = extras.clone();
    all.extend(recorded.filter_map(|coat| coat.extra.clone()));
    let floor = Floor::new(system, case.book, &all);
    let mut coats: Vec<CoatAsLaid<'a>> = vec![];
    for coat in &floor.coats {
        let below = coats.iter().rev().find(|below| below.coat.resin().is_some());
        let agreed = coat.spec.extra.as_ref().is_none_or(|extra| extras.contains(extra));
        coats.push(coat_as_laid(case, option, *coat, below, agreed));
    }
    let times = real_times(case, option, &coats);
    Some(FloorAsLaid { floor, coats, times })
}

fn coat_as_laid<'a>(
    case: &Case<'a>,
    option: &FloorOption<'a>,
    coat: FloorCoat<'a>,
    below: Option<&CoatAsLaid<'a>>,
    agreed: bool,
) -> CoatAsLaid<'a> {
    let all: Vec<&'a CoatRecord> =
        case.job.laid.iter().filter(|one| one.coat.value == coat.spec.key).collect();
    let coated = case.site.take_off.coated();
    let parts = all.iter().filter(|record| !record.again);
    let area: Area = parts.map(|record| record.area.unwrap_or(coated)).sum();
    let covered = if coated > Area::ZERO { (area / coated).min(1.0) } else { 0.0 };
    let records = all.iter().map(|&record| {
        let Some(resin) = coat.resin() else {
            return RecordAsLaid { record, conditions: None, window: None, pot_life: None };
        };
        RecordAsLaid {
            record,
            conditions: Some(conditions(resin, record)),
            window: window_of(case, resin, &all, below, record),
            pot_life: pot_life(case, option, &coat, resin, record),
        }
    });
    let records: Vec<RecordAsLaid<'a>> = records.collect();
    let film = coat.resin().filter(|_| !all.is_empty());
    let film = film.map(|resin| film_of(case, &coat, resin, below.is_none(), &all, area));
    CoatAsLaid { coat, agreed, area, covered: Share::of_one(covered), film, records }
}

/// The window of a record over the coat below it; of a second pass, over the first.
fn window_of(
    case: &Case<'_>,
    resin: &Resin,
    own: &[&CoatRecord],
    below: Option<&CoatAsLaid<'_>>,
    record: &CoatRecord,
) -> Option<WindowAsLaid> {
    let calendar = &case.shop.calendar;
    if record.again {
        return Some(window(calendar, resin, &uncovered(own, record.start), record));
    }
    let below = below?;
    let records: Vec<&CoatRecord> = below.records.iter().map(|one| one.record).collect();
    Some(window(calendar, below.coat.resin()?, &uncovered(&records, record.start), record))
}

/// The film of a coat from all of its records.
fn film_of(
    case: &Case<'_>,
    coat: &FloorCoat<'_>,
    resin: &Resin,
    on_concrete: bool,
    records: &[&CoatRecord],
    area: Area,
) -> FilmAsLaid {
    let planned = coat.wet_film(resin);
    let coated = case.site.take_off.coated();
    let part = if coated > Area::ZERO { area / coated } else { 0.0 };
    let fills = |volume: Volume| {
        if on_concrete { volume * part } else { Volume::ZERO }
    };
    let depth = case.job.slab.texture.unwrap_or(case.book.prep.texture);
    let repairs = repair::repairs(&case.job.shapes, case.book);
    let used: Option<Volume> = records.iter().map(|record| record.used).sum();
    let spent = used.filter(|_| area > Area::ZERO).map(|used| Spent {
        used,
        area,
        texture: fills(texture_fill(case.site.take_off.floor, depth)),
        cracks: fills(repair::into_first_coat(&repairs)),
        loss: resin.loss,
    });
    let once = records.iter().all(|record| !record.again);
    let read: Vec<(Thickness, Option<Thickness>)> = records
        .iter()
        .flat_map(|record| record.films.iter().map(|film| (*film, record.gauge_step)))
        .collect();
    FilmAsLaid {
        planned,
        solids: resin.solids,
        balance: spent.map(|spent| balance(&spent)),
        readings: once.then(|| readings(&read, planned, area)).flatten(),
    }
}

/// The time that a batch took, where start, end and temperature are known. The coat is taken to have been
/// mixed in as many batches as planned, in each part of it as many as the part takes.
fn pot_life(
    case: &Case<'_>,
    option: &FloorOption<'_>,
    coat: &FloorCoat<'_>,
    resin: &Resin,
    record: &CoatRecord,
) -> Option<PotLifeAsLaid> {
    let (end, slab): (_, Temperature) = (record.end?, record.slab?);
    let (_, planned) = option.estimate.batches.iter().find(|(key, _)| *key == coat.spec.key)?;
    if record.again {
        return None;
    }
    let coated = case.site.take_off.coated();
    let part = record.area.map_or(1.0, |area| (area / coated).min(1.0));
    let count = (f64::from(planned.count) * part).ceil().max(1.0);
    let laid = case.shop.calendar.between(record.start, end);
    let cure = cure_at(resin, slab).ok()?;
    let took = case.book.mixing.time + laid * (1.0 / count);
    Some(PotLifeAsLaid { took, pot_life: cure.times.pot_life })
}
