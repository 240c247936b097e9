//! General sentences and those about this job: claims that a homeowner may hear, safety, leaflet and mail.

use std::sync::LazyLock;

use regex::Regex;
use serde_json::Value;

use super::reader::*;
use super::sums::lower_first;

pub fn read(r: &mut Reader<'_>) {
    claims(r);
    safety(r);
    leaflet(r);
    mail(r);
}

/// Claims that one may hear: those about a choice where there is one, that about kits where a thin floor has a
/// price, none without a price.
fn claims(r: &mut Reader<'_>) {
    let claims = list(&r.page["claims"]["claims"]);
    let priced = r.priced();
    let (choice, kits) = (priced.len() > 1, priced.iter().any(thin));
    type Claim = (&'static str, bool, fn(&mut Reader<'_>, &str));
    let known: [Claim; 8] = [
        ("“Epoxy turns yellow", true, ambering),
        ("“Hot tires will peel", choice, hot_tires),
        ("“Polyurea is many times", choice, highest),
        ("“A one-day floor", true, days),
        ("“You always need", true, barrier),
        ("“It comes with a lifetime", true, lifetime),
        ("“We tested it", true, tests),
        ("“A kit from the store", kits, kit),
    ];
    for (heard, applies, read) in known {
        let claim = claims.iter().find(|claim| text(&claim["heard"]).starts_with(heard));
        let wanted = applies && !priced.is_empty();
        r.hold("a claim stands where it applies", claim.is_some() == wanted, heard);
        if let Some(claim) = claim {
            read(r, text(&claim["here"]));
        }
    }
}

fn recommended(r: &Reader<'_>) -> Option<Floor> {
    r.floors.iter().find(|floor| floor.json["recommended"] == true).cloned()
}

/// Keys of floors, sorted.
fn keys(floors: &[Floor]) -> Vec<&str> {
    let mut keys: Vec<&str> = floors.iter().map(|floor| floor.key.as_str()).collect();
    keys.sort_unstable();
    keys
}

fn those(r: &Reader<'_>, wanted: impl Fn(&Floor) -> bool) -> Vec<Floor> {
    r.floors.iter().filter(|floor| wanted(floor)).cloned().collect()
}

fn ambering(r: &mut Reader<'_>, said: &str) {
    let ambers = those(r, |floor| floor.ambers);
    let all = r.floors.len();
    let so = match said.split_once("expect an amber tint in daylight on ") {
        Some((_, rest)) => {
            let list = rest.split('.').next().unwrap_or_default();
            let others = all - ambers.len();
            let named = r.named(list).is_some_and(|floors| keys(&floors) == keys(&ambers));
            named
                && rest.contains("The other floor ") == (others == 1)
                && rest.contains("The other floors ") == (others > 1)
        }
        None => {
            let one = said.starts_with("The floor in this proposal should not");
            ambers.is_empty() && one == (all == 1) && one != said.starts_with("None of the floors")
        }
    };
    r.hold("amber in daylight", so, said);
}

/// A floor whose coats together are thinner than 8 mil: common practice, no published source.
fn thin(floor: &Floor) -> bool {
    floor.film_um < 8.0 * 25.4
}

fn hot_tires(r: &mut Reader<'_>, said: &str) {
    let all = r.floors.len();
    let thin = those(r, thin);
    let so = match said.split_once("warm tires are a risk for ") {
        Some((_, rest)) => {
            let list = rest.split('.').next().unwrap_or_default();
            r.named(list).is_some_and(|floors| keys(&floors) == keys(&thin))
        }
        None if said.starts_with("The floor in this proposal is not") => {
            all == 1 && thin.is_empty()
        }
        None => said.starts_with("None of the floors") && all > 1 && thin.is_empty(),
    };
    r.hold("warm tires", so, said);
    let park = said.contains("Earliest time to park on ");
    let wait = said.contains("Wait for the parking time");
    let one = recommended(r);
    let named =
        one.as_ref().is_none_or(|floor| said.contains(&format!("park on {}:", floor.the_name)));
    r.hold("when to park", park == one.is_some() && named, said);
    r.hold("parking time in the plan", !wait || !r.priced().is_empty(), said);
}

