//! The pages of a job of several spaces: page one and the price are of the whole, slab, comparison and
//! findings of each space, from the same writers as those of a job of one space.

mod accept;
mod glance;
mod joined;
mod plan;

use crate::base::lists::each_once;
use crate::base::money::Cents;
use crate::judge::spaces::JudgedSpaces;
use crate::model::job::Job;
use crate::papers::proposal::page::{Page, SpacePart};
use crate::papers::proposal::plan::{included_here, price_table};
use crate::papers::proposal::writer::Writer;
use crate::papers::proposal::{Issue, compare, layers, promise, slab};
use crate::papers::proposal::{frame, labels, terms};
use crate::price::case::FloorOption;
use crate::say::words::{Words, WordsError};

/// Everything that the pages of a job of several spaces are written from.
pub struct Spaces<'a> {
    /// The whole job.
    pub job: &'a Job,
    pub judged: &'a JudgedSpaces<'a>,
    /// A writer for each space.
    pub writers: Vec<Writer<'a>>,
}

impl<'a> Spaces<'a> {
    pub fn new(job: &'a Job, judged: &'a JudgedSpaces<'a>, words: &'a Words) -> Self {
        let writer = |one: &'a crate::judge::Judged<'a>| {
            Writer::new(&one.case, &one.findings, &one.recommendation, words)
        };
        Self { job, judged, writers: judged.spaces.iter().map(writer).collect() }
    }

    /// The writer for what is said of the whole: a job has one space at the least.
    pub fn w(&self) -> &Writer<'a> {
        &self.writers[0]
    }

    /// Every space's name with its writer.
    pub fn named(&self) -> impl Iterator<Item = (&'a str, &Writer<'a>)> {
        let names = self.job.spaces.iter().map(|space| space.place.name.as_str());
        names.zip(&self.writers)
    }

    /// The floor that comes first in each space that has one.
    pub fn first_floors(&self) -> Vec<(&'a str, &Writer<'a>, &'a FloorOption<'a>)> {
        self.named().filter_map(|(name, w)| Some((name, w, w.first()?))).collect()
    }

    /// What all of those cost, with items and discount.
    pub fn total(&self) -> Cents {
        self.judged.total()
    }

    /// What those cost that may be signed for today, with items and discount; zero where there are none.
    pub fn signable(&self) -> Cents {
        let floors = self.writers.iter().filter_map(Writer::recommended);
        let sum: Cents = floors.map(|floor| floor.quote.total).sum();
        match (&self.judged.price, sum > Cents::ZERO) {
            (Some(price), true) => sum.plus(price.beside()).max(Cents::ZERO),
            _ => Cents::ZERO,
        }
    }

    /// True where a floor that comes first waits for a test or for its maker's word.
    pub fn some_wait(&self) -> bool {
        self.first_floors().iter().any(|(_, w, floor)| w.recommendation.waits(floor.key()))
    }

    /// True where a floor may be signed for in some space.
    pub fn some_offered(&self) -> bool {
        self.writers.iter().any(|w| !w.offered().is_empty())
    }

    /// Returns what was written, if no sentence of any space had a fault.
    ///
    /// # Errors
    /// [`WordsError`] with the first fault.
    pub fn checked<T>(&self, written: T) -> Result<T, WordsError> {
        self.writers.iter().try_fold(written, |written, w| w.checked(written))
    }
}

/// Puts the proposal of a job of several spaces into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn page_of_spaces(s: &Spaces<'_>, issue: &Issue) -> Result<Page, WordsError> {
    let w = s.w();
    let title = w.say("space.title", [("customer", s.job.customer.name_on_paper().as_ref())]);
    let parts = parts(s, issue);
    let whole = plan::whole(s);
    let mut frame = frame(w, issue, title, labels(w));
    frame.head.valid_until =
        s.some_offered().then(|| w.say("head.valid", [("date", w.valid_until())]));
    let mut page = Page {
        frame,
        glance: glance::glance(s, issue),
        slab: slab::slab(w, issue),
        drying: None,
        details_intro: w.plain_if(whole.is_some(), "details.intro"),
        layers: None,
        compare: None,
        open_ways: None,
        claims: joined::claims(s),
        plan: None,
        safety: joined::safety(s),
        promise: s
            .first_floors()
            .first()
            .map_or_else(|| promise::promise(w), |(_, w, _)| promise::promise(w)),
        accept: accept::accept(s),
        sources: joined::sources(s),
        spaces: parts,
        whole,
        terms: vec![],
    };
    page.slab.notes.clone_from(&s.job.notes);
    page.terms = terms(w, &page);
    s.checked(page)
}

fn parts(s: &Spaces<'_>, issue: &Issue) -> Vec<SpacePart> {
    let mut drawn: Vec<String> = vec![];
    let mut compared: Vec<String> = vec![];
    s.named()
        .map(|(name, w)| {
            let title = |title: &str| w.say(title, [("space", name)]);
            let same_ways = w.first().is_some() && !is_new(w, &mut compared);
            let mut compare = w.first().map(|_| compare::compare(w));
            // What was shown of the same floors before is left out.
            if let Some(compare) = compare.as_mut().filter(|_| same_ways) {
                compare.records = None;
            }
            SpacePart {
                name: name.to_owned(),
                slab_title: title("space.slab_title"),
                compare_title: title("space.compare_title"),
                areas_title: title("space.areas_title"),
                findings_title: title("space.findings_title"),
                slab: slab::slab(w, issue),
                drying: slab::drying(w),
                layers: layers::layers(w).filter(|_| is_new(w, &mut drawn)),
                compare,
                same_ways,
                open_ways: w.first().is_none().then(|| compare::open_ways(w)),
                prices: w.priced().iter().map(|option| price_table(w, option)).collect(),
                included_here: included_here(w),
            }
        })
        .collect()
}

/// True where not all floors with a price were shown for a space before, which are then shown.
fn is_new(w: &Writer<'_>, shown: &mut Vec<String>) -> bool {
    let floors = w.priced().into_iter().map(|option| {
        let extras: Vec<&str> = option.floor.extras.iter().map(|extra| extra.0.as_str()).collect();
        format!("{} {}", option.key(), extras.join(" "))
    });
    let before = shown.len();
    shown.extend(floors);
    *shown = each_once(shown.drain(..));
    shown.len() > before
}
