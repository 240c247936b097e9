//! The page: what was worked out, put into words and figures for the homeowner.
//!
//! [`page::Page`] is the only type that the typesetter sees. It is made from the case, the
//! findings and the recommendation; no cost, margin or hour of work has a field to be in.

pub mod page;
pub mod writer;
pub mod findings;
mod context;
mod glance;
mod readings;
mod reason;
mod hangs;
mod moisture_bar;
mod next;
mod replaces;
mod floor_plan;
mod slab;
mod charts;
mod layers;
mod local;
mod chances;
mod chosen;
mod compare;
mod claims;
mod plan;
mod safety;
mod promise;
mod look;
mod accept;
mod sources;
mod spaces;

pub use accept::{back, signatures};
pub use chances::own_records;
pub use charts::share;
pub use compare::{first_questions, life_words, readings_until, test_way};
pub use floor_plan::floor_plan;
pub use glance::{
    dangers, first_steps, grave_dangers, reason_not_offered, start_conditions, unknowns,
};
pub use hangs::{hangs, only_if};
pub use layers::picture;
pub use look::{LookChoice, look, look_chosen};
pub use moisture_bar::{BarsOn, moisture_bars};
pub use plan::times_note;
pub use readings::Written;
pub use safety::{air_facts, solvent_coats};
pub use slab::{moisture_notes, photos_of, poured};
pub use sources::reading_grade;
pub use spaces::{Spaces, page_of_spaces};

use crate::base::names::choices;
use crate::issued::Replaced;
use crate::model::job::{Job, PaperSize, Print};
use crate::papers::contrast;
use crate::say::terms::Term;
use crate::say::words::WordsError;
use page::{Frame, Head, Page, Picture};
use serde::Serialize;
use writer::Writer;

choices! {
    /// The form of the pages: it decides what has room side by side.
    PageForm {
        Usual = "usual",
        /// Type half as large again, in one column.
        Large = "large",
        /// Narrow pages, in one column.
        Phone = "phone",
    }
}

/// Values known only when the paper is issued: its revision, and its pictures.
#[derive(Debug, Clone, Default)]
pub struct Issue {
    /// From 1; `None` for a draft.
    pub revision: Option<u32>,
    /// The revision before it; only a proposal says so.
    pub replaces: Option<Replaced>,
    pub has_logo: bool,
    /// True for the edition on narrow pages.
    pub phone: bool,
    /// Number of the job's photos, in their order; each stands at [`photo_path`].
    pub photos: usize,
}

impl Issue {
    /// The form of the pages of a customer's paper.
    pub fn form(&self, job: &Job) -> PageForm {
        match (self.phone, job.print) {
            (true, _) => PageForm::Phone,
            (false, Print::Large) => PageForm::Large,
            (false, Print::Usual) => PageForm::Usual,
        }
    }
}

/// Path of the logo for the typesetter.
pub const LOGO_PATH: &str = "/logo.png";

/// Returns the path of a photo for the typesetter, counted from 0.
pub fn photo_path(at: usize) -> String {
    format!("/photos/{}.jpg", at + 1)
}

/// Puts a proposal into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn page(w: &Writer<'_>, issue: &Issue) -> Result<Page, WordsError> {
    let context = w.context();
    let title = w.say("head.title", [("customer", w.case.job.customer.name_on_paper().as_ref())]);
    let plan = plan::plan(w);
    let mut page = Page {
        frame: frame(w, issue, title, labels(w)),
        glance: glance::glance(w, issue),
        slab: slab::slab(w, issue),
        drying: slab::drying(w),
        details_intro: w.plain_if(w.first().is_some(), "details.intro"),
        layers: layers::layers(w),
        compare: w.first().map(|_| compare::compare(w)),
        open_ways: w.first().is_none().then(|| compare::open_ways(w)),
        claims: claims::claims(w, &context),
        accept: accept::accept(w, &context, plan.as_ref()),
        plan,
        safety: safety::safety(w),
        promise: promise::promise(w),
        sources: sources::sources(w, &context),
        spaces: vec![],
        whole: None,
        terms: vec![],
    };
    page.terms = terms(w, &page);
    w.checked(page)
}

/// Returns the words of the trade that a paper uses and does not explain where they first stand.
pub fn terms<P: Serialize>(w: &Writer<'_>, paper: &P) -> Vec<Term> {
    // Texts in their order, each a line of its own.
    let text = serde_json::to_string(paper).unwrap_or_default().replace('"', "\n");
    w.words.terms.unexplained_in(&text).into_iter().cloned().collect()
}

/// The frame of a document about a job.
pub fn frame(w: &Writer<'_>, issue: &Issue, title: String, labels: serde_json::Value) -> Frame {
    let (job, shop) = (w.case.job, w.case.shop);
    Frame {
        paper: match job.paper {
            PaperSize::Letter => "us-letter",
            PaperSize::A4 => "a4",
        },
        edition: issue.form(job).word(),
        language: w.words.language.clone(),
        region: w.words.figures.region.clone(),
        title,
        author: shop.name.clone(),
        draft: issue.revision.is_none(),
        accent: contrast::hex(contrast::readable_on_white(shop.accent)),
        labels,
        head: head(w, issue),
    }
}

/// The fixed words; where no tax is added, no column says "with tax".
pub fn labels(w: &Writer<'_>) -> serde_json::Value {
    let mut labels = w.words.labels.clone();
    if w.case.options.iter().all(|option| option.quote.tax.0 == 0) {
        let plain = w.plain("glance.price_no_tax");
        for head in ["/glance/columns/price", "/accept/price", "/spaces/price"] {
            if let Some(word) = labels.pointer_mut(head) {
                *word = plain.clone().into();
            }
        }
    }
    labels
}

fn head(w: &Writer<'_>, issue: &Issue) -> Head {
    let (job, shop) = (w.case.job, w.case.shop);
    let mut shop_lines = shop.address.clone();
    shop_lines.extend([&shop.phone, &shop.email, &shop.license].into_iter().flatten().cloned());
    Head {
        shop: shop.name.clone(),
        shop_lines,
        logo: issue.has_logo.then(|| Picture {
            path: LOGO_PATH.to_owned(),
            alt: shop.name.clone(),
            caption: String::new(),
        }),
        customer: job.customer.name_on_paper().into_owned(),
        site_lines: job.customer.address.clone(),
        job: job.number.0.clone(),
        revision: match issue.revision {
            Some(number) => w.say("head.revision", [("number", number)]),
            None => w.plain("head.draft"),
        },
        date: w.figures.date_long(job.date),
        valid_until: (!w.offered().is_empty())
            .then(|| w.say("head.valid", [("date", w.valid_until())])),
        demo: match (job.invented, w.case.book.invented) {
            (true, _) => Some(w.plain("head.demo")),
            (false, true) => Some(w.plain("head.demo_prices")),
            (false, false) => None,
        },
    }
}
