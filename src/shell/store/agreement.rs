//! The agreement on a job, from its records: the accepted paper and the signed orders after it.

use slableaf::issued::{Agreed, NotAgreed, agreed};
use slableaf::model::job::{Accepted, Job};

use crate::shell::args::Paper;
use crate::shell::store::{INPUTS, Records, StoredRecord, read_alone};
use crate::shell::terminal::{Error, Exit, Result};

/// The agreement on a job.
pub struct Agreement {
    pub agreed: Agreed,
    /// The paper that was accepted.
    pub accepted: StoredRecord,
    /// The last order that was signed.
    pub order: Option<StoredRecord>,
}

impl Agreement {
    /// Reads what was agreed on a job that was accepted.
    pub fn read(job: &Job, accepted: &Accepted, records: &Records) -> Result<Self> {
        let stored = accepted_record(accepted, records)?;
        let date = stored.record.date.0;
        let revision = accepted.revision;
        let mut agreed = agreed(&stored.record.facts, date, accepted).map_err(|why| {
            refused(
                Exit::Input,
                format!("revision {revision} cannot have been accepted: {why}"),
                &why,
            )
        })?;
        let mut order = None;
        let kind = Paper::ChangeOrder.name();
        for signed in job.signed_orders() {
            let number = signed.revision;
            let Some(stored) = records.find(kind, number)? else {
                let folder = records.folder().display();
                let message = format!(
                    "change order {number} was signed, and there is no record of it in {folder}"
                );
                return Err(Error::new(Exit::Files, message).help(
                    "set `[[order]]` in the job to what was signed, or bring the record back",
                ));
            };
            let Some(ordered) = &stored.record.facts.order else {
                let message = format!("{} is no change order", stored.folder.display());
                return Err(Error::new(Exit::Files, message));
            };
            if ordered.agreed.orders != agreed.orders {
                let message =
                    format!("change order {number} does not follow what was signed before it");
                return Err(Error::new(Exit::Input, message).help(
                    "list every signed order under `[[order]]`, and write the last one anew if it was made before another was signed",
                ));
            }
            agreed = agreed.with(ordered, signed);
            order = Some(stored);
        }
        Ok(Self { agreed, accepted: stored, order })
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

/// The record of the paper that was accepted.
pub fn accepted_record(accepted: &Accepted, records: &Records) -> Result<StoredRecord> {
    let revision = accepted.revision;
    let kind = Paper::Proposal.name();
    match records.find(kind, revision)? {
        Some(stored) => Ok(stored),
        None => {
            let folder = records.record_folder(kind, revision);
            let message = format!(
                "revision {revision} was accepted, and there is no record of it: {}",
                folder.display()
            );
            Err(Error::new(Exit::Files, message).help(SET_RIGHT))
        }
    }
}

const SET_RIGHT: &str = "set `[accepted]` in the job to what was signed, or bring the record back";

fn refused(exit: Exit, message: String, why: &NotAgreed) -> Error {
    let error = Error::new(exit, message).help(SET_RIGHT);
    match why {
        NotAgreed::Addition(_) => {
            error.help("an addition can be ticked only where the paper names its price")
        }
        NotAgreed::Floor(_) | NotAgreed::TooEarly { .. } => error,
    }
}
