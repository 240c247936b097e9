//! The crew sheet: one job's work at a glance, for gloved hands. Hours, film targets and mixes are
//! the shop's own, so it never goes to a customer.

use serde::Serialize;

use crate::batches::{Batches, Verdict};
use crate::book::Resin;
use crate::checks::air_humidity;
use crate::estimate::labour::Task;
use crate::figures::Figure;
use crate::floor::FloorCoat;
use crate::options::Choice;
use crate::prepare::controls::{self, Control};
use crate::prepare::days::{task_name, visits};
use crate::proposal::page::Frame;
use crate::proposal::writer::{Writer, values};
use crate::proposal::{Issue, frame};
use crate::quantity::*;
use crate::repair::{self, Method, Place, Repair};
use crate::schedule::{LaidCoat, Stretch};
use crate::site::dew_point::{LEAST_SPREAD, dew_point};
use crate::words::WordsError;

/// The crew sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct CrewSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub floor: String,
    /// Floor, crew, slab: label and value.
    pub facts: Vec<Pair>,
    pub days: Vec<Day>,
    pub basis: String,
    pub mixes: Vec<Mix>,
    pub films: Vec<Film>,
    pub repairs: Vec<Mend>,
    pub gates: Vec<Gate>,
    pub dew: DewTable,
    pub stops: Vec<String>,
    pub controls: Vec<Control>,
    pub tools: Vec<String>,
    pub waste: Vec<String>,
    pub notes: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Pair {
    pub label: String,
    pub value: String,
}

/// A day on site.
#[derive(Debug, Clone, Serialize)]
pub struct Day {
    pub title: String,
    pub tasks: Vec<TaskRow>,
}

#[derive(Debug, Clone, Serialize)]
pub struct TaskRow {
    pub from: String,
    pub to: String,
    pub task: String,
    pub how: String,
}

/// How one coat is mixed.
#[derive(Debug, Clone, Serialize)]
pub struct Mix {
    pub coat: String,
    pub count: String,
    pub batch: String,
    /// Parts of one batch by volume, resin first.
    pub parts: Vec<Pair>,
    pub covers: String,
    pub every: String,
    pub gels: String,
    pub note: String,
}

/// What a coat has to measure.
#[derive(Debug, Clone, Serialize)]
pub struct Film {
    pub coat: String,
    pub wet: String,
    pub dry: String,
    pub spread: String,
    pub all: String,
    pub from: String,
    pub to: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct Mend {
    pub place: String,
    pub size: String,
    pub how: String,
    pub amount: String,
}

/// What has to hold before a coat goes down, with room to write what was measured.
#[derive(Debug, Clone, Serialize)]
pub struct Gate {
    pub coat: String,
    pub slab: String,
    pub spread: String,
    pub humidity: String,
}

/// Dew points to read off: a row for each air temperature, a column for each humidity.
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

/// Puts the crew sheet of a floor into words.
///
/// # Errors
/// [`WordsError`] when a sentence is missing or uses a value that it is not given.
pub fn crew_sheet(
    w: &Writer<'_>,
    choice: &Choice<'_>,
    issue: &Issue,
) -> Result<CrewSheet, WordsError> {
    let job = values([("job", w.case.job.number.0.as_str())]);
    let repairs = repair::repairs(&w.case.job.shapes, w.case.book);
    let coats = coats(choice);
    let (slab, measured) = w.planned_slab();
    let basis = if measured { "crew.basis.measured" } else { "crew.basis.assumed" };
    Ok(CrewSheet {
        frame: frame(w, issue, w.say("crew.sheet.title", job)?, w.words.crew_labels.clone())?,
        floor: w.name(choice.key()),
        facts: facts(w, choice)?,
        days: days(w, choice, &coats, &repairs)?,
        basis: w.say(basis, values([("slab", slab)]))?,
        mixes: coats.iter().map(|coat| mix(w, coat)).collect::<Result<_, _>>()?,
        films: coats.iter().map(|coat| film(w, coat)).collect::<Result<_, _>>()?,
        repairs: mends(w, &repairs)?,
        gates: coats.iter().map(|coat| gate(w, coat)).collect(),
        dew: dew_table(w),
        stops: controls::stops(w)?,
        controls: controls::controls(w, choice)?,
        tools: controls::tools(w, choice)?,
        waste: controls::waste(w, choice)?,
        notes: w.case.job.crew_notes.clone(),
    })
}

/// A liquid coat with all that was worked out for it.
struct Coat<'c> {
    coat: &'c FloorCoat<'c>,
    resin: &'c Resin,
    laid: &'c LaidCoat,
    batches: &'c Batches,
    volume: Volume,
}

