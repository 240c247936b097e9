//! The vocabulary of all other rooms: quantities, money, dates, names, places in files.

pub mod quantity;
pub mod money;
pub mod figure;
pub mod names;
pub mod lines;
pub mod lists;
pub mod address;
pub mod source;
pub mod calendar;
pub mod business_days;
pub mod spreadsheet;
pub mod bug;
pub mod layouts;
