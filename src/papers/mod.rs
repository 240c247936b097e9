//! Printed and sent papers: proposal, leaflet and care sheet, the crew's papers, the mail.

pub mod contrast;
pub mod proposal;
pub mod family;
pub mod prepare;
pub mod mail;
