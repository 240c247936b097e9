//! Every key that a change of prices in a book may hold, and signed values: `+4.5 %`, `-$3.00`.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use toml::de::DeValue;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::model::book::Product;
use crate::model::book::changes::{PriceChange, PriceScope, PriceStep, Refused, in_order};
use crate::read::amount::Amount;
use crate::read::book::same_currency;
use crate::read::form::ValueForm;
use crate::read::keys::book::change;
use crate::read::reader::Table;
use crate::read::scalar::{Scalar, ValueFault, text_of};
use crate::read::suggest::{in_backquotes, nearest};

/// A change in percent, as a share: `+4.5 %` is 0.045. Its sign has to be written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SignedPercent(pub Decimal);

/// A change by an amount of money. Its sign has to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct SignedAmount {
    /// The amount without its sign.
    pub amount: Amount,
    pub down: bool,
}

impl SignedAmount {
    pub fn value(&self) -> Decimal {
        if self.down { -self.amount.value } else { self.amount.value }
    }
}

/// The most that a price may be raised at once, in percent. More is a slip of the pen.
const MOST_PERCENT: Decimal = Decimal::from_parts(500, 0, 0, false, 0);

/// The sign that a text opens with, true for down, and the rest of it.
fn signed<T: Scalar>(text: &str) -> Result<(bool, &str), ValueFault> {
    let trimmed = text.trim();
    if let Some(rest) = trimmed.strip_prefix('+') {
        return Ok((false, rest.trim()));
    }
    if let Some(rest) = trimmed.strip_prefix(['-', '\u{2212}']) {
        return Ok((true, rest.trim()));
    }
    let shown = text.escape_debug();
    let fault = ValueFault::new(format!("does not say up or down: `{shown}`"));
    let begins = trimmed.starts_with(|c: char| !c.is_alphabetic() && !c.is_whitespace());
    Err(fault.help(if begins {
        format!("write `\"+{shown}\"` or `\"-{shown}\"`")
    } else {
        T::advice()
    }))
}

impl Scalar for SignedPercent {
    const EXPECTED: &str = "a change in percent with its sign";
    const EXAMPLE: &str = "\"+4.5 %\"";

    fn form() -> ValueForm {
        ValueForm::like(r"^\s*[-+\u2212]")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = text_of::<Self>(value)?;
        let (down, rest) = signed::<Self>(text)?;
        let bad = |what: &str| {
            ValueFault::new(format!("{what}: `{}`", text.escape_debug())).help(Self::advice())
        };
        let Some(digits) = rest.strip_suffix('%').map(str::trim) else {
            return Err(bad("has no `%`"));
        };
        let plain = digits.starts_with(|c: char| c.is_ascii_digit())
            && digits.chars().all(|c| c.is_ascii_digit() || c == '.');
        let Some(percent) = digits.parse::<Decimal>().ok().filter(|_| plain) else {
            return Err(bad("is no number of percent"));
        };
        if percent.normalize().scale() > 4 {
            return Err(ValueFault::new(format!("is too fine: `{}`", text.escape_debug()))
                .help("write at most four digits after the decimal point"));
        }
        let most = if down { Decimal::ONE_HUNDRED } else { MOST_PERCENT };
        if percent > most {
            let bound = if down { "-100 %".to_owned() } else { format!("+{MOST_PERCENT} %") };
            return Err(ValueFault::new(format!("is too much: `{}`", text.escape_debug()))
                .help(format!("the most accepted is {bound}")));
        }
        let share = percent / Decimal::ONE_HUNDRED;
        Ok(Self(if down { -share } else { share }))
    }
}

impl Scalar for SignedAmount {
    const EXPECTED: &str = "a change in money with its sign";
    const EXAMPLE: &str = "\"+$3.00\"";

    fn form() -> ValueForm {
        ValueForm::like(r"^\s*[-+\u2212]")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = text_of::<Self>(value)?;
        let (down, rest) = signed::<Self>(text)?;
        let amount = Amount::read(&DeValue::String(rest.into()))?;
        Ok(Self { amount, down })
    }
}

/// The parts of a book that its changes are held against.
pub struct Known<'b> {
    pub products: &'b [Product],
    /// Keys of products that have mistakes of their own.
    pub unread: &'b [Key],
    pub currency: &'b str,
}

