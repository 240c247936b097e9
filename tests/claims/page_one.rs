//! Page one: the headline, the reason and the three answers.

use std::sync::LazyLock;

use jiff::civil::Date;
use regex::{Captures, Regex};
use serde_json::Value;

use super::offer::{caution, hangs, options};
use super::reader::*;

/// A sentence of the reason, by the name that its claim has here.
struct Sentence {
    claim: &'static str,
    pattern: Regex,
}

static REASONS: LazyLock<Vec<Sentence>> = LazyLock::new(|| {
    let all: &[(&str, &str)] = &[
        (
            "reason clear",
            r"Your slab read at most (.+?), clearly under this floor’s moisture limit of (.+?)\.",
        ),
        (
            "reason full",
            r"The highest reading in your slab is (.+?)\. This floor’s limit is (.+?), and no test of this kind can read more\.",
        ),
        (
            "reason near",
            r"The highest reading, (.+?), is under this floor’s limit of (.+?), but by less than the test can tell\.",
        ),
        (
            "reason was",
            r"On (\w+ \d+, \d+) your slab read (.+?) \((.+?)\), over this floor’s limit of (.+?)\. It has read lower there since\.",
        ),
        ("reason none needed", r"Its data sheet calls for no moisture test\."),
        (
            "reason sheet",
            r"A plastic sheet taped to your slab came up dry\. That is the test this floor’s maker calls for\.",
        ),
        (
            "reason test",
            r"For now our first choice is (.+?)\. We do not lay it until a moisture test shows that the slab is dry enough for it\.",
        ),
        (
            "reason maker",
            r"For now our first choice is (.+?)\. But its data sheet has no limit for (a test that we made|a test that it calls for|moisture)\. So we ask its maker first, in writing\.",
        ),
        ("reason only named", r"It is the floor you asked about\."),
        (
            "reason only",
            r"Of the floors we compared, it is the only one that (may still fit|we can offer for) this slab as it is\.",
        ),
        (
            "reason better known",
            r"From what we know of the moisture here, we are less sure of ([^.]+)\.",
        ),
        (
            "reason close",
            r"The reading is too close to the limit of (.+?) to tell which side it is on\.",
        ),
        (
            "reason barrier",
            r"Unlike (.+?), it has a vapor barrier, in case the slab is damper than we know\.",
        ),
        ("reason sooner", r"You can park on it sooner than on ([^.]+?)(, as you asked)?\."),
        ("reason lasts longer", r"It usually lasts longer than ([^.]+?)(, as you asked)?\."),
        (
            "reason more room",
            r"It has more room below its moisture limit than ([^.]+?)(, as you asked)?\.",
        ),
        ("reason costs less", r"It costs less than ([^.]+?)(, as you asked)?\."),
        (
            "reason no amber",
            r"Unlike (.+?), it has no coat in daylight that turns amber\.( You asked for that\.)?",
        ),
        (
            "reason against",
            r"On your slab, one point speaks against (.+?) and not against this floor: ([^.]+)\.",
        ),
        (
            "reason by rule",
            r"By our rule it comes before ([^.]+)\. This proposal shows the rule and its steps\.",
        ),
        ("reason first named", r"It ties with ([^.]+)\. We name the one you asked about first\."),
    ];
    let sentence = |(claim, text): &(&'static str, &str)| Sentence {
        claim,
        pattern: pattern(&format!("^{text} ?")),
    };
    all.iter().map(sentence).collect()
});

static HEADLINE: LazyLock<Regex> =
    LazyLock::new(|| pattern("^We recommend (.+?)(, and it is a close call)?$"));

pub fn read(r: &mut Reader<'_>) {
    let glance = &r.page["glance"];
    headline(r, text(&glance["headline"]));
    reason(r, text(&glance["reason"]));
    answers(r);
    options(r, &glance["options"]);
    hangs(r, &glance["hangs"]);
    caution(r, &glance["caution"]);
}

