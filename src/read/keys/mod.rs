//! Every key of every file that a person writes, described once: its type, whether it must be
//! there, its bounds, its meaning, an example. The readers take the constants; schemas for editors,
//! the reference of keys, blank files and the questions of `new` are made from the same.

pub mod spec;
#[macro_use]
pub mod table;
pub mod shapes;
pub mod moisture;
pub mod after;
pub mod bid;
pub mod laid;
pub mod worked;
pub mod choices;
pub mod space;
pub mod job;
pub mod product;
pub mod book;
pub mod shop;
pub mod system;
mod reference;
mod schema;
mod template;

use std::ops::RangeInclusive;

use crate::base::layouts::Layouts;
use crate::read::keys::table::TableSpec;

pub use reference::{list, reference};
pub use schema::{schema, schema_text};
pub use template::{every_key, template};

/// The neutral files that a shop starts from: invented, and they say so.
pub const NEUTRAL_SHOP: &str = include_str!("../../../examples/shop.toml");
pub const NEUTRAL_BOOK: &str = include_str!("../../../examples/book.toml");

/// Years in which a house was built, a slab poured, a shop began to count.
const YEARS: RangeInclusive<u32> = 1700..=2199;
const A_YEAR: &str = "write a year, for example `1996`";
/// Persons in a crew.
const CREW_SIZE: RangeInclusive<u32> = 1..=20;
/// Days that a moisture test may be trusted, or remembered.
const TEST_DAYS: RangeInclusive<u32> = 1..=3650;
/// Years that a comparison of costs looks ahead.
const YEARS_AHEAD: RangeInclusive<u32> = 1..=60;
const NO_YEARS_AHEAD: &str = "write a number of years from 1 to 60";

/// The languages that there are words for.
fn languages() -> Vec<String> {
    Layouts::default().languages()
}

/// The kinds of files that a person writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// One visit and what is on offer: `job.toml`.
    Job,
    /// The price book: `book.toml`.
    Book,
    /// The shop that signs, and its terms: `shop.toml`.
    Shop,
    /// A floor system.
    System,
}

impl FileKind {
    pub const ALL: [Self; 4] = [Self::Job, Self::Book, Self::Shop, Self::System];

    /// Its name, as `slableaf schema` takes it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::Book => "book",
            Self::Shop => "shop",
            Self::System => "system",
        }
    }

    /// All that such a file may hold.
    pub fn file(self) -> &'static TableSpec {
        match self {
            Self::Job => &job::job::TABLE,
            Self::Book => &book::book::TABLE,
            Self::Shop => &shop::shop::TABLE,
            Self::System => &system::system::TABLE,
        }
    }

    /// The name of the file that its schema is kept in: `job.schema.json`.
    pub fn schema_file(self) -> String {
        format!("{}.schema.json", self.word())
    }

    /// The first line of a file whose schema lies so many folders above it, as editors for TOML
    /// read it.
    pub fn schema_line(self, levels: usize) -> String {
        let way = if levels == 0 { "./".to_owned() } else { "../".repeat(levels) };
        format!("#:schema {way}{}", self.schema_file())
    }
}
