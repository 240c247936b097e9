//! Tools to read papers: the floors as the results have them, and figures as they are printed.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use jiff::civil::Date;
use regex::Regex;
use serde_json::Value;
use toml::Table;

use super::evidence::{Tests, limit};
use super::files::parsed;
use super::papers::Papers;

static SYSTEM_WORDS: LazyLock<Table> =
    LazyLock::new(|| parsed(include_str!("../../layouts/words/en/systems.toml")));

/// A way of testing that gives a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    Dish,
    Probe,
}

pub const WAYS: [Way; 2] = [Way::Dish, Way::Probe];

/// A highest reading beside a limit, in pounds or percent.
#[derive(Debug, Clone, Copy)]
pub struct Room {
    pub limit: f64,
    pub reading: f64,
}

/// A floor as the results and the files have it.
#[derive(Debug, Clone)]
pub struct Floor {
    pub key: String,
    /// `Vapor-barrier floor`.
    pub name: String,
    /// `the vapor-barrier floor`.
    pub the_name: String,
    pub offered: bool,
    /// `test` or `maker`; empty for a floor that does not wait.
    pub waits: String,
    pub standing: String,
    pub barrier: bool,
    pub ambers: bool,
    pub life: (i64, i64),
    pub film_um: f64,
    pub rooms: [Option<Room>; 2],
    /// The lowest limits of its coats up to the first barrier, by its book.
    pub limits: [Option<f64>; 2],
    pub total: i64,
    pub days: i64,
    pub drive: Value,
    /// The products of its coats, bottom coat first.
    pub products: Vec<Table>,
    pub json: Value,
}

impl Floor {
    pub fn priced(&self) -> bool {
        self.offered || !self.waits.is_empty()
    }

    pub fn room(&self, way: Way) -> Option<Room> {
        self.rooms[way as usize]
    }

    pub fn limit(&self, way: Way) -> Option<f64> {
        self.limits[way as usize]
    }

    /// The limit on the data sheet of the coat on the concrete.
    pub fn own_limit(&self, way: Way) -> Option<f64> {
        limit(&self.products[..1], way)
    }

    pub fn asks(&self) -> &str {
        self.products[0].get("moisture-test").and_then(|word| word.as_str()).unwrap_or("either")
    }
}

/// Whoever reads the papers of one job.
pub struct Reader<'a> {
    pub papers: &'a Papers,
    pub page: &'a Value,
    pub form: &'a Value,
    pub job: Table,
    pub shop: Table,
    pub book: Table,
    pub floors: Vec<Floor>,
    pub tests: Tests,
    /// Claims that are printed and not so.
    pub faults: Vec<String>,
    /// The number of times that each claim was held against the facts.
    pub held: BTreeMap<&'static str, u32>,
}

impl<'a> Reader<'a> {
    pub fn new(papers: &'a Papers) -> Self {
        let given = &papers.given;
        let (job, book, shop) = (parsed(&given.job), parsed(&given.book), parsed(&given.shop));
        let tests = Tests::of(&job, &shop, &papers.form);
        let mut reader = Self {
            papers,
            page: &papers.page,
            form: &papers.form,
            job,
            shop,
            book,
            floors: vec![],
            tests,
            faults: vec![],
            held: BTreeMap::new(),
        };
        let floors = list(&papers.form["floors"]);
        reader.floors = floors.iter().map(|floor| reader.floor(floor)).collect();
        reader
    }

    fn floor(&self, json: &Value) -> Floor {
        let key = text(&json["floor"]).to_owned();
        let words = SYSTEM_WORDS[&key].as_table().expect("words of a floor");
        let room = |way: &str, unit: &str| {
            let one = &json["moisture"][way];
            let value = |name: &str| one[format!("{name}_{unit}")].as_f64();
            let limit = value("limit")?;
            Some(Room { limit, reading: value("reading")? })
        };
        let products = self.products(&key);
        let settles = json["moisture"]["settles"].as_str().unwrap_or("test");
        let waits = if json["waits"] == true { settles } else { "" };
        Floor {
            name: text(&json["name"]).to_owned(),
            the_name: words["the_name"].as_str().expect("a name").to_owned(),
            offered: json["offered"] == true,
            waits: waits.to_owned(),
            standing: text(&json["moisture"]["standing"]).to_owned(),
            barrier: json["barrier"] == true,
            ambers: json["turns_amber"] == true,
            life: (int(&json["life_from_years"]), int(&json["life_to_years"])),
            film_um: json["resin_film_um"].as_f64().expect("a film"),
            rooms: [room("dishes", "lb_per_1000ft2_24h"), room("probes", "percent")],
            limits: [limit(&products, Way::Dish), limit(&products, Way::Probe)],
            total: json["offer"]["total"].as_str().map_or(0, cents),
            days: json["offer"]["days"].as_i64().unwrap_or(0),
            drive: json["offer"]["drive"].clone(),
            products,
            json: json.clone(),
            key,
        }
    }

