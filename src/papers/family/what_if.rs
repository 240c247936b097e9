//! The kitchen-table sheet: what would change if a reading, the warmth of the slab, the crew or prices were
//! other. Each line is a full run of the engine.

use minijinja::context;
use serde::Serialize;

use crate::base::names::Key;
use crate::base::quantity::{Humidity, Mver, Share, Temperature};
use crate::judge::what_if::{Answer, Other, Switch, answer, switches};
use crate::model::job::Units;
use crate::papers::family::message::{Actor, Message, steps};
use crate::papers::proposal::page::{Frame, NextStep};
use crate::papers::proposal::writer::{Writer, capital, joined};
use crate::papers::proposal::{Issue, Written, frame, share};
use crate::read::Input;
use crate::say::words::WordsError;
use crate::site::dew_point::LEAST_SPREAD;
use crate::site::moisture::Series;

/// The sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct WhatIfSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub message: Message,
    pub intro: String,
    /// The job as it is.
    pub now: CaseLine,
    pub groups: Vec<CaseGroup>,
    pub note: String,
    pub next: Vec<NextStep>,
}

/// Lines of one kind of change.
#[derive(Debug, Clone, Serialize)]
pub struct CaseGroup {
    /// The kind of change, as the words name it.
    #[serde(skip)]
    kind: &'static str,
    pub title: String,
    /// The readings from which on another floor comes first, or that none does; empty for other kinds.
    pub switch: String,
    /// The same as a drawing: what comes first at every reading.
    pub bar: Option<SwitchBar>,
    /// A sentence on what the bar shows and on the unit of its readings.
    pub bar_says: String,
    pub lines: Vec<CaseLine>,
}

impl CaseGroup {
    /// True where the answer is another on some line or at some reading.
    fn changes(&self) -> bool {
        let at_a_reading = self.bar.as_ref().is_some_and(|bar| bar.pieces.len() > 1);
        at_a_reading || self.lines.iter().any(|line| line.other_floor)
    }
}

/// A bar from the lowest to the highest reading that is looked at, in pieces.
#[derive(Debug, Clone, Serialize)]
pub struct SwitchBar {
    pub pieces: Vec<BarPiece>,
    /// The place of the reading as it is; absent where none counts.
    pub now: Option<f64>,
    pub now_label: String,
    /// What stands at its two ends.
    pub ends: (String, String),
    pub alt: String,
}

/// A stretch of readings on which one floor comes first.
#[derive(Debug, Clone, Serialize)]
pub struct BarPiece {
    pub label: String,
    /// Its part of the bar.
    pub share: f64,
    /// False where no floor may be offered.
    pub offered: bool,
}

/// One run, or several with the same answer: what is other, and what the engine answers.
#[derive(Debug, Clone, Serialize)]
pub struct CaseLine {
    pub case: String,
    pub floor: String,
    pub price: String,
    pub car_back: String,
    /// Another floor comes first than in the job as it is.
    pub other_floor: bool,
    /// The floor waits for a test or its maker's word.
    #[serde(skip)]
    waits: bool,
}

/// Dish readings, in pounds; a plain primer takes about three, a barrier up to twenty or so.
const POUNDS: [f64; 4] = [2.0, 4.0, 8.0, 16.0];
/// Probe readings, in percent.
const PERCENT: [f64; 4] = [70.0, 80.0, 90.0, 95.0];
/// Slab temperatures, in degrees Fahrenheit.
const FAHRENHEIT: [f64; 3] = [50.0, 60.0, 80.0];
const CREWS: [u32; 3] = [1, 2, 3];
/// Rise of all that is bought.
const DEARER: Share = Share::percent(5.0);
/// Steps in which a switch is looked for: tenths of a pound up to 25, whole percents up to 100.
const TENTHS: u32 = 250;
const PERCENTS: u32 = 100;

