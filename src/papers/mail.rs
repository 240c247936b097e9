//! The mail that a proposal goes with: its main points as text and as HTML, and the draft file that a
//! mail program opens unsent. After a signature it goes with what was signed, and says that: `signed`; once the
//! floor is handed over, with the handover: `handover`.
//!
//! It says what page one of the proposal says, in the same order, so that it can be read alone. Like
//! [`Page`], it has no field for a cost, a margin or an hour.

mod eml;
mod handover;
mod links;
mod signed;
mod text;

use minijinja::{Value, context};

use crate::base::layouts::Layouts;
use crate::base::lists::each_once;
use crate::base::names::choices;
use crate::papers::family::main_hazards;
use crate::papers::mail::links::Line;
use crate::papers::proposal::page::{
    Fact, Frame, HangsRow, LimitBar, MoistureBar, OptionLine, Page,
};
use crate::papers::proposal::writer::{Writer, joined};
use crate::price::case::FloorOption;
use crate::say::template::fill_html;
use crate::say::words::WordsError;

pub use eml::{DraftFault, draft};
pub use handover::handover_letter;
pub use signed::{SignedState, signed_letter};

/// The layout of the HTML part.
const LAYOUT: &str = "mail.html";

/// The papers that go with the mail.
#[derive(Debug, Clone)]
pub struct Enclosed<'a> {
    /// The revision of the paper that the mail is of.
    pub revision: u32,
    /// The paper that the mail is of first.
    pub papers: Vec<Attached<'a>>,
}

impl<'a> Enclosed<'a> {
    /// The proposal alone.
    pub fn proposal(revision: u32, name: &'a str, pages: usize, pdf: &'a [u8]) -> Self {
        let proposal = Attached { edition: AttachedEdition::Paper, name, pages, pdf };
        Self { revision, papers: vec![proposal] }
    }
}

/// An attached paper.
#[derive(Debug, Clone, Copy)]
pub struct Attached<'a> {
    pub edition: AttachedEdition,
    /// Its file name, plain ASCII: a job number and words of ours.
    pub name: &'a str,
    pub pages: usize,
    pub pdf: &'a [u8],
}

/// The kind of an attached paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AttachedEdition {
    /// The proposal, to print and sign.
    Paper,
    /// The same, narrow, to read on a telephone.
    Phone,
    /// The proposal that was signed.
    Signed,
    /// A change order that was signed, by its revision.
    Order(u32),
    /// A change order that is still to be signed.
    OrderToSign(u32),
    /// The handover of the floor.
    Handover,
}

/// A mail in words.
#[derive(Debug, Clone, Default)]
pub struct Letter {
    /// The frame of the paper that it goes with.
    frame: Frame,
    pub subject: String,
    pub greeting: String,
    pub opening: String,
    /// The one message, then the reason for it.
    pub headline: String,
    pub reason: String,
    floor_is: String,
    /// The answers that follow from it, and each in a line, for the text.
    pub answers: Vec<Fact>,
    /// The highest reading against the limits, drawn in both texts.
    bars: Vec<MoistureBar>,
    fact_lines: Vec<String>,
    /// The days from the first one of work until one may park, in their order; empty where they are not known.
    pub days: Vec<GarageDay>,
    pub parts: Vec<LetterPart>,
    pub closing: String,
    /// Address, telephone and mail address of the shop.
    pub shop_lines: Vec<Line>,
}

/// A day of the garage while a floor is laid and hardens.
#[derive(Debug, Clone)]
pub struct GarageDay {
    pub date: String,
    pub state: GarageState,
    /// The state in words.
    pub says: String,
}

choices! {
    /// The use of the garage on a day.
    GarageState {
        /// The crew is in it.
        Work = "work",
        /// Nobody may park.
        Closed = "closed",
        /// From some hour of it on one may park.
        Park = "park",
    }
}

/// A part of a mail under its own heading.
#[derive(Debug, Clone, Default)]
pub struct LetterPart {
    pub head: String,
    /// Stands before the points; may be empty.
    pub lead: String,
    pub points: Vec<Point>,
    /// True for steps in their order.
    pub numbered: bool,
    pub paragraphs: Vec<String>,
}