fn headline(r: &mut Reader<'_>, said: &str) {
    let first = r.first();
    let tests = r.tests.clone();
    if let Some(found) = HEADLINE.captures(said) {
        let Some(floor) = r.by_name(&found[1]) else {
            return r.hold("headline names a floor", false, said);
        };
        let is_first = first.is_some_and(|first| first.key == floor.key);
        let recommended = r.form["recommended"].as_str() == Some(&floor.key);
        r.hold("recommended is offered and first", floor.offered && is_first && recommended, said);
        let close = found.get(2).is_some();
        r.hold("close call", close == (floor.standing == "close"), said);
        let judged = ["clear", "close"].contains(&floor.standing.as_str());
        r.hold("recommended is judged", judged, &floor.standing);
        // By the file alone: some test that the data sheet has a limit for settles it.
        let by_sheet = floor.asks() == "plastic-sheet" && sheets_dry(r);
        let needs_none = floor.barrier && floor.asks() == "none-needed";
        let limits: Vec<(Way, f64)> =
            WAYS.into_iter().filter_map(|way| Some((way, floor.limit(way)?))).collect();
        let settled = limits.iter().any(|(way, limit)| tests.enough(*way, *limit));
        let over = limits.iter().any(|(way, limit)| tests.over(*way, *limit));
        r.hold("recommended by evidence", (by_sheet || needs_none || settled) && !over, said);
        let clear = limits.iter().any(|(way, limit)| tests.clear(*way, *limit));
        let near = limits.iter().any(|(w, l)| tests.near(*w, *l) || tests.was(*w, *l));
        r.hold(
            "clear by evidence",
            close || ((by_sheet || needs_none || clear) && !near),
            format!("{said}: {limits:?} {tests:?}"),
        );
        return;
    }
    let waits = first.as_ref().map_or("", |floor| floor.waits.as_str());
    let so = match said {
        "First a moisture test, then the floor" => waits == "test",
        "First a word from the maker, then the floor" => waits == "maker",
        "Not yet: this slab needs other steps first" => first.is_none() && r.priced().is_empty(),
        _ => return r.hold("headline is known", false, said),
    };
    r.hold("headline waits for what the floor waits for", so, said);
}

/// Every plastic sheet that stands was dry.
pub fn sheets_dry(r: &Reader<'_>) -> bool {
    let all = list(&r.form["moisture"]["sheets"]["readings"]);
    let mut standing =
        all.iter().filter(|one| ["latest", "unanswered"].contains(&text(&one["part"]))).peekable();
    standing.peek().is_some() && standing.all(|one| one["damp"] == false)
}

pub fn reason(r: &mut Reader<'_>, said: &str) {
    let Some(first) = r.first() else { return };
    let mut rest = said;
    while !rest.is_empty() {
        let known = REASONS.iter().find_map(|one| Some((one.claim, one.pattern.captures(rest)?)));
        let Some((claim, found)) = known else {
            return r.hold("every sentence of the reason is known", false, rest);
        };
        rest = &rest[found[0].len()..];
        sentence(r, &first, claim, &found);
    }
}

fn sentence(r: &mut Reader<'_>, first: &Floor, claim: &'static str, found: &Captures<'_>) {
    let said = found[0].to_owned();
    let tests = r.tests.clone();
    match claim {
        "reason full" => {
            let so = first.limit(Way::Probe) == Some(100.0) && tests.clear(Way::Probe, 100.0);
            r.hold(claim, so && found[2] == *"100% RH", &said);
        }
        "reason clear" | "reason near" => {
            let (reading, limit) = (&found[1], &found[2]);
            let way = way_of(reading);
            let room = first.room(way).filter(|_| way_of(limit) == way);
            let shown = room.is_some_and(|room| {
                r.shows(reading, way, room.reading) && r.shows(limit, way, room.limit)
            });
            r.hold("reason prints its reading and limit", shown, &said);
            let own = first.limit(way).is_some_and(|own| r.shows(limit, way, own));
            r.hold("the limit is that of the book", own, &said);
            let highest = tests.highest(way).is_some_and(|one| r.shows(reading, way, one.value));
            r.hold("the highest reading is the highest", highest, &said);
            let limit = first.limit(way).unwrap_or(0.0);
            let so = if claim == "reason clear" {
                tests.clear(way, limit) && figure(reading) < figure(&found[2])
            } else {
                !tests.over(way, limit) && tests.near(way, limit)
            };
            r.hold(claim, so, format!("{said} {tests:?}"));
        }
        "reason was" => {
            let way = way_of(&found[2]);
            let same = |one: &&super::evidence::One| {
                one.place == found[3]
                    && day(&found[1]) == Some(one.to.date())
                    && r.shows(&found[2], way, one.value)
            };
            let so = tests.by(way).filter(same).any(|one| {
                let lower = tests.answer(one).is_some_and(|now| now.value < one.value);
                !one.void && lower && first.limit(way).is_some_and(|limit| one.value > limit)
            });
            let limit = first.limit(way).is_some_and(|limit| r.shows(&found[4], way, limit));
            r.hold(claim, so && limit && first.standing == "close", &said);
        }
        "reason sheet" => {
            r.hold(claim, first.asks() == "plastic-sheet" && sheets_dry(r), &said);
        }
        "reason none needed" => {
            r.hold(claim, first.asks() == "none-needed" && first.barrier, &said)
        }
        "reason test" => r.hold(claim, first.waits == "test" && found[1] == first.the_name, &said),
        "reason maker" => {
            r.hold(claim, first.waits == "maker" && found[1] == first.the_name, &said);
            r.hold("no limit for a test that was made", lacks(r, first, &found[2]), &said);
        }
        "reason only named" => r.hold(claim, r.floors.len() == 1, &said),
        "reason only" => {
            let priced = r.priced();
            let offers = &found[1] == "we can offer for";
            let so = priced.len() == 1 && first.offered == offers;
            r.hold(claim, so && r.floors.len() > 1, &said);
        }
        _ => beside(r, first, claim, found),
    }
}