fn coats<'c>(choice: &'c Choice<'c>) -> Vec<Coat<'c>> {
    let e = &choice.estimate;
    choice
        .floor
        .resins()
        .filter_map(|(coat, resin)| {
            let key = &coat.spec.key;
            let (_, batches) = e.batches.iter().find(|(of, _)| of == key)?;
            let volume = e.coat_volume(key)?;
            Some(Coat { coat, resin, laid: e.schedule.laid(key)?, batches, volume })
        })
        .collect()
}

fn facts(w: &Writer<'_>, choice: &Choice<'_>) -> Result<Vec<Pair>, WordsError> {
    let take_off = &w.case.site.take_off;
    let mut facts = vec![];
    let mut add = |label: &str, value: String| -> Result<(), WordsError> {
        facts.push(Pair { label: w.plain(&format!("crew.facts.{label}"))?, value });
        Ok(())
    };
    add("floor", w.figure(take_off.floor))?;
    add("upright", w.figure(take_off.upright))?;
    add("edge", w.figure(take_off.edge))?;
    add("crew", w.figures.number(f64::from(choice.estimate.crew), 0))?;
    if let Some(air) = w.case.site.air {
        add("slab", w.figure(air.slab))?;
    }
    add("drive", w.moment(choice.estimate.schedule.drive)?)?;
    Ok(facts)
}

// ---------------------------------------------------------------------------------------- days

