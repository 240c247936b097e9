//! The sheet for a floor that failed: what to look at, in the order in which one looks, what each sign speaks for
//! and against, and what was on record. It names no cause.

use minijinja::context;
use serde::Serialize;

use crate::base::figure::Figure;
use crate::base::names::FixedWords;
use crate::base::quantity::Hours;
use crate::judge::laid::CoatAsLaid;
use crate::judge::laid::window::WindowAsLaid;
use crate::model::failure::{Behind, BlisterLiquid, BreakAt, Failure, FailureKind, FailurePlace};
use crate::model::job::{Job, Known, PhotoWhen};
use crate::papers::after::handover::{films, times_of};
use crate::papers::after::laid::{LaidFloor, last_coat};
use crate::papers::family::Message;
use crate::papers::proposal::page::{Fact, Frame, Picture};
use crate::papers::proposal::writer::Writer;
use crate::papers::proposal::{Issue, Written, frame, photos_of, poured};
use crate::price::floor::FloorCoat;
use crate::say::words::WordsError;
use crate::site::moisture::{Series, days_between};
use crate::site::standing::Headroom;

/// The sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct FailureSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub message: Message,
    pub intro: String,
    /// Dangers to people.
    pub always: Vec<String>,
    pub defer: String,
    /// Steps in their order, from the first photo on.
    pub to_do: Vec<String>,
    /// Failures that were written down.
    pub seen: Vec<SeenFailure>,
    /// In their place where there are none.
    pub no_seen: String,
    pub photos: Vec<Picture>,
    pub steps: Vec<LookStep>,
    /// The record of each floor that was laid.
    pub records: Vec<FloorRecord>,
    /// Measurements to make now, each with room for its reading.
    pub measure: Vec<String>,
    pub no_verdict: String,
    pub sources: Vec<String>,
}

/// A failure as it was written down.
#[derive(Debug, Clone, Serialize)]
pub struct SeenFailure {
    pub title: String,
    pub facts: Vec<Fact>,
}

/// One question, with the signs that may answer it.
#[derive(Debug, Clone, Serialize)]
pub struct LookStep {
    pub title: String,
    pub rows: Vec<SignRow>,
}

/// A sign: what it speaks for and against, and the mark of the failures that show it.
#[derive(Debug, Clone, Serialize)]
pub struct SignRow {
    /// Empty where it was not written down.
    pub mark: String,
    pub sign: String,
    pub speaks_for: String,
    pub speaks_against: String,
}

/// The record of one floor.
#[derive(Debug, Clone, Serialize)]
pub struct FloorRecord {
    /// The floor, with its space where the job has several.
    pub title: String,
    pub slab: Vec<Fact>,
    /// The coats from the concrete up.
    pub coats: Vec<Vec<String>>,
    /// In their place where none was written down.
    pub no_coats: String,
}

/// Puts the sheet into words; `job` is the whole job.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn failure_sheet(
    w: &Writer<'_>,
    job: &Job,
    floors: &[LaidFloor<'_, '_>],
    issue: &Issue,
) -> Result<FailureSheet, WordsError> {
    let title = w.say("failure.title", [("customer", job.customer.name_on_paper().as_ref())]);
    let mut frame = frame(w, issue, title, w.words.labels_of("failure"));
    frame.head.valid_until = None;
    let failures = &job.failures;
    let none = minijinja::Value::UNDEFINED;
    let dangers = context! {
        scan => floors.iter().any(|floor| floor.w.case.job.slab.needs_scan()),
        lead => job.house.built.is_none_or(|built| built < LEAD_BEFORE),
    };
    let sheet = FailureSheet {
        frame,
        message: Message { lead: w.plain("failure.lead"), says: w.plain("failure.says") },
        intro: w.say_with(
            "failure.intro",
            context! { seen => !failures.is_empty(), count => failures.len() },
        ),
        always: w.lines("failure.always", &dangers),
        defer: w.plain("failure.defer"),
        to_do: w.lines("failure.do", &none),
        seen: (1..).zip(failures).map(|(number, one)| seen(w, job, number, one)).collect(),
        no_seen: w.plain_if(failures.is_empty(), "failure.no_seen"),
        photos: photos_of(w, job, PhotoWhen::Failure, issue),
        steps: steps(w, job),
        records: floors.iter().map(record).collect(),
        measure: w.lines("failure.measure", &none),
        no_verdict: w.plain("failure.no_verdict"),
        sources: w.lines("failure.sources", &none),
    };
    floors.iter().try_fold(w.checked(sheet)?, |sheet, floor| floor.w.checked(sheet))
}

/// Houses built before this year may hold lead paint: 40 CFR 745.83, target housing.
const LEAD_BEFORE: u32 = 1978;

// ------------------------------------------------------------------------------------- what was seen

