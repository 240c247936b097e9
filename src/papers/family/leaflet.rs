//! The leaflet: one sheet on this slab, both chemistries in the same room and tone. It recommends
//! nothing and names no price unless it is asked to: it is there to think with.

use serde::Serialize;

use crate::papers::proposal::page::{CoatBand, Fact, Frame, MoistureChart};
use crate::papers::proposal::writer::{Writer, values};
use crate::papers::proposal::{
    Issue, Shown, charts, cross_sections, dangers, first_steps, found_facts, frame, moisture_notes,
    only_if, reason_not_offered, unknowns,
};
use crate::price::case::FloorOption;
use crate::say::words::WordsError;

/// The leaflet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct Leaflet {
    #[serde(flatten)]
    pub frame: Frame,
    pub intro: String,
    /// Three figures that were found on the visit.
    pub found: Vec<Fact>,
    /// The highest reading against the limit of every floor; one chart for each test method.
    pub moisture: Vec<MoistureChart>,
    pub moisture_notes: Vec<String>,
    /// First steps; only when nothing may be offered.
    pub first: Vec<String>,
    /// Height of every cross-section in millimeters: one scale for all.
    pub drawing_mm: f64,
    /// Caption of all drawings: the scale.
    pub caption: String,
    /// In the order of the offer.
    pub floors: Vec<LeafletFloor>,
    /// Gaps in what is known, a sentence each.
    pub unknown: Vec<String>,
    /// A sentence on each floor that waits, with what it hangs on; empty when none waits.
    pub hangs: Vec<String>,
    /// Dangers to people, a sentence each.
    pub hurt: Vec<String>,
    pub defer: String,
    pub questions: Vec<String>,
    /// Note on where to read the rest.
    pub more_note: String,
}

/// One floor: the same fields for each.
#[derive(Debug, Clone, Serialize)]
pub struct LeafletFloor {
    pub name: String,
    /// `waits for a test`, `close to its limit`, `not offered`; empty for a floor that is offered.
    pub mark: String,
    /// The reason for not offering it; empty when it is offered, or waits.
    pub why_not: String,
    /// Distance of the highest reading from its limit, in words.
    pub headroom: String,
    /// Days on site, the day the car may return, and the price when it is asked for; empty when
    /// the floor is not offered.
    pub facts: Vec<Fact>,
    /// Top coat first, concrete last, by name: what each is for is in the proposal.
    pub coats: Vec<CoatBand>,
    pub total: String,
    pub alt: String,
    pub better_at: Vec<String>,
    pub harder_at: Vec<String>,
    pub choose_if: String,
}

/// Height of a drawing on this paper.
const DRAWING_MM: f64 = 24.0;

/// Number of questions that the leaflet has room for: the first ones of the proposal.
const QUESTIONS: usize = 3;

/// Puts the leaflet into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn leaflet(w: &Writer<'_>, issue: &Issue, prices: bool) -> Result<Leaflet, WordsError> {
    let open = w.recommendation.floor.is_some();
    let title = w.say("family.leaflet.title", [("customer", w.case.job.customer.name.as_str())]);
    let mut frame = frame(w, issue, title, w.words.family_labels.clone());
    // The chart has the highest reading alone.
    if let Some(head) = frame.labels.pointer_mut("/slab/readings") {
        *head = w.plain("family.leaflet.reading").into();
    }
    if !prices {
        frame.head.valid_until = None;
    }
    let without_words = |coat: CoatBand| CoatBand { does: String::new(), ..coat };
    let stacks = cross_sections(w, &w.case.options.iter().collect::<Vec<_>>());
    let floors = w.case.options.iter().zip(stacks.stacks).map(|(option, stack)| {
        let words = w.system(&option.floor);
        let priced = w.recommendation.prices(option.key());
        let mark = w.mark(option.key());
        LeafletFloor {
            name: stack.name,
            mark: mark.filter(|mark| !mark.strong).map_or_else(String::new, |mark| mark.word),
            why_not: reason_not_offered(w, option),
            headroom: w.headroom_words(option),
            facts: if priced { floor_facts(w, option, prices) } else { vec![] },
            coats: stack.coats.into_iter().map(without_words).collect(),
            total: stack.total,
            alt: stack.alt,
            better_at: words.better_at,
            harder_at: words.harder_at,
            choose_if: words.choose_if,
        }
    });
    let bare = w.priced().iter().any(|option| !option.floor.has_barrier());
    let intro = if open { "family.leaflet.intro" } else { "family.leaflet.intro_not_yet" };
    let more = match (open, prices) {
        (false, _) => "family.leaflet.more_not_yet",
        (true, true) => "family.leaflet.more_priced",
        (true, false) => "family.leaflet.more",
    };
    w.checked(Leaflet {
        frame,
        intro: w.say(intro, [("count", w.case.options.len())]),
        found: found_facts(w),
        moisture: charts(w, Shown::Highest),
        moisture_notes: moisture_notes(w),
        first: if open { vec![] } else { first_steps(w) },
        drawing_mm: DRAWING_MM,
        caption: caption(w),
        floors: floors.collect(),
        unknown: unknowns(w, bare.then_some("family.leaflet.no_promise")),
        hangs: waiting_conditions(w),
        hurt: all_dangers(w),
        defer: w.plain("family.leaflet.defer"),
        questions: w.words.claims.questions.iter().take(QUESTIONS).cloned().collect(),
        more_note: w.plain(more),
    })
}

fn floor_facts(w: &Writer<'_>, option: &FloorOption<'_>, prices: bool) -> Vec<Fact> {
    let schedule = &option.estimate.schedule;
    let fact = |label: &str, value: String| w.fact(label, value, String::new());
    let mut facts = vec![
        fact("glance.days", w.figures.days(schedule.days)),
        fact("glance.car", w.day(schedule.drive)),
    ];
    if prices {
        let label = if option.quote.tax.0 > 0 { "glance.price" } else { "glance.price_no_tax" };
        facts.push(fact(label, w.money(option.quote.total)));
    }
    facts
}

/// Returns the basis of all drawings and of the times of all floors.
fn caption(w: &Writer<'_>) -> String {
    let offered = w.priced();
    let any = |such: fn(&FloorOption<'_>) -> bool| offered.iter().any(|option| such(option));
    let (slab, measured) = w.planned_slab();
    let times = match measured {
        _ if offered.is_empty() => "",
        _ if any(Writer::slab_not_covered) => "nearest",
        _ if any(Writer::by_rule) => "rule",
        true => "measured",
        false => "assumed",
    };
    w.say("family.leaflet.caption", [("times", times), ("slab", slab.as_str())])
}

/// Returns the condition of each floor that waits, without its price.
fn waiting_conditions(w: &Writer<'_>) -> Vec<String> {
    let conditions = w.priced().into_iter().filter_map(|option| {
        let facts = [("name", w.name(option.key())), ("only_if", only_if(w, option)?)];
        Some(w.say("hangs.line", facts))
    });
    conditions.collect()
}

/// Returns the dangers that the checks find on this job, then those of every job.
fn all_dangers(w: &Writer<'_>) -> Vec<String> {
    let mut all = dangers(w);
    all.extend(w.lines("family.leaflet.hurt", &values([("emergency", w.emergency())])));
    all
}
