//! Every key of every file that a person writes: the one written source of what each means, how it
//! is written and whether it must be there. Schemas for editors, the reference of keys and blank
//! files are made from it; `tests/keys.rs` holds it against the readers.

mod book;
mod job;
mod moisture;
mod product;
mod reference;
mod schema;
mod shapes;
mod shop;
mod system;
mod template;

use std::ops::RangeInclusive;

use crate::read::form::Form;
use crate::read::limits;
use crate::read::scalar::Scalar;

pub use reference::{list, reference};
pub use schema::{schema, schema_text};
pub use template::{every_key, template};

/// The neutral files that a shop starts from: invented, and they say so.
pub const NEUTRAL_SHOP: &str = include_str!("../../../examples/shop.toml");
pub const NEUTRAL_BOOK: &str = include_str!("../../../examples/book.toml");

/// The kinds of files that a person writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// One visit and what is on offer: `job.toml`.
    Job,
    /// The price book: `book.toml`.
    Book,
    /// Who signs, and on what terms: `shop.toml`.
    Shop,
    /// A floor system.
    System,
}

impl Kind {
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
    pub fn file(self) -> Table {
        match self {
            Self::Job => job::file(),
            Self::Book => book::file(),
            Self::Shop => shop::file(),
            Self::System => system::file(),
        }
    }

    /// The name of the file that its schema is kept in: `job.schema.json`.
    pub fn schema_file(self) -> String {
        format!("{}.schema.json", self.word())
    }

    /// The first line of a file whose schema lies beside it, as editors for TOML read it.
    pub fn schema_line(self) -> String {
        format!("#:schema ./{}", self.schema_file())
    }
}

/// Looks up a key by its tables and its name: `slab.thickness`, `moisture.dishes.dish.place`.
pub fn find(kind: Kind, path: &str) -> Option<Key> {
    let (tables, name) = path.rsplit_once('.').unwrap_or(("", path));
    let mut table = kind.file();
    for step in tables.split('.').filter(|step| !step.is_empty()) {
        table = table.tables.into_iter().find(|below| below.name == step)?;
    }
    let versions = std::iter::once(table.keys).chain(table.versions.into_iter().map(|v| v.1.keys));
    versions.flatten().find(|key| key.name == name)
}

/// A table of a file, or the whole file.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its name; empty for the file, an example when the name is free.
    pub name: &'static str,
    /// The name is data that a person chooses.
    pub free: bool,
    /// How often it stands in the file, and whether it has to.
    pub stands: Stands,
    /// What it is for: one sentence.
    pub what: &'static str,
    /// Its own keys, in the order in which people write them.
    pub keys: Vec<Key>,
    /// The tables below it.
    pub tables: Vec<Table>,
    /// What holds between its keys.
    pub rules: Vec<Rule>,
    /// A blank file shows it ready to be filled in, though it may be left out.
    pub shown: bool,
    /// Usually written in one line, `kit = [{ size = "3 gal", price = "$276.00" }]`.
    pub inline: bool,
    /// More of it that a blank file shows, each with values in place of the examples; the value for
    /// no key is another name of the table.
    pub more: &'static [&'static [(&'static str, &'static str)]],
    /// Different keys by the first of these tables that stands below it, or by none of them. Empty
    /// for all tables that have one set of keys.
    pub versions: Vec<(Option<&'static str>, Table)>,
}

/// How often a table stands in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// `[slab]`: at most once.
    Once { need: bool },
    /// `[[area]]`: as often as there are things to list. A file without any is refused when
    /// `least` is above zero.
    Listed { least: usize, most: usize },
}

/// A key with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Key {
    /// Its name; an example when the name is free.
    pub name: &'static str,
    /// The name is data that a person chooses.
    pub free: bool,
    /// A file without it is refused.
    pub need: bool,
    /// A blank file shows it ready to be filled in, though it may be left out.
    pub shown: bool,
    /// What it says: one sentence.
    pub what: &'static str,
    /// Whether it holds one value, a list or pairs.
    pub shape: Shape,
    /// How each value is written.
    pub form: Form,
    /// What is expected, in words: `a length with its unit`.
    pub expected: String,
    /// An example as it is written in TOML.
    pub example: String,
}

/// How the values behind a key stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// One value.
    One,
    /// A list of at most `most`; `once` when none may stand twice.
    List { most: usize, once: bool },
    /// Two values in brackets, such as a place on the plan.
    Pair,
    /// A list of pairs, such as corners.
    Pairs { least: usize },
}

