//! Quantities as people write them: numbers with units, `22 ft 6 1/2 in`, `18 mil`, `-5 C`.

use toml::de::DeValue;

use crate::base::quantity::*;
use crate::read::form::ValueForm;
use crate::read::keys::spec::Bound;
use crate::read::scalar::{Scalar, ValueFault, text_of};
use crate::read::suggest::in_backquotes;

/// A unit's spellings and its size in the base unit of its quantity.
pub type Unit = (&'static [&'static str], f64);

/// A number with its unit, as it was written and as it counts.
struct Term {
    value: f64,
    number: String,
    unit: String,
}

/// Reads the numbers and units of a text: `22 ft 6 1/2 in` is 22 `ft` and 6.5 `in`.
fn terms(text: &str) -> Result<Vec<Term>, ValueFault> {
    let plain: String = text.trim().chars().fold(String::new(), with_fraction);
    let plain: String = plain
        .chars()
        .map(|c| match c {
            // The fraction slash.
            '\u{2044}' => '/',
            '\u{2019}' | '\u{2032}' | '\u{2018}' => '\'',
            '\u{201D}' | '\u{2033}' | '\u{201C}' => '"',
            '\u{A0}' | '\u{202F}' | '\u{2009}' => ' ',
            '\u{2010}' | '\u{2011}' | '\u{2013}' => '-',
            '\u{B5}' | '\u{3BC}' => 'u',
            '\u{B2}' => '2',
            other => other,
        })
        .collect();
    let mut rest = plain.trim();
    if rest.starts_with('-') || rest.starts_with('\u{2212}') {
        return Err(ValueFault::new(format!("is negative: `{text}`")));
    }
    let mut found = vec![];
    while !rest.is_empty() {
        let (value, after) = number(rest, text)?;
        let number = rest[..rest.len() - after.len()].to_owned();
        let after = after.trim_start();
        // A unit runs to the next digit that starts a number; `ft2`, `in2` keep their 2.
        let end = after
            .char_indices()
            .find(|&(at, c)| {
                c.is_ascii_digit() && (at == 0 || after[..at].ends_with([' ', '\'', '"', '-']))
            })
            .map_or(after.len(), |(at, _)| at);
        // `22'-6"` is how plans write feet and inches.
        let unit = after[..end].trim();
        let unit = if end < after.len() { unit.trim_end_matches('-').trim_end() } else { unit };
        found.push(Term { value, number, unit: unit.to_owned() });
        rest = after[end..].trim_start();
    }
    if found.is_empty() {
        return Err(ValueFault::new("is empty"));
    }
    Ok(found)
}

/// Adds a character; a fraction that is one character, such as a phone types, as the two numbers
/// that it is: `6\u{BD}` is `6 1/2`.
fn with_fraction(mut plain: String, c: char) -> String {
    let Some((_, fraction)) = FRACTIONS.iter().find(|(one, _)| *one == c) else {
        plain.push(c);
        return plain;
    };
    if plain.ends_with(|before: char| before.is_ascii_digit()) {
        plain.push(' ');
    }
    plain.push_str(fraction);
    plain
}

/// The fractions of a tape, as Unicode has them.
const FRACTIONS: &[(char, &str)] = &[
    ('\u{BD}', "1/2"),
    ('\u{BC}', "1/4"),
    ('\u{BE}', "3/4"),
    ('\u{215B}', "1/8"),
    ('\u{215C}', "3/8"),
    ('\u{215D}', "5/8"),
    ('\u{215E}', "7/8"),
    ('\u{2153}', "1/3"),
    ('\u{2154}', "2/3"),
];

