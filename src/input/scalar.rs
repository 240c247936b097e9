//! Single values as people write them: `22 ft 6 in`, `18 mil`, `$285.00`, `55 F`, `12 %`.
//!
//! Every kind of value knows what it expects, an example, its units and the most it accepts, so
//! that one message shape serves all of them.

use jiff::civil::{Date, DateTime, Time};
use rust_decimal::Decimal;
use toml::de::DeValue;

use crate::input::limits;
use crate::input::text::{TextFault, clean, path_fault};
use crate::money::{Cents, MOST_CENTS};
use crate::quantity::*;

/// Why a value is refused.
#[derive(Debug)]
pub struct Fault {
    /// What is wrong, as in "`width` {message}".
    pub message: String,
    pub help: Option<String>,
}

impl Fault {
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), help: None }
    }

    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// A value that can stand behind a key.
pub trait Scalar: Sized {
    /// What is expected: `a length with its unit`.
    fn expected() -> String;
    /// How to write one: `"22 ft 6 in"`, as it stands in TOML.
    fn example() -> String;
    /// Reads it.
    ///
    /// # Errors
    /// A [`Fault`] that says what is wrong with the value found.
    fn read(value: &DeValue<'_>) -> Result<Self, Fault>;
}

/// The kind of a TOML value in plain words.
pub fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(d) if d.offset.is_some() => "a date and time with a time zone",
        DeValue::Datetime(d) if d.date.is_some() && d.time.is_some() => "a date and time",
        DeValue::Datetime(d) if d.date.is_none() => "a time of day",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// The text of a value, or the fault of not being one.
fn text_of<'a, T: Scalar>(value: &'a DeValue<'_>) -> Result<&'a str, Fault> {
    value.as_str().ok_or_else(|| wrong_kind::<T>(value))
}

fn wrong_kind<T: Scalar>(value: &DeValue<'_>) -> Fault {
    Fault::new(format!("is {}", kind_of(value))).help(format!(
        "write {}, for example `{}`",
        T::expected(),
        T::example()
    ))
}

// ---------------------------------------------------------------------------------------------
// Numbers with units

/// A unit's spellings and its size in the base unit of its quantity.
type Unit = (&'static [&'static str], f64);

/// Reads the numbers and units of a text: `22 ft 6 1/2 in` is `[(22, ft), (6.5, in)]`.
fn terms(text: &str) -> Result<Vec<(f64, String)>, Fault> {
    let plain: String = text
        .trim()
        .chars()
        .map(|c| match c {
            '\u{2019}' | '\u{2032}' | '\u{2018}' => '\'',
            '\u{201D}' | '\u{2033}' | '\u{201C}' => '"',
            '\u{A0}' | '\u{202F}' | '\u{2009}' => ' ',
            '\u{B5}' | '\u{3BC}' => 'u',
            '\u{B2}' => '2',
            other => other,
        })
        .collect();
    let mut rest = plain.trim();
    if rest.starts_with('-') || rest.starts_with('\u{2212}') {
        return Err(Fault::new(format!("is negative: `{text}`")));
    }
    let mut found = vec![];
    while !rest.is_empty() {
        let (number, after) = number(rest, text)?;
        let after = after.trim_start();
        // A unit runs to the next digit that starts a number; `ft2`, `in2` keep their 2.
        let end = after
            .char_indices()
            .find(|&(at, c)| {
                (c.is_ascii_digit() && (at == 0 || after[..at].ends_with(' ')))
                    || (at > 0 && c.is_ascii_digit() && after[..at].ends_with(['\'', '"']))
            })
            .map_or(after.len(), |(at, _)| at);
        found.push((number, after[..end].trim().to_owned()));
        rest = after[end..].trim_start();
    }
    if found.is_empty() {
        return Err(Fault::new("is empty"));
    }
    Ok(found)
}

