//! Every key that a price book may hold.

use rust_decimal::Decimal;

use crate::book::*;
use crate::input::amount::{Amount, CURRENCIES, PerArea, PerHour};
use crate::input::reader::Table;
use crate::input::scalar::{Key, Scalar};
use crate::money::Cents;
use crate::quantity::*;

pub fn book(top: &Table<'_>) -> Option<Book> {
    let currency = currency(top);
    let sign = currency.clone().unwrap_or_default();
    let name = top.need("name");
    let effective = top.need("effective");
    let good_for_days = top.or("good-for-days", 90);
    let invented = top.or("invented", false);
    let labor = top.need_table("labor").and_then(|t| labor(&t, &sign));
    let rates = top.need_table("rates").and_then(|t| rates(&t));
    let terms = top.need_table("terms").and_then(|t| terms(&t, &sign));
    let prep = match top.table("prep") {
        Some(table) => prep(&table),
        None => default_prep(),
    };
    let mut products: Vec<Product> = vec![];
    let mut unread = vec![];
    for table in top.tables("product") {
        let Some(product) = product(&table, &sign) else {
            unread.extend(table.maybe::<Key>("key"));
            continue;
        };
        if products.iter().any(|known| known.key == product.key) {
            table.fault(
                "key",
                format!("`{}` is used twice", product.key),
                "give each product its own key",
            );
        }
        products.push(product);
    }
    Some(Book {
        name: name?,
        currency: currency?,
        effective: effective?,
        good_for_days,
        invented,
        labor: labor?,
        rates: rates?,
        terms: terms?,
        prep,
        products,
        unread,
        span: top.span(),
    })
}

fn currency(top: &Table<'_>) -> Option<String> {
    let code: String = top.need("currency")?;
    if CURRENCIES.iter().any(|(known, _)| *known == code) {
        return Some(code);
    }
    let codes: Vec<String> = CURRENCIES.iter().map(|(code, _)| format!("\"{code}\"")).collect();
    top.fault("currency", format!("is `{code}`"), format!("expected one of {}", codes.join(", ")));
    None
}

/// Reports an amount in a currency that is not the book's.
fn same_currency(table: &Table<'_>, key: &str, amount: &Amount, code: &str) {
    let sign = CURRENCIES.iter().find(|(known, _)| *known == code).map_or("", |(_, sign)| sign);
    // Without a known currency there is nothing to compare with, and one message is enough.
    let known = !sign.is_empty();
    if known && amount.sign.as_deref().is_some_and(|written| written != sign && written != code) {
        table.fault(
            key,
            format!("is in `{}`", amount.sign.as_deref().unwrap_or("")),
            format!(
                "the book's currency is {code}; write the amount with `{sign}` or with no sign"
            ),
        );
    }
}

fn money(table: &Table<'_>, key: &'static str, code: &str) -> Option<Cents> {
    let amount: Amount = table.need(key)?;
    same_currency(table, key, &amount, code);
    Some(Cents::round(amount.value))
}

fn money_or_zero(table: &Table<'_>, key: &'static str, code: &str) -> Cents {
    if table.has(key) {
        money(table, key, code).unwrap_or_default()
    } else {
        let _: Option<Amount> = table.maybe(key);
        Cents::ZERO
    }
}

/// A share as an exact decimal: 38 % is 0.38.
pub fn ratio(share: Share) -> Decimal {
    Decimal::try_from(share.as_of_one()).unwrap_or_default().round_dp(8)
}

/// An exact decimal as a share, to be printed.
pub fn as_share(ratio: Decimal) -> Share {
    use rust_decimal::prelude::ToPrimitive;
    Share::of_one(ratio.to_f64().unwrap_or(0.0))
}

