//! The mail of a signed job: what was agreed, what it costs and what was paid, the first day, what to
//! prepare, and who calls. It goes with the signed papers, and with a change order that waits for a signature.

use minijinja::context;

use crate::base::lists::each_once;
use crate::base::money::Cents;
use crate::issued::{Agreed, ChangeOrder, received, still_to_pay};
use crate::model::job::Job;
use crate::papers::change_order::{price_change, signed_orders, ticked_names};
use crate::papers::family::main_hazards;
use crate::papers::mail::{
    Enclosed, Letter, LetterPart, Point, attached, garage_days, part, plain,
};
use crate::papers::proposal::page::Fact;
use crate::papers::proposal::writer::{Writer, capital};
use crate::papers::proposal::{Issue, frame, look, start_conditions};
use crate::price::case::FloorOption;
use crate::say::words::WordsError;

/// The matter of a mail of a signed job.
pub struct SignedState<'a> {
    /// The whole job, as it was agreed.
    pub job: &'a Job,
    pub agreed: &'a Agreed,
    /// Each floor that is laid, with the writer of its space.
    pub floors: &'a [(Writer<'a>, &'a FloorOption<'a>)],
    /// The revision of a change order that is still to be signed, with what it changes.
    pub to_sign: Option<(u32, &'a ChangeOrder)>,
}

/// Puts the mail of a signed job into words. The writer has the job as it was agreed, with today's plan, people
/// and payments.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn signed_letter(
    w: &Writer<'_>,
    state: &SignedState<'_>,
    enclosed: &Enclosed<'_>,
) -> Result<Letter, WordsError> {
    let job = state.job;
    let about = context! {
        number => job.number.0.as_str(),
        shop => w.case.shop.name.as_str(),
        spaces => job.has_spaces(),
        to_sign => state.to_sign.map(|(number, _)| number),
        order => state.agreed.orders.last(),
        revision => state.agreed.revision,
        signed => w.date(state.agreed.signed.0),
        orders => signed_orders(w, job, "order.signed_order"),
        floors => floor_names(w, state),
    };
    let issue = Issue { revision: Some(enclosed.revision), ..Issue::default() };
    let frame = frame(w, &issue, String::new(), serde_json::Value::Null);
    let letter = Letter {
        subject: w.say_with("mail.signed.subject", about.clone()),
        opening: w.say_with("mail.signed.opening", about.clone()),
        headline: w.say_with("mail.signed.headline", about.clone()),
        reason: w.say_with("mail.signed.reason", about),
        days: match state.floors {
            [(of_space, floor)] => garage_days(of_space, floor),
            _ => vec![],
        },
        parts: parts(w, state, enclosed),
        ..Letter::with(w, frame, answers(w, state))
    };
    state.floors.iter().try_for_each(|(of_space, _)| of_space.checked(()))?;
    w.checked(letter)
}

/// The floors within a sentence, each with its space where the job has several.
fn floor_names(w: &Writer<'_>, state: &SignedState<'_>) -> String {
    let name = |(of_space, option): &(Writer<'_>, &FloorOption<'_>)| {
        let space = of_space.case.job.place.as_ref().map(|place| place.name.clone());
        let floor = of_space.the_name(option.key());
        w.say("mail.signed.floor", [("floor", floor), ("space", space.unwrap_or_default())])
    };
    w.figures.list(&state.floors.iter().map(name).collect::<Vec<_>>())
}

/// Price, first day, days on site, and when one may park.
fn answers(w: &Writer<'_>, state: &SignedState<'_>) -> Vec<Fact> {
    let agreed = state.agreed;
    let taxed = state.floors.iter().any(|(_, option)| option.quote.tax > Cents::ZERO);
    let price = if taxed { "glance.price" } else { "glance.price_no_tax" };
    let orders = agreed.orders.len();
    let note = w.say("mail.signed.price_note", [("orders", orders)]);
    let start = w.start();
    let first_day = match start {
        Some(start) => w.figures.date_weekday(start),
        None => w.plain("mail.signed.start_open"),
    };
    let start_note = if start.is_some() { "start_note" } else { "start_open_note" };
    let start_note = w.say(&format!("mail.signed.{start_note}"), [("call", w.contact())]);
    let mut facts = vec![
        w.fact(price, w.money(agreed.total()), note),
        w.fact("mail.signed.start", first_day, start_note),
        w.fact("glance.days", w.figures.days(agreed.days), String::new()),
    ];
    for (of_space, option) in state.floors {
        let job = of_space.case.job;
        let label = match &job.place {
            Some(place) => w.say("mail.signed.ready_in", [("space", place.name.as_str())]),
            None if job.has_cars() => w.plain("order.part.park"),
            None => w.plain("mail.signed.ready"),
        };
        let value = capital(&of_space.usable(option.estimate.schedule.drive));
        facts.push(Fact { label, value, note: w.plain("mail.signed.ready_note") });
    }
    facts
}

