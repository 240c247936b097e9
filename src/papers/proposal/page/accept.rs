//! The leaf that is signed, and the notices that go with it.

use serde::Serialize;

use crate::papers::proposal::look::LookChoice;
use crate::papers::proposal::page::{AmountLine, OptionLine, SignedSpace, TestOrder};

/// Acceptance, with boxes to mark and lines to sign.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Accept {
    /// False when nothing may be ordered: no leaf is printed.
    pub open: bool,
    pub intro: String,
    /// In place of `intro` and `back` on a telephone.
    pub on_phone: OnPhone,
    /// Interest of the shop in a signature.
    pub earns: String,
    /// Marks of the copies: `Your copy`, `Our copy`.
    pub copies: Vec<String>,
    /// The offered floors with a box to mark each.
    pub options: Vec<SignedFloor>,
    /// Items in the prices, and why something came off; may be empty.
    pub includes: String,
    /// The spaces, where the job has several: each with its own boxes, in place of `options`.
    pub spaces: Vec<SignedSpace>,
    /// Items, discount and the tax on them, and the price with the floors that we recommend; only with
    /// spaces.
    pub sum: Vec<AmountLine>,
    /// Payments of that price, and how they are of another; only with spaces.
    pub payments: Vec<AmountLine>,
    pub payments_note: String,
    /// The test that the waiting floors need, with a box of its own.
    pub test: Option<TestOrder>,
    /// Conditions of the floors that wait; empty when none waits.
    pub hangs: String,
    /// The customer's choices; the open ones are lines to write on.
    pub choices: Vec<LookChoice>,
    /// Extras that may be marked, for each offered floor that has any.
    pub extras: Vec<FloorExtras>,
    pub terms: Vec<String>,
    /// The day on which work starts, or that it is still open; empty where a test alone is ordered.
    pub start: String,
    /// Measurements that no coat would stand, and when the work starts all the same.
    pub conditions: Vec<String>,
    /// Ways to give the signed leaf back.
    pub back: String,
    /// Labels of the lines to sign: everybody who signs for the house, then the shop.
    pub signatures: Vec<String>,
    pub cancellation: Option<Cancellation>,
    /// Notices that the paper has to carry where the shop works; may be empty.
    pub notices: Vec<LocalNotice>,
}

/// The leaf on a telephone is for reading: it says that the paper to sign is the printed one.
#[derive(Debug, Clone, Default, Serialize)]
pub struct OnPhone {
    pub intro: String,
    /// Ways to give the signed leaf back, once the printed one is signed.
    pub back: String,
}

/// A floor that may be ordered, with its own payments.
#[derive(Debug, Clone, Serialize)]
pub struct SignedFloor {
    #[serde(flatten)]
    pub line: OptionLine,
    /// They sum exactly to the price.
    pub payments: Vec<AmountLine>,
}

/// The extras of one floor.
#[derive(Debug, Clone, Serialize)]
pub struct FloorExtras {
    pub floor: String,
    /// Each with what it would add to the total.
    pub lines: Vec<AmountLine>,
}

/// A statement of the place where the shop works, in its own words.
#[derive(Debug, Clone, Serialize)]
pub struct LocalNotice {
    pub title: String,
    pub text: Vec<String>,
    /// Source and date of the shop's reading.
    pub source: String,
}

/// The right-to-cancel notice, printed twice.
#[derive(Debug, Clone, Serialize)]
pub struct Cancellation {
    /// Stands by the signature in bold type of at least 10 points.
    pub statement: String,
    pub title: String,
    /// Paragraphs in the rule's own words, already filled in.
    pub paragraphs: Vec<String>,
    /// `Copy 1 of 2`, `Copy 2 of 2`.
    pub copies: Vec<String>,
    /// Labels of the lines for date and signature.
    pub lines: Vec<String>,
    /// State text from the shop; may be empty.
    pub state: Vec<String>,
}
