//! The keys of hours that were really worked.

use crate::base::quantity::{Area, Hours, Length};
use crate::model::worked::WorkTask;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;

keys! {
    worked = listed("worked", "Hours that a task really took, for your own rates: `slableaf book learn`.") => {
        TASK: WorkTask = need("task", "The task, by the name of its rate in the price book.").like("grind");
        HOURS: Hours =
            need("hours", "Hours of one person: two people for three hours make six.").above_zero()
                .advice("write the hours of one person, or take the table out")
                .like("6 h");
        AREA: Area =
            may("area", "How much was done; without it, all that the job has of it.").above_zero()
                .advice("write the area that was worked on, or leave it out for all of it")
                .like("503 sq ft");
        LENGTH: Length =
            may("length", "The same for work along a line: edges, cracks, joints, coves.").above_zero()
                .advice("write the length that was worked on, or leave it out for all of it")
                .like("90 ft");
    }
}
