//! What `estimate` says beside the sums: the clock, the batches, and what moves the price.

use slableaf::base::calendar::Moment;
use slableaf::base::figure::Figure;
use slableaf::base::quantity::Hours;
use slableaf::judge::Judged;
use slableaf::price::batches::BatchVerdict;
use slableaf::price::case::FloorOption;
use slableaf::price::schedule::Window;
use slableaf::price::sensitivity::swings;
use slableaf::say::figures::{CLOCK_STEP, Figures, Toward};

use crate::shell::terminal;

/// The outlook on one floor, as tables.
pub fn outlook(judged: &Judged<'_>, option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    [clock(option, figures), batches(option, figures), prices(judged, option, figures)].join("\n")
}

fn clock(option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    let schedule = &option.estimate.schedule;
    let one = &schedule.one_day;
    let hours = |hours: Hours| figures.short(hours.as_hours(), 1);
    let answer = if schedule.fits_one_day() { "yes" } else { "no" };
    let mut rows = vec![vec![
        "done in one day".to_owned(),
        format!(
            "{answer}: {} h of work and waits ({} h of waits), a day has {} h",
            hours(one.needs),
            hours(one.waits),
            hours(one.has)
        ),
    ]];
    for laid in &schedule.coats {
        if let Some(Window { from, to }) = laid.window {
            let at = |m: Moment| format!("day {}, {}", m.day(), figures.crew_clock(m));
            let (from, to) =
                (Toward::More.moment(from, CLOCK_STEP), Toward::Less.moment(to, CLOCK_STEP));
            rows.push(vec![
                format!("{}: not before, not after", laid.coat),
                format!("{}; {} (planned {})", at(from), at(to), at(laid.from)),
            ]);
        }
    }
    terminal::table(&rows)
}

fn batches(option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    let mut rows =
        vec![["mix", "batch", "covers", "one every", "gels after"].map(str::to_owned).to_vec()];
    for (coat, batches) in &option.estimate.batches {
        let verdict = match batches.verdict {
            BatchVerdict::Calm => "",
            BatchVerdict::Tight => " (tight)",
            BatchVerdict::Gels => " (gels)",
        };
        rows.push(vec![
            format!("{coat}{verdict}"),
            format!(
                "{} x {}",
                batches.count,
                figures.measured_out(figures.batch(batches.volume, &batches.parts).0)
            ),
            figures.write(&Figure::Area(batches.area)),
            figures.minutes(batches.every),
            figures.minutes(batches.pot_life),
        ]);
    }
    terminal::table(&rows)
}

fn prices(judged: &Judged<'_>, option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    let mut rows =
        vec![["what moves the price", "a tenth less", "a tenth more"].map(str::to_owned).to_vec()];
    for swing in swings(&judged.case, option) {
        rows.push(vec![
            swing.lever.word().to_owned(),
            figures.money(swing.less),
            figures.money(swing.more),
        ]);
    }
    terminal::table(&rows)
}
