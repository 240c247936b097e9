//! Reads tables of a TOML file key by key, and reports every problem instead of the first.
//!
//! Whoever reads a table asks for its keys by name; what was asked for is what is known, so an
//! unknown key is found, with the nearest known name, when the table is dropped.

use std::cell::RefCell;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::base::source::{Diagnostic, Located, Problems, SourceFile, Span};
use crate::read::limits;
use crate::read::scalar::{Fault, Scalar, kind_of};
use crate::read::slips::advice;
use crate::read::suggest::nearest;

/// Parses a file and hands its top table to `read`. `None` when the file is not TOML at all; its
/// syntax errors are then among the problems.
pub fn read_file<T>(
    file: &SourceFile,
    problems: &Problems,
    read: impl FnOnce(&Table<'_>) -> Option<T>,
) -> Option<T> {
    if file.text.len() > limits::FILE_BYTES {
        let whole = Span { file: file.name.clone(), bytes: 0..0 };
        problems.add(
            Diagnostic::at(&whole, format!("the file has {} bytes", file.text.len()))
                .help(format!("the most accepted is {} bytes", limits::FILE_BYTES)),
        );
        return None;
    }
    if let Some(at) = file.text.lines().position(|line| line.len() > limits::LINE) {
        let whole = Span { file: file.name.clone(), bytes: 0..0 };
        let most = format!("the most accepted is {}; break the line", limits::LINE);
        let message = format!("line {} of the file is longer than any line of its kind", at + 1);
        problems.add(Diagnostic::at(&whole, message).help(most));
        return None;
    }
    let (table, errors) = DeTable::parse_recoverable(&file.text);
    for error in &errors {
        let bytes = error.span().unwrap_or(0..0);
        let line = line_at(&file.text, bytes.start);
        let found = file.text.get(bytes.clone()).unwrap_or_default();
        let message = error.message().lines().next().unwrap_or("cannot be read");
        let advice = advice(found, line, message);
        let span = Span { file: file.name.clone(), bytes };
        let mut problem = Diagnostic::at(&span, format!("not TOML: {message}"));
        problem.help.extend(advice);
        problems.add(problem);
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
        asked: RefCell::default(),
        other: RefCell::default(),
    };
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
    /// How a person finds it: `[slab]`, `[[area]] 2`; empty for the top of the file.
    title: String,
    head: Range<usize>,
    file: &'a str,
    problems: &'a Problems,
    asked: RefCell<Vec<&'static str>>,
    /// Keys that another form of the table has: a slip in one of them can be told.
    other: RefCell<Vec<&'static str>>,
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

    /// True when the key is written in the table.
    pub fn has(&self, key: &str) -> bool {
        self.entries.contains_key(key)
    }

    /// True when a key holds a list without an entry.
    pub fn is_empty_list(&self, key: &str) -> bool {
        matches!(self.entries.get(key).map(Spanned::get_ref), Some(DeValue::Array(list)) if list.is_empty())
    }

    /// Names keys that the table has in another form than the one being read, for "did you mean".
    pub fn may_also_have(&self, keys: &[&'static str]) {
        self.other.borrow_mut().extend(keys);
    }

    /// Reports a problem with a key's value.
    pub fn fault(&self, key: &str, message: impl std::fmt::Display, help: impl Into<String>) {
        let problem = Diagnostic::at(&self.span_of(key), format!("`{key}` {message}"));
        self.problems.add(problem.help(help));
    }

    /// A value that must be there.
    pub fn need<T: Scalar>(&self, key: &'static str) -> Option<T> {
        self.need_located(key).map(|located| located.value)
    }

    /// A value that must be there, with its place.
    pub fn need_located<T: Scalar>(&self, key: &'static str) -> Option<Located<T>> {
        if !self.has(key) {
            self.asked.borrow_mut().push(key);
            self.missing(key, &T::expected(), &format!("{key} = {}", T::example()));
            return None;
        }
        self.maybe_located(key)
    }

    /// A value that may be absent.
    pub fn maybe<T: Scalar>(&self, key: &'static str) -> Option<T> {
        self.maybe_located(key).map(|located| located.value)
    }

    /// A value that may be absent, with its place.
    pub fn maybe_located<T: Scalar>(&self, key: &'static str) -> Option<Located<T>> {
        self.asked.borrow_mut().push(key);
        let value = self.entries.get(key)?;
        self.scalar(key, value)
    }

    /// A value with a default.
    pub fn or<T: Scalar>(&self, key: &'static str, default: T) -> T {
        self.maybe(key).unwrap_or(default)
    }

    /// A list of values; absent is empty.
    pub fn list<T: Scalar>(&self, key: &'static str) -> Vec<Located<T>> {
        self.array(key).iter().filter_map(|value| self.scalar(key, value)).collect()
    }

    /// A list of values without their places.
    pub fn values<T: Scalar>(&self, key: &'static str) -> Vec<T> {
        self.list(key).into_iter().map(|located| located.value).collect()
    }

    /// A list of pairs, such as corners: `[["0 ft", "0 ft"], ["22 ft", "0 ft"]]`.
    pub fn pairs<T: Scalar>(&self, key: &'static str) -> Vec<(T, T)> {
        let mut pairs = vec![];
        for value in self.array(key) {
            match value.get_ref() {
                DeValue::Array(two) if two.len() == 2 => {
                    if let (Some(a), Some(b)) =
                        (self.scalar(key, &two[0]), self.scalar(key, &two[1]))
                    {
                        pairs.push((a.value, b.value));
                    }
                }
                _ => self.refuse(
                    key,
                    value.span(),
                    Fault::new("holds something that is not a pair").help(format!(
                        "write two values in brackets: `[{}, {}]`",
                        T::example(),
                        T::example()
                    )),
                ),
            }
        }
        pairs
    }

    /// One pair, such as a place on the plan.
    pub fn pair<T: Scalar>(&self, key: &'static str) -> Option<(T, T)> {
        let array = self.array(key);
        if array.is_empty() && !self.is_empty_list(key) {
            return None;
        }
        if array.len() != 2 {
            let values = if array.len() == 1 { "value" } else { "values" };
            let example = format!("write two values in brackets: `[{0}, {0}]`", T::example());
            self.fault(key, format!("has {} {values}", array.len()), example);
            return None;
        }
        // Both are read before anything is given up, so that one run reports both.
        let (first, second) = (self.scalar(key, &array[0]), self.scalar(key, &array[1]));
        Some((first?.value, second?.value))
    }

    /// A table below this one that may be absent.
    pub fn table(&self, key: &'static str) -> Option<Table<'a>> {
        self.asked.borrow_mut().push(key);
        let value = self.entries.get(key)?;
        self.child(key, value, format!("[{}]", self.path(key)))
    }

    /// A table that must be there.
    pub fn need_table(&self, key: &'static str) -> Option<Table<'a>> {
        if !self.has(key) {
            self.asked.borrow_mut().push(key);
            self.missing(key, "a table", &format!("[{}]", self.path(key)));
            return None;
        }
        self.table(key)
    }

    /// A list of tables, `[[key]]`; absent is empty.
    pub fn tables(&self, key: &'static str) -> Vec<Table<'a>> {
        let path = self.path(key);
        self.array(key)
            .iter()
            .enumerate()
            .filter_map(|(i, value)| self.child(key, value, format!("[[{path}]] {}", i + 1)))
            .collect()
    }

    /// A table whose keys are names that the reader can't know, such as `[extras]`.
    pub fn named_lists<T: Scalar>(
        &self,
        key: &'static str,
    ) -> Vec<(Located<String>, Vec<Located<T>>)> {
        let Some(table) = self.table(key).filter(|table| self.has_room(key, table)) else {
            return vec![];
        };
        let mut lists = vec![];
        for (name, value) in table.entries.iter() {
            let located =
                Located { value: name.get_ref().to_string(), span: table.at(name.span()) };
            match value.get_ref() {
                DeValue::Array(values) if values.len() > limits::LIST => {
                    table.refuse(key, value.span(), too_many("entries", values.len()));
                }
                DeValue::Array(values) => {
                    let values =
                        values.iter().filter_map(|value| table.scalar(key, value)).collect();
                    lists.push((located, values));
                }
                other => table.refuse(
                    key,
                    value.span(),
                    Fault::new(format!("holds {}", kind_of(other)))
                        .help(format!("write a list: `[{}]`", T::example())),
                ),
            }
        }
        table.asked_for_all();
        lists
    }

    /// A table whose keys are names that the reader can't know, with a table behind each.
    pub fn named_tables(&self, key: &'static str) -> Vec<(String, Table<'a>)> {
        let Some(table) = self.table(key).filter(|table| self.has_room(key, table)) else {
            return vec![];
        };
        table.asked_for_all();
        table
            .entries
            .iter()
            .filter_map(|(name, value)| {
                let child = table.child(
                    name.get_ref(),
                    value,
                    format!("[{}.{name}]", self.path(key), name = name.get_ref()),
                );
                Some((name.get_ref().to_string(), child?))
            })
            .collect()
    }

    /// Refuses a table of names that has more than any list may have.
    fn has_room(&self, key: &str, table: &Table<'_>) -> bool {
        let names = table.entries.len();
        if names > limits::LIST {
            table.asked_for_all();
            self.refuse(key, table.head.clone(), too_many("names", names));
        }
        names <= limits::LIST
    }

    /// Marks every key as known; for tables whose keys are data.
    fn asked_for_all(&self) {
        *self.asked.borrow_mut() = vec!["*"];
    }

    fn child(
        &self,
        key: &str,
        value: &'a Spanned<DeValue<'a>>,
        title: String,
    ) -> Option<Table<'a>> {
        match value.get_ref() {
            DeValue::Table(entries) => Some(Table {
                entries,
                title,
                head: value.span(),
                file: self.file,
                problems: self.problems,
                asked: RefCell::default(),
                other: RefCell::default(),
            }),
            other => {
                let fault = Fault::new(format!("is {}", kind_of(other))).help(format!(
                    "write a table: `{}` on a line of its own",
                    title.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' ')
                ));
                self.refuse(key, value.span(), fault);
                None
            }
        }
    }

    fn array(&self, key: &'static str) -> &'a [Spanned<DeValue<'a>>] {
        self.asked.borrow_mut().push(key);
        let Some(value) = self.entries.get(key) else { return &[] };
        match value.get_ref() {
            DeValue::Array(values) if values.len() <= limits::LIST => values,
            DeValue::Array(values) => {
                self.refuse(key, value.span(), too_many("entries", values.len()));
                &[]
            }
            other => {
                let fault = Fault::new(format!("is {}", kind_of(other))).help(
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

    fn scalar<T: Scalar>(&self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Located<T>> {
        match T::read(value.get_ref()) {
            Ok(read) => Some(Located { value: read, span: self.at(value.span()) }),
            Err(fault) => {
                self.refuse(key, value.span(), fault);
                None
            }
        }
    }

    fn refuse(&self, key: &str, bytes: Range<usize>, fault: Fault) {
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

fn too_many(what: &str, found: usize) -> Fault {
    Fault::new(format!("has {found} {what}")).help(format!("the most accepted is {}", limits::LIST))
}

impl Drop for Table<'_> {
    fn drop(&mut self) {
        let asked = self.asked.borrow();
        if asked.contains(&"*") {
            return;
        }
        for (key, _) in self.entries.iter() {
            let name: &str = key.get_ref();
            if asked.contains(&name) {
                continue;
            }
            let place = match self.title.as_str() {
                "" => "at the top of the file".to_owned(),
                title => format!("in {title}"),
            };
            let mut problem = Diagnostic::at(
                &self.at(key.span()),
                format!("unknown key `{}` {place}", name.escape_debug()),
            );
            let other = self.other.borrow();
            if let Some(near) = nearest(name, asked.iter().chain(other.iter()).copied()) {
                problem = problem.help(format!("did you mean `{near}`?"));
            } else {
                let mut known = asked.clone();
                known.sort_unstable();
                known.dedup();
                let known: Vec<String> = known.iter().map(|key| format!("`{key}`")).collect();
                problem = problem.help(format!("known here: {}", known.join(", ")));
            }
            self.problems.add(problem);
        }
    }
}
