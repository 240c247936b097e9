//! The written keys are those that the readers ask for, schemas refuse and take what the readers do,
//! blank files load.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use serde_json::{Map, Value};
use slableaf::base::source::{Diagnostic, Problems, SourceFile};
use slableaf::read::keys::{self, Key, Kind, Stands, Table};
use slableaf::read::{book, job, reader, shop, system};

use crate::checker;
use crate::fixture::{Folder, all_files, root, run_in};

/// Everything that a reader says of a file, and whether it made something of it.
fn read(kind: Kind, text: &str) -> (bool, Vec<Diagnostic>) {
    let file = SourceFile { name: kind.word().to_owned(), text: text.to_owned() };
    let problems = Problems::default();
    let made = match kind {
        Kind::Job => reader::read_file(&file, &problems, |top| job::job(top).1).is_some(),
        Kind::Book => reader::read_file(&file, &problems, book::book).is_some(),
        Kind::Shop => reader::read_file(&file, &problems, shop::shop).is_some(),
        Kind::System => reader::read_file(&file, &problems, system::system).is_some(),
    };
    (made, problems.into_inner())
}

#[track_caller]
fn loads(kind: Kind, text: &str, what: &str) {
    let (made, problems) = read(kind, text);
    assert!(made && problems.is_empty(), "{what} of {}: {problems:#?}\n{text}", kind.word());
}

/// A TOML file as JSON; dates become texts, as editors make them.
fn json(text: &str) -> Value {
    fn of(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => text.into(),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(flag) => flag.into(),
            toml::Value::Datetime(moment) => moment.to_string().into(),
            toml::Value::Array(values) => values.into_iter().map(of).collect(),
            toml::Value::Table(table) => table_of(table),
        }
    }
    fn table_of(table: toml::Table) -> Value {
        table.into_iter().map(|(key, value)| (key, of(value))).collect::<Map<_, _>>().into()
    }
    table_of(text.parse().unwrap_or_else(|error| panic!("{error}\n{text}")))
}

/// What takes the place of what most files have, where the two may not stand together.
const INSTEAD: &[&str] =
    &["outline", "area", "poured", "film", "voc-masses", "solvent-free", "supplier", "amount"];

/// Files that together hold every key.
fn whole(kind: Kind) -> [String; 2] {
    [keys::every_key(kind, &[]), keys::every_key(kind, INSTEAD)]
}

/// The lines of a file that hold a key, with its name.
fn key_lines(text: &str) -> Vec<(usize, &str)> {
    text.lines()
        .enumerate()
        .filter(|(_, line)| !line.starts_with(['#', '[']))
        .filter_map(|(at, line)| Some((at, line.split_once(" = ")?.0)))
        .collect()
}

fn without_line(text: &str, at: usize) -> String {
    let lines = text.lines().enumerate().filter(|(line, _)| *line != at);
    lines.map(|(_, line)| format!("{line}\n")).collect()
}

// ------------------------------------------------------------------------- readers and keys

/// The names of each table by its head; products by their place in the file.
fn written(kind: Kind) -> BTreeMap<String, BTreeSet<String>> {
    fn walk(table: &Table, path: &str, found: &mut BTreeMap<String, BTreeSet<String>>, nth: usize) {
        for (at, (_, version)) in table.versions.iter().enumerate() {
            walk(version, path, found, at + 1);
        }
        let free = table.keys.iter().any(|key| key.free) || table.tables.iter().any(|t| t.free);
        if table.versions.is_empty() && !free {
            let names = table.keys.iter().map(|key| key.name);
            let names = names.chain(table.tables.iter().map(|below| below.name));
            let head = match table.stands {
                _ if path.is_empty() => String::new(),
                Stands::Once { .. } => format!("[{path}]"),
                Stands::Listed { .. } => format!("[[{path}]]"),
            };
            let head = if nth > 0 { format!("{head} {nth}") } else { head };
            found.entry(head).or_default().extend(names.map(str::to_owned));
        }
        for below in &table.tables {
            let path = if path.is_empty() {
                below.name.to_owned()
            } else {
                format!("{path}.{}", below.name)
            };
            walk(below, &path, found, 0);
        }
    }
    let mut found = BTreeMap::new();
    walk(&kind.file(), "", &mut found, 0);
    found
}

