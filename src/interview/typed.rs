//! Typed lines as a file has them: `28` as `$28.00/h`, `84` as `84 %`, `22'6"` as
//! `22 ft 6 in`. Only where there is one way to take it; all else is left to the readers of files.

use jiff::civil::{Date, Weekday};

use crate::base::address::MailAddress;
use crate::base::names::{FixedWords, JobNumber, JobPath, Key};
use crate::base::quantity::*;
use crate::interview::choice::List;
use crate::model::book::{MixRatio, SurfaceProfile};
use crate::read::amount::{Amount, PerArea, PerHour, amount_and_unit, usual_unit};
use crate::read::measure::Measure;
use crate::read::scalar::{LongText, Scalar};

/// Answers that say that nothing is known, beside Enter.
pub const SKIPPED: &[&str] =
    &[UNKNOWN, "not known", "-", "don't know", "dont know", "do not know", "not sure"];
pub const UNKNOWN: &str = "unknown";

/// The reason for which a line is not taken, in whole sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Untaken {
    pub message: String,
    pub help: Option<String>,
}

impl Untaken {
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), help: None }
    }

    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Another reason where this one came without help: with it, it says more than the other.
    pub fn or_without_help(self, other: Self) -> Self {
        if self.help.is_some() { self } else { other }
    }
}

/// The facts that are known where a line is typed.
#[derive(Debug, Clone)]
pub struct Here<'a> {
    pub today: Date,
    /// The job is in metric units.
    pub metric: bool,
    /// Money is US dollars: without a unit it is for a square foot.
    pub us_dollars: bool,
    /// The sign before an amount of money: `$`, `CHF `.
    pub sign: String,
    /// An answer to the question, as one types it.
    pub example: String,
    /// The unit of the answer that the question shows.
    pub unit: Option<String>,
    /// The words that may be chosen.
    pub list: List<'a>,
}

impl Here<'_> {
    /// True where a date with slashes has its month first.
    pub fn month_first(&self) -> bool {
        self.us_dollars && !self.metric
    }

    /// Says what a line is not, and what to type.
    pub fn no(&self, what: &str) -> Untaken {
        Untaken::new(format!("{what}; type it as {}", self.example))
    }

    /// As [`Here::no`], with no more of the example than its date.
    pub fn no_day(&self, what: &str) -> Untaken {
        let day = self.example.split(' ').find(|word| word.contains('-'));
        Untaken::new(format!("{what}; type it as {}", day.unwrap_or(&self.example)))
    }
}

/// A value that a person may type otherwise than a file has it.
pub trait Typed: Scalar {
    /// Returns the line as a file has it; as it is where that cannot be told.
    ///
    /// # Errors
    /// [`Untaken`] where nothing of this kind was typed, and the reader of files would speak of
    /// what a file looks like.
    fn plainly(typed: &str, _: &Here<'_>) -> Result<String, Untaken> {
        Ok(typed.to_owned())
    }
}

/// Words out of a list.
impl<T: FixedWords> Typed for T {}

/// Texts, and what is nothing but chosen.
macro_rules! as_typed {
    ($($name:ty),* $(,)?) => {$(impl Typed for $name {})*};
}

as_typed!(String, LongText, JobNumber, JobPath, Key, MailAddress, bool, Weekday);
as_typed!(MixRatio, SurfaceProfile, Permeance, Ph, Degrees);

/// Measures, by the grammar of files. A number alone gets the unit that the question shows.
macro_rules! spelled_out {
    ($($name:ty),* $(,)?) => {$(
        impl Typed for $name {
            fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
                let typed = unquoted(typed).replace("''", "\"");
                let plain = <$name as Measure>::spelled_out(&typed, here.unit.as_deref());
                Ok(plain.unwrap_or(typed))
            }
        }
    )*};
}

spelled_out!(
    Length, Area, Mass, Strength, Content, Airflow, Share, Humidity, Volume, ArealMass, Thickness,
    Hours, Spread, Mver, MolarMass, Ppm,
);

