//! The floor that papers of one floor are for.

use slableaf::base::names::Key;
use slableaf::judge::Judged;
use slableaf::price::case::FloorOption;
use slableaf::read::suggest::nearest;
use slableaf::site::standing::Settles;

use crate::shell::store::JudgedJob;
use crate::shell::terminal::{Error, Exit, Result};

/// The floor that was asked for, the accepted one, or the recommended one; never one that has a stop.
pub fn chosen_floor<'j, 'a>(
    judged: &'j JudgedJob<'a>,
    wanted: Option<&str>,
) -> Result<&'j FloorOption<'a>> {
    match judged {
        JudgedJob::One(judged) => floor_of(judged, wanted),
        JudgedJob::Spaces(..) => {
            let message = "this paper is of one floor, and the job has several spaces";
            Err(Error::new(Exit::Line, message).help("`slableaf prepare` writes the papers of all"))
        }
    }
}

/// The floor of one space: the one that was asked for, the accepted one, or the recommended one.
pub fn floor_of<'j, 'a>(
    judged: &'j Judged<'a>,
    wanted: Option<&str>,
) -> Result<&'j FloorOption<'a>> {
    let refused = |message| Error::new(Exit::Stop, message).help("`slableaf check` says why");
    let options = &judged.case.options;
    let accepted = judged.case.job.accepted.as_ref();
    let wanted = wanted.or(accepted.map(|accepted| accepted.floor.0.as_str()));
    let key = match (wanted, &judged.recommendation.floor) {
        (Some(wanted), _) => Key(wanted.to_owned()),
        (None, Some(first)) => first.clone(),
        (None, None) => {
            return Err(refused("no floor is offered for this job yet".to_owned()));
        }
    };
    let Some(option) = options.iter().find(|option| *option.key() == key) else {
        let known = || options.iter().map(|option| option.key().0.as_str());
        let message = format!("the job offers no floor `{}`", key.0.escape_debug());
        return Err(Error::new(Exit::Line, message).help(match nearest(&key.0, known()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("offered: {}", known().collect::<Vec<_>>().join(", ")),
        }));
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