fn days(r: &mut Reader<'_>, said: &str) {
    let priced = r.priced();
    let Some((_, rest)) = said.split_once("Days of work here: ") else {
        let so = priced.is_empty() && said.contains("the number of days comes later");
        return r.hold("no days without a price", so, said);
    };
    let shown = rest.split('.').next().unwrap_or_default();
    let lines: Vec<String> = priced
        .iter()
        .map(|floor| {
            let unit = if floor.days == 1 { "day" } else { "days" };
            format!("{}, {} {unit}", lower_first(&floor.name), floor.days)
        })
        .collect();
    r.hold("days of work", shown == lines.join("; "), said);
}

static READ: LazyLock<Regex> = LazyLock::new(|| pattern(r"[\d.,]+(?: lb| g|% RH)"));

/// The highest readings are those that count, and no others.
fn highest(r: &mut Reader<'_>, said: &str) {
    let shown: Vec<String> = READ.find_iter(said).map(|one| one.as_str().to_owned()).collect();
    readings(r, &shown, said);
}

fn readings(r: &mut Reader<'_>, shown: &[String], said: &str) {
    let ways: Vec<Way> =
        WAYS.into_iter().filter(|way| !r.tests.counting(*way).is_empty()).collect();
    let so = shown.len() == ways.len()
        && ways.iter().zip(shown).all(|(way, shown)| {
            r.tests.highest(*way).is_some_and(|one| r.shows(shown, *way, one.value))
        });
    r.hold("highest readings in a sentence", so, said);
}

fn barrier(r: &mut Reader<'_>, said: &str) {
    let counts = WAYS.into_iter().any(|way| !r.tests.counting(way).is_empty());
    let none = said.contains("no moisture reading of your slab that counts");
    r.hold("no reading that counts", none != counts, said);
    let first = recommended(r);
    if none {
        let other = said.contains("goes by another test");
        let by_sheet = first.as_ref().is_some_and(|floor| floor.asks() == "plastic-sheet");
        return r.hold("goes by another test", !other || by_sheet, said);
    }
    let sentence = said.split(" Here we recommend").next().unwrap_or_default();
    highest(r, sentence);
    let Some((_, here)) = said.split_once("Here we recommend a floor ") else {
        return r.hold("recommended where barriers are weighed", first.is_none(), said);
    };
    let Some(first) = first else {
        return r.hold("recommended where barriers are weighed", false, said);
    };
    r.hold("with or without a barrier", here.starts_with("without ") != first.barrier, said);
    let close = here.contains("close call");
    r.hold("a close call where barriers are weighed", close == (first.standing == "close"), said);
    if let Some((_, spare)) = here.split_once("You are ") {
        let tests = r.tests.clone();
        let so = WAYS.into_iter().any(|way| {
            first.room(way).is_some_and(|room| {
                let by = if way == Way::Dish && r.metric() { GRAMS } else { 1.0 };
                let left = (room.limit - room.reading) * by;
                tests.clear(way, room.limit) && left > 0.0 && (left - figure(spare)).abs() < 0.51
            })
        });
        r.hold("what it leaves to spare", so, said);
    }
}

fn lifetime(r: &mut Reader<'_>, said: &str) {
    let first = recommended(r);
    let says = said.starts_with("Floors like ");
    let so = match &first {
        Some(floor) => said.contains(&format!("about {} to {} years", floor.life.0, floor.life.1)),
        None => true,
    };
    r.hold("life of the recommended floor", says == first.is_some() && so, said);
}

static DONE: LazyLock<Regex> = LazyLock::new(|| {
    pattern(r"(Dish|Probe) tests: (\d+) done, (\d+) called for; highest (.+?)\.( |$)")
});

