//! Materials that a floor needs, and the amounts to buy.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::*;
pub use crate::model::book::kits::KitMeasure;
use crate::model::book::{Book, Flake, Grit, Kit, Pigment, Stuff};
use crate::model::job::Job;
use crate::model::system::Broadcast;
use crate::price::film;
use crate::price::floor::{CoatStuff, Floor};
use crate::price::kits::{self, KitQuantity};
use crate::price::repair::{self, Repair};
use crate::site::take_off::TakeOff;

/// One product: its need, what stock covers, the kits to buy, and the cost of all that is used.
#[derive(Debug, Clone)]
pub struct MaterialLine {
    pub product: Key,
    pub name: String,
    pub supplier: String,
    pub amount: MaterialAmount,
    /// Kits to buy: how many, of what size.
    pub buy: Vec<(u32, KitMeasure)>,
    /// Kits bought, and stock used at the cheapest kit's rate.
    pub cost: Cents,
}

/// Need, stock used and leftover, in the product's own measure.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum MaterialAmount {
    /// Of a liquid.
    Liquid {
        /// Volume that the floor takes, loss included, liters.
        #[serde(rename = "litres")]
        need: Volume,
        /// Part of it that comes from stock, liters.
        #[serde(rename = "from_stock_litres")]
        from_stock: Volume,
        /// Volume that the kits hold beyond the need, liters.
        #[serde(rename = "leftover_litres")]
        leftover: Volume,
    },
    /// Of flake.
    Flake {
        /// Mass that is thrown, kilograms.
        #[serde(rename = "thrown_kg")]
        need: Mass,
        /// Part of it that stays in the floor; the rest is swept up again, kilograms.
        #[serde(rename = "kept_kg")]
        kept: Mass,
        /// Part of it that comes from stock, kilograms.
        #[serde(rename = "from_stock_kg")]
        from_stock: Mass,
        /// Mass that the kits hold beyond the need, kilograms.
        #[serde(rename = "leftover_kg")]
        leftover: Mass,
    },
    /// Of pigment or grit.
    Solid {
        /// Mass that the floor takes, kilograms.
        #[serde(rename = "need_kg")]
        need: Mass,
        /// Part of it that comes from stock, kilograms.
        #[serde(rename = "from_stock_kg")]
        from_stock: Mass,
        /// Mass that the kits hold beyond the need, kilograms.
        #[serde(rename = "leftover_kg")]
        leftover: Mass,
    },
}

/// Need of one coat: of its product, or of the pigment in it, which stands behind that.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatNeed {
    pub coat: Key,
    pub product: Key,
    pub need: ProductNeed,
}

