//! The agreement on a job, from its records: the accepted paper and the signed orders after it.

use std::path::Path;
use std::sync::Arc;

use slableaf::base::source::{Diagnostic, Span};
use slableaf::issued::{Agreed, NotAgreed, agreed};
use slableaf::model::job::{Accepted, Job};
use slableaf::read::Input;

use crate::shell::args::{JobFiles, NearFiles, Paper};
use crate::shell::store::{
    Cache, FileBytes, INPUTS, LoadedFiles, Records, SharedFiles, StoredRecord, load_files,
    read_alone, read_text,
};
use crate::shell::terminal::{Error, Exit, Result};

/// The file below the inputs of a record that keeps what was agreed.
const AGREED: &str = "signed/agreed.toml";

/// The agreement on a job.
pub struct Agreement {
    pub agreed: Agreed,
    /// The paper that was accepted.
    pub accepted: StoredRecord,
    /// The last order that was signed.
    pub order: Option<StoredRecord>,
}

impl Agreement {
    /// Reads what was agreed on a job that was accepted; `path` is the job's file.
    pub fn read(path: &Path, job: &Job, accepted: &Accepted, records: &Records) -> Result<Self> {
        let revision = accepted.revision;
        let Some(stored) = records.find(Paper::Proposal.name(), revision)? else {
            let message = no_record(revision, records);
            let error = located(path, &accepted.span, &message, &[SET_RIGHT, WRITE_IT]);
            return Err(error.exit(Exit::Files));
        };
        let date = stored.record.date.0;
        let mut agreed = agreed(&stored.record.facts, date, accepted).map_err(|why| {
            let message = format!("revision {revision} cannot have been accepted: {why}");
            let more = match &why {
                NotAgreed::Addition(_) => Some(ONLY_PRICED),
                NotAgreed::Floor(_) | NotAgreed::TooEarly { .. } => None,
            };
            let help: Vec<&str> = [SET_RIGHT].into_iter().chain(more).collect();
            located(path, &accepted.span, &message, &help)
        })?;
        let mut order = None;
        let kind = Paper::ChangeOrder.name();
        for one in &job.orders {
            let Some(signed) = one.signed else { continue };
            let number = signed.revision;
            let refused = |message: &str, help: &str| located(path, &one.span, message, &[help]);
            let Some(stored) = records.find(kind, number)? else {
                let folder = records.folder().display();
                let message = format!(
                    "change order {number} was signed, and there is no record of it in {folder}"
                );
                let help =
                    "set `[[order]]` to what was signed, or bring the record back from a backup";
                return Err(refused(&message, help).exit(Exit::Files));
            };
            let Some(ordered) = &stored.record.facts.order else {
                let message = format!("{} is no change order", stored.folder.display());
                return Err(Error::new(Exit::Files, message));
            };
            if ordered.agreed.orders != agreed.orders {
                let message =
                    format!("change order {number} does not follow what was signed before it");
                return Err(refused(
                    &message,
                    "list every signed order under `[[order]]`, and write the last one anew if it was made before another was signed",
                ));
            }
            agreed = agreed.with(ordered, signed);
            order = Some(stored);
        }
        Ok(Self { agreed, accepted: stored, order })
    }

    /// Loads a job with the book and the shop file of the paper that was accepted.
    pub fn load_files(
        &self,
        path: &Path,
        cache: &Cache,
    ) -> Result<(LoadedFiles, Input, Arc<SharedFiles>)> {
        let inputs = self.accepted.folder.join(INPUTS);
        let (book, shop) = (inputs.join("book.toml"), inputs.join("shop.toml"));
        let near = NearFiles { book: Some(book.clone()), shop: Some(shop.clone()) };
        let (files, input) = load_files(&JobFiles { job: path.to_owned(), near }, cache)?;
        Ok((files, input, cache.shared_files(&book, &shop)?))
    }

    /// The agreement as a file below the inputs of a record; [`agreed_of`] reads it.
    pub fn as_file(&self) -> Result<FileBytes> {
        let text = toml::to_string(&self.agreed)
            .map_err(|error| Error::new(Exit::Bug, error.to_string()))?;
        Ok(FileBytes { path: AGREED.into(), bytes: text.into_bytes() })
    }

    /// The job as it was signed, with the floor and the additions that were agreed.
    pub fn signed_job(&self) -> Result<Job> {
        let last = self.order.as_ref().unwrap_or(&self.accepted);
        let mut job = read_alone(&last.folder.join(INPUTS).join("job.toml"))?;
        job.accepted = Some(self.agreed.as_accepted(&job.span));
        job.orders.clear();
        Ok(job)
    }
}

/// The agreement that a record keeps below its inputs.
pub fn agreed_of(stored: &StoredRecord) -> Result<Agreed> {
    let path = stored.folder.join(INPUTS).join(AGREED);
    let (agreed, _) = read_text(&path)?;
    toml::from_str(&agreed.text).map_err(|error| {
        let message = format!("{} cannot be read: {}", path.display(), error.message());
        Error::new(Exit::Files, message)
    })
}

/// The record of the paper that was accepted.
pub fn accepted_record(accepted: &Accepted, records: &Records) -> Result<StoredRecord> {
    let revision = accepted.revision;
    records
        .find(Paper::Proposal.name(), revision)?
        .ok_or_else(|| Error::new(Exit::Files, no_record(revision, records)).help(SET_RIGHT))
}

fn no_record(revision: u32, records: &Records) -> String {
    let folder = records.record_folder(Paper::Proposal.name(), revision);
    let folder = folder.display();
    format!("revision {revision} was accepted, and there is no record of it: {folder}")
}

const SET_RIGHT: &str =
    "set `[accepted]` in the job to what was signed, or bring the record back from a backup";
const WRITE_IT: &str = "if the paper was never written here, leave `[accepted]` out, `write` the proposal, and have it signed";
const ONLY_PRICED: &str = "an addition can be ticked only where the paper names its price";

/// A fault of what the job says was signed, with its place.
fn located(path: &Path, span: &Span, message: &str, help: &[&str]) -> Error {
    // A file that was read a moment ago and is gone now leaves the message without its lines.
    let file = read_text(path).map(|(source, _)| source);
    let problem = Diagnostic::at(span, message);
    let problem = help.iter().fold(problem, |problem, help| problem.help(*help));
    Error::problems(vec![problem], file.into_iter().collect())
}
