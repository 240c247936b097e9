//! Issues a customer's paper: finds its latest revision unchanged, or records the next one and puts
//! out the customer's copy.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use slableaf::base::layouts::EMBEDDED;
use slableaf::issued::{
    Change, FORMAT, Facts, Hash, IssueRecord, IssuedPaper, Leaf, RecordDate, Replaced, changes,
};
use slableaf::read::limits;
use slableaf::results::shop::ShopForm;
use slableaf::typeset;

use crate::shell::Exit;
use crate::shell::args::Paper;
use crate::shell::desk::{Desk, Made};
use crate::shell::files::{self, Kept as Copy, cannot};
use crate::shell::issue::say_unchanged;
use crate::shell::records::{self, Kept, Records};
use crate::shell::terminal;

/// A paper that is recorded, and whose copy is with the customer's papers.
pub struct Issued {
    /// The customer's copy.
    pub path: PathBuf,
    pub pdf: Vec<u8>,
    pub kept: Kept,
    /// Absent when nothing had to be typeset.
    pub made: Option<Made>,
    /// True when this run issued it.
    pub is_new: bool,
}

/// Version of the program, as it stands in records.
pub const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// Hash of every layout, word and font that is built in.
pub static BUILT_IN: LazyLock<Hash> = LazyLock::new(|| {
    let texts = EMBEDDED.iter().flat_map(|(path, text)| [path.as_bytes(), text.as_bytes()]);
    Hash::of_parts(texts.chain(typeset::font_files().iter().copied()))
});

const RESULTS: &str = "results.json";

impl Desk<'_> {
    /// Issues a paper into a folder; says what was done.
    pub fn issue(&self, paper: Paper, records: &Records, out: &Path) -> Result<Issued, Exit> {
        let kind = paper.name();
        let inputs = self.materials.inputs()?;
        let origin = self.origin(paper, &inputs)?;
        let latest = records.latest(kind)?;
        if self.drawn.is_none()
            && latest.as_ref().is_some_and(|last| last.record.same_origin(&origin))
            && let Some(last) = latest
        {
            return put_out_again(last, out, None);
        }
        let name = self.name(paper);
        // A paper that no record knows, from elsewhere or from before there were records, keeps its
        // number.
        let on_paper =
            records::highest(out, &name, ".pdf").map_err(|error| cannot("read", out, &error))?;
        let recorded = latest.as_ref().map_or(0, Kept::revision);
        let replaces = latest.as_ref().map(|last| replaced(last, &origin));
        if on_paper > recorded {
            let path = copy_path(out, &name, on_paper);
            let pdf = files::plain(&path, limits::RECORD_BYTES)
                .map_err(|error| cannot("read", &path, &error))?;
            let made = self.made(paper, Some(on_paper), replaces.as_ref())?;
            if made.1.pdf == pdf {
                let kept = self.record(records, origin, on_paper, replaces, &made, &inputs)?;
                terminal::say(&format!(
                    "recorded: {} as it is, in {}",
                    path.display(),
                    kept.folder.display()
                ));
                return Ok(Issued { path, pdf, kept, made: Some(made), is_new: true });
            }
        } else if let Some(last) = latest {
            let made = self.made(paper, Some(recorded), last.record.replaces.as_ref())?;
            if Hash::of(&made.1.pdf) == last.record.paper.sha256 {
                return put_out_again(last, out, Some(made));
            }
        }
        let revision = recorded.max(on_paper) + 1;
        if revision > limits::REVISIONS {
            terminal::error(&format!("{name} has {} revisions already", limits::REVISIONS));
            return Err(Exit::Files);
        }
        let made = self.made(paper, Some(revision), replaces.as_ref())?;
        let kept = self.record(records, origin, revision, replaces, &made, &inputs)?;
        let (path, pdf, _) = copied(&kept, out)?;
        self.report(paper, &path, made.1.pages);
        Ok(Issued { path, pdf, kept, made: Some(made), is_new: true })
    }

    /// The record as far as it is known before anything is typeset.
    fn origin(&self, paper: Paper, inputs: &[(Leaf, &[u8])]) -> Result<IssueRecord, Exit> {
        let job = &self.input().job;
        let nothing = Hash(String::new());
        Ok(IssueRecord {
            format: FORMAT,
            number: job.number.0.clone(),
            kind: paper.name().to_owned(),
            revision: 0,
            date: RecordDate(job.date),
            program: PROGRAM.to_owned(),
            built_in: BUILT_IN.clone(),
            options: self.options(paper),
            paper: IssuedPaper { path: String::new(), sha256: nothing.clone(), pages: 0 },
            results: Leaf { path: RESULTS.to_owned(), sha256: nothing },
            input: inputs.iter().map(|(leaf, _)| leaf.clone()).collect(),
            facts: Facts::of(&self.writer()).map_err(|error| self.no_words(&error))?,
            replaces: None,
        })
    }

    /// Writes the record of what was made: the moment at which it is issued.
    fn record(
        &self,
        records: &Records,
        origin: IssueRecord,
        revision: u32,
        replaces: Option<Replaced>,
        (_, document): &Made,
        inputs: &[(Leaf, &[u8])],
    ) -> Result<Kept, Exit> {
        let form = ShopForm::of(&self.writer()).map_err(|error| self.no_words(&error))?;
        let results = format!("{}\n", terminal::json(&form));
        let before = replaces.as_ref().map(|before| before.revision);
        let mut record = IssueRecord { revision, replaces, ..origin };
        record.paper = IssuedPaper {
            path: IssueRecord::paper_path(&record.name()),
            sha256: Hash::of(&document.pdf),
            pages: document.pages,
        };
        record.results.sha256 = Hash::of(results.as_bytes());
        let paper = record.paper.path.clone();
        let mut contents: Vec<(&str, &[u8])> =
            inputs.iter().map(|(leaf, bytes)| (leaf.path.as_str(), *bytes)).collect();
        contents.push((&paper, &document.pdf));
        contents.push((RESULTS, results.as_bytes()));
        records.commit(&record, &contents, before)
    }
}

