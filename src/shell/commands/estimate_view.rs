//! The text of `estimate`: tables of costs, hours, batches and prices of every floor on offer.

use slableaf::base::calendar::Moment;
use slableaf::base::figure::Figure;
use slableaf::base::money::Cents;
use slableaf::base::quantity::{Hours, Share};
use slableaf::judge::Judged;
use slableaf::judge::recommend::OfferState;
use slableaf::price::batches::BatchVerdict;
use slableaf::price::case::FloorOption;
use slableaf::price::estimate::Estimate;
use slableaf::price::estimate::materials::{KitMeasure, MaterialAmount, MaterialLine};
use slableaf::price::schedule::Window;
use slableaf::price::sensitivity::swings;
use slableaf::results::work::task_name;
use slableaf::say::figures::{CLOCK_STEP, Figures, Toward};
use slableaf::site::standing::Settles;

use crate::shell::terminal::table;

/// Every floor with its costs, its hours and what moves its price.
pub fn text(judged: &Judged<'_>, figures: &Figures<'_>) -> String {
    let case = &judged.case;
    let mut out = vec![format!("Job {}, shop only: shows costs and margin", case.job.number.0)];
    let take_off = case.site.take_off;
    let lines = take_off.cracks + take_off.filled_joints;
    let row = |label: &str, value: String| vec![label.to_owned(), value];
    out.push(table(&[
        row("floor", figures.write(&Figure::Area(take_off.floor))),
        row("low walls and steps", figures.write(&Figure::Area(take_off.upright))),
        row("edge", figures.write(&Figure::Length(take_off.edge))),
        row("cracks and filled joints", figures.write(&Figure::Length(lines))),
    ]));
    for option in &case.options {
        out.push(format!("\n{} ({})", option.key(), standing(judged, option)));
        out.push(costs(&option.estimate, figures));
        out.push(outlook(judged, option, figures));
    }
    out.join("\n")
}

/// The standing of a floor on the offer.
pub fn standing(judged: &Judged<'_>, option: &FloorOption<'_>) -> &'static str {
    match judged.recommendation.state(option.key()) {
        OfferState::Offered if judged.recommendation.recommends(option.key()) => "recommended",
        OfferState::Offered => "offered",
        OfferState::Waits(Settles::Test) => "waits for a moisture test",
        OfferState::Waits(Settles::Maker) => "waits for a word from its maker",
        OfferState::NotOffered => "not offered for now",
    }
}

/// Material, work and what makes a price of them.
pub fn costs(e: &Estimate, figures: &Figures<'_>) -> String {
    let mut rows = vec![["to buy", "need", "cost"].map(str::to_owned).to_vec()];
    for line in &e.materials {
        let bought = format!("{}: {}", line.name, kits(line, figures));
        rows.push(vec![bought, need(line, figures), figures.money(line.cost)]);
    }
    rows.push(["work", "hours", "cost"].map(str::to_owned).to_vec());
    for line in &e.labor {
        let hours = figures.decimal(line.hours);
        rows.push(vec![task_name(&line.task), hours, figures.money(line.cost)]);
    }
    let margin = e.margin().map(|margin| f64::try_from(margin.round_dp(4)).unwrap_or(0.0));
    let margin = margin.map(|margin| figures.write(&Share::of_one(margin).into()));
    let sum = |label: &str, note: String, cents| vec![label.to_owned(), note, figures.money(cents)];
    rows.extend([
        sum("consumables", String::new(), e.consumables),
        sum("old coating removal", String::new(), e.removal),
        sum("per job", String::new(), e.per_job),
        sum("tax on purchases", String::new(), e.purchase_tax),
        sum("direct cost", format!("{} hours", figures.decimal(e.hours())), e.direct),
        sum("overhead", String::new(), e.overhead),
        sum("cost", String::new(), e.cost),
        sum("price at target margin", String::new(), e.wanted),
        sum("price", String::new(), e.price),
    ]);
    for item in &e.bill.items {
        let cost = format!("cost {}", figures.money(item.cost));
        rows.push(sum(&item.name, cost, item.price));
    }
    if e.bill.discount > Cents::ZERO {
        rows.push(sum("discount", String::new(), Cents(-e.bill.discount.0)));
    }
    rows.extend([
        sum("tax on the price", String::new(), e.bill.tax),
        sum("total for the customer", String::new(), e.total()),
        sum("profit", margin.unwrap_or_default(), e.profit()),
        sum("profit/crew-day", figures.days(e.days), e.profit_per_day()),
    ]);
    table(&rows)
}

