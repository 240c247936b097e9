//! Texts that no face at hand can print: found with their places before a paper is made, and replaced
//! on it by plain words. A name or an address that cannot be printed is a mistake of the file; a sign in a
//! note never keeps a paper back.

use std::borrow::Cow;

use serde::Serialize;
use serde_json::Value;
use unicode_normalization::UnicodeNormalization;
use unicode_properties::{GeneralCategoryGroup, UnicodeGeneralCategory};
use unicode_script::{Script, UnicodeScript};

use crate::base::source::{Diagnostic, SourceFile, Span};
use crate::read::Files;
use crate::read::typed::{TypedText, typed_texts};
use crate::say::figures::StandInWords;
use crate::typeset::fonts::{Faces, LEFT_TO_RIGHT_MARK};

/// What cannot be printed in the files of a job.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub struct Unprintable {
    /// Names and addresses: nobody is addressed by a stand-in.
    pub names: Vec<Diagnostic>,
    /// Other texts, in place of which the papers have a stand-in.
    pub others: Vec<Diagnostic>,
}

/// A text that holds somebody's name or address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Named {
    Customer,
    CustomerInLatin,
    Signer,
    CustomersAddress,
    Shop,
    ShopsAddress,
}

impl Named {
    fn of_job(path: &str) -> Option<Self> {
        match path {
            "customer.name" => Some(Self::Customer),
            "customer.latin" => Some(Self::CustomerInLatin),
            "customer.signers" => Some(Self::Signer),
            "customer.address" => Some(Self::CustomersAddress),
            _ => None,
        }
    }

    fn of_shop(path: &str) -> Option<Self> {
        match path {
            "name" => Some(Self::Shop),
            "address" => Some(Self::ShopsAddress),
            _ => None,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Customer | Self::CustomerInLatin => "the customer\u{2019}s name",
            Self::Signer => "the name of a signer",
            Self::CustomersAddress => "the customer\u{2019}s address",
            Self::Shop => "the shop\u{2019}s name",
            Self::ShopsAddress => "the shop\u{2019}s address",
        }
    }

    fn help(self) -> &'static str {
        match self {
            Self::Customer => {
                "or add the name in Latin letters, as you and the customer write it, under `[customer]`: `latin = \"...\"`"
            }
            Self::CustomerInLatin => "or write `latin` in Latin letters",
            Self::CustomersAddress | Self::ShopsAddress => "or write the address in Latin letters",
            Self::Signer | Self::Shop => "or write the name in Latin letters",
        }
    }
}

/// Looks through the files of a job and a shop's own words for text that no face prints. A customer's
/// name that also stands there in Latin letters (`has_latin`) is no mistake: papers then use those.
pub fn unprintable(
    files: &Files,
    own_words: &[SourceFile],
    faces: &Faces,
    has_latin: bool,
    words: &StandInWords,
) -> Unprintable {
    let mut found = Unprintable::default();
    let mut look = |file: &SourceFile, named: fn(&str) -> Option<Named>| {
        for text in texts_to_look_at(file, faces) {
            let Some(c) = faces.uncovered(&text.text) else { continue };
            let span = place_of(c, file, &text);
            match named(&text.path) {
                Some(Named::Customer) if has_latin => {}
                Some(named) => found.names.push(name_problem(c, &span, named)),
                None => found.others.push(other_problem(c, &span, &text, words)),
            }
        }
    };
    look(&files.job, Named::of_job);
    look(&files.book, |_| None);
    look(&files.shop, Named::of_shop);
    files.systems.iter().chain(own_words).for_each(|file| look(file, |_| None));
    found
}

/// The texts of a file, unless it is plain that faces print all of them.
fn texts_to_look_at(file: &SourceFile, faces: &Faces) -> Vec<TypedText> {
    let plain = !file.text.contains("\\u")
        && !file.text.contains("\\U")
        && file.text.nfc().all(|c| c.is_control() || faces.prints(c));
    if plain { vec![] } else { typed_texts(file) }
}

