//! Single values as people write them: `22 ft 6 in`, `18 mil`, `$285.00`, `55 F`, `12 %`.
//!
//! Every kind of value knows what it expects, an example, its units and the most it accepts, so
//! that one message shape serves all of them. Quantities are in `measure`, money in `amount`.

use jiff::civil::{Date, DateTime, Time};
use toml::de::DeValue;

use crate::base::address::{MailAddress, address_fault};
use crate::base::names::{FixedWords, JobNumber, JobPath, Key};
use crate::model::job::Calibrated;
use crate::read::form::ValueForm;
use crate::read::keys::spec::Bound;
use crate::read::limits;
use crate::read::text::{TextFault, clean, is_device, path_fault};

/// The reason for which a value is refused.
#[derive(Debug)]
pub struct ValueFault {
    /// The end of a sentence, as in "`width` {message}".
    pub message: String,
    pub help: Option<String>,
}

impl ValueFault {
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), help: None }
    }

    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Advice where there is none yet.
    pub fn or_help(self, help: impl Into<String>) -> Self {
        if self.help.is_some() { self } else { self.help(help) }
    }
}

/// A value that can stand behind a key.
pub trait Scalar: Sized {
    /// The value that is expected: `a length with its unit`; empty for a choice, which lists its words.
    const EXPECTED: &str = "";
    /// One value, `"22 ft 6 in"`, as it stands in TOML; empty for the first of some words.
    const EXAMPLE: &str = "";
    /// Its form in a file; a short text unless said otherwise.
    fn form() -> ValueForm {
        ValueForm::Text { most: limits::SHORT_TEXT, pattern: None }
    }
    /// Returns the value that is expected, for advice.
    fn expected() -> String {
        match Self::form() {
            ValueForm::Words(words) => {
                let words: Vec<String> = words.iter().map(|word| format!("{word:?}")).collect();
                format!("one of {}", words.join(", "))
            }
            _ => Self::EXPECTED.to_owned(),
        }
    }
    /// An example, for advice.
    fn example() -> String {
        match Self::form() {
            ValueForm::Words(words) if Self::EXAMPLE.is_empty() => format!("{:?}", words[0]),
            _ => Self::EXAMPLE.to_owned(),
        }
    }
    /// Returns the expected value with an example.
    fn advice() -> String {
        format!("write {}, for example `{}`", Self::expected(), Self::example())
    }
    /// Reads it.
    ///
    /// # Errors
    /// A [`ValueFault`] that says what is wrong with the value found.
    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault>;
    /// Says how it breaks the bound of a key, if it does.
    fn breaks(&self, _: Bound) -> Option<String> {
        None
    }
}

/// The kind of a TOML value in plain words.
pub fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
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
pub(crate) fn text_of<'a, T: Scalar>(value: &'a DeValue<'_>) -> Result<&'a str, ValueFault> {
    value.as_str().ok_or_else(|| wrong_kind::<T>(value))
}

pub(crate) fn wrong_kind<T: Scalar>(value: &DeValue<'_>) -> ValueFault {
    ValueFault::new(format!("is {}", kind_of(value))).help(T::advice())
}

fn text_fault(fault: TextFault) -> ValueFault {
    match fault {
        TextFault::Empty => {
            ValueFault::new("is empty").help("write something, or leave the key out")
        }
        TextFault::TooLong { most, found } => ValueFault::new(format!("has {found} characters"))
            .help(format!("the most accepted is {most}")),
        TextFault::Marks { most } => ValueFault::new("has a letter under a stack of marks")
            .help(format!("the most accepted is {most} marks on one letter")),
        TextFault::Character { code, what } => {
            ValueFault::new(format!("holds {what} (U+{code:04X})")).help("take it out")
        }
    }
}

impl Scalar for String {
    const EXPECTED: &str = "text";
    const EXAMPLE: &str = "\"as it should be printed\"";

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        clean(text_of::<Self>(value)?, limits::SHORT_TEXT, false).map_err(text_fault)
    }

    fn breaks(&self, bound: Bound) -> Option<String> {
        let Bound::Words(words) = bound else { return None };
        (!words().contains(self)).then(|| format!("is `{self}`"))
    }
}

/// A longer text that may have line breaks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LongText(pub String);

impl Scalar for LongText {
    const EXPECTED: &str = "text";
    const EXAMPLE: &str = "\"as it should be printed\"";

