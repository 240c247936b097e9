//! Many jobs in one run of `write`.
//!
//! The reports are printed in the order of the jobs, whichever is done first. A job that fails stops no
//! other. A run that was broken off is taken up by running it again: papers that are recorded with the
//! same inputs are found so and not made anew.

use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use slableaf::read::glance::glance;

use crate::shell::store::{FoundJobs, folder_of, parallel, read_text};
use crate::shell::terminal::{Error, Exit, Report, Result, counted, printable, to_stderr};

/// The result of a job that could be worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    Written,
    /// It was issued already, as it is.
    Unchanged,
}

impl Done {
    /// The result of two pieces of work on one job.
    pub fn or(self, other: Self) -> Self {
        if self == Self::Written { self } else { other }
    }
}

/// Works on every job, on some at a time; says at the end how it went. `one_folder` is true when all
/// papers go into one folder.
pub fn each_job(
    FoundJobs { jobs, unsearched }: FoundJobs,
    threads: usize,
    one_folder: bool,
    work: impl Fn(&Path, &mut Report) -> Result<Done> + Sync,
    report: &mut Report,
) -> Exit {
    let jobs = jobs.as_slice();
    unsearched.iter().for_each(|error| report.error(error));
    report.flush();
    let namesakes = namesakes(jobs, one_folder);
    let work = |job: &PathBuf| {
        let mut report = Report::default();
        let result = match namesakes.get(job.as_path()) {
            Some(other) => Err(same_number(job, other)),
            // A panic in one job stops no other.
            None => {
                catch_unwind(AssertUnwindSafe(|| work(job, &mut report))).unwrap_or_else(|_| {
                    let message = "this job met the fault in slableaf that is told above";
                    Err(Error::new(Exit::Bug, message))
                })
            }
        };
        if let Err(error) = &result {
            report.error(error);
        }
        (result.ok(), report)
    };
    let progress = Progress { all: jobs.len(), on_terminal: std::io::stderr().is_terminal() };
    let (mut written, mut unchanged, mut failed) = (0, 0, 0);
    parallel::in_order(jobs, threads, work, |job, (done, report)| {
        progress.clear();
        match done {
            Some(Done::Written) => written += 1,
            Some(Done::Unchanged) => unchanged += 1,
            None => {
                failed += 1;
                to_stderr(&format!("{}: not written\n", printable(&job.display().to_string())));
            }
        }
        report.flush_job();
        progress.show(written + unchanged + failed);
    });
    progress.clear();
    let jobs = counted(jobs.len(), "job");
    report.say(format!("{jobs}: {written} written, {unchanged} unchanged, {failed} not written"));
    if failed == 0 && unsearched.is_empty() { Exit::Fine } else { Exit::Partly }
}

fn same_number(job: &Path, other: &Path) -> Error {
    let (job, other) = (job.display(), other.display());
    let message = format!("{job} has the number of {other}: neither was written");
    Error::new(Exit::Input, message)
        .help("give one of them another number, or take a copy that is no job out of the folder")
}

/// Jobs whose papers would lie in one folder under one number, each with another of them. Nobody but
/// their owner knows which of them is meant.
fn namesakes(jobs: &[PathBuf], one_folder: bool) -> BTreeMap<&Path, &Path> {
    let mut first: BTreeMap<(PathBuf, String), &Path> = BTreeMap::new();
    let mut namesakes = BTreeMap::new();
    for job in jobs {
        let number = read_text(job).ok().and_then(|(file, _)| glance(&file.text));
        let Some(seen) = number else { continue };
        let folder = if one_folder { PathBuf::new() } else { folder_of(job) };
        let there = *first.entry((folder, seen.number)).or_insert(job);
        if there != job {
            namesakes.insert(job.as_path(), there);
            namesakes.entry(there).or_insert(job);
        }
    }
    namesakes
}

/// The progress of a run: a line on a terminal, nothing in a pipe.
struct Progress {
    all: usize,
    on_terminal: bool,
}

impl Progress {
    fn show(&self, done: usize) {
        if self.on_terminal {
            to_stderr(&format!("\r{done} of {}", self.all));
        }
    }

    fn clear(&self) {
        if self.on_terminal {
            to_stderr("\r\x1b[K");
        }
    }
}