/// Reads one number at the start: `22`, `6.5`, `1/2`, `6 1/2`, and what follows it.
fn number<'a>(rest: &'a str, whole: &str) -> Result<(f64, &'a str), ValueFault> {
    let (first, after) = plain_number(rest, whole)?;
    if let Some(below) =
        after.strip_prefix('/').filter(|r| r.starts_with(|c: char| c.is_ascii_digit()))
    {
        let (divisor, after) = plain_number(below, whole)?;
        return fraction(first, divisor, whole).map(|value| (value, after));
    }
    // A mixed number: a whole number, a space or a hyphen, a fraction.
    if let Some(next) = after.strip_prefix([' ', '-']) {
        let digits = next.len() - next.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if digits > 0 && next[digits..].starts_with('/') {
            let (above, after) = plain_number(next, whole)?;
            let (below, after) = plain_number(&after[1..], whole)?;
            return fraction(above, below, whole).map(|value| (first + value, after));
        }
    }
    Ok((first, after))
}

fn fraction(above: f64, below: f64, whole: &str) -> Result<f64, ValueFault> {
    if below == 0.0 {
        return Err(ValueFault::new(format!("divides by zero: `{whole}`")));
    }
    Ok(above / below)
}

fn plain_number<'a>(rest: &'a str, whole: &str) -> Result<(f64, &'a str), ValueFault> {
    let end =
        rest.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(rest.len());
    let (digits, after) = rest.split_at(end);
    if digits.is_empty() {
        return Err(ValueFault::new(format!("does not start with a number: `{whole}`")));
    }
    let digits = without_groups(digits, whole)?;
    match digits.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok((value, after)),
        _ => Err(ValueFault::new(format!("is not a number: `{whole}`"))),
    }
}

/// Takes out commas that group thousands; any other comma is refused with advice.
pub(crate) fn without_groups(digits: &str, whole: &str) -> Result<String, ValueFault> {
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
        return Ok(digits.replace(',', ""));
    }
    // Where a comma is the decimal mark, points group the thousands.
    let plain = whole.replace('.', "").replace(',', ".");
    let fault = ValueFault::new(format!("has a comma where a decimal point belongs: `{whole}`"));
    let one_point = plain.matches('.').count() == 1;
    Err(if one_point { fault.help(format!("write `{plain}`")) } else { fault })
}

/// The size of a unit, in any letters and with a point behind it: `FT`, `in.`.
fn size_of(units: &[Unit], unit: &str) -> Option<f64> {
    let plain = unit.strip_suffix('.').unwrap_or(unit);
    let exact = units.iter().find(|(names, _)| names.contains(&plain));
    let alike = |(names, _): &&Unit| names.iter().any(|name| name.eq_ignore_ascii_case(plain));
    exact.or_else(|| units.iter().find(alike)).map(|unit| unit.1)
}

/// The usual name of the unit of a size.
fn size_name(units: &[Unit], size: f64) -> &'static str {
    units.iter().find(|(_, own)| *own == size).map_or("", |(names, _)| names[0])
}

fn unit_names(units: &[Unit]) -> String {
    in_backquotes(units.iter().map(|(names, _)| names[0]))
}

