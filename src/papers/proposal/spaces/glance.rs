//! Page one of a job of several spaces: every space in a line, the whole price, and what to do next.

use crate::base::lists::{each_once, grouped};
use crate::judge::recommend::OfferState;
use crate::papers::proposal::Issue;
use crate::papers::proposal::glance::{
    dangers, main_caution, reason_not_offered, start_conditions, unknowns, warranty_fact,
};
use crate::papers::proposal::hangs::hangs;
use crate::papers::proposal::next::{next_steps, sign_step};
use crate::papers::proposal::page::{Fact, Glance, Hangs, HangsRow, NextStep, OptionLine};
use crate::papers::proposal::replaces::replaces;
use crate::papers::proposal::spaces::Spaces;
use crate::papers::proposal::spaces::joined::by_space;
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::site::standing::Standing;

/// Largest number of sentences of one kind with which page one stays one page.
const SENTENCES: usize = 5;
/// Of what can hurt somebody it carries one more.
const HAZARDS: usize = 6;
/// Floors that wait, each with its condition.
const MOST_WAITING: usize = 4;
/// Spaces that wait up to which each has its condition in a line of its own.
const MOST_APART: usize = 2;
/// Sentences on what nobody knows, where several spaces wait: what they wait for says much of it.
const WHERE_MANY_WAIT: usize = 2;

pub fn glance(s: &Spaces<'_>, issue: &Issue) -> Glance {
    let w = s.w();
    let first = s.first_floors();
    let mut unknown = by_space(s, |w| {
        let bare = w.first().is_some_and(|choice| !choice.floor.has_barrier());
        unknowns(w, bare.then_some("glance.no_promise"))
    });
    let many_wait = counts(s).waiting > MOST_APART;
    unknown.truncate(if many_wait { WHERE_MANY_WAIT } else { SENTENCES });
    let mut hurt = by_space(s, dangers);
    hurt.truncate(HAZARDS);
    let caution = s.named().find_map(|(name, w)| {
        let mut caution = main_caution(w)?;
        caution.title = w.headed(name, &caution.title);
        Some(caution)
    });
    Glance {
        not_yet: first.is_empty(),
        replaces: issue.replaces.as_ref().map(|before| replaces(w, before)),
        headline: headline(s),
        reason: reason(s),
        floor_is: String::new(),
        answers: if first.is_empty() { vec![] } else { answers(s) },
        bars: vec![],
        moisture_notes: vec![],
        picture: None,
        options: s.named().map(|(name, w)| option_line(name, w)).collect(),
        unknown,
        hurt,
        next: next(s),
        hangs: hangs_of_spaces(s),
        caution,
        start: by_space(s, start_conditions),
    }
}

/// The spaces by what may be done in them today.
struct Counts {
    all: usize,
    offered: usize,
    waiting: usize,
}

fn counts(s: &Spaces<'_>) -> Counts {
    let state = |w: &Writer<'_>| w.first().map(|floor| w.recommendation.state(floor.key()));
    let states: Vec<Option<OfferState>> = s.writers.iter().map(state).collect();
    let waits = |state: &&Option<OfferState>| matches!(state, Some(OfferState::Waits(_)));
    Counts {
        all: states.len(),
        offered: states.iter().filter(|state| **state == Some(OfferState::Offered)).count(),
        waiting: states.iter().filter(waits).count(),
    }
}

fn headline(s: &Spaces<'_>) -> String {
    let Counts { all, offered, waiting } = counts(s);
    s.w().say("space.headline", [("count", all), ("offered", offered), ("waiting", waiting)])
}

fn reason(s: &Spaces<'_>) -> String {
    let w = s.w();
    if s.first_floors().is_empty() {
        return w.plain("space.not_yet_reason");
    }
    let names: Vec<String> = s.first_floors().iter().map(|(name, ..)| (*name).to_owned()).collect();
    let facts = [("spaces", w.figures.list(&names)), ("days", w.figures.days(s.judged.days()))];
    let count =
        minijinja::context! { several => names.len() > 1, ..minijinja::Value::from_pairs(facts) };
    w.say_with("space.reason", count)
}

fn answers(s: &Spaces<'_>) -> Vec<Fact> {
    let w = s.w();
    let taxed = s.judged.price.as_ref().is_some_and(|price| price.bill.tax.0 > 0);
    let price = if taxed { "glance.price" } else { "glance.price_no_tax" };
    let facts = minijinja::context! { date => w.until(), waits => s.some_wait() };
    let note = w.say_with("space.price_note", facts);
    let start = w.start().map_or_else(String::new, |date| w.figures.date_short(date));
    let mut facts = vec![
        w.fact(price, w.money(s.total()), note),
        w.fact(
            "space.days",
            w.figures.days(s.judged.days()),
            w.say("space.days_note", [("start", start)]),
        ),
    ];
    facts.extend(warranty_fact(w));
    facts
}

