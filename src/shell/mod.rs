//! The shell: arguments, files, terminal. All contact with the outside world is in here.
//!
//! A folder names only folders before it.

pub mod args;
pub mod terminal;
mod store;
pub mod commands;
