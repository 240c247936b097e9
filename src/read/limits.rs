//! The largest sizes that the program accepts. They are far above any garage and far below what could
//! exhaust a machine; a value past one is a slip of the pen or an attack. The most of each quantity
//! stands with its units in `measure`, of money in `crate::base::money`, of what one key means with
//! its reader.

/// Bytes in one input file: a job, a book, a shop file, a system, a layout, a file of words.
pub const FILE_BYTES: usize = 1_048_576;
/// Bytes in one line of a job, a book, a shop file or a system.
pub const LINE: usize = 20_000;
/// Tables and lists within each other in one file; the TOML parser keeps it.
pub const NESTING: usize = 80;
/// Entries in one list of a file (areas, tests, products, lines), and names in one table of names.
pub const LIST: usize = 200;
/// Characters in a short text (a name, a place, a caption).
pub const SHORT_TEXT: usize = 500;
/// Characters in a long text (a note, a warranty paragraph).
pub const LONG_TEXT: usize = 4_000;
/// Marks that stand on one letter: Unicode UTS 39, section 5.4 ("more than 4 nonspacing marks").
pub const MARKS: usize = 4;
/// Characters in a short name that other files refer to.
pub const KEY: usize = 60;
/// Characters in a job's number, which becomes part of file names.
pub const NUMBER: usize = 40;
/// Floors in one proposal: what a comparison table can hold.
pub const OPTIONS: usize = 5;
/// Spaces of one job: what its first page can hold.
pub const SPACES: usize = 6;
/// Coats of one floor.
pub const COATS: usize = 8;
/// Sizes that one product is sold in: the choice among kits tries every mix.
pub const KIT_SIZES: usize = 6;
/// Days of work on one floor; more is a slip in a rate or a size.
pub const DAYS: u32 = 366;
/// Photos in one job.
pub const PHOTOS: usize = 12;
/// Additions that a customer may tick: what a leaf holds that is signed.
pub const ADDITIONS: usize = 7;
/// Bids that a table of them holds beside ours.
pub const BIDS: usize = 3;
/// Items of a job: what a table of its price holds.
pub const ITEMS: usize = 8;
/// Lines of a handover on what differs, and on what is left to do: a list that is read and signed.
pub const HANDOVER_LINES: usize = 7;
/// Failures of one job: what a sheet of them holds.
pub const FAILURES: usize = 8;
/// Bytes in one photo, and in a logo.
pub const PHOTO_BYTES: u64 = 15_000_000;
/// Pixels in one photo, and in a logo.
pub const PHOTO_PIXELS: u64 = 40_000_000;
/// Pages in one document; more is a mistake in the job or an attack.
pub const PAGES: usize = 80;
/// Pages of the edition for a telephone, of which four hold about what a sheet holds.
pub const PHONE_PAGES: usize = 4 * PAGES;
/// Bytes in one mail, with what is attached: what mail services usually take (common practice, no
/// published source).
pub const MAIL_BYTES: usize = 25_000_000;
/// Files of systems in the folder beside a book.
pub const SYSTEM_FILES: usize = 50;
/// Files in a shop's folder `fonts`.
pub const FONT_FILES: usize = 20;
/// Bytes in one font file: a face for all of East Asia has about 20 million.
pub const FONT_BYTES: u64 = 40_000_000;
/// Bytes in all files of a shop's folder `fonts`: they are held while papers are made.
pub const FONTS_BYTES: usize = 120_000_000;
/// Files in a shop's folder `layouts`.
pub const LAYOUT_FILES: usize = 200;
/// Folders within each other in a shop's folder `layouts`: `words/en` is the deepest.
pub const LAYOUT_DEPTH: usize = 3;
/// Instructions that one template of a file of words may run.
pub const FUEL: u64 = 200_000;
/// Bytes of text that one template may give.
pub const FILLED_BYTES: usize = 4_194_304;
/// Jobs in one run, found in folders or named in a list.
pub const JOBS: usize = 200_000;
/// Folders within each other that are searched for jobs.
pub const FOLDER_DEPTH: usize = 32;
/// Bytes in one line of a list of jobs: the longest path of most systems.
pub const PATH_BYTES: usize = 4_096;
/// Revisions of one paper; more is a mistake in a loop.
pub const REVISIONS: u32 = 999;
/// Records that are verified in one run.
pub const RECORDS: usize = 200_000;
/// Files in one record.
pub const RECORD_FILES: usize = 500;
/// Bytes in one file of a record, and in a paper that is there already.
pub const RECORD_BYTES: u64 = 60_000_000;
/// Problems that are printed in one run: a screenful or two. Nobody reads more.
pub const PROBLEMS: usize = 60;
/// Characters of one message on a terminal; the rest is left out.
pub const MESSAGE: usize = 600;