/// A key that no reader asks for, and no name is like.
const STRANGE: &str = "qqqq";

/// A file with a strange key in each of its tables.
fn with_strange_keys(text: &str) -> String {
    let mut out = format!("{STRANGE} = 1\n");
    for line in text.lines() {
        let line = line.replace("{ ", &format!("{{ {STRANGE} = 1, "));
        out += &line;
        out.push('\n');
        if line.starts_with('[') {
            out += &format!("{STRANGE} = 1\n");
        }
    }
    out
}

#[test]
fn every_key_that_a_reader_asks_for_is_written_down_and_no_other() {
    for kind in Kind::ALL {
        let mut asked: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for text in whole(kind) {
            for problem in read(kind, &with_strange_keys(&text)).1 {
                let Some(place) = problem.message.strip_prefix("unknown key `qqqq` ") else {
                    continue;
                };
                let place =
                    place.trim_start_matches("at the top of the file").trim_start_matches("in ");
                // Products have different keys, other lists the same.
                let head = match place.split_once("]] ") {
                    Some((head, _)) if head != "[[product" => format!("{head}]]"),
                    _ => place.to_owned(),
                };
                let known = problem.help[0].strip_prefix("known here: ").expect("all known keys");
                let known = known.split(", ").map(|key| key.trim_matches('`').to_owned());
                asked.entry(head).or_default().extend(known);
            }
        }
        let mut written = written(kind);
        // A table of tables alone has no head in these files.
        written.retain(|head, _| asked.contains_key(head) || head != "[moisture]");
        assert_eq!(asked, written, "{}", kind.word());
    }
}

#[test]
fn every_example_is_taken_by_the_reader() {
    for kind in Kind::ALL {
        let texts = whole(kind);
        let mut seen = 0;
        each_key(&kind.file(), &mut |key| {
            let line = format!("{} = {}", key.name, key.example);
            assert!(texts.iter().any(|text| text.contains(&line)), "{}: {line}", kind.word());
            seen += 1;
        });
        assert!(seen > 15, "{}: {seen} keys", kind.word());
        for text in &texts {
            loads(kind, text, "a file with every key");
            checker::keeps_to(&json(text), &keys::schema(kind), kind.word());
        }
    }
}

fn each_key(table: &Table, see: &mut impl FnMut(&Key)) {
    table.keys.iter().for_each(&mut *see);
    table.tables.iter().for_each(|below| each_key(below, see));
    table.versions.iter().for_each(|(_, version)| each_key(version, see));
}

/// Dropping any key: the reader says that it is missing exactly where the schema needs it.
#[test]
fn readers_and_schemas_need_the_same_keys() {
    for kind in Kind::ALL {
        let schema = keys::schema(kind);
        let mut dropped = (0, 0);
        for text in whole(kind) {
            for (at, name) in key_lines(&text) {
                same_need(kind, &schema, &without_line(&text, at), name, &mut dropped);
            }
            // Keys in braces, each with the comma before or behind it.
            for (at, _) in text.match_indices("{ ") {
                let end = at + text[at..].find(" }").unwrap();
                let inner: Vec<&str> = text[at + 2..end].split(", ").collect();
                for gone in 0..inner.len() {
                    let mut left = inner.clone();
                    let name = left.remove(gone);
                    let less =
                        format!("{}{{ {} }}{}", &text[..at], left.join(", "), &text[end + 2..]);
                    same_need(kind, &schema, &less, name, &mut dropped);
                }
            }
            // Whole tables, with those below them.
            for (at, head) in heads(&text) {
                let end = heads(&text)
                    .into_iter()
                    .find(|(other, name)| *other > at && !is_below(name, head))
                    .map_or(usize::MAX, |(other, _)| other);
                let less: String = text
                    .lines()
                    .enumerate()
                    .filter(|(line, _)| !(at..end).contains(line))
                    .map(|(_, line)| format!("{line}\n"))
                    .collect();
                same_need(kind, &schema, &less, head, &mut dropped);
            }
        }
        assert!(dropped.0 > 3 && dropped.1 > 3, "{}: {dropped:?}", kind.word());
    }
}

/// The heads of tables with their lines.
fn heads(text: &str) -> Vec<(usize, &str)> {
    text.lines().enumerate().filter(|(_, line)| line.starts_with('[')).collect()
}