/// Reads the list `[[change]]` of a book, and makes every change once, so that a price that would
/// fall below zero is found where it was written.
pub fn changes(top: &Table<'_>, known: &Known<'_>) -> Vec<PriceChange> {
    let tables = top.tables(&change::TABLE);
    let read = tables.iter().enumerate().filter_map(|(at, t)| Some((at, change(t, known)?)));
    let (places, changes): (Vec<usize>, Vec<PriceChange>) = read.unzip();
    let order = in_order(&changes);
    let mut faulty: Vec<usize> = vec![];
    for product in known.products {
        let of_it: Vec<&PriceChange> =
            order.iter().filter(|change| change.of.takes(product)).copied().collect();
        for price in product.stuff.prices() {
            let mut now = price.decimal();
            for change in &of_it {
                match change.by.change(now) {
                    Ok(changed) => now = changed,
                    Err(why) => {
                        let at = changes.iter().position(|other| std::ptr::eq(other, *change));
                        let place = places[at.unwrap_or_default()];
                        // One message for a change, however many prices it spoils.
                        if !faulty.contains(&place) {
                            faulty.push(place);
                            refuse(&tables[place], change, product, Cents::round(now), why);
                        }
                        break;
                    }
                }
            }
        }
    }
    changes
}

fn refuse(table: &Table<'_>, change: &PriceChange, product: &Product, now: Cents, why: Refused) {
    let key = match change.by {
        PriceStep::Share(_) => "percent",
        PriceStep::PerKit(_) => "amount",
    };
    let takes = match why {
        Refused::BelowZero => "below zero",
        Refused::TooLarge => "past the largest amount that is accepted",
    };
    let help = format!(
        "a kit of it costs {now} on the day before; change it by less, or name one `product`"
    );
    table.fault(key, format!("takes the price of `{}` {takes}", product.key), help);
}

fn change(table: &Table<'_>, known: &Known<'_>) -> Option<PriceChange> {
    let from = table.read(change::FROM);
    let of = reach(table, known);
    let by = step(table, known.currency);
    Some(PriceChange { from: from?, of: of?, by: by?, span: table.span() })
}

fn reach(table: &Table<'_>, known: &Known<'_>) -> Option<PriceScope> {
    let product = table.read(change::PRODUCT);
    let supplier = table.read(change::SUPPLIER);
    match (table.has("product"), table.has("supplier")) {
        (true, _) => {
            let key = product?;
            let keys = known.products.iter().map(|product| &product.key).chain(known.unread);
            if !keys.clone().any(|known| *known == key) {
                unknown(table, "product", &key.0, keys.map(|key| key.0.as_str()).collect());
            }
            Some(PriceScope::Product(key))
        }
        (false, true) => {
            let name = supplier?;
            let names = known.products.iter().map(|product| product.supplier.as_str());
            let names = each_known(names);
            // A product with mistakes may be the one of this supplier.
            if !names.contains(&name.as_str()) && known.unread.is_empty() {
                unknown(table, "supplier", &name, names);
            }
            Some(PriceScope::Supplier(name))
        }
        (false, false) => Some(PriceScope::All),
    }
}

fn unknown(table: &Table<'_>, key: &str, name: &str, known: Vec<&str>) {
    let message = format!("is `{name}`, and no product of the book has that");
    table.fault(key, message, instead_of(key, name, &known));
}

/// The names that are not empty, each once, in the order of the alphabet.
pub fn each_known<'b>(names: impl Iterator<Item = &'b str>) -> Vec<&'b str> {
    names.filter(|name| !name.is_empty()).collect::<BTreeSet<_>>().into_iter().collect()
}

/// Advice in place of a name that no product of the book has: the nearest known one, or all.
pub fn instead_of(key: &str, name: &str, known: &[&str]) -> String {
    // Names are compared as keys are written, small letters and hyphens.
    let as_key = |name: &str| name.to_lowercase().replace(' ', "-");
    let keys: Vec<String> = known.iter().map(|name| as_key(name)).collect();
    let near = nearest(&as_key(name), keys.iter().map(String::as_str))
        .and_then(|near| keys.iter().position(|key| key == near));
    match near {
        Some(at) => format!("did you mean `\"{}\"`?", known[at]),
        None if known.is_empty() => format!("no product of the book has a `{key}`"),
        None => format!("known: {}", in_backquotes(known.iter().copied())),
    }
}

fn step(table: &Table<'_>, currency: &str) -> Option<PriceStep> {
    let percent = table.read(change::PERCENT);
    let amount = table.read(change::AMOUNT);
    if let Some(amount) = &amount {
        same_currency(table, "amount", &amount.amount, currency);
    }
    let share = percent.map(|percent| PriceStep::Share(percent.0));
    share.or(amount.map(|amount| PriceStep::PerKit(amount.value())))
}