/// True when a floor's data sheet has no limit for what is said.
pub fn lacks(r: &Reader<'_>, floor: &Floor, what: &str) -> bool {
    let own = |way: &Way| floor.own_limit(*way).is_some();
    let made = |way: &Way| r.tests.by(*way).next().is_some();
    match what {
        "a test that we made" => WAYS.iter().any(|way| made(way) && !own(way)),
        "a test that it calls for" => floor.asks() == "both" && !WAYS.iter().all(own),
        _ => !WAYS.iter().any(own),
    }
}

/// Sentences that set the floor beside others by name.
fn beside(r: &mut Reader<'_>, first: &Floor, claim: &'static str, found: &Captures<'_>) {
    let said = found[0].to_owned();
    let Some(others) = r.named(&found[1]) else {
        return r.hold("floors that are named are on offer", false, said);
    };
    let priced = others.iter().all(|other| other.priced() && other.key != first.key);
    r.hold("floors that are named have a price", priced, &said);
    let wish = match claim {
        "reason sooner" => "quick",
        "reason lasts longer" => "lasting",
        "reason costs less" => "low-price",
        "reason no amber" => "no-yellowing",
        _ => "",
    };
    let wishes: Vec<&str> =
        r.job["wishes"].as_array().into_iter().flatten().filter_map(|w| w.as_str()).collect();
    if said.contains("as you asked") || said.contains("You asked for that") {
        let wished = match claim {
            "reason more room" => wishes.contains(&"lasting") || wishes.contains(&"moisture-room"),
            _ => wishes.contains(&wish),
        };
        r.hold("a wish that is named was wished", wished, &said);
    }
    let rank = |floor: &Floor| match floor.standing.as_str() {
        "clear" => 0,
        "close" => 1,
        _ => 2,
    };
    let so = |other: &Floor| match claim {
        "reason better known" => {
            rank(other) > rank(first)
                || (rank(other) == rank(first) && first.barrier && !other.barrier)
        }
        "reason close" => other.standing == "close" && rank(other) > rank(first),
        "reason barrier" => first.barrier && !other.barrier && r.on_ground() && !r.sheet_known(),
        "reason sooner" => days_until(first) < days_until(other),
        "reason lasts longer" => first.life.1 > other.life.1 && first.life.0 >= other.life.0,
        "reason more room" => band(first) > band(other) && band(other).is_some(),
        "reason costs less" => first.total < other.total,
        "reason no amber" => !first.ambers && other.ambers,
        "reason against" => {
            let check = match &found[2] {
                "damp from the ground" => return damp(r, other) && !damp(r, first),
                "doubt about the bond" => &["surface-strength", "surface-ph"][..],
                "a crack that moves" => &["moving-crack"],
                "amber in daylight" => &["ambering"],
                "warm tires" => &["hot-tires"],
                _ => return false,
            };
            warned(r, other, check) && !warned(r, first, check)
        }
        "reason by rule" => true,
        "reason first named" => {
            let at = |floor: &Floor| r.floors.iter().position(|one| one.key == floor.key);
            at(first) < at(other) && first.total == other.total
        }
        _ => false,
    };
    let all = others.iter().all(so);
    r.hold(claim, all && !others.is_empty(), said);
}

/// A caution of one of some checks about a floor.
fn warned(r: &Reader<'_>, floor: &Floor, checks: &[&str]) -> bool {
    let names = |finding: &Value, key: &str| finding[key].as_str().map(str::to_owned);
    list(&r.form["findings"]).iter().any(|finding| {
        let check = names(finding, "check").unwrap_or_default();
        let about = names(finding, "floor");
        checks.contains(&check.as_str())
            && finding["severity"] == "caution"
            && about.is_none_or(|about| about == floor.key)
    })
}

/// Damp from the ground speaks against a floor: nothing holds it back, its data sheet is silent, and the
/// reading takes up much of the limit (half of it by dishes, within 10 points by probes).
fn damp(r: &Reader<'_>, floor: &Floor) -> bool {
    let silent = floor.products[0].get("ground-contact").is_none();
    let dish = floor.room(Way::Dish).is_some_and(|room| room.reading > room.limit * 0.5);
    let probe = floor.room(Way::Probe).is_some_and(|room| room.reading + 10.0 > room.limit);
    !floor.barrier && r.on_ground() && !r.sheet_known() && silent && (dish || probe)
}