fn name_of(head: &str) -> &str {
    head.trim_matches(['[', ']', '#'])
}

fn is_below(head: &str, other: &str) -> bool {
    name_of(head).strip_prefix(name_of(other)).is_some_and(|rest| rest.starts_with('.'))
}

fn same_need(kind: Kind, schema: &Value, text: &str, gone: &str, dropped: &mut (usize, usize)) {
    let missing = |problem: &Diagnostic| problem.message.contains("is missing");
    let problems = read(kind, text).1;
    let reader = problems.iter().any(missing);
    let faults = checker::faults(&json(text), schema);
    assert_eq!(
        reader,
        !faults.is_empty(),
        "{} without {gone}: {problems:#?} {faults:#?}\n{text}",
        kind.word()
    );
    if reader { dropped.0 += 1 } else { dropped.1 += 1 }
}

/// Zero: the reader refuses it exactly where the schema does.
#[test]
fn readers_and_schemas_refuse_zero_at_the_same_keys() {
    let mut refused = 0;
    for kind in Kind::ALL {
        let schema = keys::schema(kind);
        for text in whole(kind) {
            for (at, name) in key_lines(&text) {
                let line = text.lines().nth(at).unwrap();
                let Some(zero) = zero(line) else { continue };
                let less = text.replacen(&format!("\n{line}\n"), &format!("\n{zero}\n"), 1);
                assert_ne!(less, text, "{line}");
                let problems = read(kind, &less).1;
                let reader = problems.iter().any(|problem| {
                    ["is zero", "is 0", "is not 1 to"].iter().any(|no| problem.message.contains(no))
                });
                let faults = checker::faults(&json(&less), &schema);
                assert_eq!(
                    reader,
                    !faults.is_empty(),
                    "{}: {name}, {zero}: {problems:#?} {faults:#?}",
                    kind.word()
                );
                refused += usize::from(reader);
            }
        }
    }
    assert!(refused > 60, "{refused}");
}

/// The line with zero in place of its number, where it has one number with a unit, or alone.
fn zero(line: &str) -> Option<String> {
    let (key, value) = line.split_once(" = ")?;
    if value.parse::<u32>().is_ok() {
        return Some(format!("{key} = 0"));
    }
    let text = value.strip_prefix('"')?.strip_suffix('"')?;
    let (number, unit) = text.split_once(' ')?;
    let plain = number.chars().all(|c| c.is_ascii_digit() || "./,".contains(c));
    let one = unit.starts_with(|c: char| c.is_alphabetic() || c == '%') && !unit.contains(' ');
    // A temperature may be zero, and the fraction of a unit is a text like any other.
    (plain && one && !["F", "C"].contains(&unit)).then(|| format!("{key} = \"0 {unit}\""))
}

// -------------------------------------------------------------------- what people really write