/// What a new revision says of the one that it replaces.
fn replaced(last: &Kept, origin: &IssueRecord) -> Replaced {
    let changes: Vec<Change> =
        changes(&last.record.facts, &origin.facts, last.record.same_input(origin));
    Replaced { revision: last.revision(), date: last.record.date, changes }
}

fn copy_path(out: &Path, name: &str, revision: u32) -> PathBuf {
    out.join(format!("{name}-r{revision}.pdf"))
}

/// Puts the customer's copy of a recorded revision out again when it is missing; says that nothing
/// has changed.
fn put_out_again(kept: Kept, out: &Path, made: Option<Made>) -> Result<Issued, Exit> {
    let (path, pdf, copy) = copied(&kept, out)?;
    match copy {
        Copy::Exists => say_unchanged(&path),
        Copy::Written => {
            terminal::say(&format!(
                "unchanged: {} was missing; written again from its record",
                path.display()
            ));
        }
    }
    Ok(Issued { path, pdf, kept, made, is_new: false })
}

/// Sees to it that the customer's copy of a record is there.
pub fn copied(kept: &Kept, out: &Path) -> Result<(PathBuf, Vec<u8>, Copy), Exit> {
    let pdf = kept.paper()?;
    sweep(out, &format!("{}-{}", kept.record.number, kept.record.kind));
    let path = out.join(format!("{}.pdf", kept.record.name()));
    let same = || files::plain(&path, limits::RECORD_BYTES).is_ok_and(|there| there == pdf);
    let copy = if same() {
        Copy::Exists
    } else {
        match files::keep(&path, &pdf, false) {
            Ok(Copy::Written) => Copy::Written,
            Ok(Copy::Exists) => {
                if !same() {
                    in_the_way(kept, &path)?;
                }
                Copy::Exists
            }
            Err(exit) => {
                stands(kept);
                return Err(exit);
            }
        }
    };
    Ok((path, pdf, copy))
}

/// What stands after the customer's copy could not be written.
fn stands(kept: &Kept) {
    terminal::help(&format!(
        "revision {} is issued and stands in {}; run this again to put out its copy",
        kept.revision(),
        kept.folder.display()
    ));
}

fn in_the_way(kept: &Kept, path: &Path) -> Result<(), Exit> {
    terminal::error(&format!("{} is not what was issued under that name", path.display()));
    terminal::help("it was left as it is: move it away and run this again");
    terminal::help(&format!("what was issued is in {}", kept.folder.join("paper").display()));
    Err(Exit::Files)
}

/// Removes what a killed run left of a copy. The job's lock is held, so none is being written.
fn sweep(out: &Path, name: &str) {
    let begins = format!("{}r", files::unfinished(name));
    let Ok(entries) = fs::read_dir(out) else { return };
    for entry in entries.flatten() {
        let file = entry.file_name();
        let ours = file.to_str().is_some_and(|f| f.starts_with(&begins) && f.ends_with(".tmp"));
        if ours {
            // What cannot be removed does no harm.
            let _ = fs::remove_file(entry.path());
        }
    }
}
