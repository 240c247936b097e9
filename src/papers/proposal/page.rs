//! The proposal as a layout sees it: words and already formatted figures, in reading order.
//!
//! This is the only type that reaches the typesetter. Every amount is text, every position in a
//! drawing is a share of the drawing's own width or height (0 to 1, from the left and from the
//! top). A layout places; it never computes. Nothing in here knows a cost, a margin or an hour.

use serde::Serialize;

/// A whole proposal.
#[derive(Debug, Clone, Serialize)]
pub struct Page {
    #[serde(flatten)]
    pub frame: Frame,
    pub glance: Glance,
    pub slab: Slab,
    pub layers: Layers,
    pub compare: Compare,
    pub claims: Claims,
    pub plan: Plan,
    pub safety: Safety,
    pub promise: Promise,
    pub accept: Accept,
    pub sources: Sources,
}

/// The common part of every document: its paper, its language, the text above and below each page.
/// Every document is serialised as `/page.json` in the typesetter's sealed world.
#[derive(Debug, Clone, Serialize)]
pub struct Frame {
    /// `us-letter` or `a4`, as Typst names papers.
    pub paper: &'static str,
    /// True for type that is half as large again, in one column: `print = "large"` in the job.
    pub large_print: bool,
    /// ISO 639 language of all words, such as `en`.
    pub language: String,
    /// ISO 3166 region, lower case, such as `us`.
    pub region: String,
    /// The document's title (PDF metadata).
    pub title: String,
    /// The shop's name (PDF author).
    pub author: String,
    /// True for a draft: a plain mark on every page.
    pub draft: bool,
    /// The shop's accent color as `#rrggbb`, already darkened until white text on it and it on
    /// white reach a contrast of 4.5 to 1 (WCAG AA).
    pub accent: String,
    /// Fixed words of the pages: headings, column heads, labels. Keys as in `words/*/labels.toml`.
    pub labels: serde_json::Value,
    pub head: Head,
}

/// The head of every page and of the letterhead.
#[derive(Debug, Clone, Serialize)]
pub struct Head {
    pub shop: String,
    /// Address, phone, mail, license: one line each.
    pub shop_lines: Vec<String>,
    pub logo: Option<Picture>,
    pub customer: String,
    pub site_lines: Vec<String>,
    /// The job's number, such as `2026-0142`.
    pub job: String,
    /// `Revision 1`, `Revision 2`, or `Draft`.
    pub revision: String,
    pub date: String,
    /// `Prices hold until 11 June 2026`; absent when there is no price to hold.
    pub valid_until: Option<String>,
    /// Present when the job says that its people are invented.
    pub demo: Option<String>,
}

/// A picture with its text alternative.
#[derive(Debug, Clone, Serialize)]
pub struct Picture {
    /// Virtual path such as `/photos/1.jpg`, `/logo.png`.
    pub path: String,
    pub alt: String,
    /// Empty for the logo.
    pub caption: String,
}

/// A labelled figure: `Highest reading` / `7.4 lb` / `per 1000 ft2 in 24 hours, north corner`.
#[derive(Debug, Clone, Serialize)]
pub struct Fact {
    pub label: String,
    pub value: String,
    pub note: String,
}

/// Part 1: the page that must work alone.
#[derive(Debug, Clone, Serialize)]
pub struct Glance {
    /// True when nothing may be offered and nothing waits: the page then says "not yet" and carries
    /// no price.
    pub not_yet: bool,
    /// Which revision this one replaces and what changed, in sentences; absent from a first one.
    pub replaces: Option<String>,
    /// `We recommend the vapor-barrier floor`, or `Not yet: the slab has to dry first`.
    pub headline: String,
    /// The one-sentence reason.
    pub reason: String,
    /// Price, days on site, the day the car may return: three or four big facts. Without a price
    /// when `not_yet`.
    pub answers: Vec<Fact>,
    /// Three figures that were found on the visit.
    pub found: Vec<Fact>,
    /// The options in one line each.
    pub options: Vec<OptionLine>,
    /// Unknowns, a sentence each.
    pub unknown: Vec<String>,
    /// Dangers to people, a sentence each (the longer text is in `safety`).
    pub hurt: Vec<String>,
    /// First steps, in order; only when `not_yet`.
    pub first: Vec<String>,
    /// Conditions of the offer: a moisture test or a maker's word; absent when no floor waits.
    pub hangs: Option<Hangs>,
    /// The caution against the floor that comes first which matters most.
    pub caution: Option<Notice>,
    /// Measurements that no coat would stand, and when the work starts all the same; a sentence
    /// each.
    pub start: Vec<String>,
}

