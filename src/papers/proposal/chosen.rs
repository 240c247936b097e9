//! The way to the recommendation: the steps of the rule that decided on this job, a line for each.

use minijinja::context;

use crate::judge::recommend::{Band, Compared, ComparedFloor, Concern, RuleStep};
use crate::papers::proposal::compare::{life_words, wish_name};
use crate::papers::proposal::glance::reason_not_offered;
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;

/// The steps that left floors behind, each with its rule, what it compared and what it left.
pub fn steps(w: &Writer<'_>) -> Vec<String> {
    let mut lines = vec![];
    for step in w.recommendation.steps.iter().filter(|step| step.decides()) {
        // A floor that is offered needs no word for that; the others have their reason.
        let compared = step.compared.iter();
        let compared = compared
            .filter(|one| step.rule != RuleStep::NotOffered || step.left_behind(&one.floor));
        let values = compared.filter_map(|ComparedFloor { floor: key, value }| {
            let value = compared_words(w, w.choice(key)?, *value);
            Some(w.say("rule.value", [("floor", w.name(key)), ("value", value)]))
        });
        let values = values.collect::<Vec<_>>().join("; ");
        let rule = rule_words(w, step.rule);
        let left = w.names(&step.left);
        lines.push(
            w.say_with("rule.taken", context! { rule, values, left, count => step.left.len() }),
        );
    }
    if w.recommendation.floor.is_none() {
        lines.push(w.plain("compare.step_nothing"));
    } else if w.case.options.len() == 1 {
        lines.push(w.plain("rule.alone"));
    }
    lines
}

/// A step of the rule in a sentence.
fn rule_words(w: &Writer<'_>, step: RuleStep) -> String {
    match step {
        RuleStep::Wish { wish } => w.say("rule.wish", [("wish", wish_name(w, wish))]),
        RuleStep::Concern { concern } => {
            w.say("rule.concern", [("concern", concern_words(w, concern))])
        }
        other => w.plain(&format!("rule.{}", other.word())),
    }
}

/// Returns what speaks against a floor, as the rule names it.
pub fn concern_words(w: &Writer<'_>, concern: Concern) -> String {
    w.plain(&format!("compare.concern.{}", concern.word()))
}

/// Returns what a step compared of a floor, in words.
fn compared_words(w: &Writer<'_>, option: &FloorOption<'_>, value: Compared) -> String {
    let yes_no = |yes| w.plain(if yes { "slab.yes" } else { "slab.no" });
    let room = |band: Band| w.plain(&format!("rule.room.{}", band.word()));
    match value {
        Compared::State(_) => {
            let why = reason_not_offered(w, option);
            let why = why.trim_end_matches('.');
            if why.is_empty() { w.standing_words(option.key()) } else { why.to_owned() }
        }
        Compared::Moisture(rank) => w.plain(&format!("rule.rank.{}", rank.word())),
        Compared::CarBack(_) => {
            w.usable_short(option.estimate.schedule.in_full_use(w.case.job.has_cars()))
        }
        Compared::Life(_, band) => {
            let years = life_words(w, option);
            band.map_or(years.clone(), |band| w.figures.list(&[years, room(band)]))
        }
        Compared::Price(price) => w.money(price),
        Compared::Ambers(yes) | Compared::Concern(yes) => yes_no(yes),
        Compared::Room(band) => room(band),
        Compared::Position(at) => w.figures.number(f64::from(at), 0),
    }
}
