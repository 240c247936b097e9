//! From the text of four kinds of file to what it means, with every problem found on the way.

pub mod limits;
pub mod text;
pub mod suggest;
pub mod scalar;
pub mod address;
pub mod measure;
pub mod amount;
pub mod when;
pub mod reader;
pub mod product;
pub mod book;
pub mod shop;
pub mod system;
pub mod shapes;
pub mod job;
pub mod link;

use crate::book::Book;
use crate::job::Job;
use crate::shop::Shop;
use crate::source::{Diagnostic, Problems, SourceFile};
use crate::system::System;

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

/// Reads a job file alone, without what other files say to its names.
///
/// # Errors
/// Every problem of the file.
pub fn read_job(file: &SourceFile) -> Result<Job, Vec<Diagnostic>> {
    let problems = Problems::default();
    let (_, job) =
        reader::read_file(file, &problems, |top| Some(job::job(top))).unwrap_or_default();
    match job {
        Some(job) if problems.is_empty() => Ok(job),
        _ => Err(problems.into_sorted(std::slice::from_ref(file))),
    }
}

/// Reads the files of a job.
///
/// # Errors
/// Every problem of every file, in the order of the files and of the places in them.
pub fn read(files: &Files) -> Result<Input, Vec<Diagnostic>> {
    let problems = Problems::default();
    let (names, job) =
        reader::read_file(&files.job, &problems, |top| Some(job::job(top))).unwrap_or_default();
    let book = reader::read_file(&files.book, &problems, book::book);
    let shop = reader::read_file(&files.shop, &problems, shop::shop);
    let mut systems: Vec<System> = vec![];
    for file in &files.systems {
        if let Some(system) = reader::read_file(file, &problems, system::system) {
            systems.retain(|known| known.key != system.key);
            systems.push(system);
        }
    }
    link::link(&names, book.as_ref(), &systems, &problems);
    if let Some(book) = &book {
        link::fillers(book, job.as_ref(), &problems);
    }
    if let Some(shop) = &shop {
        link::records(shop, &systems, &problems);
    }
    if let (Some(book), Some(shop)) = (&book, &shop) {
        link::currency(book, shop, &problems);
    }
    match (job, book, shop) {
        (Some(job), Some(book), Some(shop)) if problems.is_empty() => {
            Ok(Input { job, book, shop, systems })
        }
        _ => {
            let mut order = vec![files.job.clone(), files.book.clone(), files.shop.clone()];
            order.extend(files.systems.iter().cloned());
            Err(problems.into_sorted(&order))
        }
    }
}
