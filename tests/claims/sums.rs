//! Sums: prices in cents, payments, films and areas as they are printed. Most of it reads figures
//! and positions alone, in any language.

use std::sync::LazyLock;

use regex::Regex;
use serde_json::Value;

use super::offer::{line_of, only_if};
use super::reader::*;

pub fn read(r: &mut Reader<'_>) {
    prices(r);
    payments(r);
    layers(r);
    accept(r);
    chances(r);
    leaflet_prices(r);
    if !r.papers.given.spanish {
        areas(r);
        timing(r);
    }
}

fn sum(lines: &[Value]) -> i64 {
    lines.iter().map(|line| cents(text(&line["amount"]))).sum()
}

fn money(value: &Value) -> i64 {
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
    let cells = list(&rows[0]["cells"]);
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
    r.hold("a stack for each floor", stacks.len() == r.floors.len(), "stacks");
    let leaflet = list(&r.papers.leaflet["floors"]);
    for (at, floor) in r.floors.clone().iter().enumerate() {
        let coats: Vec<String> = list(&stacks[at]["coats"])
            .iter()
            .map(|coat| text(&coat["thickness"]).to_owned())
            .filter(|thickness| !thickness.is_empty())
            .collect();
        let all: f64 = coats.iter().map(|coat| figure(coat)).sum();
        for total in [&stacks[at]["total"], &leaflet[at]["total"]] {
            let so = (figure(text(total)) - all).abs() < 0.051;
            r.hold("films sum to their total", so, format!("{coats:?}: {total}"));
        }
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

/// The page that is signed: exactly what is offered, and a test where a floor waits for one.
fn accept(r: &mut Reader<'_>) {
    let accept = &r.page["accept"];
    let lines = list(&accept["options"]);
    let mut names: Vec<&str> = lines.iter().map(|line| text(&line["name"])).collect();
    let offered = r.offered();
    let mut wanted: Vec<&str> = offered.iter().map(|floor| floor.name.as_str()).collect();
    let first = names.first().copied().unwrap_or_default();
    let led = r.first().is_none_or(|floor| !floor.offered || floor.name == first);
    r.hold("the recommended floor stands first where it is signed", led, first);
    names.sort_unstable();
    wanted.sort_unstable();
    r.hold("what can be signed for is what is offered", names == wanted, names.join("; "));
    for line in &lines {
        line_of(r, line);
        let payments = list(&line["payments"]);
        let so = sum(&payments) == cents(text(&line["price"]));
        r.hold("payments of a floor sum to its price", so, line.to_string());
    }
    let tests = r.waiting().iter().any(|floor| floor.waits == "test");
    r.hold("a test to tick where a floor waits for one", accept["test"].is_object() == tests, "");
    let open = !offered.is_empty() || tests;
    let signed = !list(&accept["signatures"]).is_empty();
    r.hold("nothing to sign where nothing can be ordered", signed == open, "signatures");
    r.hold("open", accept["open"] == open, "open");
    if r.papers.given.spanish {
        return;
    }
    let intro = text(&accept["intro"]);
    let so = match intro {
        _ if intro.starts_with("Mark one floor") => !offered.is_empty(),
        _ if intro.starts_with("No floor can be ordered yet. To order") => {
            offered.is_empty() && tests
        }
        _ if intro.contains("First we ask the maker") => !open && r.first().is_some(),
        _ if intro.contains("There is nothing to sign yet.") => r.first().is_none(),
        _ => false,
    };
    r.hold("the page that is signed opens as it is", so, intro);
    hanging(r, text(&accept["hangs"]));
}

static HANGING: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"^(.+?) cannot be ordered yet\. (Mark the moisture test to find out|We ask (?:its|their) maker first)[^.]*\. ?",
    )
});

/// Each floor that waits is named once, with what it waits for.
fn hanging(r: &mut Reader<'_>, said: &str) {
    let offered = !r.offered().is_empty();
    let mut rest = said;
    let mut named = 0;
    while let Some(found) = HANGING.captures(rest) {
        rest = &rest[found[0].len()..];
        let list = lower_first(&found[1]);
        let wanted = if found[2].starts_with("Mark") { "test" } else { "maker" };
        let floors = r.named(&list).unwrap_or_default();
        let so = !floors.is_empty() && floors.iter().all(|floor| floor.waits == wanted);
        r.hold("a floor waits for what is said", so, said);
        named += floors.len();
    }
    let all = r.waiting().len();
    let so = rest.is_empty() && (said.is_empty() || named == all);
    r.hold("all that cannot be ordered is named", so && (!offered || named == all), said);
}

