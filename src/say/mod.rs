//! Words and figures: the only place where a number becomes text.

pub mod figures;
pub mod words;
pub mod template;
pub mod overlay;
pub mod acts;
pub mod explain;
