//! Blank files with a comment on every key, and files that hold every key.

use toml_edit::{DocumentMut, Item};

use crate::base::lines::wrapped;
use crate::read::keys::spec::KeySpec;
use crate::read::keys::table::{Rule, Stands, TableSpec};
use crate::read::keys::{FileKind, NEUTRAL_BOOK};

/// Columns of a comment.
const COLUMNS: usize = 96;
/// The mark behind a value that is to be replaced.
const MARK: &str = "  # <--";

/// A blank file: what has to be there is filled with examples that are marked, the rest is
/// commented out. Text of comments stands behind `# `, a key that is commented out behind `#`. It
/// loads as it is; a job and a book then say that they are invented. With a blank book and a blank
/// shop file beside it, a blank job makes a paper.
pub fn template(kind: FileKind) -> String {
    let file = kind.file();
    let mut out = format!("{}\n", kind.schema_line(0));
    comment(&mut out, file.what);
    out.push_str("#\n");
    comment(
        &mut out,
        "Put your own value where a line ends with `# <--`. A key with a `#` right before it may be \
        left out: take the `#` away where you know the value, and give your own. In a table that is \
        commented out, take it away from the head too, and from what is marked.",
    );
    match kind {
        FileKind::Job => comment(
            &mut out,
            "What was not looked at stays out: the papers then say \"not known\". Take the \
            line with `invented` out when all that is marked is yours. `slableaf check` says what is \
            wrong or missing.",
        ),
        FileKind::Book => comment(
            &mut out,
            "Take the line with `invented` out when all products and prices are yours.",
        ),
        FileKind::Shop | FileKind::System => {}
    }
    Blank { out: &mut out }.table(file, "", false);
    if kind == FileKind::Book {
        out.push('\n');
        comment(
            &mut out,
            "What else the floors that ship are made of, in figures of the same kind. It is invented \
            too: put your own in its place, or take out what no floor of yours needs.",
        );
        out += &other_products(&out);
    }
    out
}

/// The products of the neutral book that a blank one does not explain, as they stand there: with
/// them the floors that ship can be reckoned at once.
fn other_products(blank: &str) -> String {
    let Ok(mut book) = NEUTRAL_BOOK.parse::<DocumentMut>() else { return String::new() };
    book.retain(|key, _| key == "product");
    if let Some(products) = book.get_mut("product").and_then(Item::as_array_of_tables_mut) {
        products.retain(|product| {
            let key = product.get("key").map_or_else(String::new, |key| key.to_string());
            !blank.contains(&format!("key = {}", key.trim()))
        });
    }
    book.set_trailing("");
    book.to_string()
}

/// A file that holds every key once with its example. Of keys that may not stand beside each other
/// it holds those that are named in `instead`, else those that most files have.
pub fn every_key(kind: FileKind, instead: &[&str]) -> String {
    let mut out = String::new();
    full(&mut out, kind.file(), "", instead);
    out
}

/// The path of a table below another.
fn path(above: &str, name: &str) -> String {
    if above.is_empty() { name.to_owned() } else { format!("{above}.{name}") }
}

fn head(table: &TableSpec, path: &str) -> String {
    match table.stands {
        Stands::Once { .. } => format!("[{path}]"),
        Stands::Listed { .. } => format!("[[{path}]]"),
    }
}

/// A table that only holds others needs no head of its own.
fn has_head(table: &TableSpec) -> bool {
    !table.keys.is_empty() || matches!(table.stands, Stands::Listed { .. })
}

/// Adds a comment, broken into lines.
fn comment(out: &mut String, text: &str) {
    out.push_str(&format!("{}\n", wrapped(text, COLUMNS, "# ", "# ")));
}

/// True when a key or table is the one to write among those that it may not stand beside.
fn wins(table: &TableSpec, name: &str, instead: &[&str]) -> bool {
    table.rivals(name).iter().all(|rival| {
        match (instead.contains(&name), instead.contains(rival)) {
            (true, false) => true,
            (false, true) => false,
            _ => {
                let (own, others) = (table.preferred(name), table.preferred(rival));
                let first = table
                    .rules
                    .iter()
                    .any(|rule| matches!(rule, Rule::Apart(a, b, _) if *a == name && b == rival));
                own || (!others && first)
            }
        }
    })
}

/// A table in one line: `[{ size = "3 gal", price = "$276.00" }]`.
fn inline(table: &TableSpec, instead: &[&str]) -> String {
    let keys: Vec<String> =
        table.keys.iter().filter(|key| wins(table, key.name, instead)).map(KeySpec::line).collect();
    let one = format!("{{ {} }}", keys.join(", "));
    match table.stands {
        Stands::Once { .. } => one,
        Stands::Listed { .. } => format!("[{one}]"),
    }
}

