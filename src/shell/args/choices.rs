//! The values that options take: words, pages, parts.

use clap::ValueEnum;
use jiff::civil::Date;
use slableaf::issued::Hash;
use slableaf::typeset::PaperKind;

/// Pages as they are asked for: `2`, `1-3`, `4-`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pages {
    pub first: usize,
    pub last: usize,
}

impl std::str::FromStr for Pages {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let (first, last) = text.split_once('-').unwrap_or((text, text));
        let number = |text: &str| text.trim().parse::<usize>().ok();
        let last = if last.trim().is_empty() { Some(usize::MAX) } else { number(last) };
        match (number(first), last) {
            (Some(first), Some(last)) if first > 0 && first <= last => Ok(Self { first, last }),
            _ => Err("write a page or a range of pages, for example `1` or `1-3`".into()),
        }
    }
}

/// A day as it is typed at a shell.
pub fn day(text: &str) -> Result<Date, String> {
    text.parse().map_err(|_| "write year, month and day, for example `2027-01-01`".to_owned())
}

/// A hash as `sha256sum` and `verify` print it.
pub fn hash(text: &str) -> Result<Hash, String> {
    let text = text.trim().to_ascii_lowercase();
    let is_hash = text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    let why = || "write the 64 letters and digits that `verify` printed".to_owned();
    is_hash.then_some(Hash(text)).ok_or_else(why)
}

/// One of several parts of a list of jobs, counted from one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    pub number: usize,
    pub of: usize,
}

impl std::str::FromStr for Part {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let number = |text: &str| text.trim().parse::<usize>().ok();
        let parts = text.split_once('/').and_then(|(k, n)| number(k).zip(number(n)));
        match parts {
            Some((number, of)) if (1..=of).contains(&number) => Ok(Self { number, of }),
            _ => Err("write a part and how many there are, for example `3/16`".into()),
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Paper {
    /// Everything, with prices, to be signed
    Proposal,
    /// One sheet that compares the floors on this slab, without prices
    Leaflet,
    /// One page that stays with the floor that was laid
    Care,
    /// What changes after the signature, with its price, to be signed
    ChangeOrder,
    /// Bids of other firms beside ours, from `[[bid]]` in the job
    Bids,
    /// What would change with another reading, slab, crew or price
    WhatIf,
    /// What each floor costs over the years: if the slab stays dry, turns damp, or the topcoat is renewed
    Years,
    /// What was laid and what is left to pay, to walk through and sign; needs `[handover]`
    Handover,
    /// What to look at where a floor failed, and what was on record
    FailureSheet,
}

impl Paper {
    /// The name as it stands in file names.
    pub fn name(self) -> &'static str {
        self.name_and_kind().0
    }

    pub fn kind(self) -> PaperKind {
        self.name_and_kind().1
    }

    fn name_and_kind(self) -> (&'static str, PaperKind) {
        match self {
            Self::Proposal => ("proposal", PaperKind::Proposal),
            Self::Leaflet => ("leaflet", PaperKind::Leaflet),
            Self::Care => ("care", PaperKind::CareSheet),
            Self::ChangeOrder => ("change-order", PaperKind::ChangeOrder),
            Self::Bids => ("bids", PaperKind::Bids),
            Self::WhatIf => ("what-if", PaperKind::WhatIf),
            Self::Years => ("years", PaperKind::Years),
            Self::Handover => ("handover", PaperKind::Handover),
            Self::FailureSheet => ("failure-sheet", PaperKind::FailureSheet),
        }
    }

    /// True for a paper of the time after the work: it is made from what was agreed, and by the files of the
    /// accepted paper.
    pub fn is_after_work(self) -> bool {
        matches!(self, Self::Handover | Self::FailureSheet)
    }

    /// Its edition to print.
    pub fn printed(self) -> PaperEdition {
        PaperEdition { paper: self, phone: false }
    }

    /// Its edition for a telephone; the care sheet has none, it hangs by the door.
    pub fn for_phone(self) -> Option<PaperEdition> {
        (self != Self::Care).then_some(PaperEdition { paper: self, phone: true })
    }
}

/// A paper as it is issued and recorded: to print, or on narrow pages for a telephone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PaperEdition {
    pub paper: Paper,
    pub phone: bool,
}

impl PaperEdition {
    /// Every edition that there is.
    pub fn all() -> impl Iterator<Item = Self> {
        let editions = |paper: Paper| [Some(paper.printed()), paper.for_phone()];
        Paper::value_variants().iter().copied().flat_map(editions).flatten()
    }

    /// The name as it stands in file names and records.
    pub fn name(self) -> String {
        format!("{}{}", self.paper.name(), if self.phone { "-phone" } else { "" })
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    Text,
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TableFormat {
    Table,
    Json,
    Csv,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ExplainFormat {
    Text,
    Json,
    /// A table, as in the documents
    Markdown,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Audience {
    Shop,
    Customer,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SchemaKind {
    /// The job file
    Job,
    /// The price book
    Book,
    /// The shop file
    Shop,
    /// The file of a floor system
    System,
    /// `estimate --format json`: the shop's own form, with costs
    Results,
    /// `estimate --format json --for customer`: what a customer may know
    ResultsCustomer,
    /// `check --format json`
    Findings,
    /// `reprice --format json`: for the shop only
    Reprice,
    /// `roll --format json`: for the shop only
    Roll,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SchemaFormat {
    /// The JSON Schema
    Json,
    /// The reference: every key with what it says, its units and an example
    Markdown,
    /// The keys by name, a row for each table, as in the documents
    List,
}

/// Offers that `reprice` writes anew beside those that are open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Requote {
    /// Offers whose last day has passed
    Expired,
}