impl Typed for u32 {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        let typed = unquoted(typed);
        if typed.is_empty() || typed.contains(|c: char| !c.is_ascii_digit()) {
            return Err(here.no("That is no whole number"));
        }
        // A number in a file does not begin with a zero.
        let plain = typed.trim_start_matches('0');
        Ok(if plain.is_empty() { "0" } else { plain }.to_owned())
    }
}

impl Typed for Temperature {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        let typed = unquoted(typed);
        let lower = typed.to_lowercase();
        let number = ["degrees", "degree", "deg", "\u{b0}", "\u{ba}", "\u{2da}"]
            .iter()
            .find_map(|word| lower.strip_suffix(word))
            .unwrap_or(&lower)
            .trim();
        let unsigned = number.strip_prefix(['-', '\u{2212}']).unwrap_or(number);
        let unit = if here.metric { "C" } else { "F" };
        Ok(if is_number(unsigned) { format!("{number} {unit}") } else { typed.to_owned() })
    }
}

impl Typed for Amount {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        Ok(with_sign(unquoted(typed), here))
    }
}

impl Typed for PerHour {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        Ok(rate(unquoted(typed), here, Some("h")))
    }
}

impl Typed for PerArea {
    fn plainly(typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        let usual = here.us_dollars.then_some("ft2");
        Ok(rate(unquoted(typed), here, usual))
    }
}

/// Money for something. `usual` is the unit of an amount that has none.
fn rate(typed: &str, here: &Here<'_>, usual: Option<&str>) -> String {
    let (amount, unit) = match (amount_and_unit(typed), usual) {
        (Some((amount, unit)), _) => (amount, usual_unit(unit).unwrap_or(unit)),
        (None, Some(usual)) => (typed, usual),
        (None, None) => return typed.to_owned(),
    };
    let amount = with_sign(amount, here);
    // An amount that needed words or a unit is written out to the cent.
    let as_in_file = typed.ends_with(&format!("/{unit}"));
    let digits = amount.chars().rev().take_while(|c| c.is_ascii_digit()).count();
    let cents = match digits {
        _ if as_in_file || digits == 0 => "",
        _ if !amount.contains(['.', ',']) => ".00",
        1 if amount.matches('.').count() == 1 => "0",
        _ => "",
    };
    format!("{amount}{cents}/{unit}")
}

/// A number alone as money of the book.
fn with_sign(typed: &str, here: &Here<'_>) -> String {
    if is_number(typed) { format!("{}{typed}", here.sign) } else { typed.to_owned() }
}

/// True for digits with at most one point.
fn is_number(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
        && text.chars().all(|c| c.is_ascii_digit() || c == '.')
        && text.matches('.').count() <= 1
}

/// A measure without the quotes that somebody put about it. One at the end that closes none may be
/// the mark of inches.
pub fn unquoted(typed: &str) -> &str {
    let mut rest = typed.trim();
    while let Some(inside) = rest.strip_prefix(QUOTES) {
        rest = inside.strip_suffix(QUOTES).unwrap_or(inside).trim();
    }
    rest
}

const QUOTES: &[char] = &[
    '"', '\'', '`', '\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}', '\u{ab}', '\u{bb}',
];

#[cfg(test)]
pub mod testing {
    use super::*;

    /// A job of the US, on 2026-05-12.
    pub fn here() -> Here<'static> {
        Here {
            today: Date::constant(2026, 5, 12),
            metric: false,
            us_dollars: true,
            sign: "$".into(),
            example: "2026-05-01".into(),
            unit: None,
            list: List { words: &[], meanings: &[] },
        }
    }
}

#[cfg(test)]
mod tests {
    use toml::de::DeValue;

    use super::testing::here;
    use super::*;

    /// The line that is written is one that the reader takes.
    #[track_caller]
    fn taken<T: Typed>(typed: &str, here: &Here<'_>, plain: &str) {
        assert_eq!(T::plainly(typed, here).unwrap(), plain, "{typed}");
        assert!(T::read(&DeValue::String(plain.into())).is_ok(), "{plain}");
        assert_eq!(T::plainly(plain, here).unwrap(), plain, "a second time");
    }

