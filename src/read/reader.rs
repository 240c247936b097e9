//! Reads tables of a TOML file key by key, and reports every problem instead of the first.
//!
//! A table is opened by its description, which tells at once what is missing, unknown or may not
//! stand together, and which value is not taken; then its values are read, and whoever reads may
//! stop at the first that is not there.

mod described;

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::base::source::{Diagnostic, Located, Problems, SourceFile, Span};
use crate::read::keys::spec::TypedKey;
use crate::read::keys::table::TableSpec;
use crate::read::limits;
use crate::read::scalar::{LongText, Scalar, ValueFault, kind_of};
use crate::read::slips::{advice, inch_mark, twice};

/// Parses a file and hands its top table to `read`. `None` when the file is not TOML at all; its
/// syntax errors are then among the problems.
pub fn read_file<T>(
    file: &SourceFile,
    problems: &Problems,
    spec: &TableSpec,
    read: impl FnOnce(&Table<'_>) -> Option<T>,
) -> Option<T> {
    let refuse = |message: String, help: String| {
        let whole = Span { file: file.name.clone(), bytes: 0..0 };
        problems.add(Diagnostic::at(&whole, message).help(help));
        None
    };
    if file.text.len() > limits::FILE_BYTES {
        let most = format!("the most accepted is {} bytes", limits::FILE_BYTES);
        return refuse(format!("the file has {} bytes", file.text.len()), most);
    }
    if let Some(at) = file.text.lines().position(|line| line.len() > limits::LINE) {
        let most = format!("the most accepted is {}; break the line", limits::LINE);
        let message = format!("line {} of the file is longer than any line of its kind", at + 1);
        return refuse(message, most);
    }
    let (table, errors) = DeTable::parse_recoverable(&file.text);
    // The end of a table that stands twice: each of its keys would be told to stand twice too.
    let mut told_to = 0;
    for error in &errors {
        let bytes = error.span().unwrap_or(0..0);
        if bytes.start < told_to {
            continue;
        }
        let line = line_at(&file.text, bytes.start);
        let found = file.text.get(bytes.clone()).unwrap_or_default();
        let message = error.message().lines().next().unwrap_or("cannot be read");
        let mark = inch_mark(line);
        let advice = match (&mark, message) {
            (Some(mark), _) => Some(mark.clone()),
            (None, "duplicate key") => {
                if line.trim_start().starts_with('[') {
                    let rest = file.text.get(bytes.end..).unwrap_or_default();
                    told_to = bytes.end + rest.find("\n[").unwrap_or(rest.len());
                }
                Some(twice(line, spec.below(found.trim()).is_some_and(TableSpec::is_list)))
            }
            (None, _) => advice(found, line, message),
        };
        let span = Span { file: file.name.clone(), bytes };
        let mut problem = Diagnostic::at(&span, format!("not TOML: {message}"));
        problem.help.extend(advice);
        problems.add(problem);
        if mark.is_some() {
            break;
        }
    }
    if !errors.is_empty() {
        return None;
    }
    let top = Table {
        entries: table.get_ref(),
        title: String::new(),
        head: 0..0,
        file: &file.name,
        problems,
    };
    top.keep_to(spec);
    read(&top)
}

/// The line of a text in which a byte stands.
fn line_at(text: &str, byte: usize) -> &str {
    let (before, after) = text.split_at_checked(byte).unwrap_or((text, ""));
    let from = before.rfind('\n').map_or(0, |at| at + 1);
    let to = after.find('\n').map_or(text.len(), |at| byte + at);
    text.get(from..to).unwrap_or_default()
}

/// One table of a file, being read.
pub struct Table<'a> {
    entries: &'a DeTable<'a>,
    /// Its place for a person: `[slab]`, `[[area]] 2`; empty for the top of the file.
    title: String,
    head: Range<usize>,
    file: &'a str,
    problems: &'a Problems,
}

