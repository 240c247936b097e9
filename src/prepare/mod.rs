//! The papers of a floor that was chosen: what the crew does and when, what the shop buys, and the
//! days in calendars. All but the customer's days are for the shop alone.

mod buying;
mod coats;
mod controls;
mod days;
mod ics;
mod mends;
mod sheet;
mod watch;

pub use buying::{BuyingList, buying_csv, buying_list};
pub use days::{crew_days, customer_days};
pub use sheet::{CrewSheet, crew_sheet};
