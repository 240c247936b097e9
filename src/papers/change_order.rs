//! The change order: what was agreed, what changes, price and days before and after, what was paid and what
//! is left, to be signed by everybody who signed before.

use minijinja::context;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Area, Length};
use crate::issued::{ChangeOrder, Scope};
use crate::model::job::{Job, OldCoating, SignedOrder};
use crate::model::rules::NoticePaper;
use crate::papers::proposal::page::{AmountLine, Frame, LocalNotice};
use crate::papers::proposal::writer::{Writer, capital};
use crate::papers::proposal::{Issue, frame, signatures};
use crate::price::case::FloorOption;
use crate::price::schedule::Schedule;
use crate::say::words::WordsError;
use crate::site::take_off::take_off;

/// The change order as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct ChangePage {
    #[serde(flatten)]
    pub frame: Frame,
    /// The change of the price and the new price, in a sentence.
    pub lead: String,
    /// What was signed, and that nothing changes before this is signed.
    pub intro: String,
    /// Changes in the words of the customer.
    pub wished: Vec<String>,
    /// Each part that differs, as it was agreed and as it is to be.
    pub rows: Vec<ChangeRow>,
    /// Price before, change, new price, what was received, what is left or goes back.
    pub money: Vec<AmountLine>,
    /// The payments that are still to come; they sum to what is left.
    pub payments: Vec<AmountLine>,
    /// Statement where nothing is left to pay; else empty.
    pub paid_note: String,
    pub terms: Vec<String>,
    /// Ways to give the signed sheet back.
    pub back: String,
    /// Labels of the lines to sign.
    pub signatures: Vec<String>,
    /// Notices that it has to carry where the shop works; may be empty.
    pub notices: Vec<LocalNotice>,
}

/// One part: its label, and both states.
#[derive(Debug, Clone, Serialize)]
pub struct ChangeRow {
    pub label: String,
    pub before: String,
    pub after: String,
}

/// Puts a change order into words. The writer has the job as it is to be; `signed` is the job as it was
/// agreed, and `was` its floor.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn change_page(
    w: &Writer<'_>,
    order: &ChangeOrder,
    signed: &Job,
    was: &FloorOption<'_>,
    issue: &Issue,
) -> Result<ChangePage, WordsError> {
    let number = issue.revision.map_or_else(String::new, |number| number.to_string());
    let job = w.case.job;
    let title = context! {
        number => number,
        customer => job.customer.name_on_paper().as_ref(),
    };
    let title = w.say_with("order.title", title);
    let mut frame = frame(w, issue, title, w.words.order_labels.clone());
    // What was signed holds for as long as both sides keep to it.
    frame.head.valid_until = None;
    let open = order.open_payments().into_iter();
    let payments = open
        .map(|step| AmountLine { label: step.when, amount: w.money(Cents(step.amount)) })
        .collect();
    w.checked(ChangePage {
        frame,
        lead: lead(w, order),
        intro: intro(w, order),
        wished: job.open_order().and_then(|order| order.what.clone()).into_iter().collect(),
        rows: rows(w, order, signed, was),
        money: money(w, order),
        payments,
        paid_note: w.plain_if(order.due() == Cents::ZERO, "order.all_paid"),
        terms: w.lines("order.terms", &context! { late => order.before.signed_late() }),
        back: back(w),
        signatures: signatures(w),
        notices: w.local_notices(NoticePaper::ChangeOrder),
    })
}

fn lead(w: &Writer<'_>, order: &ChangeOrder) -> String {
    let way = match order.change.0 {
        0 => "same",
        1.. => "more",
        _ => "less",
    };
    let facts = context! {
        way => way,
        change => w.money(Cents(order.change.0.abs())),
        total => w.money(order.after.total()),
    };
    w.say_with("order.lead", facts)
}

fn intro(w: &Writer<'_>, order: &ChangeOrder) -> String {
    let orders = w.case.job.signed_orders();
    let orders: Vec<String> = orders.map(|order| signed_order(w, order)).collect();
    let before = &order.before;
    let facts = context! {
        revision => before.revision,
        dated => w.date(before.date.0),
        signed => w.date(before.signed.0),
        late => before.signed_late(),
        until => before.valid_until.map_or_else(String::new, |until| w.date(until.0)),
        orders => w.figures.list(&orders),
    };
    w.say_with("order.intro", facts)
}

fn signed_order(w: &Writer<'_>, order: SignedOrder) -> String {
    w.say("order.signed_order", [("number", order.revision.to_string()), ("on", w.date(order.on))])
}

// ---------------------------------------------------------------------------------------- what changes