impl<'a> Table<'a> {
    /// The place of the table's head.
    pub fn span(&self) -> Span {
        self.at(self.head.clone())
    }

    /// The place of a key's value, or of the table when the key is absent.
    pub fn span_of(&self, key: &str) -> Span {
        self.entries.get(key).map_or_else(|| self.span(), |value| self.at(value.span()))
    }

    /// The place of a value in a table below.
    pub fn span_below(&self, table: &str, key: &str) -> Option<Span> {
        match self.entries.get(table)?.get_ref() {
            DeValue::Table(below) => Some(self.at(below.get(key)?.span())),
            _ => None,
        }
    }

    /// True when a key or a table of this name is written in the table.
    pub fn has(&self, name: &str) -> bool {
        self.entries.contains_key(name)
    }

    /// True when a list without an entry is written there.
    pub fn is_empty_list(&self, name: &str) -> bool {
        matches!(self.entries.get(name).map(Spanned::get_ref), Some(DeValue::Array(list)) if list.is_empty())
    }

    /// Reports a problem with the value of a key, or with a table, by its name.
    pub fn fault(&self, name: &str, message: impl std::fmt::Display, help: impl Into<String>) {
        let problem = Diagnostic::at(&self.span_of(name), format!("`{name}` {message}"));
        self.problems.add(problem.help(help));
    }

    /// Reports a problem at a place of the table.
    pub fn report(&self, at: &Span, message: impl Into<String>, help: impl Into<String>) {
        self.problems.add(Diagnostic::at(at, message).help(help));
    }

    /// A value, if it is there and was not refused.
    pub fn read<T: Scalar>(&self, key: TypedKey<T>) -> Option<T> {
        let value = taken::<T>(self.entries.get(key.spec.name)?)?;
        value.breaks(key.spec.bound).is_none().then_some(value)
    }

    /// A value with its place, if it is there and was not refused.
    pub fn located<T: Scalar>(&self, key: TypedKey<T>) -> Option<Located<T>> {
        let value = self.read(key)?;
        Some(Located { value, span: self.span_of(key.spec.name) })
    }

    /// A value with a default.
    pub fn read_or<T: Scalar>(&self, key: TypedKey<T>, default: T) -> T {
        self.read(key).unwrap_or(default)
    }

    /// Two values. The second is refused where it is the first to which `wrong` holds: it `is` then so, as in
    /// "is not after", of the first key.
    pub fn two<T: Scalar>(
        &self,
        first: TypedKey<T>,
        second: TypedKey<T>,
        (wrong, is): (fn(&T, &T) -> bool, &str),
        help: &str,
    ) -> (Option<T>, Option<T>) {
        let (one, other) = (self.read(first), self.read(second));
        if one.as_ref().zip(other.as_ref()).is_some_and(|(one, other)| wrong(one, other)) {
            self.fault(second.spec.name, format!("{is} `{}`", first.spec.name), help);
        }
        (one, other)
    }

    /// A list of values; absent is empty.
    pub fn list<T: Scalar>(&self, key: TypedKey<Vec<T>>) -> Vec<T> {
        self.items(key.spec.name).iter().filter_map(taken).collect()
    }

    /// A list of values with their places; absent is empty.
    pub fn located_list<T: Scalar>(&self, key: TypedKey<Vec<T>>) -> Vec<Located<T>> {
        self.items(key.spec.name).iter().filter_map(|value| self.located_value(value)).collect()
    }

    /// A list of longer texts; absent is empty.
    pub fn paragraphs(&self, key: TypedKey<Vec<LongText>>) -> Vec<String> {
        self.list(key).into_iter().map(|text| text.0).collect()
    }

    /// A list of pairs, such as corners: `[["0 ft", "0 ft"], ["22 ft", "0 ft"]]`.
    pub fn pairs<T: Scalar>(&self, key: TypedKey<Vec<(T, T)>>) -> Vec<(T, T)> {
        self.items(key.spec.name).iter().filter_map(two).collect()
    }

