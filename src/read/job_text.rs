//! A job file as a text that a person wrote: an edit that keeps every comment and the layout.

use jiff::civil::Date;
use toml_edit::{Datetime, DocumentMut, Value};

use crate::read::book_text::with_line_ends_of;

/// The job with another `date`; `None` when it has none that could be replaced.
pub fn with_date(text: &str, date: Date) -> Option<String> {
    with_value(text, "date", date.to_string().parse::<Datetime>().ok()?)
}

/// The job with another value behind a key at its top; `None` when it has none there.
pub fn with_value(text: &str, key: &str, new: impl Into<Value>) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    put_in_place(document.get_mut(key)?.as_value_mut()?, new.into());
    Some(with_line_ends_of(text, document.to_string()))
}

/// Puts a value in the place of another, with the blanks and comments that stand about that one.
pub fn put_in_place(old: &mut Value, mut new: Value) {
    *new.decor_mut() = old.decor().clone();
    *old = new;
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