/// Reads one number at the start: `22`, `6.5`, `1/2`, `6 1/2`, and what follows it.
fn number<'a>(rest: &'a str, whole: &str) -> Result<(f64, &'a str), Fault> {
    let (first, after) = plain_number(rest, whole)?;
    if let Some(below) =
        after.strip_prefix('/').filter(|r| r.starts_with(|c: char| c.is_ascii_digit()))
    {
        let (divisor, after) = plain_number(below, whole)?;
        return fraction(first, divisor, whole).map(|value| (value, after));
    }
    // A mixed number: a whole number, a space, a fraction.
    if let Some(next) = after.strip_prefix(' ') {
        let digits = next.len() - next.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if digits > 0 && next[digits..].starts_with('/') {
            let (above, after) = plain_number(next, whole)?;
            let (below, after) = plain_number(&after[1..], whole)?;
            return fraction(above, below, whole).map(|value| (first + value, after));
        }
    }
    Ok((first, after))
}

fn fraction(above: f64, below: f64, whole: &str) -> Result<f64, Fault> {
    if below == 0.0 {
        return Err(Fault::new(format!("divides by zero: `{whole}`")));
    }
    Ok(above / below)
}

fn plain_number<'a>(rest: &'a str, whole: &str) -> Result<(f64, &'a str), Fault> {
    let end =
        rest.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(rest.len());
    let (digits, after) = rest.split_at(end);
    if digits.is_empty() {
        return Err(Fault::new(format!("does not start with a number: `{whole}`")));
    }
    let digits = without_groups(digits, whole)?;
    match digits.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok((value, after)),
        _ => Err(Fault::new(format!("is not a number: `{whole}`"))),
    }
}

/// Takes out commas that group thousands; any other comma is refused with advice.
fn without_groups(digits: &str, whole: &str) -> Result<String, Fault> {
    if !digits.contains(',') {
        return Ok(digits.to_owned());
    }
    let (before_point, after_point) = digits.split_once('.').unwrap_or((digits, ""));
    let mut groups = before_point.split(',');
    let first = groups.next().unwrap_or("");
    let grouped = (1..=3).contains(&first.len())
        && first != "0"
        && groups.all(|group| group.len() == 3)
        && !after_point.contains(',');
    if grouped {
        Ok(digits.replace(',', ""))
    } else {
        {
            // Where a comma is the decimal mark, points group the thousands.
            let plain = whole.replace('.', "").replace(',', ".");
            let fault = Fault::new(format!("has a comma where a decimal point belongs: `{whole}`"));
            Err(if plain.matches('.').count() == 1 {
                fault.help(format!("write `{plain}`"))
            } else {
                fault
            })
        }
    }
}

fn unit_names(units: &[Unit]) -> String {
    units.iter().map(|(names, _)| format!("`{}`", names[0])).collect::<Vec<_>>().join(", ")
}

/// Reads a number with a unit out of a table of units, into the base unit.
fn measure<T: Scalar>(
    value: &DeValue<'_>,
    units: &[Unit],
    most: f64,
    several: bool,
) -> Result<f64, Fault> {
    let text = match value {
        DeValue::Integer(_) | DeValue::Float(_) => {
            return Err(Fault::new("has no unit").help(format!(
                "write the number and its unit as a text, for example `{}`; units: {}",
                T::example(),
                unit_names(units)
            )));
        }
        other => text_of::<T>(other)?,
    };
    let terms = terms(text).map_err(|fault| match fault.help {
        Some(_) => fault,
        None => fault.help(format!("write {}, for example `{}`", T::expected(), T::example())),
    })?;
    if terms.len() > 1 && !several {
        return Err(Fault::new(format!("has more than one number: `{text}`"))
            .help(format!("write one number with one unit, for example `{}`", T::example())));
    }
    let mut sum = 0.0;
    for (number, unit) in &terms {
        if unit.is_empty() {
            return Err(Fault::new(format!("has no unit: `{text}`")).help(format!(
                "units: {}; for example `{}`",
                unit_names(units),
                T::example()
            )));
        }
        let size = units.iter().find(|(names, _)| names.contains(&unit.as_str())).map(|u| u.1);
        let Some(size) = size else {
            return Err(Fault::new(format!("has the unit `{unit}`, which does not fit here"))
                .help(format!("expected {}: {}", T::expected(), unit_names(units))));
        };
        sum += number * size;
    }
    // `most` is stated in the first unit of the table, where people can read it.
    let (names, size) = units[0];
    if !sum.is_finite() || sum > most * size * (1.0 + 1e-12) {
        return Err(Fault::new(format!("is too large: `{text}`")).help(format!(
            "the most accepted is {most} {}; check the number and the unit",
            names[0]
        )));
    }
    Ok(sum)
}

