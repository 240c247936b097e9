//! Money as people write it: `$1,250.00`, `$34.00/h`, `$0.28/ft2`, as exact decimals.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use toml::de::DeValue;

use crate::base::money::{Cents, MOST_CENTS};
use crate::base::quantity::Area;
use crate::base::source::Located;
use crate::read::form::ValueForm;
use crate::read::measure::without_groups;
use crate::read::scalar::{Scalar, ValueFault, text_of};

/// The symbols and codes that may stand with an amount: ISO 4217 codes and their common signs.
pub const CURRENCIES: &[(&str, &str)] = &[
    ("USD", "$"),
    ("CAD", "$"),
    ("AUD", "$"),
    ("NZD", "$"),
    ("EUR", "€"),
    ("GBP", "£"),
    ("CHF", "CHF"),
];

/// An amount as written: exact decimal, with the currency sign if one was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    pub value: Decimal,
    pub sign: Option<String>,
}

/// Digits with a mark between the groups of three.
pub fn in_groups(digits: &str, mark: &str) -> String {
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push_str(mark);
        }
        text.push(digit);
    }
    text
}

/// The currency sign of an amount, where one was written, in the place of the amount.
pub fn sign_of(amount: Located<Amount>) -> Option<Located<String>> {
    Some(Located { value: amount.value.sign?, span: amount.span })
}

fn amount(text: &str) -> Result<Amount, ValueFault> {
    let trimmed = text.trim();
    let refused = |why: &str| {
        let fault = ValueFault::new(format!("{why}: `{text}`"));
        Err(fault.help("write an amount, for example `\"$285.00\"`"))
    };
    if trimmed.starts_with(['-', '\u{2212}']) {
        return refused("is negative");
    }
    let mut digits = trimmed;
    let mut sign = None;
    for mark in marks() {
        if let Some(rest) = digits.strip_prefix(mark).or_else(|| digits.strip_suffix(mark)) {
            sign = Some(mark.to_owned());
            digits = rest.trim();
            break;
        }
    }
    let plain = without_groups(digits, text)?;
    let only_digits = !plain.is_empty()
        && plain.chars().all(|c| c.is_ascii_digit() || c == '.')
        && plain.matches('.').count() <= 1
        && plain.starts_with(|c: char| c.is_ascii_digit());
    let value = plain.parse::<Decimal>().ok().filter(|_| only_digits);
    let Some(value) = value else { return refused("is not an amount of money") };
    if value > Cents(MOST_CENTS / 1000).decimal() {
        return Err(ValueFault::new(format!("is too large: `{text}`"))
            .help(format!("the most accepted is {}", Cents(MOST_CENTS / 1000))));
    }
    Ok(Amount { value, sign })
}

impl Scalar for Amount {
    const EXPECTED: &str = "an amount of money";
    const EXAMPLE: &str = "\"$285.00\"";

    fn form() -> ValueForm {
        let most = Cents(MOST_CENTS / 1000).decimal().to_f64().unwrap_or(f64::MAX);
        ValueForm::Number { most }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = match value {
            // The digits as written: a TOML number never passes through a binary float here.
            DeValue::Integer(n) if n.radix() == 10 => n.as_str(),
            DeValue::Float(n) => n.as_str(),
            other => text_of::<Self>(other)?,
        };
        let amount = amount(text)?;
        if amount.value.normalize().scale() > 2 {
            return Err(ValueFault::new(format!("has parts of a cent: `{text}`"))
                .help("write at most two digits after the decimal point"));
        }
        Ok(amount)
    }
}

/// Money per hour of one person, or per area: an exact decimal, parts of a cent allowed.
#[derive(Debug, Clone, PartialEq)]
pub struct PerHour(pub Amount);

/// Money per area, held per square meter and square foot as written.
#[derive(Debug, Clone, PartialEq)]
pub struct PerArea {
    pub amount: Amount,
    /// The area that the amount is for.
    pub per: Area,
}

/// Units that money may be for, as they are spelled.
const PER_HOUR: &[&str] = &["h", "hr", "hour"];
const PER_SQUARE_FOOT: &[&str] = &["ft2", "sf", "sqft", "sq ft", "square foot"];
const PER_SQUARE_METRE: &[&str] = &["m2", "sq m", "square meter"];
/// The words between an amount and its unit.
const PER: &[&str] = &["/", " per ", " an ", " a "];

/// True when a unit is one of these, as people spell it.
fn is_one_of(unit: &str, names: &[&str]) -> bool {
    let unit = unit.replace('\u{B2}', "2");
    names.iter().any(|name| name.eq_ignore_ascii_case(&unit))
}

/// The signs and codes that may stand with an amount.
pub(crate) fn marks() -> Vec<&'static str> {
    CURRENCIES.iter().flat_map(|(code, sign)| [*code, *sign]).collect()
}

/// An amount and the unit that it is for, as they were written.
pub fn amount_and_unit(text: &str) -> Option<(&str, &str)> {
    let lower = text.to_ascii_lowercase();
    let (per, at) = PER.iter().find_map(|per| Some((per, lower.find(per)?)))?;
    Some((text[..at].trim(), text[at + per.len()..].trim()))
}

/// The usual spelling of a unit that money may be for.
pub fn usual_unit(unit: &str) -> Option<&'static str> {
    let units = [PER_HOUR, PER_SQUARE_FOOT, PER_SQUARE_METRE];
    units.into_iter().find(|names| is_one_of(unit, names)).map(|names| names[0])
}

fn rate<'a, T: Scalar>(value: &'a DeValue<'_>) -> Result<(Amount, &'a str), ValueFault> {
    let text = text_of::<T>(value)?;
    let Some((money, unit)) = amount_and_unit(text) else {
        return Err(ValueFault::new(format!("does not say per what: `{text}`"))
            .help(format!("write `{}`", T::example())));
    };
    Ok((amount(money)?, unit))
}

/// The fault of a unit that money may not be for here.
fn misfit<T: Scalar>(unit: &str, expected: &str) -> ValueFault {
    ValueFault::new(format!("has the unit `/{unit}`, which does not fit here"))
        .help(format!("expected {expected}: `{}`", T::example()))
}

impl Scalar for PerHour {
    const EXPECTED: &str = "an amount of money per hour";
    const EXAMPLE: &str = "\"$34.00/h\"";

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        match rate::<Self>(value)? {
            (amount, unit) if is_one_of(unit, PER_HOUR) => Ok(Self(amount)),
            (_, unit) => Err(misfit::<Self>(unit, "money per hour")),
        }
    }
}

impl Scalar for PerArea {
    const EXPECTED: &str = "an amount of money per area";
    const EXAMPLE: &str = "\"$0.28/ft2\"";

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let (amount, unit) = rate::<Self>(value)?;
        let per = match unit {
            unit if is_one_of(unit, PER_SQUARE_FOOT) => Area::square_feet(1.0),
            unit if is_one_of(unit, PER_SQUARE_METRE) => Area::square_meters(1.0),
            unit => return Err(misfit::<Self>(unit, "money per area")),
        };
        Ok(Self { amount, per })
    }
}
