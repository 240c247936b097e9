//! Finding jobs in files, folders and lists, and the book and shop file nearest to one.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, BufRead, Read as _};
use std::path::{Path, PathBuf};

use slableaf::base::source::SourceFile;
use slableaf::read::glance::{Glance, glance};
use slableaf::read::limits::{FOLDER_DEPTH, JOBS, PATH_BYTES};
use walkdir::WalkDir;

use crate::shell::args::{Jobs, Part};
use crate::shell::store::{folder_of, is_hidden, read_text, without_climbs};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Result, shown};

/// The folder beside a book that holds the shop's own floor systems.
pub const SYSTEMS: &str = "systems";

/// Folders that hold no jobs: what was issued, and what belongs to a book or a shop.
const NOT_FOR_JOBS: &[&str] = &["records", "papers", "layouts", SYSTEMS, "shop-only"];

/// The nearest file of a name, in a folder or above it.
///
/// # Errors
/// The folder cannot be read.
pub fn nearest(folder: &Path, name: &str) -> io::Result<Option<PathBuf>> {
    let start = fs::canonicalize(folder)?;
    let up = start.ancestors().position(|folder| folder.join(name).is_file());
    Ok(up.map(|up| {
        // Names in messages stay as short as the one that was typed.
        let mut short = folder.to_owned();
        short.extend(std::iter::repeat_n("..", up));
        without_climbs(&short).filter(|_| up > 0).unwrap_or(short).join(name)
    }))
}

/// True for a file of the usual name of jobs: it is meant as one, whatever it holds.
pub fn has_usual_name(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name == "job.toml")
}

/// A file that is meant as a job with what is seen of it, or why it cannot be read; `None` for one that can be
/// read and is no job. A job that is no longer TOML is still meant as one, and nothing is seen of it.
pub fn meant_job(path: &Path) -> Option<Result<(SourceFile, Option<Glance>)>> {
    let source = match read_text(path) {
        Ok((source, _)) => source,
        Err(error) => return Some(Err(error)),
    };
    let seen = glance(&source.text);
    (seen.is_some() || has_usual_name(path)).then_some(Ok((source, seen)))
}

/// The one job that was named as a file: it speaks for itself.
pub fn single_job(wanted: &Jobs) -> Option<&Path> {
    match (wanted.paths.as_slice(), wanted.part) {
        ([path], None) if path.as_os_str() != "-" && !path.is_dir() => Some(path),
        _ => None,
    }
}

/// The jobs that paths stand for, and what lies there and could not be searched.
#[derive(Debug, Default)]
pub struct FoundJobs {
    pub jobs: Vec<PathBuf>,
    pub unsearched: Vec<Error>,
}

/// The jobs that paths stand for, each once: files as they are, jobs below folders, and `-` for a
/// list of both. What is meant as a job and cannot be read is one: whoever works on it says why.
///
/// # Errors
/// There is no job at all, or too many files.
pub fn all_jobs(wanted: &Jobs) -> Result<FoundJobs> {
    let mut found = FoundJobs::default();
    for path in &wanted.paths {
        if path.as_os_str() == "-" {
            for line in read_list(std::io::stdin().lock())? {
                found.add(Path::new(&line))?;
            }
        } else {
            found.add(path)?;
        }
    }
    let FoundJobs { mut jobs, mut unsearched } = found;
    let mut seen = BTreeSet::new();
    jobs.retain(|path| seen.insert(path.clone()));
    if jobs.is_empty() {
        return Err(unsearched.pop().unwrap_or_else(no_job));
    }
    if let Some(Part { number, of }) = wanted.part {
        jobs = jobs.into_iter().skip(number - 1).step_by(of).collect();
    }
    Ok(FoundJobs { jobs, unsearched })
}

/// The error where nothing that was named is a job.
pub fn no_job() -> Error {
    Error::new(Exit::Input, "there is no job to work on")
        .help("a job is a TOML file with a `number` at its top and a table `[customer]`")
}