/// Puts the sheet into words. `input` is what the writer's case was made from.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn what_if_sheet(
    w: &Writer<'_>,
    input: &Input,
    issue: &Issue,
) -> Result<WhatIfSheet, WordsError> {
    let title =
        w.say("family.what_if.title", [("customer", w.case.job.customer.name_on_paper().as_ref())]);
    let mut frame = frame(w, issue, title, w.words.family_labels.clone());
    if w.recommended().is_none() {
        frame.head.valid_until = None;
    }
    let now = answer(input);
    let line =
        |case: String, other: Other| case_line(w, case, &answer(&other.applied_to(input)), &now);
    let moisture = &w.case.site.moisture;
    let mut groups = vec![];
    if moisture.mver.is_some() {
        let found =
            switches(input, TENTHS, |step| Mver::pounds(f64::from(step) / 10.0), Other::Mver);
        let lines = POUNDS
            .map(Mver::pounds)
            .map(|value| line(reading(w, w.figure(value.of_slab())), Other::Mver(value)));
        let most = f64::from(TENTHS) / 10.0;
        let lowest = now_at(input, Other::Mver(Mver::pounds(0.0)));
        let ends = (Mver::pounds(0.0), Mver::pounds(most));
        let bar = bar(w, &lowest, &found, moisture.mver.as_ref(), ends);
        let said = switch_words(w, &lowest, &found);
        let unit = w.say("slab.mver_unit", [("us", w.case.job.units == Units::Us)]);
        groups.push(with_bar(w, group(w, "dishes", lines.into()), said, bar, &unit));
    }
    if moisture.rh.is_some() {
        let found = switches(input, PERCENTS, |step| Humidity::percent(f64::from(step)), Other::Rh);
        let lines = PERCENT
            .map(Humidity::percent)
            .map(|value| line(reading(w, w.figure(value.of_slab())), Other::Rh(value)));
        let lowest = now_at(input, Other::Rh(Humidity::percent(0.0)));
        let ends = (Humidity::percent(0.0), Humidity::percent(100.0));
        let bar = bar(w, &lowest, &found, moisture.rh.as_ref(), ends);
        let said = switch_words(w, &lowest, &found);
        let unit = w.plain("slab.rh_unit");
        groups.push(with_bar(w, group(w, "probes", lines.into()), said, bar, &unit));
    }
    if let Some(air) = &w.case.site.air {
        let lines = FAHRENHEIT.map(Temperature::fahrenheit).map(|value| {
            // On such a slab nothing is laid in the air that was measured.
            let drier = value - air.dew_point < LEAST_SPREAD;
            let facts = context! { slab => w.figure(value), drier => drier };
            line(w.say_with("family.what_if.case.slab", facts), Other::Slab(value))
        });
        groups.push(group(w, "slab", lines.into()));
    }
    let crew = w.case.job.plan.crew.unwrap_or(w.case.book.labor.crew);
    let others = CREWS.into_iter().filter(|persons| *persons != crew);
    let crews = others.map(|persons| {
        let facts = context! { persons => persons };
        line(w.say_with("family.what_if.case.crew", facts), Other::Crew(persons))
    });
    groups.push(group(w, "crew", crews.collect()));
    let dearer = w.say("family.what_if.case.dearer", [("share", w.figure(DEARER))]);
    groups.push(group(w, "prices", vec![line(dearer, Other::Dearer(DEARER))]));
    let lines = || groups.iter().flat_map(|group| &group.lines);
    let bold = lines().any(|line| line.other_floor);
    let waits = now.waits || lines().any(|line| line.waits);
    let now_line = case_line(w, w.plain("family.what_if.case.now"), &now, &now);
    let by_work = groups.iter().filter(|group| ["slab", "crew"].contains(&group.kind));
    let mut by_work = by_work.flat_map(|group| &group.lines);
    let moves = by_work.any(|line| !line.other_floor && line.price != now_line.price);
    w.checked(WhatIfSheet {
        frame,
        message: message(w, &now, &groups),
        intro: w.say("family.what_if.intro", [("bold", bold)]),
        next: steps(w, NEXT, &context! { call => w.contact() }),
        now: now_line,
        groups,
        note: w.say_with(
            "family.what_if.note",
            context! {
                untested => !moisture.tested(),
                unmeasured => w.case.job.air.is_none(),
                waits => waits,
                moves => moves,
            },
        ),
    })
}

const NEXT: [(Actor, &str); 3] = [
    (Actor::You, "family.what_if.next.mark"),
    (Actor::You, "family.what_if.next.tell"),
    (Actor::We, "family.what_if.next.again"),
];

/// The kinds of change that change the answer, and what the answer is today.
fn message(w: &Writer<'_>, now: &Answer, groups: &[CaseGroup]) -> Message {
    let changing = groups.iter().filter(|group| group.changes()).map(|group| group.kind);
    // A slab that nobody tested may be too damp.
    let test = (!w.case.site.moisture.tested()).then_some("test");
    let kinds = test.into_iter().chain(changing);
    let mut kinds: Vec<String> =
        kinds.map(|kind| w.plain(&format!("family.what_if.kind.{kind}"))).collect();
    kinds.dedup();
    let facts = context! {
        kinds => w.figures.list(&kinds),
        count => kinds.len(),
        floor => now.first.as_ref().map_or_else(String::new, |key| w.the_name(key)),
        waits => now.waits,
    };
    Message {
        lead: capital(&w.say_with("family.what_if.lead", facts.clone())),
        says: w.say_with("family.what_if.says", facts),
    }
}

