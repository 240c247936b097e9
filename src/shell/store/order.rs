//! A change order on disk: the job as it is to be, held against what was agreed, both by book and shop file
//! of the accepted paper.
//!
//! Its record keeps all of that in its own `inputs`: the job, the accepted paper's book, systems and shop
//! file, and under `signed` the job that was agreed, with total, days and payments.

use std::path::Path;

use slableaf::base::source::SourceFile;
use slableaf::issued::{Agreed, ChangeOrder, change_order, order_date, with_orders};
use slableaf::model::job::Job;
use slableaf::read::{Input, read_job};

use crate::shell::store::{
    Agreement, Cache, FileBytes, INPUTS, JudgedJob, LoadedFiles, LoadedJob, Records, SharedFiles,
    StoredRecord, agreed_of, floor_of, folder_of, judge_for_work, own_folder, read_text,
    understood,
};
use crate::shell::terminal::Result;

/// What a change order is made from.
pub struct OrderBasis {
    /// The job as it was agreed.
    pub signed: Input,
    pub order: ChangeOrder,
}

/// The file below `inputs` of a change order that keeps the job as it was signed.
const SIGNED_JOB: &str = "signed/job.toml";

/// A job that was accepted, as it is to be and as it was agreed.
pub struct OrderFiles {
    pub files: LoadedFiles,
    pub input: Input,
    pub basis: OrderBasis,
}

impl OrderFiles {
    /// Reads a job and what was agreed on it. `None` for a job that nobody has accepted.
    pub fn read(path: &Path, records: &Records, cache: &Cache) -> Result<Option<Self>> {
        let job = read_alone(path)?;
        let Some(accepted) = &job.accepted else { return Ok(None) };
        let agreement = Agreement::read(path, &job, accepted, records)?;
        let (mut files, mut input, shared) = agreement.load_files(path, cache)?;
        let last = agreement.order.as_ref().unwrap_or(&agreement.accepted);
        let (source, bytes) = read_text(&last.folder.join(INPUTS).join("job.toml"))?;
        let basis = basis(&shared, &source, &agreement.agreed, &mut input)?;
        files.bytes.push(FileBytes { path: SIGNED_JOB.into(), bytes });
        files.bytes.push(agreement.as_file()?);
        Ok(Some(Self { files, input, basis }))
    }

    /// Refuses an order for a floor that may not be laid as things are; returns the judgment of the others.
    pub fn judge<'a>(input: &'a Input, spaces: &'a [Job]) -> Result<JudgedJob<'a>> {
        let judged = judge_for_work(input, spaces)?;
        for judged in judged.all() {
            if let Some(accepted) = &judged.case.job.accepted {
                floor_of(judged, Some(&accepted.floor.0))?;
            }
        }
        Ok(judged)
    }

    /// The same with everything that a paper is made of.
    pub fn load(self, cache: &Cache) -> Result<(LoadedJob, OrderBasis)> {
        Ok((LoadedJob::of(self.files, self.input, cache)?, self.basis))
    }
}

/// A job's own file, with what it says by itself.
pub fn read_own(path: &Path) -> Result<(SourceFile, Job)> {
    understood(read_text(path)?.0, |file| read_job(file).alone())
}

/// Returns the job that its own file states, without book or shop.
pub fn read_alone(path: &Path) -> Result<Job> {
    read_own(path).map(|(_, job)| job)
}

/// The records beside a job, to look at.
pub fn records_beside(path: &Path, job: &Job) -> Result<Records> {
    let folder = own_folder(&folder_of(path), None, "records", "--records")?;
    Ok(Records::to_read(folder, &job.number.0))
}

/// What the change order of a record was made from; the job gets floor and additions as its orders have them.
pub fn basis_of_record(
    stored: &StoredRecord,
    input: &mut Input,
    cache: &Cache,
) -> Result<OrderBasis> {
    let inputs = stored.folder.join(INPUTS);
    let shared = cache.shared_files_of_record(&inputs)?;
    let (source, _) = read_text(&inputs.join(SIGNED_JOB))?;
    basis(&shared, &source, &agreed_of(stored)?, input)
}

fn basis(
    shared: &SharedFiles,
    source: &SourceFile,
    agreed: &Agreed,
    input: &mut Input,
) -> Result<OrderBasis> {
    let mut signed = shared.join(source, read_job(source), None)?;
    signed.job.accepted = Some(agreed.as_accepted(&signed.job.span));
    signed.job.orders.clear();
    input.job = with_orders(&input.job, true);
    // Prices are those of the accepted paper's own day.
    if let Some(book) = shared.book_on(agreed.date.0) {
        input.book.clone_from(&book);
        signed.book = book;
    }
    input.job.date = order_date(&input.job);
    let order = change_order(&signed, input, agreed);
    Ok(OrderBasis { signed, order })
}
