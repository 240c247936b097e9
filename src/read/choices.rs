//! What a customer decides beside the floor: choices, additions, items, discount, money received.

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::source::Located;
use crate::model::bid::Bid;
use crate::model::choices::*;
use crate::model::job::Accepted;
use crate::read::amount::{Amount, sign_of};
use crate::read::bid::bids;
use crate::read::book::ratio;
use crate::read::keys::choices::*;
use crate::read::keys::spec::TypedKey;
use crate::read::reader::Table;
use crate::read::suggest::instead;

/// Amounts with a currency sign: the key, and the sign where it stands.
pub type AmountSigns = Vec<(&'static str, Located<String>)>;

/// Keeps the currency sign of an amount, where one is written.
pub fn keep_sign(signs: &mut AmountSigns, table: &Table<'_>, key: TypedKey<Amount>) {
    signs.extend(table.located(key).and_then(sign_of).map(|sign| (key.spec.name, sign)));
}

/// Everything that a job says of it.
#[derive(Debug, Default)]
pub struct Decided {
    pub choices: Choices,
    pub additions: Vec<Addition>,
    pub items: Vec<Item>,
    pub discount: Option<Discount>,
    pub paid: Vec<Receipt>,
    pub bids: Vec<Bid>,
    /// The signs of all amounts, to be held against the book's currency.
    pub signs: AmountSigns,
}

/// Reads it, each table once.
pub fn decided(top: &Table<'_>, offer: &[Located<Key>], accepted: Option<&Accepted>) -> Decided {
    let additions = top.tables(&addition::TABLE);
    let items = top.tables(&item::TABLE);
    let discount = top.table(&discount::TABLE);
    let paid = top.tables(&paid::TABLE);
    let mut signs = vec![];
    let mut keep = |table: &Table<'_>, key| keep_sign(&mut signs, table, key);
    for one in &items {
        keep(one, item::PRICE);
        keep(one, item::COST);
    }
    for one in &additions {
        keep(one, addition::PRICE);
        keep(one, addition::COST);
        know_floors(one, addition::FLOORS, offer);
    }
    if let Some(one) = &discount {
        keep(one, discount::AMOUNT);
        know_floors(one, discount::FLOORS, offer);
    }
    paid.iter().for_each(|one| keep(one, paid::AMOUNT));
    let bids = bids(top, &mut signs);
    Decided {
        choices: top.table(&choices::TABLE).map_or_else(Choices::default, |t| look(&t)),
        additions: all_additions(&additions),
        items: items.iter().filter_map(item).collect(),
        discount: discount.as_ref().and_then(|table| money_off(table)),
        paid: receipts(&paid, accepted),
        bids,
        signs,
    }
}

/// Reads how a floor looks.
pub fn look(table: &Table<'_>) -> Choices {
    let sample = table
        .read(choices::SAMPLE_APPROVED)
        .zip(table.read(choices::SAMPLE_INITIALS))
        .map(|(on, initials)| ApprovedSample { on, initials });
    Choices {
        color: table.read(choices::COLOR),
        flake_size: table.read(choices::FLAKE_SIZE),
        texture: table.read(choices::TEXTURE),
        gloss: table.read(choices::GLOSS),
        sample,
    }
}

fn cents(amount: Amount) -> Cents {
    Cents::round(amount.value)
}

fn item_price(
    table: &Table<'_>,
    price: TypedKey<Amount>,
    cost: TypedKey<Amount>,
) -> Option<ItemPrice> {
    match (table.read(price).map(cents), table.read(cost).map(cents)) {
        (Some(price), Some(cost)) => Some(ItemPrice::Both { price, cost }),
        (Some(price), None) => Some(ItemPrice::Price(price)),
        (None, Some(cost)) => Some(ItemPrice::Cost(cost)),
        (None, None) => None,
    }
}

fn item(table: &Table<'_>) -> Option<Item> {
    let priced = item_price(table, item::PRICE, item::COST);
    let on_request = table.read_or(item::ON_REQUEST, false);
    if !on_request && table.has("on-request") {
        table.fault("on-request", "is false", "leave it out, and give `price` or `cost`");
    }
    Some(Item { name: table.read(item::NAME)?, priced })
}

/// Reads all additions; a key that stands twice is refused.
fn all_additions(tables: &[Table<'_>]) -> Vec<Addition> {
    let mut all: Vec<Addition> = vec![];
    for table in tables {
        let Some(one) = addition(table) else { continue };
        if all.iter().any(|known| known.key == one.key) {
            let message = format!("`{}` stands twice", one.key);
            table.fault("key", message, "give each addition a key of its own");
        }
        all.push(one);
    }
    all
}

fn addition(table: &Table<'_>) -> Option<Addition> {
    let extra = table.located(addition::EXTRA);
    let price = item_price(table, addition::PRICE, addition::COST);
    Some(Addition {
        key: table.read(addition::KEY)?,
        name: table.read(addition::NAME)?,
        what: match extra {
            Some(extra) => AdditionKind::Extra(extra),
            None => AdditionKind::Item(price?),
        },
        floors: table.located_list(addition::FLOORS),
        span: table.span(),
    })
}

fn money_off(table: &Table<'_>) -> Option<Discount> {
    let share = table.read(discount::PERCENT).map(ratio);
    Some(Discount {
        off: match share {
            Some(share) => DiscountOff::Share(share),
            None => DiscountOff::Amount(cents(table.read(discount::AMOUNT)?)),
        },
        reason: table.read(discount::REASON)?,
        floors: table.located_list(discount::FLOORS),
        span: table.span(),
    })
}

/// Reads what was received. Nothing can be received of a price before somebody agreed to it.
fn receipts(tables: &[Table<'_>], accepted: Option<&Accepted>) -> Vec<Receipt> {
    for table in tables {
        let Some(on) = table.read(paid::ON) else { continue };
        if let Some(accepted) = accepted.filter(|accepted| on < accepted.on) {
            let message = format!("is before the contract, which was signed on {}", accepted.on);
            let help =
                "check both days: money for this price is received when it is signed, or later";
            table.fault("on", message, help);
        }
    }
    let receipt = |table: &Table<'_>| {
        Some(Receipt {
            on: table.read(paid::ON)?,
            amount: cents(table.read(paid::AMOUNT)?),
            note: table.read(paid::NOTE),
        })
    };
    tables.iter().filter_map(receipt).collect()
}

/// Refuses floors of an addition or a discount that are not on offer.
fn know_floors(table: &Table<'_>, key: TypedKey<Vec<Key>>, offer: &[Located<Key>]) {
    for floor in table.list(key) {
        know_floor(table, key.spec.name, &floor, offer);
    }
}

/// Refuses a floor behind a key that is not on offer; true when it is.
pub fn know_floor(table: &Table<'_>, key: &str, floor: &Key, offer: &[Located<Key>]) -> bool {
    let offered = offered(floor, offer);
    if let Err(help) = &offered {
        table.fault(key, format!("names `{floor}`, which `offer` does not"), help);
    }
    offered.is_ok()
}

/// Returns what to write in place of a floor that is not on offer.
pub fn offered(floor: &Key, offer: &[Located<Key>]) -> Result<(), String> {
    if offer.iter().any(|offered| offered.value == *floor) {
        return Ok(());
    }
    let known: Vec<&str> = offer.iter().map(|offered| offered.value.0.as_str()).collect();
    Err(instead(&floor.0, known.iter().copied(), || format!("on offer: {}", known.join(", "))))
}