    fn form() -> ValueForm {
        ValueForm::Text { most: limits::LONG_TEXT, pattern: None }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        clean(text_of::<Self>(value)?, limits::LONG_TEXT, true).map(Self).map_err(text_fault)
    }
}

impl Scalar for JobPath {
    const EXPECTED: &str = "a file in the job's folder";
    const EXAMPLE: &str = "\"photos/door.jpg\"";

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let path = clean(text_of::<Self>(value)?, limits::SHORT_TEXT, false).map_err(text_fault)?;
        match path_fault(&path) {
            None => Ok(Self(path)),
            Some(why) => Err(ValueFault::new(format!("{why}: `{path}`")).help(format!(
                "name a file inside the folder of the file you write this in, for example `{}`",
                Self::example()
            ))),
        }
    }
}

impl Scalar for Key {
    const EXPECTED: &str = "a name of lower-case letters, digits and hyphens";
    const EXAMPLE: &str = "\"barrier-epoxy\"";

    fn form() -> ValueForm {
        let pattern = Some("^[a-z0-9]([a-z0-9-]*[a-z0-9])?$");
        ValueForm::Text { most: limits::KEY, pattern }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = text_of::<Self>(value)?;
        if Self::is_plain(text) {
            return Ok(Self(text.to_owned()));
        }
        let fault = ValueFault::new(format!("is not a plain name: `{}`", text.escape_debug()));
        Err(match text.split_once(',').map(|(first, _)| first.trim()) {
            Some(first) if Self::is_plain(first) => {
                fault.help(format!("one name goes here: `\"{first}\"`, or another of them"))
            }
            _ => fault.help(Self::advice()),
        })
    }
}

impl Key {
    fn is_plain(text: &str) -> bool {
        !text.is_empty()
            && text.len() <= limits::KEY
            && !text.starts_with('-')
            && !text.ends_with('-')
            && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
    }
}

impl Scalar for JobNumber {
    const EXPECTED: &str = "a job number of letters, digits and hyphens";
    const EXAMPLE: &str = "\"2026-0142\"";

    fn form() -> ValueForm {
        let pattern = Some("^[A-Za-z0-9][A-Za-z0-9-]*$");
        ValueForm::Text { most: limits::NUMBER, pattern }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = text_of::<Self>(value)?;
        let plain = (1..=limits::NUMBER).contains(&text.len())
            && !is_device(text)
            && text.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
            && text.starts_with(|c: char| c.is_ascii_alphanumeric());
        if plain {
            return Ok(Self(text.to_owned()));
        }
        let (most, example) = (limits::NUMBER, Self::example());
        Err(ValueFault::new(format!("is not a job number: `{}`", text.escape_debug())).help(
            format!("write up to {most} letters, digits and hyphens, for example `{example}`"),
        ))
    }
}

impl Scalar for MailAddress {
    const EXPECTED: &str = "a mail address";
    const EXAMPLE: &str = "\"rosa@tannenwald.example\"";

    fn form() -> ValueForm {
        ValueForm::like(r"[^@\s]+@[^@\s]+")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = String::read(value)?;
        match address_fault(&text) {
            None => Ok(Self(text)),
            Some(why) => Err(ValueFault::new(format!("{why}: `{text}`")).help(Self::advice())),
        }
    }
}

impl Scalar for bool {
    const EXPECTED: &str = "true or false";
    const EXAMPLE: &str = "true";