/// Texts as people write quantities, and slips of the pen.
fn everyday() -> Vec<String> {
    const NUMBERS: &[&str] = &[
        "7", "7.5", "7.", ".5", "1/2", "6 1/2", "1,250", "1,250.00", "0", "007", "-3", "1.2.3",
        "22,5", "",
    ];
    const UNITS: &[&str] = &[
        "ft",
        "'",
        "\u{2019}",
        "feet",
        "foot",
        "in",
        "\"",
        "\u{2033}",
        "inch",
        "inches",
        "m",
        "cm",
        "mm",
        "ft2",
        "ft\u{b2}",
        "sq ft",
        "sf",
        "in2",
        "sq in",
        "m2",
        "cm2",
        "gal",
        "qt",
        "pt",
        "fl oz",
        "L",
        "l",
        "mL",
        "ml",
        "mil",
        "mils",
        "um",
        "\u{b5}m",
        "\u{3bc}m",
        "ft2/gal",
        "sf/gal",
        "m2/L",
        "lb",
        "oz",
        "kg",
        "g",
        "lb/ft2",
        "lb/sf",
        "kg/m2",
        "g/m2",
        "psi",
        "MPa",
        "N/mm2",
        "lb/1000ft2/24h",
        "lb/1000 ft2/24 h",
        "lb/1000sf/24h",
        "ug/m2/s",
        "ug/(m2 s)",
        "g/m2/24h",
        "h",
        "hr",
        "hours",
        "min",
        "minutes",
        "days",
        "d",
        "ft2/h",
        "sf/h",
        "m2/h",
        "ft/h",
        "m/h",
        "g/L",
        "lb/gal",
        "g/mol",
        "ppm",
        "cfm",
        "ft3/min",
        "m3/h",
        "%",
        "% RH",
        "%RH",
        "F",
        "\u{b0}F",
        "deg F",
        "C",
        "\u{b0}C",
        "K",
        "USD",
        "$",
        "\u{20ac}",
        "$/h",
        "furlong",
    ];
    let mut texts: Vec<String> = vec![];
    for unit in UNITS {
        for number in ["7", "6 1/2", "0"] {
            texts.extend([format!("{number} {unit}"), format!("{number}{unit}")]);
        }
    }
    for number in NUMBERS {
        for unit in ["ft", "%", "h", "gal", "mil", "lb", "psi", "F", "g/L", ""] {
            texts.push(format!("{number} {unit}"));
        }
        texts.extend([format!("${number}"), format!("{number} USD"), format!("EUR {number}")]);
        texts.extend([format!("${number}/h"), format!("{number}/ft2"), format!("$ {number} / m2")]);
        texts.extend([format!("+{number} %"), format!("-{number}%"), format!("+${number}")]);
        texts.extend([
            format!("\u{2212}{number} C"),
            format!("- {number} F"),
            format!("{number} : 1"),
        ]);
    }
    texts.extend(
        [
            "22 ft 6 in",
            "22ft 6in",
            "22 ft 6 1/2 in",
            "22'6\"",
            "22' 6 1/2\"",
            "22\u{2032}6\u{2033}",
            "6 in 22 ft",
            "22 ft 6",
            "22'6",
            "22'-6\"",
            "22 ft - 6 1/2 in",
            "4-1/2\"",
            "4\u{2013}1/2 in",
            "4 IN",
            "9.5 Feet",
            "22 ft. 6 in.",
            "22 ft 6 -",
            "1500 CFM",
            "55 f",
            "58 degrees F",
            "$28 per hour",
            "$28 an hour",
            "$0.40 per sq ft",
            "$0.40/sqft",
            "$0.40/FT\u{b2}",
            "1 m 20 cm",
            "2 m 20",
            "1 h 30 min",
            "1 day 2 h",
            "30 min 1 h",
            "22\u{a0}ft",
            "22\t ft",
            " 22 ft ",
            "22 ft and 6 in",
            "2 : 1",
            "2:1:1",
            "4 : 1 : 1 : 1 : 1",
            "2 :",
            "\u{bd} in",
            "1e3 ft",
            "100 %",
            "100.5 %",
            "101 %",
            "1,000 %",
            "150 ppm",
            "99999999 ft",
            "barrier",
            "Barrier",
            "a-b-",
            "photos/door.jpg",
            "../x.jpg",
            "a//b",
            "/x",
            "C:x",
            "~x",
            " /x",
            "a/./b",
            "..x/y..jpg",
            "CON",
            "me@home.example",
            "me@home",
            "America/Chicago",
            "america/chicago",
            "EST",
            "Etc/GMT+5",
            "#27566B",
            "#1f4e7",
            " #27566B ",
            "monday",
            "Monday",
            "us",
            "US",
            "text",
            "two\nlines",
            "two\r\nlines",
            "tab\there",
            "e\u{301}",
            "",
            " ",
            "2026-0142",
            "-1",
            "NUL",
            "USD",
            "usd",
            "en",
            "es",
            "+4.5 %",
            "+4.50000 %",
            "+4.123456 %",
            "-101 %",
            "+501 %",
        ]
        .map(str::to_owned),
    );
    texts
}

