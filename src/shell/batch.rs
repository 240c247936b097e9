//! Many jobs in one run: which they are, and working on several at a time.
//!
//! What a job says is printed in the order of the jobs, whichever is done first. A job that fails
//! stops no other. A run that was broken off is taken up by running it again: what is recorded with
//! the same inputs is found so and not made anew.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead, IsTerminal, Read as _};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;

use slableaf::read::glance::glance;
use slableaf::read::limits::{JOBS, PATH_BYTES};
use slableaf::typeset::alone;

use crate::shell::args::{Jobs, Part};
use crate::shell::folder::Candidate;
use crate::shell::terminal::Said;
use crate::shell::{Exit, files, folder, terminal};

/// What became of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    Written,
    /// It was issued already, as it is.
    Unchanged,
}

/// The one job that was named as a file: it speaks for itself.
pub fn single(wanted: &Jobs) -> Option<&Path> {
    match (wanted.paths.as_slice(), wanted.part) {
        ([path], None) if path.as_os_str() != "-" && !path.is_dir() => Some(path),
        _ => None,
    }
}

/// The jobs that paths stand for, each once: files as they are, jobs below folders, and `-` for a
/// list of both. What is meant as a job and cannot be read is one: whoever works on it says why.
pub fn listed(wanted: &Jobs) -> Result<Vec<Candidate>, Exit> {
    let mut found = vec![];
    for path in &wanted.paths {
        if path.as_os_str() == "-" {
            for line in lines(std::io::stdin().lock())? {
                found.extend(below(Path::new(&line))?);
            }
        } else {
            found.extend(below(path)?);
        }
    }
    let mut seen = BTreeSet::new();
    found.retain(|one| seen.insert(one.path.clone()));
    if found.is_empty() {
        terminal::error("there is no job to work on");
        terminal::help("a job is a TOML file with a `number` at its top and a table `[customer]`");
        return Err(Exit::Input);
    }
    if let Some(Part { number, of }) = wanted.part {
        let mut at = 0;
        found.retain(|_| {
            at += 1;
            at % of == number % of
        });
    }
    Ok(found)
}

/// The lines of a list of jobs that say something, without the space around them.
fn lines(mut list: impl BufRead) -> Result<Vec<String>, Exit> {
    let refused = |line: usize, why: &str| {
        terminal::error(&format!("line {line} of the list of jobs {why}"));
        Exit::Input
    };
    let mut lines = vec![];
    for number in 1.. {
        let mut bytes = vec![];
        let mut one = list.by_ref().take(PATH_BYTES as u64 + 2);
        one.read_until(b'\n', &mut bytes)
            .map_err(|error| files::cannot("read", Path::new("-"), &error))?;
        if bytes.is_empty() {
            break;
        }
        if bytes.len() > PATH_BYTES && !bytes.ends_with(b"\n") {
            return Err(refused(number, &format!("is longer than {PATH_BYTES} bytes")));
        }
        if number > JOBS {
            return Err(refused(number, &format!("is one too many: at most {JOBS} are accepted")));
        }
        let Ok(line) = std::str::from_utf8(&bytes) else {
            return Err(refused(number, "is not UTF-8 text"));
        };
        if line.contains('\0') {
            return Err(refused(number, "holds a zero byte; write one path to a line"));
        }
        // A list that an editor saved may begin with a byte order mark.
        let line = if number == 1 { line.trim_start_matches('\u{FEFF}') } else { line };
        if !line.trim().is_empty() {
            lines.push(line.trim().to_owned());
        }
    }
    Ok(lines)
}

fn below(path: &Path) -> Result<Vec<Candidate>, Exit> {
    if !path.is_dir() {
        return Ok(vec![folder::candidate(path)]);
    }
    let mut candidates = folder::candidates(path)
        .map_err(|(folder, error)| files::cannot("read", &folder, &error))?;
    candidates.retain(|one| {
        one.path.file_name().is_some_and(|name| name == "job.toml")
            || folder::read_text(&one.path).is_ok_and(|file| glance(&file.text).is_some())
    });
    Ok(candidates)
}

