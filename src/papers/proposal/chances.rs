//! Chances of a moisture failure in words and as grids, all out of a hundred floors.

use crate::base::lists::each_once;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::model::shop::FailureRecord;
use crate::papers::proposal::page::{
    AmountLine, ChanceGrid, EvenChanceText, OwnRecord, OwnRecords,
};
use crate::papers::proposal::writer::{Writer, capital};
use crate::price::case::FloorOption;
use crate::price::even_chance::{Chance, EvenChance, even_chances};
use crate::price::failure_rate::{CONFIDENCE, rate};

/// The one denominator of all chances.
const ALL: u32 = 100;

/// For every pair of a floor without a barrier and one with: when the extra price pays.
pub fn chances(w: &Writer<'_>) -> Vec<EvenChanceText> {
    even_chances(w.case, &w.priced()).iter().map(|even| even_chance(w, even)).collect()
}

fn even_chance(w: &Writer<'_>, even: &EvenChance) -> EvenChanceText {
    let n = even.chance.in_hundred();
    let n = n.map_or_else(String::new, |n| w.figures.number(f64::from(n), 0));
    let in_parts = even.redo.strip > Cents::ZERO && even.chance != Chance::NothingToWeigh;
    let facts = minijinja::context! {
        barrier => w.the_name(&even.barrier),
        plain => w.the_name(&even.plain),
        extra => w.money(even.extra),
        redo => w.figures.whole_money(even.redo.total()),
        in_parts => in_parts,
        n => n.as_str(),
    };
    let (chance, says) = match even.chance {
        Chance::NothingToWeigh => (w.plain("even.always"), "even.says_always"),
        Chance::Never => (w.plain("even.never"), "even.says_never"),
        Chance::Even(_) => (w.say("even.in_hundred", [("n", n.as_str())]), "even.says"),
    };
    let names = [("barrier", w.name(&even.barrier)), ("plain", w.the_name(&even.plain))];
    let line = |label: &str, amount: Cents| AmountLine {
        label: w.plain(label),
        amount: w.figures.whole_money(amount),
    };
    let redo = vec![
        line("even.redo_floor", even.redo.floor),
        line("even.redo_strip", even.redo.strip),
        line("even.redo_all", even.redo.total()),
    ];
    let marked = even.chance.in_hundred().filter(|marked| *marked > 0);
    EvenChanceText {
        title: w.say("even.title", names),
        chance,
        grid: marked.map(|marked| grid(w, marked, 0)),
        says: capital(&w.say_with(says, facts)),
        redo: if in_parts { redo } else { vec![] },
        leaves_out: w.plain("even.leaves_out"),
    }
}

fn grid(w: &Writer<'_>, marked: u32, maybe: u32) -> ChanceGrid {
    let facts = [("all", ALL), ("marked", marked), ("maybe", maybe)];
    ChanceGrid { all: ALL, marked, maybe, alt: w.say("record.grid_alt", facts) }
}

/// Returns the shop's own records of some floors; `None` without any.
pub fn own_records(w: &Writer<'_>, options: &[&FloorOption<'_>]) -> Option<OwnRecords> {
    let record_of = |option: &FloorOption<'_>| {
        w.case.shop.records.iter().find(|record| record.system.value == *option.key())
    };
    let rows: Vec<OwnRecord> =
        options.iter().filter_map(|option| own_record(w, option, record_of(option)?)).collect();
    if rows.is_empty() {
        return None;
    }
    let counted = options.iter().filter_map(|option| record_of(option));
    let since = each_once(counted.map(|record| record.since.to_string()));
    let since = if let [one] = since.as_slice() { one.as_str() } else { "" };
    let without: Vec<Key> = options
        .iter()
        .filter(|option| record_of(option).is_none())
        .map(|option| option.key().clone())
        .collect();
    let none = [("floors", w.names(&without))];
    let sure = w.figures.number(CONFIDENCE * f64::from(ALL), 0);
    Some(OwnRecords {
        intro: w.say("record.intro", [("since", since), ("sure", sure.as_str())]),
        rows,
        without: if without.is_empty() { String::new() } else { w.say("record.without", none) },
    })
}

fn own_record(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    record: &FailureRecord,
) -> Option<OwnRecord> {
    let rate = rate(record.failures, record.jobs)?;
    let number = |number: f64| w.figures.number(number, 0);
    // Rounded outward: a range printed narrower than it is would claim too much.
    let (from, to) = (rate.from.as_percent().floor(), rate.to.as_percent().ceil());
    let counted = rate.counted.as_percent().round();
    let facts = [
        ("jobs", number(record.jobs.into())),
        ("failures", number(record.failures.into())),
        ("since", record.since.to_string()),
        ("counted", number(counted)),
        ("from", number(from)),
        ("to", number(to)),
    ];
    let (marked, most) = (counted as u32, to as u32);
    Some(OwnRecord {
        name: w.name(option.key()),
        says: w.say("record.says", facts),
        grid: grid(w, marked, most.saturating_sub(marked)),
    })
}
