//! The files that a line names: jobs, and the book and shop file that belong to them.

use std::num::NonZeroUsize;
use std::path::PathBuf;

use clap::Args;
use clap::builder::{PathBufValueParser, TypedValueParser as _};

use jiff::civil::Date;

use crate::shell::args::{Part, TableFormat, day};

#[derive(Debug, Args)]
pub struct JobFiles {
    /// The job file
    #[arg(value_name = "JOB", value_parser = PathBufValueParser::new().map(of_folder))]
    pub job: PathBuf,
    #[command(flatten)]
    pub near: NearFiles,
}

/// A folder stands for the job file of the usual name in it.
fn of_folder(path: PathBuf) -> PathBuf {
    let inside = path.join("job.toml");
    if inside.is_file() { inside } else { path }
}

/// Many jobs, and how many at a time.
#[derive(Debug, Clone, Args)]
pub struct Jobs {
    /// Job files, folders of jobs, or `-` for a list of both on standard input, a path a line
    #[arg(value_name = "JOB", required = true)]
    pub paths: Vec<PathBuf>,
    /// How many jobs to work on at a time (default: as many as there are cores)
    #[arg(long = "jobs", value_name = "N")]
    pub at_a_time: Option<NonZeroUsize>,
    /// Only a part of the jobs: `--part 3/16` is every sixteenth, from the third on
    #[arg(long, value_name = "K/N")]
    pub part: Option<Part>,
}

#[derive(Debug, Args)]
pub struct Roll {
    #[command(flatten)]
    pub jobs: Jobs,
    /// The day that is asked about (default: today)
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub on: Option<Date>,
    /// How to print the result
    #[arg(long, value_enum, default_value = "table")]
    pub format: TableFormat,
}

/// The files that jobs share.
#[derive(Debug, Clone, Default, Args)]
pub struct NearFiles {
    /// The price book (default: the nearest `book.toml`, in the job's folder or above)
    #[arg(long, value_name = "FILE")]
    pub book: Option<PathBuf>,
    /// The shop file (default: the nearest `shop.toml`, in the job's folder or above)
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
}
