//! Two small papers of the proposal's family, for the customer: the leaflet, handed out before
//! anyone talks money, and the care sheet, which stays with the floor. Like the proposal they have no
//! field for a cost, a margin or an hour of work.

mod care;
mod leaflet;
mod message;

pub use care::{CareSheet, care_sheet};
pub use leaflet::{Leaflet, leaflet};
pub use message::main_hazards;
