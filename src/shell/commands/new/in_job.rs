//! Adds to a job that is there: the floor as it was laid.

use std::fs;
use std::path::Path;

use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::interview::InterviewKind;
use slableaf::interview::draft::behind;
use slableaf::model::job::Job;
use slableaf::read::read_job;

use crate::shell::commands::new::surroundings::Surroundings;
use crate::shell::store::{Lock, read_text, read_words, write_file};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Report, Result, shown};

/// The text of a job, and what it says by itself.
pub fn read_own(path: &Path) -> Result<(String, Job)> {
    let (file, _) = read_text(path)?;
    match read_job(&file).alone() {
        Ok(job) => Ok((file.text, job)),
        Err(problems) => Err(Error::problems(problems, vec![file])),
    }
}

/// Returns the number of coats that are still to be recorded.
///
/// # Errors
/// The job has mistakes, or nothing was accepted.
pub fn to_record(path: &Path) -> Result<usize> {
    let (_, job) = read_own(path)?;
    if job.accepted.is_none() {
        let message = format!("nothing was accepted in {}", shown(path));
        return Err(Error::new(Exit::Input, message).help(
            "a floor is laid once it was ordered: add `[accepted]` with `revision`, `floor` and `on`",
        ));
    }
    let words = read_words(&Layouts::default(), "en")?;
    let near = Surroundings::read(InterviewKind::Laid, path, path, &words)?;
    Ok(near.setting.to_record.coats.len())
}

/// Puts records behind the job as it is now. `asked` is the job with them behind `below`, the job as it was
/// when the questions began.
///
/// # Errors
/// The job cannot be written, or no longer loads with them.
pub fn add_records(path: &Path, below: &str, asked: &str, report: &mut Report) -> Result<()> {
    // A link stays one: the file that it leads to is the job.
    let real = fs::canonicalize(path).or_cannot("read", path)?;
    let _lock = Lock::beside(&real)?;
    let now = read_text(&real)?.0.text;
    let added = asked.strip_prefix(below).unwrap_or_default().trim_start();
    if added.is_empty() {
        report.say(format!("no coat was recorded; {} stays as it is", shown(path)));
        return Ok(());
    }
    let file = SourceFile { name: shown(path), text: behind(&now, added) };
    if let Err(problems) = read_job(&file).alone() {
        return Err(Error::problems(problems, vec![file]));
    }
    write_file(&real, file.text.as_bytes())?;
    report.say(format!("wrote {}, with the coats at its end", shown(path)));
    Ok(())
}
