//! The findings on the slab: figures of the visit, charts, what could not be known, when work starts.

use std::sync::LazyLock;

use regex::Regex;
use serde_json::Value;

use super::reader::*;

pub fn read(r: &mut Reader<'_>) {
    moisture_on_page_one(r);
    unknown_of(r, &texts(&r.page["glance"]["unknown"]));
    unknown_of(r, &texts(&r.papers.leaflet["unknown"]));
    no_promise(r);
    start(r);
    for chart in list(&r.page["slab"]["moisture"]) {
        chart_of(r, &chart);
    }
    notes(r);
}

/// The readings of a way of testing that count.
fn counting(r: &Reader<'_>, way: Way) -> usize {
    r.tests.counting(way).len()
}

/// Page one draws the highest reading that counts of each way of testing against the limits of the floors, and says in
/// words how they stand; without one it says what is known.
fn moisture_on_page_one(r: &mut Reader<'_>) {
    let bars = list(&r.page["glance"]["bars"]);
    for bar in &bars {
        let shown = text(&bar["reading"]).strip_prefix("Your slab: ").unwrap_or_default();
        let way = way_of(shown);
        let top = r.tests.highest(way).cloned();
        let so = top.is_some_and(|top| r.shows(shown, way, top.value));
        r.hold("the highest reading on page one", so, bar.to_string());
        let limited: Vec<Floor> =
            r.floors.iter().filter(|floor| floor.room(way).is_some()).cloned().collect();
        let labels: Vec<String> =
            list(&bar["limits"]).iter().map(|limit| text(&limit["label"]).to_owned()).collect();
        let limit_of = |label: &str| label.split(": ").next().unwrap_or_default().to_owned();
        let so = limited.iter().all(|floor| {
            let limit = floor.room(way).map_or(f64::NAN, |room| room.limit);
            labels.iter().filter(|label| r.shows(&limit_of(label), way, limit)).count() == 1
        });
        let told = labels.iter().all(|label| {
            limited.iter().any(|floor| {
                floor.room(way).is_some_and(|room| r.shows(&limit_of(label), way, room.limit))
            })
        });
        r.hold("each limit has its bar on page one", so && told, bar.to_string());
        let json = if way == Way::Dish { "dishes" } else { "probes" };
        let any = |standing: &str| {
            limited.iter().any(|floor| floor.json["moisture"][json]["standing"] == standing)
        };
        let caption = text(&bar["caption"]);
        for (words, so) in [
            ("ends before the line", any("over")),
            ("Where one ends near the line", !any("over") && any("close")),
            ("do not settle", !any("over") && !any("close") && any("not-judged")),
            ("past the line", !any("over") && !any("close") && !any("not-judged")),
        ] {
            r.hold("the meaning of the bars", caption.contains(words) == so, caption);
        }
    }
    let drawn =
        |way: Way| counting(r, way) > 0 && r.floors.iter().any(|floor| floor.room(way).is_some());
    let wanted = WAYS.into_iter().filter(|way| drawn(*way)).count();
    r.hold(
        "a bar for each way of testing",
        bars.len() == wanted,
        r.page["glance"]["bars"].to_string(),
    );
    let said = texts(&r.page["glance"]["moisture_notes"]).join(" ");
    if bars.is_empty() {
        let sheets = &r.form["moisture"]["sheets"];
        let counts = list(&sheets["readings"])
            .iter()
            .any(|one| ["latest", "unanswered"].contains(&text(&one["part"])));
        let untested = r.tests.all.is_empty() && !sheets.is_object();
        let none = WAYS.into_iter().all(|way| counting(r, way) == 0);
        let so = said.contains("We have no moisture test") == untested
            && said.contains("No moisture reading of this slab counts")
                == (!untested && none && !counts)
            && said.contains("taped to the slab") == counts;
        r.hold("what is said where no reading counts", so, &said);
    } else {
        r.hold("a picture needs no such words", said.is_empty(), said);
    }
}

/// Faults that may make a reading read low.
fn may_read_low(fault: &Value) -> bool {
    match text(&fault["fault"]) {
        "too-few-tests" | "coarse-scale" => false,
        "room-outside" => fault["may_read_low"] == true,
        "depth" => fault["depth_mm"].as_f64() < fault["needed_mm"].as_f64(),
        _ => true,
    }
}

static AGE: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"^The last moisture test is (\d+) days old \((.+?)\)\. A slab can be damper or drier by now\.$",
    )
});

