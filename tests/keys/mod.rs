//! One description of every key: files with all of them load, schemas take what the readers do, blank
//! files load.

mod blank_files;
mod printed;

use std::collections::BTreeSet;

use serde_json::{Map, Value};
use slableaf::base::source::{Diagnostic, Problems, SourceFile};
use slableaf::read::keys::spec::KeySpec;
use slableaf::read::keys::table::{Rule, TableSpec};
use slableaf::read::keys::{self, FileKind};
use slableaf::read::{book, job, reader, shop, system};

use crate::checker;
use crate::fixture::{all_files, root};

/// Everything that a reader says of a file, and whether it made something of it.
fn read(kind: FileKind, text: &str) -> (bool, Vec<Diagnostic>) {
    let file = SourceFile { name: kind.word().to_owned(), text: text.to_owned() };
    let problems = Problems::default();
    let spec = kind.file();
    let made = match kind {
        FileKind::Job => reader::read_file(&file, &problems, spec, |top| job::job(top).1).is_some(),
        FileKind::Book => reader::read_file(&file, &problems, spec, book::book).is_some(),
        FileKind::Shop => reader::read_file(&file, &problems, spec, shop::shop).is_some(),
        FileKind::System => reader::read_file(&file, &problems, spec, system::system).is_some(),
    };
    (made, problems.into_inner())
}

#[track_caller]
fn loads(kind: FileKind, text: &str, what: &str) {
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
const INSTEAD: &[&str] = &[
    "outline",
    "area",
    "poured-year",
    "film",
    "voc-masses",
    "solvent-free",
    "supplier",
    "amount",
    "on-request",
    "extra",
    "pack-for",
];

/// What a job of several spaces has in place of what one of a single space has.
const SPACES: &[&str] = &["space", "sold-at-home", "floors"];

/// Files that together hold every key.
fn whole(kind: FileKind) -> [String; 3] {
    let [usual, other, spaces] = [&[], INSTEAD, SPACES].map(|more| keys::every_key(kind, more));
    // A discount on all spaces names no floors.
    let floors = "reason = \"Two floors in one visit\"\nfloors = [\"barrier\"]\n";
    [usual, other, spaces.replace(floors, "reason = \"Two floors in one visit\"\n")]
}

fn each_table(table: &'static TableSpec, see: &mut impl FnMut(&'static TableSpec)) {
    see(table);
    table.tables.iter().for_each(|below| each_table(below, see));
    table.versions.iter().for_each(|(_, version)| each_table(version, see));
}

fn each_key(kind: FileKind, see: &mut impl FnMut(&'static KeySpec)) {
    each_table(kind.file(), &mut |table| table.keys.iter().for_each(&mut *see));
}

// ------------------------------------------------------------------- descriptions and readers

#[test]
fn every_key_is_described_in_one_sentence() {
    let see = &mut |table: &'static TableSpec| {
        for what in table.keys.iter().map(|key| key.what).chain([table.what]) {
            let words = what.split_whitespace().count();
            assert!(what.ends_with('.') && !what.contains(". "), "{}: {what}", table.path);
            assert!((1..=20).contains(&words), "{}: {words} words: {what}", table.path);
        }
        let names: BTreeSet<&str> = table.names().collect();
        assert_eq!(names.len(), table.names().count(), "{}: a name twice", table.path);
        for rule in table.rules {
            let named = match rule {
                Rule::Apart(a, b, _) | Rule::Together(a, b, _) => vec![*a, *b],
                Rule::Unless(other, needed, _) => [&[*other], *needed].concat(),
                Rule::OneOf(names, _) => names.to_vec(),
                Rule::Holds(holder, held, free) => [&[*holder], *held, *free].concat(),
            };
            assert!(named.iter().all(|name| names.contains(name)), "{rule:?}");
        }
    };
    FileKind::ALL.into_iter().for_each(|kind| each_table(kind.file(), see));
    let thickness = keys::job::slab::THICKNESS.spec;
    assert_eq!(thickness.line(), "thickness = \"4 in\"");
    assert_eq!(thickness.bounds().unwrap(), "Units: ft, in, m, cm, mm; at most 1000 ft.");
}

#[test]
fn every_example_is_taken_by_the_reader() {
    for kind in FileKind::ALL {
        let texts = whole(kind);
        each_key(kind, &mut |key| {
            let line = key.line();
            assert!(texts.iter().any(|text| text.contains(&line)), "{}: {line}", kind.word());
        });
        for text in &texts {
            loads(kind, text, "a file with every key");
            checker::keeps_to(&json(text), &keys::schema(kind), kind.word());
        }
    }
}

