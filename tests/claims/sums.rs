//! Sums: prices in cents, payments, films and areas as they are printed. Most of it reads figures
//! and positions alone, in any language.

use serde_json::Value;

use super::offer::only_if;
use super::reader::*;

pub fn read(r: &mut Reader<'_>) {
    prices(r);
    payments(r);
    layers(r);
    leaflet_prices(r);
    if !r.papers.given.spanish {
        areas(r);
        timing(r);
    }
}

pub fn sum(lines: &[Value]) -> i64 {
    lines.iter().map(|line| cents(text(&line["amount"]))).sum()
}

pub fn money(value: &Value) -> i64 {
    cents(text(value))
}

fn prices(r: &mut Reader<'_>) {
    let tables = list(&r.page["plan"]["prices"]);
    let priced = r.priced();
    let names: Vec<&str> = tables.iter().map(|table| text(&table["name"])).collect();
    let wanted: Vec<&str> = priced.iter().map(|floor| floor.name.as_str()).collect();
    r.hold("price tables are of the floors with a price", names == wanted, names.join("; "));
    for (table, floor) in tables.iter().zip(&priced) {
        let lines = list(&table["lines"]);
        let total = cents(text(&table["total"]["amount"]));
        r.hold("price lines sum to the total", sum(&lines) == total, table.to_string());
        r.hold("the total is the price of page one", total == floor.total, table.to_string());
        let offer = &floor.json["offer"];
        let tax = money(&offer["tax"]);
        let parts = money(&offer["floor_price"])
            + list(&offer["extras"]).iter().map(|extra| money(&extra["price"])).sum::<i64>();
        r.hold("the results sum to their total", parts + tax == floor.total, offer.to_string());
        let could: Vec<i64> =
            list(&offer["could_add"]).iter().map(|extra| money(&extra["adds"])).collect();
        let shown: Vec<i64> =
            list(&table["extras"]).iter().map(|line| cents(text(&line["amount"]))).collect();
        r.hold("extras that could be added", could == shown, table.to_string());
        let says = text(&table["only_if"]).to_owned();
        r.hold("a price hangs on what it waits for", says.is_empty() == floor.offered, &says);
        if !r.papers.given.spanish
            && let Some(what) = says.strip_prefix("Only if ")
        {
            only_if(r, floor, what.trim_end_matches('.'));
        }
    }
    let taxed = r.floors.iter().any(|floor| money_or_zero(&floor.json["offer"]["tax"]) > 0);
    if !r.papers.given.spanish && !priced.is_empty() {
        let label = text(&r.page["compare"]["rows"][0]["label"]).to_owned();
        r.hold("price with tax", !taxed || label == "Price with tax", label);
    }
    let rows = list(&r.page["compare"]["rows"]);
    let cells = rows.first().map_or(vec![], |row| list(&row["cells"]));
    for (cell, floor) in cells.iter().zip(&r.compared()) {
        r.hold("price in the comparison", cents(text(cell)) == floor.total, text(cell));
    }
}

fn money_or_zero(value: &Value) -> i64 {
    value.as_str().map_or(0, cents)
}

fn payments(r: &mut Reader<'_>) {
    let lines = list(&r.page["plan"]["payments"]);
    let recommended = r.offered().into_iter().find(|floor| floor.json["recommended"] == true);
    match recommended {
        Some(floor) => {
            r.hold("payments sum to the total", sum(&lines) == floor.total, format!("{lines:?}"));
            let known: Vec<i64> =
                list(&r.form["payments"]).iter().map(|one| money(&one["amount"])).collect();
            let shown: Vec<i64> = lines.iter().map(|one| cents(text(&one["amount"]))).collect();
            r.hold("payments are those of the results", known == shown, format!("{lines:?}"));
        }
        None => r.hold("no payments for what waits", lines.is_empty(), format!("{lines:?}")),
    }
}