    /// The products of a floor's coats, by its system and the extras of the job.
    fn products(&self, floor: &str) -> Vec<Table> {
        let name = format!("{floor}.toml");
        let file = self.papers.given.systems.iter().find(|file| file.name == name);
        let system = parsed(&file.expect("a system").text);
        let extras = self.job.get("extras").and_then(|all| all.get(floor));
        let extras = extras.and_then(|all| all.as_array()).cloned().unwrap_or_default();
        let coats = system["coat"].as_array().expect("coats").iter();
        let laid = coats.filter(|coat| coat.get("extra").is_none_or(|key| extras.contains(key)));
        let product = |coat: &toml::Value| {
            let all = self.book["product"].as_array().expect("products");
            let product = all.iter().find(|product| product["key"] == coat["product"]);
            product.expect("a product").as_table().expect("a table").clone()
        };
        laid.map(product).collect()
    }

    /// Holds a claim: it is counted, and a fault when it is not so.
    pub fn hold(&mut self, claim: &'static str, so: bool, shown: impl AsRef<str>) {
        *self.held.entry(claim).or_default() += 1;
        if !so {
            self.faults.push(format!("{claim}: {}", shown.as_ref()));
        }
    }

    pub fn priced(&self) -> Vec<Floor> {
        self.floors.iter().filter(|floor| floor.priced()).cloned().collect()
    }

    /// The floors with a price in the order of the comparison: what comes first, then the others.
    pub fn compared(&self) -> Vec<Floor> {
        let first = self.first().map(|floor| floor.key.clone());
        let mut floors: Vec<Floor> =
            self.floors.iter().filter(|floor| floor.priced()).cloned().collect();
        floors.sort_by_key(|floor| Some(&floor.key) != first.as_ref());
        floors
    }

    pub fn offered(&self) -> Vec<Floor> {
        self.floors.iter().filter(|floor| floor.offered).cloned().collect()
    }

    pub fn waiting(&self) -> Vec<Floor> {
        self.floors.iter().filter(|floor| !floor.waits.is_empty()).cloned().collect()
    }

    /// The floor that comes first.
    pub fn first(&self) -> Option<Floor> {
        let first = self.form["first"].as_str()?;
        self.floors.iter().find(|floor| floor.key == first).cloned()
    }

    pub fn by_name(&self, name: &str) -> Option<Floor> {
        let named = |floor: &&Floor| floor.name == name || floor.the_name == name;
        self.floors.iter().find(named).cloned()
    }

    /// The floors that a list in a sentence names: `the a, the b, and the c`.
    pub fn named(&self, list: &str) -> Option<Vec<Floor>> {
        let parts = list.replace(", and ", ", ").replace(" and ", ", ");
        parts.split(", ").map(|name| self.by_name(name)).collect()
    }

    pub fn metric(&self) -> bool {
        self.job["units"].as_str() == Some("metric")
    }

    /// True when a printed reading or limit is that value, to the step in which it is printed.
    pub fn shows(&self, printed: &str, way: Way, value: f64) -> bool {
        let (value, half) = match (way, self.metric()) {
            (Way::Probe, _) => (value, 0.5),
            (Way::Dish, false) => (value, 0.05),
            (Way::Dish, true) => (value * GRAMS, 0.05),
        };
        way_of(printed) == way && (figure(printed) - value).abs() <= half * 1.01
    }

    pub fn on_ground(&self) -> bool {
        self.job["slab"]["on-ground"].as_bool() == Some(true)
    }

    pub fn sheet_known(&self) -> bool {
        self.job["slab"].get("vapor-retarder").and_then(|word| word.as_str()) == Some("yes")
    }

    pub fn date(&self) -> Date {
        text(&self.form["date"]).parse().expect("a date")
    }
}

/// Grams from a square meter in a day for a pound from a thousand square feet: 453.592 / 92.903.
pub const GRAMS: f64 = 4.882_43;

pub fn way_of(printed: &str) -> Way {
    if printed.contains('%') { Way::Probe } else { Way::Dish }
}

/// The number that a printed figure begins with, in English.
pub fn figure(printed: &str) -> f64 {
    let plain = printed.replace(',', "");
    let end = plain.find(|c: char| !c.is_ascii_digit() && c != '.' && c != '-');
    plain[..end.unwrap_or(plain.len())].parse().unwrap_or(f64::NAN)
}

/// An amount of money in cents: all of its digits, in any language.
pub fn cents(printed: &str) -> i64 {
    let digits: String = printed.chars().filter(char::is_ascii_digit).collect();
    let sign = if printed.contains('-') { -1 } else { 1 };
    sign * digits.parse::<i64>().unwrap_or(i64::MIN / 4)
}

pub fn day(printed: &str) -> Option<Date> {
    Date::strptime("%B %d, %Y", printed).ok()
}

pub fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

pub fn texts(value: &Value) -> Vec<String> {
    list(value).iter().map(|one| text(one).to_owned()).collect()
}

pub fn list(value: &Value) -> Vec<Value> {
    value.as_array().cloned().unwrap_or_default()
}

pub fn int(value: &Value) -> i64 {
    value.as_i64().unwrap_or_default()
}

pub fn pattern(text: &str) -> Regex {
    Regex::new(text).unwrap_or_else(|error| panic!("{error}"))
}
