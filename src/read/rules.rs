//! Where a shop works, and the rules and notices of that place that it has looked up.

use toml::de::DeValue;

use crate::model::rules::{Country, LocalNotice, LocalRule, Subject};
use crate::read::form::{self, Form};
use crate::read::reader::Table;
use crate::read::scalar::{Fault, LongText, Scalar, choice};

impl Scalar for Country {
    fn expected() -> String {
        "a country as two capital letters (ISO 3166-1)".into()
    }

    fn example() -> String {
        "\"US\"".into()
    }

    fn form() -> Form {
        form::alone("[A-Z]{2}")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let text = String::read(value)?;
        Self::of(&text).ok_or_else(|| {
            Fault::new(format!("is `{text}`")).help(format!(
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

    fn form() -> Form {
        Form::words(Self::WORDS)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        choice(value, Self::WORDS, &Self::expected())
    }
}

/// `[[rule]]`: what the place asks for, one table for each rule.
pub fn rules(top: &Table<'_>) -> Vec<LocalRule> {
    let read = |table: &Table<'_>| {
        let subject = table.need("subject");
        let text = table.need::<LongText>("text");
        let source = table.need("source");
        let checked = table.need("checked");
        Some(LocalRule { subject: subject?, text: text?.0, source: source?, checked: checked? })
    };
    top.tables("rule").iter().filter_map(read).collect()
}

/// `[[notice]]`: what a customer's paper has to carry there.
pub fn notices(top: &Table<'_>) -> Vec<LocalNotice> {
    let read = |table: &Table<'_>| {
        let title = table.need("title");
        let text: Vec<String> =
            table.values::<LongText>("text").into_iter().map(|text| text.0).collect();
        if text.is_empty() && !table.has("text") {
            table.fault("text", "is missing", "write the text of the notice, a paragraph each");
        } else if table.is_empty_list("text") {
            table.fault("text", "is empty", "write the text of the notice, a paragraph each");
        }
        let source = table.need("source");
        let checked = table.need("checked");
        Some(LocalNotice { title: title?, text, source: source?, checked: checked? })
    };
    top.tables("notice").iter().filter_map(read).collect()
}
