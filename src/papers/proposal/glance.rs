//! Part 1: what, why, how much, how long, what could hurt, what is not known.

use crate::base::lists::each_once;
use crate::judge::checks::{self, Check, Finding, Severity, stops};
use crate::judge::recommend::Headline;
use crate::model::job::SheetFound;
use crate::papers::proposal::Issue;
use crate::papers::proposal::compare::life_words;
use crate::papers::proposal::hangs::{hangs, only_if};
use crate::papers::proposal::layers::picture;
use crate::papers::proposal::moisture_bar::{BarsOn, moisture_bars, moisture_in_words};
use crate::papers::proposal::next::next_steps;
use crate::papers::proposal::page::{Fact, Glance, Notice, OptionLine};
use crate::papers::proposal::readings::PastReading;
use crate::papers::proposal::reason::reason;
use crate::papers::proposal::replaces::replaces;
use crate::papers::proposal::slab::too_damp;
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::say::words::ShortKind;
use crate::site::method::{MethodFault, TestMethod};
use crate::site::moisture::{ReadingPart, Series, days_between};
use crate::site::standing::Standing;

/// Largest number of sentences of one kind with which page one stays one page.
const SENTENCES: usize = 5;
/// Of what can hurt somebody it carries one more.
const HAZARDS: usize = 6;

pub fn glance(w: &Writer<'_>, issue: &Issue) -> Glance {
    let first = w.first();
    let bare = first.is_some_and(|choice| !choice.floor.has_barrier());
    let bars = moisture_bars(w, BarsOn::Proposal);
    Glance {
        not_yet: first.is_none(),
        replaces: issue.replaces.as_ref().map(|before| replaces(w, before)),
        headline: headline(w),
        reason: match first {
            Some(choice) => reason(w, choice),
            None => {
                let facts = minijinja::context! {
                    count => w.case.options.len(),
                    drying => too_damp(w),
                };
                w.say_with("glance.not_yet_reason", facts)
            }
        },
        floor_is: first.map_or_else(String::new, |choice| w.system(&choice.floor).summary),
        answers: first.map_or_else(Vec::new, |choice| answer_facts(w, choice)),
        moisture_notes: if bars.is_empty() { moisture_in_words(w) } else { vec![] },
        bars,
        picture: first.map(|choice| picture(w, choice)),
        options: option_lines(w),
        unknown: unknowns(w, bare.then_some("glance.no_promise")),
        hurt: dangers(w),
        next: next_steps(w),
        hangs: hangs(w),
        caution: main_caution(w),
        start: start_conditions(w),
    }
}

/// The sentence that page one opens with.
pub fn headline(w: &Writer<'_>) -> String {
    let facts = w.first().map_or(minijinja::Value::UNDEFINED, |choice| {
        let words = w.system(&choice.floor);
        minijinja::context! { floor => minijinja::context! { the_name => words.the_name, name => words.name } }
    });
    let name = match w.recommendation.headline {
        Headline::Recommend => "glance.recommend",
        Headline::Near => "glance.near",
        Headline::TestFirst => "glance.test_first",
        Headline::AskFirst => "glance.ask_first",
        Headline::NotYet => "glance.not_yet",
    };
    w.say_with(name, facts)
}

fn answer_facts(w: &Writer<'_>, choice: &FloorOption<'_>) -> Vec<Fact> {
    let price = if choice.quote.tax.0 > 0 { "glance.price" } else { "glance.price_no_tax" };
    let price_note = match only_if(w, choice) {
        Some(only_if) => w.say("glance.price_note_waits", [("only_if", only_if)]),
        None => w.say("glance.price_note", [("date", w.until())]),
    };
    let mut facts = vec![
        w.fact(price, w.money(choice.quote.total), price_note),
        closed_fact(w, choice),
        w.fact("glance.life", life_words(w, choice), w.plain("glance.life_note")),
    ];
    facts.extend(warranty_fact(w));
    facts
}

/// The promises of the shop, in short.
pub fn warranty_fact(w: &Writer<'_>) -> Option<Fact> {
    let short = w.case.shop.promise_in_short()?.clone();
    Some(w.fact("glance.warranty", short, w.plain("glance.warranty_note")))
}

/// The days on which the garage cannot be used: from the first day of work until one may park in it.
fn closed_fact(w: &Writer<'_>, choice: &FloorOption<'_>) -> Fact {
    let schedule = &choice.estimate.schedule;
    let free = schedule.drive.by_day();
    let days = free.day();
    let value = match (w.start(), w.day_of(free)) {
        (Some(from), Some(to)) if from == to => w.figures.date_short(from),
        (Some(from), Some(to)) if days <= 7 => {
            let [from, to] = [from, to].map(|date| w.figures.weekday_short(date));
            w.say("glance.closed_from_to", [("from", from), ("to", to)])
        }
        _ => w.figures.days(days),
    };
    let (slab, measured) = w.planned_slab();
    let basis = match measured {
        _ if Writer::slab_not_covered(choice) => "allowed",
        _ if Writer::by_rule(choice) => "rule",
        true => "measured",
        false => "assumed",
    };
    let start = w.start().map_or_else(String::new, |date| w.figures.date_short(date));
    let note = [
        ("days", w.figures.days(schedule.days)),
        ("start", start),
        ("park", w.usable_short(schedule.drive)),
        ("basis", basis.to_owned()),
        ("slab", slab),
    ];
    w.fact("glance.closed", value, w.say("glance.closed_note", note))
}