fn rows(
    w: &Writer<'_>,
    order: &ChangeOrder,
    signed: &Job,
    was: &FloorOption<'_>,
) -> Vec<ChangeRow> {
    let now = w.case.job;
    let Some(is) = w.choice(&Key(order.after.floor.clone())) else { return vec![] };
    let mut rows = vec![];
    let mut add = |label: &str, before: String, after: String| {
        rows.push(ChangeRow { label: w.plain(&format!("order.part.{label}")), before, after });
    };
    for part in &order.scope {
        let both: (String, String) = match part {
            Scope::Floor => {
                (capital(&w.system(&was.floor).name), capital(&w.system(&is.floor).name))
            }
            Scope::Area => (area(w, signed), area(w, now)),
            Scope::Additions => (additions(w, signed, was), additions(w, now, is)),
            Scope::Extras => (extras(w, was), extras(w, is)),
            Scope::Items => (items(w, was), items(w, is)),
            Scope::Discount => (discount(w, was), discount(w, is)),
            Scope::Tax => (tax(w, signed), tax(w, now)),
            Scope::Repairs => (repairs(w, signed), repairs(w, now)),
            Scope::Slab => (slab(w, signed), slab(w, now)),
        };
        add(part.word(), both.0, both.1);
    }
    add("price", w.money(order.before.total()), w.money(order.after.total()));
    if let (Some(before), Some(after)) = (&order.days_before, &order.days_after) {
        let days = |schedule: &Schedule| w.figures.days(schedule.days);
        add("days", days(before), days(after));
        let done = |schedule: &Schedule| w.day(schedule.done);
        add("done", done(before), done(after));
        let park = |schedule: &Schedule| w.usable_cell(schedule.drive);
        add("park", park(before), park(after));
    }
    rows
}

/// The names of a list, or that there is none.
fn named(w: &Writer<'_>, names: &[String]) -> String {
    if names.is_empty() { w.plain("order.none") } else { capital(&w.figures.list(names)) }
}

fn area(w: &Writer<'_>, job: &Job) -> String {
    let take_off = take_off(&job.shapes);
    let upright = take_off.upright;
    let upright = if upright > Area::ZERO { w.figure(upright) } else { String::new() };
    w.say("order.area", [("floor", w.figure(take_off.floor)), ("upright", upright)])
}

fn additions(w: &Writer<'_>, job: &Job, option: &FloorOption<'_>) -> String {
    let ticked = job.ticked(option.key()).iter();
    let names = ticked.map(|key| {
        let own = job.additions.iter().find(|one| one.key == key.value);
        own.map_or_else(|| w.extra_name(&option.floor, &key.value), |own| own.name.clone())
    });
    named(w, &names.collect::<Vec<_>>())
}

fn extras(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    let extras = option.quote.extras.iter();
    let names: Vec<String> = extras.map(|(extra, _)| w.extra_name(&option.floor, extra)).collect();
    named(w, &names)
}

fn items(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    let items = option.quote.items.iter();
    let names: Vec<String> = items
        .map(|(name, price)| {
            w.say("order.item", [("name", name.clone()), ("price", w.money(*price))])
        })
        .collect();
    named(w, &names)
}

fn discount(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    match option.quote.discount {
        Cents::ZERO => w.plain("order.none"),
        off => w.money(off),
    }
}

fn tax(w: &Writer<'_>, job: &Job) -> String {
    w.plain(if job.customer.tax_exempt.is_some() { "order.exempt" } else { "order.taxed" })
}

fn repairs(w: &Writer<'_>, job: &Job) -> String {
    let shapes = &job.shapes;
    let sum = |lengths: &mut dyn Iterator<Item = Length>| {
        let sum: Length = lengths.sum();
        if sum > Length::ZERO { w.figure(sum) } else { String::new() }
    };
    let facts = context! {
        cracks => sum(&mut shapes.cracks.iter().map(|crack| crack.length)),
        joints => sum(&mut shapes.joints.iter().map(|joint| joint.length)),
        coves => sum(&mut shapes.coves.iter().map(|cove| cove.length)),
        holes => shapes.spalls.len(),
    };
    capital(&w.say_with("order.repairs", facts))
}

fn slab(w: &Writer<'_>, job: &Job) -> String {
    let coated = job.slab.coating.is_some_and(|coating| coating != OldCoating::Nothing);
    w.plain(if coated { "order.coated" } else { "order.bare" })
}

// ---------------------------------------------------------------------------------------- money

fn money(w: &Writer<'_>, order: &ChangeOrder) -> Vec<AmountLine> {
    let line = |label: &str, amount: String| AmountLine {
        label: w.plain(&format!("order.money.{label}")),
        amount,
    };
    let sign = if order.change > Cents::ZERO { "+" } else { "" };
    let mut lines = vec![
        line("before", w.money(order.before.total())),
        line("change", format!("{sign}{}", w.money(order.change))),
        line("total", w.money(order.after.total())),
    ];
    for paid in &w.case.job.paid {
        let label = w.say("order.money.received", [("on", w.date(paid.on))]);
        lines.push(AmountLine { label, amount: w.money(paid.amount) });
    }
    let due = order.due();
    lines.push(if due < Cents::ZERO {
        line("back", w.money(Cents(-due.0)))
    } else {
        line("due", w.money(due))
    });
    lines
}

fn back(w: &Writer<'_>) -> String {
    let shop = w.case.shop;
    let given = |text: &Option<String>| text.clone().unwrap_or_default();
    let facts = [
        ("address", shop.address.join(", ")),
        ("email", given(&shop.email)),
        ("phone", given(&shop.phone)),
    ];
    w.say("order.back", facts)
}
