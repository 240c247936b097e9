//! Kits of a product, whatever it is measured in.

use crate::base::money::Cents;
use crate::base::quantity::{Mass, Volume};
use crate::model::book::{Kit, Stuff};
use crate::model::job::Units;

/// Size of a kit: liquids and fillers by volume, flake, pigment and grit by mass.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub enum KitMeasure {
    Volume(Volume),
    Mass(Mass),
}

impl Units {
    /// The names of the units in which one buys: of a volume, of a mass.
    pub fn of_trade(self) -> (&'static str, &'static str) {
        match self {
            Self::Us => ("gal", "lb"),
            Self::Metric => ("L", "kg"),
        }
    }
}

impl Stuff {
    /// Returns the size and the price of each kit, in their order.
    pub fn kits(&self) -> Vec<(KitMeasure, Cents)> {
        fn of<Q: Copy>(kits: &[Kit<Q>], size: fn(Q) -> KitMeasure) -> Vec<(KitMeasure, Cents)> {
            kits.iter().map(|kit| (size(kit.size), kit.price)).collect()
        }
        match self {
            Self::Resin(resin) => of(&resin.kits, KitMeasure::Volume),
            Self::Filler(filler) => of(&filler.kits, KitMeasure::Volume),
            Self::Flake(flake) => of(&flake.kits, KitMeasure::Mass),
            Self::Pigment(pigment) => of(&pigment.kits, KitMeasure::Mass),
            Self::Grit(grit) => of(&grit.kits, KitMeasure::Mass),
        }
    }

    /// True for what is sold by volume.
    pub fn is_liquid(&self) -> bool {
        matches!(self, Self::Resin(_) | Self::Filler(_))
    }

    /// Returns the prices of the kits, in their order.
    pub fn prices(&self) -> impl Iterator<Item = Cents> {
        self.kits().into_iter().map(|(_, price)| price)
    }

    /// Returns the price of the first kit of a size.
    pub fn price_of(&self, size: KitMeasure) -> Option<Cents> {
        self.kits().into_iter().find(|(of, _)| *of == size).map(|(_, price)| price)
    }

    /// Gives every kit the price that a function makes of its size and price.
    pub fn reprice_kits(&mut self, price: impl Fn(KitMeasure, Cents) -> Cents) {
        let prices: Vec<Cents> = self.kits().into_iter().map(|(of, was)| price(of, was)).collect();
        let kits: Vec<&mut Cents> = match self {
            Self::Resin(resin) => resin.kits.iter_mut().map(|kit| &mut kit.price).collect(),
            Self::Filler(filler) => filler.kits.iter_mut().map(|kit| &mut kit.price).collect(),
            Self::Flake(flake) => flake.kits.iter_mut().map(|kit| &mut kit.price).collect(),
            Self::Pigment(pigment) => pigment.kits.iter_mut().map(|kit| &mut kit.price).collect(),
            Self::Grit(grit) => grit.kits.iter_mut().map(|kit| &mut kit.price).collect(),
        };
        kits.into_iter().zip(prices).for_each(|(kit, price)| *kit = price);
    }
}
