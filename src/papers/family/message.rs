//! The one main message of the leaflet, how long its readings are relied on, the main dangers, and the next
//! steps with who takes each and by when.

use jiff::civil::Date;
use minijinja::{Value, context};
use serde::Serialize;

use crate::papers::proposal::page::NextStep;
use crate::papers::proposal::writer::Writer;
use crate::papers::proposal::{first_steps, grave_dangers, readings_until};
use crate::papers::usable::back_in;
use crate::price::signing::working_days_before;
use crate::site::moisture::days_between;
use crate::site::standing::{Settles, Standing};

/// The sentence that could stand alone, and what follows from it.
#[derive(Debug, Clone, Serialize)]
pub struct Message {
    pub lead: String,
    pub says: String,
}

/// Returns how damp the slab is for the floors that were asked about, then how many can be laid.
pub fn message(w: &Writer<'_>) -> Message {
    let options = &w.case.options;
    let offered = w.offered();
    let number = |count| in_words(w, count);
    let waits = w.priced().len() - offered.len();
    let names: Vec<_> = offered.iter().map(|option| option.key().clone()).collect();
    let facts = context! {
        all => options.len(),
        all_word => number(options.len()),
        offered => offered.len(),
        offered_word => number(offered.len()),
        names => w.names(&names),
        waits => waits,
        waits_word => number(waits),
    };
    let lead = format!("family.leaflet.message.{}", slab_state(w));
    Message {
        lead: w.say_with(&lead, facts.clone()),
        says: w.say_with("family.leaflet.message.floors", facts),
    }
}

/// A count in words, or in digits where it is too high for that.
pub fn in_words(w: &Writer<'_>, count: usize) -> String {
    let numbers = w.lines("family.numbers", &minijinja::Value::UNDEFINED);
    numbers.get(count).cloned().unwrap_or_else(|| count.to_string())
}

/// Standing of all floors to the moisture of the slab, in a word of the message.
fn slab_state(w: &Writer<'_>) -> &'static str {
    let stands = |wanted| {
        let of = w.case.options.iter().filter(|option| option.moisture.standing == wanted);
        of.count()
    };
    let all = w.case.options.len();
    let near = w.case.options.iter().any(|option| option.moisture.is_near_any());
    match (stands(Standing::Over), stands(Standing::NotJudged)) {
        (over, _) if over == all => "over_all",
        (over, _) if over > 0 => "over",
        _ if !w.case.site.moisture.tested() => "untested",
        (_, open) if open > 0 => "open",
        _ if near => "close",
        _ if stands(Standing::Close) > 0 => "was",
        _ => "clear",
    }
}

/// Returns the day of the last test and how long the tests are relied on: until the first good reading is too
/// old, as the proposal says too.
pub fn relied(w: &Writer<'_>) -> String {
    let Some(last) = w.case.site.moisture.last() else {
        return w.plain("family.leaflet.relied.untested");
    };
    let most = w.case.shop.testing.reading_days;
    let until = readings_until(w);
    let facts = [
        ("date", w.date(last)),
        ("days", w.figures.days(most)),
        ("until", until.map_or_else(String::new, |until| w.date(until))),
    ];
    let young = || days_between(last, w.case.job.date) <= most;
    let name = match until {
        Some(_) => "family.leaflet.relied.until",
        None if young() => "family.leaflet.relied.faulty",
        None => "family.leaflet.relied.past",
    };
    w.say(name, facts)
}

/// Working days from an answer to a signature, after the day of the answer: one to bring the proposal, one to read
/// it. Common practice, no published source.
const DAYS_TO_BRING: usize = 2;

/// Working days from the order of a moisture test to what it reads: one to set it out, three in which it stands (60
/// to 72 hours for a dish, ASTM F1869).
const DAYS_TO_TEST: usize = 4;

/// The day by which an answer is of use: then there is time to test where a test is open, to bring the proposal and to
/// sign it, and the tests are relied on. `None` where that day is before the leaflet.
fn answer_by(w: &Writer<'_>, waits_for_test: bool) -> Option<Date> {
    let sign = w.sign_by();
    let last = readings_until(w).map_or(sign, |until| until.min(sign));
    let days = DAYS_TO_BRING + if waits_for_test { DAYS_TO_TEST } else { 0 };
    working_days_before(last, days, w.case.job, w.case.shop)
}

/// The one who takes a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Actor {
    You,
    We,
}

/// The steps of an offer in each of its states, by their names in the words.
const OFFERED: &[(Actor, &str)] =
    &[(Actor::You, "choose"), (Actor::You, "call"), (Actor::We, "bring"), (Actor::We, "start")];
const TEST: &[(Actor, &str)] =
    &[(Actor::You, "order_test"), (Actor::We, "test"), (Actor::You, "choose_after")];
const MAKER: &[(Actor, &str)] =
    &[(Actor::We, "ask_maker"), (Actor::We, "bring_answer"), (Actor::You, "choose_after")];
const NOT_YET: &[(Actor, &str)] = &[(Actor::You, "call_when_done"), (Actor::We, "measure_again")];

/// Returns the next steps after a leaflet, in order: who takes each, what it is, and by when.
pub fn next_steps(w: &Writer<'_>) -> Vec<NextStep> {
    let waits_for_test = || {
        let states = &w.recommendation.states;
        states.iter().any(|(_, state)| state.waits_for() == Some(Settles::Test))
    };
    let (first, then) = match (w.recommendation.floor.is_some(), w.offered().is_empty()) {
        (false, _) => (first_steps(w), NOT_YET),
        (true, false) => (vec![], OFFERED),
        (true, true) if waits_for_test() => (vec![], TEST),
        (true, true) => (vec![], MAKER),
    };
    let say = |day: Option<Date>| day.map(|day| w.figures.date_weekday(day)).unwrap_or_default();
    let facts = context! {
        call => w.contact(),
        by => say(answer_by(w, w.offered().is_empty() && waits_for_test())),
        sign => w.figures.date_weekday(w.sign_by()),
        start => say(w.start()),
    };
    let first = first.into_iter().map(|says| NextStep { who: who(w, Actor::You), says });
    let then = then.iter().map(|(actor, step)| (*actor, format!("family.next.{step}")));
    first.chain(steps(w, then, &facts)).collect()
}

fn who(w: &Writer<'_>, actor: Actor) -> String {
    w.plain(match actor {
        Actor::You => "next.you",
        Actor::We => "next.we",
    })
}

/// Returns steps by the names of their sentences, each with who takes it. One that comes out empty does not apply.
pub(super) fn steps<S: AsRef<str>>(
    w: &Writer<'_>,
    steps: impl IntoIterator<Item = (Actor, S)>,
    facts: &Value,
) -> Vec<NextStep> {
    let step = |(actor, name): (Actor, S)| NextStep {
        who: who(w, actor),
        says: w.say_with(name.as_ref(), facts.clone()),
    };
    steps.into_iter().map(step).filter(|step| !step.says.is_empty()).collect()
}

/// Returns the grave dangers of this job, the caution of every job, whom to call, and where the rest is.
pub fn main_hazards(w: &Writer<'_>) -> Vec<String> {
    let title = w.words.labels.pointer("/safety/title").and_then(serde_json::Value::as_str);
    let facts = context! {
        emergency => w.emergency(),
        part => title.unwrap_or_default(),
        back => back_in(w, None),
    };
    let mut all: Vec<String> = grave_dangers(w);
    all.extend(w.lines("family.hurt", &facts));
    all
}
