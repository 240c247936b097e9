//! What lies about a new file: book, shop file, systems, other jobs, pictures.

use std::fs;
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use slableaf::base::layouts::Layouts;
use slableaf::interview::{Kind, Setting, neutral, next_number};
use slableaf::read::Shared;
use slableaf::read::glance::glance;
use slableaf::read::limits::LIST;
use slableaf::say::words::Words;

use crate::shell::Exit;
use crate::shell::files::{SYSTEMS, folder_of, is_picture};
use crate::shell::folder::{candidate, read_text};
use crate::shell::texts::{Unread, shown, toml_files};
use crate::shell::today::today;

/// What is known before anything is asked, and what to say about it.
pub struct Near {
    pub setting: Setting,
    pub said: Vec<String>,
}

impl Near {
    pub fn of(kind: Kind, path: &Path, words: &Words) -> Result<Self, Exit> {
        let folder = folder_of(path);
        let today = today();
        let (neutral_book, neutral_shop) = neutral();
        let mut systems = Layouts::default().source_files("systems/");
        let mut said = vec![];
        let job = kind == Kind::Job;
        let mut read = |name: &str| {
            let found = nearest(&folder, name).filter(|_| job)?;
            let file = read_text(&found);
            if let Err(why) = &file {
                said.push(why.clone());
            }
            file.ok().map(|file| (found, file))
        };
        let (book, shop) = (read("book"), read("shop"));
        let book_found = book.is_some();
        if let Some((path, _)) = &book {
            for path in toml_files(&folder_of(path).join(SYSTEMS)).map_err(Unread::say)? {
                match read_text(&path) {
                    Ok(file) => systems.push(file),
                    Err(why) => said.push(why),
                }
            }
        }
        for (found, name) in [(book.is_some(), "book"), (shop.is_some(), "shop")] {
            if job && !found {
                said.push(format!(
                    "There is no {name}.toml here or above: `slableaf new {name}` starts one."
                ));
            }
        }
        let book = book.map_or(neutral_book, |(_, file)| file);
        let shop = shop.map_or(neutral_shop, |(_, file)| file);
        let shared = Shared::read(&book, &shop, &systems);
        if !shared.problems().is_empty() {
            said.push(
                "Your book or shop file has mistakes; `slableaf check` will list them.".into(),
            );
        }
        let mut setting = Setting::new(shown(path), today, shared, words);
        setting.book_found = book_found;
        if job {
            setting.taken = numbers(&folder);
            setting.number = free(today, &setting.taken);
            setting.photos = pictures(&folder);
        }
        Ok(Self { setting, said })
    }
}

/// The nearest file of a kind, in a folder that may not be there yet, or above it.
pub fn nearest(folder: &Path, name: &str) -> Option<PathBuf> {
    let there =
        folder.ancestors().find(|folder| folder.as_os_str().is_empty() || folder.is_dir())?;
    let near = candidate(&there.join("job.toml"));
    if name == "book" { near.book } else { near.shop }
}

/// The number that a new job gets: the next one of the year among the jobs about it.
pub fn free_number(path: &Path) -> String {
    free(jiff::ZonedDateTime::now().date(), &numbers(&folder_of(path)))
}

fn free(today: Date, taken: &[(String, String)]) -> String {
    let numbers: Vec<&str> = taken.iter().map(|(number, _)| number.as_str()).collect();
    next_number(today, &numbers)
}

/// The numbers of the jobs in a folder, and in the folders beside it, each with the place of its job.
fn numbers(folder: &Path) -> Vec<(String, String)> {
    let beside = match folder.file_name() {
        Some(_) => folder_of(folder),
        None => folder.to_owned(),
    };
    let mut folders = vec![folder.to_owned(), beside.clone()];
    folders.extend(entries(&beside).into_iter().filter(|path| path.is_dir()));
    folders.extend(entries(folder).into_iter().filter(|path| path.is_dir()));
    folders.sort();
    folders.dedup();
    let files = folders.iter().filter_map(|folder| toml_files(folder).ok()).flatten();
    let seen = files.filter_map(|path| {
        let number = glance(&read_text(&path).ok()?.text)?.number;
        // A folder is known by its name where the file has the usual one.
        let usual = path.file_name().is_some_and(|name| name == "job.toml");
        let folder = path.parent().filter(|folder| usual && !folder.as_os_str().is_empty());
        let folder = folder.filter(|folder| folder.file_name().is_some());
        Some((number, shown(folder.unwrap_or(&path))))
    });
    seen.filter(|(number, _)| !number.is_empty()).collect()
}

/// The pictures in a job's folder and one below it, by their paths in it.
fn pictures(folder: &Path) -> Vec<String> {
    let below = entries(folder).into_iter().filter(|path| path.is_dir() && !is_hidden(path));
    let below: Vec<PathBuf> = below.flat_map(|folder| entries(&folder)).collect();
    let all =
        entries(folder).into_iter().chain(below).filter(|path| is_picture(path) && path.is_file());
    let names = all.filter_map(|path| {
        let inside = path.strip_prefix(folder).ok()?;
        Some(inside.to_str()?.replace('\\', "/"))
    });
    let mut names: Vec<String> = names.take(LIST).collect();
    names.sort();
    names
}

fn is_hidden(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'))
}

/// What is in a folder; nothing when it cannot be read.
fn entries(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .map(|entries| entries.filter_map(|entry| Some(entry.ok()?.path())).collect())
        .unwrap_or_default();
    paths.sort();
    paths.truncate(MOST_ENTRIES);
    paths
}

/// Entries of a folder that are looked at: a number or a list of photos needs no more.
const MOST_ENTRIES: usize = 2_000;