/// A sentence of a list, with the words that lead into it.
#[derive(Debug, Clone)]
pub struct Point {
    /// May be empty.
    pub lead: String,
    pub says: String,
}

impl Point {
    fn plain(says: &str) -> Self {
        Self { lead: String::new(), says: says.to_owned() }
    }

    fn led(lead: impl Into<String>, says: impl Into<String>) -> Self {
        Self { lead: lead.into(), says: says.into() }
    }

    /// The whole of it on one line.
    fn line(&self) -> String {
        joined([self.lead.clone(), self.says.clone()])
    }
}

/// Puts the mail for a proposal into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn letter(w: &Writer<'_>, page: &Page, enclosed: &Enclosed<'_>) -> Result<Letter, WordsError> {
    let about = context! {
        number => w.case.job.number.0.as_str(),
        shop => w.case.shop.name.as_str(),
        spaces => page.whole.is_some(),
    };
    let first = w.first().filter(|_| page.whole.is_none());
    w.checked(Letter {
        subject: w.say_with("mail.subject", about.clone()),
        opening: w.say_with("mail.opening", about),
        headline: page.glance.headline.clone(),
        reason: page.glance.reason.clone(),
        floor_is: page.glance.floor_is.clone(),
        bars: page.glance.bars.clone(),
        days: first.map_or_else(Vec::new, |floor| garage_days(w, floor)),
        parts: parts(w, page, enclosed),
        ..Letter::with(w, page.frame.clone(), page.glance.answers.clone())
    })
}

/// The parts in the order of page one: the choices, what the offer hangs on and what speaks against it,
/// what nobody knows, what can hurt someone, and what to do next.
fn parts(w: &Writer<'_>, page: &Page, enclosed: &Enclosed<'_>) -> Vec<LetterPart> {
    let glance = &page.glance;
    let part = |head: &str, points, paragraphs| part(w, head, points, paragraphs);
    let waits = glance.hangs.as_ref().map(|hangs| {
        let rows = hangs.rows.iter().cloned().map(|HangsRow { name, price, only_if }| {
            let facts = [("name", name), ("price", price), ("only_if", only_if)];
            Point::plain(&w.say("hangs.priced_line", facts))
        });
        let after = [&hangs.otherwise, &hangs.order].into_iter().filter(|text| !text.is_empty());
        LetterPart {
            lead: hangs.says.clone(),
            ..part("mail.heads.hangs", rows.collect(), after.cloned().collect())
        }
    });
    let label = |name: &str| {
        let label = w.words.labels.pointer(&format!("/notice/{name}"));
        label.and_then(serde_json::Value::as_str).unwrap_or_default()
    };
    let caution = glance.caution.iter().flat_map(|caution| {
        let priced = if caution.we.is_empty() { "" } else { &caution.priced };
        let parts = [
            ("", caution.says.as_str()),
            (label("we"), &caution.we),
            (label("priced"), priced),
            (label("you"), &caution.you),
        ];
        let said = parts.into_iter().filter(|(_, says)| !says.is_empty());
        said.map(|(lead, says)| Point::led(lead, says))
    });
    let next = glance.next.iter().map(|step| Point::led(step.who.clone(), step.says.clone()));
    let answer = w.say("mail.answer", [("call", w.contact())]);
    let of_spaces = page.spaces.iter().flat_map(|space| &space.slab.moisture);
    let charts = page.slab.moisture.iter().chain(of_spaces);
    let units = charts.map(|chart| w.say("mail.unit", [("unit", chart.unit.as_str())]));
    let units = each_once(units);
    // The first space may not have what hurts in another.
    let mut hurt = main_hazards(w);
    if page.whole.is_some() {
        hurt = each_once(glance.hurt.iter().cloned().chain(hurt));
    }
    let mut parts = vec![part("mail.heads.options", choices(w, page), units)];
    parts.extend(waits);
    parts.extend([
        part("mail.heads.caution", caution.collect(), vec![]),
        part("mail.heads.start", plain(&glance.start), vec![]),
        part("mail.heads.unknown", plain(&glance.unknown), vec![]),
        part("mail.heads.hurt", plain(&hurt), vec![page.safety.defer.clone()]),
        LetterPart { numbered: true, ..part("mail.heads.next", next.collect(), vec![answer]) },
        part("mail.heads.attached", attached(w, enclosed), vec![w.plain("mail.whole")]),
    ]);
    if w.case.job.accepted.is_none() {
        let at = parts.len() - 1;
        parts.insert(at, reply_form(w));
    }
    parts.retain(LetterPart::says_something);
    parts
}

