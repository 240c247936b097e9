//! Other bids read beside ours: the same questions for every bid, ours first. No firm is named and no bid
//! is judged; where figures cannot all be right, the sum is shown.

use minijinja::context;
use serde::Serialize;

use crate::base::quantity::{Area, Thickness};
use crate::model::bid::{Bid, BidCoat};
use crate::model::job::Units;
use crate::papers::family::message::{Actor, Message, in_words, steps};
use crate::papers::proposal::page::{Frame, NextStep};
use crate::papers::proposal::writer::{Writer, capital, joined};
use crate::papers::proposal::{Issue, Written, frame};
use crate::price::bid::{Basis, BidSum, ROUNDED, bid_sum};
use crate::price::case::FloorOption;
use crate::price::film::spread_at;
use crate::price::floor::FloorCoat;
use crate::say::words::WordsError;
use crate::site::moisture::Series;

/// The sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct BidSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub message: Message,
    pub intro: String,
    /// Heads of the columns: ours, then each bid by its letter.
    pub bids: Vec<String>,
    /// The questions, the same for all.
    pub rows: Vec<BidRow>,
    /// The number of questions that each answers, ours first.
    pub counts: Vec<BidCount>,
    /// Figures that cannot all be right, a sentence each; empty where none was found.
    pub sums: Vec<String>,
    pub sums_note: String,
    /// Units that the table uses, with their meaning; empty where it uses none.
    pub units: String,
    /// Interest of the shop in the comparison.
    pub interest: String,
    pub next: Vec<NextStep>,
}

/// The answers of a bid as a drawing, a mark for each question in the order of the rows, and as a count.
#[derive(Debug, Clone, Serialize)]
pub struct BidCount {
    pub text: String,
    /// True for a question that it answers.
    pub marks: Vec<bool>,
}

/// A question with the answer of each bid.
#[derive(Debug, Clone, Serialize)]
pub struct BidRow {
    pub question: String,
    pub answers: Vec<BidAnswer>,
}

/// An answer, and how much of one it is.
#[derive(Debug, Clone, Serialize)]
pub struct BidAnswer {
    /// `answered`, `silent` or `impossible`; `open` where we offer no floor yet of which it could be told.
    pub state: &'static str,
    pub text: String,
}

fn answered(text: String) -> BidAnswer {
    BidAnswer { state: "answered", text }
}

/// Puts the bids of a job into words; `None` where it has none.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn bid_sheet(w: &Writer<'_>, issue: &Issue) -> Result<Option<BidSheet>, WordsError> {
    let bids = &w.case.job.bids;
    if bids.is_empty() {
        return Ok(None);
    }
    let title =
        w.say("family.bids.title", [("customer", w.case.job.customer.name_on_paper().as_ref())]);
    let mut frame = frame(w, issue, title, w.words.family_labels.clone());
    if w.recommended().is_none() {
        frame.head.valid_until = None;
    }
    let sums: Vec<Vec<Sum>> = bids.iter().enumerate().map(|(at, bid)| sums(w, at, bid)).collect();
    let wrong: Vec<String> =
        sums.iter().flatten().filter(|sum| sum.impossible).map(|sum| sum.says.clone()).collect();
    let names = (0..bids.len()).map(|at| name(w, at));
    let rows = rows(w, bids, &sums);
    let counts: Vec<BidCount> = (0..=bids.len()).map(|at| count(w, &rows, at)).collect();
    let facts = context! { wrong => !wrong.is_empty(), call => w.contact() };
    let sheet = BidSheet {
        frame,
        message: message(w, &counts),
        intro: w.plain("family.bids.intro"),
        bids: std::iter::once(w.plain("family.bids.ours")).chain(names).collect(),
        rows,
        counts,
        units: units(w, bids),
        next: steps(w, NEXT, &facts),
        sums_note: sums_note(w, bids, !wrong.is_empty()),
        sums: wrong,
        interest: w.plain("family.leaflet.interest"),
    };
    w.checked(Some(sheet))
}

const NEXT: [(Actor, &str); 3] = [
    (Actor::You, "family.bids.next.ask"),
    (Actor::You, "family.bids.next.compare"),
    (Actor::We, "family.bids.next.ours"),
];

