//! Printed and sent papers: proposal, leaflet and care sheet, the crew's papers, the mail, the change order, and
//! those of the time after the work and before the first visit.

pub mod contrast;
pub mod proposal;
pub mod usable;
pub mod family;
pub mod prepare;
pub mod mail;
pub mod change_order;
pub mod after;
pub mod visit_sheet;
