//! Figures as a reader sees them: the only place where a number becomes text for paper or
//! terminal. Numbers follow the job's units, words and marks follow its language.

mod apart;
mod crew;
mod time;

pub use time::{CLOCK_STEP, Toward};

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Deserialize;

use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::base::quantity::*;
use crate::model::job::Units;
use crate::read::amount::{CURRENCIES, in_groups};

/// The sign before a number below zero: no hyphen, at which a line could break.
const MINUS: &str = "\u{2212}";

/// Words in place of what no font can print.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StandInWords {
    /// For a sign: an emoji, an arrow.
    pub sign: String,
    /// For letters.
    pub letters: String,
}

/// Marks and words of a language, from `words/*/figures.toml`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FigureWords {
    /// ISO 3166 region whose spelling the words follow, lower case.
    pub region: String,
    pub decimal_mark: String,
    pub group_mark: String,
    pub months: Vec<String>,
    /// From Monday on.
    pub weekdays: Vec<String>,
    pub weekdays_short: Vec<String>,
    /// With `{day}`, `{month}`, `{year}`.
    pub date: String,
    /// With `{weekday}` too.
    pub date_long: String,
    /// With `{weekday}`, `{day}` and `{month}`.
    pub date_weekday: String,
    /// With `{day}` and `{month}`: for days that are near.
    pub date_short: String,
    pub day: String,
    pub days: String,
    pub hour: String,
    pub hours: String,
    pub minute: String,
    pub minutes: String,
    /// With `{hour}`, `{minute}` and `{half}`.
    pub clock: String,
    pub clock_full_hour: String,
    pub morning: String,
    pub afternoon: String,
    /// Empty where the clock says it better.
    pub noon: String,
    pub midnight: String,
    /// True where clocks count to 24.
    pub clock_24: bool,
    pub list_comma: String,
    pub list_and: String,
    /// In place of both others before the sound of an i; empty where a language has no such rule.
    pub list_and_i: String,
    pub list_last: String,
    pub stand_in: StandInWords,
    pub unit: UnitWords,
}

/// Names of units, each put after its number.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnitWords {
    /// Of one alone, as are the others of that name.
    pub one_foot: String,
    pub feet: String,
    pub inches: String,
    pub meters: String,
    pub millimeters: String,
    pub one_square_foot: String,
    pub square_feet: String,
    pub square_meters: String,
    pub one_mil: String,
    pub mils: String,
    pub micrometers: String,
    pub fahrenheit: String,
    pub celsius: String,
    pub mver_us: String,
    pub mver_us_long: String,
    pub mver_metric: String,
    pub mver_metric_long: String,
    pub percent: String,
    pub slab_humidity: String,
    /// Of percent: what lies between two shares.
    pub point: String,
    pub points: String,
    pub psi: String,
    pub megapascals: String,
    pub grams_per_liter: String,
    pub gallons: String,
    pub quarts: String,
    pub fluid_ounces: String,
    pub liters: String,
    pub pounds: String,
    /// Of mass.
    pub ounces: String,
    pub grams: String,
    pub kilograms: String,
    pub square_feet_per_gallon: String,
    pub square_meters_per_liter: String,
    pub cubic_feet: String,
    pub cubic_meters: String,
    pub cubic_feet_per_minute: String,
    pub cubic_meters_per_hour: String,
    /// Put before its number.
    pub ph: String,
    pub perms: String,
    pub nanograms_permeance: String,
}

/// Writes figures for one job.
#[derive(Debug, Clone)]
pub struct Figures<'a> {
    pub units: Units,
    /// ISO 4217 code.
    pub currency: &'a str,
    pub words: &'a FigureWords,
}

/// Part of a figure by which binary fractions may fall short of a half: far less than any figure shows.
const HALF_SLACK: f64 = 1e-9;

/// A number above zero with a fixed count of decimals, halves up.
fn rounded(value: f64, decimals: usize) -> String {
    format!("{:.decimals$}", value * (1.0 + HALF_SLACK))
}