fn seen(w: &Writer<'_>, job: &Job, number: usize, failure: &Failure) -> SeenFailure {
    let sign = |group: &str, word: &str| w.plain(&format!("failure.{group}.{word}.sign"));
    let title = context! {
        number => number,
        count => job.failures.len(),
        kind => sign("kind", failure.kind.word()),
    };
    let unknown = || w.plain("failure.none_marked");
    let mut facts = vec![];
    let mut add = |label: &str, value: Option<String>| {
        let value = value.unwrap_or_else(unknown);
        facts.push(w.fact(&format!("failure.fact.{label}"), value, String::new()));
    };
    let date = w.date(failure.seen);
    let seen = match last_coat(job).filter(|last| *last <= failure.seen) {
        Some(last) => {
            let days = w.figures.days(days_between(last, failure.seen));
            w.say("failure.date_laid", [("date", date), ("days", days)])
        }
        None => date,
    };
    add("seen", Some(seen));
    if job.has_spaces() {
        add("space", failure.space.clone());
    }
    add("area", failure.area.map(|area| w.figures.small_area(area)));
    let places = failure.places.iter().map(|place| sign("place", place.word()));
    let places: Vec<String> = places.collect();
    add("places", (!places.is_empty()).then(|| places.join("; ")));
    add("break", failure.breaks.map(|at| sign("break", at.word())));
    if let Some(coat) = &failure.coat {
        add("coat", Some(coat_name(w, job, failure, &coat.value.0)));
    }
    let behind = failure.behind.as_ref().map(|found| match found.as_slice() {
        [] => sign("behind", Behind::Nothing.word()),
        found => found.iter().map(|one| sign("behind", one.word())).collect::<Vec<_>>().join("; "),
    });
    add("behind", behind);
    add("liquid", failure.liquid.map(|liquid| sign("liquid", liquid.word())));
    add("ph", failure.ph.map(|ph| w.figure(Figure::Ph(ph))));
    if let Some(note) = &failure.note {
        add("note", Some(note.clone()));
    }
    SeenFailure { title: w.say_with("failure.seen_title", title), facts }
}

/// The name of a coat of the floor that a failure is in.
fn coat_name(w: &Writer<'_>, job: &Job, failure: &Failure, key: &str) -> String {
    let floor = job.agreed_floor(failure.space.as_deref());
    let words = floor.and_then(|floor| w.choice(&floor)).map(|option| w.system(&option.floor));
    let coat = words.and_then(|mut words| words.coats.remove(key));
    coat.map_or_else(|| key.to_owned(), |coat| coat.name)
}

// ---------------------------------------------------------------------------------------- what to look at

fn steps(w: &Writer<'_>, job: &Job) -> Vec<LookStep> {
    let step = |name: &str, rows: Vec<SignRow>| LookStep {
        title: w.plain(&format!("failure.step.{name}")),
        rows,
    };
    let kinds = rows::<FailureKind>(w, job, "kind", |seen, kind| seen.kind == kind);
    let places = rows::<FailurePlace>(w, job, "place", |seen, place| seen.places.contains(&place));
    let breaks = rows::<BreakAt>(w, job, "break", |seen, at| seen.breaks == Some(at));
    let behind = rows::<Behind>(w, job, "behind", |seen, one| match (&seen.behind, one) {
        (Some(found), Behind::Nothing) => found.is_empty(),
        (Some(found), one) => found.contains(&one),
        (None, _) => false,
    });
    let liquids =
        rows::<BlisterLiquid>(w, job, "liquid", |seen, liquid| seen.liquid == Some(liquid));
    let times = TIMES.iter().map(|time| row(w, "time", time, String::new())).collect();
    vec![
        step("kind", kinds),
        step("place", places),
        step("time", times),
        step("break", breaks),
        step("behind", behind),
        step("liquid", liquids),
    ]
}

/// The times at which a failure may start, by their names in the words. Nobody but those who were there know: none
/// is marked.
const TIMES: &[&str] = &["hours", "days", "years", "later"];

fn rows<T: FixedWords>(
    w: &Writer<'_>,
    job: &Job,
    group: &str,
    shows: impl Fn(&Failure, T) -> bool,
) -> Vec<SignRow> {
    let row_of = |(word, sign): &(&str, T)| {
        let numbered = (1..).zip(&job.failures).filter(|(_, seen)| shows(seen, *sign));
        let numbers: Vec<usize> = numbered.map(|(number, _)| number).collect();
        let mark = match (numbers.as_slice(), job.failures.len()) {
            ([], _) => String::new(),
            (_, 1) => w.plain("failure.mark"),
            (numbers, _) => numbers.iter().map(usize::to_string).collect::<Vec<_>>().join(", "),
        };
        row(w, group, word, mark)
    };
    T::WORDS.iter().map(row_of).collect()
}

fn row(w: &Writer<'_>, group: &str, word: &str, mark: String) -> SignRow {
    let say = |what: &str| w.plain(&format!("failure.{group}.{word}.{what}"));
    SignRow {
        mark,
        sign: say("sign"),
        speaks_for: say("speaks_for"),
        speaks_against: say("speaks_against"),
    }
}

