//! Files on disk: finding and reading those of a job, and keeping papers so that none is ever lost.
//!
//! A file names only files before it.

pub mod paths;
pub mod files;
pub mod parallel;
pub mod search;
pub mod today;
pub mod layouts;
pub mod shared;
pub mod cache;
pub mod load;
pub mod pictures;
pub mod job;
pub mod lock;
pub mod records;
pub mod floor;
pub mod papers;
pub mod issue;
pub mod accepted;
pub mod numbered;