/// The most days that are shown one by one.
const MOST_DAYS: u32 = 7;

/// The days while a floor is laid and hardens, where its start is set.
fn garage_days(w: &Writer<'_>, floor: &FloorOption<'_>) -> Vec<GarageDay> {
    let schedule = &floor.estimate.schedule;
    let last = schedule.drive.by_day().day();
    if w.start().is_none() || !w.case.job.has_cars() || last > MOST_DAYS {
        return vec![];
    }
    let worked = schedule.visit_days();
    let day = |number| {
        let date = w.clock().date(number)?;
        let state = match number {
            _ if worked.contains(&number) => GarageState::Work,
            _ if number == last => GarageState::Park,
            _ => GarageState::Closed,
        };
        let from = [("from", w.usable_short(schedule.drive))];
        let says = w.say(&format!("mail.day.{}", state.word()), from);
        Some(GarageDay { date: w.figures.date_weekday_short(date), state, says })
    };
    (1..=last).filter_map(day).collect()
}

/// Lines to copy into an answer and fill in.
fn reply_form(w: &Writer<'_>) -> LetterPart {
    let lines = if w.priced().is_empty() { "mail.reply.open" } else { "mail.reply.floor" };
    let lines = w.lines(lines, &Value::UNDEFINED);
    let no_order = vec![w.plain("mail.reply.no_order")];
    let lead = w.plain("mail.reply.lead");
    LetterPart { lead, ..part(w, "mail.heads.reply", plain(&lines), no_order) }
}

fn part(w: &Writer<'_>, head: &str, points: Vec<Point>, paragraphs: Vec<String>) -> LetterPart {
    LetterPart { head: w.plain(head), points, paragraphs, ..LetterPart::default() }
}

fn plain(texts: &[String]) -> Vec<Point> {
    texts.iter().map(|text| Point::plain(text)).collect()
}

/// Every attached paper in a line.
fn attached(w: &Writer<'_>, enclosed: &Enclosed<'_>) -> Vec<Point> {
    let line = |paper: &Attached<'_>| {
        let (name, order) = match paper.edition {
            AttachedEdition::Paper => ("paper", None),
            AttachedEdition::Phone => ("phone", None),
            AttachedEdition::Signed => ("signed", None),
            AttachedEdition::Order(number) => ("order", Some(number)),
            AttachedEdition::OrderToSign(number) => ("order_to_sign", Some(number)),
            AttachedEdition::Handover => ("handover", None),
        };
        let facts = context! { file => paper.name, pages => paper.pages, order => order };
        Point::plain(&w.say_with(&format!("mail.attached.{name}"), facts))
    };
    enclosed.papers.iter().map(line).collect()
}

impl LetterPart {
    fn says_something(&self) -> bool {
        !self.points.is_empty() || !self.paragraphs.is_empty()
    }
}

/// Every floor in a line, those with a price first: price and days, or the reason for which it is not
/// offered; then the slab left as it is. What waits stands with its price in a part of its own.
fn choices(w: &Writer<'_>, page: &Page) -> Vec<Point> {
    if page.whole.is_some() {
        return page.glance.options.iter().map(|line| of_space(w, line)).collect();
    }
    let lines = page.glance.options.iter().filter(|line| !line.waits).map(|line| {
        let OptionLine { name, price, days, standing, why_not, .. } = line.clone();
        let of_name = |option: &&FloorOption<'_>| w.name(option.key()) == line.name;
        let floor = w.case.options.iter().find(of_name).filter(|_| line.offered);
        let facts = [("name", name), ("price", price), ("standing", standing)];
        let lead = w.say("mail.choice", facts);
        let Some(floor) = floor else { return Point::led(lead, why_not) };
        let facts = [("days", days), ("park", w.usable(floor.estimate.schedule.drive))];
        Point::led(lead, w.say("mail.choice_days", facts))
    });
    let leave = ["name", "choose_if"].map(|key| w.plain(&format!("family.leaflet.leave.{key}")));
    let [name, choose_if] = leave;
    let facts = [("name", name), ("price", String::new()), ("standing", String::new())];
    let leave = Point::led(w.say("mail.choice", facts), choose_if);
    lines.chain([leave]).collect()
}