/// Implements [`Scalar`] for quantities by a table of units. `most` counts in the first unit.
macro_rules! measures {
    ($($name:ident: $what:literal, like $example:literal, up to $most:literal, several $several:literal,
        base $make:ident, [$(($spellings:expr, $size:expr)),* $(,)?];)*) => {$(
        impl Scalar for $name {
            fn expected() -> String {
                $what.to_owned()
            }
            fn example() -> String {
                format!("{:?}", $example).replace("\\\"", "\"")
            }
            fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
                const UNITS: &[Unit] = &[$((&$spellings, $size)),*];
                measure::<Self>(value, UNITS, $most, $several).map($name::$make)
            }
        }
    )*};
}

const FT: f64 = 0.3048;
const FT2: f64 = FT * FT;
const GAL: f64 = 3.785411784;
const LB: f64 = 0.45359237;

measures! {
    Length: "a length with its unit", like "22 ft 6 in", up to 1000.0, several true, base metres, [
        (["ft", "'", "feet", "foot"], FT), (["in", "\"", "inch", "inches"], 0.0254),
        (["m"], 1.0), (["cm"], 0.01), (["mm"], 0.001),
    ];
    Area: "an area with its unit", like "72 in2", up to 100000.0, several false, base square_metres, [
        (["ft2", "sq ft", "sf"], FT2), (["in2", "sq in"], 0.0254 * 0.0254),
        (["m2"], 1.0), (["cm2"], 0.0001),
    ];
    Volume: "a volume with its unit", like "3 gal", up to 1000.0, several false, base litres, [
        (["gal"], GAL), (["qt"], GAL / 4.0), (["pt"], GAL / 8.0), (["fl oz"], GAL / 128.0),
        (["L", "l"], 1.0), (["mL", "ml"], 0.001),
    ];
    Thickness: "a film thickness with its unit", like "16 mil", up to 1000.0, several false, base micrometres, [
        (["mil", "mils"], 25.4), (["um"], 1.0), (["mm"], 1000.0),
    ];
    Spread: "a spread rate with its unit", like "100 ft2/gal", up to 5000.0, several false, base square_metres_per_litre, [
        (["ft2/gal", "sf/gal"], FT2 / GAL), (["m2/L", "m2/l"], 1.0),
    ];
    Mass: "a mass with its unit", like "40 lb", up to 10000.0, several false, base kilograms, [
        (["lb"], LB), (["oz"], LB / 16.0), (["kg"], 1.0), (["g"], 0.001),
    ];
    ArealMass: "a mass on an area with its unit", like "0.15 lb/ft2", up to 10.0, several false, base kilograms_per_square_metre, [
        (["lb/ft2", "lb/sf"], LB / FT2), (["kg/m2"], 1.0), (["g/m2"], 0.001),
    ];
    Strength: "a strength with its unit", like "250 psi", up to 2000.0, several false, base megapascals, [
        (["psi"], 0.006894757293168), (["MPa", "N/mm2"], 1.0),
    ];
    Mver: "a moisture vapor emission rate with its unit", like "3 lb/1000ft2/24h", up to 100.0, several false, base pounds, [
        (["lb/1000ft2/24h", "lb/1000 ft2/24 h", "lb/1000sf/24h", "lb"], 1.0),
        (["ug/m2/s", "ug/(m2 s)", "ug/(s m2)"], 1.0 / MICROGRAMS_PER_POUND_RATE),
        (["g/m2/24h", "g/m2/24 h"], 1.0 / GRAMS_PER_POUND_RATE),
    ];
    Hours: "a stretch of time with its unit", like "8 h", up to 8760.0, several true, base hours, [
        (["h", "hr", "hours", "hour"], 1.0), (["min", "minutes"], 1.0 / 60.0), (["days", "day", "d"], 24.0),
    ];
    AreaRate: "a work rate with its unit", like "220 ft2/h", up to 10000.0, several false, base square_metres_per_hour, [
        (["ft2/h", "sf/h"], FT2), (["m2/h"], 1.0),
    ];
    LengthRate: "a work rate with its unit", like "45 ft/h", up to 10000.0, several false, base metres_per_hour, [
        (["ft/h"], FT), (["m/h"], 1.0),
    ];
    Content: "a content by volume with its unit", like "50 g/L", up to 1500.0, several false, base grams_per_litre, [
        (["g/L", "g/l"], 1.0), (["lb/gal"], LB * 1000.0 / GAL),
    ];
    MolarMass: "a molar mass with its unit", like "106.2 g/mol", up to 1000.0, several false, base grams_per_mole, [
        (["g/mol"], 1.0),
    ];
    Ppm: "a concentration in parts per million", like "100 ppm", up to 100000.0, several false, base parts_per_million, [
        (["ppm"], 1.0),
    ];
    Share: "a share in percent", like "10 %", up to 100.0, several false, base of_one, [(["%"], 0.01)];
    Humidity: "a relative humidity in percent", like "55 %", up to 100.0, several false, base percent, [
        (["%", "% RH", "%RH"], 1.0),
    ];
    Degrees: "a difference of temperature with its unit", like "5 F", up to 100.0, several false, base kelvin, [
        (["F", "\u{B0}F", "deg F"], 5.0 / 9.0), (["C", "\u{B0}C", "deg C", "K"], 1.0),
    ];
}

