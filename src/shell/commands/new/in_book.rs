//! What is new in a price book or beside it: a product, which goes behind those of the book, and a floor,
//! whose file goes into the book's `systems` folder.

use std::path::{Path, PathBuf};

use slableaf::base::source::SourceFile;
use slableaf::interview::draft::behind;
use slableaf::interview::{InterviewKind, started_book};
use slableaf::read::{keys, read_book};

use crate::shell::commands::new::in_job::edit;
use crate::shell::commands::new::surroundings::nearest_shared;
use crate::shell::commands::new::write_file as write_new;
use crate::shell::store::{SYSTEMS, folder_of, load_book, understood};
use crate::shell::terminal::{Error, Exit, Report, Result, shown};

/// The book that is meant: the one that was named, else the nearest, else a new one here.
pub fn book_path(given: Option<&Path>) -> PathBuf {
    let here = || nearest_shared(Path::new(""), "book");
    given.map(Path::to_owned).or_else(here).unwrap_or_else(|| PathBuf::from("book.toml"))
}

/// The book as it is; a neutral one with its products where there is none.
///
/// # Errors
/// It has mistakes: a product behind them could not be looked at.
pub fn book_text(path: &Path) -> Result<String> {
    if path.symlink_metadata().is_err() {
        return Ok(started_book());
    }
    let (file, _) = load_book(path)?;
    Ok(file.text)
}

/// The stand-in for the file of a floor that has no name yet.
pub fn floor_path(book: &Path) -> Result<PathBuf> {
    if book.symlink_metadata().is_err() {
        let message = format!("there is no price book: {}", shown(book));
        return Err(Error::new(Exit::Input, message).help(
            "`slableaf new book` starts one, and `slableaf new product` puts a product into it",
        ));
    }
    load_book(book)?;
    Ok(folder_of(book).join(SYSTEMS).join("new.toml"))
}

/// Puts a product behind the book as it is now. `asked` is the file with the product behind `below`, the
/// book as it was when the questions began.
///
/// # Errors
/// The book cannot be written, or no longer loads with it.
pub fn add_product(path: &Path, below: &str, asked: &str, report: &mut Report) -> Result<()> {
    if path.symlink_metadata().is_err() {
        return write_new(InterviewKind::Product, path, asked, report);
    }
    edit(path, |now| {
        let text = match asked.strip_prefix(below) {
            Some(product) if now != below => behind(&now, product.trim_start()),
            _ => asked.to_owned(),
        };
        understood(SourceFile { name: shown(path), text }, read_book).map(Some)
    })?;
    report.say(format!("wrote {}, with the new product at its end", shown(path)));
    Ok(())
}

/// The next steps behind a product or a floor.
pub fn say_next(kind: InterviewKind, report: &mut Report) {
    let next = match kind {
        InterviewKind::Product => ["new product", "new system"],
        _ => ["new", "estimate JOB"],
    };
    report.say(format!("  next: slableaf {}, or slableaf {}", next[0], next[1]));
}

/// The template of a floor, by the name that stands in it.
pub fn blank_floor(book: &Path) -> (PathBuf, String) {
    let text = keys::template(keys::FileKind::System);
    (folder_of(book).join(SYSTEMS).join("plain-clear.toml"), text)
}
