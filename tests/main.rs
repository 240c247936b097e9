//! One integration binary, so that the typesetting crates are linked once.

#![allow(clippy::disallowed_methods)]

mod chance;
mod fixture;
mod readers;
mod checker;

mod facts;
mod languages;
mod places;
mod laws;
mod claims;
mod messages;
mod explain;
mod findings;
mod blocks;
mod interview;
mod keys;
mod documents;
mod results;
mod layouts;
mod large_print;
mod names;
mod phone;
mod leaks;
mod systems;
mod solid_color;
mod similar;
mod terms;
mod short;
mod recommendation;
mod not_known;
mod slabs;
mod worked;
mod days;
mod hostile;
mod pages;
mod prepare;
mod hazards;
mod instruments;
mod mail;
mod family;
mod records;
mod orders;
mod kept;
mod renderer;
mod tidy;
mod sentences;
mod batch;
mod reprice;
mod reprice_laws;
mod readme;
mod guide;
mod help;
mod watching;
mod corpus;
