//! Work on a floor: tasks in order, each with one person's hours, from the book's rates.

use crate::book::{Rates, Resin};
use crate::floor::{CoatStuff, Floor};
use crate::input::scalar::Key;
use crate::quantity::*;
use crate::site::take_off::TakeOff;
use crate::system::Broadcast;

#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Task {
    /// Cover, clear and set up; once a day on site.
    SetUp,
    Grind,
    Edge,
    Repair,
    /// A liquid coat, with its flake when one is thrown into it.
    Coat(Key),
    Scrape,
    /// Once a day on site.
    CleanUp,
}

impl Task {
    /// Work that may stop in the evening and go on in the morning. A coat may not.
    pub fn may_pause(&self) -> bool {
        matches!(self, Self::Grind | Self::Edge | Self::Repair)
    }
}

/// A task, its person-hours, and the coat it lays.
#[derive(Debug, Clone)]
pub struct Work<'a> {
    pub task: Task,
    pub hours: Hours,
    /// The coat whose times start when this task ends.
    pub lays: Option<&'a Resin>,
}

/// The tasks between the first set-up and the last clean-up.
pub fn work<'a>(
    floor: &Floor<'a>,
    take_off: &TakeOff,
    rates: &Rates,
    old_coating: bool,
) -> Vec<Work<'a>> {
    let grind = if old_coating { rates.grind_coated } else { rates.grind };
    let repair = (take_off.cracks + take_off.filled_joints).worked_at(rates.crack);
    let mut work = vec![
        Work { task: Task::Grind, hours: take_off.floor.worked_at(grind), lays: None },
        Work { task: Task::Edge, hours: take_off.edge.worked_at(rates.edge), lays: None },
    ];
    if repair > Hours::ZERO {
        work.push(Work { task: Task::Repair, hours: repair, lays: None });
    }
    let mut flake_to_scrape = false;
    for coat in &floor.coats {
        match coat.stuff {
            CoatStuff::Resin(resin) => {
                if flake_to_scrape {
                    let hours = take_off.coated().worked_at(rates.scrape);
                    work.push(Work { task: Task::Scrape, hours, lays: None });
                    flake_to_scrape = false;
                }
                let hours = take_off.floor.worked_at(rates.roll)
                    + take_off.upright.worked_at(rates.upright);
                let task = Task::Coat(coat.spec.key.clone());
                work.push(Work { task, hours, lays: Some(resin) });
            }
            CoatStuff::Flake(_, how) => {
                let hours = take_off.coated().worked_at(rates.broadcast);
                // Flake goes into the wet coat below it: the same task.
                if let Some(coat) = work.last_mut() {
                    coat.hours = coat.hours + hours;
                }
                flake_to_scrape = how == Broadcast::Full;
            }
        }
    }
    work
}
