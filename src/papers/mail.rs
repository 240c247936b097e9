//! The mail that a proposal goes with: its main points as text and as HTML, and the draft file that a
//! mail program opens unsent.
//!
//! It says what page one of the proposal says, so that it can be read alone. Like [`Page`], it has no
//! field for a cost, a margin or an hour.

mod eml;
mod text;

use minijinja::{Value, context};

use crate::base::layouts::Layouts;
use crate::papers::proposal::page::{Fact, HangsRow, Page};
use crate::papers::proposal::writer::Writer;
use crate::say::template::fill_html;
use crate::say::words::WordsError;

pub use eml::{DraftFault, draft};

/// The layout of the HTML part.
const LAYOUT: &str = "mail.html";

/// The proposal that goes with the mail.
#[derive(Debug, Clone, Copy)]
pub struct Enclosed<'a> {
    /// Its file name, plain ASCII: a job number and words of ours.
    pub name: &'a str,
    pub pages: usize,
    pub revision: u32,
    pub pdf: &'a [u8],
}

/// A mail in words.
#[derive(Debug, Clone)]
pub struct Letter<'p> {
    /// The proposal that it goes with, whose page one it says.
    pub page: &'p Page,
    pub subject: String,
    pub greeting: String,
    pub opening: String,
    /// Each answer of page one in a line, for the text.
    fact_lines: Vec<String>,
    /// The floors that are offered beside the recommended one, in a sentence; may be empty.
    pub others: String,
    pub parts: Vec<LetterPart>,
    pub closing: String,
}

/// A part of a mail under its own heading.
#[derive(Debug, Clone)]
pub struct LetterPart {
    pub head: String,
    /// Stands before the points; may be empty.
    pub lead: String,
    pub points: Vec<String>,
    pub paragraphs: Vec<String>,
}

/// Puts the mail for a proposal into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn letter<'p>(
    w: &Writer<'_>,
    page: &'p Page,
    enclosed: &Enclosed<'_>,
) -> Result<Letter<'p>, WordsError> {
    let (job, shop) = (w.case.job, w.case.shop);
    let line = |fact: &Fact| {
        let both = [("label", fact.label.as_str()), ("value", fact.value.as_str())];
        w.say("mail.fact", both)
    };
    w.checked(Letter {
        page,
        subject: w
            .say("mail.subject", [("number", job.number.0.as_str()), ("shop", shop.name.as_str())]),
        greeting: w.say("mail.greeting", [("customer", job.customer.name.as_str())]),
        opening: w.plain("mail.opening"),
        fact_lines: page.glance.answers.iter().map(line).collect(),
        others: others(w),
        parts: parts(w, page, enclosed),
        closing: w.plain("mail.closing"),
    })
}

fn others(w: &Writer<'_>) -> String {
    let others = w.priced().into_iter().map(|option| option.key().clone());
    let others: Vec<_> = others.filter(|key| !w.recommendation.puts_first(key)).collect();
    if w.first().is_none() || others.is_empty() {
        return String::new();
    }
    w.say("mail.others", [("others", w.names(&others))])
}

