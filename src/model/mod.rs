//! The contents of a job's files, as types.

pub mod voc;
pub mod system;
pub mod book;
pub mod shop;
pub mod rules;
pub mod bid;
pub mod choices;
pub mod accepted;
pub mod customer;
pub mod space;
pub mod photo;
pub mod handover;
pub mod failure;
pub mod worked;
pub mod job;
pub mod orders;
pub mod laid;
