//! Money as people write it: `$1,250.00`, `$34.00/h`, `$0.28/ft2`, as exact decimals.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use toml::de::DeValue;

use crate::base::money::{Cents, MOST_CENTS};
use crate::base::quantity::Area;
use crate::read::form::{self, Form, Pattern};
use crate::read::measure::without_groups;
use crate::read::scalar::{Fault, Scalar, text_of};

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

fn amount(text: &str) -> Result<Amount, Fault> {
    let trimmed = text.trim();
    if trimmed.starts_with('-') || trimmed.starts_with('\u{2212}') {
        return Err(Fault::new(format!("is negative: `{text}`"))
            .help("write an amount, for example `\"$285.00\"`"));
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
    let Some(value) = value else {
        return Err(Fault::new(format!("is not an amount of money: `{text}`"))
            .help("write an amount, for example `\"$285.00\"`"));
    };
    if value > Cents(MOST_CENTS / 1000).decimal() {
        return Err(Fault::new(format!("is too large: `{text}`"))
            .help(format!("the most accepted is {}", Cents(MOST_CENTS / 1000))));
    }
    Ok(Amount { value, sign })
}

impl Scalar for Amount {
    fn expected() -> String {
        "an amount of money".into()
    }

    fn example() -> String {
        "\"$285.00\"".into()
    }

    fn form() -> Form {
        let pattern = format!(r"^\s*{}\s*$", form::money(&marks(), Some(2)));
        let most = Cents(MOST_CENTS / 1000).decimal().to_f64().unwrap_or(f64::MAX);
        Form::NumberOr { most, text: Pattern { all: vec![pattern], ..Pattern::default() } }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let text = match value {
            // The digits as written: a TOML number never passes through a binary float here.
            DeValue::Integer(n) if n.radix() == 10 => n.as_str(),
            DeValue::Float(n) => n.as_str(),
            other => text_of::<Self>(other)?,
        };
        let amount = amount(text)?;
        if amount.value.normalize().scale() > 2 {
            return Err(Fault::new(format!("has parts of a cent: `{text}`"))
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
/// What stands between an amount and what it is for.
const PER: &[&str] = &["/", " per ", " an ", " a "];

/// Whether a unit is one of these, as people spell it.
fn is_one_of(unit: &str, names: &[&str]) -> bool {
    let unit = unit.replace('\u{B2}', "2");
    names.iter().any(|name| name.eq_ignore_ascii_case(&unit))
}

/// The signs and codes that may stand with an amount.
pub(crate) fn marks() -> Vec<&'static str> {
    CURRENCIES.iter().flat_map(|(code, sign)| [*code, *sign]).collect()
}

/// Money for one of some units.
fn per(units: &[&str]) -> Form {
    let per: Vec<&str> = PER.iter().map(|word| word.trim()).skip(1).collect();
    let per = format!(r"(?:\s*/\s*|\s+(?:{})\s+)", per.join("|"));
    form::alone(&format!("{}{per}{}", form::money(&marks(), None), form::any_of(units)))
}

fn rate<'a, T: Scalar>(value: &'a DeValue<'_>) -> Result<(Amount, &'a str), Fault> {
    let text = text_of::<T>(value)?;
    let Some((money, unit)) = PER.iter().find_map(|per| text.split_once(per)) else {
        return Err(Fault::new(format!("does not say per what: `{text}`"))
            .help(format!("write `{}`", T::example())));
    };
    Ok((amount(money)?, unit.trim()))
}

impl Scalar for PerHour {
    fn expected() -> String {
        "an amount of money per hour".into()
    }

    fn example() -> String {
        "\"$34.00/h\"".into()
    }

    fn form() -> Form {
        per(PER_HOUR)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        match rate::<Self>(value)? {
            (amount, unit) if is_one_of(unit, PER_HOUR) => Ok(Self(amount)),
            (_, unit) => {
                Err(Fault::new(format!("has the unit `/{unit}`, which does not fit here"))
                    .help(format!("expected money per hour: `{}`", Self::example())))
            }
        }
    }
}

impl Scalar for PerArea {
    fn expected() -> String {
        "an amount of money per area".into()
    }

    fn example() -> String {
        "\"$0.28/ft2\"".into()
    }

    fn form() -> Form {
        per(&[PER_SQUARE_FOOT, PER_SQUARE_METRE].concat())
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        match rate::<Self>(value)? {
            (amount, unit) if is_one_of(unit, PER_SQUARE_FOOT) => {
                Ok(Self { amount, per: Area::square_feet(1.0) })
            }
            (amount, unit) if is_one_of(unit, PER_SQUARE_METRE) => {
                Ok(Self { amount, per: Area::square_meters(1.0) })
            }
            (_, unit) => {
                Err(Fault::new(format!("has the unit `/{unit}`, which does not fit here"))
                    .help(format!("expected money per area: `{}`", Self::example())))
            }
        }
    }
}
