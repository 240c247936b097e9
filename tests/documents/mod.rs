//! Papers as they lie in a folder: what a customer reads, what a shop keeps, what a reader of PDFs
//! finds. The text is read back through lopdf, which had no part in writing it.

mod figures;
mod files;
mod leaf;
mod pages;
mod plans;
pub mod pdf;
pub mod spaces;

use std::fs;
use std::sync::LazyLock;

use lopdf::Document;
use serde_json::Value;

use crate::fixture::*;
use crate::readers;

/// A written paper, and all that the program says about its job.
pub struct Paper {
    pub bytes: Vec<u8>,
    pub pages: Vec<String>,
    /// All of them without spaces, see [`letters`].
    letters: String,
    /// The page data: what the layouts were given.
    pub page: Value,
    pub check: Value,
    pub estimate: Value,
}

/// The shipped examples, in the order of [`EXAMPLES`], each written once.
static PAPERS: LazyLock<Vec<Paper>> =
    LazyLock::new(|| EXAMPLES.iter().map(|name| Paper::of(&Folder::of(name))).collect());

pub fn paper(example: &str) -> &'static Paper {
    &PAPERS[EXAMPLES.iter().position(|name| *name == example).unwrap()]
}

impl Paper {
    /// Writes the job of a folder.
    #[track_caller]
    pub fn of(folder: &Folder) -> Self {
        folder.run(&["write", "job.toml", "--out", "paper", "--page-data"]).success();
        let named = |end: &str| {
            let name = files(folder, "paper").into_iter().find(|name| name.ends_with(end)).unwrap();
            folder.path("paper").join(name)
        };
        let json = |verb: &str| {
            let ran = folder.run(&[verb, "job.toml", "--format", "json"]);
            serde_json::from_str(&ran.stdout()).unwrap_or_else(|error| panic!("{verb}: {error}"))
        };
        let pages = readers::pages(&named(".pdf"));
        Self {
            bytes: fs::read(named(".pdf")).unwrap(),
            letters: letters(&pages.concat()),
            pages,
            page: serde_json::from_slice(&fs::read(named(".json")).unwrap()).unwrap(),
            check: json("check"),
            estimate: json("estimate"),
        }
    }

    pub fn document(&self) -> Document {
        Document::load_mem(&self.bytes).unwrap()
    }

    pub fn text(&self) -> String {
        readers::squeezed(&self.pages.join(" "))
    }

    pub fn shows(&self, text: &str) -> bool {
        self.letters.contains(&letters(text))
    }

    #[track_caller]
    pub fn must_show(&self, text: &str) {
        assert!(!text.is_empty(), "an empty text says nothing");
        assert!(self.shows(text), "`{text}` is not on the pages\n{}", self.text());
    }

    #[track_caller]
    pub fn page_one_must_show(&self, text: &str) {
        assert!(!text.is_empty(), "an empty text says nothing");
        assert!(
            letters(&self.pages[0]).contains(&letters(text)),
            "`{text}` is not on page one\n{}",
            self.pages[0]
        );
    }

    /// A floor's result by its key.
    pub fn floor(&self, key: &str) -> &Value {
        list(&self.estimate["floors"]).iter().find(|floor| floor["floor"] == key).unwrap()
    }

    /// Floors of the job with the names that the pages give them, in the order of the offer.
    pub fn floors(&self) -> Vec<(&Value, &str)> {
        list(&self.estimate["floors"]).iter().map(|floor| (floor, word(&floor["name"]))).collect()
    }

    /// The price table of a floor, when the paper has one.
    pub fn price_table(&self, name: &str) -> Option<&Value> {
        list(&self.page["plan"]["prices"]).iter().find(|table| table["name"] == name)
    }

    fn notices(&self) -> Vec<&Value> {
        let parts = [&self.page["slab"]["findings"], &self.page["safety"]["notices"]];
        parts.into_iter().flat_map(list).collect()
    }
}

/// A text without spaces, line breaks and hyphens: a narrow column breaks where it likes.
pub fn letters(text: &str) -> String {
    let break_mark =
        |c: char| c.is_whitespace() || matches!(c, '-' | '\u{AD}' | '\u{2010}' | '\u{2011}');
    text.chars().filter(|c| !break_mark(*c)).collect()
}

pub fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

#[track_caller]
pub fn word(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("no text: {value}"))
}

/// Names of all files in a folder, hidden ones too.
pub fn files(folder: &Folder, name: &str) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder.path(name)) else { return vec![] };
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// Every text in a value, however deep.
pub fn texts(value: &Value) -> Vec<&str> {
    match value {
        Value::String(text) => vec![text],
        Value::Array(items) => items.iter().flat_map(texts).collect(),
        Value::Object(fields) => fields.values().flat_map(texts).collect(),
        _ => vec![],
    }
}

/// An amount of a result, `5045.00`, as a page writes it: `$5,045.00`.
pub fn on_page(sign: &str, amount: &str) -> String {
    let (whole, cents) = amount.split_once('.').unwrap();
    let digits: Vec<char> = whole.chars().collect();
    let groups: Vec<String> = digits.rchunks(3).rev().map(|group| group.iter().collect()).collect();
    format!("{sign}{}.{cents}", groups.join(","))
}

/// Cents of an amount in either way of writing.
pub fn cents(amount: &str) -> i64 {
    let digits: String = amount.chars().filter(char::is_ascii_digit).collect();
    digits.parse().unwrap()
}

/// The number that a figure starts with.
fn number(figure: &str) -> f64 {
    let end = figure.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(figure.len());
    figure[..end].parse().unwrap()
}

fn sign(paper: &Paper) -> &'static str {
    if paper.estimate["currency"] == "EUR" { "€" } else { "$" }
}

/// True when a text has an amount of money in it.
pub fn has_money(text: &str) -> bool {
    let letters: Vec<char> = text.chars().filter(|c| !c.is_whitespace()).collect();
    letters.windows(2).any(|pair| matches!(pair[0], '$' | '€' | '£') && pair[1].is_ascii_digit())
}