/// From when on a floor is in full use: one may park on it, or carry things in where no car drives.
pub fn ready(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    w.usable_cell(option.estimate.schedule.in_full_use(w.case.job.has_cars()))
}

/// The reasons for which no floor of a space is offered, each once.
pub fn reasons_not_offered(w: &Writer<'_>) -> String {
    each_once(w.case.options.iter().map(|one| reason_not_offered(w, one))).join(" ")
}

fn option_line(name: &str, w: &Writer<'_>) -> OptionLine {
    let Some(first) = w.first() else {
        return OptionLine {
            name: name.to_owned(),
            standing: w.plain("glance.not_offered"),
            why_not: reasons_not_offered(w),
            ..OptionLine::default()
        };
    };
    let key = first.key();
    OptionLine {
        name: w.headed(name, &w.floor_name(key)),
        price: w.money(first.quote.total),
        days: w.figures.days(first.estimate.schedule.days),
        car_back: ready(w, first),
        standing: w.standing_words(key),
        recommended: w.recommendation.recommends(key),
        offered: w.recommendation.offers(key),
        waits: w.recommendation.waits(key),
        close: first.moisture.standing == Standing::Close,
        why_not: String::new(),
    }
}

/// What the offer hangs on, space by space.
fn hangs_of_spaces(s: &Spaces<'_>) -> Option<Hangs> {
    let all: Vec<(&str, &Writer<'_>, Hangs)> =
        s.named().filter_map(|(name, w)| Some((name, w, hangs(w)?))).collect();
    let (_, _, first) = all.first()?;
    // Of many, page one names the floor of each space that comes first; the leaf has them all.
    let many = all.iter().map(|(_, _, hangs)| hangs.rows.len()).sum::<usize>() > MOST_WAITING;
    let rows = all.iter().flat_map(|(name, w, hangs)| {
        let first = w.first().map(|floor| w.name(floor.key()));
        let shown = hangs.rows.iter().filter(move |row| !many || Some(&row.name) == first.as_ref());
        shown.map(|row| HangsRow { name: w.headed(name, &row.name), ..row.clone() })
    });
    let mut rows: Vec<HangsRow> = rows.collect();
    if rows.len() > MOST_APART {
        rows = by_condition(rows, |names| s.w().figures.list(names));
    }
    Some(Hangs {
        says: s.w().say("space.hangs", [("count", rows.len())]),
        rows,
        otherwise: s.w().plain("space.hangs_otherwise"),
        order: first.order.clone(),
    })
}

/// Rows of the same condition as one: their names, without the prices, which stand in the table.
fn by_condition(rows: Vec<HangsRow>, list: impl Fn(&[String]) -> String) -> Vec<HangsRow> {
    let row = |(only_if, names): (String, Vec<String>)| HangsRow {
        name: list(&names),
        price: String::new(),
        only_if,
    };
    let named = rows.into_iter().map(|row| (row.only_if, row.name));
    grouped(named).into_iter().map(row).collect()
}

/// The next steps, at most seven.
fn next(s: &Spaces<'_>) -> Vec<NextStep> {
    let w = s.w();
    if !s.some_offered() {
        let waits = s.writers.iter().find(|w| w.first().is_some());
        return next_steps(waits.unwrap_or(w));
    }
    let mut steps = vec![];
    let mut add = |who: &str, says: String| steps.push(NextStep { who: w.plain(who), says });
    let open = |w: &Writer<'_>| !w.offered().is_empty() && w.case.job.choices.color.is_none();
    let open = s.named().filter(|(_, w)| open(w)).map(|(name, _)| name.to_owned());
    let open: Vec<String> = open.collect();
    let some = if open.len() < s.writers.len() { w.figures.list(&open) } else { String::new() };
    let facts = minijinja::context! { color => !open.is_empty(), some, call => w.contact() };
    add("next.you", w.say_with("space.next.choose", facts));
    let waiting: Vec<String> = s
        .first_floors()
        .iter()
        .filter(|(_, w, floor)| w.recommendation.waits(floor.key()))
        .map(|(name, ..)| (*name).to_owned())
        .collect();
    if !waiting.is_empty() {
        add("next.you", w.say("space.next.test", [("spaces", w.figures.list(&waiting))]));
    }
    add("next.you", sign_step(w));
    match w.start() {
        Some(start) => {
            let start = w.figures.date_weekday(start);
            add("next.you", w.say("space.next.empty", [("start", start.as_str())]));
            add("next.we", w.say("next.start", [("start", start)]));
        }
        None => {
            add("next.we", w.plain("next.agree_days"));
            add("next.you", w.say("space.next.empty", [("start", "")]));
        }
    }
    steps
}