/// The place of a character in a text, or of the text where it is written as an escape.
fn place_of(c: char, file: &SourceFile, text: &TypedText) -> Span {
    let Span { file: name, bytes } = &text.span;
    let written = file.text.get(bytes.clone()).unwrap_or_default();
    match written.find(c) {
        Some(at) => {
            let from = bytes.start + at;
            Span { file: name.clone(), bytes: from..from + c.len_utf8() }
        }
        None => text.span.clone(),
    }
}

/// A character by its look, its number and the script that it belongs to, where it belongs to one.
fn shown(c: char) -> String {
    let number = format!("U+{:04X}", c as u32);
    match script_of(c) {
        Some(script) => format!("`{c}` ({number}, {script})"),
        None => format!("`{c}` ({number})"),
    }
}

fn script_of(c: char) -> Option<&'static str> {
    match c.script() {
        Script::Common | Script::Inherited | Script::Unknown => None,
        script => Some(script.full_name()),
    }
}

fn name_problem(c: char, span: &Span, named: Named) -> Diagnostic {
    let message = format!("no font here can print {} in {}", shown(c), named.words());
    let problem = Diagnostic::at(span, message);
    match script_of(c) {
        Some(script) => problem
            .help(format!(
                "put a font with {script} letters (TTF or OTF) into a folder `fonts` beside the shop file"
            ))
            .help(named.help()),
        None => problem.help("take the sign out").help(
            "or put a font that has it (TTF or OTF) into a folder `fonts` beside the shop file",
        ),
    }
}

fn other_problem(c: char, span: &Span, text: &TypedText, words: &StandInWords) -> Diagnostic {
    let key = text.path.rsplit('.').next().unwrap_or_default();
    let stand_in = if is_letter(c) { &words.letters } else { &words.sign };
    let message =
        format!("no font here can print {} in `{key}`: papers say `{stand_in}`", shown(c));
    Diagnostic::at(span, message).help(
        "write it another way, or put a font that has it (TTF or OTF) into a folder `fonts` beside the shop file",
    )
}

/// Returns a page as it can be set: with a stand-in for all that no face prints, and with letters that run
/// from right to left kept apart from what follows them.
///
/// # Errors
/// None that is known: every page has a form in JSON.
pub fn printable<P: Serialize>(
    page: &P,
    faces: &Faces,
    words: &StandInWords,
) -> serde_json::Result<Value> {
    let mut page = serde_json::to_value(page)?;
    replace(&mut page, faces, words);
    Ok(page)
}

fn replace(value: &mut Value, faces: &Faces, words: &StandInWords) {
    match value {
        Value::String(text) => {
            if let Cow::Owned(printable) = stand_in(text, faces, words) {
                *text = printable;
            }
            if let Cow::Owned(ordered) = kept_in_order(text) {
                *text = ordered;
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| replace(item, faces, words)),
        Value::Object(fields) => {
            fields.values_mut().for_each(|field| replace(field, faces, words));
        }
        _ => {}
    }
}

/// A text with one stand-in for each run of characters that no face prints.
fn stand_in<'t>(text: &'t str, faces: &Faces, words: &StandInWords) -> Cow<'t, str> {
    if faces.uncovered(text).is_none() {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(from) = rest.find(|c| c != '\n' && !faces.prints(c)) {
        let (before, after) = rest.split_at(from);
        let to = after.find(|c| faces.prints(c)).unwrap_or(after.len());
        let (run, behind) = after.split_at(to);
        out.push_str(before);
        out.push_str(if run.chars().any(is_letter) { &words.letters } else { &words.sign });
        rest = behind;
    }
    out.push_str(rest);
    Cow::Owned(out)
}