fn labor(table: &Table<'_>, code: &str) -> Option<Labor> {
    let wage: Option<PerHour> = table.need("wage");
    if let Some(wage) = &wage {
        same_currency(table, "wage", &wage.0, code);
    }
    let burden: Option<Share> = table.need("burden");
    let crew: u32 = table.or("crew", 2);
    if crew == 0 || crew > 20 {
        table.fault("crew", format!("is {crew}"), "expected 1 to 20 persons");
    }
    let day_starts = table.need("day-starts");
    let day_ends = table.need("day-ends");
    if let (Some(from), Some(to)) = (day_starts, day_ends)
        && from >= to
    {
        table.fault(
            "day-ends",
            "is not after `day-starts`",
            "write a later time, for example `17:00:00`",
        );
    }
    Some(Labor {
        wage: wage?.0.value,
        burden: ratio(burden?),
        crew: crew.max(1),
        day_starts: day_starts?,
        day_ends: day_ends?,
    })
}

/// A rate or stretch of work that may not be zero: work at no speed never ends.
macro_rules! above_zero {
    ($table:expr, $key:literal, $kind:ty) => {{
        let value: Option<$kind> = $table.need($key);
        if value.is_some_and(|v| v <= <$kind>::ZERO) {
            $table.fault(
                $key,
                "is zero",
                format!(
                    "write {} above zero, for example `{}`",
                    <$kind>::expected(),
                    <$kind>::example()
                ),
            );
        }
        value
    }};
}

fn rates(table: &Table<'_>) -> Option<Rates> {
    let set_up = table.need("set-up");
    let clean_up = table.need("clean-up");
    let grind = above_zero!(table, "grind", AreaRate);
    let grind_coated = above_zero!(table, "grind-coated", AreaRate);
    let edge = above_zero!(table, "edge", LengthRate);
    let crack = above_zero!(table, "crack", LengthRate);
    let roll = above_zero!(table, "roll", AreaRate);
    let upright = above_zero!(table, "upright", AreaRate);
    let broadcast = above_zero!(table, "broadcast", AreaRate);
    let scrape = above_zero!(table, "scrape", AreaRate);
    Some(Rates {
        set_up: set_up?,
        clean_up: clean_up?,
        grind: grind?,
        grind_coated: grind_coated?,
        edge: edge?,
        crack: crack?,
        roll: roll?,
        upright: upright?,
        broadcast: broadcast?,
        scrape: scrape?,
    })
}

fn terms(table: &Table<'_>, code: &str) -> Option<Terms> {
    let consumables: Option<PerArea> = table.need("consumables");
    if let Some(rate) = &consumables {
        same_currency(table, "consumables", &rate.amount, code);
    }
    let per_job = money_or_zero(table, "per-job", code);
    let overhead: Option<Share> = table.need("overhead");
    let margin: Option<Share> = table.need("margin");
    let floor: Option<Share> = table.need("margin-floor");
    for (key, share) in [("margin", margin), ("margin-floor", floor)] {
        if share.is_some_and(|s| s.as_percent() >= 95.0) {
            table.fault(
                key,
                "is 95 % or more",
                "a margin is a share of the price, for example `\"35 %\"`",
            );
        }
    }
    if let (Some(target), Some(floor)) = (margin, floor)
        && floor > target
    {
        table.fault(
            "margin-floor",
            "is above `margin`",
            "the floor is the lowest margin that you accept",
        );
    }
    let minimum = money_or_zero(table, "minimum", code);
    let round_to = money_or_zero(table, "round-to", code);
    let tax_name = table.or("tax-name", "Sales tax".to_owned());
    let tax: Option<Share> = table.need("tax");
    let tax_on = table.need("tax-on");
    let hold_days = table.or("hold-days", 30);
    let consumables = consumables?;
    Some(Terms {
        consumables: consumables.amount.value,
        consumables_per: consumables.per,
        per_job,
        overhead: ratio(overhead?),
        margin: ratio(margin?),
        margin_floor: ratio(floor?),
        minimum,
        round_to,
        tax_name,
        tax: ratio(tax?),
        tax_on: tax_on?,
        hold_days,
    })
}

/// Used when a book has no `[prep]` table. Common practice, no published source.
fn default_prep() -> Prep {
    Prep {
        texture: Thickness::micrometres(100.0),
        upright_loss: Share::percent(20.0),
        crack_depth: Length::millimetres(20.0),
    }
}

