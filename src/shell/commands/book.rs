//! `book`: edits of a price book that keep its comments and its layout.

mod learn;

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use slableaf::base::names::Key;
use slableaf::base::source::SourceFile;
use slableaf::model::book::changes::PriceScope;
use slableaf::read::book_text::{NewChange, NewStep, settled, with_change};
use slableaf::read::change::{SignedAmount, SignedPercent, each_known, instead_of};
use slableaf::read::read_book;
use slableaf::read::scalar::Scalar;
use toml::de::DeValue;

use crate::shell::args::{BookVerb, ChangeBook, SettleBook, Target};
use crate::shell::store::{
    Lock, Saved, folder_of, load_book, read_text, sweep_unfinished, understood, unfinished_file,
    write_file, write_new_file,
};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Report, Result, counted, shown};

pub fn book(verb: &BookVerb, report: &mut Report) -> Result<Exit> {
    match verb {
        BookVerb::Change(wanted) => change(wanted, report),
        BookVerb::Settle(wanted) => settle(wanted, report),
        BookVerb::Learn(wanted) => learn::learn(wanted, report),
    }
}

fn change(wanted: &ChangeBook, report: &mut Report) -> Result<Exit> {
    let _lock = lock_in_place(&wanted.book, &wanted.target)?;
    let (file, book) = load_book(&wanted.book)?;
    let by = match (&wanted.percent, &wanted.amount) {
        (Some(percent), _) => {
            NewStep::Percent(checked_value::<SignedPercent>("--percent", percent)?)
        }
        (None, Some(amount)) => NewStep::Amount(checked_value::<SignedAmount>("--amount", amount)?),
        (None, None) => {
            return Err(Error::new(Exit::Line, "neither `--percent` nor `--amount` is given"));
        }
    };
    let of = match (&wanted.product, &wanted.supplier) {
        (Some(key), _) => {
            let keys = book.products.iter().map(|product| product.key.0.as_str());
            PriceScope::Product(Key(known_name("--product", key, keys)?))
        }
        (None, Some(name)) => {
            let names = book.products.iter().map(|product| product.supplier.as_str());
            PriceScope::Supplier(known_name("--supplier", name, names)?)
        }
        (None, None) => PriceScope::All,
    };
    let change = NewChange { from: wanted.from, of, by };
    let text = with_change(&file.text, &change)
        .map_err(|error| Error::new(Exit::Bug, error.to_string()))?;
    let path = keep(&file, &wanted.book, &wanted.target, text)?;
    let (NewStep::Percent(by) | NewStep::Amount(by)) = &change.by;
    let of = match &change.of {
        PriceScope::All => "all products".to_owned(),
        PriceScope::Product(key) => key.to_string(),
        PriceScope::Supplier(name) => format!("all of {name}"),
    };
    let from = wanted.from;
    let path = shown(&path);
    report.say(format!("wrote {path}: {by} on {of}, for papers of {from} and later"));
    Ok(Exit::Fine)
}

fn settle(wanted: &SettleBook, report: &mut Report) -> Result<Exit> {
    let _lock = lock_in_place(&wanted.book, &wanted.target)?;
    let (file, book) = load_book(&wanted.book)?;
    let on = wanted.on;
    let settled =
        settled(&file.text, &book, on).map_err(|error| Error::new(Exit::Bug, error.to_string()))?;
    if settled.changes == 0 {
        let book = shown(&wanted.book);
        report.say(format!("no change of {book} is due by {on}; nothing was written"));
        return Ok(Exit::Fine);
    }
    let path = keep(&file, &wanted.book, &wanted.target, settled.text)?;
    report.say(format!(
        "wrote {}: {} worked into {} of kits",
        shown(&path),
        counted(settled.changes, "change"),
        counted(settled.prices, "price")
    ));
    Ok(Exit::Fine)
}

/// A name of the command line that the book has to know.
fn known_name<'b>(
    option: &str,
    name: &str,
    names: impl Iterator<Item = &'b str>,
) -> Result<String> {
    let names = each_known(names);
    if names.contains(&name) {
        return Ok(name.to_owned());
    }
    let message = format!("`{option}` is `{name}`, and no product of the book has that");
    Err(Error::new(Exit::Line, message).help(instead_of(
        option.trim_start_matches('-'),
        name,
        &names,
    )))
}

/// A value of the command line, as it will stand in the book.
fn checked_value<T: Scalar>(option: &str, text: &str) -> Result<String> {
    let text = text.trim();
    match T::read(&DeValue::String(text.into())) {
        Ok(_) => Ok(text.to_owned()),
        Err(fault) => {
            let error = Error::new(Exit::Line, format!("`{option}` {}", fault.message));
            Err(fault.help.into_iter().fold(error, Error::help))
        }
    }
}

/// The lock of a book that is changed itself, from before it is read: runs at one time work one after
/// the other, and none loses what another wrote.
fn lock_in_place(book: &Path, target: &Target) -> Result<Option<Lock>> {
    if !target.in_place {
        return Ok(None);
    }
    // A link stays one: the file that it leads to is the book.
    let real = fs::canonicalize(book)
        .map_err(|error| Error::cannot("read", book, &error).exit(Exit::Input))?;
    let lock = Lock::beside(&real)?;
    sweep_unfinished(&folder_of(&real), &unfinished_file(&real), Duration::ZERO);
    Ok(Some(lock))
}

/// Keeps an edited book where it was asked for, when it still loads. `read` is the book as it was read.
fn keep(read: &SourceFile, book: &Path, target: &Target, text: String) -> Result<PathBuf> {
    let path = target.to.as_deref().unwrap_or(book);
    let (file, _) = understood(SourceFile { name: shown(path), text }, read_book)?;
    if target.to.is_some() {
        return match write_new_file(path, file.text.as_bytes())? {
            Saved::Written => Ok(path.to_owned()),
            Saved::Exists => {
                Err(Error::new(Exit::Files, format!("{} is there already", shown(path)))
                    .help("name a new file, or say `--in-place` to change the book itself"))
            }
        };
    }
    let real = fs::canonicalize(path).or_cannot("read", path)?;
    // Another program knows nothing of our lock.
    if read_text(&real)?.0.text != read.text {
        let message = format!("{} was changed by another program meanwhile", shown(path));
        return Err(Error::new(Exit::Files, message).help(
            "nothing was written: type the same again, and it works on the book as it is now",
        ));
    }
    write_file(&real, file.text.as_bytes())?;
    Ok(path.to_owned())
}