// ---------------------------------------------------------------------------------------- what was on record

fn record(floor: &LaidFloor<'_, '_>) -> FloorRecord {
    let w = floor.w;
    let coats = floor.coats();
    let recorded = coats.iter().any(|(_, laid)| laid.is_some());
    FloorRecord {
        title: floor.headed(&w.name(floor.option.key())),
        slab: slab_facts(floor),
        coats: coats
            .iter()
            .filter(|_| recorded)
            .map(|(coat, laid)| coat_row(floor, coat, *laid))
            .collect(),
        no_coats: w.plain_if(!recorded, "failure.record.no_coats"),
    }
}

/// A coat's name, when and in what weather it went on, its film, and its time over the coat below.
fn coat_row(
    floor: &LaidFloor<'_, '_>,
    coat: &FloorCoat<'_>,
    laid: Option<&CoatAsLaid<'_>>,
) -> Vec<String> {
    let w = floor.w;
    let windows = laid.iter().flat_map(|laid| &laid.records);
    let windows = windows.filter_map(|one| one.window.map(|window| over(w, window)));
    vec![
        floor.coat_name(coat),
        laid.map_or_else(|| w.plain("failure.none_marked"), |laid| times_of(w, laid)),
        films(w, coat, laid),
        windows.collect::<Vec<_>>().join(" "),
    ]
}

/// The time over the coat below against the window of its data sheet.
fn over(w: &Writer<'_>, window: WindowAsLaid) -> String {
    let hours = |time: Option<Hours>| time.map(|time| w.figure(time)).unwrap_or_default();
    let facts = context! {
        kept => window.kept.word(),
        waited => hours(window.waited.filter(|waited| *waited >= Hours::ZERO)),
        from => hours(window.from),
        to => hours(window.to),
    };
    w.say_with("failure.record.window", facts)
}

fn slab_facts(floor: &LaidFloor<'_, '_>) -> Vec<Fact> {
    let w = floor.w;
    let slab = &w.case.job.slab;
    let unknown = || w.plain("failure.not_known");
    let yes_or_no = |known: Option<bool>| match known {
        Some(true) => w.plain("failure.record.yes"),
        Some(false) => w.plain("failure.record.no"),
        None => unknown(),
    };
    let mut facts = vec![];
    let mut add = |label: &str, value: String| {
        facts.push(w.fact(&format!("failure.record.{label}"), value, String::new()));
    };
    for reading in readings(floor) {
        add("moisture", reading);
    }
    add("air", air(w));
    add("age", poured(w));
    add("strength", slab.strength.map_or_else(unknown, |strength| w.figure(strength)));
    add("oil", yes_or_no(slab.oil));
    add("salts", yes_or_no(slab.salts));
    add("ph", slab.ph.map_or_else(unknown, |ph| w.figure(Figure::Ph(ph))));
    let retarder = match slab.retarder {
        Known::Yes => Some(true),
        Known::No => Some(false),
        Known::Unknown => None,
    };
    add("retarder", yes_or_no(retarder));
    let coating = slab.coating.map(|coating| w.plain(&format!("slab.{}", coating.word())));
    add("coating", coating.unwrap_or_else(unknown));
    facts
}

/// The highest reading that counts of each method, beside the limit that the floor's data sheets had for it.
fn readings(floor: &LaidFloor<'_, '_>) -> Vec<String> {
    let (w, moisture) = (floor.w, &floor.option.moisture);
    let site = &w.case.site.moisture;
    let dishes = site.mver.as_ref().and_then(|series| reading(w, "dish", series, moisture.mver));
    let probes = site.rh.as_ref().and_then(|series| reading(w, "probe", series, moisture.rh));
    let found: Vec<String> = dishes.into_iter().chain(probes).collect();
    if found.is_empty() { vec![w.plain("slab.no_count")] } else { found }
}

fn reading<Q: Written>(
    w: &Writer<'_>,
    method: &str,
    series: &Series<Q>,
    headroom: Option<Headroom<Q>>,
) -> Option<String> {
    let highest = series.counts().then(|| series.highest())?;
    let facts = context! {
        method => w.plain(&format!("failure.record.{method}")),
        value => w.figure(highest.value.of_slab()),
        place => highest.place.as_str(),
        limit => headroom.map(|room| w.figure(room.limit.of_slab())).unwrap_or_default(),
        date => w.date(highest.to.date()),
    };
    Some(w.say_with("failure.record.reading", facts))
}

fn air(w: &Writer<'_>) -> String {
    let measured = w.case.job.air.map(|air| air.measured);
    let Some((state, date)) = w.case.site.air.zip(measured) else {
        return w.plain("failure.not_known");
    };
    let facts = [
        ("date", w.date(date)),
        ("slab", w.figure(state.slab)),
        ("air", w.figure(state.air)),
        ("humidity", w.figure(Figure::Humidity(state.humidity))),
        ("dew", w.figure(state.dew_point)),
    ];
    w.say("failure.record.air_value", facts)
}
