//! The handover of a floor that was laid: the day, what differs from the agreement, what is left to do.

use jiff::civil::Date;

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Handover {
    /// The day on which shop and customer walk the floor.
    pub on: Date,
    /// Work that differs from what was agreed, in words that the customer would use.
    pub differs: Vec<String>,
    /// Work that is left to do, and by when.
    pub left: Vec<String>,
}