/// A table that no reader opened would take any key.
#[test]
fn every_table_is_opened_by_its_reader() {
    const STRANGE: &str = "qqqq = 1";
    for kind in FileKind::ALL {
        for text in whole(kind) {
            let (mut strange, mut tables) = (format!("{STRANGE}\n"), 1);
            for line in text.lines() {
                tables += line.matches("{ ").count() + usize::from(line.starts_with('['));
                strange += &line.replace("{ ", &format!("{{ {STRANGE}, "));
                strange += if line.starts_with('[') { "\nqqqq = 1\n" } else { "\n" };
            }
            let unknown = |problem: &&Diagnostic| problem.message.starts_with("unknown key `qqqq`");
            let problems = read(kind, &strange).1;
            // Tables of names that a person chooses take any.
            let heads = ["[extras]", "[space.extras]", "[accepted.floors]", "[order.floors]"];
            let free = text.lines().filter(|line| heads.contains(line)).count();
            let found = problems.iter().filter(unknown).count();
            assert_eq!(found, tables - free, "{}: {problems:#?}", kind.word());
        }
    }
}

/// Slips that a schema leaves to the reader: only a grammar can tell them.
#[test]
fn the_reader_refuses_what_a_schema_cannot_tell() {
    for (kind, line, wrong) in SLIPS {
        let texts = whole(*kind);
        let text =
            texts.iter().find(|text| text.contains(line)).unwrap_or_else(|| panic!("{line}"));
        let name = line.split(" = ").next().unwrap();
        let broken = text.replacen(line, &format!("{name} = {wrong}"), 1);
        let (_, problems) = read(*kind, &broken);
        assert!(!problems.is_empty(), "{name} = {wrong}");
    }
}

const SLIPS: &[(FileKind, &str, &str)] = &[
    (FileKind::Job, "surface-strength = \"310 psi\"", "\"250 ft\""),
    (FileKind::Job, "length = \"11 ft\"", "\"22,5 ft\""),
    (FileKind::Job, "length = \"11 ft\"", "\"6 in 2 ft\""),
    (FileKind::Job, "length = \"11 ft\"", "\"0 ft\""),
    (FileKind::Job, "width = \"1/16 in\"", "\"-1 in\""),
    (FileKind::Job, "temperature = \"66 F\"", "\"70 K\""),
    (FileKind::Job, "humidity = \"54 %\"", "\"155 %\""),
    (FileKind::Job, "humidity = \"54 %\"", "\"0 %\""),
    (FileKind::Job, "exposed = \"65.7 in2\"", "\"0 ft2\""),
    (FileKind::Job, "before = \"219.1 g\"", "\"about 218 g\""),
    (FileKind::Job, "date = 2026-05-12", "1726-05-12"),
    (FileKind::Job, "name = \"Name of the customer\"", "\"Rosa\\nTannenwald\""),
    (FileKind::Job, "file = \"photos/door.jpg\"", "\"../../secret.jpg\""),
    (FileKind::Job, "file = \"photos/door.jpg\"", "\"/secret.jpg\""),
    (FileKind::Book, "wage = \"$34.00/h\"", "\"$32.00\""),
    (FileKind::Book, "wage = \"$34.00/h\"", "\"-$32.00/h\""),
    (FileKind::Book, "grind = \"260 ft2/h\"", "\"260 ft2\""),
    (FileKind::Book, "grind = \"260 ft2/h\"", "\"0 ft2/h\""),
    (FileKind::Book, "minimum = \"$1,800.00\"", "\"1800 dollars\""),
    (FileKind::Book, "minimum = \"$1,800.00\"", "\"$1.005\""),
    (FileKind::Book, "mix = \"2 : 1\"", "\"2 to 1\""),
    (FileKind::Book, "size = \"3 gal\"", "\"3 lb\""),
    (FileKind::Shop, "airflow = \"1,500 cfm\"", "\"fast\""),
];

