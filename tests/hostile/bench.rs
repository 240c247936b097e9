//! A job with every key of every file, all places in it where a value stands, and everything that a
//! value can reach: pages, mails, tables, calendars, results.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::LazyLock;

use mail_parser::{Address, MessageParser};
use slableaf::base::layouts::Layouts;
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::issued::{Facts, agreed};
use slableaf::judge::{Judged, judge};
use slableaf::model::job::Accepted;
use slableaf::papers::after::{failure_sheet, handover, laid_floors};
use slableaf::papers::family::{bid_sheet, care_sheet, leaflet, years_sheet};
use slableaf::papers::mail::{self, Enclosed};
use slableaf::papers::prepare::{buying_csv, buying_list, crew_days, crew_sheet, customer_days};
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{self, Issue};
use slableaf::price::case::FloorOption;
use slableaf::read::{self, Files, Input};
use slableaf::results::customer::CustomerForm;
use slableaf::results::findings::FindingsForm;
use slableaf::results::shop::ShopForm;
use slableaf::say::words::Words;
use toml::de::{DeTable, DeValue};
use toml::{Spanned, Value};

/// The four kinds of files, in the order in which they are kept here.
pub const NAMES: [&str; 4] = ["job.toml", "book.toml", "shop.toml", "systems/own.toml"];

/// A job with every key that there is: `every_key_stands_in_the_full_files` holds it to that.
pub const FULL: [&str; 4] = [
    include_str!("full/job.toml"),
    include_str!("full/book.toml"),
    include_str!("full/shop.toml"),
    include_str!("full/own.toml"),
];

/// Keys that exclude one that stands in the full files, and products that take another's place: the file,
/// what stands there, and what stands in the second variant.
const OTHERWISE: &[(usize, &str, &str)] = &[
    (0, "poured = 2016-05-02", "poured-year = 2016"),
    (0, "amount = \"$120.00\"", "percent = \"5 %\""),
    (3, "pigment = \"own-pigment\"", "pigment = \"pack-pigment\""),
    (3, "product = \"urethane-coat\"", "product = \"water-clear\""),
];

pub static LAYOUTS: LazyLock<Layouts> = LazyLock::new(Layouts::default);
pub static WORDS: LazyLock<Words> = LazyLock::new(|| Words::read(&LAYOUTS, "en").unwrap());

/// The full files.
pub fn full() -> [String; 4] {
    FULL.map(str::to_owned)
}

/// The second variant of the full files.
pub fn second() -> [String; 4] {
    let mut texts = full();
    for (file, from, to) in OTHERWISE {
        assert_eq!(texts[*file].matches(from).count(), 1, "{from}");
        texts[*file] = texts[*file].replace(from, to);
    }
    texts
}

/// Reads the four files.
pub fn read(texts: &[String; 4]) -> Result<Input, Vec<Diagnostic>> {
    let file = |at: usize| SourceFile { name: NAMES[at].into(), text: texts[at].clone() };
    let mut systems = LAYOUTS.source_files("systems/");
    systems.push(file(3));
    read::read(&Files { job: file(0), book: file(1), shop: file(2), systems })
}

// ------------------------------------------------------------------------------------- places

/// The kind of value at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Text,
    Whole,
    YesNo,
    Day,
    List,
}

/// A place in one of the files at which a value stands.
#[derive(Debug, Clone)]
pub struct Place {
    /// Which of [`NAMES`].
    pub file: usize,
    /// `product[3].kit[0].size`.
    pub path: String,
    pub bytes: Range<usize>,
    pub kind: Kind,
    /// The value, when it is a text.
    pub text: String,
}

impl Place {
    pub fn name(&self) -> String {
        format!("{}: {}", NAMES[self.file], self.path)
    }
}

/// Every place of the full files, in their order.
pub fn places() -> Vec<Place> {
    places_of(&full())
}

/// Every place of four files, in their order.
pub fn places_of(texts: &[String; 4]) -> Vec<Place> {
    let mut places = vec![];
    for (file, text) in texts.iter().enumerate() {
        let table = DeTable::parse(text).unwrap();
        in_table(table.get_ref(), "", (file, text), &mut places);
    }
    places
}