/// Returns the number of answers that are open in all bids, and in each.
fn message(w: &Writer<'_>, counts: &[BidCount]) -> Message {
    let open_in = |count: &BidCount| count.marks.iter().filter(|mark| !**mark).count();
    let others = counts.iter().skip(1);
    let each = others.clone().enumerate().map(|(at, count)| {
        let facts = context! { bid => name(w, at), open => open_in(count) };
        w.say_with("family.bids.open_in", facts)
    });
    let facts = context! {
        count => others.len(),
        word => in_words(w, others.len()),
        open => others.clone().map(open_in).sum::<usize>(),
        questions => counts.first().map_or(0, |count| count.marks.len()),
        each => w.figures.list(&each.collect::<Vec<_>>()),
    };
    Message {
        lead: capital(&w.say_with("family.bids.lead", facts.clone())),
        says: w.say_with("family.bids.says", facts),
    }
}

fn count(w: &Writer<'_>, rows: &[BidRow], at: usize) -> BidCount {
    let answers = rows.iter().filter_map(|row| row.answers.get(at));
    let marks: Vec<bool> = answers.map(|answer| answer.state == "answered").collect();
    let answered = marks.iter().filter(|mark| **mark).count();
    let facts = context! { answered => answered, questions => marks.len() };
    BidCount { text: w.say_with("family.bids.answered", facts), marks }
}

/// Units of thickness and of moisture, each with its meaning where a bid or our own answer has one.
fn units(w: &Writer<'_>, bids: &[Bid]) -> String {
    let us = w.case.job.units == Units::Us;
    let thick = bids.iter().flat_map(|bid| &bid.coats).any(|coat| coat.film.is_some());
    let moisture = &w.case.site.moisture;
    let mver = moisture.mver.is_some() || bids.iter().any(|bid| bid.mver_limit.is_some());
    let facts = context! {
        us => us,
        thick => thick || w.first().is_some(),
        mver => w.say("slab.mver_unit", [("us", us)]),
        has_mver => mver,
    };
    w.say_with("family.bids.units", facts)
}

/// Returns how the sums are made, or what it means that none was found wrong; with the area that was taken
/// where a bid states none.
fn sums_note(w: &Writer<'_>, bids: &[Bid], any: bool) -> String {
    let by_volume = |bid: &Bid| bid.coats.iter().any(|coat| coat.volume.is_some());
    let taken = bids.iter().any(|bid| bid.area.is_none() && by_volume(bid));
    let area = if taken { w.figure(measured(w)) } else { String::new() };
    let film = match w.case.job.units {
        Units::Us => Thickness::mils(10.0),
        Units::Metric => Thickness::micrometers(100.0),
    };
    let facts = context! {
        any => any,
        area => area,
        film => w.figure(film),
        spread => w.figure(spread_at(film)),
        rounded => w.figure(ROUNDED),
    };
    w.say_with("family.bids.sums_note", facts)
}

/// The name of a bid: its letter.
fn name(w: &Writer<'_>, at: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(at).unwrap_or_default());
    w.say("family.bids.bid", [("letter", letter.to_string())])
}

// --------------------------------------------------------------------------------------- sums

/// What the figures of a coat come to, in a sentence.
struct Sum {
    coat: String,
    says: String,
    impossible: bool,
}

fn sums(w: &Writer<'_>, at: usize, bid: &Bid) -> Vec<Sum> {
    let area = bid.area.unwrap_or_else(|| measured(w));
    bid.coats.iter().filter_map(|coat| sum(w, at, coat, area)).collect()
}

/// The floor as we measured it.
fn measured(w: &Writer<'_>) -> Area {
    w.case.site.take_off.coated()
}