impl Scalar for Temperature {
    fn expected() -> String {
        "a temperature with its unit".into()
    }

    fn example() -> String {
        "\"55 F\"".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        if matches!(value, DeValue::Integer(_) | DeValue::Float(_)) {
            return Err(Fault::new("has no unit").help("write `\"55 F\"` or `\"13 C\"`"));
        }
        let text = text_of::<Self>(value)?;
        let trimmed = text.trim();
        let (below_zero, plain) = match trimmed.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest),
            None => (false, trimmed),
        };
        if plain.starts_with(['-', '\u{2212}']) {
            return Err(Fault::new(format!("is not a temperature: `{text}`"))
                .help("write `\"55 F\"` or `\"13 C\"`"));
        }
        let terms = terms(plain)?;
        let [(number, unit)] = terms.as_slice() else {
            return Err(Fault::new(format!("has more than one number: `{text}`")));
        };
        let number = if below_zero { -number } else { *number };
        let temperature = match unit.as_str() {
            "F" | "\u{B0}F" | "deg F" => Self::fahrenheit(number),
            "C" | "\u{B0}C" | "deg C" => Self::celsius(number),
            "" => {
                return Err(Fault::new(format!("has no unit: `{text}`"))
                    .help("write `\"55 F\"` or `\"13 C\"`"));
            }
            _ => {
                return Err(Fault::new(format!("has the unit `{unit}`, which does not fit here"))
                    .help("expected a temperature: `F` or `C`"));
            }
        };
        // Where people lay floors; a reading outside is a slip of the pen.
        if !(-40.0..=60.0).contains(&temperature.as_celsius()) {
            return Err(Fault::new(format!("is outside -40 C to 60 C: `{text}`"))
                .help("check the number and whether it is F or C"));
        }
        Ok(temperature)
    }
}