/// So many tests, and the highest.
fn tests(r: &mut Reader<'_>, said: &str) {
    let mut told = 0;
    for found in DONE.captures_iter(said) {
        told += 1;
        let way = if &found[1] == "Dish" { Way::Dish } else { Way::Probe };
        let counting = r.tests.counting(way);
        let value = r.tests.highest(way).map_or(f64::NAN, |one| one.value);
        let so = figure(&found[2]) as usize == counting.len()
            && figure(&found[3]) as i64 == int(&r.form["moisture"]["tests_needed"])
            && r.shows(&found[4], way, value);
        r.hold("tests that were done", so, format!("{said} {:?}", r.tests));
    }
    let ways = WAYS.into_iter().filter(|way| !r.tests.counting(*way).is_empty()).count();
    r.hold("each test that counts is told", told == ways, said);
    if said.contains("We have no test of your slab") {
        let none = r.tests.all.is_empty() && r.form["moisture"]["sheets"].is_null();
        r.hold("no test to show", none, said);
    }
}

fn kit(r: &mut Reader<'_>, said: &str) {
    let all = r.floors.len();
    let thin_ones = those(r, thin);
    let so = match said {
        _ if said.starts_with("The floor we recommend") => {
            recommended(r).is_some_and(|floor| thin(&floor))
        }
        _ if said.contains("with the others, so") => all > 2 && !thin_ones.is_empty(),
        _ if said.contains("with the other one, so") => all == 2 && !thin_ones.is_empty(),
        _ if said.contains("is thin too") => all == 1 && !thin_ones.is_empty(),
        _ if said.starts_with("The floor in this proposal is not") => {
            all == 1 && thin_ones.is_empty()
        }
        _ => said.starts_with("We compare no kit floor") && thin_ones.is_empty() && all > 1,
    };
    r.hold("a thin floor on these pages", so, said);
}

/// No solvent is only what the book says of each coat of each floor with a price.
fn safety(r: &mut Reader<'_>) {
    let priced = r.priced();
    let coats: Vec<Value> = priced.iter().flat_map(|floor| list(&floor.json["coats"])).collect();
    let unknown = coats.iter().any(|coat| coat["flammable"].is_null());
    let burns = coats.iter().any(|coat| coat["flammable"] == true);
    // What the book says of each liquid, without the results.
    let products: Vec<_> = priced.iter().flat_map(|floor| &floor.products).collect();
    let unsaid = products.iter().any(|p| {
        p.contains_key("cure")
            && !p.contains_key("solvent")
            && p.get("solvent-free").and_then(|free| free.as_bool()) != Some(true)
    });
    r.hold("flammable by the book", unknown == unsaid, format!("{coats:?}"));
    let note = text(&r.page["safety"]["air_note"]).to_owned();
    if priced.is_empty() {
        return r.hold("no air without a floor", note.is_empty(), note);
    }
    let none = note.contains("no coat of the floors priced here contains a solvent");
    r.hold("no coat holds a solvent", none == (!burns && !unsaid), &note);
    let some = note.contains("Some coats here give off vapor that can catch fire");
    r.hold("some coats give off vapor", some == burns, &note);
    let not_known = note.contains("We do not know yet if some");
    r.hold("not known to hold a solvent", not_known == (unsaid && !burns), &note);
    let hurt = texts(&r.page["glance"]["hurt"]).join(" ");
    let iso = coats.iter().any(|coat| coat["isocyanate"] == true);
    let says = hurt.contains("Some coats can cause asthma");
    r.hold("some coats can cause asthma", !says || iso || r.first().is_none(), &hurt);
}

