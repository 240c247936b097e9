//! Every key that a floor system's file may hold.

use std::collections::BTreeMap;

use crate::base::names::Key;
use crate::base::quantity::{Spread, Thickness};
use crate::model::system::*;
use crate::read::limits;
use crate::read::reader::Table;

pub fn system(top: &Table<'_>) -> Option<System> {
    let key: Option<Key> = top.need("key");
    let life = (top.need::<u32>("life-from"), top.need::<u32>("life-to"));
    let one_day = top.or("one-day", false);
    let mut coats: Vec<SystemCoat> = vec![];
    let tables = top.tables("coat");
    for table in &tables {
        let Some(coat) = coat(table) else { continue };
        if coats.iter().any(|known| known.key == coat.key) {
            table.fault(
                "key",
                format!("`{}` is used twice", coat.key),
                "give each coat its own key",
            );
        }
        coats.push(coat);
    }
    if tables.is_empty() {
        top.fault("coat", "is missing", "add a `[[coat]]` table for each coat, bottom first");
    } else if coats.len() == tables.len() && coats.iter().all(|coat| coat.extra.is_some()) {
        top.fault("coat", "has nothing but extras", "give at least one coat without `extra`");
    }
    if coats.len() > limits::COATS {
        let most = format!("the most accepted is {}", limits::COATS);
        top.fault("coat", format!("has {} coats", coats.len()), most);
    }
    let words = top.table("words").and_then(|t| words(&t));
    if let (Some(from), Some(to)) = life
        && from > to
    {
        top.fault(
            "life-to",
            "is below `life-from`",
            "write the higher number of years in `life-to`",
        );
    }
    Some(System {
        key: key?,
        coats,
        life_years: (life.0?, life.1?),
        one_day,
        words,
        span: top.span(),
    })
}

fn coat(table: &Table<'_>) -> Option<SystemCoat> {
    let key = table.need("key");
    let product = table.need_located("product");
    let look = table.need("look");
    let extra = table.maybe("extra");
    let spread: Option<Spread> = table.maybe("spread");
    let film: Option<Thickness> = table.maybe("film");
    if spread.is_some() && film.is_some() {
        table.fault("film", "stands beside `spread`", "give one: a wet coverage or a dry film");
    }
    if spread.is_some_and(|s| s <= Spread::ZERO) || film.is_some_and(|f| f <= Thickness::ZERO) {
        table.fault(
            if film.is_some() { "film" } else { "spread" },
            "is zero",
            "write a value above zero",
        );
    }
    let broadcast = table.maybe("broadcast");
    Some(SystemCoat { key: key?, product: product?, look: look?, extra, spread, film, broadcast })
}

/// Words of a system that comes with its own file. Also the shape of the shipped words.
pub fn words(table: &Table<'_>) -> Option<SystemWords> {
    let name = table.need("name");
    let the_name = table.need("the_name");
    let summary = table.need("summary");
    let better_at = table.values("better_at");
    let harder_at = table.values("harder_at");
    let choose_if = table.need("choose_if");
    let yellowing = table.need("yellowing");
    let tires = table.need("tires");
    let smell = table.need("smell");
    let damp = table.need("damp");
    let mut coats = BTreeMap::new();
    for (key, coat) in table.named_tables("coats") {
        if let (Some(name), Some(does)) = (coat.need("name"), coat.need("does")) {
            coats.insert(key, CoatWords { name, does });
        }
    }
    Some(SystemWords {
        name: name?,
        the_name: the_name?,
        summary: summary?,
        better_at,
        harder_at,
        choose_if: choose_if?,
        yellowing: yellowing?,
        tires: tires?,
        smell: smell?,
        damp: damp?,
        does: String::new(),
        coats,
    })
}
