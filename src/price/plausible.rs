//! Figures that may be right but are seldom so: a slip of a finger, a unit or a decimal point. Each bound
//! is common practice, no published source, and what passes it is asked about, never refused.

use crate::base::money::Cents;
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
    let (cheap, dear) = (rates.iter().min()?, rates.iter().max()?);
    (dear.0 as f64 >= cheap.0.max(1) as f64 * KITS_APART).then_some((*cheap, *dear))
}
