//! Issued papers: the record of a revision, the facts that it stated, and the changes between two.
//! (`record` is the shop's own record of floors that came loose.)

mod hash;
mod facts;
mod agreed;
mod changes;
mod scope;
mod order;
pub mod roll;
mod promise;
mod record;

pub use agreed::{Agreed, NotAgreed, Ordered, agreed, still_to_pay, with_change};
pub use changes::{Change, Replaced, changes};
pub use facts::{AskedFor, Facts, Offered, OfferedAddition, Step};
pub use hash::{Hash, RecordDate};
pub use order::{ChangeOrder, change_order, order_date, priced, received, schedule, work_days};
pub use promise::{Breach, Broken, Promise, breaches, caps};
pub use record::{
    FORMAT, Followed, IssueRecord, IssuedPaper, Leaf, Options, RecordFault, chain_ends, sealed,
};
pub use scope::{Scope, differing_scope, with_orders, with_scope};
