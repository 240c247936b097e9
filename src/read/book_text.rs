//! A price book as a text that a person wrote: edits that keep every comment and the layout.

use jiff::civil::Date;
use toml_edit::{DocumentMut, Item, Table, TableLike, TomlError, Value};

use crate::base::money::Cents;
use crate::model::book::Book;
use crate::model::book::changes::PriceScope;
use crate::read::amount::in_groups;
use crate::read::job_text::put_in_place;

/// A change of prices to be written into a book.
#[derive(Debug, Clone, PartialEq)]
pub struct NewChange {
    pub from: Date,
    pub of: PriceScope,
    pub by: NewStep,
}

/// By how much, as a person wrote it: `+4.5 %`, `-$3.00`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NewStep {
    Percent(String),
    Amount(String),
}

/// The book with one more change at its end.
///
/// # Errors
/// A text that is not TOML.
pub fn with_change(text: &str, change: &NewChange) -> Result<String, TomlError> {
    let mut document: DocumentMut = text.parse()?;
    let mut table = Table::new();
    // A civil date reads as one of TOML.
    if let Ok(from) = change.from.to_string().parse::<toml_edit::Datetime>() {
        table.insert("from", toml_edit::value(from));
    }
    match &change.of {
        PriceScope::All => None,
        PriceScope::Product(key) => table.insert("product", toml_edit::value(key.0.as_str())),
        PriceScope::Supplier(name) => table.insert("supplier", toml_edit::value(name.as_str())),
    };
    match &change.by {
        NewStep::Percent(percent) => table.insert("percent", toml_edit::value(percent.as_str())),
        NewStep::Amount(amount) => table.insert("amount", toml_edit::value(amount.as_str())),
    };
    let written = match document.get_mut("change") {
        // A list in brackets takes one more entry.
        Some(Item::Value(Value::Array(list))) => {
            list.push(table.into_inline_table());
            document.to_string()
        }
        _ => {
            let gap = if text.is_empty() || text.ends_with("\n\n") { "" } else { "\n" };
            let end = if text.is_empty() || text.ends_with('\n') { "" } else { "\n" };
            format!("{text}{end}{gap}[[change]]\n{table}")
        }
    };
    Ok(with_line_ends_of(text, written))
}

/// The book with other rates of work, each by its key and as it shall stand there. Comments stay.
///
/// # Errors
/// A text that is not TOML.
pub fn with_rates(text: &str, rates: &[(String, String)]) -> Result<String, TomlError> {
    let mut document: DocumentMut = text.parse()?;
    if let Some(table) = document.get_mut("rates").and_then(Item::as_table_like_mut) {
        for (key, rate) in rates {
            match table.get_mut(key).and_then(Item::as_value_mut) {
                Some(old) => put_in_place(old, rate.as_str().into()),
                None => drop(table.insert(key, toml_edit::value(rate.as_str()))),
            }
        }
    }
    Ok(with_line_ends_of(text, document.to_string()))
}

/// A book whose changes were worked into its prices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settled {
    pub text: String,
    /// Changes that were taken out of the list.
    pub changes: usize,
    /// Prices of kits that are other ones now.
    pub prices: usize,
}

/// Works the changes that are due on a day into the prices of a book and takes them out of its
/// list. `book` is what the text says. Their comments stay, where the change stood.
///
/// # Errors
/// A text that is not TOML.
pub fn settled(text: &str, book: &Book, on: Date) -> Result<Settled, TomlError> {
    let mut document: DocumentMut = text.parse()?;
    let mut after = book.clone();
    after.settle(on);
    let mut prices = 0;
    let products = document.get_mut("product").map(tables).unwrap_or_default();
    for ((product, was), is) in products.into_iter().zip(&book.products).zip(&after.products) {
        let kits = product.get_mut("kit").map(tables).unwrap_or_default();
        let pairs = was.stuff.prices().zip(is.stuff.prices());
        for (kit, (was, is)) in kits.into_iter().zip(pairs) {
            if was != is
                && let Some(Item::Value(price)) = kit.get_mut("price")
            {
                rewrite(price, is);
                prices += 1;
            }
        }
    }
    let due = |at: &usize| book.changes.get(*at).is_some_and(|change| change.from <= on);
    let due: Vec<usize> = (0..book.changes.len()).filter(due).collect();
    // From the last to the first, so that positions stay right.
    due.iter().rev().for_each(|at| take_out(&mut document, *at));
    let text = with_line_ends_of(text, document.to_string());
    Ok(Settled { text, changes: due.len(), prices })
}

/// The tables of a list, whether they have heads of their own or stand in brackets.
fn tables(item: &mut Item) -> Vec<&mut dyn TableLike> {
    match item {
        Item::ArrayOfTables(list) => {
            list.iter_mut().map(|table| table as &mut dyn TableLike).collect()
        }
        Item::Value(Value::Array(list)) => {
            let tables = list.iter_mut().filter_map(Value::as_inline_table_mut);
            tables.map(|table| table as &mut dyn TableLike).collect()
        }
        _ => vec![],
    }
}

// ----------------------------------------------------------------------------------------- prices

/// Puts another amount in the place of one, written in the same way.
fn rewrite(price: &mut Value, amount: Cents) {
    let new = match price.as_str() {
        Some(text) => Value::from(in_style_of(text, amount)),
        // A bare number: its digits as text, so that no binary number comes between.
        None => amount.to_string().parse().unwrap_or_else(|_| Value::from(amount.to_string())),
    };
    put_in_place(price, new);
}