fn sum(w: &Writer<'_>, at: usize, coat: &BidCoat, area: Area) -> Option<Sum> {
    let basis = |basis| match basis {
        Basis::Spread => coat.spread.map_or_else(String::new, |spread| w.figure(spread)),
        Basis::Volume => {
            let volume = coat.volume.map_or_else(String::new, |volume| w.figure(volume));
            w.say("family.bids.sum.over", [("volume", volume), ("area", w.figure(area))])
        }
    };
    let solids = coat.solids.map_or_else(String::new, |solids| w.figure(solids));
    let (kind, values, impossible) = match bid_sum(coat, area) {
        BidSum::Silent => return None,
        BidSum::Leaves(leaves, by) => {
            ("leaves", [w.figure(leaves), String::new(), basis(by)], false)
        }
        BidSum::Thinner { leaves, stated, basis: by } => {
            ("thinner", [w.figure(leaves), w.figure(stated), basis(by)], true)
        }
        BidSum::ThinnerThanWet { wet, stated, basis: by } => {
            ("thinner_than_wet", [w.figure(wet), w.figure(stated), basis(by)], true)
        }
        BidSum::TooLittle { volume, covers } => {
            ("too_little", [w.figure(covers), w.figure(area), w.figure(volume)], true)
        }
    };
    let [found, stated, by] = values;
    let facts = context! {
        bid => name(w, at), coat => coat.name.clone(), solids => solids,
        found => found, stated => stated, by => by,
    };
    let says = w.say_with(&format!("family.bids.sum.{kind}"), facts);
    Some(Sum { coat: coat.name.clone(), says: capital(&says), impossible })
}

// --------------------------------------------------------------------------------------- rows

fn rows(w: &Writer<'_>, bids: &[Bid], sums: &[Vec<Sum>]) -> Vec<BidRow> {
    let ours = w.first();
    let silent = || BidAnswer { state: "silent", text: w.plain("family.bids.silent") };
    let stated = |text: Option<String>| text.map_or_else(silent, answered);
    // What is a floor's own cannot be told without one.
    let of_floor = ["limit", "coats", "sums", "air", "days", "price"];
    let nothing = || BidAnswer { state: "open", text: w.plain("family.bids.own.nothing") };
    let row = |name: &str, own: String, of: &dyn Fn(usize, &Bid) -> BidAnswer| BidRow {
        question: w.plain(&format!("family.bids.question.{name}")),
        answers: std::iter::once(match ours.is_none() && of_floor.contains(&name) {
            true => nothing(),
            false => answered(own),
        })
        .chain(bids.iter().enumerate().map(|(at, bid)| of(at, bid)))
        .collect(),
    };
    let limit_of_ours = ours.map_or_else(String::new, |option| w.headroom_words(option));
    vec![
        row("preparation", w.plain("family.bids.own.preparation"), &|_, bid| {
            stated(bid.preparation.clone())
        }),
        row("test", own_test(w), &|_, bid| stated(bid.moisture_test.clone())),
        row("limit", limit_of_ours, &|_, bid| stated(limit(w, bid))),
        row("coats", own_coats(w, ours), &|_, bid| stated(coats(w, bid))),
        row("sums", w.plain("family.bids.own.sums"), &|at, _| fitting(w, &sums[at], silent())),
        row("air", own_air(w, ours), &|_, bid| stated(bid.air.clone())),
        row("days", own_days(w, ours), &|_, bid| stated(days(w, bid))),
        row("area", w.figure(measured(w)), &|_, bid| stated(bid.area.map(|area| w.figure(area)))),
        row("warranty", own_warranty(w), &|_, bid| stated(bid.warranty.clone())),
        row("price", own_price(w, ours), &|_, bid| stated(bid.price.map(|price| w.money(price)))),
    ]
}

fn own_test(w: &Writer<'_>) -> String {
    let highest = w.highest().filter(|_| w.case.site.moisture.tested());
    match (highest, w.case.site.moisture.last()) {
        (Some((reading, _, count)), Some(last)) => {
            let facts = context! { reading => reading, count => count, date => w.date(last) };
            w.say_with("family.bids.own.test", facts)
        }
        _ => w.plain("family.bids.own.no_test"),
    }
}

fn own_coats(w: &Writer<'_>, ours: Option<&FloorOption<'_>>) -> String {
    let Some(option) = ours else { return String::new() };
    // Flake and grit are no coats here either: bids rarely count them.
    let films = option.floor.coats.iter().filter(|coat| coat.resin().is_some());
    let films: Vec<Thickness> = films.map(FloorCoat::thickness).collect();
    let facts = context! {
        count => films.len(),
        film => w.figures.films(&films),
        flake => option.floor.has_flake(),
    };
    w.say_with("family.bids.own.coats", facts)
}

