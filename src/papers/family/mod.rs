//! Small papers of the proposal's family, for the customer: the leaflet, handed out before anyone talks
//! money, the care sheet, which stays with the floor, and the sheet on which other bids are read. Like the proposal they have no
//! field for a cost, a margin or an hour of work.

mod bids;
mod care;
mod leaflet;
mod message;
mod what_if;
mod years;

pub use bids::{BidSheet, bid_sheet};
pub use care::{CareSheet, TimeSign, care_sheet, care_sheets, care_values, time_signs};
pub use leaflet::{Leaflet, leaflet, leaflets};
pub use message::{Message, main_hazards};
pub use what_if::{WhatIfSheet, what_if_sheet};
pub use years::{YearsSheet, years_sheet};
