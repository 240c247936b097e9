//! slableaf: from what a visit to a garage found to paper that explains and prices a floor.
//!
//! The life of a proposal, in the order of the rooms below. A room names only rooms above it.
//! Nothing in the library touches a disk, a clock or an environment: that is the work of the
//! `shell`, which is part of the program.

#![forbid(unsafe_code)]
#![deny(clippy::disallowed_methods)]

/// Quantities, money, dates, names, places in files: the vocabulary of all rooms.
pub mod base;
/// The contents of a job's files as types: [`model::job::Job`], book, shop, floor systems.
pub mod model;
/// Results of the site's measurements: take-off, dew point, moisture and its proof.
pub mod site;
/// From the text of the files to the types of `model`, with every problem and its place.
pub mod read;
/// Quantities, cost and days of each floor: [`price::case::case`].
pub mod price;
/// Findings about risks, and the recommended floor: [`judge::judge`].
pub mod judge;
/// Words and figures of a language: how a figure of the papers becomes text.
pub mod say;
/// The record of an issued paper, and the changes between two.
pub mod issued;
/// Printed and sent papers as data for the layouts: [`papers::proposal::page`].
pub mod papers;
/// Prices before and after a change, and what caused the difference.
pub mod reprice;
/// Results for other programs: JSON and its schemas.
pub mod results;
/// The questions of `new`, and what the answers mean so far.
pub mod interview;
/// From page data to PDF.
pub mod typeset;