/// Reads a number with a unit out of a table of units, into the base unit.
fn measure<T: Scalar>(
    value: &DeValue<'_>,
    units: &[Unit],
    most: f64,
    several: bool,
) -> Result<f64, ValueFault> {
    let text = match value {
        DeValue::Integer(_) | DeValue::Float(_) => {
            return Err(ValueFault::new("has no unit").help(format!(
                "write the number and its unit as text, for example `{}`; units: {}",
                T::example(),
                unit_names(units)
            )));
        }
        other => text_of::<T>(other)?,
    };
    let terms = terms(text).map_err(|fault| fault.or_help(T::advice()))?;
    if terms.len() > 1 && !several {
        return Err(ValueFault::new(format!("has more than one number: `{text}`"))
            .help(format!("write one number with one unit, for example `{}`", T::example())));
    }
    let mut sum = 0.0;
    let mut before = f64::INFINITY;
    for Term { value, unit, .. } in &terms {
        // Behind feet, inches go without saying: `22'6`, `21 ft 3`.
        let unit = if unit.is_empty() && before == FOOT_M { "in" } else { unit };
        if unit.is_empty() {
            return Err(ValueFault::new(format!("has no unit: `{text}`")).help(format!(
                "units: {}; for example `{}`",
                unit_names(units),
                T::example()
            )));
        }
        let Some(size) = size_of(units, unit) else {
            return Err(ValueFault::new(format!("has the unit `{unit}`, which does not fit here"))
                .help(format!("expected {}: {}", T::expected(), unit_names(units))));
        };
        if size >= before {
            return Err(ValueFault::new(format!("has a unit twice or out of order: `{text}`"))
                .help(format!(
                    "write the larger unit first, each once, for example `{}`",
                    T::example()
                )));
        }
        // `22 ft 13 in` is a slip: nobody reads 13 inches off a tape behind feet.
        if before.is_finite() && value * size >= before * (1.0 - 1e-9) {
            let (one, whole) = (size_name(units, size), size_name(units, before));
            let most = (before / size).round();
            let message = format!("has {most} `{one}` or more behind `{whole}`: `{text}`");
            return Err(ValueFault::new(message)
                .help(format!("{most} `{one}` are a `{whole}`: check the numbers")));
        }
        before = size;
        sum += value * size;
    }
    // `most` is stated in the first unit of the table, where people can read it.
    let (names, size) = units[0];
    if !sum.is_finite() || sum > most * size * (1.0 + 1e-12) {
        return Err(ValueFault::new(format!("is too large: `{text}`")).help(format!(
            "the most accepted is {most} {}; check the number and the unit",
            names[0]
        )));
    }
    Ok(sum)
}

/// A quantity that is written as numbers with units.
pub trait Measure: Scalar {
    /// Its units with their spellings, and the size of each in the base unit.
    const UNITS: &'static [Unit];

    /// A text with its units as files usually have them: `22'6"` is `22 ft 6 in`. A number alone
    /// gets the `usual` unit, or the only one there is. `None` where it is nothing of this kind.
    fn spelled_out(text: &str, usual: Option<&str>) -> Option<String> {
        let terms = terms(text).ok()?;
        let only = if let [(names, _)] = Self::UNITS { Some(names[0]) } else { None };
        let mut before = "";
        let mut written = vec![];
        for Term { number, unit, .. } in &terms {
            let unit = match (unit.as_str(), before) {
                ("", "ft") => "in",
                ("", "") if terms.len() == 1 => only.or(usual)?,
                (unit, _) => unit,
            };
            let size = size_of(Self::UNITS, unit)?;
            before = Self::UNITS.iter().find(|(_, own)| *own == size)?.0[0];
            written.push(format!("{number} {before}"));
        }
        Some(written.join(" "))
    }
}

/// The first unit in a text: `ft` in `22 ft 6 in`.
pub fn first_unit(text: &str) -> Option<String> {
    let first = terms(text.split(',').next()?).ok()?.into_iter().next()?;
    Some(first.unit).filter(|unit| !unit.is_empty())
}

/// Implements [`Scalar`] for quantities by a table of units. `most` counts in the first unit.
macro_rules! measures {
    ($($name:ident: $what:literal, like $example:literal, up to $most:literal, several $several:literal,
        base $make:ident, [$(($spellings:expr, $size:expr)),* $(,)?];)*) => {$(
        impl Scalar for $name {
            const EXPECTED: &str = $what;
            const EXAMPLE: &str = concat!("\"", $example, "\"");
            fn form() -> ValueForm {
                let units: Vec<&str> = $name::UNITS.iter().map(|(names, _)| names[0]).collect();
                let most = Some(format!("{} {}", $most, units[0]));
                ValueForm::Measure { units, most }
            }
            fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
                measure::<Self>(value, $name::UNITS, $most, $several).map($name::$make)
            }
            fn breaks(&self, bound: Bound) -> Option<String> {
                let zero = matches!(bound, Bound::AboveZero) && *self <= $name::$make(0.0);
                zero.then(|| "is zero".to_owned())
            }
        }
        impl Measure for $name {
            const UNITS: &'static [Unit] = &[$((&$spellings, $size)),*];
        }
    )*};
}

