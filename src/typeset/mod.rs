//! From a page to the bytes of a PDF, through Typst in a sealed world.

pub mod darkroom;
pub mod fonts;
pub mod images;
mod overflow;
mod pdf;
mod press;
mod world;

pub use fonts::font_files;
pub use pdf::{Document, Failure, Kind, Manuscript, PagesWanted};
pub use press::{Press, alone, is_alone};
