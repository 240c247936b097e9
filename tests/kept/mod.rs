//! Nothing is lost, whatever else runs, however odd the disk, the clock or a name is.

mod apart;
mod edits;
mod found;
mod modes;
mod odd;
