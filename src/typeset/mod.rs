//! From a page to the bytes of a PDF, through Typst in a sealed world.

pub mod picture;
pub mod picture_cache;
mod complete;
mod font_file;
pub mod fonts;
pub mod images;
mod overflow;
mod pdf;
mod parcel;
pub mod printable;
mod renderer;
mod world;

pub use font_file::{FontFault, FontFile};
pub use fonts::{FONT_FILES, Faces};
pub use parcel::{read_parcel, write_parcel};
pub use pdf::{Document, Failure, Manuscript, PagesWanted, PaperKind};
pub use renderer::{Prepared, Renderer, alone, is_alone};
