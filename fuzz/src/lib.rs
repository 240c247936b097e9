//! What the fuzz targets share: what they do with an input, and how one input is made of another.

pub mod lines;
pub mod targets;