    /// One pair, such as a place on the plan.
    pub fn pair<T: Scalar>(&self, key: TypedKey<(T, T)>) -> Option<(T, T)> {
        two(self.entries.get(key.spec.name)?)
    }

    fn located_value<T: Scalar>(&self, value: &Spanned<DeValue<'_>>) -> Option<Located<T>> {
        Some(Located { value: taken(value)?, span: self.at(value.span()) })
    }

    /// The entries of a list of values that is not too long.
    fn items(&self, name: &str) -> &'a [Spanned<DeValue<'a>>] {
        match self.entries.get(name).map(Spanned::get_ref) {
            Some(DeValue::Array(values)) if values.len() <= limits::LIST => values,
            _ => &[],
        }
    }

    /// A table below this one.
    pub fn table(&self, spec: &TableSpec) -> Option<Table<'a>> {
        let name = spec.name();
        self.child(name, self.entries.get(name)?, format!("[{}]", self.path(name)), spec)
    }

    /// A list of tables, `[[name]]`; absent is empty.
    pub fn tables(&self, spec: &TableSpec) -> Vec<Table<'a>> {
        let name = spec.name();
        let path = self.path(name);
        self.array(name)
            .iter()
            .enumerate()
            .filter_map(|(i, value)| self.child(name, value, format!("[[{path}]] {}", i + 1), spec))
            .collect()
    }

    /// Reads each of a list of tables.
    pub fn each<T>(&self, spec: &TableSpec, read: impl Fn(&Table<'_>) -> Option<T>) -> Vec<T> {
        self.tables(spec).iter().filter_map(read).collect()
    }

    /// A table whose keys are names that a person chooses, such as `[extras]`.
    pub fn named_lists<T: Scalar>(
        &self,
        spec: &TableSpec,
    ) -> Vec<(Located<String>, Vec<Located<T>>)> {
        let key = spec.name();
        let Some(table) = self.table(spec).filter(|table| self.has_room(key, table)) else {
            return vec![];
        };
        let Some(each) = spec.keys.iter().find(|each| each.free) else { return vec![] };
        let mut lists = vec![];
        for (name, value) in table.entries.iter() {
            let located =
                Located { value: name.get_ref().to_string(), span: table.at(name.span()) };
            match value.get_ref() {
                DeValue::Array(values) if values.len() > limits::LIST => {
                    table.refuse(key, value.span(), too_many("entries", values.len()));
                }
                DeValue::Array(values) => {
                    let check = |value| table.check_value(key, each, value);
                    values.iter().for_each(check);
                    lists.push((
                        located,
                        values.iter().filter_map(|v| table.located_value(v)).collect(),
                    ));
                }
                other => table.refuse(
                    key,
                    value.span(),
                    ValueFault::new(format!("holds {}", kind_of(other)))
                        .help(format!("write a list: `[{}]`", T::example())),
                ),
            }
        }
        lists
    }

    /// A table of single values whose names a person chooses, such as `floors`.
    pub fn named_values<T: Scalar>(&self, spec: &TableSpec) -> Vec<(Located<String>, Located<T>)> {
        let key = spec.name();
        let Some(table) = self.table(spec).filter(|table| self.has_room(key, table)) else {
            return vec![];
        };
        let Some(each) = spec.keys.iter().find(|each| each.free) else { return vec![] };
        let mut values = vec![];
        for (name, value) in table.entries.iter() {
            let span = table.at(name.span());
            let name = name.get_ref().to_string();
            table.check_value(&name, each, value);
            if let Some(value) = table.located_value(value) {
                values.push((Located { value: name, span }, value));
            }
        }
        values
    }

    /// A table of tables whose names a person chooses.
    pub fn named_tables(&self, spec: &TableSpec) -> Vec<(String, Table<'a>)> {
        let key = spec.name();
        let Some(table) = self.table(spec).filter(|table| self.has_room(key, table)) else {
            return vec![];
        };
        let Some(each) = spec.tables.iter().find(|below| below.free) else { return vec![] };
        let named = |(name, value): (&Spanned<_>, &'a _)| {
            let name: &std::borrow::Cow<'_, str> = name.get_ref();
            let title = format!("[{}.{name}]", self.path(key));
            Some((name.to_string(), table.child(name, value, title, each)?))
        };
        table.entries.iter().filter_map(named).collect()
    }

    /// Refuses a table of names that has more than any list may have.
    fn has_room(&self, key: &str, table: &Table<'_>) -> bool {
        let names = table.entries.len();
        if names > limits::LIST {
            self.refuse(key, table.head.clone(), too_many("names", names));
        }
        names <= limits::LIST
    }

    fn child(
        &self,
        key: &str,
        value: &'a Spanned<DeValue<'a>>,
        title: String,
        spec: &TableSpec,
    ) -> Option<Table<'a>> {
        match value.get_ref() {
            DeValue::Table(entries) => {
                let (file, problems) = (self.file, self.problems);
                let child = Table { entries, title, head: value.span(), file, problems };
                child.keep_to(spec);
                Some(child)
            }
            other => {
                let fault = ValueFault::new(format!("is {}", kind_of(other))).help(format!(
                    "write a table: `{}` on a line of its own",
                    title.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' ')
                ));
                self.refuse(key, value.span(), fault);
                None
            }
        }
    }

    fn array(&self, key: &str) -> &'a [Spanned<DeValue<'a>>] {
        let Some(value) = self.entries.get(key) else { return &[] };
        match value.get_ref() {
            DeValue::Array(values) if values.len() <= limits::LIST => values,
            DeValue::Array(values) => {
                self.refuse(key, value.span(), too_many("entries", values.len()));
                &[]
            }
            other => {
                let fault = ValueFault::new(format!("is {}", kind_of(other))).help(
                    if matches!(other, DeValue::Table(_)) {
                        format!("write `[[{}]]` with two brackets, once for each", self.path(key))
                    } else {
                        "write a list in brackets".to_owned()
                    },
                );
                self.refuse(key, value.span(), fault);
                &[]
            }
        }
    }

    fn refuse(&self, key: &str, bytes: Range<usize>, fault: ValueFault) {
        let mut problem = Diagnostic::at(&self.at(bytes), format!("`{key}` {}", fault.message));
        problem.help.extend(fault.help);
        self.problems.add(problem);
    }

    fn missing(&self, key: &str, expected: &str, example: &str) {
        let place = if self.title.is_empty() { "the file" } else { &self.title };
        let span = if self.title.is_empty() { self.at(0..0) } else { self.span() };
        self.problems.add(
            Diagnostic::at(&span, format!("`{key}` is missing in {place}"))
                .label(format!("expected {expected}"))
                .help(format!("add `{example}`")),
        );
    }

    fn path(&self, key: &str) -> String {
        let own = self.title.trim_matches(|c: char| "[]0123456789 ".contains(c));
        if own.is_empty() { key.to_owned() } else { format!("{own}.{key}") }
    }

    fn at(&self, bytes: Range<usize>) -> Span {
        Span { file: self.file.to_owned(), bytes }
    }
}

/// A value, unless its type refuses it.
fn taken<T: Scalar>(value: &Spanned<DeValue<'_>>) -> Option<T> {
    T::read(value.get_ref()).ok()
}

fn two<T: Scalar>(value: &Spanned<DeValue<'_>>) -> Option<(T, T)> {
    match value.get_ref() {
        DeValue::Array(two) if two.len() == 2 => Some((taken(&two[0])?, taken(&two[1])?)),
        _ => None,
    }
}

fn too_many(what: &str, found: usize) -> ValueFault {
    ValueFault::new(format!("has {found} {what}"))
        .help(format!("the most accepted is {}", limits::LIST))
}