/// A schema never refuses what the reader takes, and refuses what lacks a unit or has a wrong one.
#[test]
fn schemas_take_what_readers_take_of_everyday_texts() {
    let texts = everyday();
    let mut seen = BTreeSet::new();
    let (mut taken, mut refused) = (0, 0);
    for kind in Kind::ALL {
        let schema = keys::schema(kind);
        for text in whole(kind) {
            for (at, _) in key_lines(&text) {
                let line = text.lines().nth(at).unwrap();
                let (name, value) = line.split_once(" = ").unwrap();
                let value: toml::Value =
                    format!("v = {value}").parse::<toml::Table>().unwrap()["v"].clone();
                let path = path_of(&text, at);
                let own = schema_of(&schema, &path);
                if !value.is_str() || !seen.insert(format!("{own}")) {
                    continue;
                }
                for typed in &texts {
                    let edited = format!("{name} = {}", toml::Value::from(typed.as_str()));
                    let file: String = text
                        .lines()
                        .enumerate()
                        .map(|(line, old)| if line == at { &edited } else { old })
                        .map(|line| format!("{line}\n"))
                        .collect();
                    let problems = read(kind, &file).1;
                    let faults = checker::faults(&Value::from(typed.as_str()), &own);
                    let place = || {
                        format!("{} {path:?}: {typed:?}: {problems:#?} {faults:#?}", kind.word())
                    };
                    // Words are listed for editors to offer; the reader takes space around some.
                    let spaced = own.get("enum").is_some() && typed.trim() != typed;
                    if problems.is_empty() && !spaced {
                        taken += 1;
                        assert!(faults.is_empty(), "{}", place());
                    }
                    let says = |what: &str| {
                        let of_it = format!("`{name}` {what}");
                        problems.iter().any(|problem| problem.message.starts_with(&of_it))
                    };
                    let plain = [
                        "has no unit",
                        "has the unit",
                        "is negative",
                        "does not start",
                        "has more than one",
                        "has a unit twice",
                        "has a comma",
                        "is empty",
                        "is not a plain name",
                        "does not say",
                        "holds a line break",
                        "leaves the folder",
                        "is absolute",
                        "has parts of a cent",
                    ];
                    if plain.iter().any(|what| says(what)) {
                        refused += 1;
                        // Of a key with several versions the whole file says which one holds.
                        let no = !faults.is_empty()
                            || !checker::faults(&json(&file), &schema).is_empty();
                        assert!(no, "{}", place());
                    }
                }
            }
        }
    }
    assert!(taken > 400 && refused > 3_000, "{taken} taken, {refused} refused");
}

/// The tables and the name of the key in a line.
fn path_of(text: &str, at: usize) -> Vec<String> {
    let lines: Vec<&str> = text.lines().collect();
    let head = lines[..at].iter().rev().find(|line| line.starts_with('['));
    let mut path: Vec<String> =
        head.map_or(vec![], |head| name_of(head).split('.').map(str::to_owned).collect());
    path.push(lines[at].split_once(" = ").unwrap().0.to_owned());
    path
}

fn schema_of(schema: &Value, path: &[String]) -> Value {
    let mut found = schema;
    for step in path {
        if found["type"] == "array" && found["items"]["type"] == "object" {
            found = &found["items"];
        }
        let next = &found["properties"][step];
        found = if next.is_null() { &found["additionalProperties"] } else { next };
    }
    assert!(found.is_object(), "{path:?}");
    let mut own = found.clone();
    for said in ["description", "examples"] {
        own.as_object_mut().unwrap().remove(said);
    }
    own
}

// ------------------------------------------------------------------------------ the examples

#[test]
fn every_shipped_file_keeps_to_its_schema() {
    let folders = ["examples", "layouts/systems"];
    let files = folders.into_iter().flat_map(|folder| all_files(&root().join(folder)));
    let mut seen = 0;
    for (path, bytes) in files {
        let stem = path.file_stem().unwrap().to_str().unwrap();
        let system = path.parent().unwrap().ends_with("systems");
        let kind = if system {
            Some(Kind::System)
        } else {
            Kind::ALL.into_iter().find(|k| k.word() == stem)
        };
        let (Some(kind), true) = (kind, path.extension().is_some_and(|end| end == "toml")) else {
            continue;
        };
        let value = json(&String::from_utf8(bytes).unwrap());
        let name = path.display().to_string();
        if name.contains("several-mistakes") {
            let faults = checker::faults(&value, &keys::schema(kind));
            assert!(faults.len() >= 8, "{faults:#?}");
        } else {
            checker::keeps_to(&value, &keys::schema(kind), &name);
        }
        seen += 1;
    }
    assert!(seen >= 15, "{seen}");
}

