//! Part 9: the page that is signed, and the right-to-cancel notice where it applies.

use minijinja::Value;

use crate::base::business_days::last_day_to_cancel;
use crate::base::names::Key;
use crate::papers::proposal::glance::option_lines;
use crate::papers::proposal::hangs::test_order;
use crate::papers::proposal::page::{Accept, Cancellation};
use crate::papers::proposal::writer::{Writer, capital, joined, values};
use crate::site::standing::Settles;

pub fn accept(w: &Writer<'_>, context: &Value) -> Accept {
    let test = test_order(w);
    let offers = !w.offered().is_empty();
    let open = offers || test.is_some();
    if !open {
        let asks = w.recommendation.floor.is_some();
        return Accept {
            open,
            intro: w.plain(if asks { "accept.intro_ask" } else { "accept.intro_closed" }),
            ..Accept::default()
        };
    }
    let promise = &w.words.promise;
    let terms = if offers { &promise.terms } else { &promise.test_terms };
    let terms = terms.iter().map(|term| w.fill(term, context, "promise.toml: terms"));
    let mut terms: Vec<String> = terms.collect();
    let cancellable = w.case.job.garage.sold_at_home && w.case.shop.jurisdiction().has_us_notice();
    if cancellable {
        let date = w.case.job.date;
        let days = [("date", w.date(date)), ("last", w.date(last_day_to_cancel(date)))];
        terms.push(w.say("accept.cancel_days", days));
    }
    Accept {
        open,
        intro: w.plain(if offers { "accept.intro" } else { "accept.intro_test" }),
        options: option_lines(w).into_iter().filter(|line| line.offered).collect(),
        hangs: if offers { floors_that_wait(w) } else { String::new() },
        test,
        terms,
        signatures: vec![
            w.say("accept.customer", [("customer", w.case.job.customer.name.as_str())]),
            w.say("accept.shop", [("shop", w.case.shop.name.as_str())]),
        ],
        cancellation: cancellable.then(|| cancellation(w)),
        notices: w.local_notices(),
    }
}

/// Returns the floors that cannot be ordered yet, by the reason for which they wait.
fn floors_that_wait(w: &Writer<'_>) -> String {
    joined([Settles::Test, Settles::Maker].map(|settles| {
        let waits = |key: &Key| w.recommendation.state(key).waits_for() == Some(settles);
        let keys = w.priced().into_iter().map(|option| option.key().clone());
        let floors: Vec<Key> = keys.filter(waits).collect();
        if floors.is_empty() {
            return String::new();
        }
        let facts = minijinja::context! {
            floors => w.names(&floors),
            count => floors.len(),
            test => settles == Settles::Test,
        };
        capital(&w.say_with("accept.hangs", facts))
    }))
}

/// The notice, with both dates left open: they depend on the day of signing, and a date counted
/// from the proposal's own day would tell a later buyer that the right has ended.
fn cancellation(w: &Writer<'_>) -> Cancellation {
    let text = &w.words.promise.cancellation;
    let shop = w.case.shop;
    let blank = w.plain("accept.blank");
    let facts = values([
        ("seller", shop.name.clone()),
        ("address", shop.address.join(", ")),
        ("transaction_date", blank.clone()),
        ("last_date", blank),
    ]);
    let place = "promise.toml: cancellation";
    let fill_in = |template: &String| w.fill(template, &facts, place);
    let copies = (1..=2).map(|number| w.fill(&text.copy, &values([("number", number)]), place));
    Cancellation {
        statement: fill_in(&text.statement),
        title: text.title.clone(),
        paragraphs: text.paragraphs.iter().map(fill_in).collect(),
        copies: copies.collect(),
        lines: text.lines.clone(),
        state: shop.cancellation.state.clone(),
    }
}
