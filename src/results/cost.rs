//! The cost of a floor to the shop, and its profit. For the shop alone.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Mass, Volume, rounded};
use crate::model::book::{self, TaxOn};
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::price::estimate::materials::{self, MaterialAmount, MaterialLine};
use crate::price::estimate::{self, Estimate};
use crate::price::sensitivity::swings;
use crate::results::work::task_name;

/// The book's terms, by which a price is made of a cost.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Terms {
    /// Overhead, as a share of the direct cost.
    pub overhead_share: f64,
    /// The margin that is aimed at, as a share of the price.
    pub margin_share: f64,
    /// The lowest margin that the shop accepts, as a share of the price.
    pub margin_floor_share: f64,
    /// The lowest price.
    pub minimum: Cents,
    /// Prices are rounded up to a multiple of this.
    pub round_to: Cents,
    /// Sales tax, as a share of what it is reckoned on.
    pub tax_share: f64,
    /// The amount that sales tax is reckoned on.
    pub tax_on: TaxOn,
}

impl From<&book::PriceTerms> for Terms {
    fn from(terms: &book::PriceTerms) -> Self {
        Self {
            overhead_share: share(terms.overhead),
            margin_share: share(terms.margin),
            margin_floor_share: share(terms.margin_floor),
            minimum: terms.minimum,
            round_to: terms.round_to,
            tax_share: terms.tax.to_f64().unwrap_or_default(),
            tax_on: terms.tax_on,
        }
    }
}

fn share(decimal: Decimal) -> f64 {
    rounded(decimal.to_f64().unwrap_or_default())
}

/// From material and work to a price and what is left of it. Every line is rounded once, and sums
/// are sums of rounded lines.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Cost {
    /// Everything to buy, and stock that is used, by product.
    pub materials: Vec<Material>,
    /// Work by task.
    pub labor: Vec<Labor>,
    /// Sum of the materials.
    pub materials_cost: Cents,
    /// Sum of the labor.
    pub labor_cost: Cents,
    /// One person's work in all, hours.
    pub labor_hours: f64,
    /// Pads, rollers, blades, tape, bags.
    pub consumables: Cents,
    /// Blades and disposal where an old coating comes off.
    pub removal: Cents,
    /// Travel, dump fees and the like, once a job.
    pub per_job: Cents,
    /// Tax on what the shop buys; zero where it pays none.
    pub purchase_tax: Cents,
    /// All of the above.
    pub direct: Cents,
    /// Overhead on the direct cost.
    pub overhead: Cents,
    /// Direct cost and overhead.
    pub cost: Cents,
    /// The price that the margin asks for, before minimum and rounding.
    pub wanted: Cents,
    /// The price of the floor, before items, discount and the customer's tax.
    pub price: Cents,
    /// Cost of the items in the price; those whose cost is not given count as costing their price.
    pub items_cost: Cents,
    /// Price of floor and items less the discount, before the customer's tax.
    pub net: Cents,
    /// That minus the cost of floor and items.
    pub profit: Cents,
    /// Profit as a share of that price; null for a price of zero.
    pub margin_share: Option<f64>,
    /// Profit for each day that the crew is on site.
    pub profit_per_crew_day: Cents,
}

impl From<&Estimate> for Cost {
    fn from(e: &Estimate) -> Self {
        let bought: Cents = e.materials.iter().map(|line| line.cost).sum();
        let worked: Cents = e.labor.iter().map(|line| line.cost).sum();
        Self {
            materials: e.materials.iter().map(Material::from).collect(),
            labor: e.labor.iter().map(Labor::from).collect(),
            materials_cost: bought,
            labor_cost: worked,
            labor_hours: share(e.hours()),
            consumables: e.consumables,
            removal: e.removal,
            per_job: e.per_job,
            purchase_tax: e.purchase_tax,
            direct: e.direct,
            overhead: e.overhead,
            cost: e.cost,
            wanted: e.wanted,
            price: e.price,
            items_cost: e.bill.items_cost(),
            net: e.bill.net,
            profit: e.profit(),
            margin_share: e.margin().map(share),
            profit_per_crew_day: e.profit_per_day(),
        }
    }
}

/// Work on one task.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Labor {
    /// The task.
    pub task: String,
    /// One person's work, hours.
    pub hours: f64,
    /// Wage and burden for it.
    pub cost: Cents,
}

impl From<&estimate::LaborLine> for Labor {
    fn from(line: &estimate::LaborLine) -> Self {
        Self { task: task_name(&line.task), hours: share(line.hours), cost: line.cost }
    }
}

/// One product: its need, what stock covers, the kits to buy, the cost.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Material {
    /// The product's key in the book.
    pub product: Key,
    /// Its name.
    pub name: String,
    /// Its seller.
    pub supplier: String,
    /// The amount that the floor takes, and its sources.
    pub need: MaterialAmount,
    /// Kits to buy.
    pub buy: Vec<Kits>,
    /// Kits bought, and stock used at the cheapest kit's rate.
    pub cost: Cents,
}

/// Kits of one size.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Kits {
    /// Their number.
    pub count: u32,
    /// The content of one.
    pub size: KitContent,
}

/// The change of a price by one thing.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PriceMove {
    /// The thing that turns out otherwise.
    pub what: &'static str,
    /// The price's change when it is a tenth less.
    pub tenth_less: Cents,
    /// The price's change when it is a tenth more.
    pub tenth_more: Cents,
}

impl PriceMove {
    pub fn all(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Self> {
        let swings = swings(w.case, option).into_iter();
        swings
            .map(|swing| Self {
                what: swing.lever.word(),
                tenth_less: swing.less,
                tenth_more: swing.more,
            })
            .collect()
    }
}

/// The content of a kit.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum KitContent {
    /// Of a liquid.
    Volume {
        /// Liters.
        litres: Volume,
    },
    /// Of flake.
    Mass {
        /// Kilograms.
        kg: Mass,
    },
}

impl From<&MaterialLine> for Material {
    fn from(line: &MaterialLine) -> Self {
        let kits = |(count, size): &(u32, materials::KitMeasure)| Kits {
            count: *count,
            size: match size {
                materials::KitMeasure::Volume(v) => KitContent::Volume { litres: *v },
                materials::KitMeasure::Mass(m) => KitContent::Mass { kg: *m },
            },
        };
        Self {
            product: line.product.clone(),
            name: line.name.clone(),
            supplier: line.supplier.clone(),
            need: line.amount,
            buy: line.buy.iter().map(kits).collect(),
            cost: line.cost,
        }
    }
}