/// What files did not have before tests had visits and surfaces, and data sheets a word on the ground.
const LATER: &[(Kind, &[&str], &[&str])] = &[
    (
        Kind::Job,
        &["inside", "treatments", "ph", "surface", "ground", "void", "room-as-used", "accuracy"],
        &["[[moisture.visit", "[moisture.visit", "[[moisture.plastic-sheet"],
    ),
    (
        Kind::Book,
        &[
            "moisture-test",
            "ground-contact",
            "surface-profile",
            "permeance",
            "ph-from",
            "ph-to",
            "opaque",
        ],
        &[],
    ),
    (Kind::Shop, &[], &["[testing]"]),
];

/// A file without some keys, and without some tables.
fn without(text: &str, keys: &[&str], tables: &[&str]) -> String {
    let (mut left, mut gone) = (String::new(), false);
    for line in text.lines() {
        if line.starts_with('[') {
            gone = tables.iter().any(|table| line.starts_with(table));
        }
        let key = line.split_once(" = ").map_or("", |(key, _)| key);
        if !gone && !keys.contains(&key) {
            left += line;
            left.push('\n');
        }
    }
    left
}

/// A file that a shop wrote before there were these keys is read as it was.
#[test]
fn files_without_any_later_key_are_still_read() {
    let mut taken_out = 0;
    for (kind, keys, tables) in LATER {
        let schema = keys::schema(*kind);
        let stem = format!("{}.toml", kind.word());
        let (mut seen, mut lines) = (0, 0);
        for (path, bytes) in all_files(&root().join("examples")) {
            let name = path.display().to_string();
            if !path.ends_with(&stem) || name.contains("several-mistakes") {
                continue;
            }
            let whole = String::from_utf8(bytes).unwrap();
            let older = without(&whole, keys, tables);
            loads(*kind, &older, &name);
            checker::keeps_to(&json(&older), &schema, &name);
            lines += whole.lines().count() - older.lines().count();
            seen += 1;
        }
        assert!(seen >= 2 && lines >= 2, "{}: {seen} files, {lines} lines", kind.word());
        taken_out += lines;
    }
    assert!(taken_out > 40, "{taken_out}");
    // What is left out is not known, and no answer that somebody gave.
    let whole = fs::read_to_string(root().join("examples/two-car-barrier/job.toml")).unwrap();
    let (_, keys, tables) = LATER[0];
    let file = SourceFile { name: "job".into(), text: without(&whole, keys, tables) };
    let job = reader::read_file(&file, &Problems::default(), |top| job::job(top).1).unwrap();
    assert_eq!((job.slab.inside, job.slab.treatments, job.slab.ph), (None, None, None));
    assert_eq!(job.moisture.visits.len(), 1);
    let test = job.moisture.dish_tests().next().unwrap();
    assert!(test.dishes.iter().all(|dish| dish.surface.is_none() && dish.void.is_none()));
}

// ---------------------------------------------------------------------------- descriptions

#[test]
fn every_key_is_described_in_one_sentence() {
    fn see(table: &Table) {
        for what in table.keys.iter().map(|key| key.what).chain([table.what]) {
            let name = table.name;
            assert!(what.ends_with('.') || !table.versions.is_empty(), "{name}: {what}");
            assert_eq!(what.matches(". ").count(), 0, "{name}: {what}");
            let words = what.split_whitespace().count();
            assert!((1..=20).contains(&words), "{name}: {words} words: {what}");
        }
        let names: BTreeSet<&str> = table.keys.iter().map(|key| key.name).collect();
        assert_eq!(names.len(), table.keys.len(), "{}: a key twice", table.name);
        table.tables.iter().for_each(see);
        table.versions.iter().for_each(|(_, version)| see(version));
    }
    Kind::ALL.into_iter().for_each(|kind| see(&kind.file()));
}

#[test]
fn a_key_is_found_by_its_path() {
    let thickness = keys::find(Kind::Job, "slab.thickness").unwrap();
    assert_eq!((thickness.example.as_str(), thickness.need), ("\"4 in\"", false));
    assert_eq!(thickness.bounds().unwrap(), "Units: ft, in, m, cm, mm; at most 1000 ft.");
    assert!(keys::find(Kind::Job, "number").unwrap().need);
    assert!(keys::find(Kind::Job, "moisture.dishes.dish.exposed").unwrap().need);
    assert!(keys::find(Kind::Book, "product.mver-limit").is_some());
    assert_eq!(keys::find(Kind::Job, "slab.color"), None);
    assert_eq!(keys::find(Kind::Job, "slap.thickness"), None);
}