    #[test]
    fn a_number_whose_unit_can_only_be_one_gets_it() {
        let us = here();
        let metric = Here { metric: true, ..here() };
        for (typed, plain) in [("7.25", "7.25 %"), ("0", "0 %"), ("12 percent", "12 %")] {
            taken::<Share>(typed, &us, plain);
            taken::<Humidity>(typed, &us, plain);
        }
        let feet = Here { unit: Some("ft".into()), ..here() };
        let meters = Here { unit: Some("m".into()), ..here() };
        for (typed, us, metric) in
            [("0", "0 ft", "0 m"), ("4", "4 ft", "4 m"), ("6 1/2", "6 1/2 ft", "6 1/2 m")]
        {
            taken::<Length>(typed, &feet, us);
            taken::<Length>(typed, &meters, metric);
        }
        taken::<Length>("270 cm", &feet, "270 cm");
        for typed in ["58", "58\u{b0}", "58 degrees", "58 deg"] {
            taken::<Temperature>(typed, &us, "58 F");
        }
        taken::<Temperature>("14", &metric, "14 C");
        taken::<Temperature>("-5", &metric, "-5 C");
        taken::<Temperature>("14 C", &us, "14 C");
        assert_eq!(Length::plainly("4", &us).unwrap(), "4", "no question named a unit");
        let grams = Here { unit: Some("g".into()), ..here() };
        assert_eq!(Mass::plainly("218.4", &grams).unwrap(), "218.4 g");
    }

    #[test]
    fn money_gets_its_sign_and_what_it_is_for() {
        let us = here();
        for typed in ["28", "$28", "28.00", "$28 per hour", "28 an hour", "$28.0", "28/hour"] {
            let Ok(plain) = PerHour::plainly(typed, &us) else { panic!("{typed}") };
            assert_eq!(plain, "$28.00/h", "{typed}");
        }
        taken::<PerHour>("28.50", &us, "$28.50/h");
        taken::<PerHour>("$40/h", &us, "$40/h");
        taken::<PerArea>("0.4", &us, "$0.40/ft2");
        taken::<PerArea>("$0.40/sqft", &us, "$0.40/ft2");
        taken::<PerArea>("$0.285", &us, "$0.285/ft2");
        taken::<Amount>("350", &us, "$350");
        let swiss = Here { sign: "CHF ".into(), us_dollars: false, ..here() };
        taken::<PerHour>("28", &swiss, "CHF 28.00/h");
        assert_eq!(PerArea::plainly("4", &swiss).unwrap(), "4", "a square foot, or a meter?");
    }

    #[test]
    fn quotes_about_a_measure_go_and_marks_become_words() {
        for typed in [
            "22'6\"",
            "\"\"22'6\"",
            "\"22'6\"\"",
            "\u{201c}22'6\"\u{201d}",
            "22\u{2032}6\u{2033}",
            "22' 6\"",
            "22 ft 6",
            "22'6",
            "22'6''",
            "\u{2018}22 ft 6 in\u{2019}",
        ] {
            taken::<Length>(typed, &here(), "22 ft 6 in");
        }
        taken::<Length>("6 1/2\"", &here(), "6 1/2 in");
        taken::<Length>("22'", &here(), "22 ft");
        assert_eq!(unquoted("\"65.7 in2\""), "65.7 in2");
        assert_eq!(unquoted("\"\""), "");
        assert_eq!(String::plainly("\"quoted\"", &here()).unwrap(), "\"quoted\"");
    }

    #[test]
    fn what_is_no_number_is_told_with_the_example_of_the_question() {
        let year = Here { example: "1994".into(), ..here() };
        for typed in ["abc", "19.5", "-3", "0x10", "1_994", ""] {
            let untaken = u32::plainly(typed, &year).unwrap_err();
            assert_eq!(untaken.message, "That is no whole number; type it as 1994", "{typed}");
        }
        assert_eq!(u32::plainly("007", &year).unwrap(), "7");
    }
}
