//! Every text that stands in a file, with the place and the key behind which it stands.

use toml::Spanned;
use toml::de::{DeTable, DeValue};
use unicode_normalization::UnicodeNormalization;

use crate::base::source::{SourceFile, Span};

/// A text of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypedText {
    /// Keys from the top of the file, with a dot between: `customer.name`. All entries of a list are behind
    /// one key.
    pub path: String,
    /// In Unicode normal form C, as files are read.
    pub text: String,
    /// The value with its quotes.
    pub span: Span,
}

/// Keys whose text names a file and is never printed.
const FILES: &[&str] = &["file", "logo"];

/// The texts of a file in their order, without those that name files; none when it is not TOML.
pub fn typed_texts(file: &SourceFile) -> Vec<TypedText> {
    let (table, errors) = DeTable::parse_recoverable(&file.text);
    let mut texts = vec![];
    if errors.is_empty() {
        in_table(table.get_ref(), "", &file.name, &mut texts);
    }
    texts.sort_by_key(|text: &TypedText| text.span.bytes.start);
    texts
}

fn in_table(table: &DeTable<'_>, above: &str, file: &str, texts: &mut Vec<TypedText>) {
    for (key, value) in table.iter() {
        let key = key.get_ref();
        if !FILES.contains(&key.as_ref()) {
            let path = if above.is_empty() { key.to_string() } else { format!("{above}.{key}") };
            in_value(value, &path, file, texts);
        }
    }
}

fn in_value(value: &Spanned<DeValue<'_>>, path: &str, file: &str, texts: &mut Vec<TypedText>) {
    match value.get_ref() {
        DeValue::String(text) => texts.push(TypedText {
            path: path.to_owned(),
            text: text.nfc().collect(),
            span: Span { file: file.to_owned(), bytes: value.span() },
        }),
        DeValue::Array(items) => items.iter().for_each(|item| in_value(item, path, file, texts)),
        DeValue::Table(table) => in_table(table, path, file, texts),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_have_their_keys_and_places_and_names_of_files_are_left_out() {
        let text = "date = 2026-05-04\nnotes = [\"a\", \"e\\u0301\"]\n[customer]\nname = \"Ana\"\n\
                    [[photo]]\nfile = \"x.jpg\"\ncaption = \"b\"\n";
        let file = SourceFile { name: "job.toml".into(), text: text.into() };
        let texts = typed_texts(&file);
        let seen: Vec<(&str, &str)> =
            texts.iter().map(|t| (t.path.as_str(), t.text.as_str())).collect();
        let expected =
            [("notes", "a"), ("notes", "é"), ("customer.name", "Ana"), ("photo.caption", "b")];
        assert_eq!(seen, expected);
        assert_eq!(&text[texts[2].span.bytes.clone()], "\"Ana\"");
        assert!(typed_texts(&SourceFile { text: "a = ".into(), ..file }).is_empty());
    }
}