fn in_table(table: &DeTable<'_>, above: &str, of: (usize, &str), out: &mut Vec<Place>) {
    for (key, value) in table {
        let dot = if above.is_empty() { "" } else { "." };
        at_value(value, format!("{above}{dot}{}", key.get_ref()), of, out);
    }
}

fn at_value(value: &Spanned<DeValue<'_>>, path: String, of: (usize, &str), out: &mut Vec<Place>) {
    let (file, text) = of;
    let kind = match value.get_ref() {
        DeValue::Table(table) => return in_table(table, &path, of, out),
        DeValue::Array(items) => {
            for (at, item) in items.iter().enumerate() {
                at_value(item, format!("{path}[{at}]"), of, out);
            }
            // A list of tables with heads of their own is no value that could be replaced.
            if text.as_bytes()[value.span().start..].starts_with(b"[[")
                && !path.ends_with("outline")
                && !path.ends_with("path")
            {
                return;
            }
            Kind::List
        }
        DeValue::String(_) => Kind::Text,
        DeValue::Integer(_) | DeValue::Float(_) => Kind::Whole,
        DeValue::Boolean(_) => Kind::YesNo,
        DeValue::Datetime(_) => Kind::Day,
    };
    let text = value.get_ref().as_str().unwrap_or_default().to_owned();
    out.push(Place { file, path, bytes: value.span(), kind, text });
}

/// The full files with other values, written as TOML, at some places.
pub fn changed<'a>(changes: impl IntoIterator<Item = (&'a Place, String)>) -> [String; 4] {
    changed_at(changes).0
}

/// Those files with other values at some of their places.
pub fn changed_in<'a>(
    texts: [String; 4],
    changes: impl IntoIterator<Item = (&'a Place, String)>,
) -> [String; 4] {
    changed_in_at(texts, changes).0
}

/// As [`changed`], and the bytes at which each of the values now stands.
pub fn changed_at<'a>(
    changes: impl IntoIterator<Item = (&'a Place, String)>,
) -> ([String; 4], Vec<Range<usize>>) {
    changed_in_at(full(), changes)
}

fn changed_in_at<'a>(
    mut texts: [String; 4],
    changes: impl IntoIterator<Item = (&'a Place, String)>,
) -> ([String; 4], Vec<Range<usize>>) {
    let mut changes: Vec<(usize, &Place, String)> =
        changes.into_iter().enumerate().map(|(at, (place, value))| (at, place, value)).collect();
    changes.sort_by_key(|(_, place, _)| (place.file, place.bytes.start));
    let mut bytes = vec![0..0; changes.len()];
    let mut shift = [0_isize; 4];
    for (at, place, value) in changes {
        let file = place.file;
        let moved = |byte: usize| byte.checked_add_signed(shift[file]).unwrap();
        let (from, to) = (moved(place.bytes.start), moved(place.bytes.end));
        texts[file].replace_range(from..to, &value);
        bytes[at] = from..from + value.len();
        shift[file] += value.len() as isize - place.bytes.len() as isize;
    }
    (texts, bytes)
}

/// A text as TOML writes it.
pub fn quoted(text: &str) -> String {
    toml::Value::from(text).to_string()
}

// ------------------------------------------------------------------------------------ outputs

/// Something that is made of a job, and every text in it.
pub struct Output {
    pub name: &'static str,
    pub texts: Vec<String>,
    /// Every number in it that stands for a place or a size.
    pub numbers: Vec<f64>,
}

impl Output {
    /// TOML keeps numbers that are none, which JSON would write as null.
    fn data(name: &'static str, data: impl serde::Serialize) -> Self {
        let mut output = Self { name, texts: vec![], numbers: vec![] };
        output.take(&Value::try_from(data).unwrap());
        output
    }

    fn take(&mut self, value: &Value) {
        match value {
            Value::String(text) => self.texts.push(text.clone()),
            Value::Float(number) => self.numbers.push(*number),
            Value::Array(items) => items.iter().for_each(|item| self.take(item)),
            Value::Table(table) => table.values().for_each(|item| self.take(item)),
            Value::Integer(_) | Value::Boolean(_) | Value::Datetime(_) => {}
        }
    }

    fn text(name: &'static str, text: String) -> Self {
        Self { name, texts: vec![text], numbers: vec![] }
    }
}

