//! The floor that papers of one floor are for.

use slableaf::base::names::Key;
use slableaf::judge::Judged;
use slableaf::price::case::FloorOption;
use slableaf::read::suggest::instead;
use slableaf::site::standing::Settles;

use crate::shell::store::JudgedJob;
use crate::shell::terminal::{Error, Exit, Result};

/// The floor that was asked for, the accepted one, or the recommended one; never one that has a stop.
/// `None` for a job of several spaces, whose floors are those that were accepted or are recommended.
pub fn chosen_floor<'j, 'a>(
    judged: &'j JudgedJob<'a>,
    wanted: Option<&str>,
) -> Result<Option<&'j FloorOption<'a>>> {
    match (judged, wanted) {
        (JudgedJob::One(judged), _) => floor_of(judged, wanted).map(Some),
        (JudgedJob::Spaces(..), None) => Ok(None),
        (JudgedJob::Spaces(..), Some(_)) => Err(one_floor()),
    }
}

/// The error of a job that offers no floor.
pub fn nothing_offered() -> Error {
    refused("no floor is offered for this job yet".to_owned())
}

fn refused(message: String) -> Error {
    Error::new(Exit::Stop, message).help("`slableaf check` says why")
}

/// Refuses to take one floor for all spaces of a job.
pub fn one_floor() -> Error {
    Error::new(Exit::Line, "`--floor` is for a job of one space")
        .help("write the floors that were signed under `[accepted]`, as `floors`")
}

/// The floor of one space: the one that was asked for, the accepted one, or the recommended one.
pub fn floor_of<'j, 'a>(
    judged: &'j Judged<'a>,
    wanted: Option<&str>,
) -> Result<&'j FloorOption<'a>> {
    let options = &judged.case.options;
    let accepted = judged.case.job.accepted.as_ref();
    let wanted = wanted.or(accepted.map(|accepted| accepted.floor.0.as_str()));
    let key = match (wanted, &judged.recommendation.floor) {
        (Some(wanted), _) => Key(wanted.to_owned()),
        (None, Some(first)) => first.clone(),
        (None, None) => return Err(nothing_offered()),
    };
    let Some(option) = options.iter().find(|option| *option.key() == key) else {
        let known: Vec<&str> = options.iter().map(|option| option.key().0.as_str()).collect();
        let all = || format!("offered: {}", known.join(", "));
        let message = format!("the job offers no floor `{}`", key.0.escape_debug());
        return Err(Error::new(Exit::Line, message).help(instead(
            &key.0,
            known.iter().copied(),
            all,
        )));
    };
    if judged.recommendation.offers(&key) {
        return Ok(option);
    }
    Err(refused(match judged.recommendation.state(&key).waits_for() {
        Some(Settles::Test) => {
            format!("`{key}` waits for a moisture test and must not be laid before it")
        }
        Some(Settles::Maker) => {
            format!("`{key}` waits for a word from its maker and must not be laid before it")
        }
        None => format!("`{key}` is not offered and cannot be laid as things are"),
    }))
}