/// A text in which no sign or figure behind a name from right to left is drawn in front of it: in `NAME, 8 Elm
/// Street` the comma and the 8 would be. An invisible mark ends the name (UAX 9, U+200E). A space or a digit
/// behind it belongs to it: `STREET 8`.
fn kept_in_order(text: &str) -> Cow<'_, str> {
    if !text.chars().any(from_right) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    let mut letters = text.chars().peekable();
    let mut in_name = false;
    while let Some(c) = letters.next() {
        out.push(c);
        in_name = from_right(c) || in_name && is_mark(c);
        let goes_on = |next: &char| {
            from_right(*next) || is_mark(*next) || next.is_whitespace() || next.is_numeric()
        };
        if in_name && !letters.peek().is_some_and(goes_on) {
            out.push(LEFT_TO_RIGHT_MARK);
        }
    }
    Cow::Owned(out)
}

/// True for a letter of a script that runs from right to left.
fn from_right(c: char) -> bool {
    use Script::{Arabic, Hebrew, Nko, Syriac, Thaana};
    is_letter(c) && matches!(c.script(), Arabic | Hebrew | Nko | Syriac | Thaana)
}

fn is_mark(c: char) -> bool {
    c.general_category_group() == GeneralCategoryGroup::Mark
}

/// True for a letter, a mark on one, or a digit; false for a sign.
fn is_letter(c: char) -> bool {
    matches!(
        c.general_category_group(),
        GeneralCategoryGroup::Letter | GeneralCategoryGroup::Mark | GeneralCategoryGroup::Number
    )
}

/// The font files that the papers of a job may need, by their places among the shop's own: those with a
/// character of the files that the embedded faces lack; all, where a layout of the shop's own may ask for
/// any.
pub fn needed_fonts(
    files: &Files,
    own_words: &[SourceFile],
    has_own_layouts: bool,
    faces: &Faces,
) -> Vec<usize> {
    if has_own_layouts {
        return (0..faces.own().len()).collect();
    }
    if faces.own().is_empty() {
        return vec![];
    }
    let all = [&files.job, &files.book, &files.shop].into_iter().chain(&files.systems);
    let texts: Vec<TypedText> =
        all.chain(own_words).flat_map(|file| texts_to_look_at(file, &Faces::embedded())).collect();
    faces.needed(texts.iter().map(|text| text.text.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words() -> StandInWords {
        StandInWords { sign: "[sign]".into(), letters: "[not printed]".into() }
    }

    #[test]
    fn a_run_of_characters_has_one_stand_in_and_the_rest_stays() {
        let faces = Faces::embedded();
        let say = |text| stand_in(text, &faces, &words()).into_owned();
        assert_eq!(say("two lines\nas typed, Måsvær"), "two lines\nas typed, Måsvær");
        assert_eq!(say("call \u{1F600}\u{1F680} first"), "call [sign] first");
        assert_eq!(say("客厅 and กข"), "[not printed] and [not printed]");
        assert_eq!(say("\u{1F600}"), "[sign]");
        assert!(faces.uncovered(&say("ש\u{1F600}\nא x")).is_none());
    }

    /// Letters from right to left stand here as escapes, in the order in which they are typed.
    #[test]
    fn what_follows_a_name_from_right_to_left_stays_behind_it() {
        let (name, mark) = ("\u{5DE}\u{5E9}\u{5D4} \u{5DB}\u{5D4}\u{5DF}", LEFT_TO_RIGHT_MARK);
        assert_eq!(kept_in_order(name), format!("{name}{mark}"));
        assert_eq!(kept_in_order(&format!("{name}, 8 Elm")), format!("{name}{mark}, 8 Elm"));
        assert_eq!(kept_in_order(&format!("for {name} (M)")), format!("for {name} (M)"));
        assert_eq!(kept_in_order(&format!("{name} 8")), format!("{name} 8"));
        assert!(matches!(kept_in_order("Måsvær, 8"), Cow::Borrowed(_)));
        assert!(Faces::embedded().prints(mark));
    }

    #[test]
    fn every_text_of_a_page_is_reached() {
        let page = serde_json::json!({ "a": ["\u{1F600}", { "b": "x" }], "c": 1 });
        let printed = printable(&page, &Faces::embedded(), &words()).unwrap();
        assert_eq!(printed, serde_json::json!({ "a": ["[sign]", { "b": "x" }], "c": 1 }));
    }
}
