//! How long the parts of the work take.
fn main() {}
