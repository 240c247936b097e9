//! What a floor costs the shop and earns it. For the shop alone.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::model::book;
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::price::estimate::materials::{self, MaterialLine};
use crate::price::estimate::{self, Estimate};
use crate::price::sensitivity::swings;
use crate::results::values::{Money, rounded};
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
    pub minimum: Money,
    /// Prices are rounded up to a multiple of this.
    pub round_to: Money,
    /// Sales tax, as a share of what it is reckoned on.
    pub tax_share: f64,
    /// What sales tax is reckoned on.
    pub tax_on: TaxOn,
}

/// What sales tax is reckoned on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TaxOn {
    /// The price: the customer sees it as a line.
    Price,
    /// What the shop buys: part of its cost.
    Purchases,
    /// There is none.
    Nothing,
}

impl From<&book::PriceTerms> for Terms {
    fn from(terms: &book::PriceTerms) -> Self {
        Self {
            overhead_share: share(terms.overhead),
            margin_share: share(terms.margin),
            margin_floor_share: share(terms.margin_floor),
            minimum: terms.minimum.into(),
            round_to: terms.round_to.into(),
            tax_share: terms.tax.to_f64().unwrap_or_default(),
            tax_on: match terms.tax_on {
                book::TaxOn::Price => TaxOn::Price,
                book::TaxOn::Purchases => TaxOn::Purchases,
                book::TaxOn::Nothing => TaxOn::Nothing,
            },
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
    pub materials_cost: Money,
    /// Sum of the labor.
    pub labor_cost: Money,
    /// One person's work in all, hours.
    pub labor_hours: f64,
    /// Pads, rollers, blades, tape, bags.
    pub consumables: Money,
    /// Blades and disposal where an old coating comes off.
    pub removal: Money,
    /// Travel, dump fees and the like, once a job.
    pub per_job: Money,
    /// Tax on what the shop buys; zero where it pays none.
    pub purchase_tax: Money,
    /// All of the above.
    pub direct: Money,
    /// Overhead on the direct cost.
    pub overhead: Money,
    /// Direct cost and overhead.
    pub cost: Money,
    /// The price that the margin asks for, before minimum and rounding.
    pub wanted: Money,
    /// The price, before the customer's tax.
    pub price: Money,
    /// Price minus cost.
    pub profit: Money,
    /// Profit as a share of the price; null for a price of zero.
    pub margin_share: Option<f64>,
    /// Profit for each day that the crew is on site.
    pub profit_per_crew_day: Money,
}

impl From<&Estimate> for Cost {
    fn from(e: &Estimate) -> Self {
        let bought: Cents = e.materials.iter().map(|line| line.cost).sum();
        let worked: Cents = e.labor.iter().map(|line| line.cost).sum();
        Self {
            materials: e.materials.iter().map(Material::from).collect(),
            labor: e.labor.iter().map(Labor::from).collect(),
            materials_cost: bought.into(),
            labor_cost: worked.into(),
            labor_hours: share(e.hours()),
            consumables: e.consumables.into(),
            removal: e.removal.into(),
            per_job: e.per_job.into(),
            purchase_tax: e.purchase_tax.into(),
            direct: e.direct.into(),
            overhead: e.overhead.into(),
            cost: e.cost.into(),
            wanted: e.wanted.into(),
            price: e.price.into(),
            profit: e.profit().into(),
            margin_share: e.margin().map(share),
            profit_per_crew_day: e.profit_per_day().into(),
        }
    }
}

/// Work on one task.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Labor {
    /// What is done.
    pub task: String,
    /// One person's work, hours.
    pub hours: f64,
    /// Wage and burden for it.
    pub cost: Money,
}

impl From<&estimate::LaborLine> for Labor {
    fn from(line: &estimate::LaborLine) -> Self {
        Self { task: task_name(&line.task), hours: share(line.hours), cost: line.cost.into() }
    }
}

/// One product: its need, what the shelf covers, what to buy, what it costs.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Material {
    /// The product's key in the book.
    pub product: String,
    /// Its name.
    pub name: String,
    /// Who sells it.
    pub supplier: String,
    /// How much the floor takes, and from where.
    pub need: Amount,
    /// Kits to buy.
    pub buy: Vec<Kits>,
    /// Kits bought, and stock used at the cheapest kit's rate.
    pub cost: Money,
}

/// Need, stock used and leftover, in the product's own measure.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Amount {
    /// Of a liquid.
    Liquid {
        /// What the floor takes, loss included, liters.
        litres: f64,
        /// What of it comes from stock, liters.
        from_stock_litres: f64,
        /// What the kits hold beyond the need, liters.
        leftover_litres: f64,
    },
    /// Of flake.
    Flake {
        /// What is thrown, kilograms.
        thrown_kg: f64,
        /// What stays in the floor; the rest is swept up again, kilograms.
        kept_kg: f64,
        /// What of it comes from stock, kilograms.
        from_stock_kg: f64,
        /// What the kits hold beyond the need, kilograms.
        leftover_kg: f64,
    },
}

/// Kits of one size.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Kits {
    /// How many.
    pub count: u32,
    /// What one holds.
    pub size: Size,
}

/// How far one thing moves a price.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PriceMove {
    /// What turns out otherwise.
    pub what: &'static str,
    /// The price's change when it is a tenth less.
    pub tenth_less: Money,
    /// The price's change when it is a tenth more.
    pub tenth_more: Money,
}

impl PriceMove {
    pub fn all(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Self> {
        let swings = swings(w.case, option).into_iter();
        swings
            .map(|swing| Self {
                what: swing.lever.word(),
                tenth_less: swing.less.into(),
                tenth_more: swing.more.into(),
            })
            .collect()
    }
}

/// What a kit holds.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Size {
    /// Of a liquid.
    Volume {
        /// Liters.
        litres: f64,
    },
    /// Of flake.
    Mass {
        /// Kilograms.
        kg: f64,
    },
}

impl From<&MaterialLine> for Material {
    fn from(line: &MaterialLine) -> Self {
        let kits = |(count, size): &(u32, materials::KitMeasure)| Kits {
            count: *count,
            size: match size {
                materials::KitMeasure::Volume(v) => Size::Volume { litres: rounded(v.as_liters()) },
                materials::KitMeasure::Mass(m) => Size::Mass { kg: rounded(m.as_kilograms()) },
            },
        };
        Self {
            product: line.product.0.clone(),
            name: line.name.clone(),
            supplier: line.supplier.clone(),
            need: line.amount.into(),
            buy: line.buy.iter().map(kits).collect(),
            cost: line.cost.into(),
        }
    }
}

impl From<materials::MaterialAmount> for Amount {
    fn from(amount: materials::MaterialAmount) -> Self {
        match amount {
            materials::MaterialAmount::Liquid { need, from_stock, leftover } => Self::Liquid {
                litres: rounded(need.as_liters()),
                from_stock_litres: rounded(from_stock.as_liters()),
                leftover_litres: rounded(leftover.as_liters()),
            },
            materials::MaterialAmount::Flake { need, kept, from_stock, leftover } => Self::Flake {
                thrown_kg: rounded(need.as_kilograms()),
                kept_kg: rounded(kept.as_kilograms()),
                from_stock_kg: rounded(from_stock.as_kilograms()),
                leftover_kg: rounded(leftover.as_kilograms()),
            },
        }
    }
}
