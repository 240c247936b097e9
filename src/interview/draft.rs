//! The file that an interview is writing: what was answered, in the order of the questions, or put
//! into a neutral file with its comments.

use std::ops::Range;

use toml::de::{DeTable, DeValue};
use toml_edit::{Decor, DocumentMut, Item, Value};

use crate::interview::ask::plain;
use crate::read::amount::CURRENCIES;
use crate::read::job_text::put_in_place;

/// A table of a file: `slab`, the second `area`; the top of the file has no name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DraftPlace {
    pub table: &'static str,
    /// Which of a list of tables, from one; zero for a table that stands once.
    pub nth: usize,
    /// It stands once, inside the `nth` of a list.
    inside: bool,
}

impl DraftPlace {
    pub const TOP: Self = Self::table("");

    pub const fn table(table: &'static str) -> Self {
        Self { table, nth: 0, inside: false }
    }

    pub const fn list(table: &'static str, nth: usize) -> Self {
        Self { table, nth, inside: false }
    }

    /// A table that stands once inside one of a list: the `flake` of the third `product`.
    pub const fn inside(table: &'static str, nth: usize) -> Self {
        Self { table, nth, inside: true }
    }
}

/// One line of the file, and the question whose answer it is.
#[derive(Debug, Clone)]
struct Entry {
    place: DraftPlace,
    key: String,
    /// `None`: what a neutral file has there is taken out.
    value: Option<Value>,
    owner: String,
}

impl Entry {
    fn stands_at(&self, place: DraftPlace, key: &str) -> bool {
        self.place == place && self.key == key
    }
}

/// A file in the making.
#[derive(Debug, Clone, Default)]
pub struct Draft<'a> {
    /// The neutral file that the answers go into.
    base: Option<&'a DocumentMut>,
    /// A file that new tables are put behind; it stays as it is.
    below: Option<&'a str>,
    /// The currency that its amounts are written in, in place of dollars.
    pub currency: Option<String>,
    entries: Vec<Entry>,
}

impl<'a> Draft<'a> {
    pub fn of(base: Option<&'a DocumentMut>) -> Self {
        Self { base, ..Self::default() }
    }

    /// New tables for the end of a file.
    pub fn behind(below: &'a str) -> Self {
        Self { below: Some(below), ..Self::default() }
    }

    /// Writes a value, or takes one out of a neutral file; a later one takes an earlier one's place.
    pub fn put(&mut self, place: DraftPlace, key: &str, value: Option<Value>, owner: &str) {
        let new = Entry { place, key: key.to_owned(), value, owner: owner.to_owned() };
        match self.entries.iter_mut().find(|entry| entry.stands_at(place, key)) {
            Some(entry) => *entry = new,
            None => self.entries.push(new),
        }
    }

    /// True when a value was written there.
    pub fn has(&self, place: DraftPlace, key: &str) -> bool {
        self.entries.iter().any(|entry| entry.stands_at(place, key))
    }

    /// Returns the value that was written there, as one would type it.
    pub fn typed(&self, place: DraftPlace, key: &str) -> Option<String> {
        let entry = self.entries.iter().find(|entry| entry.stands_at(place, key))?;
        entry.value.as_ref().map(typed)
    }

    /// Returns the value of a neutral file at a key, as one would type it.
    pub fn neutral(&self, place: DraftPlace, key: &str) -> Option<String> {
        let top = self.base?.as_item();
        let found = match (place.table, place.nth) {
            ("", _) => top.get(key)?,
            (table, 0) => top.get(table)?.get(key)?,
            (table, nth) => top.get(table)?.as_array_of_tables()?.get(nth - 1)?.get(key)?,
        };
        let said = typed(found.as_value()?);
        Some(match (said.strip_prefix('$'), self.sign()) {
            (Some(amount), Some(sign)) => format!("{sign}{amount}"),
            _ => said,
        })
    }

    /// The text of the file. `schema` is its first line, `head` the comment that opens it, `comment`
    /// gives what stands above a table.
    pub fn text(
        &self,
        schema: &str,
        head: &str,
        comment: &dyn Fn(&str) -> Option<&'static str>,
    ) -> String {
        if let Some(below) = self.below {
            return behind(below, &self.written_anew(&|_| None));
        }
        let body = match self.base {
            Some(base) => self.put_into(base),
            None => self.written_anew(comment),
        };
        headed(schema, head, &body)
    }

    fn written_anew(&self, comment: &dyn Fn(&str) -> Option<&'static str>) -> String {
        let mut text = String::new();
        let mut places: Vec<DraftPlace> = vec![DraftPlace::TOP];
        for entry in &self.entries {
            if !places.contains(&entry.place) {
                places.push(entry.place);
            }
        }
        for place in places {
            if !place.table.is_empty() {
                text.push('\n');
                let note = comment(place.table).filter(|_| place.nth <= 1);
                text.push_str(&note.map(commented).unwrap_or_default());
                let once = place.nth == 0 || place.inside;
                let (open, close) = if once { ("[", "]") } else { ("[[", "]]") };
                text.push_str(&format!("{open}{}{close}\n", place.table));
            }
            for entry in self.entries.iter().filter(|entry| entry.place == place) {
                let Some(value) = &entry.value else { continue };
                text.push_str(&format!("{} = {}\n", entry.key, spread(value)));
            }
        }
        text
    }