fn leaflet(r: &mut Reader<'_>) {
    let leaflet = &r.papers.leaflet;
    let all = leaflet.to_string();
    r.hold("the leaflet recommends nothing", !all.contains("We recommend"), "We recommend");
    let (lead, says) = (text(&leaflet["message"]["lead"]), text(&leaflet["message"]["says"]));
    let (off, one) = (r.priced().is_empty(), r.floors.len() == 1);
    let (all, offered) = (r.floors.len(), r.offered().len());
    let over = r.floors.iter().filter(|floor| floor.standing == "over").count();
    r.hold("too damp for some floor", lead.contains("too damp") == (over > 0), lead);
    r.hold(
        "too damp for some alone",
        lead.contains("some floors") == (0 < over && over < all),
        lead,
    );
    let number = |count: usize| ["none", "one", "two", "three", "four", "five"][count];
    let counted = match (one, offered) {
        (true, 1) => says.starts_with("We can lay the floor"),
        (true, _) => !says.contains("can lay"),
        (false, n) if n == all => {
            let all = if all == 2 { "both".to_owned() } else { format!("all {}", number(all)) };
            says.starts_with(&format!("We can lay {all} floors"))
        }
        (false, 0) if all == 2 => says.starts_with("We can lay neither of the two floors on it"),
        (false, n) => {
            says.starts_with(&format!("Of {} floors, we can lay {} on it", number(all), number(n)))
        }
    };
    r.hold("the leaflet counts the floors", counted, says);
    let wait = says.contains("to wait for");
    r.hold("the leaflet counts what waits", wait != r.waiting().is_empty(), says);
    let reason = text(&r.page["glance"]["reason"]);
    let none = reason.contains("We cannot offer any of the floors we compared");
    r.hold("none of the floors can be offered", none == (off && !one), reason);
    let lines = texts(&leaflet["hangs"]);
    let waiting = r.waiting();
    let so = lines.len() == waiting.len()
        && lines
            .iter()
            .zip(&waiting)
            .all(|(line, floor)| line.starts_with(&format!("{}: only if ", floor.name)));
    r.hold("the leaflet says what waits", so, lines.join("; "));
}

fn mail(r: &mut Reader<'_>) {
    let (mail, glance) = (&r.papers.mail, &r.page["glance"]);
    for part in ["headline", "reason"] {
        r.hold("the mail says what page one says", mail[part] == glance[part], part);
    }
    r.hold("the mail has page one's answers", mail["facts"] == glance["answers"], "facts");
    let parts = list(&mail["parts"]);
    let part = |head: &str| -> Vec<String> {
        let part = parts.iter().find(|part| part["head"] == head);
        part.map_or(vec![], |part| texts(&part["points"]))
    };
    let choices = part("Your choices");
    let waiting = r.waiting();
    let so = choices.len() == r.floors.len() - waiting.len() + 1
        && r.floors.iter().filter(|floor| floor.waits.is_empty()).all(|floor| {
            let line = choices.iter().find(|line| line.starts_with(&floor.name));
            line.is_some_and(|line| match line[floor.name.len()..].strip_prefix(", ") {
                Some(rest) => {
                    floor.offered
                        && rest.split_once(" (").is_some_and(|(p, _)| cents(p) == floor.total)
                }
                None => !floor.offered && line.contains("(not offered): "),
            })
        });
    r.hold("choices in the mail", so, choices.join("; "));
    let lines = part("What this offer hangs on");
    let so = lines.len() == waiting.len()
        && lines.iter().zip(&waiting).all(|(line, floor)| {
            let head = format!("{}, ", floor.name);
            line.strip_prefix(&head)
                .and_then(|rest| rest.split_once(": only if "))
                .is_some_and(|(price, _)| cents(price) == floor.total)
        });
    r.hold("the mail says what waits", so, lines.join("; "));
    let same = part("What we do not know") == texts(&glance["unknown"]);
    r.hold("the mail says what could not be known", same, "unknown");
    r.hold(
        "the mail says when work starts",
        part("Before we start") == texts(&glance["start"]),
        "start",
    );
    let steps = list(&glance["next"]);
    let so = part("What to do next")
        .iter()
        .zip(&steps)
        .all(|(line, step)| *line == format!("{} {}", text(&step["who"]), text(&step["says"])));
    r.hold("what to do next in the mail", so && !steps.is_empty(), "next");
}
