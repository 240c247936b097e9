//! What the files of a job say, as types.

pub mod voc;
pub mod system;
pub mod book;
pub mod shop;
pub mod rules;
pub mod job;
