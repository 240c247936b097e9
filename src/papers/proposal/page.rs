//! The proposal as a layout sees it: words and already formatted figures, in reading order.
//!
//! This is the only type that reaches the typesetter. Every amount is text, every position in a
//! drawing is a share of the drawing's own width or height (0 to 1, from the left and from the
//! top). A layout places; it never computes. Nothing in here knows a cost, a margin or an hour.

mod accept;
mod compare;
mod offer;
mod slab;
mod spaces;

pub use accept::*;
pub use compare::*;
pub use offer::*;
pub use slab::*;
pub use spaces::*;

use serde::Serialize;

use crate::say::terms::Term;
use crate::say::words::Claims;

/// A whole proposal.
#[derive(Debug, Clone, Serialize)]
pub struct Page {
    #[serde(flatten)]
    pub frame: Frame,
    pub glance: Glance,
    pub slab: SlabPart,
    /// Present where the slab is too wet for every floor.
    pub drying: Option<Drying>,
    /// Sentence under the head of the details; empty without details.
    pub details_intro: String,
    /// Absent, like comparison, claims and plan, where no floor has a price.
    pub layers: Option<Layers>,
    pub compare: Option<Compare>,
    /// Only where no floor has a price.
    pub open_ways: Option<OpenWays>,
    pub claims: Option<Claims>,
    pub plan: Option<Plan>,
    pub safety: Safety,
    pub promise: Promise,
    pub accept: Accept,
    pub sources: Sources,
    /// The spaces of a job that has several: their parts stand in place of slab, layers, comparison, ways
    /// and plan above, which are then those of the first.
    pub spaces: Vec<SpacePart>,
    /// Price and days of all spaces together; only where there are several.
    pub whole: Option<WholePart>,
    /// Words of the trade that these pages use and do not explain where they first stand.
    pub terms: Vec<Term>,
}

/// The common part of every document: its paper, its language, the text above and below each page.
/// Every document is serialized as `/page.json` in the typesetter's sealed world.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Frame {
    /// `us-letter` or `a4`, as Typst names papers.
    pub paper: &'static str,
    /// `usual`, `large` (type half as large again, in one column) or `phone` (narrow pages, in one column).
    pub edition: &'static str,
    /// ISO 639 language of all words, such as `en`.
    pub language: String,
    /// ISO 3166 region, lower case, such as `us`.
    pub region: String,
    /// The document's title (PDF metadata).
    pub title: String,
    /// The shop's name (PDF author).
    pub author: String,
    /// True for a draft: a plain mark on every page.
    pub draft: bool,
    /// The shop's accent color as `#rrggbb`, already darkened until white text on it and it on
    /// white reach a contrast of 4.5 to 1 (WCAG AA).
    pub accent: String,
    /// Fixed words of the pages: headings, column heads, labels. Keys as in `words/*/labels.toml`.
    pub labels: serde_json::Value,
    pub head: Head,
}

/// The head of every page and of the letterhead.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Head {
    pub shop: String,
    /// Address, phone, mail, license: one line each.
    pub shop_lines: Vec<String>,
    pub logo: Option<Picture>,
    pub customer: String,
    pub site_lines: Vec<String>,
    /// The job's number, such as `2026-0142`.
    pub job: String,
    /// `Revision 1`, `Revision 2`, or `Draft`.
    pub revision: String,
    /// With its weekday.
    pub date: String,
    /// `Prices hold until 11 June 2026`; absent when there is no price to hold.
    pub valid_until: Option<String>,
    /// Present when the job says that its people are invented.
    pub demo: Option<String>,
}

/// A picture with its text alternative.
#[derive(Debug, Clone, Serialize)]
pub struct Picture {
    /// Virtual path such as `/photos/1.jpg`, `/logo.png`.
    pub path: String,
    pub alt: String,
    /// Empty for the logo.
    pub caption: String,
}

/// A labelled figure: `Highest reading` / `7.4 lb` / `per 1000 ft2 in 24 hours, north corner`.
#[derive(Debug, Clone, Serialize)]
pub struct Fact {
    pub label: String,
    pub value: String,
    pub note: String,
}