fn own_air(w: &Writer<'_>, ours: Option<&FloorOption<'_>>) -> String {
    let resins = || ours.into_iter().flat_map(|option| option.floor.resins());
    let facts = context! {
        fire => resins().any(|(_, resin)| resin.flammable() == Some(true)),
        isocyanate => resins().any(|(_, resin)| resin.isocyanate),
    };
    w.say_with("family.bids.own.air", facts)
}

fn own_days(w: &Writer<'_>, ours: Option<&FloorOption<'_>>) -> String {
    let Some(option) = ours else { return String::new() };
    let schedule = &option.estimate.schedule;
    let facts = [("days", w.figures.days(schedule.days)), ("drive", w.usable_cell(schedule.drive))];
    w.say("family.bids.days", facts)
}

fn own_warranty(w: &Writer<'_>) -> String {
    let short = w.case.shop.promise_in_short();
    short.cloned().unwrap_or_else(|| w.plain("family.bids.own.warranty"))
}

fn own_price(w: &Writer<'_>, ours: Option<&FloorOption<'_>>) -> String {
    match ours {
        Some(option) => {
            let waits = w.recommendation.waits(option.key());
            let facts = context! { price => w.money(option.quote.total), waits => waits };
            w.say_with("family.bids.own.price", facts)
        }
        None => String::new(),
    }
}

/// The limits of a bid, each beside our highest reading where that is over it.
fn limit(w: &Writer<'_>, bid: &Bid) -> Option<String> {
    let moisture = &w.case.site.moisture;
    let mver = bid.mver_limit.map(|limit| one_limit(w, limit, moisture.mver.as_ref()));
    let rh = bid.rh_limit.map(|limit| one_limit(w, limit, moisture.rh.as_ref()));
    let said: Vec<String> = mver.into_iter().chain(rh).collect();
    (!said.is_empty()).then(|| said.join("; "))
}

fn one_limit<Q: Written>(w: &Writer<'_>, limit: Q, series: Option<&Series<Q>>) -> String {
    let stated = w.figure(limit.of_slab());
    let highest = series.filter(|series| series.counts()).map(|series| series.highest().value);
    match highest.filter(|reading| *reading > limit) {
        Some(reading) => {
            let reading = w.figure(reading.of_slab());
            w.say("family.bids.over", [("limit", stated), ("reading", reading)])
        }
        None => stated,
    }
}

/// The coats of a bid with the dry films that it states.
fn coats(w: &Writer<'_>, bid: &Bid) -> Option<String> {
    let count = if bid.coats.is_empty() { bid.coat_count? } else { bid.coats.len() as u32 };
    let listed: Vec<String> = bid
        .coats
        .iter()
        .map(|coat| {
            let film = coat.film.map_or_else(String::new, |film| w.figure(film));
            w.say("family.bids.coat", [("name", coat.name.clone()), ("film", film)])
        })
        .collect();
    Some(w.say_with("family.bids.coats", context! { count => count, listed => listed }))
}

fn days(w: &Writer<'_>, bid: &Bid) -> Option<String> {
    let days = bid.days.map_or_else(String::new, |days| w.figures.days(days));
    let drive = bid.drive.clone().unwrap_or_default();
    let said = !days.is_empty() || !drive.is_empty();
    said.then(|| w.say("family.bids.days", [("days", days), ("drive", drive)]))
}

/// True, false or not to be told: whether the figures of a bid fit together.
fn fitting(w: &Writer<'_>, sums: &[Sum], silent: BidAnswer) -> BidAnswer {
    if sums.is_empty() {
        return silent;
    }
    let wrong: Vec<String> =
        sums.iter().filter(|sum| sum.impossible).map(|sum| sum.coat.clone()).collect();
    let fits = wrong.is_empty();
    let text = w.say_with("family.bids.fitting", context! { wrong => wrong });
    if fits {
        let leaves = sums.iter().map(|sum| sum.says.clone());
        return answered(joined(std::iter::once(text).chain(leaves)));
    }
    BidAnswer { state: "impossible", text }
}
