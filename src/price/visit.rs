//! Spaces that are laid in one visit: what is bought, worked and charged for them together.
//!
//! A floor of one space is worked out beside the floors of the others: its products add to theirs before
//! kits are chosen, the crew comes once, and cost for each job, minimum and rounding are of the whole.

use crate::base::names::Key;
use crate::base::quantity::Temperature;
use crate::model::job::Job;
use crate::model::system::System;
use crate::price::floor::Floor;
use crate::site::Site;
use crate::site::take_off::TakeOff;

/// The floor that another space of the visit has.
#[derive(Debug, Clone)]
pub struct SpaceFloor<'a> {
    pub system: &'a System,
    pub extras: Vec<Key>,
    /// The space as a job of its own.
    pub job: &'a Job,
    pub take_off: TakeOff,
    pub slab: Option<Temperature>,
}

impl<'a> SpaceFloor<'a> {
    /// A system in a space, with the extras that the job includes.
    pub fn new(system: &'a System, job: &'a Job, site: &Site) -> Self {
        Self {
            system,
            extras: Floor::chosen_extras(job, &system.key),
            job,
            take_off: site.take_off,
            slab: site.air.map(|air| air.slab),
        }
    }
}

/// The floors of the other spaces, in the order in which they are laid.
#[derive(Debug, Clone, Default)]
pub struct OtherSpaces<'a> {
    pub before: Vec<SpaceFloor<'a>>,
    pub after: Vec<SpaceFloor<'a>>,
}

impl<'a> OtherSpaces<'a> {
    pub fn beside(&self) -> Beside<'_> {
        Beside { before: &self.before, after: &self.after }
    }
}

/// A look at the floors of the other spaces; none for a job of one space.
#[derive(Debug, Clone, Copy, Default)]
pub struct Beside<'a> {
    pub before: &'a [SpaceFloor<'a>],
    pub after: &'a [SpaceFloor<'a>],
}
