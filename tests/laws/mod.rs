//! Laws that hold for any input, tried on many.

mod bids;
mod coats;
mod decided;
mod jobs;
mod kits;
mod laid;
mod money;
mod outlines;
mod own_rate;
mod schedule;
mod spaces;
mod what_if;
mod years;

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}
