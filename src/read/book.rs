//! Every key that a price book may hold.

use std::ops::RangeInclusive;

use rust_decimal::Decimal;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::*;
use crate::model::book::*;
use crate::read::amount::{Amount, CURRENCIES, PerArea, PerHour};
use crate::read::change::{self, changes};
use crate::read::product::{loss, product};
use crate::read::reader::Table;
use crate::read::scalar::Scalar;

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
pub(crate) use above_zero;

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
    let repair = repair(top.table("repair"));
    let mixing = mixing(top.table("mixing"));
    let cleaning = top.table("cleaning").map_or(Stated::NotSaid, |t| cleaning(&t));
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
    let known = change::Known { products: &products, unread: &unread, currency: &sign };
    let changes = changes(top, &known);
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
        repair,
        mixing,
        cleaning,
        products,
        changes,
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
pub fn same_currency(table: &Table<'_>, key: &str, amount: &Amount, code: &str) {
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

pub fn money(table: &Table<'_>, key: &'static str, code: &str) -> Option<Cents> {
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

/// Persons in a crew.
pub const CREW: RangeInclusive<u32> = 1..=20;

fn labor(table: &Table<'_>, code: &str) -> Option<Labor> {
    let wage: Option<PerHour> = table.need("wage");
    if let Some(wage) = &wage {
        same_currency(table, "wage", &wage.0, code);
    }
    let burden: Option<Share> = table.need("burden");
    let crew: u32 = table.or("crew", 2);
    if !CREW.contains(&crew) {
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

fn rates(table: &Table<'_>) -> Option<Rates> {
    let set_up = table.need("set-up");
    let clean_up = table.need("clean-up");
    let grind = above_zero!(table, "grind", AreaRate);
    let grind_coated = above_zero!(table, "grind-coated", AreaRate);
    // A floor that came loose is seldom easier to grind off than the coatings one finds.
    let strip = rate_or(table, "strip", grind_coated.unwrap_or(STRIP_RATE));
    let edge = above_zero!(table, "edge", LengthRate);
    let crack = above_zero!(table, "crack", LengthRate);
    let joint = rate_or(table, "joint", crack.unwrap_or(JOINT_RATE));
    let cove = rate_or(table, "cove", COVE_RATE);
    let patch = rate_or(table, "patch", PATCH_RATE);
    let roll = above_zero!(table, "roll", AreaRate);
    let upright = above_zero!(table, "upright", AreaRate);
    let broadcast = above_zero!(table, "broadcast", AreaRate);
    let scrape = above_zero!(table, "scrape", AreaRate);
    Some(Rates {
        set_up: set_up?,
        clean_up: clean_up?,
        grind: grind?,
        grind_coated: grind_coated?,
        strip,
        edge: edge?,
        crack: crack?,
        joint,
        cove,
        patch,
        roll: roll?,
        upright: upright?,
        broadcast: broadcast?,
        scrape: scrape?,
    })
}

fn terms(table: &Table<'_>, code: &str) -> Option<PriceTerms> {
    let consumables: Option<PerArea> = table.need("consumables");
    if let Some(rate) = &consumables {
        same_currency(table, "consumables", &rate.amount, code);
    }
    let removal: Option<PerArea> = table.maybe("removal");
    if let Some(rate) = &removal {
        same_currency(table, "removal", &rate.amount, code);
    }
    let strip: Option<PerArea> = table.maybe("strip");
    if let Some(rate) = &strip {
        same_currency(table, "strip", &rate.amount, code);
    }
    let strip = strip.or_else(|| removal.clone());
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
    Some(PriceTerms {
        consumables: consumables.amount.value,
        consumables_per: consumables.per,
        removal: removal.as_ref().map(|rate| rate.amount.value).unwrap_or_default(),
        removal_per: removal.map_or(Area::square_meters(1.0), |rate| rate.per),
        strip: strip.as_ref().map(|rate| rate.amount.value).unwrap_or_default(),
        strip_per: strip.map_or(Area::square_meters(1.0), |rate| rate.per),
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
        texture: Thickness::micrometers(100.0),
        upright_loss: Share::percent(20.0),
        crack_depth: Length::millimeters(20.0),
        strength_from: None,
    }
}

fn prep(table: &Table<'_>) -> Prep {
    let default = default_prep();
    Prep {
        texture: table.or("texture", default.texture),
        upright_loss: loss(table, "upright-loss").unwrap_or(default.upright_loss),
        crack_depth: table.or("crack-depth", default.crack_depth),
        strength_from: table.maybe("strength-from"),
    }
}

/// Used where a book does not give its own. Common practice, no published source.
const STRIP_RATE: AreaRate = AreaRate::square_feet_per_hour(100.0);
const JOINT_RATE: LengthRate = LengthRate::feet_per_hour(25.0);
const COVE_RATE: LengthRate = LengthRate::feet_per_hour(20.0);
const PATCH_RATE: AreaRate = AreaRate::square_feet_per_hour(15.0);

/// A rate that may be absent but not zero.
fn rate_or<R: Scalar + Copy + PartialOrd + Default>(
    table: &Table<'_>,
    key: &'static str,
    usual: R,
) -> R {
    let rate = table.or(key, usual);
    if rate <= R::default() {
        let help = format!("write {} above zero, for example `{}`", R::expected(), R::example());
        table.fault(key, "is zero", help);
        return usual;
    }
    rate
}

/// Sizes that a book may change. Common practice, no published source; ACI 224R table 4.1 calls
/// 0.016 in a reasonable width of a crack in dry air, which is about the narrowest `hairline`.
fn repair(table: Option<Table<'_>>) -> RepairTerms {
    let mut terms = RepairTerms {
        rigid: None,
        flexible: None,
        patch: None,
        cove: None,
        hairline: Length::inches(1.0 / 32.0),
        chase: Length::inches(0.25),
        joint_width: Length::inches(0.25),
        joint_depth: Length::inches(0.75),
    };
    let Some(table) = table else { return terms };
    terms.rigid = table.maybe_located("rigid");
    terms.flexible = table.maybe_located("flexible");
    terms.patch = table.maybe_located("patch");
    terms.cove = table.maybe_located("cove");
    terms.hairline = table.or("hairline", terms.hairline);
    terms.chase = rate_or(&table, "chase", terms.chase);
    terms.joint_width = rate_or(&table, "joint-width", terms.joint_width);
    terms.joint_depth = rate_or(&table, "joint-depth", terms.joint_depth);
    terms
}

/// What surfaces are wiped and tools cleaned with. A name, or the word for none.
fn cleaning(table: &Table<'_>) -> Stated<CleaningSolvent> {
    match table.need::<String>("solvent") {
        Some(name) if name == NO_SOLVENT => Stated::Nothing,
        Some(name) => Stated::Given(CleaningSolvent(name)),
        None => Stated::NotSaid,
    }
}

/// The word for a shop that wipes and cleans without a solvent.
const NO_SOLVENT: &str = "none";

/// Used where a book does not give its own. Common practice, no published source.
fn mixing(table: Option<Table<'_>>) -> Mixing {
    let mut mixing = Mixing {
        time: Hours::minutes(3.0),
        largest: Volume::liters(10.0),
        smallest: Volume::liters(1.0),
        part_of_pot_life: Share::percent(75.0),
    };
    let Some(table) = table else { return mixing };
    mixing.time = table.or("time", mixing.time);
    mixing.largest = rate_or(&table, "largest", mixing.largest);
    mixing.smallest = rate_or(&table, "smallest", mixing.smallest);
    mixing.part_of_pot_life = rate_or(&table, "part-of-pot-life", mixing.part_of_pot_life);
    if mixing.smallest > mixing.largest {
        table.fault(
            "smallest",
            "is above `largest`",
            "the smallest batch that you can measure well",
        );
    }
    mixing
}
