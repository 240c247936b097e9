//! Hours that were really worked.

use crate::model::worked::{Done, Worked};
use crate::read::keys::worked::worked;
use crate::read::reader::Table;

/// Reads every `[[worked]]`. Whether its amount fits its task is told by who learns from it.
pub fn worked(top: &Table<'_>) -> Vec<Worked> {
    top.each(&worked::TABLE, |table| {
        let (area, length) = (table.read(worked::AREA), table.read(worked::LENGTH));
        let done = area.map(Done::Area).or_else(|| length.map(Done::Length));
        Some(Worked { task: table.read(worked::TASK)?, hours: table.read(worked::HOURS)?, done })
    })
}
