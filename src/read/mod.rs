//! From the text of four kinds of file to what it means, with every problem found on the way.

pub mod limits;
pub mod text;
pub mod typed;
pub mod slips;
pub mod suggest;
pub mod form;
pub mod scalar;
pub mod measure;
pub mod plain_number;
pub mod moisture;
pub mod amount;
pub mod when;
pub mod reader;
pub mod product;
pub mod change;
pub mod book;
pub mod rules;
pub mod shop;
pub mod system;
pub mod shapes;
pub mod choices;
pub mod bid;
pub mod spaces;
pub mod job;
pub mod orders;
pub mod after;
pub mod laid;
pub mod worked;
mod coats;
pub mod link;
pub mod glance;
pub mod book_text;
pub mod job_text;
pub mod keys;

use jiff::civil::Date;

use crate::base::source::{Diagnostic, Problems, SourceFile};
use crate::model::book::Book;
use crate::model::job::Job;
use crate::model::shop::Shop;
use crate::model::system::System;
use crate::read::job::JobNames;
use crate::read::keys::FileKind;
use crate::read::reader::Table;

/// The files of one job, as text.
#[derive(Debug, Clone)]
pub struct Files {
    pub job: SourceFile,
    pub book: SourceFile,
    pub shop: SourceFile,
    /// The shipped systems and those of the shop; a later one with the same key replaces an
    /// earlier one.
    pub systems: Vec<SourceFile>,
}

/// Everything that was read, checked against each other.
#[derive(Debug, Clone)]
pub struct Input {
    pub job: Job,
    pub book: Book,
    pub shop: Shop,
    pub systems: Vec<System>,
}

impl Input {
    /// The language of the customer's papers.
    pub fn customers_language(&self) -> &str {
        self.job.language.as_ref().unwrap_or(&self.shop.language)
    }
}

/// Reads the files of a job.
///
/// # Errors
/// Every problem of every file, in the order of the files and of the places in them.
pub fn read(files: &Files) -> Result<Input, Vec<Diagnostic>> {
    Shared::read(&files.book, &files.shop, &files.systems).join(read_job(&files.job), None)
}

/// Reads a book alone.
///
/// # Errors
/// Every problem of it, in the order of the places.
pub fn read_book(file: &SourceFile) -> Result<Book, Vec<Diagnostic>> {
    by_itself(file, FileKind::Book, book::book)
}

/// Reads a shop file alone.
///
/// # Errors
/// Every problem of it, in the order of the places.
pub fn read_shop(file: &SourceFile) -> Result<Shop, Vec<Diagnostic>> {
    by_itself(file, FileKind::Shop, shop::shop)
}