impl Figures<'_> {
    pub fn write(&self, figure: &Figure) -> String {
        self.finer(figure, 0)
    }

    /// A figure with some more digits than usual.
    fn finer(&self, figure: &Figure, more: usize) -> String {
        let unit = &self.words.unit;
        // A number with its usual decimals, or one without zeros at its end.
        let fixed = |value, decimals| self.digits(value, decimals, more);
        let short = |value, most| self.short(value, most + more);
        let (number, unit) = match (figure, self.units) {
            (Figure::Text(text), _) => return text.clone(),
            (Figure::Texts(texts), _) => return self.list(texts),
            (Figure::Count(count), _) => return self.number(f64::from(*count), 0),
            (Figure::Money(cents), _) => return self.money(*cents),
            (Figure::Date(date), _) => return self.date(*date),
            (Figure::Days(days), _) => return self.days(*days),
            (Figure::Length(length), _) if more > 0 => return self.fine_length(*length, more),
            (Figure::Length(length), _) => return self.length(*length),
            (Figure::Mver(rate), _) if more > 0 => return self.fine_mver(*rate, more),
            (Figure::Mver(rate), _) => return self.mver(*rate, false),
            (Figure::Hours(hours), _) if more > 0 => return self.fine_hours(*hours, more),
            (Figure::Hours(hours), _) => return self.hours(*hours),
            (Figure::NoLonger(hours), _) => return self.hours_toward(*hours, Toward::Less),
            (Figure::NoShorter(hours), _) => return self.hours_toward(*hours, Toward::More),
            (Figure::Thickness(film), _) if more == 0 => {
                return self.thickness(self.film_number(*film));
            }
            (Figure::Ph(ph), _) => return format!("{}{}", unit.ph, self.short(ph.as_units(), 1)),
            (Figure::Thickness(film), Units::Us) => {
                return counted(short(film.as_mils(), 1), &unit.one_mil, &unit.mils);
            }
            (Figure::Thickness(film), Units::Metric) => {
                (self.short(film.as_micrometers(), more - 1), &unit.micrometers)
            }
            (Figure::Area(a), Units::Us) => {
                let number = fixed(a.as_square_feet(), 0);
                return counted(number, &unit.one_square_foot, &unit.square_feet);
            }
            (Figure::Area(a), Units::Metric) => {
                (fixed(a.as_square_meters(), 1), &unit.square_meters)
            }
            (Figure::Temperature(t), Units::Us) => (fixed(t.as_fahrenheit(), 0), &unit.fahrenheit),
            (Figure::Temperature(t), Units::Metric) => (fixed(t.as_celsius(), 0), &unit.celsius),
            (Figure::Degrees(d), Units::Us) => (short(d.as_fahrenheit(), 1), &unit.fahrenheit),
            (Figure::Degrees(d), Units::Metric) => (short(d.as_kelvin(), 1), &unit.celsius),
            (Figure::Humidity(h), _) => (fixed(h.as_percent(), 0), &unit.percent),
            (Figure::SlabHumidity(h), _) => (fixed(h.as_percent(), 0), &unit.slab_humidity),
            (Figure::Points(between), _) => {
                let points = fixed(between.as_percent(), 0);
                let unit = if points == "1" { &unit.point } else { &unit.points };
                (points, unit)
            }
            (Figure::Share(share), _) => (short(share.as_percent(), 2), &unit.percent),
            (Figure::Strength(s), Units::Us) => (fixed(s.as_psi(), 0), &unit.psi),
            (Figure::Strength(s), Units::Metric) => {
                (short(s.as_megapascals(), 2), &unit.megapascals)
            }
            (Figure::Content(c), _) => (fixed(c.as_grams_per_liter(), 0), &unit.grams_per_liter),
            (Figure::Volume(v), Units::Us) => (short(v.as_gallons(), 2), &unit.gallons),
            (Figure::Volume(v), Units::Metric) => (short(v.as_liters(), 1), &unit.liters),
            (Figure::Mass(m), Units::Us) => (short(m.as_pounds(), 1), &unit.pounds),
            (Figure::Mass(m), Units::Metric) => (short(m.as_kilograms(), 1), &unit.kilograms),
            (Figure::Spread(s), Units::Us) => {
                (fixed(s.as_square_feet_per_gallon(), 0), &unit.square_feet_per_gallon)
            }
            (Figure::Spread(s), Units::Metric) => {
                (short(s.as_square_meters_per_liter(), 1), &unit.square_meters_per_liter)
            }
            (Figure::Room(room), Units::Us) => (fixed(room.as_cubic_feet(), 0), &unit.cubic_feet),
            (Figure::Room(room), Units::Metric) => {
                (fixed(room.as_cubic_meters(), 1), &unit.cubic_meters)
            }
            (Figure::Permeance(p), Units::Us) => (self.short(p.as_perms(), 2), &unit.perms),
            (Figure::Permeance(p), Units::Metric) => {
                (self.short(p.as_nanograms(), 1), &unit.nanograms_permeance)
            }
            (Figure::Airflow(flow), Units::Us) => {
                (fixed(flow.as_cubic_feet_per_minute(), 0), &unit.cubic_feet_per_minute)
            }
            (Figure::Airflow(flow), Units::Metric) => {
                (fixed(flow.as_cubic_meters_per_hour(), 0), &unit.cubic_meters_per_hour)
            }
        };
        format!("{number}{unit}")
    }

    /// A moisture rate, short or with its whole unit.
    pub fn mver(&self, rate: Mver, long: bool) -> String {
        let unit = &self.words.unit;
        let unit = match (self.units, long) {
            (Units::Us, false) => &unit.mver_us,
            (Units::Us, true) => &unit.mver_us_long,
            (Units::Metric, false) => &unit.mver_metric,
            (Units::Metric, true) => &unit.mver_metric_long,
        };
        format!("{}{unit}", self.short(self.mver_number(rate), 1))
    }

    /// The number of a moisture rate alone, in the unit of [`Figures::mver`].
    pub fn mver_number(&self, rate: Mver) -> f64 {
        if self.units == Units::Us { rate.as_pounds() } else { grams(rate) }
    }

    /// The number that is printed of a film: mils to the tenth below ten, micrometers to five below a
    /// hundred.
    fn film_number(&self, film: Thickness) -> f64 {
        let (film, small, step, large) = match self.units {
            Units::Us => (film.as_mils(), 10.0, 0.1, 1.0),
            Units::Metric => (film.as_micrometers(), 100.0, 5.0, 10.0),
        };
        let step = if film < small { step } else { large };
        (film / step).round() * step
    }

    fn thickness(&self, number: f64) -> String {
        let unit = &self.words.unit;
        let number = self.short(number, 1);
        match self.units {
            Units::Us => counted(number, &unit.one_mil, &unit.mils),
            Units::Metric => format!("{number}{}", unit.micrometers),
        }
    }

    /// Films in all, as the sum of what is printed of each.
    pub fn films(&self, films: &[Thickness]) -> String {
        self.thickness(films.iter().map(|film| self.film_number(*film)).sum())
    }

    /// Areas in all, as the sum of what is printed of each.
    pub fn areas(&self, areas: &[Area]) -> String {
        let unit = &self.words.unit;
        // What a page shows, rounded by the same hand.
        let printed =
            |number: f64, decimals: usize| rounded(number, decimals).parse().unwrap_or(number);
        let (of, decimals, one, many): (fn(Area) -> f64, _, _, _) = match self.units {
            Units::Us => (Area::as_square_feet, 0, &unit.one_square_foot, &unit.square_feet),
            Units::Metric => (Area::as_square_meters, 1, &unit.square_meters, &unit.square_meters),
        };
        let sum = areas.iter().map(|area| printed(of(*area), decimals)).sum();
        counted(self.number(sum, decimals), one, many)
    }

    /// Money with its sign: `$1,234.50`; whole amounts keep their cents, so that columns align.
    pub fn money(&self, cents: Cents) -> String {
        let known = CURRENCIES.iter().find(|(code, _)| *code == self.currency);
        let sign = known.map_or("", |(_, sign)| *sign);
        let digits = self.group(&(cents.0.abs() / 100).to_string());
        let minus = if cents.0 < 0 { MINUS } else { "" };
        let space = if sign.len() > 1 && sign.is_ascii() { "\u{A0}" } else { "" };
        format!("{minus}{sign}{space}{digits}{}{:02}", self.words.decimal_mark, cents.0.abs() % 100)
    }

    /// Money without its cents, for an amount that has none: `$1,230`.
    pub fn whole_money(&self, cents: Cents) -> String {
        let text = self.money(cents);
        let none = format!("{}00", self.words.decimal_mark);
        text.strip_suffix(&none).map_or_else(|| text.clone(), str::to_owned)
    }

    /// A length: feet and inches, or meters; small ones in inches or millimeters.
    pub fn length(&self, length: Length) -> String {
        let unit = &self.words.unit;
        if self.units == Units::Metric {
            let millimeters = length.as_millimeters();
            let decimals = usize::from(millimeters < 10.0);
            return if millimeters.round() < 1000.0 {
                format!("{}{}", self.short(millimeters, decimals), unit.millimeters)
            } else {
                format!("{}{}", self.short(length.as_meters(), 2), unit.meters)
            };
        }
        // As printed: what is worked out of a foot may be a hair less.
        let inches = length.as_inches();
        if (inches * 100.0).round() < 1200.0 {
            return format!("{}{}", self.short(inches, 2), unit.inches);
        }
        let whole = inches.round();
        let (feet, rest) = ((whole / 12.0).floor(), whole % 12.0);
        let feet = counted(self.number(feet, 0), &unit.one_foot, &unit.feet);
        if rest == 0.0 {
            feet
        } else {
            format!("{feet}\u{A0}{}{}", self.number(rest, 0), unit.inches)
        }
    }

    /// A number with a fixed count of decimals, halves away from zero as amounts of money are rounded. What
    /// a change of units leaves below a half is the half.
    pub fn number(&self, value: f64, decimals: usize) -> String {
        let text = rounded(value.abs(), decimals);
        let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
        let zero = text.chars().all(|c| c == '0' || c == '.');
        let minus = if value < 0.0 && !zero { MINUS } else { "" };
        let whole = self.group(whole);
        if part.is_empty() {
            format!("{minus}{whole}")
        } else {
            format!("{minus}{whole}{}{part}", self.words.decimal_mark)
        }
    }

    /// A number with at most so many decimals and no zeros at its end.
    pub fn short(&self, value: f64, most: usize) -> String {
        let text = self.number(value, most);
        if most == 0 {
            return text;
        }
        let mark = self.words.decimal_mark.as_str();
        text.trim_end_matches('0').trim_end_matches(mark).to_owned()
    }

    /// A decimal, such as hours of work, with two places.
    pub fn decimal(&self, value: Decimal) -> String {
        self.number(value.to_f64().unwrap_or(0.0), 2)
    }

    fn group(&self, digits: &str) -> String {
        in_groups(digits, &self.words.group_mark)
    }

    /// `a`, `a and b`, `a, b and c`.
    pub fn list(&self, items: &[String]) -> String {
        let words = self.words;
        let before = |last: &str, usual: &'_ str| match sounds_like_i(last) {
            true if !words.list_and_i.is_empty() => words.list_and_i.clone(),
            _ => usual.to_owned(),
        };
        match items {
            [] => String::new(),
            [one] => one.clone(),
            [one, two] => format!("{one}{}{two}", before(two, &words.list_and)),
            [first @ .., last] => {
                let and = before(last, &words.list_last);
                format!("{}{and}{last}", first.join(&words.list_comma))
            }
        }
    }
}

