//! Issued papers: the record of a revision, the facts that it stated, and the changes between two.
//! (`record` is the shop's own record of floors that came loose.)

mod hash;
mod facts;
mod changes;
mod record;

pub use changes::{Change, Replaced, changes};
pub use facts::{Facts, Offered};
pub use hash::{Hash, RecordDate};
pub use record::{
    FORMAT, Followed, IssueRecord, IssuedPaper, Leaf, Options, RecordFault, chain_ends, sealed,
};
