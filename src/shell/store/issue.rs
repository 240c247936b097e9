//! Issues a customer's paper: finds its latest revision unchanged, or records the next one and puts
//! out the customer's copy.

use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::time::Duration;

use slableaf::base::layouts::EMBEDDED;
use slableaf::base::names::Key;
use slableaf::issued::{
    Agreed, Change, FORMAT, Facts, Hash, IssueRecord, IssuedPaper, Leaf, RecordDate, Replaced,
    changes,
};
use slableaf::read::limits;
use slableaf::results::shop::ShopForm;
use slableaf::typeset;

use crate::shell::args::{Paper, PaperEdition};
use crate::shell::store::{
    JobPapers, PageAndDocument, Records, Saved, StoredRecord, guard_promises, highest,
    names_prices, read_plain, say_unchanged, sweep_unfinished, unfinished_prefix, write_new_file,
};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Report, Result, json};

/// A paper that is recorded, and whose copy is with the customer's papers.
pub struct Issued {
    /// The customer's copy.
    pub path: PathBuf,
    pub pdf: Vec<u8>,
    pub stored: StoredRecord,
    /// Absent when nothing had to be typeset.
    pub made: Option<PageAndDocument>,
    /// True when this run issued it.
    pub is_new: bool,
}

/// Version of the program, as it stands in records.
pub const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// Hash of every layout, word and font that is built in.
pub static BUILT_IN: LazyLock<Hash> = LazyLock::new(|| {
    let texts = EMBEDDED.iter().flat_map(|(path, text)| [path.as_bytes(), text.as_bytes()]);
    Hash::of_parts(texts.chain(typeset::FONT_FILES.iter().copied()))
});

const RESULTS: &str = "results.json";