fn unknown_of(r: &mut Reader<'_>, said: &[String]) {
    let all = said.join(" ");
    let faults: Vec<Value> = ["dishes", "probes", "sheets"]
        .iter()
        .flat_map(|kind| list(&r.form["moisture"][kind]["faults"]))
        .collect();
    let low = faults.iter().any(may_read_low);
    let says = all.contains("did not follow its method in every point");
    r.hold("not to its method", says == low, &all);
    let few = faults.iter().any(|fault| fault["fault"] == "too-few-tests");
    r.hold("fewer spots", all.contains("We tested fewer spots") == few, &all);
    let sheets = list(&r.form["moisture"]["sheets"]["readings"]);
    let sheets = sheets
        .iter()
        .filter(|one| ["latest", "unanswered"].contains(&text(&one["part"])))
        .filter_map(|one| text(&one["to"]).parse().ok());
    let last = r.tests.last().or(sheets.max());
    let age = last.and_then(|last| last.date().until(r.date()).ok()).map(|age| age.get_days());
    let told = said.iter().find_map(|one| AGE.captures(one));
    match told {
        Some(found) => {
            let so = age.is_some_and(|age| age > 30 && found[1] == age.to_string())
                && day(&found[2]) == last.map(|last| last.date());
            r.hold("age of the last reading", so, &found[0]);
        }
        None => r.hold("an old reading has its age", age.is_none_or(|age| age <= 30), &all),
    }
    let tested = !r.tests.all.is_empty() || r.form["moisture"]["sheets"].is_object();
    let untested = all.contains("We have no moisture test, so");
    r.hold("no test at all", !untested || !tested, &all);
    let sheet = all.contains("We could not tell if a plastic sheet lies under your slab");
    r.hold("a sheet that is known is not unknown", !sheet || !r.sheet_known(), &all);
    let air = all.contains("We have not measured the air");
    r.hold("air that was measured is not unknown", !air || r.form["air"].is_null(), &all);
    let later = list(&r.form["moisture"]["dishes"]["readings"])
        .iter()
        .chain(&list(&r.form["moisture"]["probes"]["readings"]))
        .any(|one| text(&one["to"]).get(..10) > r.form["date"].as_str());
    r.hold("no reading after the paper", !later, "dates");
}

/// A low reading promises nothing: said of the floor that comes first, and in the leaflet of any
/// floor without a barrier.
fn no_promise(r: &mut Reader<'_>) {
    let tested = !r.tests.all.is_empty() || r.form["moisture"]["sheets"].is_object();
    let said = texts(&r.page["glance"]["unknown"]).join(" ");
    let bare = r.first().is_some_and(|first| !first.barrier);
    let says = said.contains("This floor has no barrier.");
    r.hold("no barrier", says == (bare && tested && r.on_ground()), &said);
    let said = texts(&r.papers.leaflet["unknown"]).join(" ");
    let bare = r.priced().iter().any(|floor| !floor.barrier);
    let says = said.contains("A floor without a barrier depends on it.");
    r.hold("no barrier in the leaflet", says == (bare && tested && r.on_ground()), &said);
    r.hold("the leaflet speaks of no floor as this one", !said.contains("This floor"), &said);
}

/// Measurements that no coat would stand, and only those, with when work starts all the same.
fn start(r: &mut Reader<'_>) {
    let said = texts(&r.page["glance"]["start"]);
    let air = r.form["air"].clone();
    if r.first().is_none() || air.is_null() {
        return r.hold("no start without air and floor", said.is_empty(), said.join(" "));
    }
    let all = said.join(" ");
    let again = said.iter().all(|one| one.contains("We start only"));
    r.hold("we start only when it has changed", again, &all);
    let value = |name: &str| air[name].as_f64().unwrap_or(f64::NAN);
    // 5 F above the dew point: MIL-HDBK-1110, 9.6.6; at the limit up to 1 F more, which a thermometer may
    // be off (from memory).
    let spread = value("slab_above_dew_point_k");
    let (need, off, slack) = (5.0 / 1.8, 1.0 / 1.8, 1e-3);
    let says = all.contains("dew point");
    let so = if says { spread < need + off + slack } else { spread > need + off - slack };
    r.hold("near the dew point", so, format!("{spread} K: {all}"));
    for (words, from, to) in [
        ("at its dew point limit", need, need + off),
        ("too near the dew point", 0.0, need),
        ("wetting the slab", f64::NEG_INFINITY, 0.0),
    ] {
        let so = !all.contains(words) || (spread > from - slack && spread < to + slack);
        r.hold("how near the dew point", so, format!("{spread} K: {all}"));
    }
    let slab = value("slab_c");
    let celsius = |shown: &str| {
        let number = super::files::number(shown);
        if shown.ends_with('F') { (number - 32.0) / 1.8 } else { number }
    };
    let priced = r.priced();
    let coats: Vec<(f64, f64)> = priced
        .iter()
        .flat_map(|floor| floor.products.iter())
        .filter_map(|p| Some((p.get("slab-from")?.as_str()?, p.get("slab-to")?.as_str()?)))
        .map(|(from, to)| (celsius(from), celsius(to)))
        .collect();
    for (word, off) in [
        ("too cold", coats.iter().any(|(from, _)| slab < from - 0.01)),
        ("too warm", coats.iter().any(|(_, to)| slab > to + 0.01)),
    ] {
        r.hold("too cold or too warm", all.contains(word) == off, format!("{slab} C: {all}"));
    }
}

