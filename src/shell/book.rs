//! `book`: edits of a price book that keep its comments and its layout.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::base::names::Key;
use slableaf::base::source::SourceFile;
use slableaf::model::book::Book;
use slableaf::model::book::changes::PriceScope;
use slableaf::read::book_text::{NewChange, NewStep, settled, with_change};
use slableaf::read::change::{SignedAmount, SignedPercent, instead_of};
use slableaf::read::read_book;
use slableaf::read::scalar::Scalar;
use toml::de::DeValue;

use crate::shell::args::{BookVerb, ChangeBook, SettleBook, Target};
use crate::shell::files::{self, Kept};
use crate::shell::folder::read_text;
use crate::shell::texts::shown;
use crate::shell::{Exit, terminal};

pub fn book(verb: &BookVerb) -> Exit {
    let done = match verb {
        BookVerb::Change(wanted) => change(wanted),
        BookVerb::Settle(wanted) => settle(wanted),
    };
    done.unwrap_or_else(|exit| exit)
}

fn change(wanted: &ChangeBook) -> Result<Exit, Exit> {
    let (file, book) = read(&wanted.book)?;
    let by = match (&wanted.percent, &wanted.amount) {
        (Some(percent), _) => NewStep::Percent(written::<SignedPercent>("--percent", percent)?),
        (None, Some(amount)) => NewStep::Amount(written::<SignedAmount>("--amount", amount)?),
        (None, None) => return Err(Exit::Input),
    };
    let of = match (&wanted.product, &wanted.supplier) {
        (Some(key), _) => {
            let keys = book.products.iter().map(|product| product.key.0.as_str());
            PriceScope::Product(Key(known("--product", key, keys)?))
        }
        (None, Some(name)) => {
            let names = book.products.iter().map(|product| product.supplier.as_str());
            PriceScope::Supplier(known("--supplier", name, names)?)
        }
        (None, None) => PriceScope::All,
    };
    let change = NewChange { from: wanted.from, of, by };
    let text = with_change(&file.text, &change).map_err(|_| Exit::Bug)?;
    let path = keep(&wanted.book, &wanted.target, text)?;
    let (NewStep::Percent(by) | NewStep::Amount(by)) = &change.by;
    let of = match &change.of {
        PriceScope::All => "all products".to_owned(),
        PriceScope::Product(key) => key.to_string(),
        PriceScope::Supplier(name) => format!("all of {name}"),
    };
    let from = wanted.from;
    let path = shown(&path);
    terminal::say(&format!("wrote {path}: {by} on {of}, for papers of {from} and later"));
    Ok(Exit::Fine)
}

fn settle(wanted: &SettleBook) -> Result<Exit, Exit> {
    let (file, book) = read(&wanted.book)?;
    let on = wanted.on;
    let settled = settled(&file.text, &book, on).map_err(|_| Exit::Bug)?;
    if settled.changes == 0 {
        let book = shown(&wanted.book);
        terminal::say(&format!("no change of {book} is due by {on}; nothing was written"));
        return Ok(Exit::Fine);
    }
    let path = keep(&wanted.book, &wanted.target, settled.text)?;
    let count =
        |count: usize, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
    terminal::say(&format!(
        "wrote {}: {} worked into {} of kits",
        shown(&path),
        count(settled.changes, "change"),
        count(settled.prices, "price")
    ));
    Ok(Exit::Fine)
}

/// Reads a book that has no mistakes.
fn read(path: &Path) -> Result<(SourceFile, Book), Exit> {
    let file = read_text(path).map_err(|why| {
        terminal::error(&why);
        Exit::Input
    })?;
    match read_book(&file) {
        Ok(book) => Ok((file, book)),
        Err(problems) => {
            terminal::problems(&problems, &[file]);
            Err(Exit::Input)
        }
    }
}

/// A name of the command line that the book has to know.
fn known<'b>(
    option: &str,
    name: &str,
    names: impl Iterator<Item = &'b str>,
) -> Result<String, Exit> {
    let mut names: Vec<&str> = names.filter(|name| !name.is_empty()).collect();
    names.sort_unstable();
    names.dedup();
    if names.contains(&name) {
        return Ok(name.to_owned());
    }
    terminal::error(&format!("`{option}` is `{name}`, and no product of the book has that"));
    terminal::help(&instead_of(option.trim_start_matches('-'), name, &names));
    Err(Exit::Line)
}

/// A value of the command line, as it will stand in the book.
fn written<T: Scalar>(option: &str, text: &str) -> Result<String, Exit> {
    let text = text.trim();
    match T::read(&DeValue::String(text.into())) {
        Ok(_) => Ok(text.to_owned()),
        Err(fault) => {
            terminal::error(&format!("`{option}` {}", fault.message));
            fault.help.iter().for_each(|help| terminal::help(help));
            Err(Exit::Line)
        }
    }
}

/// Keeps an edited book where it was asked for, when it still loads.
fn keep(book: &Path, target: &Target, text: String) -> Result<PathBuf, Exit> {
    let path = target.to.as_deref().unwrap_or(book);
    let file = SourceFile { name: shown(path), text };
    if let Err(problems) = read_book(&file) {
        terminal::problems(&problems, &[file]);
        return Err(Exit::Input);
    }
    if target.to.is_some() {
        return match files::keep(path, file.text.as_bytes(), false)? {
            Kept::Written => Ok(path.to_owned()),
            Kept::Exists => {
                terminal::error(&format!("{} is there already", shown(path)));
                terminal::help("name a new file, or say `--in-place` to change the book itself");
                Err(Exit::Files)
            }
        };
    }
    // A link stays one: the file that it leads to is the book.
    let real = fs::canonicalize(path).map_err(|error| files::cannot("read", path, &error))?;
    files::keep(&real, file.text.as_bytes(), true)?;
    Ok(path.to_owned())
}
