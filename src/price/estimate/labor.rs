//! Work on a floor: tasks in order, each with one person's hours, from the book's rates, and the
//! crew's time. A coat takes the time that its batches take.

use crate::base::names::Key;
use crate::base::quantity::*;
use crate::model::book::{Rates, Resin};
use crate::model::system::{Broadcast, GritHow, Lay};
use crate::price::batches::Batches;
use crate::price::floor::{CoatStuff, Floor};
use crate::price::repair::{self, Repair};
use crate::site::take_off::TakeOff;

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
    /// The crew's time for it.
    pub takes: Hours,
    /// The coat whose times start when this task ends.
    pub lays: Option<&'a Resin>,
    /// Time for which a filler has to set before it is coated.
    pub sets: Option<Hours>,
}

/// Surface that the grinder meets first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Substrate {
    Concrete,
    /// Something that lay there before the shop came.
    OldCoating,
    /// A whole floor that came loose.
    FailedFloor,
    /// A floor that only gets a new last coat.
    SoundFloor,
}

/// The crew at work, with the batches of each liquid coat.
#[derive(Debug, Clone, Copy)]
pub struct WorkCrew<'a> {
    pub persons: u32,
    pub batches: &'a [(Key, Batches)],
}

/// The tasks between the first set-up and the last clean-up.
pub fn work<'a>(
    floor: &Floor<'a>,
    take_off: &TakeOff,
    rates: &Rates,
    repairs: &[Repair<'_>],
    under: Substrate,
    crew: WorkCrew<'_>,
) -> Vec<Work<'a>> {
    let (first, rate) = match under {
        Substrate::Concrete => (Task::Grind, rates.grind),
        Substrate::OldCoating => (Task::Strip, rates.grind_coated),
        Substrate::FailedFloor => (Task::Strip, rates.strip),
        // Sanding, the lightest grinding.
        Substrate::SoundFloor => (Task::Grind, rates.sand.unwrap_or(rates.grind)),
    };
    let each = 1.0 / f64::from(crew.persons.max(1));
    let plain =
        |task, hours: Hours| Work { task, hours, takes: hours * each, lays: None, sets: None };
    let mut work = vec![
        plain(first, take_off.floor.worked_at(rate)),
        plain(Task::Edge, take_off.edge.worked_at(rates.edge)),
    ];
    let mending = repair::hours(repairs);
    if mending > Hours::ZERO {
        work.push(Work { sets: repair::sets(repairs), ..plain(Task::Repair, mending) });
    }
    let mut flake_to_scrape = false;
    for (at, coat) in floor.coats.iter().enumerate() {
        match coat.stuff {
            CoatStuff::Resin(resin) => {
                if flake_to_scrape {
                    let hours = take_off.coated().worked_at(rates.scrape);
                    work.push(plain(Task::Scrape, hours));
                    flake_to_scrape = false;
                }
                let key = &coat.spec.key;
                let laying =
                    laying(take_off, rates, coat.spec.lay) + throwing(floor, at, take_off, rates);
                let mixed = crew.batches.iter().find(|(of, _)| of == key);
                let (mixing, takes) = mixed.map_or((Hours::ZERO, laying * each), |(_, batches)| {
                    (batches.mixing, batches.takes)
                });
                let task = plain(Task::Coat(key.clone()), laying + mixing);
                work.push(Work { lays: Some(resin), takes, ..task });
            }
            CoatStuff::Flake(_, how) => flake_to_scrape = how == Broadcast::Full,
            CoatStuff::Grit(..) => {}
        }
    }
    work
}

/// One person's work of throwing flake and grit into a coat while it is wet; none where neither
/// follows. Grit that is stirred in goes with the mixing.
pub fn throwing(floor: &Floor<'_>, coat: usize, take_off: &TakeOff, rates: &Rates) -> Hours {
    let above = floor.coats.iter().skip(coat + 1);
    let solids = above.take_while(|coat| coat.resin().is_none());
    let thrown = solids.filter(|coat| !matches!(coat.stuff, CoatStuff::Grit(_, GritHow::Mixed)));
    take_off.coated().worked_at(rates.broadcast) * thrown.count() as f64
}

/// One person's work of laying one coat as it is laid, what is thrown into it aside. Upright faces are
/// coated by hand in any case.
pub fn laying(take_off: &TakeOff, rates: &Rates, how: Lay) -> Hours {
    // `read::link` refuses a floor whose way of laying has no rate.
    let flat = match how {
        Lay::Rolled => rates.roll,
        Lay::Poured => rates.pour.unwrap_or(rates.roll),
        Lay::Troweled => rates.trowel.unwrap_or(rates.roll),
    };
    take_off.floor.worked_at(flat) + take_off.upright.worked_at(rates.upright)
}