measures! {
    Length: "a length with its unit", like "22 ft 6 in", up to 1000.0, several true, base meters, [
        (["ft", "'", "feet", "foot"], FOOT_M), (["in", "\"", "inch", "inches"], 0.0254),
        (["m"], 1.0), (["cm"], 0.01), (["mm"], 0.001),
    ];
    Area: "an area with its unit", like "72 in2", up to 100000.0, several false, base square_meters, [
        (["ft2", "sq ft", "sqft", "sf", "square feet"], SQUARE_FOOT_M2), (["in2", "sq in"], 0.0254 * 0.0254),
        (["m2"], 1.0), (["cm2"], 0.0001),
    ];
    Volume: "a volume with its unit", like "3 gal", up to 1000.0, several false, base liters, [
        (["gal", "gallon", "gallons"], GALLON_L), (["qt"], GALLON_L / 4.0), (["pt"], GALLON_L / 8.0), (["fl oz"], GALLON_L / 128.0),
        (["L", "l"], 1.0), (["mL", "ml"], 0.001),
    ];
    Thickness: "a film thickness with its unit", like "16 mil", up to 1000.0, several false, base micrometers, [
        (["mil", "mils"], 25.4), (["um"], 1.0), (["mm"], 1000.0),
    ];
    Spread: "a spread rate with its unit", like "100 ft2/gal", up to 5000.0, several false, base square_meters_per_liter, [
        (["ft2/gal", "sq ft/gal", "sqft/gal", "sf/gal"], SQUARE_FOOT_M2 / GALLON_L), (["m2/L", "m2/l"], 1.0),
    ];
    Mass: "a mass with its unit", like "40 lb", up to 10000.0, several false, base kilograms, [
        (["lb", "lbs"], POUND_KG), (["oz"], POUND_KG / 16.0), (["kg"], 1.0), (["g"], 0.001),
    ];
    ArealMass: "a mass on an area with its unit", like "0.15 lb/ft2", up to 10.0, several false, base kilograms_per_square_meter, [
        (["lb/ft2", "lb/sq ft", "lb/sqft", "lb/sf"], POUND_KG / SQUARE_FOOT_M2), (["kg/m2"], 1.0), (["g/m2"], 0.001),
    ];
    Strength: "a strength with its unit", like "250 psi", up to 2000.0, several false, base megapascals, [
        (["psi"], POUND_FORCE_PER_SQUARE_INCH_MPA), (["MPa", "N/mm2"], 1.0),
    ];
    Mver: "a moisture vapor emission rate with its unit", like "3 lb/1000ft2/24h", up to 100.0, several false, base pounds, [
        (["lb/1000ft2/24h", "lb/1000 ft2/24 h", "lb/1000sf/24h", "lb"], 1.0),
        (["ug/m2/s", "ug/(m2 s)", "ug/(s m2)"], 1.0 / MICROGRAMS_PER_POUND_RATE),
        (["g/m2/24h", "g/m2/24 h"], 1.0 / GRAMS_PER_POUND_RATE),
    ];
    Hours: "a stretch of time with its unit", like "8 h", up to 8760.0, several true, base hours, [
        (["h", "hr", "hrs", "hours", "hour"], 1.0), (["min", "minutes", "minute"], 1.0 / 60.0), (["days", "day", "d"], 24.0),
    ];
    AreaRate: "a work rate with its unit", like "220 ft2/h", up to 10000.0, several false, base square_meters_per_hour, [
        (["ft2/h", "sq ft/h", "sqft/h", "sf/h"], SQUARE_FOOT_M2), (["m2/h"], 1.0),
    ];
    LengthRate: "a work rate with its unit", like "45 ft/h", up to 10000.0, several false, base meters_per_hour, [
        (["ft/h"], FOOT_M), (["m/h"], 1.0),
    ];
    Content: "a content by volume with its unit", like "50 g/L", up to 1500.0, several false, base grams_per_liter, [
        (["g/L", "g/l"], 1.0), (["lb/gal"], POUND_KG * 1000.0 / GALLON_L),
    ];
    MolarMass: "a molar mass with its unit", like "106.2 g/mol", up to 1000.0, several false, base grams_per_mole, [
        (["g/mol"], 1.0),
    ];
    Ppm: "a concentration in parts per million", like "100 ppm", up to 100000.0, several false, base parts_per_million, [
        (["ppm"], 1.0),
    ];
    Permeance: "a permeance with its unit", like "0.1 perm", up to 1000.0, several false, base nanograms, [
        (["perm", "perms"], PERM_NG), (["ng/Pa/s/m2", "ng/(Pa s m2)", "ng/(s m2 Pa)"], 1.0),
    ];
    Airflow: "an airflow with its unit", like "1200 cfm", up to 200000.0, several false, base cubic_meters_per_hour, [
        (["cfm", "ft3/min"], 60.0 * FOOT_M * FOOT_M * FOOT_M), (["m3/h"], 1.0),
    ];
    Share: "a share in percent", like "10 %", up to 100.0, several false, base of_one, [(["%", "percent"], 0.01)];
    Humidity: "a relative humidity in percent", like "55 %", up to 100.0, several false, base percent, [
        (["%", "percent", "% RH", "%RH"], 1.0),
    ];
    Degrees: "a difference of temperature with its unit", like "5 F", up to 100.0, several false, base kelvin, [
        (["F", "\u{B0}F", "deg F"], 5.0 / 9.0), (["C", "\u{B0}C", "deg C", "K"], 1.0),
    ];
}