fn parts(w: &Writer<'_>, page: &Page, enclosed: &Enclosed<'_>) -> Vec<LetterPart> {
    let glance = &page.glance;
    let mut hurt = glance.hurt.clone();
    // While nothing is laid nobody has to keep out.
    if !glance.not_yet {
        hurt.extend(page.safety.always.iter().cloned());
    }
    let pages = context! { file => enclosed.name, pages => enclosed.pages };
    let next = if !page.accept.open {
        w.plain(if glance.not_yet { "mail.not_yet" } else { "mail.ask_first" })
    } else if page.accept.options.is_empty() {
        w.plain("mail.test_first")
    } else {
        let accept = w.words.labels.pointer("/accept/title");
        let title = accept.and_then(serde_json::Value::as_str).unwrap_or_default();
        w.say("mail.go_ahead", [("page", title)])
    };
    let phone = w.case.shop.phone.clone().unwrap_or_default();
    let answer = w.say("mail.answer", [("phone", phone)]);
    let part = |head: &str, points: Vec<String>, paragraphs: Vec<String>| {
        let head = w.plain(head);
        LetterPart { head, lead: String::new(), points, paragraphs }
    };
    let waits = glance.hangs.as_ref().map(|hangs| {
        let lines = hangs.rows.iter().cloned().map(|HangsRow { name, price, only_if }| {
            let facts = [("name", name), ("price", price), ("only_if", only_if)];
            w.say("hangs.priced_line", facts)
        });
        let after = [&hangs.otherwise, &hangs.order].into_iter().filter(|text| !text.is_empty());
        LetterPart {
            lead: hangs.says.clone(),
            ..part("mail.heads.hangs", lines.collect(), after.cloned().collect())
        }
    });
    let caution = glance.caution.iter().flat_map(|caution| {
        let parts = [&caution.says, &caution.we, &caution.you];
        parts.into_iter().filter(|text| !text.is_empty()).cloned()
    });
    let mut parts = vec![part(
        "mail.heads.first",
        glance.next.iter().map(|step| format!("{} {}", step.who, step.says)).collect(),
        vec![],
    )];
    parts.extend(waits);
    parts.extend([
        part("mail.heads.caution", caution.collect(), vec![]),
        part("mail.heads.start", glance.start.clone(), vec![]),
        part("mail.heads.hurt", hurt, vec![page.safety.defer.clone()]),
        part("mail.heads.unknown", glance.unknown.clone(), vec![]),
        part("mail.heads.pdf", vec![], vec![w.say_with("mail.pdf", pages)]),
        part("mail.heads.answer", vec![], vec![next, answer]),
    ]);
    parts.retain(|part| !part.points.is_empty() || !part.paragraphs.is_empty());
    parts
}

impl Letter<'_> {
    /// The mail as plain text that is complete in itself. Lines end in CRLF.
    pub fn text(&self) -> String {
        text::text(self)
    }

    /// The mail as one HTML file that needs no other.
    ///
    /// # Errors
    /// [`WordsError`] when the layout cannot be used.
    pub fn html(&self, layouts: &Layouts) -> Result<String, WordsError> {
        let missing = || WordsError::new(LAYOUT, "there is no such file");
        let layout = layouts.text(LAYOUT).ok_or_else(missing)?;
        fill_html(layout, &self.values(), LAYOUT)
    }

    fn values(&self) -> Value {
        let letter = self.clone();
        let Page { frame, glance, .. } = letter.page.clone();
        let facts = glance.answers.into_iter().map(|fact| {
            let Fact { label, value, note } = fact;
            context! { label, value, note }
        });
        let parts = letter.parts.into_iter().map(|part| {
            let LetterPart { head, lead, points, paragraphs } = part;
            context! { head, lead, points, paragraphs }
        });
        context! {
            language => frame.language,
            accent => frame.accent,
            subject => letter.subject,
            demo => frame.head.demo,
            greeting => letter.greeting,
            opening => letter.opening,
            headline => glance.headline,
            reason => glance.reason,
            facts => facts.collect::<Vec<_>>(),
            others => letter.others,
            parts => parts.collect::<Vec<_>>(),
            closing => letter.closing,
            shop => frame.head.shop,
            shop_lines => frame.head.shop_lines,
        }
    }

    /// The text with what stands around it, for whoever writes the mail by hand.
    ///
    /// # Errors
    /// [`WordsError`] when a sentence uses a value that it is not given.
    pub fn by_hand(&self, w: &Writer<'_>, enclosed: &Enclosed<'_>) -> Result<String, WordsError> {
        let address = w.case.job.customer.email.iter();
        let to = address.map(|to| w.say("mail.by_hand.to", [("address", to.0.as_str())]));
        let subject = w.say("mail.by_hand.subject", [("subject", self.subject.as_str())]);
        let attach = w.say("mail.by_hand.attach", [("file", enclosed.name)]);
        let lines: Vec<String> = to.chain([subject, attach]).collect();
        w.checked(format!("{}\r\n\r\n\r\n{}", lines.join("\r\n"), self.text()))
    }
}
