//! Page one below the answers: the floors in a line each, what the offer hangs on, and the caution.

use std::sync::LazyLock;

use regex::Regex;
use serde_json::Value;

use super::reader::*;

pub fn options(r: &mut Reader<'_>, lines: &Value) {
    let lines = list(lines);
    let first = r.first();
    let mut order: Vec<Floor> = r.floors.clone();
    let is_first = |floor: &Floor| first.as_ref().is_some_and(|first| first.key == floor.key);
    order.sort_by_key(|floor| (!is_first(floor), !floor.priced()));
    let names: Vec<&str> = lines.iter().map(|line| text(&line["name"])).collect();
    let wanted: Vec<&str> = order.iter().map(|floor| floor.name.as_str()).collect();
    r.hold("order of the floors on page one", names == wanted, names.join("; "));
    for line in &lines {
        line_of(r, line);
    }
}

pub fn line_of(r: &mut Reader<'_>, line: &Value) {
    let name = text(&line["name"]).to_owned();
    let Some(floor) = r.by_name(&name) else {
        return r.hold("a line is of a floor", false, name);
    };
    let english = !r.papers.given.spanish;
    let price = text(&line["price"]);
    let so = if floor.priced() { cents(price) == floor.total } else { price.is_empty() };
    r.hold("price in a line", so, format!("{name}: {price}"));
    r.hold(
        "a line without a price says why",
        text(&line["why_not"]).is_empty() == floor.priced(),
        &name,
    );
    if english {
        let recommended = r.form["recommended"].as_str() == Some(&floor.key);
        let standing = match (recommended, floor.offered, floor.waits.as_str()) {
            (true, ..) => "Recommended",
            (_, true, _) if floor.standing == "close" => "Offered, close to its limit",
            (_, true, _) => "Offered",
            (.., "test") => "Waits for a test",
            (.., "maker") => "Waits for its maker",
            _ => "Not offered",
        };
        r.hold("standing in a line", line["standing"] == standing, format!("{name}: {line}"));
    }
}

/// The conditions of the offer: exactly the floors that wait, each with its price and its own limit.
pub fn hangs(r: &mut Reader<'_>, hangs: &Value) {
    let waiting = r.waiting();
    let rows = list(&hangs["rows"]);
    let names: Vec<&str> = rows.iter().map(|row| text(&row["name"])).collect();
    let wanted: Vec<&str> = waiting.iter().map(|floor| floor.name.as_str()).collect();
    r.hold("what hangs is what waits", names == wanted, names.join("; "));
    if waiting.is_empty() {
        return;
    }
    let count = |wanted: &str| waiting.iter().filter(|floor| floor.waits == wanted).count();
    let says = text(&hangs["says"]);
    let one = says.starts_with("One floor waits ");
    r.hold("one floor or some", one == (waiting.len() == 1), says);
    r.hold("waits for a test", says.contains("moisture test") == (count("test") > 0), says);
    r.hold("waits for a maker", says.contains(" maker") == (count("maker") > 0), says);
    for (row, floor) in rows.iter().zip(&waiting) {
        r.hold("price of what hangs", cents(text(&row["price"])) == floor.total, row.to_string());
        only_if(r, floor, text(&row["only_if"]));
    }
    let otherwise = text(&hangs["otherwise"]);
    let none_of_them = otherwise.contains("none of them");
    let so = !none_of_them || (r.offered().is_empty() && waiting.len() > 1);
    r.hold("none of them", so, otherwise);
    let single = otherwise.contains("lay it");
    r.hold("it or them", !single || waiting.len() == 1, otherwise);
    let order = text(&hangs["order"]);
    r.hold("a test can be ordered", order.is_empty() == (count("test") == 0), order);
    let price = r.shop.get("testing").and_then(|testing| testing.get("price")?.as_str());
    let price = price.map(super::files::number);
    if let Some(shown) = order.strip_prefix("The test costs ") {
        let so = price.is_some_and(|price| cents(shown) == (price * 100.0).round() as i64);
        r.hold("price of the test", so, order);
    }
}

/// The result that lets a floor be laid: its own limits, and no others.
pub fn only_if(r: &mut Reader<'_>, floor: &Floor, said: &str) {
    let own = &floor.products[0];
    let so = match said {
        "its maker allows it in writing" => floor.waits == "maker",
        "taped plastic sheets come up dry" | "new taped plastic sheets come up dry" => {
            floor.asks() == "plastic-sheet"
        }
        _ if floor.waits == "maker" => false,
        _ => {
            let plain = said.split("; also here: ").next().unwrap_or(said);
            let figures: Vec<&str> = FIGURES.find_iter(plain).map(|found| found.as_str()).collect();
            let of = |way| figures.iter().find(|figure| way_of(figure) == way);
            let both = plain.contains("dishes read at most") == (floor.asks() == "both");
            both && (!figures.is_empty()
                || said == "a test that its data sheet names comes out well")
                && WAYS.into_iter().all(|way| {
                    let key = if way == Way::Dish { "mver-limit" } else { "rh-limit" };
                    match (of(way), own.get(key)) {
                        (Some(shown), Some(_)) => {
                            floor.limit(way).is_some_and(|limit| r.shows(shown, way, limit))
                        }
                        (None, None) => true,
                        _ => false,
                    }
                })
        }
    };
    r.hold("what a floor hangs on is its own limit", so, format!("{}: {said}", floor.name));
}

static FIGURES: LazyLock<Regex> = LazyLock::new(|| pattern(r"[\d.,]+( lb| g|% RH)"));

/// The caution on page one is one about the floor that comes first.
pub fn caution(r: &mut Reader<'_>, caution: &Value) {
    let Some(first) = r.first().filter(|_| caution.is_object()) else { return };
    let title = text(&caution["title"]);
    let about = |finding: &Value| {
        let floor = finding["floor"].as_str().map(str::to_owned);
        finding["severity"] == "caution" && floor.is_none_or(|about| about == first.key)
    };
    let so = list(&r.form["findings"]).iter().any(|f| about(f) && text(&f["title"]) == title);
    r.hold("the caution is about the first floor", so && caution["severity"] == "caution", title);
}
