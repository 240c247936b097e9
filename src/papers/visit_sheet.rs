//! The visit sheet: the questions of `new` as blanks on one page, in the order in which one walks a garage. It is
//! printed before there is a job, for the shop alone, and never recorded.

use minijinja::context;
use serde::Serialize;

use crate::model::job::Known;
use crate::model::rules::Country;
use crate::model::shop::Shop;
use crate::papers::contrast;
use crate::papers::proposal::PageForm;
use crate::papers::proposal::page::{Frame, Head};
use crate::read::form::ValueForm;
use crate::read::keys::choices::choices;
use crate::read::keys::job::{air, customer, extras, garage, house, job, plan, slab};
use crate::read::keys::moisture::{dish, dishes, probe, sheet};
use crate::read::keys::shapes::{area, cove, crack, cutout, joint, spall, steps, upright};
use crate::read::keys::spec::{KeySpec, TypedKey};
use crate::say::words::{Words, WordsError};

/// The sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct VisitSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub says: String,
    pub people: VisitPart,
    /// Measures that are written beside the plan.
    pub outline: VisitPart,
    pub plan: PlanGrid,
    pub before_tests: Vec<VisitPart>,
    /// The caution about what may lie in the slab.
    pub scan: String,
    pub tests: VisitPart,
    /// Heads of the table of readings, and the labels of its empty rows.
    pub columns: Vec<String>,
    pub rows: Vec<String>,
    pub after_tests: Vec<VisitPart>,
    pub photos: VisitPart,
}

/// A topic with its lines.
#[derive(Debug, Clone, Serialize)]
pub struct VisitPart {
    pub title: String,
    pub lines: Vec<Vec<VisitBlank>>,
}

/// A label with what is filled in behind it.
#[derive(Debug, Clone, Serialize)]
pub struct VisitBlank {
    pub label: String,
    /// Words with a box to tick before each; none where a pen writes.
    pub ticks: Vec<String>,
    /// Its share of the room for a pen; zero where there is none.
    pub pen: u8,
}

/// The empty plan: how many squares lie beside and below each other, and how long the side of one is.
#[derive(Debug, Clone, Serialize)]
pub struct PlanGrid {
    pub across: u8,
    pub down: u8,
    pub says: String,
    pub alt: String,
}

/// Readings that there is room for: ASTM F1869 and F2170 ask for three on up to 1000 square feet, and two more may
/// follow.
const READINGS: u8 = 5;

/// The room of a short answer, such as a length.
const SHORT: u8 = 2;
/// The room of a name.
const NAME: u8 = 4;
/// The room of some words.
const LONG: u8 = 7;

/// A question on the sheet.
#[derive(Debug, Clone, Copy)]
enum Asked {
    /// The answer is written; its share of the room of its line.
    Pen(KeySpec, u8),
    /// One or more of the words of the key, or yes or no.
    Tick(KeySpec),
}

use Asked::{Pen, Tick};

impl Asked {
    fn spec(self) -> KeySpec {
        match self {
            Pen(spec, _) | Tick(spec) => spec,
        }
    }
}

/// Several questions on one line, behind a word of their own where they are of one thing.
struct AskedLine {
    thing: Option<&'static str>,
    /// Lines of this kind.
    times: usize,
    asked: Vec<Asked>,
}

impl AskedLine {
    fn asking(self, asked: impl Into<Vec<Asked>>) -> Self {
        Self { asked: asked.into(), ..self }
    }
}

fn line(asked: impl Into<Vec<Asked>>) -> AskedLine {
    AskedLine { thing: None, times: 1, asked: asked.into() }
}

/// Lines of a thing, which ask nothing yet.
fn lines_of(thing: &'static str, times: usize) -> AskedLine {
    AskedLine { thing: Some(thing), times, asked: vec![] }
}

fn short<T>(key: TypedKey<T>) -> Asked {
    Pen(key.spec, SHORT)
}

fn name<T>(key: TypedKey<T>) -> Asked {
    Pen(key.spec, NAME)
}

fn long<T>(key: TypedKey<T>) -> Asked {
    Pen(key.spec, LONG)
}

fn tick<T>(key: TypedKey<T>) -> Asked {
    Tick(key.spec)
}

fn people() -> Vec<AskedLine> {
    vec![
        line([long(customer::NAME), name(customer::PHONE), short(job::DATE)]),
        line([long(customer::ADDRESS), long(customer::EMAIL)]),
        line([long(customer::SIGNERS), short(house::BUILT)]),
    ]
}

