//! Adds to a job that is there: the floor as it was laid.

use std::fs;
use std::path::Path;

use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::interview::InterviewKind;
use slableaf::interview::draft::behind;
use slableaf::read::read_job;

use crate::shell::commands::new::surroundings::Surroundings;
use crate::shell::store::{Lock, read_alone, read_text, read_words, understood, write_file};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Report, Result, shown};

/// Returns the number of coats that are still to be recorded.
///
/// # Errors
/// The job has mistakes, or nothing was accepted.
pub fn to_record(path: &Path) -> Result<usize> {
    let job = read_alone(path)?;
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
    let added = asked.strip_prefix(below).unwrap_or_default().trim_start();
    let wrote = edit(path, |now| {
        let text = (!added.is_empty()).then(|| behind(&now, added));
        let file = text.map(|text| SourceFile { name: shown(path), text });
        file.map(|file| understood(file, |file| read_job(file).alone())).transpose()
    })?;
    report.say(if wrote {
        format!("wrote {}, with the coats at its end", shown(path))
    } else {
        format!("no coat was recorded; {} stays as it is", shown(path))
    });
    Ok(())
}

/// Writes a file anew under its lock, as a function of its text makes it; false where that leaves it as it is.
/// A link stays one: the file that it leads to is written.
pub fn edit<T>(
    path: &Path,
    make: impl FnOnce(String) -> Result<Option<(SourceFile, T)>>,
) -> Result<bool> {
    let real = fs::canonicalize(path).or_cannot("read", path)?;
    let _lock = Lock::beside(&real)?;
    let Some((file, _)) = make(read_text(&real)?.0.text)? else { return Ok(false) };
    write_file(&real, file.text.as_bytes())?;
    Ok(true)
}
