//! Part 6: what it costs, what is in it, and how the days go.

use crate::base::calendar::Moment;
use crate::base::lists::each_once;
use crate::base::money::Cents;
use crate::base::quantity::{Area, Length};
use crate::judge::checks::{Finding, Severity};
use crate::model::book::TaxOn;
use crate::model::job::{Job, Known};
use crate::papers::proposal::charts::share;
use crate::papers::proposal::hangs::only_if;
use crate::papers::proposal::page::*;
use crate::papers::proposal::promise::flake_or_color;
use crate::papers::proposal::writer::{Writer, capital, joined, text_if};
use crate::price::case::{Extra, FloorOption};
use crate::price::cure::DOUBLES;
use crate::price::estimate::price;
use crate::price::repair::{self, Repair, RepairMethod, RepairPlace};
use crate::price::schedule::Schedule;
use crate::read::book::as_share;

/// Returns the price and the days; `None` where no floor has a price.
pub fn plan(w: &Writer<'_>) -> Option<Plan> {
    let priced = w.priced();
    if priced.is_empty() {
        return None;
    }
    let payments = payments(w);
    Some(Plan {
        intro: w.plain("plan.intro"),
        prices: priced.iter().map(|option| price_table(w, option)).collect(),
        included_here: included_here(w),
        included: flake_or_color(w, &w.words.promise.included),
        excluded: excluded(w, w.case.job, left_out(w)),
        timeline: Some(timeline(w, &priced)),
        times: priced.iter().map(|option| time_row(w, option)).collect(),
        times_note: times_note(w, &priced),
        payments_note: match (payments.is_empty(), priced.len()) {
            (true, _) => String::new(),
            (false, 1) => w.plain("plan.payments_note"),
            (false, _) => w.plain("plan.payments_other"),
        },
        payments,
    })
}

/// Returns what no price includes: what the shop always leaves out, the items of a job on request, and what its
/// slabs need beside.
pub fn excluded(
    w: &Writer<'_>,
    job: &Job,
    left_out: impl IntoIterator<Item = String>,
) -> Vec<String> {
    let on_request = job.items.iter().filter(|item| item.priced.is_none());
    let asked = on_request.map(|item| w.say("plan.on_request", [("name", item.name.as_str())]));
    w.words.promise.excluded.iter().cloned().chain(asked).chain(left_out).collect()
}

/// Returns the sentence on what has to be done about this slab and no price includes; `None` where nothing has to.
pub fn left_out(w: &Writer<'_>) -> Option<String> {
    let about = |finding: &&Finding| {
        let of_floor = finding.option.as_ref();
        finding.severity != Severity::Stop
            && of_floor.is_none_or(|key| w.recommendation.prices(key))
    };
    let found = w.findings.iter().filter(about).filter_map(|finding| {
        let template = w.check_text(finding).left_out.as_ref()?;
        Some(w.fill(template, &w.finding_values(finding), "left_out"))
    });
    let things: Vec<String> = found.filter(|thing| !thing.is_empty()).collect();
    let things = each_once(things);
    let facts = minijinja::context! {
        list => capital(&w.figures.list(&things)),
        count => things.len(),
    };
    (!things.is_empty()).then(|| w.say_with("plan.left_out", facts))
}

/// Returns the work in the price that this slab asks for: its repairs and edges, a sentence for each kind.
pub fn included_here(w: &Writer<'_>) -> Vec<String> {
    let shapes = &w.case.job.shapes;
    let repairs = repair::repairs(shapes, w.case.book);
    let length = |wanted: &dyn Fn(&Repair<'_>) -> bool| -> Length {
        let such = repairs.iter().filter(|repair| wanted(repair));
        such.map(|repair| repair.place.length()).sum()
    };
    let crack = |r: &Repair<'_>| matches!(r.place, RepairPlace::Crack(_));
    let joint = |r: &Repair<'_>| matches!(r.place, RepairPlace::Joint(_));
    let soft = |r: &Repair<'_>| r.method.filler().is_some_and(|filler| filler.flexible);
    let hard = |r: &Repair<'_>| r.method.filler().is_some_and(|filler| !filler.flexible);
    // What fills a crack does not say if it moves: a crack of which nobody knows is filled hard too.
    let still =
        |r: &Repair<'_>| matches!(r.place, RepairPlace::Crack(crack) if crack.moves == Known::No);
    let by_coat = |r: &Repair<'_>| matches!(r.method, RepairMethod::FirstCoat);
    let open = |r: &Repair<'_>| matches!(r.method, RepairMethod::Open);
    let mut lines = vec![];
    if crate::price::estimate::has_old_coating(w.case.job) {
        lines.push(w.plain("detail.old_coating"));
    }
    for (name, length) in [
        ("detail.crack_hairline", length(&|r| crack(r) && by_coat(r))),
        ("detail.crack_hard", length(&|r| crack(r) && hard(r) && still(r))),
        ("detail.crack_unknown", length(&|r| crack(r) && hard(r) && !still(r))),
        ("detail.crack_soft", length(&|r| crack(r) && soft(r))),
        ("detail.joint_filled", length(&|r| joint(r) && !open(r))),
        ("detail.joint_open", length(&|r| joint(r) && open(r))),
        ("detail.cove", length(&|r| matches!(r.place, RepairPlace::Cove(_)))),
    ] {
        if length > Length::ZERO {
            let scan = w.case.job.slab.needs_scan();
            let facts = minijinja::context! { length => w.figure(length), scan };
            lines.push(w.say_with(name, facts));
        }
    }
    let spalls: Area = shapes.spalls.iter().map(|spall| spall.area).sum();
    if spalls > Area::ZERO {
        let area = w.figures.small_area(spalls);
        let facts = minijinja::context! { count => shapes.spalls.len(), area => area };
        lines.push(w.say_with("detail.spalls", facts));
    }
    if !shapes.uprights.is_empty() || !shapes.steps.is_empty() {
        let steps: u32 = shapes.steps.iter().map(|steps| steps.count).sum();
        let facts = minijinja::context! { walls => !shapes.uprights.is_empty(), steps => steps };
        lines.push(w.say_with("detail.upright", facts));
    }
    lines
}