fn prep(table: &Table<'_>) -> Prep {
    let default = default_prep();
    Prep {
        texture: table.or("texture", default.texture),
        upright_loss: loss(table, "upright-loss").unwrap_or(default.upright_loss),
        crack_depth: table.or("crack-depth", default.crack_depth),
    }
}

/// A loss is a share of what is bought, so all of it is no loss but a mistake.
fn loss(table: &Table<'_>, key: &'static str) -> Option<Share> {
    let share: Share = table.maybe(key)?;
    if share.as_percent() >= 90.0 {
        table.fault(
            key,
            "is 90 % or more",
            "the share of what is bought that does not reach the floor",
        );
        return None;
    }
    Some(share)
}

fn product(table: &Table<'_>, code: &str) -> Option<Product> {
    let key: Option<Key> = table.need("key");
    let name = table.need("name");
    let supplier = table.or("supplier", String::new());
    let stuff = if table.has("flake") {
        flake(table, code).map(Stuff::Flake)
    } else {
        resin(table, code).map(|resin| Stuff::Resin(Box::new(resin)))
    };
    Some(Product { key: key?, name: name?, supplier, stuff: stuff?, span: table.span() })
}

/// The sizes a product is sold in.
fn kits<Q>(table: &Table<'_>, code: &str) -> Option<Vec<Kit<Q>>>
where
    Q: crate::input::scalar::Scalar + Copy + PartialOrd + Default,
{
    let mut kits = vec![];
    for kit in table.tables("kit") {
        let size: Option<Q> = kit.need("size");
        let price = money(&kit, "price", code);
        if let (Some(size), Some(price)) = (size, price) {
            if size <= Q::default() {
                kit.fault("size", "is zero", "write how much a kit holds");
                continue;
            }
            kits.push(Kit { size, price });
        }
    }
    if kits.is_empty() {
        table.fault(
            "kit",
            "is missing or has no usable size",
            format!("add `kit = [{{ size = {}, price = \"$285.00\" }}]`", Q::example()),
        );
        return None;
    }
    // Six sizes at the most: the choice among kits tries every mix.
    if kits.len() > 6 {
        table.fault("kit", format!("has {} sizes", kits.len()), "the most accepted is 6");
    }
    Some(kits)
}

fn flake(table: &Table<'_>, code: &str) -> Option<Flake> {
    let kits = kits(table, code);
    let stock = table.or("stock", Mass::ZERO);
    let inner = table.table("flake")?;
    let full = inner.need("full");
    let scattered = inner.need("scattered");
    let reclaimed = loss(&inner, "reclaimed").unwrap_or_default();
    let thickness = inner.need("thickness");
    Some(Flake {
        kits: kits?,
        stock,
        full: full?,
        scattered: scattered?,
        reclaimed,
        thickness: thickness?,
    })
}

fn resin(table: &Table<'_>, code: &str) -> Option<Resin> {
    let kits = kits(table, code);
    let stock = table.or("stock", Volume::ZERO);
    let solids: Option<Share> = table.need("volume-solids");
    if solids.is_some_and(|s| s <= Share::ZERO) {
        table.fault(
            "volume-solids",
            "is zero",
            "the data sheet's volume solids, for example `\"100 %\"`",
        );
    }
    let mix = table.or("mix", "1".to_owned());
    let coverage = coverage(table);
    let loss = loss(table, "loss").unwrap_or_default();
    let slab_from: Option<Temperature> = table.need("slab-from");
    let slab_to: Option<Temperature> = table.need("slab-to");
    if let (Some(from), Some(to)) = (slab_from, slab_to)
        && from >= to
    {
        table.fault(
            "slab-to",
            "is not above `slab-from`",
            "the warmest slab that the sheet allows",
        );
    }
    let barrier = table.or("barrier", false);
    let mver_limit = table.maybe("mver-limit");
    let rh_limit = table.maybe("rh-limit");
    let voc = table.maybe("voc");
    let solvent = table.table("solvent").and_then(|t| solvent(&t));
    let isocyanate = table.need("isocyanate");
    let uv_stable = table.need("uv-stable");
    let water_based = table.or("water-based", false);
    let air_humidity_to = table.maybe("air-humidity-to");
    let dew_spread = table.maybe("dew-spread");
    let strength_from = table.maybe("strength-from");
    let concrete_days = table.maybe("concrete-days");
    let mut cure: Vec<Cure> = table.tables("cure").iter().filter_map(cure_row).collect();
    cure.sort_by(|a, b| a.at.order(b.at));
    if cure.is_empty() {
        table.fault(
            "cure",
            "is missing or has no usable row",
            "add a `[[product.cure]]` table from the data sheet",
        );
    }
    Some(Resin {
        kits: kits?,
        stock,
        solids: solids?,
        mix,
        coverage: coverage?,
        loss,
        barrier,
        mver_limit,
        rh_limit,
        voc,
        solvent,
        isocyanate: isocyanate?,
        uv_stable: uv_stable?,
        water_based,
        slab_from: slab_from?,
        slab_to: slab_to?,
        air_humidity_to,
        dew_spread,
        strength_from,
        concrete_days,
        cure,
    })
}

fn coverage(table: &Table<'_>) -> Option<Coverage> {
    let spread: Option<Spread> = table.maybe("spread");
    let film: Option<Thickness> = table.maybe("film");
    match (table.has("spread"), table.has("film")) {
        (true, true) => {
            table.fault(
                "film",
                "stands beside `spread`",
                "give one: the sheet's wet coverage or a dry film",
            );
            None
        }
        (false, false) => {
            table.fault(
                "spread",
                "is missing, and so is `film`",
                "add `spread = \"160 ft2/gal\"` (wet coverage) or `film = \"10 mil\"` (dry film)",
            );
            None
        }
        (true, false) if spread == Some(Spread::ZERO) => {
            table.fault(
                "spread",
                "is zero",
                "write a wet coverage above zero, for example `\"160 ft2/gal\"`",
            );
            None
        }
        (false, true) if film == Some(Thickness::ZERO) => {
            table.fault("film", "is zero", "write a dry film above zero, for example `\"10 mil\"`");
            None
        }
        (true, false) => spread.map(Coverage::Spread),
        (false, true) => film.map(Coverage::Film),
    }
}

fn solvent(table: &Table<'_>) -> Option<Solvent> {
    let name = table.need("name");
    let content = table.need("content");
    let molar_mass = table.need("molar-mass");
    let lel: Option<Share> = table.need("lel");
    let exposure: Option<Ppm> = table.need("exposure");
    if lel.is_some_and(|s| s <= Share::ZERO) {
        table.fault(
            "lel",
            "is zero",
            "the lower explosive limit from the safety data sheet, `\"1.4 %\"`",
        );
    }
    if exposure.is_some_and(|e| e <= Ppm::ZERO) {
        table.fault("exposure", "is zero", "the lowest exposure limit known, `\"100 ppm\"`");
    }
    if molar_mass.is_some_and(|m| m <= MolarMass::ZERO) {
        table.fault("molar-mass", "is zero", "the solvent's molar mass, `\"106.2 g/mol\"`");
    }
    Some(Solvent {
        name: name?,
        content: content?,
        molar_mass: molar_mass?,
        lel: lel?,
        exposure: exposure?,
    })
}

fn cure_row(table: &Table<'_>) -> Option<Cure> {
    let at = table.need("at");
    let pot_life = above_zero!(table, "pot-life", Hours);
    let recoat_from = above_zero!(table, "recoat-from", Hours);
    let recoat_to = above_zero!(table, "recoat-to", Hours);
    let foot = above_zero!(table, "foot", Hours);
    let vehicle = above_zero!(table, "vehicle", Hours);
    if let (Some(from), Some(to)) = (recoat_from, recoat_to)
        && to < from
    {
        table.fault(
            "recoat-to",
            "is before `recoat-from`",
            "the latest time for the next coat without sanding",
        );
    }
    Some(Cure {
        at: at?,
        pot_life: pot_life?,
        recoat_from: recoat_from?,
        recoat_to: recoat_to?,
        foot: foot?,
        vehicle: vehicle?,
    })
}
