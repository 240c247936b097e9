//! Tells if a text is a job at all, before it is read with care: among many files of a folder only
//! some are.

use jiff::civil::Date;
use toml::de::{DeTable, DeValue};

use crate::read::scalar::Scalar;

/// The parts of a job that are seen without reading it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Glance {
    /// As written; empty when it is no text.
    pub number: String,
    /// The date of its paper, where it can be read.
    pub date: Option<Date>,
    /// The customer has agreed to it.
    pub accepted: bool,
}

/// Sees whether a text is a job: a `number` at its top and a table `[customer]`. A text with
/// mistakes may be seen as one too, so that they are reported.
pub fn glance(text: &str) -> Option<Glance> {
    // Most files of a shop are no jobs, and need not be parsed to know it.
    if !(text.contains("number") && text.contains("customer")) {
        return None;
    }
    let (table, _) = DeTable::parse_recoverable(text);
    let top = table.get_ref();
    let is_table = matches!(top.get("customer")?.get_ref(), DeValue::Table(_));
    let number = top.get("number")?.get_ref().as_str().unwrap_or_default();
    let date = top.get("date").and_then(|date| Date::read(date.get_ref()).ok());
    let accepted = top.contains_key("accepted");
    is_table.then(|| Glance { number: number.to_owned(), date, accepted })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_job_is_seen_and_other_files_are_not() {
        let job = include_str!("../../examples/two-car-barrier/job.toml");
        let seen = glance(job).unwrap();
        assert_eq!((seen.number.as_str(), seen.accepted), ("2026-0142", false));
        assert_eq!(seen.date, Some(Date::constant(2026, 5, 12)));
        assert_eq!(glance(include_str!("../../examples/book.toml")), None);
        assert_eq!(glance("[customer]\nnumber = \"1\""), None);
    }

    #[test]
    fn a_job_that_the_customer_agreed_to_is_seen() {
        let seen = glance("number = \"1\"\n[customer]\n[accepted]\nrevision = 2").unwrap();
        assert!(seen.accepted);
    }
}