    /// Returns the sign before an amount in the currency that was chosen.
    pub fn sign(&self) -> Option<String> {
        let code = self.currency.as_ref()?;
        let (_, sign) = CURRENCIES.iter().find(|(known, _)| known == code)?;
        let space = if sign.len() > 1 && sign.is_ascii() { " " } else { "" };
        Some(format!("{sign}{space}"))
    }

    fn put_into(&self, base: &DocumentMut) -> String {
        let mut document = base.clone();
        if let Some(sign) = self.sign() {
            in_currency(document.as_item_mut(), &sign);
        }
        for Entry { place, key, value, .. } in &self.entries {
            let table = match (place.table, place.nth) {
                ("", _) => Some(document.as_table_mut()),
                (name, 0) => document.entry(name).or_insert_with(toml_edit::table).as_table_mut(),
                (name, nth) => self.nth_of_list(&mut document, name, nth),
            };
            let Some(table) = table else { continue };
            match (value, table.get_mut(key)) {
                (None, _) => drop(table.remove(key)),
                (Some(new), Some(Item::Value(old))) => put_in_place(old, plain(new.clone())),
                (Some(new), _) => drop(table.insert(key, Item::Value(plain(new.clone())))),
            }
        }
        document.to_string()
    }

    /// A table of a list of the neutral file, which has as many as were answered.
    fn nth_of_list<'d>(
        &self,
        document: &'d mut DocumentMut,
        name: &str,
        nth: usize,
    ) -> Option<&'d mut toml_edit::Table> {
        let answered = self.entries.iter().filter(|entry| entry.place.table == name);
        let count = answered.map(|entry| entry.place.nth).max()?;
        let list =
            document.entry(name).or_insert_with(toml_edit::array).as_array_of_tables_mut()?;
        while list.len() > count {
            list.remove(list.len() - 1);
        }
        while list.len() < nth {
            list.push(toml_edit::Table::new());
        }
        list.get_mut(nth - 1)
    }

    /// Returns the places of the values that an answer has written.
    pub fn spans_of(&self, owner: &str, text: &str) -> Vec<Range<usize>> {
        let Ok(table) = DeTable::parse(text) else { return vec![] };
        let own = self.entries.iter().filter(|entry| entry.owner == owner);
        own.filter_map(|entry| span(table.get_ref(), entry)).collect()
    }

    /// The questions whose answers stand at a place of the text: one where it is inside a value, else
    /// all of the nearest table.
    pub fn owners_at(&self, bytes: &Range<usize>, text: &str) -> Vec<String> {
        let Ok(table) = DeTable::parse(text) else { return vec![] };
        let placed = |entry| span(table.get_ref(), entry).map(|span| (span, entry));
        let placed: Vec<(Range<usize>, &Entry)> = self.entries.iter().filter_map(placed).collect();
        let inside =
            placed.iter().find(|(span, _)| span.start <= bytes.start && bytes.end <= span.end);
        if let Some((_, entry)) = inside {
            return vec![entry.owner.clone()];
        }
        let behind = placed.iter().filter(|(span, _)| span.end >= bytes.start);
        let Some((_, nearest)) = behind.min_by_key(|(span, _)| span.start) else { return vec![] };
        let table = self.entries.iter().filter(|entry| entry.place == nearest.place);
        let mut owners: Vec<String> = table.map(|entry| entry.owner.clone()).collect();
        owners.dedup();
        owners
    }
}

/// Writes another sign before every amount in dollars.
fn in_currency(item: &mut Item, sign: &str) {
    fn value(found: &mut Value, sign: &str) {
        match found {
            Value::String(text) => {
                let amount = text.value().strip_prefix('$').map(|rest| format!("{sign}{rest}"));
                amount.into_iter().for_each(|amount| put_in_place(found, amount.into()));
            }
            Value::Array(list) => list.iter_mut().for_each(|one| value(one, sign)),
            Value::InlineTable(table) => table.iter_mut().for_each(|(_, one)| value(one, sign)),
            _ => {}
        }
    }
    match item {
        Item::Value(found) => value(found, sign),
        Item::Table(table) => table.iter_mut().for_each(|(_, item)| in_currency(item, sign)),
        Item::ArrayOfTables(list) => {
            let items = list.iter_mut().flat_map(|table| table.iter_mut());
            items.for_each(|(_, item)| in_currency(item, sign));
        }
        Item::None => {}
    }
}

/// A value as it stands in TOML, as one would type it; of a list, its first.
pub fn as_typed(toml: &str) -> Option<String> {
    match toml.parse().ok()? {
        Value::Array(list) => list.get(0).map(typed),
        value => Some(typed(&value)),
    }
}

