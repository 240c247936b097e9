//! Price and days of all spaces together: one table, one timeline, one set of payments.

use crate::base::money::Cents;
use crate::papers::proposal::page::{
    AmountLine, NextStep, SpaceLine, TimeRow, Timeline, TimelineRow, WholePart,
};
use crate::papers::proposal::plan::{
    Axis, excluded, left_out, payment_lines, spans, stopped_apart, times_note,
};
use crate::papers::proposal::promise::with_flake;
use crate::papers::proposal::reason::reason;
use crate::papers::proposal::spaces::Spaces;
use crate::papers::proposal::spaces::glance::{ready, reasons_not_offered};
use crate::papers::proposal::spaces::joined::by_space;
use crate::papers::proposal::writer::{Writer, capital};
use crate::price::case::FloorOption;

/// The whole price and its days; `None` where no space has a floor with a price.
pub fn whole(s: &Spaces<'_>) -> Option<WholePart> {
    let w = s.w();
    let first = s.first_floors();
    let price = s.judged.price.as_ref().filter(|_| !first.is_empty())?;
    let options: Vec<&FloorOption<'_>> = first.iter().map(|(.., floor)| *floor).collect();
    let payments = payments(s);
    Some(WholePart {
        rows: s.named().map(|(name, w)| row(name, w)).collect(),
        lines: lines(s),
        total: total(s),
        rule: w.lines("space.rule", &minijinja::context! { several => first.len() > 1 }),
        reasons: first
            .iter()
            .map(|(name, w, floor)| NextStep { who: (*name).to_owned(), says: reason(w, floor) })
            .collect(),
        timeline: Some(timeline(s)),
        times: first.iter().map(|(name, w, floor)| time_row(name, w, floor)).collect(),
        times_note: times_note(w, &options),
        payments_note: w.plain_if(!payments.is_empty(), "space.payments_note"),
        payments,
        included: with_flake(
            w,
            options.iter().any(|option| option.floor.has_flake()),
            &w.words.promise.included,
        ),
        excluded: excluded(w, s.job, by_space(s, |w| left_out(w).into_iter().collect())),
        could_add: price
            .could_add
            .iter()
            .map(|(_, name, adds)| AmountLine { label: name.clone(), amount: w.money(*adds) })
            .collect(),
    })
}

fn row(name: &str, w: &Writer<'_>) -> SpaceLine {
    let space = name.to_owned();
    let Some(first) = w.first() else {
        let standing = w.plain("glance.not_offered");
        return SpaceLine {
            space,
            floor: reasons_not_offered(w),
            standing,
            ..SpaceLine::default()
        };
    };
    SpaceLine {
        space,
        floor: w.name(first.key()),
        price: w.money(first.quote.total),
        days: w.figures.days(first.estimate.schedule.days),
        ready: ready(w, first),
        standing: w.standing_words(first.key()),
        recommended: w.recommendation.recommends(first.key()),
    }
}

/// Items, what comes off, and the tax on both.
pub fn lines(s: &Spaces<'_>) -> Vec<AmountLine> {
    let (w, Some(price)) = (s.w(), &s.judged.price) else { return vec![] };
    let line = |label: String, amount: Cents| AmountLine { label, amount: w.money(amount) };
    let mut lines: Vec<AmountLine> =
        price.bill.items.iter().map(|item| line(item.name.clone(), item.price)).collect();
    if let Some(discount) = s.job.discount.as_ref().filter(|_| price.bill.discount > Cents::ZERO) {
        let reason = w.say("plan.discount_line", [("reason", discount.reason.as_str())]);
        lines.push(line(reason, Cents::ZERO.minus(price.bill.discount)));
    }
    if price.tax_beside() != Cents::ZERO {
        lines.push(line(w.plain("space.tax_beside"), price.tax_beside()));
    }
    lines
}

fn total(s: &Spaces<'_>) -> AmountLine {
    let waits = s.some_wait();
    AmountLine {
        label: s.w().say("space.total", [("waits", waits)]),
        amount: s.w().money(s.total()),
    }
}

/// Payments of what may be signed for with the floors that we recommend; they sum to it exactly.
pub fn payments(s: &Spaces<'_>) -> Vec<AmountLine> {
    let signable = s.signable();
    if signable == Cents::ZERO { vec![] } else { payment_lines(s.w(), signable) }
}

fn time_row(name: &str, w: &Writer<'_>, option: &FloorOption<'_>) -> TimeRow {
    let schedule = &option.estimate.schedule;
    let cars = w.case.job.has_cars();
    TimeRow {
        name: name.to_owned(),
        walk: capital(&w.usable(schedule.walk)),
        carry: capital(&w.usable(schedule.carry)),
        drive: if cars { capital(&w.usable(schedule.drive)) } else { w.plain("space.no_cars") },
    }
}

fn timeline(s: &Spaces<'_>) -> Timeline {
    let (w, first) = (s.w(), s.first_floors());
    let axis = Axis::of(first.iter().map(|(_, w, floor)| {
        let schedule = &floor.estimate.schedule;
        if w.case.job.has_cars() { schedule.drive } else { schedule.walk }
    }));
    let night = w.plain("plan.overnight");
    let rows = first.iter().map(|(name, w, floor)| {
        let cars = w.case.job.has_cars();
        let spans = spans(&floor.estimate.schedule, &axis, &night, cars);
        TimelineRow { name: (*name).to_owned(), spans }
    });
    let spoken = first.iter().map(|(name, w, floor)| {
        let schedule = &floor.estimate.schedule;
        let alt = [
            ("name", (*name).to_owned()),
            ("days", w.figures.days(schedule.days)),
            ("walk", w.usable(schedule.walk)),
            ("ready", ready(w, floor)),
        ];
        w.say("space.timeline_row_alt", alt)
    });
    let spoken = stopped_apart(spoken);
    Timeline {
        ticks: axis.ticks(w),
        rows: rows.collect(),
        caption: w.plain("space.timeline_caption"),
        alt: w.say("plan.timeline_alt", [("rows", spoken)]),
    }
}
