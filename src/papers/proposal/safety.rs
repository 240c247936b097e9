//! What can hurt somebody, fresh air, and what comes first.

use crate::base::quantity::{Hours, whole_up};
use crate::judge::checks::FindingPlace;
use crate::model::book::Resin;
use crate::papers::proposal::page::{Fact, Safety};
use crate::papers::proposal::writer::{Writer, joined, values};
use crate::papers::usable::back_in;
use crate::price::case::{CouldAdd, FloorOption, coat_airs};
use crate::price::ventilation::{CoatAir, Fans, POOR_MIXING};

pub fn safety(w: &Writer<'_>) -> Safety {
    let text = &w.words.safety;
    Safety {
        intro: text.intro.clone(),
        notices: w.notices(&[FindingPlace::Safety, FindingPlace::Floors]),
        // While nothing is laid nobody has to keep out.
        always: if w.first().is_some() { always(w, back_in(w, None)) } else { vec![] },
        extras: extras(w),
        air_note: air_note(w, !hazardous_extras(w).is_empty()),
        defer: text.defer.clone(),
    }
}

/// Returns the cautions of every job; children and pets stay out until `back`.
pub fn always(w: &Writer<'_>, back: String) -> Vec<String> {
    let facts = values([("emergency", w.emergency()), ("back", back)]);
    let lines = w.words.safety.always.iter();
    lines.map(|line| w.fill(line, &facts, "safety.toml: always")).collect()
}

/// Returns the meaning of fresh air for the coats of the floors with a price, beside extras that may be ticked or
/// without. Its arithmetic is on the crew sheet.
pub fn air_note(w: &Writer<'_>, extras: bool) -> String {
    let text = &w.words.safety;
    let offered = w.priced();
    if offered.is_empty() {
        return String::new();
    }
    // No sentence says that a coat holds no such solvent unless the book says so of each.
    let said = offered.iter().flat_map(|option| option.floor.resins());
    let all_said = said.map(|(_, resin)| resin).all(|resin| !resin.solvent.is_not_said());
    let any = offered.iter().any(|option| !solvent_coats(w, option).is_empty());
    let cleaner = w.case.book.cleaning.given().map_or_else(String::new, |cleaner| {
        let cleaner = values([("cleaner", cleaner.0.as_str())]);
        w.fill(&text.air_cleaner, &cleaner, "safety.toml: air_cleaner")
    });
    let says = match (any, all_said) {
        (true, _) => &text.air_solvent,
        (false, true) => &text.air_none,
        (false, false) => &text.air_unknown,
    };
    joined([w.fill(says, &values([("extras", extras)]), "safety.toml: air"), cleaner])
}

/// Additions that a customer may tick and whose coats bring a danger that their floor does not have, by name, each
/// once.
fn hazardous_extras<'a>(w: &Writer<'a>) -> Vec<(String, &'a CouldAdd)> {
    let mut found = vec![];
    for option in w.priced() {
        let floor = &option.floor;
        let own = |such: fn(&Resin) -> bool| floor.resins().any(|(_, resin)| such(resin));
        for could in &option.quote.could_add {
            let fire =
                could.flammable == Some(true) && !own(|resin| resin.solvent.given().is_some());
            let unknown = could.solvent_unknown && !own(Resin::solvent_unknown);
            let asthma = could.isocyanate && !own(|resin| resin.isocyanate);
            let name = w.addition_name(floor, could);
            let is_new = found.iter().all(|(known, _)| *known != name);
            if (fire || unknown || asthma) && is_new {
                found.push((name, could));
            }
        }
    }
    found
}

/// Returns the cautions that hold for an extra once it is ticked, as they would stand here if it was.
fn extras(w: &Writer<'_>) -> Vec<String> {
    let found = hazardous_extras(w).into_iter();
    let says = found.map(|(name, could)| {
        let facts = minijinja::context! {
            name,
            fire => could.flammable == Some(true),
            unknown => could.solvent_unknown,
            isocyanate => could.isocyanate,
        };
        w.fill(&w.words.safety.extra, &facts, "safety.toml: extra")
    });
    says.collect()
}

/// A time as pages print it, never shorter than it is: what [`Figures::hours`] would round down is
/// brought to its next step first.
///
/// [`Figures::hours`]: crate::say::figures::Figures::hours
fn rounded_up(time: Hours) -> Hours {
    let steps_an_hour = match time.as_hours() {
        hours if hours < 1.0 => 12.0,
        hours if hours < 10.0 => 2.0,
        _ => 1.0,
    };
    Hours::hours(f64::from(whole_up(time.as_hours() * steps_an_hour)) / steps_an_hour)
}

/// Returns the airflow for each solvent-borne coat of a floor, for the crew.
pub fn air_facts(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Fact> {
    let mut facts = vec![];
    for (coat, air) in solvent_coats(w, option) {
        let count = |fans: u32| w.figures.number(f64::from(fans), 0);
        let fans = |of: fn(Fans) -> u32| air.fans.map_or_else(String::new, |f| count(of(f)));
        // Nothing is to be cleared where the exposure limit is the higher of the two.
        let clears = air.clears.filter(|clears| *clears > Hours::ZERO);
        let says = [
            ("room", air.closed_room.map_or_else(String::new, |room| w.figure(room))),
            ("health", w.figure(air.health)),
            ("health_fans", fans(|fans| fans.health)),
            ("fire_fans", fans(|fans| fans.fire)),
            ("fan", w.case.shop.fan.map_or_else(String::new, |fan| w.figure(fan))),
            ("exposure", w.figures.short(air.exposure.as_parts_per_million(), 3)),
            ("exposure_source", air.exposure_source.clone().unwrap_or_default()),
            ("mixing", w.figures.number(POOR_MIXING, 0)),
            ("clears", clears.map_or_else(String::new, |clears| w.figure(rounded_up(clears)))),
        ];
        let value = [("flow", w.figure(air.fire)), ("fans", fans(|fans| fans.fire))];
        let intro = values([("vapor", w.figure(air.vapor))]);
        let intro = w.fill(&w.words.safety.air_intro, &intro, "safety.toml: air_intro");
        let label = [("coat", coat), ("system", w.system(&option.floor).name)];
        facts.push(Fact {
            label: w.say("safety.air_label", label),
            value: w.say("safety.air_value", value),
            note: format!("{intro} {}", w.say("safety.air_says", says)),
        });
    }
    facts
}

/// The coats of a floor that give off a flammable vapor, by name, with the air they need.
pub fn solvent_coats(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<(String, CoatAir)> {
    let words = w.system(&option.floor);
    let airs = coat_airs(w.case, option).into_iter().map(|(key, air)| {
        let coat = option.floor.coats.iter().find(|coat| coat.spec.key == key);
        let product = coat.map_or(&key.0, |coat| &coat.product.name);
        let name = words.coats.get(&key.0).map_or(product, |words| &words.name);
        (name.clone(), air)
    });
    airs.collect()
}