/// Everything that is made of a job, or nothing when a price passes all bounds.
pub fn outputs(input: &Input) -> Option<Vec<Output>> {
    let judged = judge(input);
    if judged.exceeded_limit().is_some() {
        return None;
    }
    let Judged { case, findings, recommendation } = &judged;
    let w = Writer::new(case, findings, recommendation, &WORDS);
    let photos = input.job.photos.len();
    let issue = Issue { revision: Some(1), has_logo: true, photos, ..Issue::default() };
    let page = proposal::page(&w, &issue).unwrap();
    let enclosed = Enclosed::proposal(1, "a.pdf", 12, b"%PDF-");
    let letter = mail::letter(&w, &page, &enclosed).unwrap();
    let html = letter.html(&LAYOUTS).unwrap();
    let draft = mail::draft(&w, &letter, html, &enclosed).unwrap();
    let [heads, text, html] = as_read(&draft);
    let mut made = vec![
        Output::data("proposal", &page),
        Output::data("leaflet", leaflet(&w, &issue, true).unwrap()),
        heads,
        text,
        html,
        Output::text("mail by hand", letter.by_hand(&w, &enclosed).unwrap()),
        Output::data("results", ShopForm::of(&w).unwrap()),
        Output::data("results for the customer", CustomerForm::of(&w).unwrap()),
        Output::data("findings", FindingsForm::of(&w).unwrap()),
    ];
    let bids = bid_sheet(&w, &issue).unwrap();
    made.extend(bids.map(|sheet| Output::data("bids", sheet)));
    let years = years_sheet(&w, &issue).unwrap();
    made.extend(years.map(|sheet| Output::data("years", sheet)));
    made.extend(after_work(&w, input, &issue));
    let offered = case.options.iter().filter(|option| recommendation.offers(option.key()));
    // The shop's own floor before any other: its words are among the places.
    if let Some(option) = offered.min_by_key(|option| option.key().0 != "own-floor") {
        made.extend(of_floor(&w, option, &issue));
    }
    Some(made)
}

/// A mail as another library reads it: names and subject of its head, and both of its bodies.
fn as_read(draft: &[u8]) -> [Output; 3] {
    let message = MessageParser::default().parse(draft).unwrap();
    assert_eq!(message.headers().len(), 7, "a field was slipped in or lost");
    let people = [message.from(), message.to()].into_iter().flatten().flat_map(Address::iter);
    let mut texts: Vec<String> =
        people.map(|one| one.name().unwrap_or_default().to_owned()).collect();
    assert!(matches!(texts.len(), 2 | 3), "one sender and one receiver, or two: {texts:?}");
    texts.push(message.subject().unwrap().to_owned());
    [
        Output { name: "mail heads", texts, numbers: vec![] },
        Output::text("mail text", message.body_text(0).unwrap().into_owned()),
        Output::text("mail html", seen(&message.body_html(0).unwrap())),
    ]
}

/// The papers of the time after the work, where a floor that was signed for is on offer.
fn after_work(w: &Writer<'_>, input: &Input, issue: &Issue) -> Vec<Output> {
    let job = &input.job;
    let Some(floor) = job.agreed_floor(None) else { return vec![] };
    let accepted =
        job.accepted.clone().map(|signed| Accepted { floor, additions: vec![], ..signed });
    let facts = Facts::of(w).unwrap();
    let agreed = accepted.and_then(|accepted| agreed(&facts, accepted.on, &accepted).ok());
    let Some(agreed) = agreed else { return vec![] };
    let floors = laid_floors(w, None, &agreed);
    vec![
        Output::data("handover", handover(w, job, &floors, &agreed, issue).unwrap()),
        Output::data("failure sheet", failure_sheet(w, job, &floors, issue).unwrap()),
    ]
}

fn of_floor(w: &Writer<'_>, option: &FloorOption<'_>, issue: &Issue) -> Vec<Output> {
    let days = |days: Option<String>| days.map(|days| unfolded(&days)).unwrap_or_default();
    vec![
        Output::data("care sheet", care_sheet(w, option, issue).unwrap()),
        Output::data("crew sheet", crew_sheet(w, option, issue).unwrap()),
        Output::data("buying list", buying_list(w, option, issue).unwrap()),
        Output {
            name: "buying list as CSV",
            texts: cells(&buying_csv(w.case, option, &option.key().0)),
            numbers: vec![],
        },
        Output::text("crew's days", days(crew_days(w, option, 1).unwrap())),
        Output::text("customer's days", days(customer_days(w, option, 1).unwrap())),
    ]
}

