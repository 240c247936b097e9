//! The text of `estimate` for a job of several spaces: the whole, its shares, then the floors of each space.

use slableaf::base::money::Cents;
use slableaf::base::quantity::{Share, rounded};
use slableaf::papers::proposal::Spaces;

use crate::shell::commands::estimate_view::{batches, clock, costs, standing};
use crate::shell::terminal::table;

/// The whole with its costs, each space's share, and what each floor costs in its space.
pub fn text(s: &Spaces<'_>) -> String {
    let figures = &s.w().figures;
    let mut out = vec![format!("Job {}, shop only: shows costs and margin", s.job.number.0)];
    if let Some(whole) = &s.judged.price {
        let mut estimate = whole.estimate.clone();
        estimate.bill.clone_from(&whole.bill);
        out.push(format!("\n== All spaces, {} of work", figures.days(estimate.days)));
        out.push(costs(&estimate, figures));
        let weights: Cents = whole.shares.iter().map(|share| share.alone).sum();
        let head = ["share", "alone, direct cost", "part", "price", "tax", "total"];
        let mut rows = vec![head.map(str::to_owned).to_vec()];
        for ((name, _), (floor, share)) in s.named().zip(whole.floors.iter().zip(&whole.shares)) {
            let Some(floor) = floor else { continue };
            let part = share.alone.0 as f64 / (weights.0.max(1)) as f64;
            rows.push(vec![
                format!("{name}: {floor}"),
                figures.money(share.alone),
                figures.write(&Share::of_one(rounded(part)).into()),
                figures.money(share.price),
                figures.money(share.tax),
                figures.money(share.total()),
            ]);
        }
        out.push(table(&rows));
    }
    for ((name, w), judged) in s.named().zip(&s.judged.spaces) {
        out.push(format!("\n== {name}"));
        for option in &w.case.options {
            out.push(format!("\n{} ({})", option.key(), standing(judged, option)));
            let row = |label: &str, value: String| vec![label.to_owned(), value];
            out.push(table(&[
                row("price in this space", figures.money(option.quote.total)),
                row("days there", figures.days(option.estimate.schedule.days)),
            ]));
            out.push(clock(option, figures));
            out.push(batches(option, figures));
        }
    }
    out.join("\n")
}
