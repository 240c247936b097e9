//! The ways to go on and the leaf that is signed: order and cells of the comparison, chances, and for each floor
//! that may be signed for its price and its payments.

use std::sync::LazyLock;

use regex::Regex;
use serde_json::Value;

use super::offer::line_of;
use super::page_one::{lacks, sheets_dry};
use super::reader::*;
use super::sums::{lower_first, money, sum};

pub fn read(r: &mut Reader<'_>) {
    accept(r);
    chances(r);
    records(r);
    if !r.papers.given.spanish {
        compare(r);
    }
}

/// Cells and sentences of how a floor stands to the slab, and what the steps of the rule left.
fn compare(r: &mut Reader<'_>) {
    let compare = &r.page["compare"];
    if r.priced().is_empty() {
        r.hold("no comparison without a price", compare.is_null(), compare.to_string());
        let open = list(&r.page["open_ways"]["ways"]);
        return r.hold("what is open without a price", !open.is_empty(), format!("{open:?}"));
    }
    let ways = list(&compare["ways"]);
    let floors = r.compared();
    for (floor, way) in floors.iter().zip(&ways) {
        let so = floor.name == text(&way["name"]);
        r.hold("the comparison has one order", so, way.to_string());
    }
    // To leave the slab is always there, a test where moisture keeps a floor from being laid.
    let tests = r.floors.iter().any(|floor| floor.standing == "over" || floor.waits == "test");
    let so = ways.len() == floors.len() + 1 + usize::from(tests);
    r.hold("the ways without a floor", so, format!("{ways:?}"));
    let aside: Vec<String> =
        list(&compare["not_offered"]).iter().map(|one| text(&one["name"]).to_owned()).collect();
    let wanted: Vec<String> =
        r.floors.iter().filter(|one| !one.priced()).map(|one| one.name.clone()).collect();
    r.hold("what is not offered is a line", aside == wanted, aside.join("; "));
    for row in list(&compare["rows"]) {
        let label = text(&row["label"]).to_owned();
        let so = list(&row["cells"]).len() == ways.len();
        r.hold("a cell for each way", so, row.to_string());
        for (at, floor) in floors.iter().enumerate() {
            let cell = text(&row["cells"][at]);
            match label.as_str() {
                "Your reading and the limit" => cell_of(r, floor, cell),
                "Moisture limit (dish test)" => limit_cell(r, floor, Way::Dish, cell),
                "Moisture limit (probe test)" => limit_cell(r, floor, Way::Probe, cell),
                "Limit taken from" => sheet_cell(r, floor, cell),
                "First coat" => {
                    let own = floor.products[0].get("barrier").and_then(|b| b.as_bool());
                    let so = (cell == "Vapor barrier") == (own == Some(true));
                    r.hold("a first coat that is a barrier", so, cell);
                }
                "Days on site" => {
                    r.hold("days in the comparison", figure(cell) as i64 == floor.days, cell);
                }
                "Usual life" => {
                    let so = cell == format!("{} to {} years", floor.life.0, floor.life.1);
                    r.hold("usual life", so, cell);
                }
                _ => {}
            }
        }
    }
    let leaflet = list(&r.papers.leaflet["floors"]);
    for (at, floor) in r.floors.clone().iter().enumerate() {
        headroom(r, floor, text(&leaflet[at]["headroom"]));
    }
    let steps = list(&r.form["steps"]);
    let deciding: Vec<&Value> = steps
        .iter()
        .filter(|step| list(&step["left"]).len() < list(&step["compared"]).len())
        .collect();
    let said = texts(&compare["steps"]);
    for (step, said) in deciding.iter().zip(&said) {
        let left: Vec<String> = texts(&step["left"]);
        let shown = said.rsplit_once("This leaves ").map_or("", |(_, left)| left);
        let named = r.named(shown.trim_end_matches('.')).unwrap_or_default();
        let named: Vec<String> = named.into_iter().map(|floor| floor.key).collect();
        r.hold("what a step left", named == left || left.is_empty(), said);
    }
}

