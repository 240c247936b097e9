//! The form in which a value is written, for whoever describes files: schemas for editors and the
//! reference of keys. A form never refuses what the reader takes as people write it; the reader
//! alone is exact (how large a value may be, whether a day exists).

use crate::read::limits;

/// How a value is written.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// `true` or `false`.
    Flag,
    /// A whole number.
    Whole { least: u32, most: u32 },
    /// A day, as TOML writes it: `2026-05-12`.
    Date,
    /// A day, or one of these words in quotes.
    DateOr(Vec<&'static str>),
    /// A day and a clock time without a zone: `2026-05-08T10:30:00`.
    DateTime,
    /// A clock time: `07:30:00`.
    Time,
    /// One of these words.
    Words(Vec<String>),
    /// A text.
    Text(Pattern),
    /// A number or a text: an amount of money.
    NumberOr { most: f64, text: Pattern },
}

/// What a text has to look like. All patterns are in the part of regular expressions that ECMA 262,
/// Python and Rust read alike, without looking ahead or back.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pattern {
    /// The text matches each of these.
    pub all: Vec<String>,
    /// The text matches none of these.
    pub none: Vec<String>,
    /// The most characters; `None` when the patterns say enough.
    pub most: Option<usize>,
    /// Units that may stand in it, each in its usual spelling.
    pub units: Vec<&'static str>,
    /// The largest value, in words: `1000 ft`.
    pub largest: Option<String>,
}

impl Form {
    /// A form of texts by one pattern.
    pub fn pattern(pattern: impl Into<String>) -> Self {
        Self::Text(Pattern { all: vec![pattern.into()], ..Pattern::default() })
    }

    /// A text of at most `most` characters after it was put into normal form C, in which four
    /// characters may become one.
    pub fn text(most: usize, lines: bool) -> Self {
        let control = if lines { r"\x00-\x09\x0b\x0c\x0e-\x1f\x7f" } else { r"\x00-\x1f\x7f" };
        Self::Text(Pattern {
            all: vec![format!("^[^{control}]*$"), r"\S".to_owned()],
            most: Some(most * 4),
            ..Pattern::default()
        })
    }

    /// The words of a option.
    pub fn words<T>(words: &[(&str, T)]) -> Self {
        Self::Words(words.iter().map(|(word, _)| (*word).to_owned()).collect())
    }

    /// The same form without zero. Only what is measured in one unit or in units without digits.
    #[must_use]
    pub fn above_zero(self) -> Self {
        match self {
            Self::Text(mut pattern) => {
                let digit = if pattern.units.iter().any(|unit| unit.contains(char::is_numeric)) {
                    format!(
                        "^{SPACE}*[+-]?[0-9.,/ \u{A0}\u{2009}\u{202F}\u{2044}]*[1-9{ONE_CHARACTER}]"
                    )
                } else {
                    format!("[1-9{ONE_CHARACTER}]")
                };
                pattern.all.push(digit);
                Self::Text(pattern)
            }
            Self::Whole { most, .. } => Self::Whole { least: 1, most },
            other => other,
        }
    }
}

/// Any space between a number and what follows it.
const SPACE: &str = r"\s";

/// A number as people write it: `22`, `6.5`, `1,250.00`.
pub const NUMBER: &str = r"(?:(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+)(?:\.[0-9]*)?|\.[0-9]+)";

/// Fractions that are one character, within brackets of a pattern.
const ONE_CHARACTER: &str = r"\u00bc-\u00be\u2153\u2154\u215b-\u215e";

/// What stands between feet and inches on a plan: `22'-6"`.
const HYPHEN: &str = r"[-\u2010\u2011\u2013]";

/// A number or a fraction: `1/2`, `6 1/2`, `6\u{BD}`.
fn fraction() -> String {
    let (space, over) = (r"[ \u00a0\u2009\u202f]", r"[/\u2044]");
    format!(
        "(?:[{ONE_CHARACTER}]|{NUMBER}(?:{over}{NUMBER}|(?:{space}|{HYPHEN})[0-9]+{over}{NUMBER}|{space}?[{ONE_CHARACTER}])?)"
    )
}

/// A unit with the characters that the reader takes for the same.
fn spelled(unit: &str) -> String {
    unit.chars()
        .map(|c| match c {
            '\'' => r"['\u2018\u2019\u2032]".to_owned(),
            '"' => r#"["\u201c\u201d\u2033]"#.to_owned(),
            ' ' => r"[ \u00a0\u2009\u202f]".to_owned(),
            'u' => r"[uU\u00b5\u03bc]".to_owned(),
            '2' => r"[2\u00b2]".to_owned(),
            '/' => r"[/\u2044]".to_owned(),
            '(' | ')' | '.' | '$' => format!(r"\{c}"),
            c if c.is_ascii_alphabetic() => {
                format!("[{}{}]", c.to_ascii_uppercase(), c.to_ascii_lowercase())
            }
            other => other.to_string(),
        })
        .collect()
}