// ------------------------------------------------------------------------------ blank files

/// What is commented out in a blank file: a head, or a key.
fn is_code(line: &str) -> bool {
    line.strip_prefix('#')
        .is_some_and(|code| code.starts_with(|c: char| c == '[' || c.is_ascii_lowercase()))
}

/// A blank file in which lines are turned on and off.
struct Sheet {
    kind: Kind,
    lines: Vec<String>,
}

impl Sheet {
    fn new(kind: Kind) -> Self {
        Self { kind, lines: keys::template(kind).lines().map(str::to_owned).collect() }
    }

    fn head_of(&self, at: usize) -> Option<usize> {
        let is_head = |line: &String| line.starts_with('[') || line.starts_with("#[");
        (0..=at).rev().find(|at| is_head(&self.lines[*at]))
    }

    fn block(&self, head: usize) -> std::ops::Range<usize> {
        let next = (head + 1..self.lines.len()).find(|at| self.head_of(*at) == Some(*at));
        head..next.unwrap_or(self.lines.len())
    }

    fn key_at(&self, at: usize) -> Option<&str> {
        let line = self.lines[at].trim_start_matches('#');
        let code = is_code(&self.lines[at]) || !self.lines[at].starts_with('#');
        line.split_once(" = ").map(|(key, _)| key).filter(|_| code)
    }

    fn turn_on(&mut self, at: usize) {
        if is_code(&self.lines[at]) {
            self.lines[at].remove(0);
        }
    }

    /// The table of a head, as it is written down.
    fn table(&self, head: Option<usize>) -> Table {
        let mut table = self.kind.file();
        let Some(head) = head else { return table };
        for step in name_of(&self.lines[head]).split('.') {
            let versions = table.versions.iter().map(|(_, version)| version);
            let below = table.tables.iter().chain(versions.flat_map(|version| &version.tables));
            table = below.clone().find(|below| below.name == step || below.free).unwrap().clone();
        }
        // The version whose keys stand in the block.
        let here: BTreeSet<&str> = self.block(head).filter_map(|at| self.key_at(at)).collect();
        let fits = |version: &&Table| version.keys.iter().all(|key| here.contains(key.name));
        let version = table.versions.iter().rev().map(|(_, version)| version).find(fits).cloned();
        version.unwrap_or(table)
    }

    /// Turns on a table: its head, what is marked, and the tables that it needs or lies in.
    fn turn_on_table(&mut self, head: usize) {
        self.turn_on(head);
        let block = self.block(head);
        for at in block.clone() {
            if self.lines[at].ends_with("# <--") {
                self.turn_on(at);
            }
        }
        let own = self.lines[head].clone();
        let below: Vec<usize> = (head + 1..self.lines.len())
            .take_while(|at| self.head_of(*at) != Some(*at) || is_below(&self.lines[*at], &own))
            .filter(|at| self.head_of(*at) == Some(*at) && self.lines[*at].starts_with('#'))
            .filter(|at| self.table(Some(*at)).need())
            .collect();
        below.into_iter().for_each(|head| self.turn_on_table(head));
        let above = (0..head)
            .rev()
            .find(|at| self.head_of(*at) == Some(*at) && is_below(&own, &self.lines[*at]));
        if let Some(above) = above.filter(|at| self.lines[*at].starts_with('#')) {
            self.turn_on_table(above);
        }
    }

    /// Turns on a key, with what has to stand beside it and without what may not.
    fn turn_on_key(&mut self, at: usize) {
        let head = self.head_of(at);
        if let Some(head) = head.filter(|head| self.lines[*head].starts_with('#')) {
            self.turn_on_table(head);
        }
        let table = self.table(head);
        let name = self.key_at(at).unwrap().to_owned();
        let block = head.map_or_else(|| 0..self.block(0).end, |head| self.block(head));
        self.turn_on(at);
        for other in block.filter(|other| *other != at) {
            let Some(beside) = self.key_at(other).map(str::to_owned) else { continue };
            if table.partners(&name).contains(&beside.as_str()) {
                self.turn_on(other);
            } else if table.rivals(&name).contains(&beside.as_str()) && !is_code(&self.lines[other])
            {
                self.lines[other].insert(0, '#');
            }
        }
    }

