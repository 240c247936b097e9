//! The buying list of a floor, as a page and as a table for other programs. It holds costs, so it
//! is for the shop alone.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::base::lists::each_once;
use crate::base::money::Cents;
use crate::base::quantity::{Mass, Volume};
use crate::base::spreadsheet::{guard_cell, to_csv};
use crate::model::book::Stuff;
use crate::model::job::Units;
use crate::papers::prepare::sheet::{Pair, is_agreed};
use crate::papers::prepare::shop_frame;
use crate::papers::proposal::page::Frame;
use crate::papers::proposal::writer::Writer;
use crate::papers::proposal::{Issue, LookChoice, look_chosen};
use crate::price::case::{Case, FloorOption};
use crate::price::estimate::materials::{KitMeasure, MaterialAmount, MaterialLine};
use crate::say::words::WordsError;

/// The buying list as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct BuyingList {
    #[serde(flatten)]
    pub frame: Frame,
    pub floor: String,
    /// Statement that nobody has signed for this floor; empty where it was signed.
    pub unsigned: String,
    pub intro: String,
    /// The customer's choices, for the right box; empty when none was made.
    pub choices: Vec<LookChoice>,
    pub suppliers: Vec<Supplier>,
    /// Cost of the kits, value taken from stock, and the sum: label and amount.
    pub totals: Vec<Pair>,
    pub note: String,
}

/// Everything from one supplier.
#[derive(Debug, Clone, Serialize)]
pub struct Supplier {
    pub name: String,
    pub lines: Vec<BuyingLine>,
    pub total: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct BuyingLine {
    pub product: String,
    /// Kits to put on the truck, such as `2 × 3 gal at $198.00`.
    pub buy: String,
    pub pay: String,
    pub need: String,
    pub from_stock: String,
    pub leftover: String,
}

/// The list of a floor, by supplier in the order of first use.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn buying_list(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    issue: &Issue,
) -> Result<BuyingList, WordsError> {
    let materials = &option.estimate.materials;
    let mut suppliers = vec![];
    for name in each_once(materials.iter().map(|line| line.supplier.as_str())) {
        let own: Vec<&MaterialLine> =
            materials.iter().filter(|line| line.supplier == name).collect();
        let total: Cents = own.iter().map(|line| kits_cost(w.case, line)).sum();
        suppliers.push(Supplier {
            name: if name.is_empty() { w.plain("crew.buying.no_supplier") } else { name.into() },
            lines: own.iter().map(|line| list_line(w, line)).collect(),
            total: w.money(total),
        });
    }
    let pay: Cents = materials.iter().map(|line| kits_cost(w.case, line)).sum();
    let cost: Cents = materials.iter().map(|line| line.cost).sum();
    let mut totals = vec![("crew.buying.totals.pay", pay)];
    if cost != pay {
        totals.extend([
            ("crew.buying.totals.shelf", Cents(cost.0 - pay.0)),
            ("crew.buying.totals.cost", cost),
        ]);
    }
    let totals = totals.into_iter().map(|(name, amount)| {
        let label = w.plain(name);
        Pair { label, value: w.money(amount) }
    });
    let job = [("job", w.case.job.number.0.as_str())];
    w.checked(BuyingList {
        frame: shop_frame(w, issue, w.say("crew.buying.title", job)),
        floor: w.name(option.key()),
        unsigned: w.plain_if(!is_agreed(w, option), "crew.buying.unsigned"),
        intro: w.plain("crew.buying.intro"),
        choices: look_chosen(w),
        suppliers,
        totals: totals.collect(),
        note: w.plain("crew.buying.note"),
    })
}

fn list_line(w: &Writer<'_>, line: &MaterialLine) -> BuyingLine {
    let mut kits = vec![];
    for (count, kit) in &line.buy {
        let size = match kit {
            KitMeasure::Volume(volume) => liquid_text(w, *volume),
            KitMeasure::Mass(mass) => w.figure(*mass),
        };
        let price = kit_price(w.case, line, *kit).map_or_else(String::new, |price| w.money(price));
        let count = w.figures.number(f64::from(*count), 0);
        let kit = [("count", count), ("size", size), ("price", price)];
        kits.push(w.say("crew.buying.kit", kit));
    }
    let dash = w.plain("crew.buying.none");
    let (need, stock, leftover) = match line.amount {
        MaterialAmount::Liquid { need, from_stock, leftover } => (
            liquid_text(w, need),
            (from_stock > Volume::ZERO).then(|| liquid_text(w, from_stock)),
            (leftover > Volume::ZERO).then(|| liquid_text(w, leftover)),
        ),
        MaterialAmount::Flake { need, from_stock, leftover, .. }
        | MaterialAmount::Solid { need, from_stock, leftover } => (
            w.figure(need),
            (from_stock > Mass::ZERO).then(|| w.figure(from_stock)),
            (leftover > Mass::ZERO).then(|| w.figure(leftover)),
        ),
    };
    BuyingLine {
        product: line.name.clone(),
        buy: if kits.is_empty() { w.plain("crew.buying.nothing") } else { kits.join(" + ") },
        pay: w.money(kits_cost(w.case, line)),
        need,
        from_stock: stock.unwrap_or_else(|| dash.clone()),
        leftover: leftover.unwrap_or(dash),
    }
}

