//! The facts that are known before anything is asked: which file, and the files about it.

use jiff::civil::Date;
use toml_edit::DocumentMut;

use crate::base::names::Key;
use crate::base::source::{Located, Problems, SourceFile, Span};
use crate::interview::draft;
use crate::interview::laid::ToRecord;
use crate::model::system::System;
use crate::read::job::JobNames;
use crate::read::job_text::with_value;
use crate::read::keys;
use crate::read::{Shared, link};
use crate::say::words::Words;

/// Which file is being written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InterviewKind {
    Job,
    Shop,
    Book,
    /// A product, behind those of a book.
    Product,
    /// A floor system.
    System,
    /// Coats as they were laid, behind a job.
    Laid,
}

impl InterviewKind {
    /// Its name in file names and in the words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Product => "product",
            Self::Laid => "laid",
            _ => self.keys().word(),
        }
    }

    /// The kind of its file among those that have keys.
    pub fn keys(self) -> keys::FileKind {
        match self {
            Self::Job | Self::Laid => keys::FileKind::Job,
            Self::Shop => keys::FileKind::Shop,
            Self::Book | Self::Product => keys::FileKind::Book,
            Self::System => keys::FileKind::System,
        }
    }

    /// The neutral file that answers go into.
    pub(super) fn base(self) -> Option<DocumentMut> {
        match self {
            Self::Job | Self::Product | Self::System | Self::Laid => None,
            Self::Shop => draft::neutral(keys::NEUTRAL_SHOP),
            Self::Book => draft::neutral(keys::NEUTRAL_BOOK),
        }
    }
}

/// A floor that the book can supply.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FloorKnown {
    pub key: Key,
    pub name: String,
    /// The extras that may be added to it.
    pub extras: Vec<Key>,
}

/// The facts about the new file that are known before anything is asked.
#[derive(Debug, Clone)]
pub struct Setting {
    /// The name of the file, for messages.
    pub file: String,
    pub today: Date,
    /// The number that a new job gets when nobody says otherwise.
    pub number: String,
    /// The numbers of the jobs that lie about it, each with the place of its job.
    pub taken: Vec<(String, String)>,
    /// Pictures in the job's folder, by their paths in it.
    pub photos: Vec<String>,
    /// Book, shop file and systems: those that were found, else the neutral ones.
    pub shared: Shared,
    /// True when the book is the shop's own.
    pub book_found: bool,
    pub floors: Vec<FloorKnown>,
    /// The text of the file that new tables go behind: for a product the book, for coats that were laid the
    /// job.
    pub below: String,
    /// The number of products of that book.
    pub products: usize,
    pub to_record: ToRecord,
}

impl Setting {
    /// The floors are those that the book can supply.
    pub fn new(file: String, today: Date, shared: Shared, words: &Words) -> Self {
        let floors = floors(&shared, words);
        let number = next_number(today, &[]);
        Self {
            file,
            today,
            number,
            taken: vec![],
            photos: vec![],
            shared,
            book_found: false,
            floors,
            below: String::new(),
            products: 0,
            to_record: ToRecord::default(),
        }
    }
}

/// The systems whose products the book has, in the order of their keys.
fn floors(shared: &Shared, words: &Words) -> Vec<FloorKnown> {
    let supplied = |key: &Key| {
        let problems = Problems::default();
        let offer = vec![Located { value: key.clone(), span: Span::default() }];
        let names = JobNames { offer, ..JobNames::default() };
        link::link(&names, shared.book(), shared.systems(), &problems);
        problems.is_empty()
    };
    let known = |system: &System| {
        let key = system.key.clone();
        let words = system.words.as_ref().or_else(|| words.systems.get(&key.0));
        let name = words.map_or_else(|| key.0.clone(), |words| words.name.clone());
        let extras = system.coats.iter().filter_map(|coat| coat.extra.clone()).collect();
        FloorKnown { key, name, extras }
    };
    shared.systems().iter().filter(|system| supplied(&system.key)).map(known).collect()
}

/// The year, and one more than the highest number of it: `2026-0143`.
pub fn next_number(today: Date, known: &[&str]) -> String {
    let year = format!("{}-", today.year());
    let numbers = known.iter().filter_map(|number| {
        let number = number.strip_prefix(&year)?;
        number.parse::<u32>().ok().filter(|_| number.len() <= 6)
    });
    format!("{year}{:04}", numbers.max().unwrap_or(0) + 1)
}

/// A blank job with a number of its own.
pub fn numbered(blank: &str, number: &str) -> String {
    with_value(blank, "number", number).unwrap_or_else(|| blank.to_owned())
}

/// The neutral book under the head of a started one, for who has none yet.
pub fn started_book() -> String {
    let head = "A price book, started from the neutral one. Its products, prices, rates and times are\n\
        INVENTED but for those that you add. Put your own in their place, then take out `invented`.";
    let text = draft::neutral(keys::NEUTRAL_BOOK).map(|book| book.to_string());
    draft::headed(&keys::FileKind::Book.schema_line(0), head, &text.unwrap_or_default())
}

/// The neutral book and shop file, and the systems that ship: for who has none yet.
pub fn neutral() -> (SourceFile, SourceFile) {
    let file = |name: &str, text: &str| SourceFile {
        name: format!("(built in) {name}"),
        text: text.to_owned(),
    };
    (file("book.toml", keys::NEUTRAL_BOOK), file("shop.toml", keys::NEUTRAL_SHOP))
}