/// The floors that wait, with their conditions and prices.
#[derive(Debug, Clone, Serialize)]
pub struct Hangs {
    pub says: String,
    /// The waiting floors, in the order of the offer.
    pub rows: Vec<HangsRow>,
    /// Consequence when the result allows none of them.
    pub otherwise: String,
    /// Way to order the test, and its price; empty when no test would settle it.
    pub order: String,
}

/// A waiting floor with its price and the result that would let it be laid.
#[derive(Debug, Clone, Serialize)]
pub struct HangsRow {
    pub name: String,
    pub price: String,
    /// `the slab reads at most 3 lb with dishes`.
    pub only_if: String,
}

/// A moisture test that the customer may order with a tick.
#[derive(Debug, Clone, Serialize)]
pub struct TestOrder {
    pub name: String,
    pub says: String,
    /// An amount, or `on request`.
    pub price: String,
}

/// Standing of a floor, in a word or two beside its name.
#[derive(Debug, Clone, Serialize)]
pub struct Mark {
    pub word: String,
    /// True for the one floor that is recommended.
    pub strong: bool,
}

/// One option in the glance table and on the acceptance page.
#[derive(Debug, Clone, Serialize)]
pub struct OptionLine {
    pub name: String,
    /// Total with tax, or an empty string for a floor that is neither offered nor waits.
    pub price: String,
    pub days: String,
    pub car_back: String,
    /// `recommended`, `offered`, `waits for a test`, `not offered` in the document's language.
    pub standing: String,
    pub recommended: bool,
    pub offered: bool,
    /// True when it waits for a test or for its maker's word.
    pub waits: bool,
    /// True when it is close to its moisture limit.
    pub close: bool,
    /// Reason for which it is not offered, as a sentence; empty when it is.
    pub why_not: String,
}

/// Part 2: what was measured.
#[derive(Debug, Clone, Serialize)]
pub struct Slab {
    pub intro: String,
    pub floor: FloorPlan,
    /// Area, thickness, age and so on.
    pub facts: Vec<Fact>,
    /// One chart per test method that was used; they are never mixed.
    pub moisture: Vec<MoistureChart>,
    /// Plain sentences under the charts (or instead of one, when nothing was measured).
    pub moisture_notes: Vec<String>,
    pub dew: Option<DewGauge>,
    pub dew_notes: Vec<String>,
    /// Findings about the slab as a whole, most serious first.
    pub findings: Vec<Notice>,
    /// The installer's own notes for the customer, as typed; a note's line breaks are kept.
    pub notes: Vec<String>,
    pub photos: Vec<Picture>,
}

