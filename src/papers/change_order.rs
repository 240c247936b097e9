//! The change order: what was agreed, what changes, price and days before and after, what was paid and what
//! is left, to be signed by everybody who signed before.

use minijinja::{Value, context};
use serde::Serialize;

use crate::base::lists::each_once;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Area, Length};
use crate::base::source::Located;
use crate::issued::{ChangeOrder, Scope, differing_scope};
use crate::model::choices::AdditionKind;
use crate::model::job::Job;
use crate::model::rules::NoticePaper;
use crate::papers::proposal::page::{AmountLine, Frame, LocalNotice};
use crate::papers::proposal::writer::{Writer, capital};
use crate::papers::proposal::{Issue, back, frame, signatures};
use crate::price::case::FloorOption;
use crate::price::estimate::has_old_coating;
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

/// A state of the work: as it was agreed, or as it is to be.
pub struct WorkState<'a> {
    /// The whole job.
    pub job: &'a Job,
    /// Each floor that is laid in it, with the writer of its space.
    pub floors: Vec<(Writer<'a>, &'a FloorOption<'a>)>,
    /// Items with their prices, and what comes off.
    pub items: Vec<(String, Cents)>,
    pub discount: Cents,
}

/// Puts a change order into words. The writer has the job as it is to be.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn change_page(
    w: &Writer<'_>,
    order: &ChangeOrder,
    was: &WorkState<'_>,
    is: &WorkState<'_>,
    issue: &Issue,
) -> Result<ChangePage, WordsError> {
    let number = issue.revision.map_or_else(String::new, |number| number.to_string());
    let job = is.job;
    let title = context! {
        number => number,
        customer => job.customer.name_on_paper().as_ref(),
    };
    let title = w.say_with("order.title", title);
    let mut frame = frame(w, issue, title, w.words.labels_of("order"));
    // What was signed holds for as long as both sides keep to it.
    frame.head.valid_until = None;
    let open = order.open_payments().into_iter();
    let payments = open
        .map(|step| AmountLine { label: step.when, amount: w.money(Cents(step.amount)) })
        .collect();
    w.checked(ChangePage {
        frame,
        lead: w.say_with("order.lead", price_change(w, order)),
        intro: intro(w, order, job),
        wished: job.open_order().and_then(|order| order.what.clone()).into_iter().collect(),
        rows: rows(w, order, was, is),
        money: money(w, order, job),
        payments,
        paid_note: w.plain_if(order.due() == Cents::ZERO, "order.all_paid"),
        terms: w.lines(
            "order.terms",
            &context! { kits => order.change > Cents::ZERO && other_kits(was, is) },
        ),
        back: back(w, "order.back"),
        signatures: signatures(w),
        notices: w.local_notices(NoticePaper::ChangeOrder),
    })
}

/// True where other kits are bought than before.
fn other_kits(was: &WorkState<'_>, is: &WorkState<'_>) -> bool {
    let bought = |state: &WorkState<'_>| {
        let floors = state.floors.iter().flat_map(|(_, floor)| &floor.estimate.materials);
        floors.map(|line| (line.product.clone(), line.buy.clone())).collect::<Vec<_>>()
    };
    bought(was) != bought(is)
}

/// The change of the price and the new price, as sentences take them.
pub fn price_change(w: &Writer<'_>, order: &ChangeOrder) -> Value {
    let way = match order.change.0 {
        0 => "same",
        1.. => "more",
        _ => "less",
    };
    context! {
        way => way,
        change => w.money(Cents(order.change.0.abs())),
        total => w.money(order.after.total()),
    }
}

fn intro(w: &Writer<'_>, order: &ChangeOrder, job: &Job) -> String {
    let before = &order.before;
    let facts = context! {
        revision => before.revision,
        dated => w.date(before.date.0),
        signed => w.date(before.signed.0),
        late => before.signed_late(),
        until => before.valid_until.map_or_else(String::new, |until| w.date(until.0)),
        orders => signed_orders(w, job, "order.signed_order"),
    };
    w.say_with("order.intro", facts)
}

/// The signed orders of a job as a list, each in a sentence of this name.
pub fn signed_orders(w: &Writer<'_>, job: &Job, name: &str) -> String {
    let orders = job.signed_orders().map(|order| {
        w.say(name, [("number", order.revision.to_string()), ("on", w.date(order.on))])
    });
    w.figures.list(&orders.collect::<Vec<_>>())
}

// ---------------------------------------------------------------------------------------- what changes

/// The parts of a change that are of the whole job, also where it has several spaces.
const OF_THE_WHOLE: &[Scope] = &[Scope::Items, Scope::Discount, Scope::Tax];