fn limit_cell(r: &mut Reader<'_>, floor: &Floor, way: Way, cell: &str) {
    let so = match floor.limit(way).filter(|_| floor.own_limit(way).is_some()) {
        Some(limit) => r.shows(cell, way, limit),
        None => cell == "No limit known",
    };
    r.hold("a limit in the comparison", so, format!("{}: {cell}, {:?}", floor.name, floor.limits));
}

fn cell_of(r: &mut Reader<'_>, floor: &Floor, cell: &str) {
    let tested = !r.tests.all.is_empty() || r.form["moisture"]["sheets"].is_object();
    let rooms: Vec<(Way, Room)> =
        WAYS.into_iter().filter_map(|way| Some((way, floor.room(way)?))).collect();
    let left = |(way, room): &(Way, Room)| {
        let left = room.limit - room.reading;
        if *way == Way::Dish && r.metric() { left * GRAMS } else { left }
    };
    let standing = floor.standing.as_str();
    let so = match cell {
        _ if cell.ends_with(" under") => {
            standing == "clear"
                && rooms.iter().any(|one| {
                    (left(one) - figure(cell)).abs() <= 0.51 && r.tests.clear(one.0, one.1.limit)
                })
        }
        "Its limit is the most that can be read" => {
            standing == "clear" && floor.limit(Way::Probe) == Some(100.0)
        }
        "Too close to call" => {
            standing == "close" && rooms.iter().any(|(way, room)| r.tests.near(*way, room.limit))
        }
        "Was over it before" => {
            standing == "close" && rooms.iter().any(|(way, room)| r.tests.was(*way, room.limit))
        }
        "Damp under plastic" => standing == "over" && floor.asks() == "plastic-sheet",
        "Dry under plastic" => {
            standing == "clear" && floor.asks() == "plastic-sheet" && sheets_dry(r)
        }
        "No test called for" => standing == "clear" && floor.asks() == "none-needed",
        "Not settled yet" => standing == "not-judged" && tested && floor.waits != "maker",
        "No limit known" => standing == "not-judged",
        "No reading" => standing == "not-judged" && !tested,
        _ => cell.strip_suffix(" over").is_some_and(|by| {
            standing == "over"
                && figure(by) > 0.0
                && rooms.iter().any(|one| (left(one) + figure(by)).abs() <= 0.51)
        }),
    };
    r.hold(
        "a floor's standing in the comparison",
        so,
        format!("{}: {cell}, {standing} {rooms:?}", floor.name),
    );
}

/// Each data sheet that is named is that of a coat of the floor, with the date that the book notes.
fn sheet_cell(r: &mut Reader<'_>, floor: &Floor, cell: &str) {
    let word = |product: &toml::Table, key: &str| {
        product.get(key).and_then(|value| value.as_str()).map(str::to_owned)
    };
    let known = |said: &str| {
        floor.products.iter().any(|product| {
            let date = word(product, "data-sheet").unwrap_or_else(|| "date not noted".to_owned());
            let name = word(product, "name").unwrap_or_default();
            said == format!("Data sheet of {name}, {date}")
        })
    };
    let stated = [Way::Dish, Way::Probe].iter().any(|way| floor.own_limit(*way).is_some());
    let so = if stated { cell.split("; ").all(known) } else { cell == "No limit known" };
    r.hold("the data sheet of a limit", so, format!("{}: {cell}", floor.name));
}