impl JobPapers<'_> {
    /// Issues a paper into a folder, in its edition to print.
    pub fn issue(
        &self,
        paper: Paper,
        records: &Records,
        out: &Path,
        report: &mut Report,
    ) -> Result<Issued> {
        self.job.originals.keep_beside(records);
        let edition = paper.printed();
        let inputs = self.job.inputs()?;
        let origin = self.origin(edition, &inputs)?;
        let latest = records.latest(&edition.name())?;
        let missing = records.missing();
        for name in &missing {
            let message = format!("the record {name} is missing, and so is what it promised");
            report
                .warn(&message, "bring it back from a backup; this paper was not held against it");
        }
        if self.drawn.is_none()
            && latest.as_ref().is_some_and(|last| last.record.same_origin(&origin))
            && let Some(last) = latest
        {
            return put_out_again(last, out, None, report);
        }
        let name = self.name(edition);
        // A paper that no record knows, from elsewhere or from before there were records, keeps its
        // number.
        let on_paper = highest(out, &name, ".pdf").or_cannot("read", out)?;
        let recorded = latest.as_ref().map_or(0, StoredRecord::revision);
        let replaces = latest.as_ref().filter(|last| self.is_replaced(last));
        let replaces = replaces.map(|last| describe_replaced(last, &origin));
        if on_paper > recorded {
            let path = copy_path(out, &name, on_paper);
            let pdf = read_plain(&path, limits::RECORD_BYTES).or_cannot("read", &path)?;
            let made = self.make(edition, Some(on_paper), replaces.as_ref())?;
            if made.1.pdf == pdf {
                let stored =
                    self.write_record(records, origin, on_paper, replaces, &made, &inputs)?;
                let folder = stored.folder.display();
                report.say(format!("recorded: {} as it is, in {folder}", path.display()));
                return Ok(Issued { path, pdf, stored, made: Some(made), is_new: true });
            }
        } else if let Some(last) = latest
            && !has_other_date_or_price(paper, &last.record, &origin)
        {
            let made = self.make(edition, Some(recorded), last.record.replaces.as_ref())?;
            if Hash::of(&made.1.pdf) == last.record.paper.sha256 {
                return put_out_again(last, out, Some(made), report);
            }
        }
        // A number is used once, also that of a record that is not there any more.
        let stem = format!("{name}-r");
        let gone = missing.iter().filter_map(|gone| gone.strip_prefix(&stem)?.parse().ok());
        let revision = gone.fold(recorded.max(on_paper), u32::max) + 1;
        if revision > limits::REVISIONS {
            let message = format!("{name} has {} revisions already", limits::REVISIONS);
            return Err(Error::new(Exit::Files, message));
        }
        if names_prices(paper, &origin.options) {
            guard_promises(self, records, &origin.facts)?;
        }
        let made = self.make(edition, Some(revision), replaces.as_ref())?;
        let stored = self.write_record(records, origin, revision, replaces, &made, &inputs)?;
        let (path, pdf, _) = put_out_copy(&stored, out)?;
        self.job.originals.forget_others();
        self.say_written(edition, &path, made.1.pages, report);
        Ok(Issued { path, pdf, stored, made: Some(made), is_new: true })
    }

    /// Issues the edition for a telephone of a paper that was issued to print: it has the same revision, and
    /// stays as it was once issued, like that one. `None` for a paper that has no such edition.
    pub fn issue_for_phone(
        &self,
        paper: Paper,
        printed: &StoredRecord,
        records: &Records,
        out: &Path,
        report: &mut Report,
    ) -> Result<Option<Issued>> {
        let Some(edition) = paper.for_phone() else { return Ok(None) };
        let revision = printed.revision();
        if let Some(stored) = records.find(&edition.name(), revision)? {
            return put_out_again(stored, out, None, report).map(Some);
        }
        let inputs = self.job.inputs()?;
        let origin = self.origin(edition, &inputs)?;
        let replaces = printed.record.replaces.clone();
        let made = self.make(edition, Some(revision), replaces.as_ref())?;
        let stored = self.write_record(records, origin, revision, replaces, &made, &inputs)?;
        let (path, pdf, _) = put_out_copy(&stored, out)?;
        self.say_written(edition, &path, made.1.pages, report);
        Ok(Some(Issued { path, pdf, stored, made: Some(made), is_new: true }))
    }

    /// Facts that a paper of this job states; of a change order with what it changes.
    pub fn facts(&self) -> Result<Facts> {
        let facts = match self.spaces() {
            Some(spaces) => Facts::of_spaces(&spaces),
            None => Facts::of(&self.writer()),
        };
        let mut facts = facts.map_err(|error| self.no_words(&error))?;
        facts.order = self.order.map(|basis| {
            let mut ordered = basis.order.ordered();
            ordered.agreed.name = self.floor_names(&ordered.agreed);
            ordered
        });
        Ok(facts)
    }

    /// The names of the floors that were agreed, within a sentence.
    fn floor_names(&self, agreed: &Agreed) -> String {
        let Some(spaces) = self.spaces() else {
            return self.writer().the_name(&Key(agreed.floor.clone()));
        };
        let name = |(space, floor): &(String, String)| {
            let key = Key(floor.clone());
            let writer = spaces.named().find(|(name, _)| name == space);
            writer.map_or_else(|| floor.clone(), |(_, writer)| writer.the_name(&key))
        };
        agreed.floors.iter().map(name).collect::<Vec<_>>().join(", ")
    }

    /// The results that a record keeps.
    pub fn results(&self) -> Result<String> {
        let form = match self.spaces() {
            Some(spaces) => ShopForm::of_spaces(&spaces),
            None => ShopForm::of(&self.writer()),
        };
        let form = form.map_err(|error| self.no_words(&error))?;
        Ok(format!("{}\n", json(&form)))
    }

    /// The record as far as it is known before anything is typeset.
    fn origin(&self, edition: PaperEdition, inputs: &[(Leaf, &[u8])]) -> Result<IssueRecord> {
        let job = &self.job.input.job;
        let nothing = Hash(String::new());
        Ok(IssueRecord {
            format: FORMAT,
            number: job.number.0.clone(),
            kind: edition.name(),
            revision: 0,
            date: RecordDate(job.date),
            program: PROGRAM.to_owned(),
            built_in: BUILT_IN.clone(),
            options: self.options(edition),
            paper: IssuedPaper { path: String::new(), sha256: nothing.clone(), pages: 0 },
            results: Leaf { path: RESULTS.to_owned(), sha256: nothing },
            input: inputs.iter().map(|(leaf, _)| leaf.clone()).collect(),
            facts: self.facts()?,
            replaces: None,
            follows: vec![],
        })
    }

    /// True for a revision that a new one comes in the place of. An order that was signed is not replaced.
    fn is_replaced(&self, stored: &StoredRecord) -> bool {
        let orders = self.order.map(|basis| &basis.order.before.orders);
        orders.is_none_or(|orders| !orders.contains(&stored.revision()))
    }

    /// Writes the record of what was made: the moment at which it is issued.
    fn write_record(
        &self,
        records: &Records,
        origin: IssueRecord,
        revision: u32,
        replaces: Option<Replaced>,
        (_, document): &PageAndDocument,
        inputs: &[(Leaf, &[u8])],
    ) -> Result<StoredRecord> {
        let results = self.results()?;
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

/// True for a paper with another date or another price on it than the one that was issued. It need not be
/// typeset to be told from that one.
fn has_other_date_or_price(paper: Paper, issued: &IssueRecord, now: &IssueRecord) -> bool {
    let totals = |record: &IssueRecord| -> Vec<i64> {
        record.facts.floors.iter().map(|floor| floor.total).collect()
    };
    names_prices(paper, &now.options) && (issued.date != now.date || totals(issued) != totals(now))
}

/// The words of a new revision about the one that it replaces.
fn describe_replaced(last: &StoredRecord, origin: &IssueRecord) -> Replaced {
    let changes: Vec<Change> =
        changes(&last.record.facts, &origin.facts, last.record.same_input(origin));
    Replaced { revision: last.revision(), date: last.record.date, changes }
}

fn copy_path(out: &Path, name: &str, revision: u32) -> PathBuf {
    out.join(format!("{name}-r{revision}.pdf"))
}

/// Puts the customer's copy of a recorded revision out again when it is missing; says that nothing
/// has changed.
fn put_out_again(
    stored: StoredRecord,
    out: &Path,
    made: Option<PageAndDocument>,
    report: &mut Report,
) -> Result<Issued> {
    let (issued, copy) = Issued::put_out(stored, out)?;
    let path = issued.path.display();
    match copy {
        Saved::Exists => say_unchanged(&issued.path, report),
        Saved::Written => {
            report.say(format!("unchanged: {path} was missing; written again from its record"));
        }
    }
    Ok(Issued { made, ..issued })
}

impl Issued {
    /// A paper that was issued before, with its copy, which is written unless it is there.
    pub fn put_out(stored: StoredRecord, out: &Path) -> Result<(Self, Saved)> {
        let (path, pdf, copy) = put_out_copy(&stored, out)?;
        Ok((Self { path, pdf, stored, made: None, is_new: false }, copy))
    }
}

/// Writes the customer's copy of a record, unless it is there.
pub fn put_out_copy(stored: &StoredRecord, out: &Path) -> Result<(PathBuf, Vec<u8>, Saved)> {
    let pdf = stored.paper()?;
    let StoredRecord { folder, record } = stored;
    // The job's lock is held, so that nobody is writing a copy.
    let begins = format!("{}r", unfinished_prefix(&format!("{}-{}", record.number, record.kind)));
    sweep_unfinished(out, &begins, Duration::ZERO);
    let path = out.join(format!("{}.pdf", record.name()));
    let is_there = || read_plain(&path, limits::RECORD_BYTES).is_ok_and(|there| there == pdf);
    if is_there() {
        return Ok((path, pdf, Saved::Exists));
    }
    let copy = write_new_file(&path, &pdf).map_err(|error| {
        error.help(format!(
            "revision {} is issued and stands in {}; run this again to put out its copy",
            record.revision,
            folder.display()
        ))
    })?;
    if copy == Saved::Exists && !is_there() {
        let message = format!("{} is not what was issued under that name", path.display());
        return Err(Error::new(Exit::Files, message)
            .help("it was left as it is: move it away and run this again")
            .help(format!("what was issued is in {}", folder.join("paper").display())));
    }
    Ok((path, pdf, copy))
}
