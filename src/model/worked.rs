//! Hours that were really worked on a job, task by task.

use crate::base::names::choices;
use crate::base::quantity::{Area, Hours, Length};

/// Work of one task on one job, in hours of one person.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worked {
    pub task: WorkTask,
    pub hours: Hours,
    /// The amount of it that was done; `None` for all that the job has of it.
    pub done: Option<Done>,
}

/// An amount of work, by area or along a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Done {
    Area(Area),
    Length(Length),
}

choices! {
    /// A task for which a price book has a rate of work, by the name of that rate.
    WorkTask {
        Grind = "grind",
        GrindCoated = "grind-coated",
        Strip = "strip",
        Sand = "sand",
        Edge = "edge",
        Crack = "crack",
        Joint = "joint",
        Cove = "cove",
        Patch = "patch",
        /// Rolling one coat, mixing aside.
        Roll = "roll",
        Pour = "pour",
        Trowel = "trowel",
        Upright = "upright",
        Broadcast = "broadcast",
        Scrape = "scrape",
    }
}

impl WorkTask {
    /// True for work that is measured along a line.
    pub fn is_along(self) -> bool {
        matches!(self, Self::Edge | Self::Crack | Self::Joint | Self::Cove)
    }
}
