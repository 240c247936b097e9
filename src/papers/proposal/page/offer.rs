//! Parts 3 to 10 of the page: the floors on offer, their prices, safety, acceptance and sources.

use serde::Serialize;

use crate::papers::proposal::page::{FloorMark, Notice, OptionLine, TestOrder, Tick};

/// Part 3: a cross-section of each floor.
#[derive(Debug, Clone, Serialize)]
pub struct Layers {
    pub intro: String,
    /// Height of every cross-section in millimeters: one height, so that all coats of the page
    /// are drawn to one scale.
    pub drawing_mm: f64,
    /// Caption of all drawings: the scale.
    pub caption: String,
    pub stacks: Vec<Stack>,
}

/// One option's cross-section.
#[derive(Debug, Clone, Serialize)]
pub struct Stack {
    pub name: String,
    /// Absent for a floor that is offered and not recommended.
    pub mark: Option<FloorMark>,
    pub summary: String,
    /// Top coat first, concrete last: the order in which they are drawn.
    pub coats: Vec<CoatBand>,
    /// Thickness of all coats together.
    pub total: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct CoatBand {
    /// `concrete`, `primer`, `barrier`, `flake`, `clear`, `top`, `thin`: the pattern to draw.
    pub look: String,
    pub name: String,
    pub thickness: String,
    /// One plain sentence on what the coat does.
    pub does: String,
    /// Share of the drawing's height. All heights of a stack sum to 1.
    pub height: f64,
}

/// Part 4: the comparison of the floors, and the way to the recommendation.
#[derive(Debug, Clone, Serialize)]
pub struct Compare {
    pub intro: String,
    /// Column heads: the options' names.
    pub names: Vec<String>,
    pub rows: Vec<CompareRow>,
    pub cards: Vec<Card>,
    pub even: Vec<EvenChanceText>,
    /// Path to the recommendation: the rule, then the steps on this job.
    pub rule: String,
    pub steps: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct CompareRow {
    pub label: String,
    /// One cell per option, in the order of `Compare::names`.
    pub cells: Vec<String>,
}

/// Both sides of one option, with the same room for each.
#[derive(Debug, Clone, Serialize)]
pub struct Card {
    pub name: String,
    /// Absent for a floor that is offered and not recommended.
    pub mark: Option<FloorMark>,
    pub better_at: Vec<String>,
    pub harder_at: Vec<String>,
    pub choose_if: String,
    pub headroom: String,
}

/// The chance of a moisture failure at which the dearer, more tolerant floor pays for itself.
#[derive(Debug, Clone, Serialize)]
pub struct EvenChanceText {
    pub title: String,
    /// `about 1 in 6`.
    pub chance: String,
    pub says: String,
    pub leaves_out: String,
    /// The shop's own record of the plain floor; empty without one.
    pub record: String,
    /// The chance as a row of floors with some of them marked; absent where it would not be read.
    pub row: Option<ChanceRow>,
}

/// Floors in a row, some of them marked.
#[derive(Debug, Clone, Serialize)]
pub struct ChanceRow {
    pub all: u32,
    pub marked: u32,
    pub alt: String,
}

/// Part 6: price, work, days and payments.
#[derive(Debug, Clone, Serialize)]
pub struct Plan {
    pub intro: String,
    /// Empty when nothing may be offered.
    pub prices: Vec<PriceTable>,
    /// Work in the price that this slab asks for.
    pub included_here: Vec<String>,
    /// Work in the price of every job.
    pub included: Vec<String>,
    pub excluded: Vec<String>,
    pub timeline: Option<Timeline>,
    /// Times from which one may walk, carry things in and drive in, for each option.
    pub times: Vec<TimeRow>,
    pub times_note: String,
    /// Payment steps of the recommended option; empty when nothing may be offered.
    pub payments: Vec<AmountLine>,
    pub payments_note: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct PriceTable {
    pub name: String,
    pub mark: Option<FloorMark>,
    /// The result on which the price hangs; empty for a floor that may be signed for.
    pub only_if: String,
    /// The lines sum exactly to `total`.
    pub lines: Vec<AmountLine>,
    pub total: AmountLine,
    /// Extras that may be added, each with what it would add to the total.
    pub extras: Vec<AmountLine>,
}

#[derive(Debug, Clone, Serialize)]
pub struct AmountLine {
    pub label: String,
    pub amount: String,
}

/// Each option's days on one shared axis.
#[derive(Debug, Clone, Serialize)]
pub struct Timeline {
    /// Day boundaries: `Day 1`, `Day 2` and so on.
    pub ticks: Vec<Tick>,
    pub rows: Vec<TimelineRow>,
    pub caption: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct TimelineRow {
    pub name: String,
    pub spans: Vec<TimelineSpan>,
}

#[derive(Debug, Clone, Serialize)]
pub struct TimelineSpan {
    /// `work` (the crew is there), `wait` (the floor cures), `foot` (you may walk on it),
    /// `car` (you may drive on it).
    pub kind: &'static str,
    pub from: f64,
    pub to: f64,
    pub label: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct TimeRow {
    pub name: String,
    pub walk: String,
    pub carry: String,
    pub drive: String,
}

/// Part 7: dangers to people, and the air that a coat needs.
#[derive(Debug, Clone, Serialize)]
pub struct Safety {
    pub intro: String,
    /// Notices that apply on this job, most serious first.
    pub notices: Vec<Notice>,
    /// Notices for every job: children, pets, re-entry, strong smell.
    pub always: Vec<String>,
    /// The meaning of fresh air for the coats of this job; empty where no floor has a price.
    pub air_note: String,
    /// Authorities over this text: data sheets, local code, licensed practice.
    pub defer: String,
}

/// Part 8: the shop's own promise, and care.
#[derive(Debug, Clone, Serialize)]
pub struct Promise {
    pub warranty_intro: String,
    /// The shop's own words.
    pub warranty: Vec<String>,
    pub cannot_intro: String,
    /// Empty where no floor has a price, like the warranty.
    pub cannot: Vec<String>,
}

/// Part 9: acceptance, with boxes to tick and lines to sign.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Accept {
    /// False when nothing may be offered: no box to tick, no line to sign.
    pub open: bool,
    pub intro: String,
    /// The offered options with a box to tick each.
    pub options: Vec<OptionLine>,
    /// The test that the waiting floors need, with a box of its own.
    pub test: Option<TestOrder>,
    /// Conditions of the floors that wait; empty when none waits.
    pub hangs: String,
    pub terms: Vec<String>,
    /// Labels of the lines to sign: customer and shop.
    pub signatures: Vec<String>,
    pub cancellation: Option<Cancellation>,
    /// Notices that the paper has to carry where the shop works; may be empty.
    pub notices: Vec<LocalNotice>,
}

/// A statement of the place where the shop works, in its own words.
#[derive(Debug, Clone, Serialize)]
pub struct LocalNotice {
    pub title: String,
    pub text: Vec<String>,
    /// Source and date of the shop's reading.
    pub source: String,
}

/// The right-to-cancel notice, printed twice.
#[derive(Debug, Clone, Serialize)]
pub struct Cancellation {
    /// Stands by the signature in bold type of at least 10 points.
    pub statement: String,
    pub title: String,
    /// Paragraphs in the rule's own words, already filled in.
    pub paragraphs: Vec<String>,
    /// `Copy 1 of 2`, `Copy 2 of 2`.
    pub copies: Vec<String>,
    /// Labels of the lines for date and signature.
    pub lines: Vec<String>,
    /// State text from the shop; may be empty.
    pub state: Vec<String>,
}

/// Part 10: tests, figures with their sources, assumptions.
#[derive(Debug, Clone, Serialize)]
pub struct Sources {
    pub intro: String,
    /// Every test: number, place, result, times, instrument.
    pub tests: Vec<TestRow>,
    pub tests_note: String,
    pub rows: Vec<SourceRow>,
    pub assumptions: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct TestRow {
    pub test: String,
    pub place: String,
    pub result: String,
    pub times: String,
    pub instrument: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct SourceRow {
    pub what: String,
    pub value: String,
    pub source: String,
}
