//! The leaflet: one sheet on this slab, both chemistries in the same room and tone, and the slab left
//! as it is among the options. It recommends nothing and names no price unless it is asked to: it is
//! there to think with.

use serde::Serialize;

use crate::papers::family::message::{Message, main_hazards, message, next_steps, relied};
use crate::papers::proposal::page::{Fact, Frame, MoistureBar, NextStep, OwnRecords, Stack, Way};
use crate::papers::proposal::writer::{Writer, capital, joined};
use crate::papers::proposal::{
    BarsOn, Issue, Spaces, first_questions, frame, moisture_bars, moisture_notes, only_if,
    own_records, picture, reading_grade, reason_not_offered, test_way, unknowns,
};
use crate::price::case::FloorOption;
use crate::say::words::WordsError;

/// The leaflet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct Leaflet {
    #[serde(flatten)]
    pub frame: Frame,
    /// The one main message, which stands first.
    pub message: Message,
    /// The decision that it is about.
    pub intro: String,
    /// Statement on what the shop earns by.
    pub interest: String,
    /// The highest reading against the limit of every floor; one picture for each test method.
    pub bars: Vec<MoistureBar>,
    pub moisture_notes: Vec<String>,
    /// The day of the test, and how long it is relied on.
    pub relied: String,
    /// Gaps in what is known, a sentence each.
    pub unknown: Vec<String>,
    /// A sentence on each floor that waits, with what it hangs on; empty when none waits.
    pub hangs: Vec<String>,
    /// The main dangers to people, and where the rest of them is.
    pub hurt: Vec<String>,
    pub defer: String,
    pub next: Vec<NextStep>,
    /// The floors in the order of the offer.
    pub floors: Vec<LeafletOption>,
    /// The slab left as it is.
    pub leave: LeafletOption,
    /// The slab dried and tested again, where it is too damp for every floor.
    pub dry: Option<LeafletOption>,
    /// Basis of the times of all floors; empty when none is offered.
    pub times_note: String,
    pub questions: Vec<String>,
    /// The shop's own records of the floors; absent without any.
    pub records: Option<OwnRecords>,
    /// The kind of evidence behind the leaflet, and the reading grade of its words.
    pub about: String,
    /// Note on where to read the rest.
    pub more_note: String,
    /// A leaflet for each further space of a job that has several.
    pub more: Vec<Leaflet>,
}

/// One option: the same fields for each.
#[derive(Debug, Clone, Default, Serialize)]
pub struct LeafletOption {
    pub name: String,
    /// `waits for a test`, `close to its limit`, `not offered`; empty for a floor that is offered.
    pub mark: String,
    pub summary: String,
    /// The coats as they are drawn; absent for the slab left as it is.
    pub picture: Option<Stack>,
    /// The reason for not offering it; empty when it is offered, or waits.
    pub why_not: String,
    /// Distance of the highest reading from its limit, in words.
    pub headroom: String,
    /// Days on site, the day the car may return, and the price when it is asked for; empty when
    /// the floor is not offered.
    pub facts: Vec<Fact>,
    pub better_at: Vec<String>,
    pub harder_at: Vec<String>,
    pub choose_if: String,
}

/// Puts the leaflet into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn leaflet(w: &Writer<'_>, issue: &Issue, prices: bool) -> Result<Leaflet, WordsError> {
    let open = w.recommendation.floor.is_some();
    let title = minijinja::context! {
        customer => w.case.job.customer.name_on_paper().as_ref(),
        garage => w.case.job.place.is_none(),
    };
    let title = w.say_with("family.leaflet.title", title);
    let mut frame = frame(w, issue, title, w.words.family_labels.clone());
    if !prices {
        frame.head.valid_until = None;
    }
    let floors = w.case.options.iter().map(|option| floor(w, option, prices));
    let bare = w.priced().iter().any(|option| !option.floor.has_barrier());
    let mut unknown = unknowns(w, bare.then_some("family.leaflet.no_promise"));
    unknown.push(w.plain_if(open, "family.leaflet.no_chance"));
    unknown.retain(|sentence| !sentence.is_empty());
    let more = match (open, prices) {
        (false, _) => "family.leaflet.more_not_yet",
        (true, true) => "family.leaflet.more_priced",
        (true, false) => "family.leaflet.more",
    };
    w.checked(Leaflet {
        frame,
        message: message(w),
        intro: w.say_with(
            "family.leaflet.intro",
            minijinja::context! { count => w.case.options.len(), open },
        ),
        interest: w.plain("family.leaflet.interest"),
        bars: moisture_bars(w, BarsOn::Leaflet),
        moisture_notes: moisture_notes(w),
        relied: relied(w),
        unknown,
        hangs: waiting_conditions(w),
        hurt: main_hazards(w),
        defer: w.plain("family.leaflet.defer"),
        next: next_steps(w),
        floors: floors.collect(),
        leave: leave_it(w, prices && open),
        dry: if open { None } else { test_way(w).map(dry_it) },
        times_note: times_note(w),
        questions: first_questions(w),
        records: own_records(w, &w.case.options.iter().collect::<Vec<_>>()),
        about: joined([w.plain("family.leaflet.about"), reading_grade(w)]),
        more_note: w.plain(more),
        more: vec![],
    })
}