    fn form() -> ValueForm {
        ValueForm::Flag
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
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

/// The most of anything that is counted, and the last year.
const MOST_WHOLE: u32 = 9_999;

impl Scalar for u32 {
    const EXPECTED: &str = "a whole number";
    const EXAMPLE: &str = "2";

    fn form() -> ValueForm {
        ValueForm::Whole { least: 0, most: MOST_WHOLE }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let DeValue::Integer(number) = value else { return Err(wrong_kind::<Self>(value)) };
        let text = number.as_str();
        match text.replace('_', "").parse::<i64>() {
            Ok(n) if number.radix() == 10 && (0..=i64::from(MOST_WHOLE)).contains(&n) => {
                Ok(n as u32)
            }
            _ => Err(ValueFault::new(format!(
                "is outside 0 to {MOST_WHOLE}: `{}`",
                as_written(number)
            ))),
        }
    }

    fn breaks(&self, bound: Bound) -> Option<String> {
        match bound {
            Bound::AboveZero if *self == 0 => Some("is zero".to_owned()),
            Bound::Within { least, most } if !(least..=most).contains(self) => {
                Some(format!("is {self}"))
            }
            Bound::Numbered { least, most } if !(least..=most).contains(self) => {
                Some(format!("is not {least} to {most}"))
            }
            _ => None,
        }
    }
}

impl Scalar for Date {
    const EXPECTED: &str = "a date";
    const EXAMPLE: &str = "2026-05-12";

    fn form() -> ValueForm {
        ValueForm::Date
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let date = value.as_datetime().filter(|d| d.time.is_none()).and_then(|d| d.date);
        let Some(date) = date else {
            return Err(
                wrong_kind::<Self>(value).help("write year-month-day without quotes: `2026-05-12`")
            );
        };
        in_years(civil(date)?)
    }
}

impl Scalar for Calibrated {
    const EXPECTED: &str = "a date, or `\"new\"`";
    const EXAMPLE: &str = "2026-04-20";

    fn form() -> ValueForm {
        ValueForm::DateOr("new")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        match value.as_str() {
            Some("new") => Ok(Self::New),
            Some(text) => Err(ValueFault::new(format!("is `{}`", text.escape_debug()))
                .help("write `\"new\"` for a new probe, or the day without quotes: `2026-04-20`")),
            None => Date::read(value).map(Self::On),
        }
    }
}

impl Scalar for DateTime {
    const EXPECTED: &str = "a date and time";
    const EXAMPLE: &str = "2026-05-08T10:30:00";

    fn form() -> ValueForm {
        ValueForm::DateTime
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let whole = value
            .as_datetime()
            .filter(|d| d.offset.is_none())
            .and_then(|d| Some((d.date?, d.time?)));
        let Some((date, time)) = whole else {
            return Err(wrong_kind::<Self>(value)
                .help("write date and time without quotes or zone: `2026-05-08T10:30:00`"));
        };
        let time = Time::new(time.hour as i8, time.minute as i8, 0, 0)
            .map_err(|_| ValueFault::new("is no time of day"))?;
        Ok(in_years(civil(date)?)?.to_datetime(time))
    }
}

impl Scalar for Time {
    const EXPECTED: &str = "a time of day";
    const EXAMPLE: &str = "07:30:00";

    fn form() -> ValueForm {
        ValueForm::Time
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let time = value.as_datetime().filter(|d| d.date.is_none()).and_then(|d| d.time);
        let Some(time) = time else {
            return Err(wrong_kind::<Self>(value).help("write a time without quotes: `07:30:00`"));
        };
        Time::new(time.hour as i8, time.minute as i8, 0, 0)
            .map_err(|_| ValueFault::new("is no time of day"))
    }
}

fn civil(date: toml::value::Date) -> Result<Date, ValueFault> {
    Date::new(date.year as i16, date.month as i8, date.day as i8)
        .map_err(|_| ValueFault::new(format!("is a date that does not exist: `{date}`")))
}

/// Jobs happen now; a year far off is a slip of the pen.
fn in_years(date: Date) -> Result<Date, ValueFault> {
    if (1900..=2199).contains(&date.year()) {
        Ok(date)
    } else {
        Err(ValueFault::new(format!("is outside the years 1900 to 2199: `{date}`")))
    }
}

impl<T: FixedWords> Scalar for T {
    fn form() -> ValueForm {
        ValueForm::words(T::WORDS)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        choice(value, T::WORDS, &Self::expected())
    }
}

/// Reads one of a list of words; a near miss is named.
pub fn choice<T: Copy>(
    value: &DeValue<'_>,
    words: &[(&str, T)],
    expected: &str,
) -> Result<T, ValueFault> {
    let Some(text) = value.as_str() else {
        return Err(
            ValueFault::new(format!("is {}", kind_of(value))).help(format!("expected {expected}"))
        );
    };
    if let Some((_, found)) = words.iter().find(|(word, _)| *word == text) {
        return Ok(*found);
    }
    let near = crate::read::suggest::nearest(text, words.iter().map(|(word, _)| *word));
    let fault = ValueFault::new(format!("is `{}`", text.escape_debug()));
    Err(match near {
        Some(near) => fault.help(format!("did you mean `\"{near}\"`? expected {expected}")),
        None => fault.help(format!("expected {expected}")),
    })
}
