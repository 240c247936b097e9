//! Page one of a later revision: which one it replaces, and what changed.

use crate::base::money::Cents;
use crate::issued::{Change, RecordDate, Replaced};
use crate::papers::proposal::writer::{Writer, values};

/// What the customer asked for, then two sentences at the most on what else changed; what is more is named
/// in the second.
pub fn replaces(w: &Writer<'_>, replaced: &Replaced) -> String {
    let date = w.date(replaced.date.0);
    let number = replaced.revision.to_string();
    let mut says = vec![w.say("replaces.says", [("number", number), ("date", date)])];
    let (asked, others): (Vec<&Change>, Vec<&Change>) =
        replaced.changes.iter().partition(|change| matches!(change, Change::Asked { .. }));
    // What the customer asked for is always said in full.
    says.extend(asked.into_iter().map(|change| change_sentence(w, change)));
    match others.as_slice() {
        [first, rest @ ..] if rest.len() > 1 => {
            let short = |change: &&Change| w.plain(&format!("replaces.short.{}", change.word()));
            let list: Vec<String> = rest.iter().map(short).collect();
            says.push(change_sentence(w, first));
            says.push(w.say("replaces.also", [("list", w.figures.list(&list))]));
        }
        few => says.extend(few.iter().map(|change| change_sentence(w, change))),
    }
    says.join(" ")
}

fn change_sentence(w: &Writer<'_>, change: &Change) -> String {
    let from_to = |from: String, to: String| values([("from", from), ("to", to)]);
    let values = match change {
        Change::Asked { on, by, wish } => {
            values([("on", w.date(on.0)), ("by", by.clone()), ("wish", wish.clone())])
        }
        Change::Recommended { from, to } => {
            let waits = w.first().is_some();
            let floors = from_to(from.clone().unwrap_or_default(), to.clone().unwrap_or_default());
            minijinja::context! { waits => waits, ..floors }
        }
        Change::Price { from, to } => from_to(w.money(Cents(*from)), w.money(Cents(*to))),
        Change::Offered { added, removed } => {
            values([("added", w.figures.list(added)), ("removed", w.figures.list(removed))])
        }
        Change::Days { from, to } => from_to(w.figures.days(*from), w.figures.days(*to)),
        Change::Start { from, to } => {
            let date = |day: &Option<RecordDate>| day.map_or_else(String::new, |d| w.date(d.0));
            from_to(date(from), date(to))
        }
        Change::Prices
        | Change::Readings
        | Change::Area
        | Change::Customer
        | Change::Details
        | Change::Wording => from_to(String::new(), String::new()),
    };
    w.say_with(&format!("replaces.{}", change.word()), values)
}