fn rows(
    w: &Writer<'_>,
    order: &ChangeOrder,
    was: &WorkState<'_>,
    is: &WorkState<'_>,
) -> Vec<ChangeRow> {
    let mut rows = vec![];
    let part = |part: &str| w.plain(&format!("order.part.{part}"));
    let row = |label, before, after| ChangeRow { label, before, after };
    let spaces = was.job.has_spaces() || is.job.has_spaces();
    if spaces {
        rows.extend(space_rows(w, was, is));
        let [before, after] = [was, is].map(|state| named(w, &whole_additions(state.job)));
        if before != after {
            rows.push(row(part(Scope::Additions.word()), before, after));
        }
    } else if let ([(_, was_floor)], [(_, is_floor)]) = (&was.floors[..], &is.floors[..]) {
        let states = ((was.job, *was_floor), (is.job, *is_floor));
        let of_floor = order.scope.iter().filter(|part| !OF_THE_WHOLE.contains(part));
        rows.extend(of_floor.map(|scope| {
            let (before, after) = of_part(w, *scope, states);
            row(part(scope.word()), before, after)
        }));
    }
    for scope in order.scope.iter().filter(|part| OF_THE_WHOLE.contains(part)) {
        let [before, after] = [was, is].map(|state| match scope {
            Scope::Items => items(w, &state.items),
            Scope::Discount if state.discount == Cents::ZERO => w.plain("order.none"),
            Scope::Discount => w.money(state.discount),
            _ => tax(w, state.job),
        });
        rows.push(row(part(scope.word()), before, after));
    }
    let [before, after] = [order.before.total(), order.after.total()].map(|total| w.money(total));
    rows.push(row(part("price"), before, after));
    if let (Some(before), Some(after)) = (&order.days_before, &order.days_after) {
        let days = |schedule: &Schedule| w.figures.days(schedule.days);
        rows.push(row(part("days"), days(before), days(after)));
        let done = |schedule: &Schedule| w.day(schedule.done);
        rows.push(row(part("done"), done(before), done(after)));
        if !spaces && is.job.has_cars() {
            let park = |schedule: &Schedule| w.usable_cell(schedule.drive);
            rows.push(row(part("park"), park(before), park(after)));
        }
    }
    rows
}

/// A state of one floor.
type FloorState<'s, 'a> = (&'s Job, &'s FloorOption<'a>);

/// Returns a part of the scope of one floor, as it was and as it is to be.
fn of_part(
    w: &Writer<'_>,
    part: Scope,
    (was, is): (FloorState<'_, '_>, FloorState<'_, '_>),
) -> (String, String) {
    let say = |(job, option): FloorState<'_, '_>| match part {
        Scope::Floor => capital(&w.system(&option.floor).name),
        Scope::Area => area(w, job),
        Scope::Additions => named(w, &ticked_names(w, job, option)),
        Scope::Extras => extras(w, option),
        Scope::Repairs => repairs(w, job),
        _ => slab(w, job),
    };
    (say(was), say(is))
}

/// The rows of each space: what differs in it, or that it came or is left out.
fn space_rows(w: &Writer<'_>, was: &WorkState<'_>, is: &WorkState<'_>) -> Vec<ChangeRow> {
    let place =
        |writer: &Writer<'_>| writer.case.job.place.as_ref().map(|place| place.name.clone());
    let all = was.floors.iter().chain(&is.floors);
    let names = each_once(all.filter_map(|(writer, _)| place(writer)));
    let mut rows = vec![];
    for name in names {
        let find = |state: &'_ WorkState<'_>| {
            state.floors.iter().position(|(writer, _)| place(writer).as_deref() == Some(&*name))
        };
        let label = |part: &str| w.headed(&name, &w.plain(&format!("order.part.{part}")));
        match (find(was), find(is)) {
            (Some(before), Some(after)) => {
                let (before, after) = (&was.floors[before], &is.floors[after]);
                let jobs = (before.0.case.job, after.0.case.job);
                for scope in differing_scope(jobs.0, jobs.1) {
                    if OF_THE_WHOLE.contains(&scope) {
                        continue;
                    }
                    let states = ((jobs.0, before.1), (jobs.1, after.1));
                    let (before, after) = of_part(w, scope, states);
                    rows.push(ChangeRow { label: label(scope.word()), before, after });
                }
            }
            (before, after) => {
                let floor = |state: &WorkState<'_>, at: Option<usize>| match at {
                    Some(at) => capital(&w.system(&state.floors[at].1.floor).name),
                    None => w.plain("order.left_out"),
                };
                let (before, after) = (floor(was, before), floor(is, after));
                rows.push(ChangeRow { label: label(Scope::Floor.word()), before, after });
            }
        }
    }
    rows
}

/// The names of the items that were ticked for the whole.
fn whole_additions(job: &Job) -> Vec<String> {
    let ticked = job.accepted.iter().flat_map(|accepted| &accepted.additions);
    let item = |key: &Located<Key>| {
        let own = job.additions.iter().find(|one| one.key == key.value)?;
        matches!(own.what, AdditionKind::Item(_)).then(|| own.name.clone())
    };
    ticked.filter_map(item).collect()
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

/// Returns the names of the additions that were ticked with a floor.
pub fn ticked_names(w: &Writer<'_>, job: &Job, option: &FloorOption<'_>) -> Vec<String> {
    let ticked = job.ticked(option.key()).iter();
    let names = ticked.filter_map(|key| {
        let own = job.additions.iter().find(|one| one.key == key.value);
        let extra = match own.map(|own| &own.what) {
            Some(AdditionKind::Item(_)) => None,
            Some(AdditionKind::Extra(extra)) => Some(&extra.value),
            None => Some(&key.value),
        };
        // In a job of several spaces an addition may be for another one, or an item of the whole.
        if extra.is_some_and(|extra| !option.floor.extras.contains(extra)) {
            return None;
        }
        Some(own.map_or_else(|| w.extra_name(&option.floor, &key.value), |own| own.name.clone()))
    });
    names.collect()
}

fn extras(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    let extras = option.quote.extras.iter();
    let names: Vec<String> = extras.map(|one| w.extra_name(&option.floor, &one.extra)).collect();
    named(w, &names)
}

fn items(w: &Writer<'_>, items: &[(String, Cents)]) -> String {
    let names: Vec<String> = items
        .iter()
        .map(|(name, price)| {
            w.say("order.item", [("name", name.clone()), ("price", w.money(*price))])
        })
        .collect();
    named(w, &names)
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
    w.plain(if has_old_coating(job) { "order.coated" } else { "order.bare" })
}

// ---------------------------------------------------------------------------------------- money

fn money(w: &Writer<'_>, order: &ChangeOrder, job: &Job) -> Vec<AmountLine> {
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
    for paid in &job.paid {
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
