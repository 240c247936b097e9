//! The most that the program accepts of anything, in one place. They are far above any garage and
//! far below what could exhaust a machine; a value past one is a slip of the pen or an attack. The
//! most of each quantity stands with its units in `measure`, of money in `crate::money`.

/// Characters in a short text (a name, a place, a caption).
pub const SHORT_TEXT: usize = 500;
/// Characters in a long text (a note, a warranty paragraph).
pub const LONG_TEXT: usize = 4_000;
/// Characters in a short name that other files refer to.
pub const KEY: usize = 60;
/// Characters in a job's number, which becomes part of file names.
pub const NUMBER: usize = 40;
/// Bytes in one input file.
pub const FILE_BYTES: usize = 1 << 20;
/// Entries in one list of a file (areas, tests, products, lines).
pub const LIST: usize = 200;
/// Options in one proposal: what a comparison table can hold.
pub const OPTIONS: usize = 5;
/// Coats of one floor.
pub const COATS: usize = 8;
/// Sizes that one product is sold in: the choice among kits tries every mix.
pub const KIT_SIZES: usize = 6;
/// Photos in one job.
pub const PHOTOS: usize = 12;
/// Bytes in one photo.
pub const PHOTO_BYTES: u64 = 15_000_000;
/// Pixels in one photo.
pub const PHOTO_PIXELS: u64 = 40_000_000;
/// Pages in one document; more is a mistake in the job or an attack.
pub const PAGES: usize = 40;
/// Revisions of one paper; more is a mistake in a loop.
pub const REVISIONS: u32 = 999;
