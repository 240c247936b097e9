//! Where a shop works, and the rules and notices of that place that it has looked up.

use toml::de::DeValue;

use crate::model::rules::{Country, LocalNotice, LocalRule, Subject};
use crate::read::form::ValueForm;
use crate::read::keys::shop::*;
use crate::read::reader::Table;
use crate::read::scalar::{Scalar, ValueFault, choice};

impl Scalar for Country {
    fn expected() -> String {
        "a country as two capital letters (ISO 3166-1)".into()
    }

    fn example() -> String {
        "\"US\"".into()
    }

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

impl Scalar for Subject {
    fn expected() -> String {
        let words: Vec<String> = Self::WORDS.iter().map(|(word, _)| format!("{word:?}")).collect();
        format!("one of {}", words.join(", "))
    }

    fn example() -> String {
        "\"dust\"".into()
    }

    fn form() -> ValueForm {
        ValueForm::words(Self::WORDS)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        choice(value, Self::WORDS, &Self::expected())
    }
}

/// `[[rule]]`: what the place asks for, one table for each rule.
pub fn rules(top: &Table<'_>) -> Vec<LocalRule> {
    let read = |table: &Table<'_>| {
        let subject = table.read(rule::SUBJECT);
        let text = table.read(rule::TEXT);
        let source = table.read(rule::SOURCE);
        let checked = table.read(rule::CHECKED);
        Some(LocalRule { subject: subject?, text: text?.0, source: source?, checked: checked? })
    };
    top.tables(&rule::TABLE).iter().filter_map(read).collect()
}

/// `[[notice]]`: what a customer's paper has to carry there.
pub fn notices(top: &Table<'_>) -> Vec<LocalNotice> {
    let read = |table: &Table<'_>| {
        let title = table.read(notice::TITLE);
        let text = table.paragraphs(notice::TEXT);
        let source = table.read(notice::SOURCE);
        let checked = table.read(notice::CHECKED);
        Some(LocalNotice { title: title?, text, source: source?, checked: checked? })
    };
    top.tables(&notice::TABLE).iter().filter_map(read).collect()
}
