//! The most that the program accepts of anything, in one place. They are far above any garage and
//! far below what could exhaust a machine; a value past one is a slip of the pen or an attack.

/// Characters in a short text (a name, a place, a caption).
pub const SHORT_TEXT: usize = 500;
/// Characters in a long text (a note, a warranty paragraph).
pub const LONG_TEXT: usize = 4_000;
/// Bytes in one input file.
pub const FILE_BYTES: usize = 1 << 20;
/// Entries in one list of a file (areas, tests, products, lines).
pub const LIST: usize = 200;
/// Options in one proposal: what a comparison table can hold.
pub const OPTIONS: usize = 5;
/// Photos in one job.
pub const PHOTOS: usize = 12;
/// Bytes in one photo.
pub const PHOTO_BYTES: u64 = 15_000_000;
/// Pixels in one photo.
pub const PHOTO_PIXELS: u64 = 40_000_000;
/// Revisions of one paper; more is a mistake in a loop.
pub const REVISIONS: u32 = 999;
