//! Part 2 of the page: the slab, its plan, and the charts of what was measured on it.

use serde::Serialize;

use crate::base::names::Key;

use crate::papers::proposal::page::{Fact, Notice, Picture};

/// Part 2: what was measured.
#[derive(Debug, Clone, Serialize)]
pub struct SlabPart {
    pub intro: String,
    pub floor: FloorPlan,
    /// Area, thickness, age and so on.
    pub facts: Vec<Fact>,
    /// The meaning of the surface strength; empty where it was not measured.
    pub pull: String,
    /// One chart per test method that was used; they are never mixed.
    pub moisture: Vec<MoistureChart>,
    /// Plain sentences under the charts (or instead of one, when nothing was measured).
    pub moisture_notes: Vec<String>,
    pub dew: Option<DewGauge>,
    /// Findings about the slab as a whole, most serious first.
    /// The meaning of the words stop, caution and note; empty without findings.
    pub findings_intro: String,
    pub findings: Vec<Notice>,
    /// The installer's own notes for the customer, as typed; a note's line breaks are kept.
    pub notes: Vec<String>,
    pub photos: Vec<Picture>,
}

/// The measured areas, to scale. Lengths and places are in sizes of the labels; a place is that from the left and
/// that from the top.
#[derive(Debug, Clone, Serialize)]
pub struct FloorPlan {
    pub width: f64,
    pub height: f64,
    /// Room for the legend beside the drawing; 0 where it stands below.
    pub legend_width: f64,
    pub shapes: Vec<PlanShape>,
    /// Cracks, joints, doors and steps that the job places.
    pub lines: Vec<PlanLine>,
    /// Lengths with their extension lines, each line from end to end.
    pub rules: Vec<[[f64; 2]; 2]>,
    /// Lines from a label to its place.
    pub leads: Vec<[[f64; 2]; 2]>,
    /// The ends of lengths.
    pub ticks: Vec<[f64; 2]>,
    /// The places of what has its label elsewhere.
    pub dots: Vec<[f64; 2]>,
    pub labels: Vec<PlanLabel>,
    pub legend: Vec<PlanKey>,
    /// The length of the scale bar, and that length in words.
    pub scale_width: f64,
    pub scale_text: String,
    pub caption: String,
    pub alt: String,
    /// True where it takes the whole width of a page.
    pub wide: bool,
    /// Where areas have numbers on the plan: what each is.
    pub areas: Option<AreaList>,
}

/// All areas of a floor, in the order of their numbers.
#[derive(Debug, Clone, Serialize)]
pub struct AreaList {
    pub title: String,
    /// The heads of the columns.
    pub head: Vec<String>,
    pub rows: Vec<AreaRow>,
}

#[derive(Debug, Clone, Serialize)]
pub struct AreaRow {
    pub number: String,
    pub name: String,
    /// The lengths of its sides.
    pub sides: String,
    pub size: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct PlanShape {
    /// `floor`, or `cutout` for what is not coated.
    pub kind: &'static str,
    pub points: Vec<[f64; 2]>,
}

/// Something that runs over the plan.
#[derive(Debug, Clone, Serialize)]
pub struct PlanLine {
    /// `crack`, `joint`, `door`, or `steps` (a closed outline).
    pub kind: &'static str,
    pub points: Vec<[f64; 2]>,
}

/// Words on the plan. No two overlap.
#[derive(Debug, Clone, Serialize)]
pub struct PlanLabel {
    /// `length`, `area`, `cutout`, `door`, `letter`, `crack` or `mark` (a test spot).
    pub kind: &'static str,
    pub lines: Vec<String>,
    /// The middle of its room, which is at least as large as the words.
    pub at: [f64; 2],
    pub width: f64,
    pub height: f64,
    /// True where the words run upward.
    pub turned: bool,
}

/// An entry of the plan's legend.
#[derive(Debug, Clone, Serialize)]
pub struct PlanKey {
    /// The sign: a kind of line, `mark`, `cutout`, or `letter`.
    pub kind: &'static str,
    /// The letter that stands for a name.
    pub letter: String,
    pub text: String,
}

/// Readings of one method against the limits of the options, on one scale.
#[derive(Debug, Clone, Serialize)]
pub struct MoistureChart {
    pub title: String,
    /// `lb per 1000 ft2 in 24 hours` or `% relative humidity in the slab`.
    pub unit: String,
    pub ticks: Vec<Tick>,
    pub readings: Vec<ChartReading>,
    pub limits: Vec<LimitLine>,
    pub caption: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct Tick {
    pub at: f64,
    pub text: String,
    /// A day in few letters, line by line: `Mon`, `15`; empty for a figure.
    pub short: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct ChartReading {
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
    #[serde(skip)]
    pub floor: Key,
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

/// Sources of water and honest times of drying, for a slab that is too wet for every floor.
#[derive(Debug, Clone, Serialize)]
pub struct Drying {
    pub title: String,
    pub intro: String,
    /// Places that water may come from, numbered as in the picture.
    pub sources: Vec<String>,
    /// Text in place of the picture of those places.
    pub alt: String,
    pub times_title: String,
    pub times_intro: String,
    pub times: Vec<String>,
    /// When to test again.
    pub again: String,
}
