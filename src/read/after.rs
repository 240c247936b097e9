//! The time after the work: the handover, and failures that were seen.

use jiff::civil::Date;

use crate::model::failure::{Behind, BreakAt, Failure};
use crate::model::handover::Handover;
use crate::model::job::Accepted;
use crate::model::space::Space;
use crate::read::job::{no_twice, without_none};
use crate::read::keys::after::{failure, handover};
use crate::read::keys::spec::TypedKey;
use crate::read::limits;
use crate::read::reader::Table;
use crate::read::scalar::LongText;
use crate::read::spaces;

/// Reads `[handover]`, which follows a signature.
pub fn handover(top: &Table<'_>, accepted: Option<&Accepted>) -> Option<Handover> {
    let table = top.table(&handover::TABLE)?;
    let on = follows_signature(&table, top, handover::ON, accepted);
    Some(Handover {
        on: on?,
        differs: lines(&table, handover::DIFFERS),
        left: lines(&table, handover::LEFT),
    })
}

/// Reads a list of sentences that is no longer than a leaf holds.
fn lines(table: &Table<'_>, key: TypedKey<Vec<LongText>>) -> Vec<String> {
    let (name, lines) = (key.spec.name, table.paragraphs(key));
    if lines.len() > limits::HANDOVER_LINES {
        let most = format!("the most accepted is {}", limits::HANDOVER_LINES);
        table.fault(name, format!("has {} sentences", lines.len()), most);
    }
    no_twice(table, name, &lines);
    lines
}

/// Reads every `[[failure]]`; a coat is held against its floor once the systems are known.
pub fn failures(top: &Table<'_>, accepted: Option<&Accepted>, spaces: &[Space]) -> Vec<Failure> {
    top.each(&failure::TABLE, |t| failure(t, top, accepted, spaces))
}

fn failure(
    table: &Table<'_>,
    top: &Table<'_>,
    accepted: Option<&Accepted>,
    known: &[Space],
) -> Option<Failure> {
    let seen = follows_signature(table, top, failure::SEEN, accepted);
    spaces::in_one_space(table, failure::SPACE, known);
    let (breaks, coat) = (table.read(failure::BREAK), table.located(failure::COAT));
    if let (Some(breaks), Some(_)) = (breaks, &coat)
        && !matches!(breaks, BreakAt::BetweenCoats | BreakAt::InCoat)
    {
        let message = format!("stands beside `break = \"{}\"`, which is in no coat", breaks.word());
        let help = "leave it out, or write `break = \"between-coats\"` or `break = \"in-coat\"`";
        table.fault("coat", message, help);
    }
    let behind = table.has("behind").then(|| without_none(table, failure::BEHIND, Behind::Nothing));
    let places = table.list(failure::PLACES);
    no_twice(table, "places", &places);
    Some(Failure {
        seen: seen?,
        kind: table.read(failure::KIND)?,
        breaks,
        coat,
        space: table.read(failure::SPACE),
        area: table.read(failure::AREA),
        places,
        behind,
        liquid: table.read(failure::LIQUID),
        ph: table.read(failure::PH),
        from_moisture: table.read(failure::FROM_MOISTURE),
        note: table.read(failure::NOTE).map(|text| text.0),
        span: table.span(),
    })
}

/// Reads the day of something that comes after a signature.
fn follows_signature(
    table: &Table<'_>,
    top: &Table<'_>,
    key: TypedKey<Date>,
    accepted: Option<&Accepted>,
) -> Option<Date> {
    let day = table.read(key)?;
    match accepted {
        Some(accepted) if day < accepted.on => {
            let message = format!("is before {}, when the floor was signed for", accepted.on);
            table.fault(key.spec.name, message, "check both days");
        }
        None if !top.has("accepted") => {
            let message = "this is of a floor that was laid, and the job has no `[accepted]`";
            let help = "add `[accepted]` with the revision, the floor and the day of the signature";
            table.report(&table.span(), message, help);
        }
        Some(_) | None => {}
    }
    Some(day)
}
