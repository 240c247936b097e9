//! Papers of the time after the work on disk: the job as it was laid, with what was agreed, by book and shop file
//! of the accepted paper.
//!
//! A record keeps all of that in its own `inputs`, and the agreement under `signed`.

use std::path::Path;

use slableaf::issued::{Agreed, with_orders};
use slableaf::papers::after::{first_coat, handover_day, last_day};
use slableaf::read::Input;

use crate::shell::args::Paper;
use crate::shell::store::{
    Agreement, Cache, INPUTS, LoadedFiles, LoadedJob, Records, SharedFiles, StoredRecord,
    agreed_of, read_alone,
};
use crate::shell::terminal::{Error, Exit, Result};

/// A job that was laid, with what was agreed.
pub struct AfterFiles {
    files: LoadedFiles,
    pub input: Input,
    pub agreed: Agreed,
}

impl AfterFiles {
    /// Reads a job that was accepted, for a paper of the time after the work.
    pub fn read(path: &Path, paper: Paper, records: &Records, cache: &Cache) -> Result<Self> {
        let job = read_alone(path)?;
        let Some(accepted) = &job.accepted else {
            let name = paper.name();
            let message = format!("the paper `{name}` is for a floor that was signed for");
            return Err(Error::new(Exit::Input, message).help(
                "add `[accepted]` to the job, with the revision, the floor and the day of the signature",
            ));
        };
        if paper == Paper::Handover && job.handover.is_none() {
            let message = "a handover has a day, and this job has no `[handover]`";
            return Err(Error::new(Exit::Input, message).help(
                "add `[handover]` with the day on which you walk the floor together: `on = 2026-06-01`",
            ));
        }
        let agreement = Agreement::read(path, &job, accepted, records)?;
        let (mut files, mut input, shared) = agreement.load_files(path, cache)?;
        as_agreed(&mut input, paper, &agreement.agreed, &shared);
        files.bytes.push(agreement.as_file()?);
        Ok(Self { files, input, agreed: agreement.agreed })
    }

    /// The same with everything that a paper is made of.
    pub fn load(self, cache: &Cache) -> Result<(LoadedJob, Agreed)> {
        Ok((LoadedJob::of(self.files, self.input, cache)?, self.agreed))
    }
}

/// The agreement that a recorded paper was made from; the job gets floor, additions and day as that paper had them.
pub fn agreed_of_record(
    stored: &StoredRecord,
    paper: Paper,
    input: &mut Input,
    cache: &Cache,
) -> Result<Agreed> {
    let agreed = agreed_of(stored)?;
    let shared = cache.shared_files_of_record(&stored.folder.join(INPUTS))?;
    as_agreed(input, paper, &agreed, &shared);
    Ok(agreed)
}

/// Gives a job floor and additions as they were agreed, the book of the accepted paper's day, and the date of the
/// paper.
fn as_agreed(input: &mut Input, paper: Paper, agreed: &Agreed, shared: &SharedFiles) {
    if let Some(book) = shared.book_on(agreed.date.0) {
        input.book = book;
    }
    let day = match paper {
        Paper::Handover => handover_day(&input.job),
        _ => last_day(&input.job),
    };
    input.job = with_orders(&input.job, false);
    input.job.accepted = Some(agreed.as_accepted(&input.job.span));
    input.job.date = day;
    // Times count from the day on which the work began, where it is known.
    input.job.plan.start = first_coat(&input.job).or(input.job.plan.start);
}