/// The text that a reader sees of HTML: no tags, the escapes undone.
pub fn seen(html: &str) -> String {
    let body = html.split_once("<body").unwrap().1.replace("<br>", " ");
    let pieces = body.split('<').map(|piece| piece.split_once('>').map_or("", |(_, text)| text));
    let mut text: String = pieces.collect();
    for (code, letter) in
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#x2f;", "/")]
    {
        text = text.replace(code, letter);
    }
    text.replace("&amp;", "&")
}

/// The cells of comma-separated values, without the apostrophe that guards a formula.
fn cells(csv: &str) -> Vec<String> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    rows.iter().flat_map(|row| row.iter().map(str::to_owned)).collect()
}

/// A calendar as `icalendar` reads its texts: lines unfolded, escapes undone.
pub fn unfolded(ics: &str) -> String {
    let calendar: icalendar::Calendar = ics.parse().unwrap();
    use icalendar::{CalendarComponent, Component, EventLike};
    let mut text = String::new();
    for component in &calendar.components {
        let CalendarComponent::Event(event) = component else { continue };
        for field in [event.get_summary(), event.get_description(), event.get_location()] {
            text.push_str(field.unwrap_or_default());
            text.push('\n');
        }
    }
    text
}

// ------------------------------------------------------------------------------- completeness

/// Keys that a job of several spaces alone may have: they stand in `full/spaces.toml`.
const OF_SPACES: &[(&str, &str)] = &[
    ("at the top of the file", "space"),
    ("at the top of the file", "sold-at-home"),
    ("[accepted]", "floors"),
    ("[[order]]", "floors"),
];

/// The keys that a table's reader knows, by the table, from what it says to a key that none has.
fn known(file: usize) -> BTreeMap<String, BTreeSet<String>> {
    let mut text = String::new();
    let mut before = true;
    for line in FULL[file].lines() {
        let is_head = line.starts_with('[');
        if before && (is_head || !line.starts_with('#')) {
            text += "k0000 = 0\n";
        }
        before = false;
        text += &format!("{line}\n{}", if is_head { "k0000 = 0\n" } else { "" });
        before |= line.starts_with('#') && !text.contains("k0000");
    }
    let mut texts = full();
    texts[file] = text;
    let mut known: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for problem in read(&texts).unwrap_err() {
        let Some(place) = problem.message.strip_prefix("unknown key `k0000` ") else { continue };
        let title = place
            .trim_start_matches("in ")
            .trim_end_matches(|c: char| c.is_ascii_digit() || c == ' ');
        let keys = problem.help[0].strip_prefix("known here: ").unwrap().split(", ");
        let keys = keys.map(|key| key.trim_matches('`').to_owned());
        known.entry(title.to_owned()).or_default().extend(keys);
    }
    known
}

/// The keys that stand in the tables of a name, in either variant.
fn there(file: usize, title: &str) -> BTreeSet<String> {
    let path: Vec<&str> = title.trim_matches(['[', ']']).split('.').collect();
    let variants = [full(), second()];
    let mut tables = variants.map(|texts| Value::Table(texts[file].parse().unwrap())).to_vec();
    if title.starts_with('[') {
        for part in path {
            let inner = tables.iter().filter_map(|table| table.get(part));
            tables = inner
                .flat_map(|value| match value {
                    Value::Array(items) => items.clone(),
                    other => vec![other.clone()],
                })
                .collect();
        }
    }
    tables.iter().filter_map(Value::as_table).flat_map(|table| table.keys().cloned()).collect()
}

#[test]
fn every_key_stands_in_the_full_files() {
    let mut tables = 0;
    let mut missing = vec![];
    for (file, name) in NAMES.iter().enumerate() {
        for (title, keys) in known(file) {
            tables += 1;
            let there = there(file, &title);
            assert!(!there.is_empty(), "{name}: no table {title}");
            let of_spaces = |key: &str| OF_SPACES.contains(&(title.as_str(), key));
            missing.extend(
                keys.iter()
                    .filter(|key| !there.contains(*key) && !of_spaces(key))
                    .map(|key| format!("{name} {title}: {key}")),
            );
        }
    }
    assert!(missing.is_empty(), "{missing:#?}");
    assert!(tables >= 35, "{tables}");
}