pub fn price_table(w: &Writer<'_>, option: &FloorOption<'_>) -> PriceTable {
    let quote = &option.quote;
    let line = |label: String, amount| AmountLine { label, amount: w.money(amount) };
    let take_off = &w.case.site.take_off;
    let area = w.figures.areas(&[take_off.floor, take_off.upright]);
    let floor = [("name", w.name(option.key())), ("area", area)];
    let mut lines = vec![line(w.say("plan.floor_line", floor), quote.floor)];
    for Extra { extra, price } in &quote.extras {
        let name = w.extra_name(&option.floor, extra);
        lines.push(line(w.say("plan.extra_line", [("name", name)]), *price));
    }
    lines.extend(quote.items.iter().map(|one| line(one.item.clone(), one.price)));
    if let Some(discount) = w.case.job.discount.as_ref().filter(|_| quote.discount.0 > 0) {
        let reason = w.say("plan.discount_line", [("reason", discount.reason.as_str())]);
        lines.push(line(reason, Cents(-quote.discount.0)));
    }
    let exempt = w.case.job.customer.tax_exempt.as_ref();
    if let Some(number) = exempt.filter(|_| w.case.book.terms.tax_on == TaxOn::Price) {
        lines.push(line(w.say("plan.tax_exempt_line", [("number", number.as_str())]), quote.tax));
    }
    if quote.tax.0 > 0 {
        let terms = &w.case.book.terms;
        let name = terms.tax_name.clone().unwrap_or_else(|| w.plain("plan.tax_name"));
        let tax = [("name", name), ("rate", w.figure(as_share(terms.tax)))];
        lines.push(line(w.say("plan.tax_line", tax), quote.tax));
    }
    let extras = quote.could_add.iter().map(|could| {
        let more = could.days != option.estimate.schedule.days;
        let facts = minijinja::context! {
            name => w.addition_name(&option.floor, could),
            days => if more { w.figures.days(could.days) } else { String::new() },
            fire => could.flammable == Some(true),
            fire_unknown => could.solvent_unknown,
            isocyanate => could.isocyanate,
        };
        line(w.say_with("plan.could_add", facts), could.adds)
    });
    PriceTable {
        name: w.name(option.key()),
        mark: w.mark(option.key()),
        only_if: only_if(w, option)
            .map_or_else(String::new, |only_if| w.say("plan.only_if", [("only_if", only_if)])),
        lines,
        total: line(w.plain("plan.total"), quote.total),
        extras: extras.collect(),
    }
}

fn payments(w: &Writer<'_>) -> Vec<AmountLine> {
    w.recommended().map_or_else(Vec::new, |option| payment_lines(w, option.quote.total))
}

/// Returns the payments of a price; they sum exactly to it.
pub fn payment_lines(w: &Writer<'_>, total: Cents) -> Vec<AmountLine> {
    let shop = w.case.shop;
    let payments = price::payments(total, &shop.payments, &shop.limits).into_iter();
    payments.map(|one| AmountLine { label: one.when, amount: w.money(one.amount) }).collect()
}

fn time_row(w: &Writer<'_>, option: &FloorOption<'_>) -> TimeRow {
    let schedule = &option.estimate.schedule;
    TimeRow {
        name: w.name(option.key()),
        walk: capital(&w.usable(schedule.walk)),
        carry: capital(&w.usable(schedule.carry)),
        drive: capital(&w.usable(schedule.drive)),
    }
}

/// Sentences one after the other without the stop of the last; one that an "a. m." brings along is not said twice.
pub fn stopped_apart(said: impl Iterator<Item = String>) -> String {
    said.map(|one| one.trim_end_matches('.').to_owned()).collect::<Vec<_>>().join(". ")
}

