//! Part 1: what, why, how much, how long, what could hurt, what is not known.

use crate::checks::{Severity, stops};
use crate::figures::Figure;
use crate::options::Choice;
use crate::proposal::Issue;
use crate::proposal::page::{Fact, Glance, OptionLine};
use crate::proposal::replaces::replaces;
use crate::proposal::writer::{Writer, values};
use crate::quantity::{Area, Degrees};
use crate::recommend::RuleStep;
use crate::site::standing::Standing;
use crate::words::{ShortKind, WordsError};

/// How many sentences of one kind page one can carry and stay one page.
const SENTENCES: usize = 5;

pub fn glance(w: &Writer<'_>, issue: &Issue) -> Result<Glance, WordsError> {
    let recommended = w.recommended();
    let headline = match recommended {
        Some(choice) => {
            let words = w.system(&choice.floor);
            let floor = minijinja::context! { the_name => words.the_name, name => words.name };
            w.say("glance.recommend", values([("floor", floor)]))?
        }
        None => w.plain("glance.not_yet")?,
    };
    Ok(Glance {
        not_yet: recommended.is_none(),
        replaces: issue.replaces.as_ref().map(|before| replaces(w, before)).transpose()?,
        headline,
        reason: match recommended {
            Some(choice) => reason(w, choice)?,
            None => w.plain("glance.not_yet_reason")?,
        },
        answers: match recommended {
            Some(choice) => answers(w, choice)?,
            None => vec![],
        },
        found: found(w)?,
        options: option_lines(w)?,
        unknown: shorts(w, ShortKind::Unknown)?,
        hurt: hurt(w)?,
        first: if recommended.is_none() { what_first(w)? } else { vec![] },
    })
}

/// The one-sentence reason: the step of the rule that decided.
fn reason(w: &Writer<'_>, choice: &Choice<'_>) -> Result<String, WordsError> {
    let room = w.room(choice).filter(|room| room.3 == Standing::Clear);
    let (limit, reading) = room.map_or_else(Default::default, |room| (room.0, room.2));
    let facts = |wish: &str| {
        values([("limit", limit.clone()), ("reading", reading.clone()), ("wish", wish.to_owned())])
    };
    let decisive = w.recommendation.steps.iter().rev().find(|step| step.decides());
    match decisive.map(|step| step.rule) {
        None => w.plain("glance.only_named"),
        Some(RuleStep::NotOffered) => {
            let others_too_damp = w
                .case
                .options
                .iter()
                .filter(|other| !w.recommendation.prices(other.key()))
                .all(|other| other.moisture.standing == Standing::Over);
            // With both methods one sentence can't say which reading ruled the others out.
            let moisture = &w.case.site.moisture;
            let one_method = moisture.mver.is_some() != moisture.rh.is_some();
            let name = if others_too_damp && one_method && !reading.is_empty() {
                "glance.only_moisture"
            } else {
                "glance.only_other"
            };
            w.say(name, facts(""))
        }
        Some(RuleStep::Moisture) => w.say("glance.set_aside", facts("")),
        Some(RuleStep::Wish(wish)) => w.say("glance.wish", facts(wish.word())),
        Some(RuleStep::Concern(concern)) => w.say("glance.concern", facts(concern.word())),
        Some(RuleStep::LowestPrice) => w.plain("glance.lower_price"),
        Some(RuleStep::OrderOfOffer) => w.plain("glance.first_named"),
    }
}

fn answers(w: &Writer<'_>, choice: &Choice<'_>) -> Result<Vec<Fact>, WordsError> {
    let schedule = &choice.estimate.schedule;
    let price = if choice.quote.tax.0 > 0 { "glance.price" } else { "glance.price_no_tax" };
    let start = w.case.job.plan.start.map_or_else(String::new, |date| w.date(date));
    let (slab, measured) = w.planned_slab();
    let car_note = match measured {
        _ if Writer::slab_not_covered(choice) => "glance.car_note_allowed",
        _ if Writer::by_rule(choice) => "glance.car_note_rule",
        true => "glance.car_note",
        false => "glance.car_note_assumed",
    };
    let clock = w.figures.clock(schedule.drive);
    Ok(vec![
        Fact {
            label: w.plain(price)?,
            value: w.money(choice.quote.total),
            note: w.say("glance.price_note", values([("date", w.valid_until())]))?,
        },
        Fact {
            label: w.plain("glance.days")?,
            value: w.figures.days(schedule.days),
            note: w.say("glance.days_note", values([("start", start)]))?,
        },
        Fact {
            label: w.plain("glance.car")?,
            value: w.day(schedule.drive)?,
            note: w.say(car_note, values([("clock", clock), ("slab", slab)]))?,
        },
    ])
}

