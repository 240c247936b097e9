//! Papers for the shop itself: each revision has a number, is written once and stays. The customer's
//! are recorded (`issue`).

use std::path::{Path, PathBuf};

use slableaf::read::limits;

use crate::shell::store::{Saved, read_plain, sweep_abandoned, unfinished_prefix, write_new_file};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Report, Result};

/// A paper on disk, and the value that it was made of.
pub struct NumberedPaper<T> {
    pub path: PathBuf,
    pub saved: Saved,
    pub made: T,
}

/// Keeps a paper under the next number of its name, unless its latest revision is the same to the
/// byte. `make` makes the revision of a number.
pub fn keep_numbered<T>(
    folder: &Path,
    name: &str,
    end: &str,
    make: impl Fn(u32) -> Result<(Vec<u8>, T)>,
) -> Result<NumberedPaper<T>> {
    let path = |revision: u32| folder.join(format!("{name}-r{revision}.{end}"));
    sweep_abandoned(folder, &format!("{}r", unfinished_prefix(name)));
    // The highest there is, also when an earlier one was moved away: a number is used once.
    let mut revision = (1..=limits::REVISIONS).rev().find(|r| path(*r).exists()).unwrap_or(0);
    if revision > 0 {
        let (bytes, made) = make(revision)?;
        let there =
            read_plain(&path(revision), limits::RECORD_BYTES).or_cannot("read", &path(revision))?;
        if there == bytes {
            return Ok(NumberedPaper { path: path(revision), saved: Saved::Exists, made });
        }
    }
    // Another process may take a number first; then the next one is ours.
    while revision < limits::REVISIONS {
        revision += 1;
        let (bytes, made) = make(revision)?;
        let saved = write_new_file(&path(revision), &bytes)?;
        let same =
            || read_plain(&path(revision), limits::RECORD_BYTES).is_ok_and(|there| there == bytes);
        if saved == Saved::Written || same() {
            return Ok(NumberedPaper { path: path(revision), saved, made });
        }
    }
    Err(Error::new(Exit::Files, format!("{name} has {} revisions already", limits::REVISIONS)))
}

/// Says that a paper's latest revision is what would be written now.
pub fn say_unchanged(path: &Path, report: &mut Report) {
    report
        .say(format!("unchanged: {} is the same, byte for byte; nothing written", path.display()));
}
