//! The jobs below a folder, each with the book and shop file that are nearest to it.
//!
//! Nothing is printed here: what is wrong with a job is for whoever asked, so that one broken job
//! never stops the others. A book, shop file or system is read once, however many jobs share it.

use std::collections::HashMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use slableaf::base::layouts::Layouts;
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::read::Shared;
use slableaf::read::limits::{FOLDER_DEPTH, JOBS};

use crate::shell::files::{SYSTEMS, folder_of, tidied};
use crate::shell::texts::{self, toml_files};

/// Folders that hold no jobs: what was issued, and what belongs to a book or a shop.
const NOT_FOR_JOBS: &[&str] = &["records", "papers", "layouts", SYSTEMS, "shop-only"];

/// A file that may be a job, and the files nearest to it, in its folder or above.
#[derive(Debug, Clone)]
pub struct Candidate {
    pub path: PathBuf,
    pub book: Option<PathBuf>,
    pub shop: Option<PathBuf>,
}

/// Every TOML file below a folder, in the order of the paths. Hidden folders and links are left
/// out.
///
/// # Errors
/// The folder that could not be read.
pub fn candidates(root: &Path) -> Result<Vec<Candidate>, (PathBuf, std::io::Error)> {
    let near = Near { book: above(root, "book.toml"), shop: above(root, "shop.toml") };
    let mut found = vec![];
    walk(root, &near, 0, &mut found)?;
    found.sort_by(|a: &Candidate, b| a.path.cmp(&b.path));
    Ok(found)
}

/// A file that was named, with the files nearest to it.
pub fn candidate(path: &Path) -> Candidate {
    let folder = folder_of(path);
    let near = |name: &str| {
        let beside = folder.join(name);
        if beside.is_file() { Some(beside) } else { above(&folder, name) }
    };
    Candidate { path: path.to_owned(), book: near("book.toml"), shop: near("shop.toml") }
}

#[derive(Clone)]
struct Near {
    book: Option<PathBuf>,
    shop: Option<PathBuf>,
}

/// The nearest file of a name above a folder.
fn above(root: &Path, name: &str) -> Option<PathBuf> {
    let start = fs::canonicalize(root).ok()?;
    let (up, folder) =
        start.ancestors().enumerate().skip(1).find(|(_, folder)| folder.join(name).is_file())?;
    // Names in messages stay as short as the one that was typed.
    let mut short = root.to_owned();
    short.extend(std::iter::repeat_n("..", up));
    Some(tidied(&short).unwrap_or_else(|| folder.to_owned()).join(name))
}

fn walk(
    folder: &Path,
    near: &Near,
    depth: usize,
    found: &mut Vec<Candidate>,
) -> Result<(), (PathBuf, std::io::Error)> {
    let trouble = |error| (folder.to_owned(), error);
    let other = |why: String| trouble(std::io::Error::other(why));
    if depth > FOLDER_DEPTH {
        return Err(other(format!("it lies deeper than {FOLDER_DEPTH} folders")));
    }
    let mut files = vec![];
    let mut folders = vec![];
    let mut near = near.clone();
    for entry in fs::read_dir(folder).map_err(trouble)? {
        let entry = entry.map_err(trouble)?;
        let (name, path) = (entry.file_name(), entry.path());
        let Some(name) = name.to_str() else { continue };
        // A book may be a link: the same one for many folders.
        match name {
            "book.toml" if path.is_file() => near.book = Some(path.clone()),
            "shop.toml" if path.is_file() => near.shop = Some(path.clone()),
            _ => {}
        }
        let kind = entry.file_type().map_err(trouble)?;
        if name.starts_with('.') || kind.is_symlink() {
            continue;
        }
        if kind.is_dir() && !NOT_FOR_JOBS.contains(&name) {
            folders.push(path);
        } else if kind.is_file() && path.extension().is_some_and(|end| end == "toml") {
            files.push(path);
        }
    }
    found.extend(files.into_iter().map(|path| Candidate {
        path,
        book: near.book.clone(),
        shop: near.shop.clone(),
    }));
    if found.len() > JOBS {
        return Err(other(format!("more than {JOBS} files lie here and in the folders before it")));
    }
    folders.iter().try_for_each(|folder| walk(folder, &near, depth + 1, found))
}

/// Reads a text file, or says why it cannot be read.
pub fn read_text(path: &Path) -> Result<SourceFile, String> {
    texts::read(path).map(|(file, _)| file).map_err(|why| why.to_string())
}

/// The first of some problems in one line, with its file and line, and how many more there are.
pub fn in_a_line(problems: &[Diagnostic], files: &[&SourceFile]) -> String {
    let Some(first) = problems.first() else { return String::new() };
    let place = first.span.as_ref().map(|span| {
        let text = files.iter().find(|file| file.name == span.file).map(|file| file.text.as_str());
        let before = text.and_then(|text| text.get(..span.bytes.start)).unwrap_or_default();
        format!("{}:{}: ", span.file, before.matches('\n').count() + 1)
    });
    let more = match problems.len() - 1 {
        0 => String::new(),
        more => format!(" (and {more} more; `slableaf check` lists them)"),
    };
    format!("{}{}{more}", place.unwrap_or_default(), first.message)
}

/// Book, shop and systems, read; and their texts, for messages.
pub struct Bundle {
    pub shared: Shared,
    pub files: Vec<SourceFile>,
}

type Read = Result<Arc<Bundle>, String>;

/// Bundles that were read already: by their paths, and by their texts, since every record has a
/// copy of the same few books.
#[derive(Default)]
pub struct Shelf {
    by_path: Mutex<HashMap<(PathBuf, PathBuf), Read>>,
    by_text: Mutex<HashMap<Vec<String>, Arc<Bundle>>>,
}

impl Shelf {
    /// The bundle of a book and a shop file, with the systems beside the book.
    pub fn bundle(&self, book: &Path, shop: &Path) -> Read {
        let mut known = self.by_path.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (book.to_owned(), shop.to_owned());
        known.entry(key).or_insert_with(|| self.read(book, shop)).clone()
    }

    /// As [`Self::bundle`], for files that no other job has by these paths.
    pub fn read(&self, book: &Path, shop: &Path) -> Read {
        let mut files = vec![read_text(book)?, read_text(shop)?];
        for path in toml_files(&folder_of(book).join(SYSTEMS)).map_err(|why| why.to_string())? {
            files.push(read_text(&path)?);
        }
        let texts: Vec<String> = files.iter().map(|file| file.text.clone()).collect();
        let mut known = self.by_text.lock().unwrap_or_else(PoisonError::into_inner);
        let bundle = known.entry(texts).or_insert_with(|| {
            let mut systems = Layouts::default().source_files("systems/");
            systems.extend(files.split_off(2));
            let shared = Shared::read(&files[0], &files[1], &systems);
            files.extend(systems);
            Arc::new(Bundle { shared, files })
        });
        Ok(bundle.clone())
    }
}