fn parts(w: &Writer<'_>, state: &SignedState<'_>, enclosed: &Enclosed<'_>) -> Vec<LetterPart> {
    let to_sign = state.to_sign.map(|(number, order)| order_to_sign(w, number, order));
    let added = state
        .floors
        .iter()
        .flat_map(|(of_space, option)| ticked_names(of_space, of_space.case.job, option));
    let added = each_once(added.map(|name| capital(&name)));
    let start = state.floors.iter().flat_map(|(of_space, _)| start_conditions(of_space));
    let hurt = state.floors.iter().flat_map(|(of_space, _)| main_hazards(of_space));
    let (start, hurt) = (each_once(start), each_once(hurt));
    let defer = w.words.safety.defer.clone();
    let answer = w.say("mail.answer", [("call", w.contact())]);
    let mut parts: Vec<LetterPart> = to_sign.into_iter().collect();
    parts.extend([
        part(w, "mail.signed.heads.added", plain(&added), vec![]),
        payments(w, state),
        part(w, "mail.heads.start", plain(&start), vec![]),
        LetterPart { numbered: true, ..part(w, "mail.heads.next", next(w), vec![answer]) },
        part(w, "mail.heads.hurt", plain(&hurt), vec![defer]),
        part(w, "mail.heads.attached", attached(w, enclosed), vec![]),
    ]);
    parts.retain(LetterPart::says_something);
    parts
}

/// A change order that waits for a signature: what it changes, its price, and what happens without it.
fn order_to_sign(w: &Writer<'_>, number: u32, order: &ChangeOrder) -> LetterPart {
    let facts = context! { number => number, ..price_change(w, order) };
    let says = w.lines("mail.signed.order_to_sign", &facts);
    part(w, "mail.signed.heads.to_sign", plain(&says), vec![])
}

/// Payments received, and the rest that is still to come or goes back.
fn payments(w: &Writer<'_>, state: &SignedState<'_>) -> LetterPart {
    let (agreed, paid) = (state.agreed, received(state.job));
    let open = still_to_pay(&agreed.payments, paid);
    let points = open.into_iter().map(|step| {
        Point::led(w.say("mail.signed.step", [("when", step.when)]), w.money(Cents(step.amount)))
    });
    let left = agreed.total().minus(paid);
    let amount = |cents: Cents| if cents > Cents::ZERO { w.money(cents) } else { String::new() };
    let facts = context! {
        paid => amount(paid),
        left => amount(left),
        back => amount(Cents(-left.0)),
    };
    let lead = w.say_with("mail.signed.paid", facts);
    let points: Vec<Point> = points.collect();
    if points.is_empty() {
        return part(w, "mail.signed.heads.pay", vec![], vec![lead]);
    }
    LetterPart { lead, ..part(w, "mail.signed.heads.pay", points, vec![]) }
}

/// The steps up to the first day, with who takes each.
fn next(w: &Writer<'_>) -> Vec<Point> {
    let (job, call) = (w.case.job, w.contact());
    let mut steps = vec![];
    let mut add = |who: &str, says: String| {
        if !says.is_empty() {
            steps.push(Point::led(w.plain(who), says));
        }
    };
    // A sample is looked at together; nobody tells it by mail.
    let sample = w.plain("accept.choice.sample");
    let open = look(w).into_iter();
    let open = open.filter(|choice| choice.value.is_empty() && choice.label != sample);
    let open: Vec<String> = open.map(|choice| choice.label).collect();
    if !open.is_empty() {
        let facts = context! { open => w.figures.list(&open), call => call.as_str() };
        add("next.you", w.say_with("mail.signed.next.choose", facts));
    }
    match w.start() {
        Some(start) => {
            let start = w.figures.date_weekday(start);
            add("next.you", empty(w, Some(&start)));
            add("next.you", w.say("mail.signed.next.tell", [("call", call.as_str())]));
            add("next.we", w.say("next.start", [("start", start)]));
        }
        None => {
            add("next.we", w.say("mail.signed.next.agree", [("call", call.as_str())]));
            add("next.you", empty(w, None));
            add("next.you", w.say("mail.signed.next.tell", [("call", call.as_str())]));
        }
    }
    if let Some(contact) = &job.plan.contact {
        add("next.we", w.say("mail.signed.next.contact", [("contact", contact.as_str())]));
    }
    steps
}

/// The rooms are emptied before the work.
fn empty(w: &Writer<'_>, start: Option<&str>) -> String {
    match (w.case.job.place.is_some(), start) {
        (true, start) => w.say("space.next.empty", [("start", start.unwrap_or_default())]),
        (false, Some(start)) => w.say("next.empty_by", [("start", start)]),
        (false, None) => w.plain("next.empty"),
    }
}