/// An amount with the sign, the digits after the point and the commas of another.
fn in_style_of(old: &str, amount: Cents) -> String {
    let digit = |c: char| c.is_ascii_digit();
    let from = old.find(digit).unwrap_or(old.len());
    let to = old.rfind(digit).map_or(old.len(), |at| at + 1);
    let (before, figure, after) = (&old[..from], old.get(from..to).unwrap_or(""), &old[to..]);
    let plain = amount.to_string();
    let (whole, cents) = plain.split_once('.').unwrap_or((&plain, "00"));
    // A book whose amounts were all below a thousand has not shown how it groups: with commas.
    let groups = figure.contains(',') || figure.split('.').next().is_some_and(|f| f.len() < 4);
    let whole = if groups { in_groups(whole, ",") } else { whole.to_owned() };
    let point = if cents == "00" && !figure.contains('.') { "" } else { "." };
    let cents = if point.is_empty() { "" } else { cents };
    format!("{before}{whole}{point}{cents}{after}")
}

// ---------------------------------------------------------------------------------------- changes

/// Takes a change out of the list; its comments stay.
fn take_out(document: &mut DocumentMut, at: usize) {
    match document.get_mut("change") {
        Some(Item::ArrayOfTables(list)) => {
            let Some(table) = list.get(at).cloned() else { return };
            list.remove(at);
            if list.is_empty() {
                document.remove("change");
            }
            let comments = comments(&table);
            if !comments.is_empty() {
                put_before(document, table.position(), &comments);
            }
        }
        Some(Item::Value(Value::Array(list))) if at < list.len() => {
            let gone = list.remove(at);
            let decor = gone.decor();
            let text = [decor.prefix(), decor.suffix()];
            let text: Vec<&str> =
                text.into_iter().flatten().filter_map(|raw| raw.as_str()).collect();
            if text.iter().any(|text| text.contains('#')) {
                let rest = list.trailing().as_str().unwrap_or_default();
                let kept = format!("{}\n{rest}", text.join("").trim_end());
                list.set_trailing(kept);
            }
        }
        _ => {}
    }
}

/// All comments of a table with its lines between them: above its head, beside it, above and
/// beside its keys. Empty when there are none.
fn comments(table: &Table) -> String {
    let mut text = String::new();
    let mut above = |raw: Option<&toml_edit::RawString>| {
        if let Some(raw) = raw.and_then(|raw| raw.as_str()).filter(|raw| raw.contains('#')) {
            text.push_str(raw.trim_end_matches([' ', '\t']));
        }
    };
    above(table.decor().prefix());
    let mut lines = vec![];
    let mut beside = |raw: Option<&toml_edit::RawString>| {
        let raw = raw.and_then(|raw| raw.as_str()).unwrap_or_default().trim();
        lines.extend(raw.lines().map(str::trim).filter(|l| l.starts_with('#')).map(str::to_owned));
    };
    beside(table.decor().suffix());
    for (key, item) in table.iter() {
        beside(table.key(key).and_then(|key| key.leaf_decor().prefix()));
        beside(item.as_value().and_then(|value| value.decor().suffix()));
    }
    for line in lines {
        if text.is_empty() {
            text.push('\n');
        }
        text.push_str(&line);
        text.push('\n');
    }
    text
}

/// Puts a text above the table that follows a position, or at the end.
fn put_before(document: &mut DocumentMut, position: Option<isize>, text: &str) {
    let mut next: Option<isize> = None;
    visit(document.as_table_mut(), &mut |table| {
        let after = table.position().filter(|at| Some(*at) > position);
        next = [next, after].into_iter().flatten().min();
    });
    let Some(next) = next else {
        let rest = document.trailing().as_str().unwrap_or_default().to_owned();
        document.set_trailing(format!("{text}{rest}"));
        return;
    };
    visit(document.as_table_mut(), &mut |table| {
        if table.position() == Some(next) {
            let prefix = table.decor().prefix().and_then(|raw| raw.as_str()).unwrap_or_default();
            let prefix = format!("{text}{prefix}");
            table.decor_mut().set_prefix(prefix);
        }
    });
}

/// Looks at every table that has a head of its own, at any depth.
fn visit(table: &mut Table, look: &mut dyn FnMut(&mut Table)) {
    for (_, item) in table.iter_mut() {
        match item {
            Item::Table(table) => {
                if !table.is_implicit() && !table.is_dotted() {
                    look(table);
                }
                visit(table, look);
            }
            Item::ArrayOfTables(list) => {
                for table in list.iter_mut() {
                    look(table);
                    visit(table, look);
                }
            }
            Item::None | Item::Value(_) => {}
        }
    }
}

/// A text with the line ends that another has.
pub fn with_line_ends_of(model: &str, text: String) -> String {
    let lines = model.matches('\n').count();
    if lines > 0 && model.matches("\r\n").count() == lines {
        text.replace("\r\n", "\n").replace('\n', "\r\n")
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_amount_keeps_the_way_in_which_it_is_written() {
        for (old, cents, new) in [
            ("$276.00", 28842, "$288.42"),
            ("$1,290.00", 134805, "$1,348.05"),
            ("276", 28800, "288"),
            ("276", 28842, "288.42"),
            ("USD 990.00", 103455, "USD 1,034.55"),
            ("1290.00 USD", 134805, "1348.05 USD"),
        ] {
            assert_eq!(in_style_of(old, Cents(cents)), new, "{old}");
        }
    }
}
