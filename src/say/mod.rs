//! Words and figures: how a figure of the papers becomes text.

pub mod figures;
pub mod terms;
pub mod words;
pub mod template;
pub mod overlay;
pub mod acts;
pub mod explain;