// ---------------------------------------------------------------------------------------------
// Money

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
    for mark in CURRENCIES.iter().flat_map(|(code, sign)| [*code, *sign]) {
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

/// Money per area, held per square metre and square foot as written.
#[derive(Debug, Clone, PartialEq)]
pub struct PerArea {
    pub amount: Amount,
    /// The area that the amount is for.
    pub per: Area,
}

fn rate<'a, T: Scalar>(value: &'a DeValue<'_>) -> Result<(Amount, &'a str), Fault> {
    let text = text_of::<T>(value)?;
    let Some((money, unit)) = text.split_once('/') else {
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

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        match rate::<Self>(value)? {
            (amount, "h" | "hr" | "hour") => Ok(Self(amount)),
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

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        match rate::<Self>(value)? {
            (amount, "ft2" | "sf") => Ok(Self { amount, per: Area::square_feet(1.0) }),
            (amount, "m2") => Ok(Self { amount, per: Area::square_metres(1.0) }),
            (_, unit) => {
                Err(Fault::new(format!("has the unit `/{unit}`, which does not fit here"))
                    .help(format!("expected money per area: `{}`", Self::example())))
            }
        }
    }
}

// ---------------------------------------------------------------------------------------------
// Text, counts, dates, choices

fn text_fault(fault: TextFault) -> Fault {
    match fault {
        TextFault::Empty => Fault::new("is empty").help("write something, or leave the key out"),
        TextFault::TooLong { most, found } => Fault::new(format!("has {found} characters"))
            .help(format!("the most accepted is {most}")),
        TextFault::Character { code, what } => {
            Fault::new(format!("holds {what} (U+{code:04X})")).help("take it out")
        }
    }
}

impl Scalar for String {
    fn expected() -> String {
        "a text".into()
    }

    fn example() -> String {
        "\"as it should be printed\"".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        clean(text_of::<Self>(value)?, limits::SHORT_TEXT, false).map_err(text_fault)
    }
}

/// A longer text that may have line breaks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LongText(pub String);

impl Scalar for LongText {
    fn expected() -> String {
        "a text".into()
    }

    fn example() -> String {
        "\"as it should be printed\"".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        clean(text_of::<Self>(value)?, limits::LONG_TEXT, true).map(Self).map_err(text_fault)
    }
}

/// A file in the job's folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobPath(pub String);

impl Scalar for JobPath {
    fn expected() -> String {
        "a file in the job's folder".into()
    }

    fn example() -> String {
        "\"photos/door.jpg\"".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let path = clean(text_of::<Self>(value)?, limits::SHORT_TEXT, false).map_err(text_fault)?;
        match path_fault(&path) {
            None => Ok(Self(path)),
            Some(why) => Err(Fault::new(format!("{why}: `{path}`")).help(format!(
                "name a file inside the folder of the file you write this in, for example `{}`",
                Self::example()
            ))),
        }
    }
}

/// A short name that other files refer to: lower-case letters, digits and hyphens.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key(pub String);

impl std::fmt::Display for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl Scalar for Key {
    fn expected() -> String {
        "a name of lower-case letters, digits and hyphens".into()
    }

    fn example() -> String {
        "\"barrier-epoxy\"".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let text = text_of::<Self>(value)?;
        let plain = !text.is_empty()
            && text.len() <= 60
            && !text.starts_with('-')
            && !text.ends_with('-')
            && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        if plain {
            Ok(Self(text.to_owned()))
        } else {
            Err(Fault::new(format!("is not a plain name: `{}`", text.escape_debug()))
                .help(format!("write {}, for example `{}`", Self::expected(), Self::example())))
        }
    }
}

/// A job's number: letters, digits, hyphens; it becomes part of file names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobNumber(pub String);

impl Scalar for JobNumber {
    fn expected() -> String {
        "a job number of letters, digits and hyphens".into()
    }

    fn example() -> String {
        "\"2026-0142\"".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let text = text_of::<Self>(value)?;
        let plain = (1..=40).contains(&text.len())
            && text.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
            && text.starts_with(|c: char| c.is_ascii_alphanumeric());
        if plain {
            Ok(Self(text.to_owned()))
        } else {
            Err(Fault::new(format!("is not a job number: `{}`", text.escape_debug())).help(
                format!(
                    "write up to 40 letters, digits and hyphens, for example `{}`",
                    Self::example()
                ),
            ))
        }
    }
}

impl Scalar for bool {
    fn expected() -> String {
        "true or false".into()
    }

    fn example() -> String {
        "true".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        value.as_bool().ok_or_else(|| wrong_kind::<Self>(value))
    }
}

/// A whole number with the mark of its radix, which TOML allows and we do not.
fn as_written(number: &toml::de::DeInteger<'_>) -> String {
    let mark = match number.radix() {
        16 => "0x",
        8 => "0o",
        2 => "0b",
        _ => "",
    };
    format!("{mark}{}", number.as_str())
}

impl Scalar for u32 {
    fn expected() -> String {
        "a whole number".into()
    }

    fn example() -> String {
        "2".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let DeValue::Integer(number) = value else { return Err(wrong_kind::<Self>(value)) };
        let text = number.as_str();
        match text.replace('_', "").parse::<i64>() {
            Ok(n) if number.radix() == 10 && (0..=9_999).contains(&n) => Ok(n as u32),
            _ => Err(Fault::new(format!("is outside 0 to 9999: `{}`", as_written(number)))),
        }
    }
}

impl Scalar for Date {
    fn expected() -> String {
        "a date".into()
    }

    fn example() -> String {
        "2026-05-12".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let date = value.as_datetime().filter(|d| d.time.is_none()).and_then(|d| d.date);
        let Some(date) = date else {
            return Err(
                wrong_kind::<Self>(value).help("write year-month-day without quotes: `2026-05-12`")
            );
        };
        in_years(civil(date)?)
    }
}

impl Scalar for DateTime {
    fn expected() -> String {
        "a date and time".into()
    }

    fn example() -> String {
        "2026-05-08T10:30:00".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let whole = value
            .as_datetime()
            .filter(|d| d.offset.is_none())
            .and_then(|d| Some((d.date?, d.time?)));
        let Some((date, time)) = whole else {
            return Err(wrong_kind::<Self>(value)
                .help("write date and time without quotes or zone: `2026-05-08T10:30:00`"));
        };
        let time = Time::new(time.hour as i8, time.minute as i8, 0, 0)
            .map_err(|_| Fault::new("is no time of day"))?;
        Ok(in_years(civil(date)?)?.to_datetime(time))
    }
}

impl Scalar for Time {
    fn expected() -> String {
        "a time of day".into()
    }

    fn example() -> String {
        "07:30:00".into()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let time = value.as_datetime().filter(|d| d.date.is_none()).and_then(|d| d.time);
        let Some(time) = time else {
            return Err(wrong_kind::<Self>(value).help("write a time without quotes: `07:30:00`"));
        };
        Time::new(time.hour as i8, time.minute as i8, 0, 0)
            .map_err(|_| Fault::new("is no time of day"))
    }
}

fn civil(date: toml::value::Date) -> Result<Date, Fault> {
    Date::new(date.year as i16, date.month as i8, date.day as i8)
        .map_err(|_| Fault::new(format!("is a date that does not exist: `{date}`")))
}

/// Jobs happen now; a year far off is a slip of the pen.
fn in_years(date: Date) -> Result<Date, Fault> {
    if (1900..=2199).contains(&date.year()) {
        Ok(date)
    } else {
        Err(Fault::new(format!("is outside the years 1900 to 2199: `{date}`")))
    }
}

/// Defines an enum whose values are written as fixed words.
macro_rules! choices {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$vdoc])* $variant,)* }

        impl $name {
            pub const WORDS: &'static [(&'static str, $name)] = &[$(($word, $name::$variant)),*];

            /// The word as written in a file.
            pub fn word(self) -> &'static str {
                match self { $($name::$variant => $word,)* }
            }
        }

        impl $crate::input::scalar::Scalar for $name {
            fn expected() -> String {
                let words: Vec<String> = Self::WORDS.iter().map(|(w, _)| format!("{w:?}")).collect();
                format!("one of {}", words.join(", "))
            }
            fn example() -> String {
                format!("{:?}", Self::WORDS[0].0)
            }
            fn read(value: &toml::de::DeValue<'_>) -> Result<Self, $crate::input::scalar::Fault> {
                $crate::input::scalar::choice(value, Self::WORDS, &Self::expected())
            }
        }
    };
}
pub(crate) use choices;

/// Reads one of a list of words; a near miss is named.
pub fn choice<T: Copy>(
    value: &DeValue<'_>,
    words: &[(&str, T)],
    expected: &str,
) -> Result<T, Fault> {
    let Some(text) = value.as_str() else {
        return Err(
            Fault::new(format!("is {}", kind_of(value))).help(format!("expected {expected}"))
        );
    };
    if let Some((_, found)) = words.iter().find(|(word, _)| *word == text) {
        return Ok(*found);
    }
    let near = crate::input::suggest::nearest(text, words.iter().map(|(word, _)| *word));
    let fault = Fault::new(format!("is `{}`", text.escape_debug()));
    Err(match near {
        Some(near) => fault.help(format!("did you mean `\"{near}\"`? expected {expected}")),
        None => fault.help(format!("expected {expected}")),
    })
}
