//! Work on a floor: tasks in order, each with one person's hours, from the book's rates.

use crate::book::{Rates, Resin};
use crate::floor::{CoatStuff, Floor};
use crate::input::scalar::Key;
use crate::quantity::*;
use crate::repair::{self, Repair};
use crate::site::take_off::TakeOff;
use crate::system::Broadcast;

#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Task {
    /// Cover, clear and set up; once a day on site.
    SetUp,
    /// Grinding where an old coating comes off.
    Strip,
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
        matches!(self, Self::Strip | Self::Grind | Self::Edge | Self::Repair)
    }
}

/// A task, its person-hours, and the coat it lays.
#[derive(Debug, Clone)]
pub struct Work<'a> {
    pub task: Task,
    pub hours: Hours,
    /// The coat whose times start when this task ends.
    pub lays: Option<&'a Resin>,
    /// How long what was filled has to set before it is coated.
    pub sets: Option<Hours>,
}

/// The tasks between the first set-up and the last clean-up.
pub fn work<'a>(
    floor: &Floor<'a>,
    take_off: &TakeOff,
    rates: &Rates,
    repairs: &[Repair<'_>],
    old_coating: bool,
) -> Vec<Work<'a>> {
    let (first, rate) =
        if old_coating { (Task::Strip, rates.grind_coated) } else { (Task::Grind, rates.grind) };
    let plain = |task, hours| Work { task, hours, lays: None, sets: None };
    let mut work = vec![
        plain(first, take_off.floor.worked_at(rate)),
        plain(Task::Edge, take_off.edge.worked_at(rates.edge)),
    ];
    let mending = repair::hours(repairs);
    if mending > Hours::ZERO {
        work.push(Work { sets: repair::sets(repairs), ..plain(Task::Repair, mending) });
    }
    let mut flake_to_scrape = false;
    for coat in &floor.coats {
        match coat.stuff {
            CoatStuff::Resin(resin) => {
                if flake_to_scrape {
                    let hours = take_off.coated().worked_at(rates.scrape);
                    work.push(plain(Task::Scrape, hours));
                    flake_to_scrape = false;
                }
                let task = Task::Coat(coat.spec.key.clone());
                let hours = rolling(take_off, rates);
                work.push(Work { lays: Some(resin), ..plain(task, hours) });
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

/// One person's work of rolling and cutting in one coat, flake aside.
pub fn rolling(take_off: &TakeOff, rates: &Rates) -> Hours {
    take_off.floor.worked_at(rates.roll) + take_off.upright.worked_at(rates.upright)
}