/// A space in a line: its floor and price, then its days and when it is ready.
fn of_space(w: &Writer<'_>, line: &OptionLine) -> Point {
    let OptionLine { name, price, days, standing, why_not, car_back, .. } = line.clone();
    let facts = [("name", name), ("price", price.clone()), ("standing", standing)];
    let lead = w.say("mail.choice", facts);
    if price.is_empty() {
        return Point::led(lead, why_not);
    }
    Point::led(lead, w.say("space.mail_days", [("days", days), ("ready", car_back)]))
}

impl Letter {
    /// The parts of every mail: its greeting, its answers, its close.
    fn with(w: &Writer<'_>, frame: Frame, answers: Vec<Fact>) -> Self {
        let line = |fact: &Fact| {
            let both = [("label", fact.label.as_str()), ("value", fact.value.as_str())];
            w.say("mail.fact", both)
        };
        Self {
            greeting: w
                .say("mail.greeting", [("customer", w.case.job.customer.full_name().as_ref())]),
            fact_lines: answers.iter().map(line).collect(),
            answers,
            closing: w.plain("mail.closing"),
            shop_lines: links::lines(w.case.shop, &frame.head.shop_lines),
            frame,
            ..Self::default()
        }
    }

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
        let frame = letter.frame;
        let facts = letter.answers.into_iter().map(|fact| {
            let Fact { label, value, note } = fact;
            context! { label, value, note }
        });
        let bars = letter.bars.into_iter().map(|bar| {
            let MoistureBar { reading, at, limits, caption, .. } = bar;
            let limits = limits.into_iter().map(|LimitBar { label, at, first }| {
                context! { label, at, first }
            });
            context! { reading, at, limits => limits.collect::<Vec<_>>(), caption }
        });
        let parts = letter.parts.into_iter().map(|part| {
            let LetterPart { head, lead, points, numbered, paragraphs } = part;
            let points = points.into_iter().map(|Point { lead, says }| context! { lead, says });
            let points = points.collect::<Vec<_>>();
            context! { head, lead, points, numbered, paragraphs }
        });
        let days = letter.days.into_iter().map(|GarageDay { date, state, says }| {
            context! { date, state => state.word(), says }
        });
        let lines =
            letter.shop_lines.into_iter().map(|Line { text, link }| context! { text, link });
        context! {
            language => frame.language,
            subject => letter.subject,
            demo => frame.head.demo,
            greeting => letter.greeting,
            opening => letter.opening,
            headline => letter.headline,
            reason => letter.reason,
            floor_is => letter.floor_is,
            facts => facts.collect::<Vec<_>>(),
            bars => bars.collect::<Vec<_>>(),
            days => days.collect::<Vec<_>>(),
            parts => parts.collect::<Vec<_>>(),
            closing => letter.closing,
            shop => frame.head.shop,
            shop_lines => lines.collect::<Vec<_>>(),
        }
    }

    /// The text with what stands around it, for whoever writes the mail by hand.
    ///
    /// # Errors
    /// [`WordsError`] when a sentence uses a value that it is not given.
    pub fn by_hand(&self, w: &Writer<'_>, enclosed: &Enclosed<'_>) -> Result<String, WordsError> {
        let address = w.case.job.customer.mail_to();
        let to = address.map(|to| w.say("mail.by_hand.to", [("address", to.0.as_str())]));
        let subject = w.say("mail.by_hand.subject", [("subject", self.subject.as_str())]);
        let attach = enclosed.papers.iter();
        let attach = attach.map(|paper| w.say("mail.by_hand.attach", [("file", paper.name)]));
        let lines: Vec<String> = to.chain([subject]).chain(attach).collect();
        w.checked(format!("{}\r\n\r\n\r\n{}", lines.join("\r\n"), self.text()))
    }
}
