//! A job that was accepted is never revised: what was signed is printed again, to the byte.

use std::path::{Path, PathBuf};

use slableaf::model::job::Accepted;
use slableaf::read;

use crate::shell::Exit;
use crate::shell::args::Paper;
use crate::shell::files::{self, Kept as Copy};
use crate::shell::records::{Kept, Records};
use crate::shell::revise::copied;
use crate::shell::terminal;

/// An accepted job, as far as its own file tells.
pub struct Signed {
    pub number: String,
    pub accepted: Accepted,
}

/// What a job file says of its acceptance. Book, shop and layouts are not asked: they may say what
/// they like today. A file with mistakes is reported by whoever reads all of it.
pub fn signed(job: &Path) -> Result<Option<Signed>, Exit> {
    let (file, _) = files::read_text(job)?;
    let Ok(job) = read::read_job(&file).alone() else { return Ok(None) };
    Ok(job.accepted.map(|accepted| Signed { number: job.number.0, accepted }))
}

impl Signed {
    /// The record of what was signed.
    pub fn record(&self, records: &Records) -> Result<Kept, Exit> {
        let Accepted { revision, floor, on } = &self.accepted;
        let advice = "set `[accepted]` in the job to what was signed, or bring the record back";
        let name = format!("{}-{}-r{revision}", self.number, Paper::Proposal.name());
        if !records.folder().join(&name).exists() {
            terminal::error(&format!(
                "revision {revision} was accepted, and there is no record of it: {}",
                records.folder().join(&name).display()
            ));
            terminal::help(advice);
            return Err(Exit::Files);
        }
        let kept = records.revision(Paper::Proposal.name(), *revision)?;
        let refused = |why: String| {
            terminal::error(&format!("revision {revision} cannot have been accepted: {why}"));
            terminal::help(advice);
            Exit::Input
        };
        if kept.record.facts.floor(&floor.0).is_none() {
            return Err(refused(format!("it does not offer `{floor}`")));
        }
        if *on < kept.record.date.0 {
            let date = kept.record.date.0;
            return Err(refused(format!("it is of {date}, and `on` is {on}")));
        }
        Ok(kept)
    }

    /// Puts out what was signed, and says so.
    pub fn put_out(&self, records: &Records, out: &Path) -> Result<(Kept, PathBuf, Vec<u8>), Exit> {
        let kept = self.record(records)?;
        let (path, pdf, copy) = copied(&kept, out)?;
        let Accepted { revision, floor, on } = &self.accepted;
        match copy {
            Copy::Exists => {
                terminal::say(&format!("accepted: {} stays as it was signed", path.display()))
            }
            Copy::Written => {
                terminal::say(&format!("wrote {} again, as it was signed", path.display()))
            }
        }
        terminal::say(&format!(
            "  revision {revision}, {floor}, accepted on {on}; an accepted job is not revised"
        ));
        Ok((kept, path, pdf))
    }
}
