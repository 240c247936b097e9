//! The files that jobs share: a price book with its systems, and a shop file.

use std::path::Path;

use jiff::civil::Date;
use slableaf::base::layouts::Layouts;
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::model::book::Book;
use slableaf::read::{self, Input, ReadJob, Shared};

use crate::shell::store::{FileBytes, SYSTEMS, folder_of, read_text, toml_files};
use crate::shell::terminal::{Error, Exit, Result};

/// The files that jobs share, as text.
#[derive(Debug)]
pub struct SharedTexts {
    pub book: SourceFile,
    pub shop: SourceFile,
    /// The built-in systems, and those beside the book.
    pub systems: Vec<SourceFile>,
    pub bytes: Vec<FileBytes>,
}

impl SharedTexts {
    /// Reads book and shop file, and the systems beside the book.
    pub fn read(book: &Path, shop: &Path) -> Result<Self> {
        let mut all = vec![];
        let mut read = |path: &Path, recorded: String| -> Result<SourceFile> {
            let (file, bytes) = read_text(path)?;
            all.push(FileBytes { path: recorded, bytes });
            Ok(file)
        };
        let mut systems = Layouts::default().source_files("systems/");
        for path in toml_files(&folder_of(book).join(SYSTEMS))? {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            systems.push(read(&path, format!("systems/{name}"))?);
        }
        let book = read(book, "book.toml".into())?;
        let shop = read(shop, "shop.toml".into())?;
        Ok(Self { book, shop, systems, bytes: all })
    }
}

/// The files that jobs share, understood.
#[derive(Debug)]
pub struct SharedFiles {
    pub texts: SharedTexts,
    shared: Shared,
}

impl From<SharedTexts> for SharedFiles {
    fn from(texts: SharedTexts) -> Self {
        let shared = Shared::read(&texts.book, &texts.shop, &texts.systems);
        Self { texts, shared }
    }
}

impl SharedFiles {
    /// The book as it was on a day: the changes that are due by then are worked in.
    pub fn book_on(&self, day: Date) -> Option<Book> {
        let mut book = self.shared.book()?.clone();
        book.settle(day);
        Some(book)
    }

    /// Holds a job against these files; `on` is the day that prices are asked for, if not the job's own.
    pub fn join(&self, source: &SourceFile, job: ReadJob, on: Option<Date>) -> Result<Input> {
        self.shared.join(job, on).map_err(|problems| {
            let SharedTexts { book, shop, systems, .. } = &self.texts;
            let files = [source, book, shop].into_iter().chain(systems);
            Error::problems(problems, files.cloned().collect())
        })
    }
}

/// Reads a price book alone.
pub fn load_book(path: &Path) -> Result<(SourceFile, Book)> {
    // A book that cannot be read is a mistake in the line that names it.
    let (file, _) = read_text(path).map_err(|error| Error::new(Exit::Input, error.to_string()))?;
    understood(file, read::read_book)
}

/// A file with what a reader understands of it; its mistakes are an error that shows its lines.
pub fn understood<T>(
    file: SourceFile,
    read: impl FnOnce(&SourceFile) -> Result<T, Vec<Diagnostic>>,
) -> Result<(SourceFile, T)> {
    match read(&file) {
        Ok(read) => Ok((file, read)),
        Err(problems) => Err(Error::problems(problems, vec![file])),
    }
}