/// Keys that are measured while the outline is drawn.
fn outline() -> Vec<AskedLine> {
    vec![
        lines_of("area", 2).asking([name(area::NAME), short(area::LENGTH), short(area::WIDTH)]),
        lines_of("cutout", 1).asking([
            name(cutout::NAME),
            short(cutout::LENGTH),
            short(cutout::WIDTH),
        ]),
        lines_of("upright", 1).asking([
            name(upright::NAME),
            short(upright::LENGTH),
            short(upright::HEIGHT),
        ]),
        lines_of("steps", 1).asking([
            short(steps::COUNT),
            short(steps::WIDTH),
            short(steps::TREAD),
            short(steps::RISER),
        ]),
        lines_of("cove", 1).asking([name(cove::NAME), short(cove::LENGTH), short(cove::RADIUS)]),
    ]
}

fn slab_lines() -> Vec<AskedLine> {
    vec![
        line([
            tick(slab::ON_GROUND),
            short(slab::THICKNESS),
            short(slab::POURED),
            tick(slab::VAPOR_RETARDER),
        ]),
        line([tick(slab::WATER_DROP), tick(slab::OIL), tick(slab::SALTS)]),
        line([tick(slab::OLD_COATING), tick(slab::TILE_GLUE)]),
        line([tick(slab::TREATMENTS), short(slab::SURFACE_STRENGTH)]),
        line([tick(slab::INSIDE)]),
    ]
}

fn repairs() -> Vec<AskedLine> {
    vec![
        lines_of("crack", 2).asking([
            name(crack::NAME),
            short(crack::LENGTH),
            short(crack::WIDTH),
            tick(crack::MOVES),
        ]),
        lines_of("joint", 1).asking([
            name(joint::NAME),
            short(joint::LENGTH),
            tick(joint::TREATMENT),
        ]),
        lines_of("spall", 1).asking([
            name(spall::NAME),
            short(spall::LENGTH),
            short(spall::WIDTH),
            short(spall::DEPTH),
        ]),
    ]
}

/// Keys that are written once for all readings.
fn tests() -> Vec<AskedLine> {
    vec![
        line([tick(dish::SURFACE), short(dish::GROUND)]),
        line([
            short(dishes::ROOM_TEMPERATURE),
            short(dishes::ROOM_HUMIDITY),
            tick(dishes::SETTLED),
            tick(sheet::SEALED),
        ]),
    ]
}

fn air_lines() -> Vec<AskedLine> {
    vec![line([
        short(air::MEASURED),
        short(air::TEMPERATURE),
        short(air::HUMIDITY),
        short(air::SLAB),
    ])]
}

fn garage_lines() -> Vec<AskedLine> {
    vec![
        line([tick(garage::DAYLIGHT), tick(garage::SOLD_AT_HOME), tick(garage::WET)]),
        line([short(garage::HEIGHT), long(garage::IGNITION)]),
    ]
}

fn wishes() -> Vec<AskedLine> {
    vec![
        line([tick(job::WISHES)]),
        line([long(job::OFFER), name(extras::CLEAR_EPOXY), name(choices::COLOR)]),
    ]
}

fn work() -> Vec<AskedLine> {
    vec![
        line([
            short(plan::START),
            short(plan::CREW),
            name(plan::CONTACT),
            short(house::STAY_YEARS),
        ]),
        line([long(job::NOTES)]),
        line([long(job::CREW_NOTES)]),
    ]
}