pub(crate) fn any_of(units: &[&str]) -> String {
    let each: Vec<String> = units.iter().map(|unit| spelled(unit)).collect();
    format!("(?:{})", each.join("|"))
}

/// A number with one of several units, or with several of them, the larger first. `units` are the
/// spellings and sizes; `most` counts in the first unit.
pub fn quantity(units: &[(&'static [&'static str], f64)], most: f64, several: bool) -> Form {
    let number = fraction();
    let mut all = vec![];
    if several {
        let mut by_size = units.to_vec();
        by_size.sort_by(|a, b| b.1.total_cmp(&a.1));
        let term = |(names, _): &(&'static [&'static str], f64)| {
            let (words, marks): (Vec<&str>, Vec<&str>) =
                names.iter().copied().partition(|name| name.starts_with(char::is_alphabetic));
            let between = format!("{SPACE}*(?:{HYPHEN}{SPACE}*)?");
            let words =
                format!(r"{}(?:\.?{SPACE}+(?:{HYPHEN}{SPACE}*)?|{HYPHEN}|\.?$)", any_of(&words));
            let unit = if marks.is_empty() {
                words
            } else {
                format!("(?:{words}|{}{between})", any_of(&marks))
            };
            format!("{number}{SPACE}*{unit}")
        };
        let terms: String = by_size.iter().map(|unit| format!("(?:{})?", term(unit))).collect();
        // Behind feet, inches go without saying.
        let feet = by_size.iter().find(|(names, _)| names.contains(&"ft"));
        let feet = feet.map(|feet| format!("|{}{number}{SPACE}*", term(feet)));
        all.push(format!("^{SPACE}*(?:{terms}{})$", feet.unwrap_or_default()));
        all.push(format!("[0-9{ONE_CHARACTER}]"));
    } else {
        let names: Vec<&str> = units.iter().flat_map(|(names, _)| names.iter().copied()).collect();
        all.push(format!(r"^{SPACE}*{number}{SPACE}*{}\.?{SPACE}*$", any_of(&names)));
    }
    // What has one unit can be told to be too large by the digits before its point.
    let none = if let [_] = units { vec![larger(most as u32)] } else { vec![] };
    Form::Text(Pattern {
        all,
        none,
        most: None,
        units: units.iter().map(|(names, _)| names[0]).collect(),
        largest: Some(format!("{most} {}", units[0].0[0])),
    })
}

/// Texts that open with a whole number above `most`.
fn larger(most: u32) -> String {
    let digits = most.to_string();
    let mut above = vec![format!("[1-9][0-9]{{{},}}", digits.len())];
    for (at, digit) in digits.bytes().enumerate() {
        let rest = digits.len() - at - 1;
        if digit < b'9' {
            let next = (digit + 1) as char;
            above.push(format!("{}[{next}-9][0-9]{{{rest}}}", &digits[..at]));
        }
    }
    format!(r"^{SPACE}*0*(?:{})(?:\.[0-9]*)?{SPACE}*[^0-9.,/\u2044\s]", above.join("|"))
}

/// A temperature in one of these units, below zero too.
pub fn temperature(units: &[&[&'static str]]) -> Form {
    let (number, names) = (fraction(), any_of(&units.concat()));
    let pattern = format!(r"^{SPACE}*(?:[-\u2212]{SPACE}*)?{number}{SPACE}*{names}\.?{SPACE}*$");
    Form::Text(Pattern {
        all: vec![pattern],
        units: units.iter().map(|names| names[0]).collect(),
        ..Pattern::default()
    })
}

/// An amount of money with one of these marks before or behind it, or none. `decimals` is the most
/// digits after the point, zeros at the end aside.
pub fn money(marks: &[&str], decimals: Option<usize>) -> String {
    let marks: Vec<String> = marks.iter().map(|mark| mark.replace('$', r"\$")).collect();
    let mark = format!("(?:{})", marks.join("|"));
    let cents = match decimals {
        Some(most) => format!(r"(?:\.[0-9]{{0,{most}}}0*)?"),
        None => r"(?:\.[0-9]*)?".to_owned(),
    };
    let number = format!("(?:[0-9]{{1,3}}(?:,[0-9]{{3}})+|[0-9]+){cents}");
    format!("(?:{mark}{SPACE}*{number}|{number}{SPACE}*{mark}|{number})")
}

/// A whole text of one piece, with space around it.
pub fn alone(piece: &str) -> Form {
    Form::pattern(format!("^{SPACE}*{piece}{SPACE}*$"))
}

/// A name of small letters, digits and hyphens.
pub fn plain_name() -> Form {
    Form::Text(Pattern {
        all: vec!["^[a-z0-9](?:[a-z0-9-]*[a-z0-9])?$".to_owned()],
        most: Some(limits::KEY),
        ..Pattern::default()
    })
}