/// Room over the reading in bands, the worse of both methods; `None` where there is none to tell.
fn band(floor: &Floor) -> Option<u8> {
    let dish = floor.room(Way::Dish).map(|room| match room.limit / room.reading.max(1e-9) {
        times if times < 1.5 => 0,
        times if times < 3.0 => 1,
        _ => 2,
    });
    let probe = floor.room(Way::Probe).map(|room| match room.limit - room.reading {
        points if points < 5.0 => 0,
        points if points < 15.0 => 1,
        _ => 2,
    });
    dish.into_iter().chain(probe).min()
}

fn answers(r: &mut Reader<'_>) {
    let answers = list(&r.page["glance"]["answers"]);
    let Some(first) = r.first() else {
        return r.hold("no answers without a floor", answers.is_empty(), "answers");
    };
    let value = |at: usize, key: &str| text(&answers[at][key]).to_owned();
    r.hold("price on page one", cents(&value(0, "value")) == first.total, value(0, "value"));
    let note = value(0, "note");
    match note.strip_prefix("Good until ") {
        Some(date) => {
            let hold = r.book["terms"]["hold-days"].as_integer().expect("days");
            let until = r.date().checked_add(jiff::Span::new().days(hold)).ok();
            let so = until.is_some_and(|until| named(until, "%A, %B %-d") == date);
            r.hold("valid until", so && first.offered, &note);
        }
        None => {
            let so = note.starts_with("Only if ") && !first.waits.is_empty();
            r.hold("a price hangs on what the floor waits for", so, &note);
        }
    }
    closed(r, &first, &value(1, "value"), &value(1, "note"));
    let (from, to) = first.life;
    r.hold("usual life", value(2, "value") == format!("{from} to {to} years"), value(2, "value"));
}

fn named(date: Date, pattern: &str) -> String {
    date.strftime(pattern).to_string()
}

/// The days without the garage: from the first day of work until one may park, never earlier than that.
fn closed(r: &mut Reader<'_>, first: &Floor, value: &str, note: &str) {
    let unit = if first.days == 1 { "day" } else { "days" };
    r.hold("days on site", note.starts_with(&format!("{} {unit} of work", first.days)), note);
    let drive = &first.drive;
    let hour = drive["hour"].as_f64().unwrap_or(f64::NAN);
    let (day, date) =
        (int(&drive["day"]), drive["date"].as_str().and_then(|date| date.parse().ok()));
    // The results give the hour to two digits: a half hour there may be a little more.
    let readings = [hour, hour + 0.005].map(|hour| free_again(day, date, hour));
    let so = readings.iter().any(|(told, night, _)| {
        note.contains(told.as_str()) && note.contains("the morning of") == *night
    });
    r.hold("parking", so, format!("{note} {drive}"));
    let so = readings.iter().any(|(_, _, shown)| value == shown);
    r.hold("days without the garage", so, format!("{value} {drive}"));
    r.hold("the car is never back before the last day of work", day >= first.days, note);
}

/// The days until a floor is free: what falls into the night is the morning after. The results give the
/// hour to two digits, which never hides a half hour.
fn days_until(floor: &Floor) -> i64 {
    let hour = floor.drive["hour"].as_f64().unwrap_or(f64::NAN);
    let half_hours = (hour * 2.0 - 1e-6).ceil();
    int(&floor.drive["day"]) + i64::from(half_hours >= 42.0)
}

/// From an hour of a day of work on: the day that is named, whether it is the morning of it, and the days until then.
fn free_again(day: i64, date: Option<Date>, hour: f64) -> (String, bool, String) {
    // A half hour, never earlier; what falls into the night is the morning after.
    let half_hours = (hour * 2.0 - 1e-6).ceil();
    let (next, hour) = if half_hours >= 48.0 { (1, 0.0) } else { (0, half_hours / 2.0) };
    let night = !(7.0..21.0).contains(&hour);
    let later = next + i64::from(hour >= 21.0);
    let after =
        |days: i64| date.and_then(|date| date.checked_add(jiff::Span::new().days(days)).ok());
    let told = match after(later) {
        Some(date) => named(date, "%a, %B %-d"),
        None => format!("day {}", day + later),
    };
    let days = day + later;
    let start = after(1 - day);
    let shown = match (start, after(later)) {
        (Some(from), Some(to)) if from == to => named(from, "%B %-d"),
        (Some(from), Some(to)) if days <= 7 => {
            format!("{} to {}", named(from, "%a"), named(to, "%a"))
        }
        _ => format!("{days} {}", if days == 1 { "day" } else { "days" }),
    };
    (told, night, shown)
}
