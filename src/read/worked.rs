//! Hours that were really worked.

use crate::model::worked::{Done, WorkTask, Worked};
use crate::read::keys::worked::worked;
use crate::read::reader::Table;

/// Reads every `[[worked]]`. `of_spaces` tells that the job has several spaces, so that no amount of the
/// whole is that of a task.
pub fn worked(top: &Table<'_>, of_spaces: bool) -> Vec<Worked> {
    top.each(&worked::TABLE, |table| {
        let task = table.read(worked::TASK)?;
        let hours = table.read(worked::HOURS);
        let (area, length) = (table.read(worked::AREA), table.read(worked::LENGTH));
        let (wanted, other) = if task.is_along() { ("length", "area") } else { ("area", "length") };
        if table.has(other) {
            let message = format!("stands beside `task = \"{}\"`", task.word());
            table.fault(other, message, format!("write `{wanted}`, which its rate is for"));
        }
        // The take-off of a job has no such sum.
        let unmeasured =
            matches!(task, WorkTask::Patch | WorkTask::Cove | WorkTask::Upright) || of_spaces;
        if unmeasured && !table.has(wanted) {
            let message = format!("has no `{wanted}` of it");
            table.fault(
                "task",
                message,
                format!("add `{wanted}`: how much was done in those hours"),
            );
        }
        let done = area.map(Done::Area).or_else(|| length.map(Done::Length));
        Some(Worked { task, hours: hours?, done })
    })
}