/// The measured areas, to scale.
#[derive(Debug, Clone, Serialize)]
pub struct FloorPlan {
    /// Width divided by height of the drawing.
    pub aspect: f64,
    pub shapes: Vec<PlanShape>,
    pub marks: Vec<PlanMark>,
    /// Cracks, joints, doors and steps that the job places.
    pub lines: Vec<PlanLine>,
    /// `1 square = 1 ft` or the like; the length of one scale bar and its words.
    pub scale_width: f64,
    pub scale_text: String,
    pub caption: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct PlanShape {
    /// `floor`, or `cutout` for what is not coated.
    pub kind: &'static str,
    /// Corners, x and y from 0 to 1.
    pub points: Vec<[f64; 2]>,
    pub name: String,
    /// Center of the name.
    pub name_at: [f64; 2],
    /// Side lengths with the middle of the side each belongs to.
    pub sides: Vec<SideLabel>,
}

#[derive(Debug, Clone, Serialize)]
pub struct SideLabel {
    pub at: [f64; 2],
    pub text: String,
    /// True when the side runs more up and down than across.
    pub upright: bool,
}

/// Something that runs over the plan.
#[derive(Debug, Clone, Serialize)]
pub struct PlanLine {
    /// `crack`, `joint`, `door`, or `steps` (a closed outline).
    pub kind: &'static str,
    pub points: Vec<[f64; 2]>,
}

/// A numbered test spot.
#[derive(Debug, Clone, Serialize)]
pub struct PlanMark {
    pub at: [f64; 2],
    pub text: String,
}

/// Readings of one method against the limits of the options, on one scale.
#[derive(Debug, Clone, Serialize)]
pub struct MoistureChart {
    pub title: String,
    /// `lb per 1000 ft2 in 24 hours` or `% relative humidity in the slab`.
    pub unit: String,
    pub ticks: Vec<Tick>,
    pub readings: Vec<Reading>,
    pub limits: Vec<LimitLine>,
    pub caption: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct Tick {
    pub at: f64,
    pub text: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct Reading {
    /// `1, near the door`.
    pub label: String,
    pub value: String,
    pub at: f64,
    /// The doubtful band of the scale or probe around `at`.
    pub from: f64,
    pub to: f64,
    pub highest: bool,
    /// True for a reading that no longer counts: void, or read again later.
    pub faded: bool,
}

#[derive(Debug, Clone, Serialize)]
pub struct LimitLine {
    /// The option's name.
    pub label: String,
    pub value: String,
    /// Position of the limit; the scale always reaches past it.
    pub at: f64,
    /// `clear`, `close`, `not-judged`, `over`: how the readings stand to it.
    pub standing: &'static str,
    /// The same in words, with the headroom: `4.6 lb to spare`.
    pub words: String,
}

/// Air, slab and dew point on one thermometer lying on its side.
#[derive(Debug, Clone, Serialize)]
pub struct DewGauge {
    pub ticks: Vec<Tick>,
    /// The dew point, the lowest slab temperature allowed (dew point and spread), the slab, the
    /// air: in this order.
    pub points: Vec<GaugePoint>,
    /// The range in which water may settle on the slab.
    pub wet_to: f64,
    /// The lowest slab temperature that keeps the spread.
    pub safe_from: f64,
    pub caption: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct GaugePoint {
    /// `dew`, `need`, `slab`, `air`.
    pub kind: &'static str,
    pub at: f64,
    pub label: String,
    pub value: String,
}

/// A finding in plain words.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Notice {
    /// `stop`, `caution`, `note`.
    pub severity: &'static str,
    /// The severity in the document's language.
    pub word: String,
    pub title: String,
    pub says: String,
    /// The shop's part; may be empty.
    pub we: String,
    /// The homeowner's part; may be empty.
    pub you: String,
    /// Statement on whether the shop's part is in the price, in the document's language; empty when
    /// the shop does nothing.
    pub priced: String,
    /// Measured value, limit and source in one line; may be empty.
    pub basis: String,
    /// Names of the options it is about; empty when it is about the slab or the house.
    pub about: String,
}

/// Part 3.
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
    pub mark: Option<Mark>,
    pub summary: String,
    /// Top coat first, concrete last: the order in which they are drawn.
    pub coats: Vec<Coat>,
    /// Thickness of all coats together.
    pub total: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct Coat {
    /// `concrete`, `primer`, `barrier`, `flake`, `clear`, `top`, `thin`: the pattern to draw.
    pub look: String,
    pub name: String,
    pub thickness: String,
    /// One plain sentence on what the coat does.
    pub does: String,
    /// Share of the drawing's height. All heights of a stack sum to 1.
    pub height: f64,
}

/// Part 4.
#[derive(Debug, Clone, Serialize)]
pub struct Compare {
    pub intro: String,
    /// Column heads: the options' names.
    pub names: Vec<String>,
    pub rows: Vec<CompareRow>,
    pub cards: Vec<Card>,
    pub even: Vec<EvenChance>,
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
    pub mark: Option<Mark>,
    pub better_at: Vec<String>,
    pub harder_at: Vec<String>,
    pub choose_if: String,
    pub headroom: String,
}

/// The chance of a moisture failure at which the dearer, more tolerant floor pays for itself.
#[derive(Debug, Clone, Serialize)]
pub struct EvenChance {
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

/// Part 5.
#[derive(Debug, Clone, Serialize)]
pub struct Claims {
    pub intro: String,
    pub claims: Vec<Claim>,
    pub questions_intro: String,
    pub questions: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Claim {
    /// The claim as one hears it.
    pub heard: String,
    pub truth: String,
    pub leaves_out: String,
    /// Its meaning on this slab, with figures.
    pub here: String,
}

/// Part 6.
#[derive(Debug, Clone, Serialize)]
pub struct Plan {
    pub intro: String,
    /// Empty when nothing may be offered.
    pub prices: Vec<PriceTable>,
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
    pub mark: Option<Mark>,
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

/// Part 7.
#[derive(Debug, Clone, Serialize)]
pub struct Safety {
    pub intro: String,
    /// Notices that apply on this job, most serious first.
    pub notices: Vec<Notice>,
    /// Notices for every job: children, pets, re-entry, strong smell.
    pub always: Vec<String>,
    /// Airflow figures for each solvent-borne coat; empty when there is none.
    pub air: Vec<Fact>,
    pub air_note: String,
    /// Authorities over this text: data sheets, local code, licensed practice.
    pub defer: String,
}

/// Part 8.
#[derive(Debug, Clone, Serialize)]
pub struct Promise {
    pub warranty_intro: String,
    /// The shop's own words.
    pub warranty: Vec<String>,
    pub cannot_intro: String,
    pub cannot: Vec<String>,
    pub care_intro: String,
    pub care: Vec<String>,
}

/// Part 9.
#[derive(Debug, Clone, Serialize)]
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

/// Part 10.
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
