//! Every key that a floor system's file may hold.

use std::collections::BTreeMap;

use crate::model::system::*;
use crate::read::keys::system::*;
use crate::read::reader::Table;

pub fn system(top: &Table<'_>) -> Option<System> {
    let key = top.read(system::KEY);
    let mut coats: Vec<SystemCoat> = vec![];
    let tables = top.tables(&coat::TABLE);
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
    if !tables.is_empty()
        && coats.len() == tables.len()
        && coats.iter().all(|coat| coat.extra.is_some())
    {
        top.fault("coat", "has nothing but extras", "give at least one coat without `extra`");
    }
    let words = top.table(&words::TABLE).and_then(|t| words(&t));
    let below = (PartialOrd::gt as fn(&u32, &u32) -> bool, "is below");
    let help = "write the higher number of years in `life-to`";
    let (life_from, life_to) = top.two(system::LIFE_FROM, system::LIFE_TO, below, help);
    let help = "write the higher number of years in `renew-to`";
    let (renew_from, renew_to) = top.two(system::RENEW_FROM, system::RENEW_TO, below, help);
    Some(System {
        key: key?,
        coats,
        life_years: (life_from?, life_to?),
        renew_years: renew_from.zip(renew_to),
        one_day: top.read_or(system::ONE_DAY, false),
        words,
        span: top.span(),
    })
}

fn coat(table: &Table<'_>) -> Option<SystemCoat> {
    let (spread, film) = (table.read(coat::SPREAD), table.read(coat::FILM));
    Some(SystemCoat {
        key: table.read(coat::KEY)?,
        product: table.located(coat::PRODUCT)?,
        look: table.read(coat::LOOK)?,
        extra: table.read(coat::EXTRA),
        spread,
        film,
        broadcast: table.read(coat::BROADCAST),
        grit: table.read(coat::GRIT),
        lay: table.read_or(coat::LAY, Lay::Rolled),
        pigment: table.located(coat::PIGMENT),
    })
}

/// Words of a system that comes with its own file. Also the shape of the shipped words.
pub fn words(table: &Table<'_>) -> Option<SystemWords> {
    let name = table.read(words::NAME);
    let mut coats = BTreeMap::new();
    for (key, coat) in table.named_tables(&coats::TABLE) {
        if let (Some(name), Some(does)) = (coat.read(coat_words::NAME), coat.read(coat_words::DOES))
        {
            coats.insert(key, CoatWords { name, does });
        }
    }
    Some(SystemWords {
        name: name?,
        the_name: table.read(words::THE_NAME)?,
        summary: table.read(words::SUMMARY)?,
        better_at: table.list(words::BETTER_AT),
        harder_at: table.list(words::HARDER_AT),
        choose_if: table.read(words::CHOOSE_IF)?,
        yellowing: table.read(words::YELLOWING)?,
        tires: table.read(words::TIRES)?,
        smell: table.read(words::SMELL)?,
        damp: table.read(words::DAMP)?,
        does: String::new(),
        coats,
    })
}
