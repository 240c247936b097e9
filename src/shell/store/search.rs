//! Finding jobs in files, folders and lists, and the book and shop file nearest to one.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, BufRead, Read as _};
use std::path::{Path, PathBuf};

use slableaf::read::glance::glance;
use slableaf::read::limits::{FOLDER_DEPTH, JOBS, PATH_BYTES};
use walkdir::WalkDir;

use crate::shell::args::{Jobs, Part};
use crate::shell::store::{folder_of, is_hidden, read_text, without_climbs};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Result};

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

/// The one job that was named as a file: it speaks for itself.
pub fn single_job(wanted: &Jobs) -> Option<&Path> {
    match (wanted.paths.as_slice(), wanted.part) {
        ([path], None) if path.as_os_str() != "-" && !path.is_dir() => Some(path),
        _ => None,
    }
}

/// The jobs that paths stand for, each once: files as they are, jobs below folders, and `-` for a
/// list of both. What is meant as a job and cannot be read is one: whoever works on it says why.
pub fn all_jobs(wanted: &Jobs) -> Result<Vec<PathBuf>> {
    let mut found = vec![];
    for path in &wanted.paths {
        if path.as_os_str() == "-" {
            for line in read_list(std::io::stdin().lock())? {
                found.extend(jobs_at(Path::new(&line))?);
            }
        } else {
            found.extend(jobs_at(path)?);
        }
    }
    let mut seen = BTreeSet::new();
    found.retain(|path| seen.insert(path.clone()));
    if found.is_empty() {
        return Err(Error::new(Exit::Input, "there is no job to work on")
            .help("a job is a TOML file with a `number` at its top and a table `[customer]`"));
    }
    Ok(match wanted.part {
        Some(Part { number, of }) => found.into_iter().skip(number - 1).step_by(of).collect(),
        None => found,
    })
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

/// A file that was named, or the jobs below a folder.
fn jobs_at(path: &Path) -> Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut files = toml_files_below(path)?;
    files.retain(|path| {
        has_usual_name(path) || read_text(path).is_ok_and(|(file, _)| glance(&file.text).is_some())
    });
    Ok(files)
}

/// Every TOML file below a folder, in the order of the paths. Hidden folders, links and folders that
/// hold no jobs are left out.
fn toml_files_below(root: &Path) -> Result<Vec<PathBuf>> {
    let mut found = vec![];
    let cannot =
        |path: &Path, why: String| Err(Error::cannot("read", path, &io::Error::other(why)));
    let entries = WalkDir::new(root).into_iter().filter_entry(|entry| {
        let name = entry.file_name().to_str();
        entry.depth() == 0
            || !is_hidden(entry.path())
                && name.is_some_and(|name| {
                    !entry.file_type().is_dir() || !NOT_FOR_JOBS.contains(&name)
                })
    });
    for entry in entries {
        let entry = entry.map_err(|error| {
            let path = error.path().unwrap_or(root).to_owned();
            let error = error.into_io_error();
            Error::cannot("read", &path, &error.unwrap_or_else(|| io::Error::other("a loop")))
        })?;
        let (path, kind) = (entry.path(), entry.file_type());
        if kind.is_dir() && entry.depth() > FOLDER_DEPTH {
            return cannot(path, format!("it lies deeper than {FOLDER_DEPTH} folders"));
        }
        if kind.is_file() && path.extension().is_some_and(|end| end == "toml") {
            found.push(path.to_owned());
        }
        if found.len() > JOBS {
            let why = format!("more than {JOBS} files lie here and in the folders before it");
            return cannot(&folder_of(path), why);
        }
    }
    found.sort();
    Ok(found)
}
