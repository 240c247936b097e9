//! slableaf: from what a visit to a garage found to paper that explains and prices a floor.
//!
//! The life of a proposal, in the order of the rooms below. A room names only rooms above it.
//! Nothing in the library touches a disk, a clock or an environment: that is the work of the
//! `shell`, which is part of the program.

#![forbid(unsafe_code)]
#![deny(clippy::disallowed_methods)]

/// What every room is written in: quantities, money, dates, names, places in files.
pub mod base;
/// What the files of a job say, as types: [`model::job::Job`], book, shop, floor systems.
pub mod model;
/// What the site's measurements say: take-off, dew point, moisture and how far it is proven.
pub mod site;
/// From the text of the files to the types of `model`, with every problem and its place.
pub mod read;
/// What each floor takes, costs and how long it lasts: [`price::case::case`].
pub mod price;
/// What could go wrong, and which floor is recommended: [`judge::judge`].
pub mod judge;
/// Words and figures of a language: the only place where a number becomes text.
pub mod say;
/// What a record of an issued paper holds, and what changed between two.
pub mod issued;
/// What is printed and sent, as data for the layouts: [`papers::proposal::page`].
pub mod papers;
/// Prices before and after a change, and what caused the difference.
pub mod reprice;
/// What other programs are given: the JSON results and their schemas.
pub mod results;
/// The questions of `new`, and what the answers mean so far.
pub mod interview;
/// From page data to PDF.
pub mod typeset;