/// Lines one after the other with the same answer, as one.
fn merged(w: &Writer<'_>, lines: Vec<CaseLine>) -> Vec<CaseLine> {
    let answer = |line: &CaseLine| [line.floor.clone(), line.price.clone(), line.car_back.clone()];
    let chunks = lines.chunk_by(|one, next| answer(one) == answer(next));
    let merge = |chunk: &[CaseLine]| {
        let cases: Vec<String> = chunk.iter().map(|line| line.case.clone()).collect();
        let first = chunk.first().cloned();
        first.map(|line| CaseLine { case: w.figures.list(&cases), ..line })
    };
    chunks.filter_map(merge).collect()
}

fn group(w: &Writer<'_>, kind: &'static str, lines: Vec<CaseLine>) -> CaseGroup {
    CaseGroup {
        kind,
        title: w.plain(&format!("family.what_if.group.{kind}")),
        switch: String::new(),
        bar: None,
        bar_says: String::new(),
        lines: merged(w, lines),
    }
}

fn with_bar(
    w: &Writer<'_>,
    group: CaseGroup,
    switch: String,
    bar: SwitchBar,
    unit: &str,
) -> CaseGroup {
    let facts = context! { unit => unit, now => bar.now.is_some() };
    let bar_says = w.say_with("family.what_if.bar.says", facts);
    CaseGroup { switch, bar: Some(bar), bar_says, ..group }
}

fn now_at(input: &Input, other: Other) -> Answer {
    answer(&other.applied_to(input))
}

/// Draws which floor comes first at every reading; `lowest` is the answer at the lowest one.
fn bar<Q: Written + std::ops::Div<Output = f64>>(
    w: &Writer<'_>,
    lowest: &Answer,
    found: &[Switch<Q>],
    series: Option<&Series<Q>>,
    (from, to): (Q, Q),
) -> SwitchBar {
    let place = |value: Q| share(value / to);
    let name = |first: &Option<Key>| {
        first.as_ref().map_or_else(|| w.plain("family.what_if.none"), |key| w.name(key))
    };
    let mut pieces = vec![];
    let mut last = (from, &lowest.first);
    let ends = found.iter().map(|one| (one.from, &one.first)).chain([(to, &None)]);
    for (end, next) in ends {
        pieces.push(BarPiece {
            label: name(last.1),
            share: place(end) - place(last.0),
            offered: last.1.is_some(),
        });
        last = (end, next);
    }
    let highest = series.filter(|series| series.counts()).map(|series| series.highest().value);
    let written = |value: Q| w.figure(value.of_slab());
    let now_label = highest.map_or_else(String::new, |value| {
        w.say("family.what_if.bar.now", [("reading", written(value))])
    });
    let said: Vec<String> = pieces.iter().map(|piece| piece.label.clone()).collect();
    SwitchBar {
        alt: w.say_with(
            "family.what_if.bar.alt",
            context! { from => written(from), to => written(to), floors => said, now => now_label.clone() },
        ),
        pieces,
        now: highest.map(|value| place(value).min(1.0)),
        now_label,
        ends: (written(from), written(to)),
    }
}

fn reading(w: &Writer<'_>, value: String) -> String {
    w.say("family.what_if.case.reading", [("reading", value)])
}

fn case_line(w: &Writer<'_>, case: String, found: &Answer, now: &Answer) -> CaseLine {
    let floor = match &found.first {
        Some(key) => {
            let facts = context! { name => w.name(key), waits => found.waits };
            w.say_with("family.what_if.floor", facts)
        }
        None => w.plain("family.what_if.none"),
    };
    CaseLine {
        case,
        floor,
        price: found.total.map_or_else(String::new, |total| w.money(total)),
        car_back: found.drive.map_or_else(String::new, |drive| w.usable_cell(drive)),
        other_floor: found.first != now.first || found.waits != now.waits,
        waits: found.waits,
    }
}

/// Returns the floor that comes first at the lowest reading, and the readings from which on another does, in words.
fn switch_words<Q: Written>(w: &Writer<'_>, lowest: &Answer, found: &[Switch<Q>]) -> String {
    let floor = lowest.first.as_ref().map_or_else(String::new, |key| w.the_name(key));
    let Some(end) = found.first() else {
        return w.say("family.what_if.no_switch", [("floor", floor)]);
    };
    let below = context! {
        reading => w.figure(end.from.of_slab()), floor => floor, waits => lowest.waits,
    };
    let below = w.say_with("family.what_if.below", below);
    let said = found.iter().map(|one| {
        let facts = context! {
            reading => w.figure(one.from.of_slab()),
            floor => one.first.as_ref().map_or_else(String::new, |key| w.the_name(key)),
            waits => one.waits,
        };
        w.say_with("family.what_if.switch", facts)
    });
    joined(std::iter::once(below).chain(said))
}
