//! The surroundings of a new file: book, shop file, systems, other jobs, pictures.

use std::fs;
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::interview::laid::to_record;
use slableaf::interview::{InterviewKind, Setting, neutral, next_number};
use slableaf::read::glance::glance;
use slableaf::read::limits::LIST;
use slableaf::read::{Shared, read_book};
use slableaf::say::words::Words;

use crate::shell::commands::new::in_book::book_text;
use crate::shell::store::{
    SYSTEMS, folder_of, has_usual_name, is_hidden, is_picture, nearest, read_own, read_text, today,
    toml_files,
};
use crate::shell::terminal::{Result, shown};

/// Everything that is known before a question is asked, and lines about it.
pub struct Surroundings {
    pub setting: Setting,
    pub notes: Vec<String>,
}

impl Surroundings {
    /// Those of a file; `own` is the book that a product or a floor is for.
    pub fn read(kind: InterviewKind, path: &Path, own: &Path, words: &Words) -> Result<Self> {
        let folder = folder_of(path);
        let today = today();
        let (neutral_book, neutral_shop) = neutral();
        let mut systems = Layouts::default().source_files("systems/");
        let mut notes = vec![];
        let job = kind == InterviewKind::Job;
        let in_shop = job || kind == InterviewKind::Laid;
        let mut read = |path: &Path| {
            let file = read_text(path).map(|(file, _)| file);
            file.inspect_err(|error| notes.push(error.to_string())).ok()
        };
        let mut near = |name: &str| {
            let found = match (kind, name) {
                (InterviewKind::System, "book") => Some(own.to_owned()),
                _ => nearest_shared(&folder, name).filter(|_| in_shop),
            }?;
            read(&found).map(|file| (found, file))
        };
        let (book, shop) = (near("book"), near("shop"));
        let (book_found, shop_found) = (book.is_some(), shop.is_some());
        if let Some((path, _)) = &book {
            for path in toml_files(&folder_of(path).join(SYSTEMS))? {
                systems.extend(read(&path));
            }
        }
        for (found, name) in [(book_found, "book"), (shop_found, "shop")] {
            if job && !found {
                notes.push(format!(
                    "There is no {name}.toml here or above: `slableaf new {name}` starts one."
                ));
            }
        }
        let book = book.map_or(neutral_book, |(_, file)| file);
        let shop = shop.map_or(neutral_shop, |(_, file)| file);
        let shared = Shared::read(&book, &shop, &systems);
        if !shared.problems().is_empty() {
            notes.push(
                "Your book or shop file has mistakes; `slableaf check` will list them.".into(),
            );
        }
        let mut setting = Setting::new(shown(path), today, shared, words);
        setting.book_found = book_found;
        if kind == InterviewKind::Product {
            setting.below = book_text(path)?;
            setting.products = products_in(&setting.below);
            if path.symlink_metadata().is_err() {
                notes.push(
                    "There is no price book yet: this starts one from the neutral book.".into(),
                );
            }
        }
        if kind == InterviewKind::Laid {
            let (file, job) = read_own(path)?;
            setting.to_record = to_record(&job, &setting.shared);
            setting.below = file.text;
        }
        if job {
            setting.taken = numbers(&folder);
            setting.number = free_number_of(today, &setting.taken);
            setting.photos = pictures(&folder);
        }
        Ok(Self { setting, notes })
    }
}

/// The number of products of a book.
fn products_in(text: &str) -> usize {
    let file = SourceFile { name: String::new(), text: text.to_owned() };
    read_book(&file).map_or(0, |book| book.products.len())
}

/// The nearest `book.toml` or `shop.toml`, in a folder that may not be there yet, or above it.
pub fn nearest_shared(folder: &Path, name: &str) -> Option<PathBuf> {
    let there =
        folder.ancestors().find(|folder| folder.as_os_str().is_empty() || folder.is_dir())?;
    nearest(&folder_of(&there.join(name)), &format!("{name}.toml")).ok().flatten()
}

/// The number that a new job gets: the next one of the year among the jobs about it.
pub fn free_number(path: &Path) -> String {
    free_number_of(today(), &numbers(&folder_of(path)))
}

fn free_number_of(today: Date, taken: &[(String, String)]) -> String {
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
        let number = glance(&read_text(&path).ok()?.0.text)?.number;
        // A folder is known by its name where the file has the usual one.
        let folder =
            path.parent().filter(|folder| has_usual_name(&path) && !folder.as_os_str().is_empty());
        let folder = folder.filter(|folder| folder.file_name().is_some());
        Some((number, shown(folder.unwrap_or(&path))))
    });
    seen.filter(|(number, _)| !number.is_empty()).collect()
}

/// The pictures in a job's folder and one below it, by their paths in it.
pub fn pictures(folder: &Path) -> Vec<String> {
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

/// The entries of a folder; none when it cannot be read.
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