/// True for a word before which Spanish says `e` for `y`: `isocianatos`, `hilo`, not `hielo`.
fn sounds_like_i(word: &str) -> bool {
    let word = word.to_lowercase();
    let rest = word.strip_prefix('h').unwrap_or(&word);
    let mut letters = rest.chars();
    matches!(letters.next(), Some('i' | 'í')) && !matches!(letters.next(), Some('a' | 'e' | 'o'))
}

fn grams(rate: Mver) -> f64 {
    rate.as_pounds() * GRAMS_PER_POUND_RATE
}

/// A number before its unit: that of one alone, or that of any other count.
fn counted(number: String, one: &str, many: &str) -> String {
    let unit = if number == "1" { one } else { many };
    number + unit
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::layouts::Layouts;
    use crate::say::words::Words;

    /// By hand: 672.5 is 673 and 1.25 is 1.3, as amounts of money are rounded; what a change of units leaves below a
    /// half is the half, and a sum of areas is that of what is printed of each.
    #[test]
    fn halves_go_away_from_zero() {
        let words = Words::read(&Layouts::default(), "en").unwrap().figures;
        let figures = Figures { units: Units::Us, currency: "USD", words: &words };
        for (value, decimals, text) in [
            (672.5, 0, "673"),
            (671.5, 0, "672"),
            (1.25, 1, "1.3"),
            (0.285 * 100.0, 0, "29"),
            (672.49, 0, "672"),
            (-0.5, 0, "\u{2212}1"),
            (-0.4, 0, "0"),
        ] {
            assert_eq!(figures.number(value, decimals), text, "{value}");
        }
        let half = Area::square_feet(672.5);
        assert!(figures.areas(&[half, Area::square_feet(17.5)]).starts_with("691"));
    }

    /// A side that is worked out from two places may be a hair less than it was typed.
    #[test]
    fn a_foot_and_a_meter_that_are_a_hair_short_are_one() {
        let words = Words::read(&Layouts::default(), "en").unwrap().figures;
        let said = |units, length| {
            let figures = Figures { units, currency: "USD", words: &words };
            figures.length(length).replace('\u{A0}', " ")
        };
        let hair = 1e-9;
        assert_eq!(said(Units::Us, Length::feet(1.0 - hair)), "1 ft");
        assert_eq!(said(Units::Us, Length::inches(11.99)), "11.99 in");
        assert_eq!(said(Units::Metric, Length::meters(1.0 - hair)), "1 m");
        assert_eq!(said(Units::Metric, Length::meters(0.999)), "999 mm");
    }
}