/// Works on every job, on some at a time; says at the end how it went. `one_folder` is true when what
/// all jobs make goes into one folder.
pub fn each_job(
    jobs: &[Candidate],
    hands: usize,
    one_folder: bool,
    work: impl Fn(&Path) -> Result<Done, Exit> + Sync,
) -> Exit {
    let twice = named_twice(jobs, one_folder);
    let next = AtomicUsize::new(0);
    let (sender, receiver) = mpsc::channel();
    let one = |at: usize| {
        terminal::kept(|| match twice.get(&at) {
            Some(other) => {
                let (job, other) = (jobs[at].path.display(), jobs[*other].path.display());
                terminal::error(&format!("{job} has the number of {other}: neither was written"));
                terminal::help(
                    "give one of them another number, or take a copy that is no job out of the folder",
                );
                Err(Exit::Input)
            }
            // A fault of ours in one job stops no other.
            None => catch_unwind(AssertUnwindSafe(|| work(&jobs[at].path))).unwrap_or_else(|_| {
                terminal::error("this job met the fault in slableaf that is told above");
                Err(Exit::Bug)
            }),
        })
    };
    let mut count = Count::default();
    std::thread::scope(|scope| {
        for _ in 0..hands.min(jobs.len()) {
            let (sender, next, one) = (sender.clone(), &next, &one);
            scope.spawn(move || {
                alone(|| {
                    loop {
                        let at = next.fetch_add(1, Ordering::Relaxed);
                        if at >= jobs.len() || sender.send((at, one(at))).is_err() {
                            break;
                        }
                    }
                });
            });
        }
        drop(sender);
        let mut waiting = BTreeMap::new();
        let mut shown = 0;
        let progress = Progress::new(jobs.len());
        for (done, (at, result)) in receiver.iter().enumerate() {
            waiting.insert(at, result);
            while let Some((ended, said)) = waiting.remove(&shown) {
                progress.clear();
                tell(&jobs[shown].path, ended, &said);
                count.add(ended);
                shown += 1;
            }
            progress.show(done + 1);
        }
        progress.clear();
    });
    terminal::say(&count.told());
    if count.failed == 0 { Exit::Fine } else { Exit::Partly }
}

/// Jobs whose papers would lie in one folder under one number, by their places: each with another of
/// them. Nobody but their owner knows which of them is meant.
fn named_twice(jobs: &[Candidate], one_folder: bool) -> BTreeMap<usize, usize> {
    let mut first: BTreeMap<(PathBuf, String), usize> = BTreeMap::new();
    let mut twice = BTreeMap::new();
    for (at, job) in jobs.iter().enumerate() {
        let number = folder::read_text(&job.path).ok().and_then(|file| glance(&file.text));
        let Some(seen) = number else { continue };
        let folder = if one_folder { PathBuf::new() } else { files::folder_of(&job.path) };
        let there = *first.entry((folder, seen.number)).or_insert(at);
        if there != at {
            twice.insert(at, there);
            twice.entry(there).or_insert(at);
        }
    }
    twice
}

fn tell(job: &Path, ended: Result<Done, Exit>, said: &Said) {
    if ended.is_err() {
        let job = terminal::printable(&job.display().to_string());
        terminal::to_stderr(&format!("{job}: not written\n"));
    }
    terminal::again(said);
}

#[derive(Debug, Default)]
struct Count {
    written: usize,
    unchanged: usize,
    failed: usize,
}

impl Count {
    fn add(&mut self, ended: Result<Done, Exit>) {
        match ended {
            Ok(Done::Written) => self.written += 1,
            Ok(Done::Unchanged) => self.unchanged += 1,
            Err(_) => self.failed += 1,
        }
    }

    fn told(&self) -> String {
        let Self { written, unchanged, failed } = self;
        let all = written + unchanged + failed;
        let noun = if all == 1 { "job" } else { "jobs" };
        format!("{all} {noun}: {written} written, {unchanged} unchanged, {failed} not written")
    }
}

/// How far a run has come: a line on a terminal, nothing in a pipe.
struct Progress {
    all: usize,
    on_terminal: bool,
}

impl Progress {
    fn new(all: usize) -> Self {
        Self { all, on_terminal: std::io::stderr().is_terminal() }
    }

    fn show(&self, done: usize) {
        if self.on_terminal {
            terminal::to_stderr(&format!("\r{done} of {}", self.all));
        }
    }

    fn clear(&self) {
        if self.on_terminal {
            terminal::to_stderr("\r\x1b[K");
        }
    }
}