/// The lines of a list of jobs that say something, without the space around them.
fn read_list(mut list: impl BufRead) -> Result<Vec<String>> {
    let refused = |line: usize, why: &str| {
        Err(Error::new(Exit::Input, format!("line {line} of the list of jobs {why}")))
    };
    let mut lines = vec![];
    for number in 1.. {
        let mut bytes = vec![];
        let mut one = list.by_ref().take(PATH_BYTES as u64 + 2);
        one.read_until(b'\n', &mut bytes).or_cannot("read", Path::new("-"))?;
        if bytes.is_empty() {
            break;
        }
        if bytes.len() > PATH_BYTES && !bytes.ends_with(b"\n") {
            return refused(number, &format!("is longer than {PATH_BYTES} bytes"));
        }
        if number > JOBS {
            return refused(number, &format!("is one too many: at most {JOBS} are accepted"));
        }
        let Ok(line) = std::str::from_utf8(&bytes) else {
            return refused(number, "is not UTF-8 text");
        };
        if line.contains('\0') {
            return refused(number, "holds a zero byte; write one path to a line");
        }
        // A list that an editor saved may begin with a byte order mark.
        let line = if number == 1 { line.trim_start_matches('\u{FEFF}') } else { line };
        if !line.trim().is_empty() {
            lines.push(line.trim().to_owned());
        }
    }
    Ok(lines)
}

impl FoundJobs {
    /// Adds a file that was named, or the jobs below a folder.
    fn add(&mut self, path: &Path) -> Result<()> {
        if !path.is_dir() {
            self.jobs.push(path.to_owned());
            return Ok(());
        }
        for file in self.toml_files_below(path)? {
            if has_usual_name(&file) {
                self.jobs.push(file);
                continue;
            }
            match read_text(&file) {
                Ok((source, _)) if glance(&source.text).is_some() => self.jobs.push(file),
                Ok(_) => {}
                // It may be a job.
                Err(error) => self.unsearched.push(error),
            }
        }
        Ok(())
    }

    /// Every TOML file below a folder, in the order of the paths. Hidden folders, links and folders that
    /// hold no jobs are left out; what cannot be searched is told and stops nothing.
    fn toml_files_below(&mut self, root: &Path) -> Result<Vec<PathBuf>> {
        let mut found = vec![];
        let mut entries = WalkDir::new(root).into_iter();
        while let Some(entry) = entries.next() {
            let entry = match entry {
                Ok(entry) => entry,
                Err(error) => {
                    self.unsearched.push(unsearched(root, error));
                    continue;
                }
            };
            let (path, kind, depth) = (entry.path(), entry.file_type(), entry.depth());
            let is_toml = path.extension().is_some_and(|end| end == "toml");
            if depth > 0 && is_hidden(path) {
                if kind.is_dir() {
                    entries.skip_current_dir();
                }
                continue;
            }
            let Some(name) = entry.file_name().to_str().filter(|_| depth > 0) else {
                if depth > 0 && (kind.is_dir() || kind.is_file() && is_toml) {
                    let message = format!("the name of {} is not UTF-8 text", shown(path));
                    self.unsearched.push(Error::new(Exit::Files, message).help("rename it"));
                }
                if depth > 0 && kind.is_dir() {
                    entries.skip_current_dir();
                }
                continue;
            };
            if kind.is_dir() && NOT_FOR_JOBS.contains(&name) {
                entries.skip_current_dir();
            } else if kind.is_dir() && depth > FOLDER_DEPTH {
                let why = format!("it lies deeper than {FOLDER_DEPTH} folders");
                self.unsearched.push(Error::cannot("read", path, &io::Error::other(why)));
                entries.skip_current_dir();
            } else if kind.is_file() && is_toml
                // Neither file nor link is a pipe or a device: reading it says so.
                || !kind.is_dir() && !kind.is_symlink() && has_usual_name(path)
            {
                found.push(path.to_owned());
            }
            if found.len() > JOBS {
                let why = format!("more than {JOBS} files lie here and in the folders before it");
                return Err(Error::cannot("read", &folder_of(path), &io::Error::other(why)));
            }
        }
        found.sort();
        Ok(found)
    }
}

/// A folder that could not be searched.
pub fn unsearched(root: &Path, error: walkdir::Error) -> Error {
    let path = error.path().unwrap_or(root).to_owned();
    let error = error.into_io_error().unwrap_or_else(|| io::Error::other("a loop"));
    Error::cannot("read", &path, &error)
}