/// Films as printed sum to what is printed of all; each is that of the results.
fn layers(r: &mut Reader<'_>) {
    let stacks = list(&r.page["layers"]["stacks"]);
    r.hold("a stack for each floor with a price", stacks.len() == r.priced().len(), "stacks");
    let leaflet = list(&r.papers.leaflet["floors"]);
    for (at, floor) in r.floors.clone().iter().enumerate() {
        // The leaflet draws every floor, the proposal those with a price.
        let Some(stack) = stacks.iter().find(|stack| stack["name"] == leaflet[at]["name"]) else {
            continue;
        };
        let coats: Vec<String> = list(&stack["coats"])
            .iter()
            .map(|coat| text(&coat["thickness"]).to_owned())
            .filter(|thickness| !thickness.is_empty())
            .collect();
        let all: f64 = coats.iter().map(|coat| figure(coat)).sum();
        let total = text(&stack["total"]);
        let so = (figure(total) - all).abs() < 0.051;
        r.hold("films sum to their total", so, format!("{coats:?}: {total}"));
        let unit = if r.metric() { 1.0 } else { 25.4 };
        let known = list(&floor.json["coats"]);
        for (coat, shown) in known.iter().rev().zip(&coats) {
            let film = coat["thickness_um"].as_f64().unwrap_or(f64::NAN) / unit;
            let half = match (r.metric(), film) {
                (false, film) if film < 10.0 => 0.051,
                (false, _) => 0.501,
                (true, film) if film < 100.0 => 2.51,
                (true, _) => 5.01,
            };
            let so = (film - figure(shown)).abs() <= half;
            r.hold("a film is that of the results", so, format!("{film}: {shown}"));
        }
    }
}

pub fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_lowercase().chain(chars).collect())
}

fn leaflet_prices(r: &mut Reader<'_>) {
    for (shown, floor) in list(&r.papers.leaflet["floors"]).iter().zip(&r.floors.clone()) {
        let facts = list(&shown["facts"]);
        r.hold("leaflet names", shown["name"] == floor.name.as_str() || r.papers.given.spanish, "");
        r.hold("leaflet has facts of priced floors", facts.is_empty() != floor.priced(), "facts");
        if let Some(price) = facts.get(2) {
            let so = cents(text(&price["value"])) == floor.total;
            r.hold("price in the leaflet", so, price.to_string());
        }
        let mark = text(&shown["mark"]);
        let close = floor.offered && floor.standing == "close";
        let near = ["Offered, close to its limit", "Se ofrece, cerca de su límite"];
        let offered = mark.is_empty() || (close && near.contains(&mark));
        r.hold(
            "leaflet marks what is not offered",
            offered == floor.offered,
            shown["mark"].to_string(),
        );
        let why = text(&shown["why_not"]).is_empty();
        r.hold("leaflet says why", why == floor.priced(), shown["why_not"].to_string());
    }
}

/// The floor line of each price is what was measured: flat and upright as printed on the page of the slab.
fn areas(r: &mut Reader<'_>) {
    let facts = list(&r.page["slab"]["facts"]);
    let flat = figure(text(&facts[0]["value"]));
    let upright = if ["Low walls and steps", "Muros bajos"].contains(&text(&facts[1]["label"])) {
        figure(text(&facts[1]["value"]))
    } else {
        0.0
    };
    for table in list(&r.page["plan"]["prices"]) {
        let label = text(&table["lines"][0]["label"]).to_owned();
        let shown = label.rsplit_once(", ").map_or("", |(_, area)| area);
        let shown = label.rfind(" sq ft").map_or(shown, |_| shown);
        let so = (figure(shown) - flat - upright).abs() < 0.051;
        r.hold("areas sum as printed", so, format!("{label}: {flat} and {upright}"));
    }
    let (by, half) = if r.metric() { (1.0, 0.051) } else { (10.763_910_4, 0.51) };
    let known = r.form["take_off"]["floor_m2"].as_f64().unwrap_or(f64::NAN) * by;
    r.hold("the area is that of the results", (known - flat).abs() <= half, format!("{flat}"));
}

/// No car before the last day of work, walking before driving.
fn timing(r: &mut Reader<'_>) {
    for floor in r.priced() {
        let offer = &floor.json["offer"];
        let at = |name: &str| {
            let moment = &offer[name];
            int(&moment["day"]) as f64 * 24.0 + moment["hour"].as_f64().unwrap_or(f64::NAN)
        };
        let so = at("walk") <= at("carry") && at("carry") <= at("drive");
        r.hold("walk, carry, drive in their order", so, offer.to_string());
        r.hold("car after work", int(&offer["drive"]["day"]) >= floor.days, offer.to_string());
    }
}
