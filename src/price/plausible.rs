//! Figures that may be right but are seldom so: a slip of a finger, a unit or a decimal point. Each bound
//! is common practice, no published source, and what passes it is asked about, never refused.

use crate::base::money::{Cents, MOST_CENTS};
use crate::base::quantity::{Mass, Volume};
use crate::model::book::Stuff;
use crate::model::book::kits::KitMeasure;

/// Kits of one product whose prices by content are so many times apart are asked about. A small kit may
/// well cost half as much again by content as a large one.
pub const KITS_APART: f64 = 2.0;

/// The price of a gallon or of a pound in each kit, in the order of the kits.
pub fn kit_rates(stuff: &Stuff) -> Vec<Cents> {
    let rate = |(size, price): (KitMeasure, Cents)| {
        let content = match size {
            KitMeasure::Volume(volume) => volume / Volume::gallons(1.0),
            KitMeasure::Mass(mass) => mass / Mass::pounds(1.0),
        };
        Cents((price.0 as f64 / content).round() as i64)
    };
    stuff.kits().into_iter().map(rate).collect()
}

/// The cheapest and the dearest price of a gallon or a pound, where they are far apart.
pub fn kits_apart(stuff: &Stuff) -> Option<(Cents, Cents)> {
    let rates = kit_rates(stuff);
    // A kit of next to nothing is told by the price of a floor.
    if rates.iter().any(|rate| *rate > Cents(MOST_CENTS / 1000)) {
        return None;
    }
    let (cheap, dear) = (rates.iter().min()?, rates.iter().max()?);
    (dear.0 as f64 >= cheap.0.max(1) as f64 * KITS_APART).then_some((*cheap, *dear))
}

/// A price for its area that is so many times that of similar jobs, or so small a part of it, is asked about.
pub const QUOTES_APART: f64 = 2.0;
/// Fewer jobs tell nothing of what is usual.
const SIMILAR_JOBS: usize = 3;
/// Areas that are no further apart than this are those of similar jobs: a small floor costs more for its area.
const SIMILAR_AREA: f64 = 2.0;

/// What similar jobs cost for an area of one square meter, in the middle, where a job is far from it.
/// `own` and `others` are areas in square meters, each with its price.
pub fn far_from_similar(own: (f64, Cents), others: &[(f64, Cents)]) -> Option<(Cents, usize)> {
    let (area, price) = own;
    let alike = |other: &&(f64, Cents)| {
        let ratio = other.0 / area;
        ratio.is_finite() && (1.0 / SIMILAR_AREA..=SIMILAR_AREA).contains(&ratio)
    };
    let rate = |(area, price): (f64, Cents)| price.0 as f64 / area;
    let mut rates: Vec<f64> = others.iter().filter(alike).map(|other| rate(*other)).collect();
    if rates.len() < SIMILAR_JOBS {
        return None;
    }
    rates.sort_by(f64::total_cmp);
    let usual = rates[rates.len() / 2];
    let times = rate((area, price)) / usual;
    let far = times >= QUOTES_APART || times <= 1.0 / QUOTES_APART;
    far.then(|| (Cents(usual.round() as i64), rates.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_price_is_held_against_similar_jobs_alone() {
        // 50 m2 at 10,000, 11,000 and 12,000 cents a square meter: 11,000 in the middle (by hand).
        let others = [(50.0, Cents(500_000)), (50.0, Cents(550_000)), (50.0, Cents(600_000))];
        assert_eq!(far_from_similar((50.0, Cents(550_000)), &others), None);
        assert_eq!(far_from_similar((50.0, Cents(1_099_999)), &others), None);
        let twice = far_from_similar((50.0, Cents(1_100_000)), &others);
        assert_eq!(twice, Some((Cents(11_000), 3)));
        let half = far_from_similar((50.0, Cents(275_000)), &others);
        assert_eq!(half, Some((Cents(11_000), 3)));
        // Of five, the one in the middle: 90, 100, 110, 300 and 400 dollars a square meter.
        let others = [40_000, 9_000, 11_000, 30_000, 10_000].map(|rate| (50.0, Cents(50 * rate)));
        assert_eq!(far_from_similar((50.0, Cents(50 * 22_000)), &others), Some((Cents(11_000), 5)));
        assert_eq!(far_from_similar((50.0, Cents(50 * 21_999)), &others), None);
        let others = [(50.0, Cents(500_000)), (50.0, Cents(550_000)), (50.0, Cents(600_000))];
        // Two jobs tell nothing, and a floor of another size is no similar one.
        assert_eq!(far_from_similar((50.0, Cents(1_100_000)), &others[..2]), None);
        assert_eq!(far_from_similar((10.0, Cents(1_100_000)), &others), None);
        assert_eq!(far_from_similar((0.0, Cents(1)), &others), None);
    }
}
