//! Random price books, shop files and floor systems, from the examples by changing what is in them.

use slableaf::base::source::SourceFile;
use toml::{Table, Value};

use super::dice::Dice;

pub const BOOK: &str = include_str!("../../examples/book.toml");
pub const SHOP: &str = include_str!("../../examples/shop.toml");
pub const METRIC_BOOK: &str = include_str!("../../examples/metric-probes/book.toml");
pub const METRIC_SHOP: &str = include_str!("../../examples/metric-probes/shop.toml");
pub const FLOORS: [&str; 4] = ["barrier", "fast-cure", "clear-epoxy", "water-kit"];
const SYSTEMS: [&str; 4] = [
    include_str!("../../layouts/systems/barrier.toml"),
    include_str!("../../layouts/systems/fast-cure.toml"),
    include_str!("../../layouts/systems/clear-epoxy.toml"),
    include_str!("../../layouts/systems/water-kit.toml"),
];

/// The products that may lie on the concrete.
const PRIMERS: [&str; 4] = ["epoxy-primer", "barrier-epoxy", "polyurea-primer", "water-epoxy"];

pub fn parsed(text: &str) -> Table {
    text.parse().unwrap_or_else(|error| panic!("{error}"))
}

fn text(value: impl Into<String>) -> Value {
    Value::String(value.into())
}

/// The number that a text begins with: `3 lb/1000ft2/24h`, `$1,290.00`.
pub fn number(text: &str) -> f64 {
    let text = text.trim_start_matches(['$', '€']).replace(',', "");
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let part = |text: &str| -> f64 { text.parse().unwrap_or_else(|_| panic!("no number: {text}")) };
    match text[end..].strip_prefix('/').map(|below| below.split(' ').next().unwrap_or(below)) {
        Some(below) if below.parse::<f64>().is_ok() => part(&text[..end]) / part(below),
        _ => part(&text[..end]),
    }
}

/// The unit behind a number.
fn scaled(old: &str, by: f64, digits: usize) -> String {
    let sign: String = old.chars().take_while(|c| ['$', '€'].contains(c)).collect();
    let unit = old.split_once(' ').map_or(String::new(), |(_, unit)| format!(" {unit}"));
    format!("{sign}{:.digits$}{unit}", number(old) * by)
}

fn scale(table: &mut Table, key: &str, by: f64, digits: usize) {
    if let Some(old) = table.get(key).and_then(Value::as_str) {
        let new = scaled(old, by, digits);
        table.insert(key.to_owned(), text(new));
    }
}

/// A book with other prices, limits, times and terms.
pub fn book(d: &mut Dice, metric: bool) -> Table {
    let mut book = parsed(if metric { METRIC_BOOK } else { BOOK });
    for product in book["product"].as_array_mut().expect("products") {
        let product = product.as_table_mut().expect("a table");
        let by = d.within(0.4, 2.5);
        for kit in product["kit"].as_array_mut().expect("kits") {
            scale(kit.as_table_mut().expect("a kit"), "price", by, 2);
        }
        if product.contains_key("cure") {
            if d.percent(30) {
                product.remove("data-sheet");
            }
            resin(d, product, metric);
        } else if let Some(flake) = product.get_mut("flake").and_then(Value::as_table_mut) {
            let by = d.within(0.6, 1.4);
            scale(flake, "thickness", by, 1);
        }
    }
    let rates = book["rates"].as_table_mut().expect("rates");
    for key in ["grind", "roll", "upright", "broadcast", "scrape"] {
        let by = d.within(0.5, 2.0);
        scale(rates, key, by, 1);
    }
    let sign = if metric { "€" } else { "$" };
    let terms = book["terms"].as_table_mut().expect("terms");
    let step = d.pick(&["0.01", "1.00", "5.00", "10.00", "50.00"]);
    terms.insert("round-to".to_owned(), text(format!("{sign}{step}")));
    terms.insert("tax".to_owned(), text(d.pick(&["0 %", "6.5 %", "7.25 %", "21 %"])));
    terms.insert("tax-on".to_owned(), text(d.pick(&["price", "price", "purchases", "nothing"])));
    terms.insert("hold-days".to_owned(), Value::Integer(d.pick(&[1, 10, 30, 45])));
    if d.percent(25) {
        let most = d.pick(&["1.00", "4,000.00", "9,000.00"]);
        terms.insert("minimum".to_owned(), text(format!("{sign}{most}")));
    }
    match d.below(4) {
        0 => drop(book.remove("cleaning")),
        1 => {
            let cleaning = book["cleaning"].as_table_mut().expect("cleaning");
            cleaning.insert("solvent".to_owned(), text("acetone"));
        }
        _ => {}
    }
    book
}