fn days(
    w: &Writer<'_>,
    choice: &Choice<'_>,
    coats: &[Coat<'_>],
    repairs: &[Repair<'_>],
) -> Result<Vec<Day>, WordsError> {
    let mut days = vec![];
    for (at, stretches) in visits(&choice.estimate.schedule.stretches).into_iter().enumerate() {
        let date = stretches.first().and_then(|stretch| w.day_of(stretch.from));
        let title = values([
            ("day", w.figures.number((at + 1) as f64, 0)),
            ("date", date.map_or_else(String::new, |date| w.date(date))),
        ]);
        let mut tasks = vec![];
        for stretch in stretches {
            tasks.push(TaskRow {
                from: w.figures.crew_clock(stretch.from),
                to: w.figures.crew_clock(stretch.to),
                task: task_name(w, choice, &stretch.task)?,
                how: how(w, stretch, coats, repairs)?,
            });
        }
        days.push(Day { title: w.say("crew.sheet.day", title)?, tasks });
    }
    Ok(days)
}

/// What a crew has to know of a task at a glance.
fn how(
    w: &Writer<'_>,
    stretch: &Stretch,
    coats: &[Coat<'_>],
    repairs: &[Repair<'_>],
) -> Result<String, WordsError> {
    let take_off = &w.case.site.take_off;
    match &stretch.task {
        Task::SetUp => w.plain("crew.how.set_up"),
        Task::Strip => w.say("crew.how.strip", values([("area", w.figure(take_off.floor))])),
        Task::Grind => w.say("crew.how.grind", values([("area", w.figure(take_off.floor))])),
        Task::Edge => w.say("crew.how.edge", values([("length", w.figure(take_off.edge))])),
        Task::Repair => {
            let sets = repair::sets(repairs).map_or_else(String::new, |sets| w.figure(sets));
            w.say("crew.how.repair", values([("sets", sets)]))
        }
        Task::Scrape => w.plain("crew.how.scrape"),
        Task::CleanUp => w.plain("crew.how.clean_up"),
        Task::Coat(key) => {
            let Some(coat) = coats.iter().find(|coat| coat.coat.spec.key == *key) else {
                return Ok(String::new());
            };
            let (from, to) = window(w, coat)?;
            w.say(
                "crew.how.coat",
                values([
                    ("count", w.figures.number(f64::from(coat.batches.count), 0)),
                    ("batch", w.figures.measured_out(coat.batches.volume)),
                    ("wet", w.figure(coat.coat.wet_film(coat.resin))),
                    ("from", from),
                    ("to", to),
                ]),
            )
        }
    }
}

/// The earliest and the latest hour of a coat; empty for the first.
fn window(w: &Writer<'_>, coat: &Coat<'_>) -> Result<(String, String), WordsError> {
    let Some(window) = coat.laid.window else { return Ok((String::new(), String::new())) };
    let say = |moment: crate::calendar::Moment| {
        let clock = w.figures.crew_clock(moment);
        if moment.day() == coat.laid.from.day() {
            return Ok(clock);
        }
        let day = match w.day_of(moment) {
            Some(date) => w.figures.date_short(date),
            None => w.say("time.tick", values([("day", moment.day())]))?,
        };
        w.say("crew.sheet.other_day", values([("day", day), ("clock", clock)]))
    };
    Ok((say(window.from)?, say(window.to)?))
}

// --------------------------------------------------------------------------------------- coats

fn mix(w: &Writer<'_>, coat: &Coat<'_>) -> Result<Mix, WordsError> {
    let b = coat.batches;
    let mut parts = vec![];
    for (at, part) in b.parts.iter().enumerate() {
        let name = match (b.parts.len(), at) {
            (1, _) => w.plain("crew.mix.whole")?,
            (_, at) => w.say("crew.mix.part", values([("letter", letter(at))]))?,
        };
        parts.push(Pair { label: name, value: w.figures.measured_out(*part) });
    }
    let mut notes = vec![];
    if b.verdict == Verdict::Tight {
        notes.push(w.plain("crew.mix.tight")?);
    }
    if coat.resin.whole_kits {
        notes.push(w.plain("crew.mix.whole_kits")?);
    }
    if coat.resin.humidity_speeds {
        notes.push(w.plain("crew.mix.humidity")?);
    }
    let minutes = |time| w.figures.minutes(time);
    Ok(Mix {
        coat: coat.coat.product.name.clone(),
        count: w.figures.number(f64::from(b.count), 0),
        batch: w.figures.measured_out(b.volume),
        parts,
        covers: w.figure(b.area),
        every: minutes(b.every),
        gels: minutes(b.pot_life),
        note: notes.join(" "),
    })
}

/// Parts of a mix go by letters, as on pails: A, B, C, D.
fn letter(at: usize) -> String {
    char::from(b'A' + u8::try_from(at % 26).unwrap_or(0)).to_string()
}

fn film(w: &Writer<'_>, coat: &Coat<'_>) -> Result<Film, WordsError> {
    let (from, to) = window(w, coat)?;
    let any = w.plain("crew.sheet.any_time")?;
    Ok(Film {
        coat: coat.coat.product.name.clone(),
        wet: w.figure(coat.coat.wet_film(coat.resin)),
        dry: w.figure(coat.coat.dry_film(coat.resin)),
        spread: w.figure(coat.coat.spread(coat.resin)),
        all: w.figure(coat.volume),
        from: if from.is_empty() { any.clone() } else { from },
        to: if to.is_empty() { any } else { to },
    })
}

fn gate(w: &Writer<'_>, coat: &Coat<'_>) -> Gate {
    let range = [w.figure(coat.resin.slab_from), w.figure(coat.resin.slab_to)];
    Gate {
        coat: coat.coat.product.name.clone(),
        slab: range.join(" – "),
        spread: w.figure(coat.resin.dew_spread.unwrap_or(LEAST_SPREAD)),
        humidity: w.figure(Figure::Humidity(
            coat.resin.air_humidity_to.unwrap_or(air_humidity::USUAL_LIMIT),
        )),
    }
}

/// Air temperatures and humidities of the table: those at which floors are laid.
fn dew_table(w: &Writer<'_>) -> DewTable {
    let us = w.case.job.units == crate::job::Units::Us;
    let airs: Vec<Temperature> = if us {
        (0..=5).map(|at| Temperature::fahrenheit(45.0 + 10.0 * f64::from(at))).collect()
    } else {
        (0..=5).map(|at| Temperature::celsius(5.0 + 6.0 * f64::from(at))).collect()
    };
    let humidities: Vec<Humidity> =
        (0..=6).map(|at| Humidity::percent(30.0 + 10.0 * f64::from(at))).collect();
    let rows = airs.iter().map(|air| DewRow {
        air: w.figure(*air),
        dew_points: humidities.iter().map(|rh| w.figure(dew_point(*air, *rh))).collect(),
    });
    DewTable {
        rows: rows.collect(),
        humidities: humidities.iter().map(|rh| w.figure(Figure::Humidity(*rh))).collect(),
    }
}

// ------------------------------------------------------------------------------------- repairs

fn mends(w: &Writer<'_>, repairs: &[Repair<'_>]) -> Result<Vec<Mend>, WordsError> {
    let mut rows = vec![];
    for repair in repairs {
        let kind = match repair.place {
            Place::Crack(_) => "crack",
            Place::Joint(_) => "joint",
            Place::Spall(_) => "spall",
            Place::Cove(_) => "cove",
        };
        let how = match &repair.method {
            Method::FirstCoat => w.plain("crew.mend.first_coat")?,
            Method::Open => w.plain("crew.mend.open")?,
            Method::Filled(product, filler) => {
                let kind = match (repair.place, filler.flexible) {
                    (Place::Crack(_), false) => "crew.mend.rigid",
                    (Place::Crack(_) | Place::Joint(_), _) => "crew.mend.flexible",
                    (Place::Spall(_), _) => "crew.mend.patch",
                    (Place::Cove(_), _) => "crew.mend.cove",
                };
                w.say(kind, values([("product", product.name.as_str())]))?
            }
        };
        let name = place_name(&repair.place);
        rows.push(Mend {
            place: if name.is_empty() { w.plain(&format!("crew.place.{kind}"))? } else { name },
            size: place_size(w, &repair.place)?,
            how,
            amount: if repair.volume > Volume::ZERO {
                w.figures.measured_out(repair.volume)
            } else {
                String::new()
            },
        });
    }
    Ok(rows)
}

fn place_name(place: &Place<'_>) -> String {
    match place {
        Place::Crack(crack) => crack.name.clone(),
        Place::Joint(joint) => joint.name.clone(),
        Place::Spall(spall) => spall.name.clone(),
        Place::Cove(cove) => cove.name.clone(),
    }
}

fn place_size(w: &Writer<'_>, place: &Place<'_>) -> Result<String, WordsError> {
    let pair = |name: &str, a: String, b: String| w.say(name, values([("a", a), ("b", b)]));
    match place {
        Place::Crack(crack) => {
            pair("crew.mend.long_wide", w.figure(crack.length), w.figure(crack.width))
        }
        Place::Joint(joint) => Ok(w.figure(joint.length)),
        Place::Spall(spall) => {
            pair("crew.mend.area_deep", w.figure(spall.area), w.figure(spall.depth))
        }
        Place::Cove(cove) => {
            pair("crew.mend.long_round", w.figure(cove.length), w.figure(cove.radius))
        }
    }
}
