//! Forms of values, for whoever describes files: schemas, the reference, questions.

use crate::read::limits;

/// The form in which a value is written.
#[derive(Debug, Clone, PartialEq)]
pub enum ValueForm {
    /// `true` or `false`.
    Flag,
    /// A whole number.
    Whole { least: u32, most: u32 },
    /// A day, as TOML writes it: `2026-05-12`.
    Date,
    /// A day, or this word in quotes.
    DateOr(&'static str),
    /// A day and a clock time without a zone: `2026-05-08T10:30:00`.
    DateTime,
    /// A clock time: `07:30:00`.
    Time,
    /// One of these words.
    Words(Vec<String>),
    /// A text of at most so many characters; a pattern where a short one tells most slips.
    Text { most: usize, pattern: Option<&'static str> },
    /// A number with one of these units, each in its usual spelling; the largest value in words.
    Measure { units: Vec<&'static str>, most: Option<String> },
    /// A number up to `most`, or a text: an amount of money.
    Number { most: f64 },
}

impl ValueForm {
    /// A text with a short pattern.
    pub const fn like(pattern: &'static str) -> Self {
        Self::Text { most: limits::SHORT_TEXT, pattern: Some(pattern) }
    }

    /// The words of a choice.
    pub fn words<T>(words: &[(&str, T)]) -> Self {
        Self::Words(words.iter().map(|(word, _)| (*word).to_owned()).collect())
    }

    /// The units of a value that has some, in words, and the largest value if it is wanted.
    pub fn units(&self, with_most: bool) -> Option<String> {
        let Self::Measure { units, most } = self else { return None };
        let units = format!("Units: {}", units.join(", "));
        Some(match most {
            Some(most) if with_most => format!("{units}; at most {most}."),
            _ => format!("{units}."),
        })
    }

    /// True when TOML has such a value in quotes.
    pub fn in_quotes(&self, value: &str) -> bool {
        match self {
            Self::Words(_) | Self::Text { .. } | Self::Measure { .. } => true,
            Self::Number { .. } => value.parse::<f64>().is_err(),
            _ => false,
        }
    }
}
