//! The country of a shop, and the rules and notices of the place that it has looked up.

use toml::de::DeValue;

use crate::model::rules::{Country, LocalNotice, LocalRule, NoticePaper};
use crate::read::form::ValueForm;
use crate::read::keys::shop::*;
use crate::read::reader::Table;
use crate::read::scalar::{Scalar, ValueFault};

impl Scalar for Country {
    const EXPECTED: &str = "a country as two capital letters (ISO 3166-1)";
    const EXAMPLE: &str = "\"US\"";

    fn form() -> ValueForm {
        ValueForm::like("[A-Z]{2}")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = String::read(value)?;
        Self::of(&text).ok_or_else(|| {
            ValueFault::new(format!("is `{text}`")).help(format!(
                "write {}: `{}` for the United States, `\"NO\"` for Norway",
                Self::expected(),
                Self::example()
            ))
        })
    }
}

/// `[[rule]]`: what the place asks for, one table for each rule.
pub fn rules(top: &Table<'_>) -> Vec<LocalRule> {
    let read = |table: &Table<'_>| {
        let text = table.read(rule::TEXT);
        Some(LocalRule {
            subject: table.read(rule::SUBJECT)?,
            text: text?.0,
            source: table.read(rule::SOURCE)?,
            checked: table.read(rule::CHECKED)?,
        })
    };
    top.each(&rule::TABLE, read)
}

/// The papers that carry a notice; without a word the leaf that is signed.
fn printed_on(table: &Table<'_>) -> Vec<NoticePaper> {
    let papers = table.list(notice::PRINTED_ON);
    if papers.is_empty() { vec![NoticePaper::Signing] } else { papers }
}

/// `[[notice]]`: what a customer's paper has to carry there.
pub fn notices(top: &Table<'_>) -> Vec<LocalNotice> {
    let read = |table: &Table<'_>| {
        Some(LocalNotice {
            title: table.read(notice::TITLE)?,
            text: table.paragraphs(notice::TEXT),
            place: table.read(notice::PLACE),
            printed_on: printed_on(table),
            source: table.read(notice::SOURCE)?,
            checked: table.read(notice::CHECKED)?,
        })
    };
    top.each(&notice::TABLE, read)
}