fn kits(line: &MaterialLine, figures: &Figures<'_>) -> String {
    if line.buy.is_empty() {
        return "nothing to buy".into();
    }
    let kit = |(count, size): &(u32, KitMeasure)| {
        let size = match size {
            KitMeasure::Volume(volume) => figures.write(&Figure::Volume(*volume)),
            KitMeasure::Mass(mass) => figures.write(&Figure::Mass(*mass)),
        };
        format!("{count} x {size}")
    };
    line.buy.iter().map(kit).collect::<Vec<_>>().join(" + ")
}

fn need(line: &MaterialLine, figures: &Figures<'_>) -> String {
    match line.amount {
        MaterialAmount::Liquid { need, .. } => figures.write(&Figure::Volume(need)),
        MaterialAmount::Flake { need, .. } | MaterialAmount::Solid { need, .. } => {
            figures.write(&Figure::Mass(need))
        }
    }
}

/// The clock of one floor, its batches, and what moves its price.
fn outlook(judged: &Judged<'_>, option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    [clock(option, figures), batches(option, figures), prices(judged, option, figures)].join("\n")
}

pub fn clock(option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    let schedule = &option.estimate.schedule;
    let one = &schedule.one_day;
    let hours = |hours: Hours| figures.short(hours.as_hours(), 1);
    let answer = if schedule.fits_one_day() { "yes" } else { "no" };
    let [needs, waits, has] = [one.needs, one.waits, one.has].map(hours);
    let says =
        format!("{answer}: {needs} h of work and waits ({waits} h of waits), a day has {has} h");
    let mut rows = vec![vec!["one-day job".to_owned(), says]];
    for laid in &schedule.coats {
        if let Some(Window { from, to }) = laid.window {
            let at = |m: Moment| format!("day {}, {}", m.day(), figures.crew_clock(m));
            let (from, to) =
                (Toward::More.moment(from, CLOCK_STEP), Toward::Less.moment(to, CLOCK_STEP));
            rows.push(vec![
                format!("{}: recoat window", laid.coat),
                format!("{}; {} (planned {})", at(from), at(to), at(laid.from)),
            ]);
        }
    }
    table(&rows)
}

pub fn batches(option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    let mut rows =
        vec![["mix", "batch", "covers", "one every", "gels after"].map(str::to_owned).to_vec()];
    for (coat, batches) in &option.estimate.batches {
        let verdict = match batches.verdict {
            BatchVerdict::Calm => "",
            BatchVerdict::Tight => " (tight)",
            BatchVerdict::Gels => " (gels)",
        };
        let (size, _) = figures.batch(batches.volume, &batches.parts);
        rows.push(vec![
            format!("{coat}{verdict}"),
            format!("{} x {}", batches.count, figures.measured_out(size)),
            figures.write(&Figure::Area(batches.area)),
            figures.minutes(batches.every),
            figures.minutes(batches.pot_life),
        ]);
    }
    table(&rows)
}

fn prices(judged: &Judged<'_>, option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    let mut rows =
        vec![["what moves the price", "10% less", "10% more"].map(str::to_owned).to_vec()];
    for swing in swings(&judged.case, option) {
        let (less, more) = (figures.money(swing.less), figures.money(swing.more));
        rows.push(vec![swing.lever.word().to_owned(), less, more]);
    }
    table(&rows)
}