/// A value as one would type it.
fn typed(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Boolean(yes) => if *yes.value() { "yes" } else { "no" }.to_owned(),
        Value::Array(list) => list.iter().map(typed).collect::<Vec<_>>().join(", "),
        Value::Datetime(time) => {
            let text = time.value().to_string().replace('T', " ");
            text.strip_suffix(":00").filter(|text| text.contains(':')).unwrap_or(&text).to_owned()
        }
        one => plain(one.clone()).to_string(),
    }
}

fn span(top: &DeTable<'_>, entry: &Entry) -> Option<Range<usize>> {
    let mut at = top;
    let names = entry.place.table.split('.').filter(|name| !name.is_empty());
    for name in names {
        at = match at.get(name)?.get_ref() {
            DeValue::Array(list) => list.get(entry.place.nth.checked_sub(1)?)?.get_ref(),
            table => table,
        }
        .as_table()?;
    }
    Some(at.get(entry.key.as_str())?.span())
}

/// A neutral file without the comment that opens it: the new one has a head of its own.
pub fn neutral(text: &str) -> Option<DocumentMut> {
    let rest = text.split_inclusive('\n').skip_while(|line| line.starts_with('#'));
    rest.collect::<String>().trim_start().parse().ok()
}

/// A file under its first line and the comment that opens it.
pub fn headed(schema: &str, head: &str, body: &str) -> String {
    format!("{schema}\n{}\n{body}", commented(head))
}

/// A file with new tables at its end, in its own line ends.
pub fn behind(below: &str, tables: &str) -> String {
    let end = if below.is_empty() || below.ends_with('\n') { "" } else { "\n" };
    let tables = tables.trim_start_matches('\n');
    let gap = if below.is_empty() { "" } else { "\n" };
    let ends = if below.contains("\r\n") { "\r\n" } else { "\n" };
    let added = format!("{end}{gap}{tables}").replace('\n', ends);
    // Nothing was answered yet.
    if tables.is_empty() { below.to_owned() } else { format!("{below}{added}") }
}

/// A text as lines of a comment.
fn commented(text: &str) -> String {
    let line = |line: &str| match line.trim_end() {
        "" => "#\n".to_owned(),
        line => format!("# {line}\n"),
    };
    text.trim_end().lines().map(line).collect()
}

/// A list of texts has a line for each when one line would be long.
fn spread(value: &Value) -> String {
    const WIDTH: usize = 88;
    let plain = plain(value.clone());
    let text = plain.to_string();
    let Value::Array(mut list) = plain else { return text };
    if text.chars().count() <= WIDTH || list.len() < 2 {
        return text;
    }
    list.iter_mut().for_each(|part| *part.decor_mut() = Decor::new("\n  ", ""));
    list.set_trailing("\n");
    list.set_trailing_comma(true);
    list.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_written_anew_has_its_tables_in_the_order_of_the_answers() {
        let mut draft = Draft::default();
        draft.put(DraftPlace::table("slab"), "on-ground", Some(true.into()), "slab.on-ground");
        draft.put(DraftPlace::list("area", 1), "length", Some("20 ft".into()), "area.length 1");
        draft.put(DraftPlace::list("area", 2), "length", Some("4 ft".into()), "area.length 2");
        draft.put(DraftPlace::TOP, "number", Some("2026-0001".into()), "job.number");
        let comment = |table: &str| (table == "area").then_some("Floors.");
        let text = draft.text("#:schema ./x", "A job.", &comment);
        assert_eq!(
            text,
            "#:schema ./x\n# A job.\n\nnumber = \"2026-0001\"\n\n[slab]\non-ground = true\n\n# Floors.\n[[area]]\n\
             length = \"20 ft\"\n\n[[area]]\nlength = \"4 ft\"\n"
        );
        let span = draft.spans_of("area.length 2", &text).remove(0);
        assert_eq!(&text[span.clone()], "\"4 ft\"");
        assert_eq!(draft.owners_at(&span, &text), ["area.length 2"]);
        let head = text.find("[slab]").unwrap();
        assert_eq!(draft.owners_at(&(head..head + 6), &text), ["slab.on-ground"]);
    }

    #[test]
    fn a_neutral_file_keeps_its_comments() {
        let base = "# A book of ours.\n\n# Wages.\n[labor]\nwage = \"$32.00/h\"        # of one person\nnote = 1\n";
        let base = neutral(base).unwrap();
        let mut draft = Draft::of(Some(&base));
        let labor = DraftPlace::table("labor");
        assert_eq!(draft.neutral(labor, "wage").unwrap(), "$32.00/h");
        draft.put(labor, "wage", Some("$40.00/h".into()), "labor.wage");
        draft.put(labor, "note", None, "labor.note");
        let text = draft.text("#:schema ./x", "A book.", &|_| None);
        assert_eq!(
            text,
            "#:schema ./x\n# A book.\n\n# Wages.\n[labor]\nwage = \"$40.00/h\"        # of one person\n"
        );
    }
}
