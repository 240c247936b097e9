//! Hours that were really worked.

use crate::model::worked::{Done, Worked};
use crate::read::keys::worked::worked;
use crate::read::reader::Table;

/// Reads every `[[worked]]`. Whether its amount fits its task is told by who learns from it.
pub fn worked(top: &Table<'_>) -> Vec<Worked> {
    top.each(&worked::TABLE, |table| {
        let task = table.read(worked::TASK)?;
        let area = table.read(worked::AREA).map(Done::Area);
        let length = table.read(worked::LENGTH).map(Done::Length);
        let done = if task.is_along() { length.or(area) } else { area.or(length) };
        Some(Worked { task, hours: table.read(worked::HOURS)?, done })
    })
}
