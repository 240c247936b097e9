//! The leaf that is signed, and the right-to-cancel notice where it applies.

use minijinja::Value;

use crate::base::business_days::last_day_to_cancel;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::model::rules::NoticePaper;
use crate::papers::proposal::compare::interest;
use crate::papers::proposal::glance::{option_lines, start_conditions};
use crate::papers::proposal::hangs::test_order;
use crate::papers::proposal::look::look;
use crate::papers::proposal::page::{
    Accept, AmountLine, Cancellation, FloorExtras, OnPhone, Plan, PriceTable, SignedFloor,
};
use crate::papers::proposal::plan::payment_lines;
use crate::papers::proposal::writer::{Writer, capital, joined, values};
use crate::site::standing::Settles;

/// The leaf that is signed; `plan` has the extras of each floor.
pub fn accept(w: &Writer<'_>, context: &Value, plan: Option<&Plan>) -> Accept {
    let test = test_order(w);
    let offers = !w.offered().is_empty();
    if !offers && test.is_none() {
        return Accept::default();
    }
    let options: Vec<SignedFloor> = signed_floors(w);
    Accept {
        intro: w.plain(if offers { "accept.intro" } else { "accept.intro_test" }),
        includes: if offers { includes(w) } else { String::new() },
        hangs: if offers { floors_that_wait(w) } else { String::new() },
        test,
        choices: if offers { look(w) } else { vec![] },
        extras: extras(w, plan, &options),
        conditions: start_conditions(w),
        options,
        ..leaf(w, context, offers, false)
    }
}

/// The part of the leaf that is the same for one space and for several: terms, start, ways to give it back, lines to
/// sign, notices.
pub fn leaf(w: &Writer<'_>, context: &Value, offers: bool, spaces: bool) -> Accept {
    let cancellable = w.can_be_cancelled();
    Accept {
        open: true,
        on_phone: on_phone(w, offers, spaces),
        earns: interest(w),
        copies: w.lines("accept.copies", &Value::UNDEFINED),
        terms: terms(w, context, offers, cancellable),
        start: if offers { start(w) } else { String::new() },
        back: back(w, "accept.back"),
        signatures: signatures(w),
        cancellation: cancellable.then(|| cancellation(w)),
        notices: w.local_notices(NoticePaper::Signing),
        ..Accept::default()
    }
}

/// The floors that may be ordered, the recommended one first, each with its own payments.
pub fn signed_floors(w: &Writer<'_>) -> Vec<SignedFloor> {
    let mut floors = w.offered();
    floors.sort_by_key(|option| !w.recommendation.puts_first(option.key()));
    let lines = option_lines(w).into_iter().filter(|line| line.offered);
    let signed = lines
        .zip(floors)
        .map(|(line, option)| SignedFloor { line, payments: payment_lines(w, option.quote.total) });
    signed.collect()
}

/// Returns the additions that may be marked: those that every floor has at one price, then each floor's own.
fn extras(w: &Writer<'_>, plan: Option<&Plan>, options: &[SignedFloor]) -> Vec<FloorExtras> {
    let tables = plan.map_or(&[][..], |plan| &plan.prices);
    let on_offer: Vec<&PriceTable> = tables
        .iter()
        .filter(|table| options.iter().any(|one| one.line.name == table.name))
        .collect();
    let of_all = |line: &&AmountLine| {
        on_offer.len() > 1 && on_offer.iter().all(|table| table.extras.contains(line))
    };
    let shared = on_offer.first().into_iter().flat_map(|table| &table.extras).filter(of_all);
    let any = FloorExtras { floor: w.plain("accept.any_floor"), lines: shared.cloned().collect() };
    let own = on_offer.iter().map(|table| FloorExtras {
        floor: table.name.clone(),
        lines: table.extras.iter().filter(|line| !of_all(line)).cloned().collect(),
    });
    std::iter::once(any).chain(own).filter(|group| !group.lines.is_empty()).collect()
}

/// Returns what the prices include beside the floors, and why something came off; empty where there is nothing.
fn includes(w: &Writer<'_>) -> String {
    let offered = w.offered();
    let items = offered.first().map_or(&[][..], |option| &option.quote.items);
    let items: Vec<String> = items.iter().map(|one| one.item.clone()).collect();
    let less: Vec<Key> = offered
        .iter()
        .filter(|option| option.quote.discount > Cents::ZERO)
        .map(|option| option.key().clone())
        .collect();
    let reason = w.case.job.discount.as_ref().map(|discount| discount.reason.clone());
    let facts = minijinja::context! {
        items => items,
        count => offered.len(),
        reason => reason.filter(|_| !less.is_empty()).unwrap_or_default(),
        floors => if less.len() < offered.len() { w.names(&less) } else { String::new() },
    };
    w.say_with("accept.includes", facts)
}

fn terms(w: &Writer<'_>, context: &Value, offers: bool, cancellable: bool) -> Vec<String> {
    let promise = &w.words.promise;
    let terms = if offers { &promise.terms } else { &promise.test_terms };
    let terms = terms.iter().map(|term| w.fill(term, context, "promise.toml: terms"));
    let mut terms: Vec<String> = terms.collect();
    if cancellable {
        let date = w.case.job.date;
        let days = [("date", w.date(date)), ("last", w.date(last_day_to_cancel(date)))];
        terms.push(w.say("accept.cancel_days", days));
    }
    terms
}

/// The day on which work starts, or a line to write it on.
fn start(w: &Writer<'_>) -> String {
    let date = w.start().map_or_else(String::new, |date| w.date(date));
    w.say("accept.start", [("date", date), ("blank", w.plain("accept.blank"))])
}

/// The ways to give a signed sheet back, in a sentence of this name.
pub fn back(w: &Writer<'_>, name: &str) -> String {
    let shop = w.case.shop;
    let given = |text: &Option<String>| text.clone().unwrap_or_default();
    let facts = [
        ("address", shop.address.join(", ")),
        ("email", given(&shop.email)),
        // No line ends within a number.
        ("phone", given(&shop.phone).replace(' ', "\u{a0}")),
    ];
    w.say(name, facts)
}

/// The sentences of the edition for a telephone, on which nobody signs.
fn on_phone(w: &Writer<'_>, offers: bool, spaces: bool) -> OnPhone {
    OnPhone {
        intro: w.say_with("accept.phone_intro", minijinja::context! { offers, spaces }),
        back: back(w, "accept.phone_back"),
    }
}

/// Labels of the lines to sign: everybody who signs for the house, then the shop.
pub fn signatures(w: &Writer<'_>) -> Vec<String> {
    let customer = &w.case.job.customer;
    let named = [customer.name_on_paper().into_owned()];
    let signers = if customer.signers.is_empty() { &named[..] } else { &customer.signers };
    let customers =
        signers.iter().map(|name| w.say("accept.customer", [("customer", name.as_str())]));
    let shop = w.say("accept.shop", [("shop", w.case.shop.name.as_str())]);
    customers.chain([shop]).collect()
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