/// What holds between keys, or tables, of one table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// Not both.
    Apart(&'static str, &'static str),
    /// Both or neither.
    Together(&'static str, &'static str),
    /// Without the first, all of the others.
    Unless(&'static str, &'static [&'static str]),
}

// How the lists of keys are written.

fn key<T: Scalar>(name: &'static str, need: bool, what: &'static str) -> Key {
    Key {
        name,
        free: false,
        need,
        shown: false,
        what,
        shape: Shape::One,
        form: T::form(),
        expected: T::expected(),
        example: T::example(),
    }
}

/// A key that must be there.
fn need<T: Scalar>(name: &'static str, what: &'static str) -> Key {
    key::<T>(name, true, what)
}

/// A key that may be left out.
fn may<T: Scalar>(name: &'static str, what: &'static str) -> Key {
    key::<T>(name, false, what)
}

impl Key {
    /// What the form says beside the kind of value: units, the least and the most.
    pub fn bounds(&self) -> Option<String> {
        self.said_of_form(true)
    }

    /// How it is written, for a blank file: units where there is a option, and how many values.
    pub fn hint(&self) -> Option<String> {
        self.said_of_form(false)
    }

    fn said_of_form(&self, whole: bool) -> Option<String> {
        let form = match &self.form {
            Form::Text(text) if text.units.len() > usize::from(!whole) => {
                let units = format!("Units: {}", text.units.join(", "));
                Some(match &text.largest {
                    Some(most) if whole => format!("{units}; at most {most}."),
                    _ => format!("{units}."),
                })
            }
            Form::Whole { least: 1, most } => Some(format!("From 1 to {most}.")),
            Form::Whole { least, most } if *least > 1 => Some(format!("From {least} to {most}.")),
            _ => None,
        };
        let shape = match self.shape {
            Shape::List { most, .. } if most < limits::LIST => Some(format!("At most {most}.")),
            Shape::Pair => Some("Two values in brackets.".to_owned()),
            Shape::Pairs { least } => Some(format!("Pairs of values, {least} or more.")),
            _ => None,
        };
        let both: Vec<String> = [shape, form].into_iter().flatten().collect();
        (!both.is_empty()).then(|| both.join(" "))
    }

    /// Another example, as it is written in TOML.
    fn like(mut self, example: &str) -> Self {
        example.clone_into(&mut self.example);
        self
    }

    /// A list.
    fn list(mut self) -> Self {
        self.shape = Shape::List { most: limits::LIST, once: false };
        self.example = format!("[{}]", self.example);
        self
    }

    /// A list of at most `most`, in which none stands twice.
    fn set(mut self, most: usize) -> Self {
        self.shape = Shape::List { most, once: true };
        self.example = format!("[{}]", self.example);
        self
    }

    fn pair(mut self, example: &str) -> Self {
        self.shape = Shape::Pair;
        self.like(example)
    }

    fn pairs(mut self, least: usize, example: &str) -> Self {
        self.shape = Shape::Pairs { least };
        self.like(example)
    }

    fn above_zero(mut self) -> Self {
        self.form = self.form.above_zero();
        self
    }

    /// A whole number in a range.
    fn within(mut self, range: RangeInclusive<u32>) -> Self {
        self.form = Form::Whole { least: *range.start(), most: *range.end() };
        self
    }

    /// One of some words that its type does not know.
    fn words(mut self, words: impl IntoIterator<Item = String>) -> Self {
        self.form = Form::Words(words.into_iter().collect());
        self
    }

    fn shown(mut self) -> Self {
        self.shown = true;
        self
    }

    /// Any name may stand in place of this one.
    fn any_name(mut self) -> Self {
        self.free = true;
        self
    }
}

fn table(name: &'static str, stands: Stands, what: &'static str) -> Table {
    Table {
        name,
        free: false,
        stands,
        what,
        keys: vec![],
        tables: vec![],
        rules: vec![],
        shown: false,
        inline: false,
        more: &[],
        versions: vec![],
    }
}

/// A table that may be left out.
fn once(name: &'static str, what: &'static str) -> Table {
    table(name, Stands::Once { need: false }, what)
}

/// A table that must be there.
fn must(name: &'static str, what: &'static str) -> Table {
    table(name, Stands::Once { need: true }, what)
}

/// A table that stands any number of times.
fn listed(name: &'static str, what: &'static str) -> Table {
    table(name, Stands::Listed { least: 0, most: limits::LIST }, what)
}

/// A table that stands once at least, and up to `most` times.
fn needed_list(name: &'static str, most: usize, what: &'static str) -> Table {
    table(name, Stands::Listed { least: 1, most }, what)
}

impl Table {
    /// A file without it is refused.
    pub fn need(&self) -> bool {
        match self.stands {
            Stands::Once { need } => need,
            Stands::Listed { least, .. } => least > 0,
        }
    }

    fn keys<const N: usize>(mut self, keys: [Key; N]) -> Self {
        self.keys.extend(keys);
        self
    }

    fn tables<const N: usize>(mut self, tables: [Table; N]) -> Self {
        self.tables.extend(tables);
        self
    }

    fn rules<const N: usize>(mut self, rules: [Rule; N]) -> Self {
        self.rules.extend(rules);
        self
    }

    fn shown(mut self) -> Self {
        self.shown = true;
        self
    }

    fn inline(mut self) -> Self {
        self.inline = true;
        self
    }

    fn any_name(mut self) -> Self {
        self.free = true;
        self
    }

    fn at_most(mut self, most: usize) -> Self {
        if let Stands::Listed { least, .. } = self.stands {
            self.stands = Stands::Listed { least, most };
        }
        self
    }

    fn more(mut self, more: &'static [&'static [(&'static str, &'static str)]]) -> Self {
        self.more = more;
        self
    }

    /// True for what the rules ask for when something else is left out.
    fn preferred(&self, name: &str) -> bool {
        self.rules
            .iter()
            .any(|rule| matches!(rule, Rule::Unless(_, names) if names.contains(&name)))
    }

    /// The keys and tables that may not stand beside this one.
    pub fn rivals(&self, name: &str) -> Vec<&'static str> {
        let rival = |rule: &Rule| match *rule {
            Rule::Apart(a, b) => other(name, a, b),
            _ => None,
        };
        self.rules.iter().filter_map(rival).collect()
    }

    /// The keys that have to stand beside this one.
    pub fn partners(&self, name: &str) -> Vec<&'static str> {
        let partner = |rule: &Rule| match *rule {
            Rule::Together(a, b) => other(name, a, b),
            _ => None,
        };
        self.rules.iter().filter_map(partner).collect()
    }
}

/// The other one of two, if this is one of them.
fn other(name: &str, a: &'static str, b: &'static str) -> Option<&'static str> {
    if a == name {
        Some(b)
    } else if b == name {
        Some(a)
    } else {
        None
    }
}
