//! A job that was accepted is never revised: what was signed is printed again, to the byte.

use std::path::Path;

use slableaf::issued::{NotAgreed, agreed};
use slableaf::model::job::{Accepted, Edition};
use slableaf::read;

use crate::shell::args::Paper;
use crate::shell::store::{Issued, Records, Saved, StoredRecord, accepted_record, read_text};
use crate::shell::terminal::{Error, Exit, Report, Result};

/// An accepted job, as far as its own file tells.
pub struct Signed {
    pub number: String,
    pub accepted: Accepted,
    /// The job asks for an edition for a telephone.
    pub phone: bool,
}

/// The acceptance that a job file tells of. Book, shop and layouts are not asked: they may say what
/// they like today. A file with mistakes is reported by whoever reads all of it.
pub fn read_acceptance(job: &Path) -> Result<Option<Signed>> {
    let (file, _) = read_text(job)?;
    let Ok(job) = read::read_job(&file).alone() else { return Ok(None) };
    let phone = job.edition == Edition::Phone;
    Ok(job.accepted.map(|accepted| Signed { number: job.number.0, accepted, phone }))
}

impl Signed {
    /// The record of what was signed.
    fn record(&self, records: &Records) -> Result<StoredRecord> {
        let stored = accepted_record(&self.accepted, records)?;
        let date = stored.record.date.0;
        match agreed(&stored.record.facts, date, &self.accepted) {
            // A record of before additions were kept cannot tell what was ticked.
            Ok(_) | Err(NotAgreed::Addition(_)) => Ok(stored),
            Err(why) => {
                let revision = self.accepted.revision;
                let message = format!("revision {revision} cannot have been accepted: {why}");
                Err(Error::new(Exit::Input, message).help(
                    "set `[accepted]` in the job to what was signed, or bring the record back",
                ))
            }
        }
    }

    /// Puts out what was signed, and says so.
    pub fn put_out(&self, records: &Records, out: &Path, report: &mut Report) -> Result<Issued> {
        let (issued, copy) = Issued::put_out(self.record(records)?, out)?;
        let Accepted { revision, floor, on, .. } = &self.accepted;
        let shown = issued.path.display();
        report.say(match copy {
            Saved::Exists => format!("accepted: {shown} stays as it was signed"),
            Saved::Written => format!("wrote {shown} again, as it was signed"),
        });
        let floors = match self.accepted.floors.as_slice() {
            [] => floor.to_string(),
            floors => {
                let named = floors.iter().map(|(space, floor)| format!("{space}: {floor}"));
                named.collect::<Vec<_>>().join(", ")
            }
        };
        report.say(format!(
            "  revision {revision}, {floors}, accepted on {on}; an accepted job is not revised"
        ));
        Ok(issued)
    }

    /// Puts out the edition for a telephone of what was signed, if one was issued.
    pub fn put_out_for_phone(&self, records: &Records, out: &Path) -> Result<Option<Issued>> {
        let Some(edition) = Paper::Proposal.for_phone() else { return Ok(None) };
        let stored = records.find(&edition.name(), self.accepted.revision)?;
        stored.map(|stored| Ok(Issued::put_out(stored, out)?.0)).transpose()
    }
}
