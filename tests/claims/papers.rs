//! The papers of a job as data: what a customer reads, and the results beside it.

use std::sync::LazyLock;

use serde_json::{Value, json};
use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::judge::judge;
use slableaf::papers::family::leaflet;
use slableaf::papers::mail::{Enclosed, Point, letter};
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{Issue, page};
use slableaf::read::{self, Files};
use slableaf::results::customer::CustomerForm;
use slableaf::say::words::Words;

use super::dice::Dice;
use super::{files, job};

static ENGLISH: LazyLock<Words> =
    LazyLock::new(|| Words::read(&Layouts::default(), "en").expect("English words"));
static SPANISH: LazyLock<Words> =
    LazyLock::new(|| Words::read(&Layouts::default(), "es").expect("Spanish words"));

/// The files that were given.
#[derive(Clone)]
pub struct Given {
    pub job: String,
    pub book: String,
    pub shop: String,
    pub systems: Vec<SourceFile>,
    pub spanish: bool,
}

impl Given {
    /// A random job with its book and shop.
    pub fn random(seed: u64) -> Self {
        let mut d = Dice::new(seed);
        let metric = d.percent(30);
        let spanish = d.percent(12);
        let text = |table| toml::to_string(&table).expect("a file");
        Self {
            book: text(files::book(&mut d, metric)),
            shop: text(files::shop(&mut d, metric)),
            systems: files::systems(&mut d),
            job: job::job(&mut d, metric, if spanish { "es" } else { "en" }),
            spanish,
        }
    }
}

/// The papers that leave the shop, as data.
#[derive(Clone)]
pub struct Papers {
    pub page: Value,
    pub leaflet: Value,
    pub mail: Value,
    /// The results for the customer.
    pub form: Value,
    pub given: Given,
}

impl Papers {
    /// The papers of a job, or what is wrong with its files.
    pub fn of(given: Given) -> Result<Self, String> {
        let file = |name: &str, text: &str| SourceFile { name: name.into(), text: text.into() };
        let read = read::read(&Files {
            job: file("job.toml", &given.job),
            book: file("book.toml", &given.book),
            shop: file("shop.toml", &given.shop),
            systems: given.systems.clone(),
        });
        let input = read.map_err(|problems| {
            let lines: Vec<String> = problems.iter().map(|p| p.message.clone()).collect();
            lines.join("; ")
        })?;
        let judged = judge(&input);
        if judged.exceeded_limit().is_some() {
            return Err("beyond what can be planned".to_owned());
        }
        let words = if given.spanish { &*SPANISH } else { &*ENGLISH };
        let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, words);
        let issue = Issue { revision: Some(1), ..Issue::default() };
        let page = page(&w, &issue).map_err(|error| error.to_string())?;
        let enclosed = Enclosed::proposal(1, "2026-0300.pdf", 9, b"");
        let letter = letter(&w, &page, &enclosed).map_err(|error| error.to_string())?;
        let leaflet = leaflet(&w, &issue, true).map_err(|error| error.to_string())?;
        let form = CustomerForm::of(&w).map_err(|error| error.to_string())?;
        let line = |point: &Point| format!("{} {}", point.lead, point.says).trim().to_owned();
        let parts = letter.parts.iter().map(|part| {
            let points: Vec<String> = part.points.iter().map(line).collect();
            json!({ "head": part.head, "points": points, "paragraphs": part.paragraphs })
        });
        let parts: Vec<Value> = parts.collect();
        Ok(Self {
            mail: spaced(json!({
                "headline": letter.headline,
                "reason": letter.reason,
                "facts": letter.answers,
                "parts": parts,
                "text": letter.text(),
            })),
            page: spaced(serde_json::to_value(&page).expect("a page")),
            leaflet: spaced(serde_json::to_value(&leaflet).expect("a leaflet")),
            form: serde_json::to_value(&form).expect("results"),
            given,
        })
    }
}

/// The same with plain spaces: a no-break space is for the eye.
fn spaced(value: Value) -> Value {
    match value {
        Value::String(text) => Value::String(text.replace('\u{A0}', " ")),
        Value::Array(all) => Value::Array(all.into_iter().map(spaced).collect()),
        Value::Object(all) => all.into_iter().map(|(key, value)| (key, spaced(value))).collect(),
        other => other,
    }
}
