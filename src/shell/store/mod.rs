//! Files on disk: finding and reading those of a job, and keeping papers so that none is ever lost.

mod paths;
mod files;
pub mod parallel;
mod search;
mod today;
mod fonts;
mod apart;
mod layouts;
mod shared;
mod cache;
mod load;
mod prepared;
mod pictures;
mod job;
mod lock;
mod records;
mod figures;
mod floor;
mod unprintable;
mod papers;
mod order;
mod after;
mod since;
mod promise;
mod issue;
mod accepted;
mod agreement;
mod numbered;

pub use accepted::{Signed, read_acceptance};
pub use after::{AfterFiles, agreed_of_record};
pub use agreement::{Agreement, accepted_record, agreed_of};
pub use apart::{APART, ApartSetters, serve};
pub use cache::Cache;
pub use figures::{english, in_english, signed_money};
pub use files::{
    Saved, missing_folders, open_plain, read_open, read_plain, read_text, refusal, sweep_abandoned,
    sweep_unfinished, sync_folder, text_of, toml_files, unfinished_file, unfinished_prefix,
    write_file, write_new_file,
};
pub use floor::{chosen_floor, floor_of, nothing_offered, one_floor};
pub use fonts::{FONTS_FOLDER, FontBytes, parse_fonts, read_fonts};
pub use issue::{BUILT_IN, Issued, PROGRAM, put_out_copy};
pub use job::{INPUTS, JudgedJob, LoadedJob, judge_any, judge_for_work, read_for_shop, writer};
pub use layouts::{FileBytes, LAYOUTS_FOLDER, ShopLayouts, read_layouts, read_words};
pub use load::{LoadedFiles, load_files};
pub use lock::Lock;
pub use numbered::{keep_numbered, say_unchanged};
pub use order::{OrderBasis, OrderFiles, basis_of_record, read_alone, read_own, records_beside};
pub use papers::{
    JobPapers, PageAndDocument, input_of_record, job_of_record, make_again, make_again_with,
    typeset,
};
pub use paths::{
    folder_of, inside, is_hidden, is_picture, is_same, leads_out, lies_in, own_folder,
    refuse_other_than_folder, without_climbs,
};
pub use pictures::{Originals, inspect_pictures};
pub use prepared::PreparedPhotos;
pub use promise::{guard_promises, names_prices, promises};
pub use records::{RECORD, Records, StoredRecord, Unread, highest, read_leaf};
pub use search::{
    FoundJobs, SYSTEMS, all_jobs, has_usual_name, meant_job, nearest, no_job, single_job,
    unsearched,
};
pub use shared::{SharedFiles, SharedTexts, load_book, understood};
pub use since::since_signed;
pub use today::{today, warn_of_age};
pub use unprintable::Unprinted;