/// True when a plastic sheet that counts was damp.
fn damp_sheet(w: &Writer<'_>) -> bool {
    let sheets = w.case.site.moisture.sheets.iter();
    sheets.flat_map(|sheets| sheets.standing()).any(|sheet| sheet.value == SheetFound::Damp)
}

/// Every option in a line: the one that comes first, the others with a price, then the rest.
pub fn option_lines(w: &Writer<'_>) -> Vec<OptionLine> {
    let mut options: Vec<&FloorOption<'_>> = w.case.options.iter().collect();
    let offer = w.recommendation;
    options.sort_by_key(|choice| (!offer.puts_first(choice.key()), !offer.prices(choice.key())));
    let lines = options.into_iter().map(|choice| {
        let key = choice.key();
        let shown = |text: String| if offer.prices(key) { text } else { String::new() };
        OptionLine {
            name: w.name(key),
            price: shown(w.money(choice.quote.total)),
            days: shown(w.figures.days(choice.estimate.schedule.days)),
            car_back: shown(w.usable_cell(choice.estimate.schedule.drive)),
            standing: w.standing_words(key),
            recommended: offer.recommends(key),
            offered: offer.offers(key),
            waits: offer.waits(key),
            close: choice.moisture.standing == Standing::Close,
            why_not: reason_not_offered(w, choice),
        }
    });
    lines.collect()
}

/// Returns the reason for which a floor is not offered; empty for one that is, or that waits.
pub fn reason_not_offered(w: &Writer<'_>, choice: &FloorOption<'_>) -> String {
    if w.recommendation.prices(choice.key()) {
        return String::new();
    }
    // A floor without a stop is off the offer until its maker answers: the findings that make it
    // wait say so.
    let stops = stops(w.findings, choice.key());
    let waits = w.findings.iter().filter(|finding| {
        finding.severity == Severity::Wait && finding.option.as_ref() == Some(choice.key())
    });
    let why: Vec<&Finding> = if stops.is_empty() { waits.collect() } else { stops };
    w.short_sentences(why.into_iter(), |text| text.why_not.as_ref()).join(" ")
}

// -------------------------------------------------------------------------- not known, cautions

/// A reading older than this has its age on page one, in days. The shop's practice, no published
/// source.
const AGE_SAID: u32 = 30;

/// All departures from the methods of the tests.
fn method_faults<'w>(w: &Writer<'w>) -> impl Iterator<Item = &'w MethodFault> {
    let moisture = &w.case.site.moisture;
    let methods = [TestMethod::Dish, TestMethod::Probe, TestMethod::Sheet];
    methods.into_iter().flat_map(|method| moisture.faults(method))
}

/// Returns the unknowns, a short sentence each: first how far the moisture test can be trusted.
/// `bare` is the sentence on floors without a barrier, where one is to be said.
pub fn unknowns(w: &Writer<'_>, bare: Option<&str>) -> Vec<String> {
    let moisture = &w.case.site.moisture;
    let few = |fault: &MethodFault| matches!(fault, MethodFault::TooFewTests { .. });
    let mut sentences = vec![
        w.plain_if(method_faults(w).any(MethodFault::may_read_low), "glance.not_to_method"),
        w.plain_if(method_faults(w).any(few), "glance.too_few"),
    ];
    if let Some(last) = moisture.last() {
        let days = days_between(last, w.case.job.date);
        if days > AGE_SAID {
            let age = [("days", w.figures.days(days)), ("date", w.date(last))];
            sentences.push(w.say("glance.age", age));
        }
    }
    sentences.extend(readings_set_aside(w));
    sentences.push(w.plain_if(damp_sheet(w), "glance.damp_sheet"));
    if let (Some(last), Some(start)) = (moisture.last(), w.start()) {
        let most = w.case.shop.testing.reading_days;
        let old = |date| days_between(last, date) > most;
        if old(start) && !old(w.case.job.date) {
            sentences.push(w.say("glance.old_at_start", [("start", w.date(start))]));
        }
    }
    if let Some(bare) = bare.filter(|_| w.case.job.slab.on_ground && moisture.tested()) {
        sentences.push(w.plain(bare));
    }
    sentences.retain(|sentence| !sentence.is_empty());
    // What says how far the test can be trusted is never cut.
    let most = SENTENCES.max(sentences.len());
    sentences.extend(short_sentences(w, ShortKind::Unknown));
    let mut sentences = each_once(sentences);
    sentences.truncate(most);
    sentences
}

