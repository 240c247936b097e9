//! From a page to the bytes of a PDF, through Typst in a sealed world.

pub mod picture_cache;
mod complete;
pub mod fonts;
pub mod images;
mod overflow;
mod pdf;
mod renderer;
mod world;

pub use fonts::FONT_FILES;
pub use pdf::{Document, Failure, Manuscript, PagesWanted, PaperKind};
pub use renderer::{Renderer, alone, is_alone};