const FAHRENHEIT: &[&str] = &["F", "\u{B0}F", "deg F", "degrees F"];
const CELSIUS: &[&str] = &["C", "\u{B0}C", "deg C", "degrees C"];

impl Scalar for Temperature {
    const EXPECTED: &str = "a temperature with its unit";
    const EXAMPLE: &str = "\"55 F\"";

    fn form() -> ValueForm {
        ValueForm::Measure { units: vec![FAHRENHEIT[0], CELSIUS[0]], most: None }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        const ADVICE: &str = "write `\"55 F\"` or `\"13 C\"`";
        if matches!(value, DeValue::Integer(_) | DeValue::Float(_)) {
            return Err(ValueFault::new("has no unit").help(ADVICE));
        }
        let text = text_of::<Self>(value)?;
        let refused = |why: &str| Err(ValueFault::new(format!("{why}: `{text}`")).help(ADVICE));
        let trimmed = text.trim();
        let (below_zero, plain) = match trimmed.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest),
            None => (false, trimmed),
        };
        if plain.starts_with(['-', '\u{2212}']) {
            return refused("is not a temperature");
        }
        let terms = terms(plain).map_err(|fault| fault.or_help(ADVICE))?;
        let [Term { value: number, unit, .. }] = terms.as_slice() else {
            return refused("has more than one number");
        };
        let number = if below_zero { -number } else { *number };
        let temperature = match unit.as_str() {
            unit if size_of(&[(FAHRENHEIT, 1.0)], unit).is_some() => Self::fahrenheit(number),
            unit if size_of(&[(CELSIUS, 1.0)], unit).is_some() => Self::celsius(number),
            "" => return refused("has no unit"),
            _ => {
                let message = format!("has the unit `{unit}`, which does not fit here");
                let fault = ValueFault::new(message);
                return Err(fault.help("expected a temperature: `F` or `C`"));
            }
        };
        // Where people lay floors; a reading outside is a slip of the pen.
        if !(-40.0..=60.0).contains(&temperature.as_celsius()) {
            return Err(ValueFault::new(format!("is outside -40 C to 60 C: `{text}`"))
                .help("check the number and whether it is F or C"));
        }
        Ok(temperature)
    }
}