/// The highest void reading of each method that was not read again, where it is above all that count.
fn readings_set_aside(w: &Writer<'_>) -> Vec<String> {
    fn highest_void<Q: Copy + PartialOrd>(series: Option<&Series<Q>>) -> Option<usize> {
        let series = series?;
        let above = |value: Q| series.standing().all(|one| value > one.value);
        let void = series.readings.iter().enumerate();
        let void = void.filter(|(_, one)| one.part == ReadingPart::Void && above(one.value));
        let highest = void.max_by(|(_, a), (_, b)| {
            a.value.partial_cmp(&b.value).unwrap_or(std::cmp::Ordering::Equal)
        });
        highest.map(|(at, _)| at)
    }
    let moisture = &w.case.site.moisture;
    let dish = highest_void(moisture.mver.as_ref()).map(|at| (TestMethod::Dish, at));
    let probe = highest_void(moisture.rh.as_ref()).map(|at| (TestMethod::Probe, at));
    let past = dish.into_iter().chain(probe).filter_map(|(method, at)| {
        let PastReading { value, place, .. } = w.reading(method, at)?;
        Some(w.say("glance.set_aside", [("value", value), ("place", place)]))
    });
    past.collect()
}

/// Returns the measurements that no coat would stand, and when the work starts all the same.
pub fn start_conditions(w: &Writer<'_>) -> Vec<String> {
    w.first().map_or_else(Vec::new, |_| short_sentences(w, ShortKind::Start))
}

/// Checks whose caution against a floor page one may name, the one that matters most first. What page
/// one says in other places (moisture, hazards, air) is none of them.
const MAIN_CAUTIONS: &[&Check] = &[
    &checks::surface_strength::CHECK,
    &checks::surface_ph::CHECK,
    &checks::treatments::CHECK,
    &checks::oil::CHECK,
    &checks::salts::CHECK,
    &checks::water_drop::CHECK,
    &checks::concrete_age::CHECK,
    &checks::moving_crack::CHECK,
    &checks::hot_tires::CHECK,
    &checks::slab_on_ground_no_barrier::CHECK,
    &checks::barrier_permeance::CHECK,
    &checks::outdoor_sun::CHECK,
    &checks::outdoor_weather::CHECK,
    &checks::ambering::CHECK,
    &checks::recoat_missed::CHECK,
    &checks::batch_gels::CHECK,
    &checks::one_day_misses::CHECK,
];

/// The caution against the floor that comes first which matters most.
pub fn main_caution(w: &Writer<'_>) -> Option<Notice> {
    let first = w.first()?;
    let against = |finding: &&Finding| {
        finding.severity == Severity::Caution
            && finding.option.as_ref().is_none_or(|about| about == first.key())
    };
    let of_check =
        |check: &&Check| w.findings.iter().filter(against).find(|found| found.check == *check);
    MAIN_CAUTIONS.iter().find_map(of_check).map(|finding| w.notice(finding))
}

/// Returns the dangers to people, a short sentence each.
pub fn dangers(w: &Writer<'_>) -> Vec<String> {
    let mut sentences = short_sentences(w, ShortKind::Hurt);
    sentences.truncate(HAZARDS);
    sentences
}

/// Checks of dangers that a small paper names too: they can kill, or harm for life.
const GRAVE: &[&Check] = &[
    &checks::inside_slab::CHECK,
    &checks::tile_glue::CHECK,
    &checks::old_coating_lead::CHECK,
    &checks::isocyanate::CHECK,
];

/// The most of them that a small paper has room for.
const GRAVE_HAZARDS: usize = 4;

/// Returns the first danger of this job, then the grave ones.
pub fn grave_dangers(w: &Writer<'_>) -> Vec<String> {
    let grave = |finding: &&Finding| GRAVE.contains(&finding.check);
    let first = dangers(w).into_iter().take(1);
    let mut sentences = each_once(first.chain(short_of(w, ShortKind::Hurt, grave)));
    sentences.truncate(GRAVE_HAZARDS);
    sentences
}

/// Returns short sentences of one kind, each once, the most serious first.
fn short_sentences(w: &Writer<'_>, kind: ShortKind) -> Vec<String> {
    short_of(w, kind, |_| true)
}

/// The same of some findings alone.
fn short_of(w: &Writer<'_>, kind: ShortKind, wanted: impl Fn(&&Finding) -> bool) -> Vec<String> {
    // What is said of a floor without a price is in its own place, not on page one.
    let off = |finding: &Finding| {
        finding.option.as_ref().is_some_and(|key| !w.recommendation.prices(key))
            && w.recommendation.floor.is_some()
            || w.is_beside_the_point(finding) && w.recommendation.floor.is_none()
    };
    let of_kind = |finding: &&Finding| w.check_text(finding).short_kind == Some(kind);
    let shown = w.findings.iter().filter(|finding| !off(finding)).filter(of_kind).filter(wanted);
    w.short_sentences(shown, |text| text.short.as_ref())
}

/// Returns the first steps, each once.
pub fn first_steps(w: &Writer<'_>) -> Vec<String> {
    let serious = w.findings.iter().filter(|finding| finding.severity >= Severity::Wait);
    w.short_sentences(serious, |text| text.first.as_ref())
}
