//! A job file as a text that a person wrote: an edit that keeps every comment and the layout.

use jiff::civil::Date;
use toml_edit::{Datetime, DocumentMut, Item, Value};

use crate::read::book_text::with_line_ends_of;

/// The job with another `date`; `None` when it has none that could be replaced.
pub fn with_date(text: &str, date: Date) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    let Some(Item::Value(value)) = document.get_mut("date") else { return None };
    let mut new = Value::from(date.to_string().parse::<Datetime>().ok()?);
    *new.decor_mut() = value.decor().clone();
    *value = new;
    Some(with_line_ends_of(text, document.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_date_changes() {
        let job = include_str!("../../examples/two-car-barrier/job.toml");
        let edited = with_date(job, Date::constant(2027, 1, 4)).unwrap();
        assert_eq!(edited, job.replace("\ndate = 2026-05-12\n", "\ndate = 2027-01-04\n"));
        assert_eq!(with_date("number = \"1\"", Date::constant(2027, 1, 4)), None);
    }
}