/// Part 1: the page that must work alone.
#[derive(Debug, Clone, Serialize)]
pub struct Glance {
    /// True when nothing may be offered and nothing waits: the page then says "not yet" and carries
    /// no price.
    pub not_yet: bool,
    /// Which revision this one replaces and what changed, in sentences; absent from a first one.
    pub replaces: Option<String>,
    /// `We recommend the vapor-barrier floor`, or `Not yet: the slab has to dry first`.
    pub headline: String,
    /// The one-sentence reason.
    pub reason: String,
    /// What the floor that comes first is, in plain words; empty when `not_yet`.
    pub floor_is: String,
    /// Price, days without the garage, usual life, warranty: three or four big facts. Empty when
    /// `not_yet`.
    pub answers: Vec<Fact>,
    /// The highest reading against the limits, for each method that was used.
    pub bars: Vec<MoistureBar>,
    /// What is known of the moisture where no picture tells it.
    pub moisture_notes: Vec<String>,
    /// The coats of the floor that comes first.
    pub picture: Option<Stack>,
    /// The options in one line each.
    pub options: Vec<OptionLine>,
    /// Unknowns, a sentence each.
    pub unknown: Vec<String>,
    /// Dangers to people, a sentence each (the longer text is in `safety`).
    pub hurt: Vec<String>,
    /// What comes next, in order: who does it, and by when.
    pub next: Vec<NextStep>,
    /// Conditions of the offer: a moisture test or a maker's word; absent when no floor waits.
    pub hangs: Option<Hangs>,
    /// The caution against the floor that comes first which matters most.
    pub caution: Option<Notice>,
    /// Measurements that no coat would stand, and when the work starts all the same; a sentence
    /// each.
    pub start: Vec<String>,
}

/// The highest reading of one method as a line over bars, one for each limit.
#[derive(Debug, Clone, Serialize)]
pub struct MoistureBar {
    /// `Your slab: 7.7 lb`.
    pub reading: String,
    pub at: f64,
    /// The highest limit first.
    pub limits: Vec<LimitBar>,
    /// What the picture means, then its unit and date.
    pub caption: String,
    pub alt: String,
}

/// A limit that some floors share.
#[derive(Debug, Clone, Serialize)]
pub struct LimitBar {
    /// `Vapor-barrier floor: 20 lb`.
    pub label: String,
    pub at: f64,
    /// True when the floor that comes first is among them.
    pub first: bool,
}

/// A step after the paper was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextStep {
    /// `You`, `We`.
    pub who: String,
    pub says: String,
}

/// The floors that wait, with their conditions and prices.
#[derive(Debug, Clone, Serialize)]
pub struct Hangs {
    pub says: String,
    /// The waiting floors, in the order of the offer.
    pub rows: Vec<HangsRow>,
    /// Consequence when the result allows none of them.
    pub otherwise: String,
    /// Way to order the test, and its price; empty when no test would settle it.
    pub order: String,
}

/// A waiting floor with its price and the result that would let it be laid.
#[derive(Debug, Clone, Serialize)]
pub struct HangsRow {
    pub name: String,
    pub price: String,
    /// `the slab reads at most 3 lb with dishes`.
    pub only_if: String,
}

/// A moisture test that the customer may order with a tick.
#[derive(Debug, Clone, Serialize)]
pub struct TestOrder {
    pub name: String,
    pub says: String,
    /// An amount, or `on request`.
    pub price: String,
}

/// Standing of a floor, in a word or two beside its name.
#[derive(Debug, Clone, Serialize)]
pub struct FloorMark {
    pub word: String,
    /// True for the one floor that is recommended.
    pub strong: bool,
}

/// One option in the glance table and on the acceptance page.
#[derive(Debug, Clone, Default, Serialize)]
pub struct OptionLine {
    pub name: String,
    /// Total with tax, or an empty string for a floor that is neither offered nor waits.
    pub price: String,
    pub days: String,
    pub car_back: String,
    /// `recommended`, `offered`, `waits for a test`, `not offered` in the document's language.
    pub standing: String,
    pub recommended: bool,
    pub offered: bool,
    /// True when it waits for a test or for its maker's word.
    pub waits: bool,
    /// True when it is close to its moisture limit.
    pub close: bool,
    /// Reason for which it is not offered, as a sentence; empty when it is.
    pub why_not: String,
}

/// A finding in plain words.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Notice {
    /// `stop`, `caution`, `note`.
    pub severity: &'static str,
    /// The severity in the document's language.
    pub word: String,
    pub title: String,
    pub says: String,
    /// The shop's part; may be empty.
    pub we: String,
    /// The homeowner's part; may be empty.
    pub you: String,
    /// Statement on whether the shop's part is in the price, in the document's language; empty when
    /// the shop does nothing.
    pub priced: String,
    /// Measured value, limit and source in one line; may be empty.
    pub basis: String,
    /// Names of the options it is about; empty when it is about the slab or the house.
    pub about: String,
}