/// A coat with other times, limits and demands.
fn resin(d: &mut Dice, product: &mut Table, metric: bool) {
    let key = product["key"].as_str().expect("a key").to_owned();
    let by = d.within(0.4, 1.6);
    for row in product["cure"].as_array_mut().expect("times") {
        let row = row.as_table_mut().expect("a row");
        for time in ["recoat-from", "recoat-to", "foot", "vehicle"] {
            scale(row, time, by, 2);
        }
    }
    let by = d.within(0.7, 1.4);
    for film in ["spread", "film"] {
        scale(product, film, by, 1);
    }
    if d.percent(15) {
        product.remove("solvent-free");
    }
    if d.percent(15) {
        let stable = d.percent(50);
        product.insert("uv-stable".to_owned(), Value::Boolean(stable));
    }
    if d.percent(10) {
        let isocyanate = d.percent(50);
        product.insert("isocyanate".to_owned(), Value::Boolean(isocyanate));
    }
    let first = PRIMERS.contains(&key.as_str());
    if !first && d.percent(90) {
        return;
    }
    let barrier = product.get("barrier").and_then(Value::as_bool).unwrap_or(false);
    let rates: &[&str] = match (metric, barrier) {
        (false, true) => &["12", "20", "20", "25"],
        (false, false) => &["3", "3", "4", "5", "8", "12"],
        (true, true) => &["60", "98", "98", "120"],
        (true, false) => &["15", "15", "20", "24", "60"],
    };
    let unit = if metric { "g/m2/24h" } else { "lb/1000ft2/24h" };
    let rate = format!("{} {unit}", d.pick(rates));
    let humid = if barrier { ["95 %", "99 %", "100 %"] } else { ["75 %", "80 %", "85 %"] };
    for (limit, value) in [("mver-limit", rate), ("rh-limit", d.pick(&humid).to_owned())] {
        product.remove(limit);
        if d.percent(if first { 75 } else { 50 }) {
            product.insert(limit.to_owned(), text(value));
        }
    }
    if !first {
        return;
    }
    let asked: &[&str] = match barrier {
        true => &["", "", "either", "both", "none-needed"],
        false => &["", "", "either", "both", "plastic-sheet"],
    };
    let ground = ["", "", "", "barrier", "sheet", "sheet-or-test", "any"];
    for (key, word) in [("moisture-test", d.pick(asked)), ("ground-contact", d.pick(&ground))] {
        if !word.is_empty() {
            product.insert(key.to_owned(), text(word));
        }
    }
    if d.percent(20) {
        product.insert("ph-from".to_owned(), text("6"));
        product.insert("ph-to".to_owned(), text("11"));
    }
}

/// The shipped systems with other years of use and, now and then, another top coat.
pub fn systems(d: &mut Dice) -> Vec<SourceFile> {
    let mut files = vec![];
    for (name, text) in FLOORS.iter().zip(SYSTEMS) {
        let mut system = parsed(text);
        if d.percent(50) {
            let from = d.pick(&[1, 3, 5, 8, 10]);
            let to = from + d.pick(&[0, 2, 5, 10]);
            system.insert("life-from".to_owned(), Value::Integer(from));
            system.insert("life-to".to_owned(), Value::Integer(to));
        }
        if d.percent(10) {
            let tops = ["polyaspartic-top", "clear-epoxy", "urethane-coat", "water-clear"];
            let top = d.pick(&tops);
            let coats = system["coat"].as_array_mut().expect("coats");
            let coat = coats[2].as_table_mut().expect("a coat");
            coat.insert("product".to_owned(), Value::String(top.to_owned()));
        }
        let text = toml::to_string(&system).expect("a system");
        files.push(SourceFile { name: format!("{name}.toml"), text });
    }
    files
}

/// A shop with other payments, other limits and another way of testing.
pub fn shop(d: &mut Dice, metric: bool) -> Table {
    let mut shop = parsed(if metric { METRIC_SHOP } else { SHOP });
    let sign = if metric { "€" } else { "$" };
    let cut = 1 + d.below(98);
    let payments = match d.below(3) {
        0 => vec![20.0, 30.0, 50.0],
        1 => vec![cut as f64, 100.0 - cut as f64],
        _ => vec![10.0, 33.33, 56.67],
    };
    let payment = |(at, share): (usize, &f64)| {
        let mut step = Table::new();
        step.insert("when".to_owned(), text(format!("Payment {}", at + 1)));
        step.insert("share".to_owned(), text(format!("{share} %")));
        Value::Table(step)
    };
    shop.insert(
        "payment".to_owned(),
        Value::Array(payments.iter().enumerate().map(payment).collect()),
    );
    if d.percent(30) {
        shop.remove("fan");
    }
    let mut testing = Table::new();
    if d.percent(60) {
        let price = d.pick(&["180.00", "95.50"]);
        testing.insert("price".to_owned(), text(format!("{sign}{price}")));
    }
    if d.percent(30) {
        testing.insert("reading-days".to_owned(), Value::Integer(d.pick(&[45, 90, 180])));
    }
    shop.insert("testing".to_owned(), Value::Table(testing));
    if d.percent(40) {
        let mut record = Table::new();
        let jobs = d.pick(&[1, 12, 60]);
        record.insert("system".to_owned(), text(d.pick(&["fast-cure", "clear-epoxy"])));
        record.insert("jobs".to_owned(), Value::Integer(jobs));
        record.insert("moisture-failures".to_owned(), Value::Integer(d.pick(&[0, 1])));
        record.insert("since".to_owned(), Value::Integer(2019));
        shop.insert("record".to_owned(), Value::Array(vec![Value::Table(record)]));
    }
    if d.percent(15) {
        shop.remove("country");
    }
    shop
}