/// A schema takes each of these texts wherever the reader does.
#[test]
fn schemas_take_what_readers_take_of_everyday_texts() {
    const TEXTS: &str = "7 ft| NO |7ft|6 1/2 in|22 ft 6 in|22'6\"|22' 6 1/2\"|22\u{2032}6\u{2033}|\u{bd} in|\
        4\u{2013}1/2 in|22\u{a0}ft| 22 ft |.5 m|7 m2|7 sq ft|7 gal|7 fl oz|7 mil|\
        100 \u{b5}m|7 ft2/gal|7 lb|7 lb/ft2|7 psi|7 lb/1000 ft2/24 h|7 h|1 h 30 min|7 ft2/h|\
        7 ft/h|7 g/L|7 g/mol|150 ppm|1500 CFM|7 %|54% RH|-4 \u{b0}C|\u{2212}4 C|\
        58 degrees F|7|1,250.00|$1,250.00|1250 USD|CHF 28|$28 per hour|$28/h|\
        $0.40 per sq ft|+4.5 %|\u{2212}1 %|-$3.00|2 : 1|2:1:1|CSP 2 to CSP 3|pH 7|barrier|\
        photos/door.jpg|..x/y..jpg|me@home.example|America/Chicago|#27566B|monday|us|US|\
        2026-0142|en|new|e\u{301}|two words|none";
    let (mut taken, mut seen) = (0, BTreeSet::new());
    for kind in FileKind::ALL {
        let schema = keys::schema(kind);
        for text in whole(kind) {
            let lines: Vec<&str> = text.lines().collect();
            let quoted = |line: &str| line.ends_with('"') && !line.starts_with('[');
            for (at, line) in lines.iter().enumerate() {
                if !quoted(line) || !seen.insert(format!("{kind:?} {line}")) {
                    continue;
                }
                let name = line.split(" = ").next().unwrap();
                for typed in TEXTS.split('|') {
                    let edited = format!("{name} = {}", toml::Value::from(typed));
                    let mut file = lines.clone();
                    file[at] = &edited;
                    let file = file.join("\n");
                    if read(kind, &file).1.is_empty() {
                        taken += 1;
                        checker::keeps_to(&json(&file), &schema, &edited);
                    }
                }
            }
        }
    }
    assert!(taken > 1_000, "{taken}");
}

/// An editor reads them whole: each is short, and says what it defines once.
#[test]
fn schemas_are_short() {
    for kind in FileKind::ALL {
        let size = keys::schema_text(kind).len();
        assert!(size < 40 << 10, "{}: {size} bytes", kind.word());
    }
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
            Some(FileKind::System)
        } else {
            FileKind::ALL.into_iter().find(|k| k.word() == stem)
        };
        let (Some(kind), true) = (kind, path.extension().is_some_and(|end| end == "toml")) else {
            continue;
        };
        let value = json(&String::from_utf8(bytes).unwrap());
        let name = path.display().to_string();
        if name.contains("several-mistakes") {
            let faults = checker::faults(&value, &keys::schema(kind));
            assert!(faults.len() >= 6, "{faults:#?}");
        } else {
            checker::keeps_to(&value, &keys::schema(kind), &name);
        }
        seen += 1;
    }
    assert!(seen >= 15, "{seen}");
}

/// A file that a shop wrote before a key came is read as it was: what is left out is not known.
#[test]
fn files_without_any_optional_key_are_read() {
    for kind in FileKind::ALL {
        for text in whole(kind) {
            let (mut optional, mut needs) = (BTreeSet::new(), BTreeSet::new());
            each_table(kind.file(), &mut |table| {
                let needed = |name: &str| {
                    // In a job with several spaces each record is of one of them.
                    name == "space"
                        || table.rules.iter().any(|rule| match rule {
                            Rule::Unless(other, names, _) => {
                                *other == name || names.contains(&name)
                            }
                            Rule::OneOf(names, _) => names.contains(&name),
                            // Beside a table, which stays.
                            Rule::Together(a, b, _) => *b == name && table.key(a).is_none(),
                            _ => false,
                        })
                };
                let (may, must): (Vec<&KeySpec>, Vec<&KeySpec>) = table
                    .keys
                    .iter()
                    .filter(|key| !key.free)
                    .partition(|key| !key.need && !needed(key.name));
                optional.extend(may.iter().map(|key| key.line()));
                needs.extend(must.iter().map(|key| key.line()));
            });
            // A line may be needed in one table and not in another.
            let left =
                text.lines().filter(|line| !optional.contains(*line) || needs.contains(*line));
            let left: Vec<&str> = left.collect();
            assert!(left.len() < text.lines().count());
            loads(kind, &left.join("\n"), "a file without optional keys");
        }
    }
}
