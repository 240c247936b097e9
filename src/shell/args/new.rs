//! The arguments of `new`.

use std::path::PathBuf;

use clap::{Args, Subcommand};

#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_precedence_over_arg = true)]
pub struct New {
    #[command(subcommand)]
    pub file: Option<NewFile>,
    /// The job file to write, or a folder for a `job.toml` (default: `job.toml` here)
    #[arg(value_name = "JOB")]
    pub job: Option<PathBuf>,
    /// Ask nothing; write a template with comments
    #[arg(long)]
    pub blank: bool,
}

#[derive(Debug, Subcommand)]
pub enum NewFile {
    /// Starts a shop file from the neutral one
    #[command(before_help = "Example: slableaf new shop")]
    Shop(Started),
    /// Starts a price book from the neutral one
    #[command(before_help = "Example: slableaf new book")]
    Book(Started),
    /// Asks for the figures of a data sheet and puts the product into the price book
    #[command(before_help = "Example: slableaf new product")]
    Product(ForBook),
    /// Asks for a floor of your own, coat by coat, and writes it beside the price book
    #[command(before_help = "Example: slableaf new system")]
    System(ForBook),
    /// Asks coat by coat how the floor was laid, from the crew sheet, and puts it into the job
    #[command(before_help = "Example: slableaf new laid jobs/2026-0142")]
    Laid(ForJob),
    /// Writes one page of blanks for the first visit, to print: the questions of `new` in their order
    #[command(before_help = "Example: slableaf new visit-sheet --out visit-sheet.pdf")]
    VisitSheet(VisitSheet),
}

#[derive(Debug, Args)]
pub struct ForBook {
    /// The price book (default: the nearest `book.toml`, here or above)
    #[arg(value_name = "BOOK")]
    pub book: Option<PathBuf>,
    /// Ask nothing; write a template with comments (a product has none: see the book's)
    #[arg(long)]
    pub blank: bool,
}

#[derive(Debug, Args)]
pub struct ForJob {
    /// The job file, or its folder (default: `job.toml` here)
    #[arg(value_name = "JOB")]
    pub job: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct VisitSheet {
    /// The PDF to write, or a folder for it (default: `visit-sheet.pdf` here)
    #[arg(long, value_name = "FILE.pdf")]
    pub out: Option<PathBuf>,
    /// The language of the sheet, such as `es` (default: that of the shop file)
    #[arg(long)]
    pub language: Option<String>,
    /// The shop file (default: the nearest `shop.toml`, here or above)
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct Started {
    /// The file to write, or a folder for it (default: here)
    #[arg(value_name = "FILE")]
    pub file: Option<PathBuf>,
    /// Ask nothing; write a template with comments
    #[arg(long)]
    pub blank: bool,
}
