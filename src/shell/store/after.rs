//! Papers of the time after the work on disk: the job as it was laid, with what was agreed, by book and shop file
//! of the accepted paper.
//!
//! A record keeps all of that in its own `inputs`, and the agreement under `signed`.

use std::path::Path;

use slableaf::issued::{Agreed, with_orders};
use slableaf::papers::after::{first_coat, handover_day, last_day};
use slableaf::read::Input;

use crate::shell::args::{JobFiles, NearFiles, Paper};
use crate::shell::store::{
    AGREED, Agreement, Cache, FileBytes, INPUTS, LoadedFiles, LoadedJob, Records, SharedFiles,
    StoredRecord, load_files, read_alone, read_text,
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
        let inputs = agreement.accepted.folder.join(INPUTS);
        let (book, shop) = (inputs.join("book.toml"), inputs.join("shop.toml"));
        let near = NearFiles { book: Some(book.clone()), shop: Some(shop.clone()) };
        let (mut files, mut input) = load_files(&JobFiles { job: path.to_owned(), near }, cache)?;
        let agreed = agreement.agreed;
        as_agreed(&mut input, paper, &agreed, &*cache.shared_files(&book, &shop)?);
        let text =
            toml::to_string(&agreed).map_err(|error| Error::new(Exit::Bug, error.to_string()))?;
        files.bytes.push(FileBytes { path: AGREED.into(), bytes: text.into_bytes() });
        Ok(Self { files, input, agreed })
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
    let inputs = stored.folder.join(INPUTS);
    let path = inputs.join(AGREED);
    let (agreed, _) = read_text(&path)?;
    let agreed: Agreed = toml::from_str(&agreed.text).map_err(|error| {
        let message = format!("{} cannot be read: {}", path.display(), error.message());
        Error::new(Exit::Files, message)
    })?;
    let shared =
        cache.shared_files_of_record(&inputs.join("book.toml"), &inputs.join("shop.toml"))?;
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
