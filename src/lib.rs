//! slableaf: from what a visit to a garage found to paper that explains and prices a floor.
//!
//! The life of a proposal, in the order of the modules: a job, a price book and a shop file are
//! read ([`input`]); the site's facts are worked out ([`site`]); each floor on offer is priced and
//! laid into days ([`estimate`], [`schedule`], [`options`]); checks judge it ([`checks`]); one is
//! recommended or none ([`recommend`]); the page is put into words ([`proposal`]) and typeset
//! ([`typeset`]). Nothing in the library touches a disk, a clock or an environment.

#![forbid(unsafe_code)]
#![deny(clippy::disallowed_methods)]

// Words that the rest is written in.
pub mod quantity;
pub mod money;
pub mod source;
pub mod voc;
pub mod layouts;
pub mod spreadsheet;
pub mod fault;
pub mod business_days;
pub mod calendar;
pub mod rules;

// Read: from text to what it means.
pub mod input;
pub mod book;
pub mod book_text;
pub mod job_text;
pub mod shop;
pub mod system;
pub mod job;

// Compute: facts of the site, then the floors.
pub mod site;
pub mod film;
pub mod kits;
pub mod cure;
pub mod floor;
pub mod repair;
pub mod schedule;
pub mod batches;
pub mod ventilation;
pub mod estimate;
pub mod options;
pub mod even_chance;
pub mod record;
pub mod sensitivity;

// Judge.
pub mod figures;
pub mod checks;
pub mod recommend;
pub mod judged;
pub mod reprice;

// Say: words and figures, then the page.
pub mod words;
pub mod acts;
pub mod overlay;
pub mod explain;
pub mod keys;
pub mod contrast;
pub mod issued;
pub mod proposal;
pub mod family;
pub mod mail;
pub mod prepare;
pub mod results;
pub mod interview;

// Print.
pub mod typeset;
