//! Papers for the shop itself: each revision has a number, is written once and stays. The customer's
//! are recorded (`revise`).

use std::path::{Path, PathBuf};

use serde::Serialize;
use slableaf::base::source::{Diagnostic, SourceFile, Span};
use slableaf::read::limits;
use slableaf::typeset::{Document, Failure, Manuscript, Renderer};

use crate::shell::Exit;
use crate::shell::files::{self, Found, Kept};
use crate::shell::terminal;

/// A paper on disk, and what it was made of.
pub struct Issued<T> {
    pub path: PathBuf,
    pub kept: Kept,
    pub made: T,
}

/// Keeps a paper under the next number of its name, unless its latest revision is the same to the
/// byte. `make` makes the revision of a number.
pub fn issue<T>(
    folder: &Path,
    name: &str,
    end: &str,
    make: impl Fn(u32) -> Result<(Vec<u8>, T), Exit>,
) -> Result<Issued<T>, Exit> {
    let path = |revision: u32| folder.join(format!("{name}-r{revision}.{end}"));
    // The highest there is, also when an earlier one was moved away: a number is used once.
    let mut revision = (1..=limits::REVISIONS).rev().find(|r| path(*r).exists()).unwrap_or(0);
    if revision > 0 {
        let (bytes, made) = make(revision)?;
        let there = files::plain(&path(revision), limits::RECORD_BYTES)
            .map_err(|error| files::cannot("read", &path(revision), &error))?;
        if there == bytes {
            return Ok(Issued { path: path(revision), kept: Kept::Exists, made });
        }
    }
    // Another process may take a number first; then the next one is ours.
    while revision < limits::REVISIONS {
        revision += 1;
        let (bytes, made) = make(revision)?;
        let kept = files::keep(&path(revision), &bytes, false)?;
        let same = || {
            files::plain(&path(revision), limits::RECORD_BYTES).is_ok_and(|there| there == bytes)
        };
        if matches!(kept, Kept::Written) || same() {
            return Ok(Issued { path: path(revision), kept, made });
        }
    }
    terminal::error(&format!("{name} has {} revisions already", limits::REVISIONS));
    Err(Exit::Files)
}

/// Says that a paper's latest revision is what would be written now.
pub fn say_unchanged(path: &Path) {
    terminal::say(&format!(
        "unchanged: {} is the same to the byte; nothing was written",
        path.display()
    ));
}

/// Typesets a document; says on the terminal why it cannot, with the place in the files that were read.
pub fn typeset<P: Serialize>(
    manuscript: Manuscript<'_, P>,
    renderer: &Renderer,
    found: &Found,
) -> Result<Document, Exit> {
    renderer.pdf(manuscript).map_err(|failure| {
        let layouts = || renderer.layouts().source_files("");
        match &failure {
            Failure::Layout(faults) => terminal::problems(faults, &layouts()),
            Failure::Uncovered { character, .. } => {
                let files = [found.all(), layouts()].concat();
                match where_it_stands(*character, &files) {
                    Some(span) => {
                        let said = failure.to_string();
                        let (message, help) = said.rsplit_once("; ").unwrap_or((&said, ""));
                        terminal::problems(&[Diagnostic::at(&span, message).help(help)], &files);
                    }
                    None => terminal::error(&failure.to_string()),
                }
            }
            _ => terminal::error(&failure.to_string()),
        }
        Exit::Paper
    })
}

/// The first place of a character in files; `None` where it was written as an escape.
fn where_it_stands(character: char, files: &[SourceFile]) -> Option<Span> {
    files.iter().find_map(|file| {
        let at = file.text.find(character)?;
        Some(Span { file: file.name.clone(), bytes: at..at + character.len_utf8() })
    })
}