    fn text(&self) -> String {
        self.lines.join("\n") + "\n"
    }
}

#[test]
fn blank_files_load_and_so_does_each_with_one_thing_more() {
    for kind in Kind::ALL {
        let blank = Sheet::new(kind);
        let schema = keys::schema(kind);
        assert_eq!(blank.lines[0], format!("#:schema ./{}.schema.json", kind.word()));
        loads(kind, &blank.text(), "the blank file");
        checker::keeps_to(&json(&blank.text()), &schema, kind.word());
        let mut more = 0;
        for at in 0..blank.lines.len() {
            if !is_code(&blank.lines[at]) || at == 0 {
                continue;
            }
            let mut sheet = Sheet::new(kind);
            if blank.head_of(at) == Some(at) {
                sheet.turn_on_table(at);
            } else {
                sheet.turn_on_key(at);
            }
            let what = format!("the blank file with {}", blank.lines[at]);
            assert_ne!(json(&sheet.text()), json(&blank.text()), "{what}");
            loads(kind, &sheet.text(), &what);
            checker::keeps_to(&json(&sheet.text()), &schema, &what);
            more += 1;
        }
        let least = match kind {
            Kind::Job => 80,
            Kind::Book => 40,
            Kind::Shop => 20,
            Kind::System => 6,
        };
        assert!(more >= least, "{}: {more}", kind.word());
    }
}

/// Every key of a kind of file stands in its blank file, as a line of its own or in braces.
#[test]
fn a_blank_file_shows_every_key() {
    for kind in Kind::ALL {
        let blank = keys::template(kind);
        each_key(&kind.file(), &mut |key| {
            let written = format!("{} = {}", key.name, key.example);
            assert!(blank.contains(&written), "{}: {written}", kind.word());
        });
        let longest =
            blank.lines().filter(|line| line.starts_with("# ")).map(|line| line.chars().count());
        assert!(longest.max().unwrap() <= 100, "{}", kind.word());
    }
}

/// A blank job has no moisture test, so that its floor waits for one.
#[test]
fn a_blank_job_can_be_estimated() {
    Folder::of("smallest")
        .write("job.toml", keys::template(Kind::Job))
        .run(&["estimate", "job.toml"])
        .success()
        .out_has("barrier (waits for a moisture test)");
}

// ----------------------------------------------------------------------------------- the verb

#[test]
fn schemas_of_files_are_printed_or_kept() {
    let folder = Folder::new();
    for kind in Kind::ALL {
        let word = kind.word();
        let printed = folder.run(&["schema", word]).success().stdout();
        assert_eq!(printed, keys::schema_text(kind));
        folder.run(&["schema", word, "--out", "schemas"]).success().out_has(&kind.schema_line());
        assert_eq!(folder.read(&format!("schemas/{word}.schema.json")), printed);
        assert_eq!(serde_json::from_str::<Value>(&printed).unwrap(), keys::schema(kind));
    }
    // An older one of ours is replaced, and nothing else is.
    let older =
        keys::schema_text(Kind::Job).replacen("\"type\"", "\"$comment\": \"older\", \"type\"", 1);
    let folder = folder.write("schemas/job.schema.json", older);
    folder.run(&["schema", "job", "--out", "schemas"]).success();
    assert_eq!(folder.read("schemas/job.schema.json"), keys::schema_text(Kind::Job));
    let folder = folder.write("schemas/job.schema.json", "{}");
    folder.run(&["schema", "job", "--out", "schemas"]).code(5).err_has("is no schema of slableaf");
    assert_eq!(folder.read("schemas/job.schema.json"), "{}");
    folder.run(&["schema", "results", "--out", "schemas"]).code(2);
    folder.run(&["schema", "results", "--format", "markdown"]).code(2);
}

#[test]
fn the_reference_tells_of_every_key() {
    for kind in Kind::ALL {
        let reference =
            run_in(&root(), &["schema", kind.word(), "--format", "markdown"]).success().stdout();
        each_key(&kind.file(), &mut |key| {
            let said = key.what.replace('|', "\\|");
            assert!(reference.contains(&format!("| {said} |")), "{}: {}", kind.word(), key.name);
        });
        for line in reference.lines().filter(|line| line.starts_with('|')) {
            assert_eq!(line.replace("\\|", "").matches('|').count(), 5, "{line}");
        }
    }
}