/// Returns the basis of the times of these floors.
pub fn times_note(w: &Writer<'_>, offered: &[&FloorOption<'_>]) -> String {
    let any = |such: fn(&FloorOption<'_>) -> bool| offered.iter().any(|option| such(option));
    let rule = w.say("plan.times_note_rule", [("step", w.figure(DOUBLES))]);
    joined([
        w.plain_if(!offered.is_empty(), "plan.times_note"),
        text_if(any(Writer::by_rule), &rule),
        w.plain_if(any(Writer::slab_not_covered), "plan.times_note_allowed"),
    ])
}

// ------------------------------------------------------------------------------ timeline

/// Hours of rest after the last event, so that the last span can be seen.
const TAIL_HOURS: f64 = 12.0;

/// The days that a timeline shows, from the first on.
pub struct Axis {
    days: f64,
}

impl Axis {
    /// Days until the last of some moments, with room to see what follows it.
    pub fn of(moments: impl Iterator<Item = Moment>) -> Self {
        let last = moments.map(hours).fold(24.0, f64::max);
        Self { days: ((last + TAIL_HOURS) / 24.0).ceil() }
    }

    fn at(&self, moment: Moment) -> f64 {
        share(hours(moment) / (self.days * 24.0))
    }

    /// The days by their dates, or by their numbers.
    pub fn ticks(&self, w: &Writer<'_>) -> Vec<Tick> {
        let tick = |day: u32| {
            let at = share(f64::from(day) / self.days);
            match w.clock().date(day + 1) {
                Some(date) => Tick {
                    at,
                    text: w.figures.date_weekday_short(date),
                    short: vec![w.figures.weekday_short(date), date.day().to_string()],
                },
                None => Tick {
                    at,
                    text: w.say("time.tick", [("day", day + 1)]),
                    short: vec![(day + 1).to_string()],
                },
            }
        };
        (0..self.days as u32).map(tick).collect()
    }
}

fn timeline(w: &Writer<'_>, offered: &[&FloorOption<'_>]) -> Timeline {
    let axis = Axis::of(offered.iter().map(|option| option.estimate.schedule.drive));
    let rows = offered.iter().map(|option| TimelineRow {
        name: w.name(option.key()),
        spans: spans(&option.estimate.schedule, &axis, &w.plain("plan.overnight"), true),
    });
    let spoken = offered.iter().map(|option| {
        let schedule = &option.estimate.schedule;
        let alt = [
            ("name", w.name(option.key())),
            ("days", w.figures.days(schedule.days)),
            ("walk", w.usable(schedule.walk)),
            ("drive", w.usable(schedule.drive)),
        ];
        w.say("plan.timeline_row_alt", alt)
    });
    let spoken = stopped_apart(spoken);
    let (slab, measured) = w.planned_slab();
    let allowed = offered.iter().all(|option| !Writer::slab_not_covered(option));
    let caption = match (allowed, measured) {
        (false, _) => "plan.timeline_caption_allowed",
        (true, true) => "plan.timeline_caption",
        (true, false) => "plan.timeline_caption_assumed",
    };
    Timeline {
        ticks: axis.ticks(w),
        rows: rows.collect(),
        caption: {
            let facts = minijinja::context! { slab => slab, one => offered.len() == 1 };
            w.say_with(caption, facts)
        },
        alt: w.say("plan.timeline_alt", [("rows", spoken)]),
    }
}

fn hours(moment: Moment) -> f64 {
    moment.0.as_hours()
}

/// Work and waiting until the last coat is down, then walking, then driving where there are cars. A wait over a
/// night is named so.
pub fn spans(schedule: &Schedule, axis: &Axis, night: &str, cars: bool) -> Vec<TimelineSpan> {
    let at = |moment: Moment| axis.at(moment);
    let span = |kind, from: f64, to: f64| TimelineSpan { kind, from, to, label: String::new() };
    let day = |moment: Moment| (hours(moment) / 24.0).floor();
    let wait = |from: Moment, to: Moment| TimelineSpan {
        label: text_if(day(from) < day(to), night),
        ..span("wait", at(from), at(to))
    };
    // Stretches that follow each other without a gap are one visit.
    let mut visits: Vec<(Moment, Moment)> = vec![];
    for stretch in &schedule.stretches {
        match visits.last_mut() {
            Some((_, to)) if hours(stretch.from) - hours(*to) < 0.02 => *to = stretch.to,
            _ => visits.push((stretch.from, stretch.to)),
        }
    }
    let mut spans = vec![];
    for (i, (from, to)) in visits.iter().enumerate() {
        if i > 0 {
            spans.push(wait(visits[i - 1].1, *from));
        }
        spans.push(span("work", at(*from), at(*to)));
    }
    let left = visits.last().map_or(schedule.done, |(_, to)| *to);
    spans.push(wait(left, schedule.walk));
    let drive = if cars { at(schedule.drive) } else { 1.0 };
    spans.push(span("foot", at(schedule.walk), drive));
    spans.push(span("car", drive, 1.0));
    spans.retain(|span| span.to > span.from);
    spans
}