/// The sentence on the leaflet says how the floor stands.
fn headroom(r: &mut Reader<'_>, floor: &Floor, said: &str) {
    let pairs = [
        (" under its limit of ", "clear"),
        ("too close to its limit of ", "close"),
        ("was over its limit of ", "close"),
        (" over its limit of ", "over"),
        ("was damp under a plastic sheet", "over"),
        ("was dry under a plastic sheet", "clear"),
        ("calls for no moisture test", "clear"),
        ("Not settled yet", "not-judged"),
        ("its data sheet has no limit for ", "not-judged"),
        ("the slab was not tested", "not-judged"),
        ("is the most that can be read", "clear"),
    ];
    let meant = pairs.iter().find(|(sentence, _)| said.contains(sentence));
    let so = meant.is_some_and(|(_, standing)| floor.standing == *standing);
    r.hold("the sentence says how the floor stands", so, format!("{}: {said}", floor.name));
    if let Some((_, what)) = said.split_once("its data sheet has no limit for ") {
        r.hold("no limit in a sentence", lacks(r, floor, what.trim_end_matches('.')), said);
    }
    if let Some((_, limit)) = said.split_once("its limit of ") {
        let so =
            WAYS.into_iter().any(|way| floor.limit(way).is_some_and(|l| r.shows(limit, way, l)));
        r.hold("the limit in a sentence", so, said);
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
    // The shop signs last, and everybody who signs for the house before it.
    let customer = r.job["customer"].as_table().expect("a customer");
    let name = customer["name"].as_str().map(str::to_owned);
    let named = customer.get("signers").and_then(|names| names.as_array());
    let mut signers: Vec<String> =
        named.into_iter().flatten().filter_map(|one| one.as_str().map(str::to_owned)).collect();
    if signers.is_empty() {
        signers.extend(name);
    }
    let lines: Vec<String> = texts(&accept["signatures"]);
    let so = if open {
        lines.len() == signers.len() + 1 && lines.starts_with(&signers)
    } else {
        lines.is_empty()
    };
    r.hold("a line for everybody who signs", so, lines.join("; "));
    if r.papers.given.spanish {
        return;
    }
    let intro = text(&accept["intro"]);
    let so = match intro {
        _ if intro.starts_with("Mark one floor") => !offered.is_empty(),
        _ if intro.starts_with("No floor can be ordered yet. To order") => {
            offered.is_empty() && tests
        }
        _ => intro.is_empty() && !open,
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
        let grid = &shown["grid"];
        r.hold("one denominator", grid.is_null() || grid["all"] == 100, shown.to_string());
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

static RECORD: LazyLock<Regex> = LazyLock::new(|| {
    pattern(concat!(
        r"we have laid ([\d,]+), and ([\d,]+) came loose: (?:about )?(less than 1|none|\d+) in 100\. ",
        r"The true rate may be anywhere from (under 1|\d+) to (\d+) in 100\.$",
    ))
});

/// The shop's own count of a floor: the rate is that of the count, it lies in its range, and the grid
/// shows both.
fn records(r: &mut Reader<'_>) {
    for row in list(&r.page["compare"]["records"]["rows"]) {
        r.hold("one denominator", row["grid"]["all"] == 100, row.to_string());
        if r.papers.given.spanish {
            continue;
        }
        let says = text(&row["says"]);
        let Some(found) = RECORD.captures(says) else {
            r.hold("a record can be read", false, says);
            continue;
        };
        let number = |at: usize| found[at].replace(',', "").parse::<i64>().unwrap_or(-1);
        let (laid, loose, to) = (number(1), number(2), number(5));
        // Where a floor came loose, the true rate is not zero.
        let from = if &found[4] == "under 1" && loose > 0 { 0 } else { number(4) };
        let hundredths = (loose * 200 + laid) / (laid * 2);
        let word = match (loose, hundredths) {
            (0, _) => "none".to_owned(),
            (_, 0) => "less than 1".to_owned(),
            (_, n) => n.to_string(),
        };
        r.hold("the rate of a count", found[3] == word, says);
        r.hold("a rate in its range", from <= hundredths && hundredths <= to, says);
        let marked = row["grid"]["marked"].as_i64().unwrap_or(-1);
        let maybe = row["grid"]["maybe"].as_i64().unwrap_or(-1);
        r.hold("a grid of a count", (marked, marked + maybe) == (hundredths, to), row.to_string());
    }
}

static AMOUNT: LazyLock<Regex> = LazyLock::new(|| pattern(r"-?[$€][\d,]+(?:\.\d\d)?"));

/// Cents of an amount that may have none.
fn amount(printed: &str) -> i64 {
    if printed.contains('.') { cents(printed) } else { cents(printed) * 100 }
}