/// The columns of the readings, with what a dish, a probe and a plastic sheet have there.
fn columns() -> [(&'static str, Vec<KeySpec>); 5] {
    [
        ("place", vec![dish::PLACE.spec, probe::PLACE.spec, sheet::PLACE.spec]),
        ("began", vec![dish::SET.spec, probe::DRILLED.spec, sheet::TAPED.spec]),
        ("ended", vec![dish::LIFTED.spec, probe::READ.spec, sheet::LIFTED.spec]),
        ("before", vec![dish::BEFORE.spec, probe::DEPTH.spec]),
        ("after", vec![dish::AFTER.spec, probe::READING.spec, sheet::FOUND.spec]),
    ]
}

/// The questions that have a blank, as the interview names them: `slab.oil`.
pub fn questions_on_sheet() -> Vec<String> {
    let parts = [
        people(),
        outline(),
        slab_lines(),
        repairs(),
        tests(),
        air_lines(),
        garage_lines(),
        wishes(),
        work(),
    ];
    let lines = parts.into_iter().flatten().flat_map(|line| line.asked).map(Asked::spec);
    let cells = columns().into_iter().flat_map(|(_, specs)| specs);
    lines.chain(cells).map(|spec| format!("{}.{}", spec.group, spec.name)).collect()
}

/// Makes the sheet of a shop.
///
/// # Errors
/// [`WordsError`] when a sentence is missing or uses a value that it is not given.
pub fn visit_sheet(words: &Words, shop: &Shop) -> Result<VisitSheet, WordsError> {
    // As in a job: feet on letter paper, metric figures on A4.
    let metric = shop.country.is_some_and(|country| country != Country::UNITED_STATES);
    let say = |name: &str| words.sentence(name, &context! { metric => metric });
    let part = |topic: &str, lines: Vec<AskedLine>| -> Result<VisitPart, WordsError> {
        let title = say(&format!("visit.topic.{topic}"))?;
        Ok(VisitPart { title, lines: said(words, lines)? })
    };
    let title = say("visit.title")?;
    let columns = columns().map(|(name, _)| say(&format!("visit.column.{name}")));
    Ok(VisitSheet {
        frame: frame(words, shop, title, metric),
        says: say("visit.says")?,
        people: part("people", people())?,
        outline: part("outline", outline())?,
        plan: PlanGrid {
            across: if metric { 20 } else { 35 },
            down: if metric { 15 } else { 25 },
            says: say("visit.plan.says")?,
            alt: say("visit.plan.alt")?,
        },
        before_tests: vec![part("slab", slab_lines())?, part("repairs", repairs())?],
        scan: say("visit.scan")?,
        tests: part("tests", tests())?,
        columns: columns.into_iter().collect::<Result<_, _>>()?,
        rows: (1..=READINGS).map(|row| row.to_string()).collect(),
        after_tests: vec![
            part("air", air_lines())?,
            part("garage", garage_lines())?,
            part("wishes", wishes())?,
            part("work", work())?,
        ],
        photos: VisitPart {
            title: say("visit.topic.photos")?,
            lines: vec![vec![VisitBlank {
                label: String::new(),
                ticks: words.sentences("visit.photos", &context! {})?,
                pen: 0,
            }]],
        },
    })
}

/// Lines as they are printed, each as often as there is room for.
fn said(words: &Words, lines: Vec<AskedLine>) -> Result<Vec<Vec<VisitBlank>>, WordsError> {
    let say = |name: String| words.sentence(&name, &context! {});
    let mut all = vec![];
    for AskedLine { thing, times, asked } in lines {
        let mut line = vec![];
        if let Some(thing) = thing {
            let label = say(format!("visit.thing.{thing}"))?;
            line.push(VisitBlank { label, ticks: vec![], pen: 0 });
        }
        for asked in asked {
            let spec = asked.spec();
            let label = say(format!("visit.label.{}.{}", spec.group, spec.name))?;
            let (ticks, pen) = match asked {
                Pen(_, pen) => (vec![], pen),
                Tick(_) => (ticks(words, &spec)?, 0),
            };
            line.push(VisitBlank { label, ticks, pen });
        }
        all.extend(std::iter::repeat_n(line, times));
    }
    Ok(all)
}

/// The words that may be ticked for a key.
fn ticks(words: &Words, spec: &KeySpec) -> Result<Vec<String>, WordsError> {
    let keys = match spec.form() {
        ValueForm::Words(keys) => keys,
        _ => vec!["yes".to_owned(), "no".to_owned()],
    };
    let name = |key: &String| match key.as_str() {
        "yes" | "no" => format!("visit.tick.{key}"),
        _ => format!("visit.tick.{}.{}.{key}", spec.group, spec.name),
    };
    // What is left open is not known.
    let keys = keys.iter().filter(|key| *key != Known::Unknown.word());
    keys.map(|key| words.sentence(&name(key), &context! {})).collect()
}

/// The frame of a sheet that has no job yet.
fn frame(words: &Words, shop: &Shop, title: String, metric: bool) -> Frame {
    Frame {
        paper: if metric { "a4" } else { "us-letter" },
        edition: PageForm::Usual.word(),
        language: words.language.clone(),
        region: words.figures.region.clone(),
        title,
        author: shop.name.clone(),
        draft: false,
        accent: contrast::hex(contrast::readable_on_white(shop.accent)),
        labels: words.labels_of("visit"),
        head: Head { shop: shop.name.clone(), ..Head::default() },
    }
}