fn full(out: &mut String, table: &TableSpec, at: &str, instead: &[&str]) {
    if !table.versions.is_empty() {
        for (_, version) in table.versions {
            full(out, version, at, instead);
        }
        return;
    }
    let body = |out: &mut String, given: &[(&str, &str)]| {
        if !at.is_empty() && has_head(table) {
            *out += &format!("\n{}\n", head(table, at));
        }
        let key_of = |key: &KeySpec| {
            let given = given.iter().find(|(name, _)| *name == key.name).map(|given| given.1);
            given.map_or_else(|| key.line(), |given| format!("{} = {given}", key.name)) + "\n"
        };
        let keys = table.keys.iter().filter(|key| wins(table, key.name, instead));
        let keys =
            keys.filter(|key| given.is_empty() || given.iter().any(|(name, _)| *name == key.name));
        out.extend(keys.map(key_of));
    };
    body(out, &[]);
    let (lines, below): (Vec<&TableSpec>, Vec<&TableSpec>) =
        table.tables.iter().filter(|t| wins(table, t.name(), instead)).partition(|t| t.inline);
    out.extend(lines.iter().map(|line| format!("{} = {}\n", line.name(), inline(line, instead))));
    for below in below {
        full(out, below, &path(at, below.name()), instead);
    }
    for given in table.more.iter().filter(|_| !table.free) {
        body(out, given);
    }
}

/// A blank file that is being written.
struct Blank<'a> {
    out: &'a mut String,
}

impl Blank<'_> {
    /// A table at a path; `off` when it is commented out.
    fn table(&mut self, table: &TableSpec, at: &str, off: bool) {
        if !table.versions.is_empty() {
            for (_, version) in table.versions.iter().rev() {
                self.table(version, at, off || !version.shown);
            }
            return;
        }
        let hash = if off { "#" } else { "" };
        self.out.push('\n');
        if !at.is_empty() {
            comment(self.out, table.what);
            if has_head(table) {
                *self.out += &format!("{hash}{}\n", head(table, at));
            }
        }
        for key in table.keys {
            self.key(table, key, off);
        }
        let (lines, below): (Vec<&TableSpec>, Vec<&TableSpec>) =
            table.shown_below(at).partition(|t| t.inline);
        for line in lines {
            comment(self.out, &said(table, line.name(), line.what, None));
            let mark = if line.need() { MARK } else { "" };
            self.line(line.name(), &inline(line, &[]), mark, off || !line.need());
        }
        for below in below {
            self.table(
                below,
                &path(at, below.name()),
                off || !(below.need() || below.shown || below.free),
            );
        }
        for given in table.more {
            let (called, values): (Vec<_>, Vec<_>) =
                given.iter().partition(|pair| pair.0.is_empty());
            let at = match (called.first(), at.rsplit_once('.')) {
                (Some((_, name)), Some((above, _))) => path(above, name),
                _ => at.to_owned(),
            };
            *self.out += &format!("\n{hash}{}\n", head(table, &at));
            for (name, value) in values {
                self.line(name, value, MARK, off);
            }
        }
    }

    /// A key with its comment. What only says that all is invented needs no value of one's own.
    fn key(&mut self, table: &TableSpec, key: &KeySpec, off: bool) {
        let bounds = key.hint();
        comment(self.out, &said(table, key.name, key.what, bounds.as_deref()));
        let needed = key.need || key.shown || table.preferred(key.name);
        let mark = if needed && key.name != "invented" { MARK } else { "" };
        self.line(key.name, &key.example(), mark, off || !needed);
    }

    fn line(&mut self, name: &str, value: &str, mark: &str, off: bool) {
        let hash = if off { "#" } else { "" };
        *self.out += &format!("{hash}{name} = {value}{mark}\n");
    }
}

/// Returns the meaning of a key or a table with its bounds, its rivals and its partners.
fn said(table: &TableSpec, name: &str, what: &str, bounds: Option<&str>) -> String {
    let quoted = |names: Vec<&str>| {
        let each: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
        each.join(", ")
    };
    let mut said = vec![what.to_owned()];
    said.extend(bounds.map(str::to_owned));
    let words = table.keys.iter().find(|key| key.name == name).and_then(KeySpec::choice);
    said.extend(words.map(|words| format!("One of {words}.")));
    let (rivals, partners) = (table.rivals(name), table.partners(name));
    if !rivals.is_empty() && !table.preferred(name) {
        said.push(format!("Not beside {}.", quoted(rivals)));
    }
    if !partners.is_empty() {
        said.push(format!("Only beside {}.", quoted(partners)));
    }
    said.join(" ")
}