/// Returns the needs of a floor, coat by coat.
pub fn coats(
    floor: &Floor<'_>,
    job: &Job,
    take_off: &TakeOff,
    book: &Book,
    repairs: &[Repair<'_>],
) -> Vec<CoatNeed> {
    let mut needs = vec![];
    let mut first = true;
    for coat in &floor.coats {
        let need = match coat.stuff {
            CoatStuff::Resin(resin) => {
                let wet = coat.wet_film(resin);
                let mut flat = take_off.floor.at(wet);
                if first {
                    let texture = job.slab.texture.unwrap_or(book.prep.texture);
                    flat = flat + film::texture_fill(take_off.floor, texture);
                    flat = flat + repair::into_first_coat(repairs);
                    first = false;
                }
                let upright = take_off.upright.at(wet);
                let loss = resin.loss.max(book.prep.upright_loss);
                ProductNeed::Liquid(
                    film::with_loss(flat, resin.loss) + film::with_loss(upright, loss),
                )
            }
            CoatStuff::Flake(flake, how) => {
                let rate = if how == Broadcast::Full { flake.full } else { flake.scattered };
                let thrown = take_off.coated().times(rate);
                ProductNeed::Flake { thrown, kept: thrown * (1.0 - flake.reclaimed.as_of_one()) }
            }
            CoatStuff::Grit(grit, _) => ProductNeed::Solid(take_off.coated().times(grit.rate)),
        };
        let key = &coat.spec.key;
        needs.push(CoatNeed { coat: key.clone(), product: coat.product.key.clone(), need });
        if let (Some((product, pigment)), ProductNeed::Liquid(volume)) = (coat.pigment, need) {
            let need = ProductNeed::Solid(pigment.for_volume(volume));
            needs.push(CoatNeed { coat: key.clone(), product: product.key.clone(), need });
        }
    }
    needs
}

/// Returns the need of each product and the amount to buy, for the spaces of a visit together: fillers,
/// then coats in their order.
pub fn materials<'a>(
    spaces: impl Iterator<Item = (&'a [CoatNeed], &'a [Repair<'a>])> + Clone,
    book: &Book,
) -> Vec<MaterialLine> {
    let mut needs: Vec<(Key, ProductNeed)> = vec![];
    let mut add =
        |product: &Key, need: ProductNeed| match needs.iter_mut().find(|(key, _)| key == product) {
            Some((_, known)) => *known = known.plus(need),
            None => needs.push((product.clone(), need)),
        };
    for (_, repairs) in spaces.clone() {
        let fillers = repair::fillers(repairs).into_iter();
        fillers.for_each(|(product, volume)| add(&product.key, ProductNeed::Liquid(volume)));
    }
    for (coats, _) in spaces {
        coats.iter().for_each(|coat| add(&coat.product, coat.need));
    }
    needs.into_iter().filter_map(|(key, need)| material_line(book, &key, need)).collect()
}

/// Need of a product, loss included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ProductNeed {
    Liquid(Volume),
    Flake {
        thrown: Mass,
        kept: Mass,
    },
    /// Pigment or grit.
    Solid(Mass),
}

impl ProductNeed {
    fn plus(self, other: Self) -> Self {
        match (self, other) {
            (Self::Liquid(a), Self::Liquid(b)) => Self::Liquid(a + b),
            (Self::Solid(a), Self::Solid(b)) => Self::Solid(a + b),
            (Self::Flake { thrown, kept }, Self::Flake { thrown: t, kept: k }) => {
                Self::Flake { thrown: thrown + t, kept: kept + k }
            }
            // One product is of one kind.
            (known, _) => known,
        }
    }
}

fn material_line(book: &Book, key: &Key, need: ProductNeed) -> Option<MaterialLine> {
    let product = book.product(key)?;
    let liquid = |kits: &[Kit<Volume>], stock: Volume, need: Volume| {
        let (from_stock, leftover, buy, cost) = supply(kits, stock, need, KitMeasure::Volume);
        (MaterialAmount::Liquid { need, from_stock, leftover }, buy, cost)
    };
    let (amount, buy, cost) = match (&product.stuff, need) {
        (Stuff::Resin(resin), ProductNeed::Liquid(need)) => liquid(&resin.kits, resin.stock, need),
        (Stuff::Filler(filler), ProductNeed::Liquid(need)) => {
            liquid(&filler.kits, filler.stock, need)
        }
        (Stuff::Flake(Flake { kits, stock, .. }), ProductNeed::Flake { thrown: need, kept }) => {
            let (from_stock, leftover, buy, cost) = supply(kits, *stock, need, KitMeasure::Mass);
            (MaterialAmount::Flake { need, kept, from_stock, leftover }, buy, cost)
        }
        (Stuff::Pigment(Pigment { kits, stock, .. }), ProductNeed::Solid(need))
        | (Stuff::Grit(Grit { kits, stock, .. }), ProductNeed::Solid(need)) => {
            let (from_stock, leftover, buy, cost) = supply(kits, *stock, need, KitMeasure::Mass);
            (MaterialAmount::Solid { need, from_stock, leftover }, buy, cost)
        }
        _ => return None,
    };
    Some(MaterialLine {
        product: key.clone(),
        name: product.name.clone(),
        supplier: product.supplier.clone(),
        amount,
        buy,
        cost,
    })
}

/// Takes from stock first, then chooses kits; returns what comes from stock, what is left over, the kits to
/// buy and the cost of all that is used. Stock is not free: what is used of it is counted at the cheapest
/// kit's rate, so that a price does not fall because a shelf is full.
fn supply<Q: KitQuantity>(
    kits: &[Kit<Q>],
    stock: Q,
    need: Q,
    size: fn(Q) -> KitMeasure,
) -> (Q, Q, Vec<(u32, KitMeasure)>, Cents) {
    let from_stock = if stock < need { stock } else { need };
    let choice = kits::choose(kits, need - from_stock);
    let rate = kits
        .iter()
        .map(|kit| kit.price.decimal() * to_share(from_stock / kit.size))
        .min()
        .unwrap_or_default();
    let pairs = kits.iter().zip(&choice.counts).filter(|(_, count)| **count > 0);
    let buy = pairs.map(|(kit, count)| (*count, size(kit.size))).collect();
    (from_stock, choice.leftover, buy, choice.cost.plus(Cents::round(rate)))
}

/// A ratio as a decimal of six places, before it meets money.
fn to_share(ratio: f64) -> rust_decimal::Decimal {
    rust_decimal::Decimal::try_from(ratio).unwrap_or_default().round_dp(6)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Needs of one product in two spaces are one need, of each kind of product.
    #[test]
    fn needs_of_one_product_add_up() {
        use ProductNeed::{Flake, Liquid, Solid};
        let kilograms = Mass::kilograms;
        let flake = |thrown, kept| Flake { thrown: kilograms(thrown), kept: kilograms(kept) };
        let liquid = |liters| Liquid(Volume::liters(liters));
        assert_eq!(liquid(1.5).plus(liquid(2.0)), liquid(3.5));
        assert_eq!(Solid(kilograms(0.5)).plus(Solid(kilograms(0.25))), Solid(kilograms(0.75)));
        assert_eq!(flake(8.0, 5.0).plus(flake(4.0, 2.5)), flake(12.0, 7.5));
    }
}
