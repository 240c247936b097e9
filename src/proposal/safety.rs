//! Part 7: what can hurt somebody, air, and who has the last word.

use crate::checks::Place;
use crate::options::{Choice, coat_airs};
use crate::proposal::page::{Fact, Safety};
use crate::proposal::writer::{Writer, values};
use crate::ventilation::{CoatAir, Fans};
use crate::words::{WordsError, fill};

pub fn safety(w: &Writer<'_>) -> Result<Safety, WordsError> {
    let text = &w.words.safety;
    let air = air(w)?;
    Ok(Safety {
        intro: text.intro.clone(),
        notices: w.notices(&[Place::Safety, Place::Floors])?,
        always: text.always.clone(),
        air_note: if air.is_empty() {
            text.air_none.clone()
        } else {
            [text.air_note.as_str(), &text.air_others].join(" ")
        },
        air,
        defer: text.defer.clone(),
    })
}

/// A fact for each solvent-borne coat of a floor that is offered.
fn air(w: &Writer<'_>) -> Result<Vec<Fact>, WordsError> {
    let mut facts = vec![];
    for choice in w.offered() {
        for (coat, air) in solvent_coats(w, choice) {
            let count = |fans: u32| w.figures.number(f64::from(fans), 0);
            let fans = |of: fn(Fans) -> u32| air.fans.map_or_else(String::new, |f| count(of(f)));
            let says = values([
                ("room", air.closed_room.map_or_else(String::new, |room| w.figure(room))),
                ("health", w.figure(air.health)),
                ("health_fans", fans(|fans| fans.health)),
                ("vapor", w.figure(air.vapour)),
                ("clears", air.clears.map_or_else(String::new, |clears| w.figure(clears))),
            ]);
            let value = [("flow", w.figure(air.fire)), ("fans", fans(|fans| fans.fire))];
            let intro = values([("coat", coat.clone()), ("system", w.system(&choice.floor).name)]);
            let intro = fill(&w.words.safety.air_intro, &intro, "safety.toml: air_intro")?;
            facts.push(Fact {
                label: w.say("safety.air_label", values([("coat", coat)]))?,
                value: w.say("safety.air_value", values(value))?,
                note: format!("{intro} {}", w.say("safety.air_says", says)?),
            });
        }
    }
    Ok(facts)
}

/// The coats of a floor that give off a flammable vapour, by name, with the air they need.
pub fn solvent_coats(w: &Writer<'_>, choice: &Choice<'_>) -> Vec<(String, CoatAir)> {
    let words = w.system(&choice.floor);
    coat_airs(w.case, choice)
        .into_iter()
        .map(|(key, air)| {
            let coat = choice.floor.coats.iter().find(|coat| coat.spec.key == key);
            let product = coat.map_or(&key.0, |coat| &coat.product.name);
            let name = words.coats.get(&key.0).map_or(product, |words| &words.name);
            (name.clone(), air)
        })
        .collect()
}