static CAPTION: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"^(?:The reading is|The highest of (\d+) readings is) ([\d.,]+(?: lb| g|% RH)), (.+?)\.( We go by the highest, not the average\.)?( Readings in gray were void, or a later one at that spot followed\.)? The bracket",
    )
});

fn chart_of(r: &mut Reader<'_>, chart: &Value) {
    let way = if text(&chart["title"]).contains("F1869") { Way::Dish } else { Way::Probe };
    let readings = list(&chart["readings"]);
    let highest: Vec<&Value> = readings.iter().filter(|one| one["highest"] == true).collect();
    let counts = counting(r, way);
    if counts > 0 {
        let faded = highest.iter().any(|one| one["faded"] == true);
        let top = r.tests.highest(way).cloned();
        let so = highest.len() == 1
            && !faded
            && top.is_some_and(|top| r.shows(text(&highest[0]["value"]), way, top.value));
        r.hold("the highest in a chart counts and is the highest", so, chart.to_string());
        let caption = text(&chart["caption"]);
        let so = CAPTION.captures(caption).is_some_and(|found| {
            let count = found.get(1).map_or(1, |count| figure(count.as_str()) as usize);
            let gray = found.get(5).is_some();
            // The leaflet draws the highest alone.
            let drawn = readings.len();
            let top = r.tests.highest(way).is_some_and(|one| {
                r.shows(&found[2], way, one.value)
                    && r.tests
                        .counting(way)
                        .iter()
                        .any(|o| o.place == found[3] && (o.value - one.value).abs() < 1e-6)
            });
            count == counts && gray == (drawn > counts) && top
        });
        r.hold("the caption of a chart", so, caption);
    }
    let half = 0.5 + 1e-9;
    for line in list(&chart["limits"]) {
        let Some(floor) = r.by_name(text(&line["label"])) else {
            r.hold("a limit is of a floor", false, line.to_string());
            continue;
        };
        let Some(room) = floor.room(way) else {
            r.hold("a limit that is drawn is known", false, line.to_string());
            continue;
        };
        r.hold(
            "a limit as drawn",
            r.shows(text(&line["value"]), way, room.limit),
            line.to_string(),
        );
        let json = if way == Way::Dish { "dishes" } else { "probes" };
        let standing = text(&floor.json["moisture"][json]["standing"]);
        let words = text(&line["words"]);
        let left = room.limit - room.reading;
        let left = if way == Way::Dish && r.metric() { left * GRAMS } else { left };
        let so = match words {
            _ if words.ends_with(" under") => {
                standing == "clear"
                    && left > 0.0
                    && (figure(words) - left).abs() <= half
                    && figure(words) > 0.0
            }
            "The most that can be read" => standing == "clear" && left <= 0.0,
            "Too close to call" => standing == "close" && r.tests.near(way, room.limit),
            "Was over it before" => standing == "close" && r.tests.was(way, room.limit),
            "Not settled yet" => standing == "not-judged",
            _ => match words.strip_suffix(" over") {
                Some(by) => {
                    standing == "over" && (figure(by) + left).abs() <= half && figure(by) > 0.0
                }
                None => false,
            },
        };
        r.hold("words at a limit", so && line["standing"] == standing, format!("{line} {room:?}"));
    }
}

/// The sentences before the readings are compared.
fn notes(r: &mut Reader<'_>) {
    let all = texts(&r.page["slab"]["moisture_notes"]).join(" ");
    let tested = !r.tests.all.is_empty() || r.form["moisture"]["sheets"].is_object();
    r.hold(
        "no test is said where there is none",
        all.contains("We have no moisture test") != tested,
        &all,
    );
    let sheets = list(&r.form["moisture"]["sheets"]["readings"]);
    let standing: Vec<&Value> = sheets
        .iter()
        .filter(|one| ["latest", "unanswered"].contains(&text(&one["part"])))
        .collect();
    if let Some((before, _)) = all.split_once(" taped to the slab (ASTM D4263).") {
        let so = match before.strip_suffix(" plastic sheets were") {
            Some(count) => figure(count) as usize == standing.len() && standing.len() > 1,
            None => before.ends_with("One plastic sheet was") && standing.len() == 1,
        };
        r.hold("so many sheets", so, &all);
        let damp = standing.iter().filter(|one| one["damp"] == true).count();
        let so = match damp {
            0 => all.contains(" came up dry."),
            _ if damp == standing.len() => {
                all.contains(" came up damp.") && !all.contains(" of them")
            }
            damp => all.contains(&format!("{damp} of them came up damp.")),
        };
        r.hold("dry or damp sheets", so, &all);
    }
}
