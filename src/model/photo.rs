//! Photos of a job.

use crate::base::names::{JobPath, choices};
use crate::base::source::Located;

#[derive(Debug, Clone)]
pub struct Photo {
    pub file: Located<JobPath>,
    pub caption: String,
    /// The space that it shows, where the job has several.
    pub space: Option<String>,
    /// The part of the job in which it was taken: before the work where the job does not say.
    pub when: PhotoWhen,
}

choices! {
    /// The time of a photo.
    PhotoWhen {
        /// Before the work: it is for the proposal and the handover.
        Before = "before",
        /// After the work: it is for the handover alone.
        After = "after",
        /// Of a failure: it is for the failure sheet alone.
        Failure = "failure",
    }
}