/// Reads a file of a kind alone.
fn by_itself<T>(
    file: &SourceFile,
    kind: FileKind,
    read: impl FnOnce(&Table<'_>) -> Option<T>,
) -> Result<T, Vec<Diagnostic>> {
    let problems = Problems::default();
    match reader::read_file(file, &problems, kind.file(), read) {
        Some(read) if problems.is_empty() => Ok(read),
        _ => Err(problems.into_sorted(&[&file.name])),
    }
}

/// The files that the jobs of a shop have in common, read once for all of them.
#[derive(Debug, Clone)]
pub struct Shared {
    book: Option<Book>,
    shop: Option<Shop>,
    systems: Vec<System>,
    /// The names of the files, in their order.
    names: Vec<String>,
    problems: Vec<Diagnostic>,
}

/// A job's own file, read but not yet held against the others.
#[derive(Debug, Clone)]
pub struct ReadJob {
    job: Option<Job>,
    refers: JobNames,
    name: String,
    problems: Vec<Diagnostic>,
}

impl ReadJob {
    /// The job by itself, without what other files say to its names.
    ///
    /// # Errors
    /// Every problem of its file.
    pub fn alone(self) -> Result<Job, Vec<Diagnostic>> {
        match self.job {
            Some(job) if self.problems.is_empty() => Ok(job),
            _ => {
                let problems = Problems::default();
                self.problems.into_iter().for_each(|problem| problems.add(problem));
                Err(problems.into_sorted(&[&self.name]))
            }
        }
    }
}

/// Reads a job's own file.
pub fn read_job(file: &SourceFile) -> ReadJob {
    let problems = Problems::default();
    let (refers, job) =
        reader::read_file(file, &problems, FileKind::Job.file(), |top| Some(job::job(top)))
            .unwrap_or_default();
    ReadJob { job, refers, name: file.name.clone(), problems: problems.into_inner() }
}

impl Shared {
    /// Reads book, shop and systems. Their problems are kept, and reported with every job.
    pub fn read(book: &SourceFile, shop: &SourceFile, systems: &[SourceFile]) -> Self {
        let problems = Problems::default();
        let names = [book, shop].into_iter().chain(systems).map(|file| file.name.clone()).collect();
        let book = reader::read_file(book, &problems, FileKind::Book.file(), book::book);
        let shop = reader::read_file(shop, &problems, FileKind::Shop.file(), shop::shop);
        let mut read: Vec<System> = vec![];
        for file in systems {
            if let Some(system) =
                reader::read_file(file, &problems, FileKind::System.file(), system::system)
            {
                read.retain(|known| known.key != system.key);
                read.push(system);
            }
        }
        Self { book, shop, systems: read, names, problems: problems.into_inner() }
    }

    /// The book, when it can be read at all.
    pub fn book(&self) -> Option<&Book> {
        self.book.as_ref()
    }

    /// The systems that could be read, each key once.
    pub fn systems(&self) -> &[System] {
        &self.systems
    }

    /// The problems of a new floor's file: by itself, and against the products of the book.
    pub fn problems_of_system(&self, file: &SourceFile) -> Vec<Diagnostic> {
        let problems = Problems::default();
        let read = reader::read_file(file, &problems, FileKind::System.file(), system::system);
        if let (Some(system), Some(book)) = (&read, &self.book) {
            coats::products(system, book, &problems);
        }
        problems.into_sorted(&[&file.name])
    }

    /// The floor of a file, when it has no problem.
    pub fn with_system(&self, file: &SourceFile) -> Option<System> {
        by_itself(file, FileKind::System, system::system).ok()
    }

    /// The problems of these files by themselves.
    pub fn problems(&self) -> &[Diagnostic] {
        &self.problems
    }

    /// A job with what it has in common with others. The book's announced changes that are due on
    /// the paper's date are worked into its prices, or those due on `priced_on` if that is later.
    ///
    /// # Errors
    /// Every problem of every file, in the order of the files and of the places in them.
    pub fn join(&self, job: ReadJob, priced_on: Option<Date>) -> Result<Input, Vec<Diagnostic>> {
        let Self { book, shop, systems, names, .. } = self;
        let problems = Problems::default();
        job.problems.into_iter().chain(self.problems.iter().cloned()).for_each(|p| problems.add(p));
        link::link(&job.refers, book.as_ref(), systems, &problems);
        link::additions(&job.refers, systems, &problems);
        link::coats_of_floors(&job.refers, systems, &problems);
        if let Some(book) = book {
            link::fillers(book, job.job.as_ref(), &problems);
            laid::against_floors(job.job.as_ref(), book, systems, &problems);
        }
        if let Some(shop) = shop {
            link::records(shop, systems, &problems);
        }
        if let (Some(book), Some(shop)) = (book, shop) {
            link::currency(book, shop, &job.refers, &problems);
        }
        match (job.job, book, shop) {
            (Some(job), Some(book), Some(shop)) if problems.is_empty() => {
                let mut book = book.clone();
                book.settle(priced_on.map_or(job.date, |day| day.max(job.date)));
                Ok(Input { job, book, shop: shop.clone(), systems: systems.clone() })
            }
            _ => {
                let order: Vec<&str> =
                    std::iter::once(&job.name).chain(names).map(String::as_str).collect();
                Err(problems.into_sorted(&order))
            }
        }
    }
}
