//! The written reference of the keys, as Markdown: a long form that says all of each key, and a
//! list that fits into a document.

use crate::read::form::ValueForm;
use crate::read::keys::FileKind;
use crate::read::keys::spec::{KeySpec, Shape};
use crate::read::keys::table::{Rule, Stands, TableSpec};

impl KeySpec {
    /// The words of a choice, each in quotes; `None` for other values.
    pub fn choice(&self) -> Option<String> {
        let ValueForm::Words(words) = self.form() else { return None };
        let words: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
        Some(words.join(", "))
    }
}

/// The tables that have keys of their own, with their paths, in the order of the file.
fn tables<'a>(table: &'a TableSpec, path: &str, found: &mut Vec<(String, &'a TableSpec)>) {
    if !table.versions.is_empty() {
        for (by, version) in table.versions.iter().rev() {
            let at = found.len();
            tables(version, path, found);
            if let (Some(by), Some((title, _))) = (by, found.get_mut(at)) {
                *title += &format!(" with `{by}`");
            }
        }
        return;
    }
    let title = match table.stands {
        _ if path.is_empty() => "(top)".to_owned(),
        Stands::Once { .. } => format!("`[{path}]`"),
        Stands::Listed { .. } => format!("`[[{path}]]`"),
    };
    found.push((title, table));
    for below in table.shown_below(path).filter(|below| !below.inline) {
        let name = if below.free { "NAME" } else { below.name() };
        let below_path = if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") };
        tables(below, &below_path, found);
    }
}

fn all(kind: FileKind) -> Vec<(String, &'static TableSpec)> {
    let mut found = vec![];
    tables(kind.file(), "", &mut found);
    found.retain(|(_, table)| !table.keys.is_empty());
    found
}

/// A name as it is written; in bold when it must be there.
fn name(name: &str, free: bool, need: bool) -> String {
    match (free, need) {
        (true, _) => "*any name*".to_owned(),
        (false, true) => format!("**`{name}`**"),
        (false, false) => format!("`{name}`"),
    }
}

fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

/// Every key of a kind of file with all that is said of it.
pub fn reference(kind: FileKind) -> String {
    let file = kind.file();
    let mut out = format!("# Keys of the {} file\n\n{}", kind.word(), file.what);
    out += " Names in bold have to be there, in a table that may itself be left out where its head says so.\n";
    for (title, table) in all(kind) {
        let head = match table.stands {
            Stands::Once { need: true } => "has to be there",
            Stands::Once { need: false } => "may be left out",
            Stands::Listed { least: 0, .. } => "any number of times",
            Stands::Listed { .. } => "once or more",
        };
        let said = match title.as_str() {
            "(top)" => "At the top of the file, before all tables.".to_owned(),
            _ => format!("{} ({head})", table.what),
        };
        out += &format!("\n## {title}\n\n{said}\n\n");
        out += "| key | what it says | value | example |\n| --- | --- | --- | --- |\n";
        for key in table.keys {
            row(&mut out, &name(key.name, key.free, key.need), key);
        }
        for line in table.tables.iter().filter(|below| below.inline) {
            let own = name(line.name(), false, line.need());
            out += &format!("| {own} | {} | a table in braces | |\n", cell(line.what));
            for key in line.keys {
                row(&mut out, &format!("{own}: {}", name(key.name, false, key.need)), key);
            }
        }
        let rules = table.tables.iter().filter(|below| below.inline).flat_map(|line| line.rules);
        let rules: Vec<String> = table.rules.iter().chain(rules).map(rule).collect();
        if !rules.is_empty() {
            out += &format!("\n{}\n", rules.join(" "));
        }
    }
    out
}

fn row(out: &mut String, name: &str, key: &KeySpec) {
    let value = match key.choice() {
        Some(words) => format!("one of {words}"),
        None => key.expected(),
    };
    let value = match key.shape {
        Shape::List { .. } => format!("a list: {value}"),
        Shape::One | Shape::Pair | Shape::Pairs { .. } => value,
    };
    let bounds = key.bounds().map(|bounds| format!(". {bounds}")).unwrap_or_default();
    let cells = [key.what, &format!("{value}{bounds}"), &format!("`{}`", key.example())].map(cell);
    *out += &format!("| {name} | {} |\n", cells.join(" | "));
}

fn rule(rule: &Rule) -> String {
    match rule {
        Rule::Apart(a, b, _) => format!("`{a}` and `{b}` do not stand together."),
        Rule::Together(a, b, _) => format!("`{a}` and `{b}` stand together or not at all."),
        Rule::Unless(other, names, _) => {
            let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
            format!("Without `{other}`, {} must be there.", names.join(" and "))
        }
        Rule::OneOf(names, _) => format!("One of {} must be there.", quoted(names)),
        Rule::Holds(holder, held, _) => {
            let held: Vec<String> = held.iter().map(|name| format!("`{name}`")).collect();
            format!("With `{holder}`, these stand below it: {}.", held.join(", "))
        }
    }
}

fn quoted(names: &[&str]) -> String {
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// Every key of a kind of file by its name, a row for each table.
pub fn list(kind: FileKind) -> String {
    let mut rows: Vec<(Vec<String>, String)> = vec![];
    for (title, table) in all(kind) {
        let keys = names(table);
        match rows.last_mut() {
            Some((titles, last)) if *last == keys => titles.push(title),
            _ => rows.push((vec![title], keys)),
        }
    }
    let mut out = format!("| table of the {} | keys |\n| --- | --- |\n", kind.word());
    for (titles, keys) in rows {
        out += &format!("| {} | {keys} |\n", titles.join(", "));
    }
    out
}

fn names(table: &TableSpec) -> String {
    let keys = table.keys.iter().map(|key| {
        let own = name(key.name, key.free, key.need);
        match key.choice() {
            Some(words) => format!("{own} ({words})"),
            None if key.free => format!("{own}, such as `{}`", key.line()),
            None => own,
        }
    });
    let lines = table
        .tables
        .iter()
        .filter(|below| below.inline)
        .map(|line| format!("{} {{ {} }}", name(line.name(), false, line.need()), names(line)));
    let all: Vec<String> = keys.chain(lines).collect();
    let rules = table.rules.iter().filter_map(|rule| match rule {
        Rule::Unless(other, needed, _) => {
            let needed: Vec<String> = needed.iter().map(|name| format!("`{name}`")).collect();
            Some(format!("; needs {}, or `{other}`", needed.join(" and ")))
        }
        Rule::OneOf(names, _) => Some(format!("; needs one of {}", quoted(names))),
        Rule::Apart(..) | Rule::Together(..) | Rule::Holds(..) => None,
    });
    all.join(", ") + &rules.collect::<String>()
}
