//! Papers of the time after the work: the handover, and the sheet for a floor that failed. Both say of the
//! work what was written down, and never what was planned in its place.

mod failure;
mod handover;
mod laid;

pub use failure::{FailureSheet, failure_sheet};
pub use handover::{Handover, handover};
pub use laid::{LaidFloor, first_coat, handover_day, laid_floors, last_day};
