//! Every key that a price book may hold.

use rust_decimal::Decimal;

use crate::base::money::Cents;
use crate::base::quantity::*;
use crate::model::book::*;
use crate::read::amount::{Amount, CURRENCIES, PerArea};
use crate::read::change::{self, changes};
use crate::read::keys::book::*;
use crate::read::keys::product::{product, resin};
use crate::read::keys::spec::TypedKey;
use crate::read::product::{loss, product};
use crate::read::reader::Table;

pub fn book(top: &Table<'_>) -> Option<Book> {
    let currency = top.read(book::CURRENCY);
    let sign = currency.clone().unwrap_or_default();
    let labor = top.table(&labor::TABLE).and_then(|t| labor(&t, &sign));
    let rates = top.table(&rates::TABLE).and_then(|t| rates(&t));
    let terms = top.table(&terms::TABLE).and_then(|t| terms(&t, &sign));
    let prep = top.table(&prep::TABLE).map_or_else(default_prep, |t| prep(&t));
    let repair = repair(top.table(&repair::TABLE));
    let mixing = mixing(top.table(&mixing::TABLE));
    let cleaning = top.table(&cleaning::TABLE).map_or(Stated::NotSaid, |t| cleaning(&t));
    let mut products: Vec<Product> = vec![];
    let mut unread = vec![];
    for table in top.tables(&product::TABLE) {
        let Some(product) = product(&table, &sign) else {
            unread.extend(table.read(resin::KEY));
            continue;
        };
        if products.iter().any(|known| known.key == product.key) {
            let twice = format!("`{}` is used twice", product.key);
            table.fault("key", twice, "give each product its own key");
        }
        products.push(product);
    }
    let known = change::Known { products: &products, unread: &unread, currency: &sign };
    let changes = changes(top, &known);
    Some(Book {
        name: top.read(book::NAME)?,
        currency: currency?,
        effective: top.read(book::EFFECTIVE)?,
        good_for_days: top.read_or(book::GOOD_FOR_DAYS, 90),
        invented: top.read_or(book::INVENTED, false),
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

/// Reports an amount in a currency that is not the book's.
pub fn same_currency(table: &Table<'_>, key: &str, amount: &Amount, code: &str) {
    let sign = CURRENCIES.iter().find(|(known, _)| *known == code).map_or("", |(_, sign)| sign);
    // Without a known currency there is nothing to compare with, and one message is enough.
    let other = |written: &&String| !sign.is_empty() && *written != sign && *written != code;
    if let Some(written) = amount.sign.as_ref().filter(other) {
        let help = format!(
            "the book's currency is {code}; write the amount with `{sign}` or with no sign"
        );
        table.fault(key, format!("is in `{written}`"), help);
    }
}

/// Money for an area, in the currency of the book.
fn per_area(table: &Table<'_>, key: TypedKey<PerArea>, code: &str) -> Option<PerArea> {
    let rate = table.read(key)?;
    same_currency(table, key.spec.name, &rate.amount, code);
    Some(rate)
}

pub fn money(table: &Table<'_>, key: TypedKey<Amount>, code: &str) -> Option<Cents> {
    let amount = table.read(key)?;
    same_currency(table, key.spec.name, &amount, code);
    Some(Cents::round(amount.value))
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
    let wage = table.read(labor::WAGE);
    if let Some(wage) = &wage {
        same_currency(table, "wage", &wage.0, code);
    }
    let burden = table.read(labor::BURDEN);
    let crew: u32 = table.read_or(labor::CREW, 2);
    let help = "write a later time, for example `17:00:00`";
    let (day_starts, day_ends) =
        table.two(labor::DAY_STARTS, labor::DAY_ENDS, (PartialOrd::ge, "is not after"), help);
    Some(Labor {
        wage: wage?.0.value,
        burden: ratio(burden?),
        crew,
        day_starts: day_starts?,
        day_ends: day_ends?,
    })
}

fn rates(table: &Table<'_>) -> Option<Rates> {
    let grind_coated = table.read(rates::GRIND_COATED);
    // A floor that came loose is seldom easier to grind off than the coatings one finds.
    let crack = table.read(rates::CRACK);
    Some(Rates {
        set_up: table.read(rates::SET_UP)?,
        clean_up: table.read(rates::CLEAN_UP)?,
        grind: table.read(rates::GRIND)?,
        grind_coated: grind_coated?,
        strip: table.read_or(rates::STRIP, grind_coated.unwrap_or(STRIP_RATE)),
        sand: table.read(rates::SAND),
        edge: table.read(rates::EDGE)?,
        crack: crack?,
        joint: table.read_or(rates::JOINT, crack.unwrap_or(JOINT_RATE)),
        cove: table.read_or(rates::COVE, COVE_RATE),
        patch: table.read_or(rates::PATCH, PATCH_RATE),
        roll: table.read(rates::ROLL)?,
        pour: table.read(rates::POUR),
        trowel: table.read(rates::TROWEL),
        upright: table.read(rates::UPRIGHT)?,
        broadcast: table.read(rates::BROADCAST)?,
        scrape: table.read(rates::SCRAPE)?,
    })
}

fn terms(table: &Table<'_>, code: &str) -> Option<PriceTerms> {
    let consumables = per_area(table, terms::CONSUMABLES, code);
    let nothing = Amount { value: Decimal::ZERO, sign: None };
    let nothing = PerArea { amount: nothing, per: Area::square_meters(1.0) };
    let removal = per_area(table, terms::REMOVAL, code).unwrap_or(nothing);
    let strip = per_area(table, terms::STRIP, code).unwrap_or_else(|| removal.clone());
    let per_job = money(table, terms::PER_JOB, code).unwrap_or_default();
    let overhead = table.read(terms::OVERHEAD);
    let help = "the floor is the lowest margin that you accept";
    let (margin, floor) =
        table.two(terms::MARGIN, terms::MARGIN_FLOOR, (PartialOrd::lt, "is above"), help);
    for (key, share) in [("margin", margin), ("margin-floor", floor)] {
        if share.is_some_and(|s| s.as_percent() >= 95.0) {
            let help = "a margin is a share of the price, for example `\"35 %\"`";
            table.fault(key, "is 95 % or more", help);
        }
    }
    let minimum = money(table, terms::MINIMUM, code).unwrap_or_default();
    let round_to = money(table, terms::ROUND_TO, code).unwrap_or_default();
    let tax = table.read(terms::TAX);
    let consumables = consumables?;
    Some(PriceTerms {
        consumables: consumables.amount.value,
        consumables_per: consumables.per,
        removal: removal.amount.value,
        removal_per: removal.per,
        strip: strip.amount.value,
        strip_per: strip.per,
        per_job,
        overhead: ratio(overhead?),
        margin: ratio(margin?),
        margin_floor: ratio(floor?),
        minimum,
        round_to,
        tax_name: table.read(terms::TAX_NAME),
        tax: ratio(tax?),
        tax_on: table.read(terms::TAX_ON)?,
        hold_days: table.read_or(terms::HOLD_DAYS, 30),
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
        texture: table.read_or(prep::TEXTURE, default.texture),
        upright_loss: loss(table, prep::UPRIGHT_LOSS).unwrap_or(default.upright_loss),
        crack_depth: table.read_or(prep::CRACK_DEPTH, default.crack_depth),
        strength_from: table.read(prep::STRENGTH_FROM),
    }
}

/// Used where a book does not give its own. Common practice, no published source.
const STRIP_RATE: AreaRate = AreaRate::square_feet_per_hour(100.0);
const JOINT_RATE: LengthRate = LengthRate::feet_per_hour(25.0);
const COVE_RATE: LengthRate = LengthRate::feet_per_hour(20.0);
const PATCH_RATE: AreaRate = AreaRate::square_feet_per_hour(15.0);

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
    terms.rigid = table.located(repair::RIGID);
    terms.flexible = table.located(repair::FLEXIBLE);
    terms.patch = table.located(repair::PATCH);
    terms.cove = table.located(repair::COVE);
    terms.hairline = table.read_or(repair::HAIRLINE, terms.hairline);
    terms.chase = table.read_or(repair::CHASE, terms.chase);
    terms.joint_width = table.read_or(repair::JOINT_WIDTH, terms.joint_width);
    terms.joint_depth = table.read_or(repair::JOINT_DEPTH, terms.joint_depth);
    terms
}

/// Reads the solvent that surfaces are wiped and tools cleaned with: a name, or the word for none.
fn cleaning(table: &Table<'_>) -> Stated<CleaningSolvent> {
    match table.read(cleaning::SOLVENT) {
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
    mixing.time = table.read_or(mixing::TIME, mixing.time);
    mixing.largest = table.read_or(mixing::LARGEST, mixing.largest);
    mixing.smallest = table.read_or(mixing::SMALLEST, mixing.smallest);
    mixing.part_of_pot_life = table.read_or(mixing::PART_OF_POT_LIFE, mixing.part_of_pot_life);
    if mixing.smallest > mixing.largest {
        let help = "the smallest batch that you can measure well";
        table.fault("smallest", "is above `largest`", help);
    }
    mixing
}
