//! The places of records that a path stands for.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use slableaf::read::limits::{FOLDER_DEPTH, RECORDS};
use walkdir::{DirEntry, WalkDir};

use crate::shell::args::PaperEdition;
use crate::shell::store::{RECORD, folder_of, is_hidden, own_folder, read_alone, unsearched};
use crate::shell::terminal::{Error, Exit, Result};

/// Places where a record is or should be, and what could not be searched for them.
#[derive(Debug, Default)]
pub struct Places {
    pub found: Vec<Place>,
    pub unsearched: Vec<Error>,
}

/// A place where a record is or should be: a folder, or what lies in its stead.
#[derive(Debug, Clone)]
pub struct Place {
    pub path: PathBuf,
    /// Its path within what was asked for; none for a record that was named alone, whose neighbors are
    /// not asked.
    pub within: Option<String>,
}

impl Places {
    /// Adds the records that a path stands for: of a job file, of a folder of records, of a folder with
    /// jobs at any depth, or one record.
    pub fn add(&mut self, path: &Path, records: Option<&PathBuf>) -> Result<()> {
        let unread = |error: io::Error| Error::cannot("read", path, &error).exit(Exit::Files);
        let known = self.found.len();
        let folder = if fs::metadata(path).map_err(unread)?.is_dir() {
            if path.join(RECORD).exists() {
                self.found.push(Place { path: path.to_owned(), within: None });
                return Ok(());
            }
            self.walk(path, None)?;
            path.to_owned()
        } else {
            let job = read_alone(path)?;
            let folder = own_folder(&folder_of(path), records, "records", "--records")?;
            if folder.exists() {
                self.walk(&folder, Some(&job.number.0))?;
            }
            folder
        };
        if self.found.len() == known && self.unsearched.is_empty() {
            let message = format!("no record of an issued paper in {}", folder.display());
            return Err(Error::new(Exit::Files, message)
                .help("`slableaf write` makes one; `--records DIR` names another folder"));
        }
        self.found[known..].sort_by_key(|place| sort_key(&place.path));
        Ok(())
    }

    /// Each place once, where the paths that were named lie within each other.
    pub fn distinct(self) -> Self {
        let mut found: Vec<Place> = vec![];
        let mut known = BTreeMap::new();
        for place in self.found {
            let real = fs::canonicalize(folder_of(&place.path))
                .map(|folder| folder.join(place.path.file_name().unwrap_or_default()));
            match known.entry(real.unwrap_or_else(|_| place.path.clone())) {
                Entry::Vacant(free) => {
                    free.insert(found.len());
                    found.push(place);
                }
                // One that was named alone, too, has its neighbors.
                Entry::Occupied(first) if found[*first.get()].within.is_none() => {
                    found[*first.get()] = place
                }
                Entry::Occupied(_) => {}
            }
        }
        Self { found, ..self }
    }

    /// Finds the records below a folder, or those of one number in it.
    fn walk(&mut self, root: &Path, number: Option<&str>) -> Result<()> {
        let depth = if number.is_some() { 1 } else { FOLDER_DEPTH };
        let mut entries = WalkDir::new(root).min_depth(1).max_depth(depth).into_iter();
        while let Some(entry) = entries.next() {
            let entry = match entry {
                Ok(entry) => entry,
                Err(error) => {
                    self.unsearched.push(unsearched(root, error).exit(Exit::Files));
                    continue;
                }
            };
            let is_folder = entry.file_type().is_dir();
            if is_hidden(entry.path()) {
                if is_folder {
                    entries.skip_current_dir();
                }
                continue;
            }
            if is_record(&entry, number) {
                let within = entry.path().strip_prefix(root).unwrap_or(entry.path());
                let within = Some(within.to_string_lossy().replace('\\', "/"));
                self.found.push(Place { path: entry.path().to_owned(), within });
                if is_folder {
                    entries.skip_current_dir();
                }
            } else if is_folder && number.is_none() && entry.depth() == FOLDER_DEPTH {
                let why = io::Error::other(format!("it lies deeper than {FOLDER_DEPTH} folders"));
                let error = Error::cannot("read", entry.path(), &why).exit(Exit::Files);
                self.unsearched.push(error);
            }
            if self.found.len() > RECORDS {
                let message = format!("{} holds over {RECORDS} records", root.display());
                return Err(Error::new(Exit::Input, message)
                    .help("verify them in parts: name a job or a record"));
            }
        }
        Ok(())
    }
}

/// True for a folder that holds a record or lies among records, and for whatever has the name of one.
fn is_record(entry: &DirEntry, number: Option<&str>) -> bool {
    let name = entry.file_name().to_string_lossy();
    let named = |number: &str| {
        let rest = name.strip_prefix(number).unwrap_or_default();
        PaperEdition::all().any(|edition| {
            let revision = rest.strip_prefix(&format!("-{}-r", edition.name()));
            revision.is_some_and(is_number)
        })
    };
    if let Some(number) = number {
        return named(number);
    }
    let any_number = || {
        let stem = name.rsplit_once("-r").filter(|(_, revision)| is_number(revision));
        stem.is_some_and(|(stem, _)| {
            PaperEdition::all().any(|edition| stem.ends_with(&format!("-{}", edition.name())))
        })
    };
    let path = entry.path();
    let among_records = || folder_of(path).file_name().is_some_and(|parent| parent == "records");
    path.is_dir() && (path.join(RECORD).exists() || among_records()) || any_number()
}

fn is_number(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// By folder, then by name, and by number within it: r2 stands before r10.
fn sort_key(path: &Path) -> (PathBuf, String, u32) {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let split = name.rsplit_once("-r").map(|(stem, n)| (stem.to_owned(), n.parse().unwrap_or(0)));
    let (stem, number) = split.unwrap_or((name, 0));
    (folder_of(path), stem, number)
}
