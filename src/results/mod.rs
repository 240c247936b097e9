//! Results as JSON, for programs: typed, versioned, each form with a JSON Schema.
//!
//! A form is made of a [`Writer`](crate::papers::proposal::writer::Writer), as the pages are, and
//! computes no figure. Every field has its unit in its name, money is text with two decimals, and
//! what is not known is null, never a missing key. Words, quantities, money and keys serialize
//! themselves; a record of a room above is used as it is where its fields are those of the form.

mod values;
pub mod slab;
pub mod moisture;
pub mod standing;
pub mod recommendation;
pub mod findings;
pub mod laid;
pub mod floor;
pub mod work;
pub mod cost;
pub mod shop;
pub mod customer;
pub mod spaces;
mod decided;
pub mod facts;
pub mod reprice;
pub mod roll;
mod schema;

pub use schema::schema;
pub use values::{ClockMoment, Day};

/// Version of the shape of all results. Whoever adds, renames, removes or changes a field counts it
/// up: the schemas allow no field that they do not list.
pub const VERSION: u32 = 5;
