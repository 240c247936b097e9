//! Knowledge of a site: take-off, moisture, air. Nothing here costs anything.

pub mod take_off;
pub mod method;
pub mod moisture;
pub mod standing;
pub mod dew_point;

use crate::model::job::Job;
use crate::model::shop::Testing;
use dew_point::AirState;
use moisture::MoistureResult;
use take_off::TakeOff;

/// The facts of a site that everything later rests on.
#[derive(Debug, Clone)]
pub struct Site {
    pub take_off: TakeOff,
    pub moisture: MoistureResult,
    /// `None`: not measured, so not known.
    pub air: Option<AirState>,
}

/// Works out the site's facts from what was written down.
pub fn site(job: &Job, testing: &Testing) -> Site {
    let take_off = take_off::take_off(&job.shapes);
    Site {
        take_off,
        moisture: moisture::result(job, take_off.floor, testing),
        air: job.air.as_ref().map(dew_point::air_state),
    }
}
