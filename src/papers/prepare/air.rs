//! Fresh air for the coats of a floor that give off a flammable vapor: the airflow of each, in fans, and
//! what the figures mean and leave out.

use serde::Serialize;

use crate::papers::proposal::air_facts;
use crate::papers::proposal::page::Fact;
use crate::papers::proposal::writer::{Writer, joined, values};
use crate::price::case::FloorOption;

/// The airflow of each coat, and the meaning of all.
#[derive(Debug, Clone, Serialize)]
pub struct FreshAir {
    pub coats: Vec<Fact>,
    pub note: String,
}

/// Returns the fresh air for a floor; `None` where no coat has a figure.
pub fn fresh_air(w: &Writer<'_>, option: &FloorOption<'_>) -> Option<FreshAir> {
    let coats = air_facts(w, option);
    if coats.is_empty() {
        return None;
    }
    let text = &w.words.safety;
    // No sentence says that a coat holds no such solvent unless the book says so of each.
    let all_said = option.floor.resins().all(|(_, resin)| !resin.solvent.is_not_said());
    let others = if all_said { &text.air_others } else { &text.air_others_unknown };
    let alone = option.floor.resins().count() == coats.len();
    let cleaner = w.case.book.cleaning.given().map_or_else(String::new, |cleaner| {
        let cleaner = values([("cleaner", cleaner.0.as_str())]);
        w.fill(&text.air_cleaner, &cleaner, "safety.toml: air_cleaner")
    });
    let note = joined([
        text.air_note.clone(),
        w.plain_if(w.case.shop.fan.is_none(), "safety.air_divide"),
        if alone { String::new() } else { others.clone() },
        cleaner,
    ]);
    Some(FreshAir { coats, note })
}