pub fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_lowercase().chain(chars).collect())
}

/// A chance as it is said, drawn and worked out: extra over redo.
fn chances(r: &mut Reader<'_>) {
    let shown = list(&r.page["compare"]["even"]);
    let known = list(&r.form["even_chances"]);
    r.hold("each pair once", shown.len() == known.len(), "even");
    for (shown, known) in shown.iter().zip(&known) {
        let (plain, barrier) = (text(&known["plain"]), text(&known["barrier"]));
        let of = |key: &str| r.floors.iter().find(|floor| floor.key == key).cloned();
        let Some((plain, barrier)) = of(plain).zip(of(barrier)) else { continue };
        let extra = barrier.total - plain.total;
        r.hold("extra price", money(&known["extra"]) == extra, known.to_string());
        r.hold("a barrier beside none", barrier.barrier && !plain.barrier, known.to_string());
        let redo = money(&known["redo"]);
        let marked = shown["grid"]["marked"].as_i64().unwrap_or(0);
        // Whole numbers, since a half is rounded up: 28.5 of a hundred are 29.
        let hundredths = (extra * 200 + redo).checked_div(redo * 2).unwrap_or(0);
        let even = known["chance"]["answer"] == "even";
        let so = if even { marked == hundredths } else { marked == 0 };
        r.hold("so many of a hundred", so && (extra > 0 || !even), shown.to_string());
        let grids = [&shown["grid"], &shown["record"]["grid"]];
        let so = grids.iter().all(|grid| grid.is_null() || grid["all"] == 100);
        r.hold("one denominator", so, shown.to_string());
        if r.papers.given.spanish {
            continue;
        }
        let says = text(&shown["says"]);
        let chance = text(&shown["chance"]);
        let so = match (even, extra > 0) {
            (true, _) if hundredths == 0 => chance == "Less than 1 in 100",
            (true, _) => chance == format!("About {hundredths} in 100"),
            (_, false) => chance == "No extra cost",
            _ => chance == "Never" && extra >= redo,
        };
        r.hold("the chance in words", so, chance);
        let amounts: Vec<i64> = AMOUNT.find_iter(says).map(|one| amount(one.as_str())).collect();
        let so = match amounts.as_slice() {
            [shown, redo_shown] => *shown == extra && *redo_shown == redo,
            [] => extra <= 0,
            _ => false,
        };
        r.hold("amounts of an even chance", so, says);
        let parts: Vec<i64> =
            list(&shown["redo"]).iter().map(|one| amount(text(&one["amount"]))).collect();
        let so = match parts.as_slice() {
            [floor, strip, all] => floor + strip == *all && *all == redo,
            parts => parts.is_empty(),
        };
        r.hold("the parts of doing it over", so, format!("{parts:?}"));
    }
}

static AMOUNT: LazyLock<Regex> = LazyLock::new(|| pattern(r"-?[$€][\d,]+(?:\.\d\d)?"));

/// Cents of an amount that may have none.
fn amount(printed: &str) -> i64 {
    if printed.contains('.') { cents(printed) } else { cents(printed) * 100 }
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

/// The floor line of each price is what page one says was measured: flat and upright as printed.
fn areas(r: &mut Reader<'_>) {
    let area = r.page["glance"]["found"][2].clone();
    let flat = figure(text(&area["value"]));
    let note = text(&area["note"]);
    let upright = note.strip_prefix("and ").map_or(0.0, figure);
    for table in list(&r.page["plan"]["prices"]) {
        let label = text(&table["lines"][0]["label"]).to_owned();
        let shown = label.rsplit_once(", ").map_or("", |(_, area)| area);
        let shown = label.rfind(" sq ft").map_or(shown, |_| shown);
        let so = (figure(shown) - flat - upright).abs() < 0.051;
        r.hold("areas sum as printed", so, format!("{label}: {area}"));
    }
    let (by, half) = if r.metric() { (1.0, 0.051) } else { (10.763_910_4, 0.51) };
    let known = r.form["take_off"]["floor_m2"].as_f64().unwrap_or(f64::NAN) * by;
    r.hold("the area is that of the results", (known - flat).abs() <= half, area.to_string());
    let facts = list(&r.page["slab"]["facts"]);
    r.hold("both pages have one area", facts[0]["value"] == area["value"], area.to_string());
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