/// Three figures that were found on the visit.
pub fn found(w: &Writer<'_>) -> Result<Vec<Fact>, WordsError> {
    let moisture = match w.highest() {
        Some((value, place, count)) => Fact {
            label: w.plain("glance.moisture")?,
            value,
            note: w.say(
                "glance.moisture_note",
                values([("place", place), ("count", count.to_string())]),
            )?,
        },
        None => Fact {
            label: w.plain("glance.moisture")?,
            value: w.plain("glance.moisture_none")?,
            note: w.plain("glance.moisture_none_note")?,
        },
    };
    let air = match w.case.site.air {
        Some(air) => Fact {
            label: w.plain(if air.spread < Degrees::ZERO {
                "glance.air_below"
            } else {
                "glance.air"
            })?,
            value: w.figure(air.spread.max(Degrees::ZERO - air.spread)),
            note: w.say(
                "glance.air_note",
                values([("slab", w.figure(air.slab)), ("dew_point", w.figure(air.dew_point))]),
            )?,
        },
        None => Fact {
            label: w.plain("glance.air")?,
            value: w.plain("glance.air_none")?,
            note: w.plain("glance.air_none_note")?,
        },
    };
    let take_off = w.case.site.take_off;
    let upright =
        if take_off.upright > Area::ZERO { w.figure(take_off.upright) } else { String::new() };
    let area = Fact {
        label: w.plain("glance.area")?,
        value: w.figure(Figure::Area(take_off.floor)),
        note: w.say("glance.area_note", values([("upright", upright)]))?,
    };
    Ok(vec![moisture, air, area])
}

/// Every option in a line, the recommended one first and those not offered last.
pub fn option_lines(w: &Writer<'_>) -> Result<Vec<OptionLine>, WordsError> {
    let mut lines = vec![];
    for choice in &w.case.options {
        let offered = w.recommendation.offers(choice.key());
        let recommended = w.recommendation.recommends(choice.key());
        let standing = match (recommended, offered) {
            (true, _) => "glance.recommended",
            (false, true) => "glance.offered",
            (false, false) => "glance.not_offered",
        };
        lines.push(OptionLine {
            name: w.name(choice.key()),
            price: if offered { w.money(choice.quote.total) } else { String::new() },
            days: if offered {
                w.figures.days(choice.estimate.schedule.days)
            } else {
                String::new()
            },
            car_back: if offered { w.day(choice.estimate.schedule.drive)? } else { String::new() },
            standing: w.plain(standing)?,
            recommended,
            offered,
            why_not: why_not(w, choice)?,
        });
    }
    lines.sort_by_key(|line| (!line.recommended, !line.offered));
    Ok(lines)
}

/// Why a floor is not offered; empty when it is.
pub fn why_not(w: &Writer<'_>, choice: &Choice<'_>) -> Result<String, WordsError> {
    let mut reasons = vec![];
    for finding in stops(w.findings, choice.key()) {
        let text = w.check_text(finding.check)?;
        match w.short(finding, text.why_not.as_ref())? {
            Some(reason) if !reasons.contains(&reason) => reasons.push(reason),
            _ => {}
        }
    }
    Ok(reasons.join(" "))
}

/// What can hurt somebody, a short sentence each.
pub fn hurt(w: &Writer<'_>) -> Result<Vec<String>, WordsError> {
    shorts(w, ShortKind::Hurt)
}

/// Short sentences of one kind, each once, the most serious first.
fn shorts(w: &Writer<'_>, kind: ShortKind) -> Result<Vec<String>, WordsError> {
    let mut sentences = vec![];
    for finding in w.findings {
        // What is said of a floor that is not offered is in its own place, not on page one.
        let off = finding.option.as_ref().is_some_and(|key| !w.recommendation.offers(key));
        if off && w.recommendation.floor.is_some() {
            continue;
        }
        let text = w.check_text(finding.check)?;
        if text.short_kind != Some(kind) {
            continue;
        }
        match w.short(finding, text.short.as_ref())? {
            Some(sentence) if !sentences.contains(&sentence) => sentences.push(sentence),
            _ => {}
        }
    }
    sentences.truncate(SENTENCES);
    Ok(sentences)
}

/// What to do first, each once.
pub fn what_first(w: &Writer<'_>) -> Result<Vec<String>, WordsError> {
    let mut steps = vec![];
    for finding in w.findings.iter().filter(|finding| finding.severity == Severity::Stop) {
        let text = w.check_text(finding.check)?;
        match w.short(finding, text.first.as_ref())? {
            Some(step) if !steps.contains(&step) => steps.push(step),
            _ => {}
        }
    }
    Ok(steps)
}