/// A liquid as it is sold: cartridges by the ounce, pails by the gallon.
fn liquid_text(w: &Writer<'_>, volume: Volume) -> String {
    if volume < SMALL { w.figures.measured_out(volume) } else { w.figure(volume) }
}

/// Volumes below a quart are sold in cartridges and cans.
const SMALL: Volume = Volume::gallons(0.25);

/// The units of amounts, which are those of the job.
struct CsvUnits {
    volume: &'static str,
    of_volume: fn(Volume) -> f64,
    mass: &'static str,
    of_mass: fn(Mass) -> f64,
}

impl CsvUnits {
    fn of(units: Units) -> Self {
        let (volume, mass) = units.of_trade();
        match units {
            Units::Us => {
                Self { volume, of_volume: Volume::as_gallons, mass, of_mass: Mass::as_pounds }
            }
            Units::Metric => {
                Self { volume, of_volume: Volume::as_liters, mass, of_mass: Mass::as_kilograms }
            }
        }
    }
}

/// The heads of the table's columns. Amounts are in the unit of their row.
const COLUMNS: [&str; 16] = [
    "job",
    "floor",
    "supplier",
    "product",
    "name",
    "count",
    "kit_size",
    "unit",
    "kit_price",
    "cost",
    "need",
    "from_stock",
    "leftover",
    "shelf_cost",
    "currency",
    "choice",
];

/// The list as comma-separated values (RFC 4180): a row for each size of kit to buy, and one for
/// each product that stock covers. `floors` are the keys of what it is bought for. No cell is ever read as a
/// formula.
pub fn buying_csv(case: &Case<'_>, option: &FloorOption<'_>, floors: &str) -> String {
    let mut rows: Vec<Vec<String>> = vec![COLUMNS.map(str::to_owned).to_vec()];
    let units = CsvUnits::of(case.job.units);
    for line in &option.estimate.materials {
        let (unit, [need, from_stock, leftover]) = match line.amount {
            MaterialAmount::Liquid { need, from_stock, leftover } => {
                (units.volume, [need, from_stock, leftover].map(units.of_volume))
            }
            MaterialAmount::Flake { need, from_stock, leftover, .. }
            | MaterialAmount::Solid { need, from_stock, leftover } => {
                (units.mass, [need, from_stock, leftover].map(units.of_mass))
            }
        };
        let mut buy: Vec<(u32, Option<KitMeasure>)> =
            line.buy.iter().map(|(count, size)| (*count, Some(*size))).collect();
        if buy.is_empty() {
            buy.push((0, None));
        }
        let shelf = Cents(line.cost.0 - kits_cost(case, line).0).to_string();
        // Amounts of a product stand in its first row alone, so that a column can be summed.
        let of_product = [amount_text(need), amount_text(from_stock), amount_text(leftover), shelf];
        for (at, (count, size)) in buy.into_iter().enumerate() {
            let once = |cell: &String| if at == 0 { cell.clone() } else { String::new() };
            let [need, from_stock, leftover, shelf] = of_product.each_ref().map(once);
            let of_size = |size: KitMeasure| match size {
                KitMeasure::Volume(volume) => (units.of_volume)(volume),
                KitMeasure::Mass(mass) => (units.of_mass)(mass),
            };
            let price = size.and_then(|size| kit_price(case, line, size));
            rows.push(vec![
                guard_cell(&case.job.number.0),
                guard_cell(floors),
                guard_cell(&line.supplier),
                guard_cell(&line.product.0),
                guard_cell(&line.name),
                count.to_string(),
                size.map_or_else(String::new, |size| amount_text(of_size(size))),
                unit.to_owned(),
                price.map_or_else(String::new, |price| price.to_string()),
                price.map_or(Cents::ZERO, |price| price.each(count)).to_string(),
                need,
                from_stock,
                leftover,
                shelf,
                case.book.currency.clone(),
                guard_cell(&choice(case, line)),
            ]);
        }
    }
    to_csv(&rows)
}

/// The customer's color and size of flake beside a flake, the color beside a pigment, the texture beside a
/// grit; empty for other products.
fn choice(case: &Case<'_>, line: &MaterialLine) -> String {
    let chosen = &case.job.choices;
    let said: &[&Option<String>] = match case.book.product(&line.product).map(|one| &one.stuff) {
        Some(Stuff::Flake(_)) => &[&chosen.color, &chosen.flake_size],
        Some(Stuff::Pigment(_)) => &[&chosen.color],
        Some(Stuff::Grit(_)) => &[&chosen.texture],
        _ => &[],
    };
    said.iter().copied().flatten().cloned().collect::<Vec<_>>().join(", ")
}

/// Returns the cost of the kits of a line; the rest of its cost comes from stock.
fn kits_cost(case: &Case<'_>, line: &MaterialLine) -> Cents {
    let kits = line.buy.iter();
    kits.filter_map(|(count, size)| Some(kit_price(case, line, *size)?.each(*count))).sum()
}

fn kit_price(case: &Case<'_>, line: &MaterialLine, size: KitMeasure) -> Option<Cents> {
    case.book.product(&line.product)?.stuff.price_of(size)
}

/// A measured amount to the thousandth, with a decimal point.
fn amount_text(value: f64) -> String {
    Decimal::try_from(value).unwrap_or_default().round_dp(3).normalize().to_string()
}