/// The leaflets of a job of several spaces as one paper, each under the name of its space.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn leaflets(s: &Spaces<'_>, issue: &Issue, prices: bool) -> Result<Leaflet, WordsError> {
    let one = |(name, w): (&str, &Writer<'_>)| {
        let mut leaflet = leaflet(w, issue, prices)?;
        leaflet.message.lead = w.headed(name, &leaflet.message.lead);
        Ok(leaflet)
    };
    let mut all = s.named().map(one).collect::<Result<Vec<Leaflet>, _>>()?;
    let mut first = all.remove(0);
    first.more = all;
    s.checked(first)
}

fn floor(w: &Writer<'_>, option: &FloorOption<'_>, prices: bool) -> LeafletOption {
    let words = w.system(&option.floor);
    let priced = w.recommendation.prices(option.key());
    let mark = w.mark(option.key());
    LeafletOption {
        name: w.name(option.key()),
        mark: mark.filter(|mark| !mark.strong).map_or_else(String::new, |mark| mark.word),
        summary: words.summary,
        picture: Some(unexplained(picture(w, option))),
        why_not: reason_not_offered(w, option),
        headroom: w.headroom_words(option),
        facts: if priced { floor_facts(w, option, prices) } else { vec![] },
        better_at: words.better_at,
        harder_at: words.harder_at,
        choose_if: words.choose_if,
    }
}

/// A drawing by the names of the coats alone: the proposal says what each is for.
fn unexplained(mut stack: Stack) -> Stack {
    stack.coats.iter_mut().for_each(|coat| coat.does.clear());
    stack
}

/// A further test as a choice; it has no day and no price before the slab is dry.
fn dry_it(way: Way) -> LeafletOption {
    LeafletOption {
        name: way.name,
        better_at: way.better_at,
        harder_at: way.harder_at,
        choose_if: way.choose_if,
        ..LeafletOption::default()
    }
}

/// The slab left as it is, in the same detail as a floor.
fn leave_it(w: &Writer<'_>, prices: bool) -> LeafletOption {
    let text = |key: &str| w.plain(&format!("family.leaflet.leave.{key}"));
    let facts = minijinja::context! {
        cracks => !w.case.job.shapes.cracks.is_empty(),
        salts => w.case.job.slab.salts == Some(true),
    };
    let list = |key: &str| w.lines(&format!("family.leaflet.leave.{key}"), &facts);
    let fact = |label: &str, value: &str| w.fact(label, text(value), String::new());
    let mut facts = vec![fact("glance.days", "days")];
    if w.case.job.has_cars() {
        facts.push(fact("family.leaflet.park", "park"));
    }
    if prices {
        facts.push(fact("glance.price_no_tax", "price"));
    }
    LeafletOption {
        name: text("name"),
        summary: text("summary"),
        headroom: text("headroom"),
        facts,
        better_at: list("better_at"),
        harder_at: list("harder_at"),
        choose_if: text("choose_if"),
        ..LeafletOption::default()
    }
}

fn floor_facts(w: &Writer<'_>, option: &FloorOption<'_>, prices: bool) -> Vec<Fact> {
    let schedule = &option.estimate.schedule;
    let fact = |label: &str, value: String| w.fact(label, value, String::new());
    let mut facts = vec![fact("glance.days", w.figures.days(schedule.days))];
    if w.case.job.has_cars() {
        facts.push(fact("family.leaflet.park", capital(&w.usable(schedule.drive))));
    }
    if prices {
        let label = if option.quote.tax.0 > 0 { "glance.price" } else { "glance.price_no_tax" };
        facts.push(fact(label, w.money(option.quote.total)));
    }
    facts
}

/// Returns the basis of the times of all floors.
fn times_note(w: &Writer<'_>) -> String {
    let offered = w.priced();
    let any = |such: fn(&FloorOption<'_>) -> bool| offered.iter().any(|option| such(option));
    let (slab, measured) = w.planned_slab();
    let times = match measured {
        _ if offered.is_empty() => return String::new(),
        _ if any(Writer::slab_not_covered) => "nearest",
        _ if any(Writer::by_rule) => "rule",
        true => "measured",
        false => "assumed",
    };
    w.say("family.leaflet.times", [("times", times), ("slab", slab.as_str())])
}

/// Returns the condition of each floor that waits, without its price.
fn waiting_conditions(w: &Writer<'_>) -> Vec<String> {
    let conditions = w.priced().into_iter().filter_map(|option| {
        let facts = [("name", w.name(option.key())), ("only_if", only_if(w, option)?)];
        Some(w.say("hangs.line", facts))
    });
    conditions.collect()
}
