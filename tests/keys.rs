//! One description of every key: files with all of them load, schemas take what the readers do, blank
//! files load.

use std::collections::BTreeSet;

use serde_json::{Map, Value};
use slableaf::base::source::{Diagnostic, Problems, SourceFile};
use slableaf::read::keys::spec::KeySpec;
use slableaf::read::keys::table::{Rule, TableSpec};
use slableaf::read::keys::{self, FileKind};
use slableaf::read::{book, job, reader, shop, system};

use crate::checker;
use crate::fixture::{Folder, all_files, root, run_in};

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
                // A shop's address is judged where a mail is drafted.
                if name == "email" {
                    continue;
                }
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
        assert!(size < 60_000, "{}: {size} bytes", kind.word());
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

fn name_of(head: &str) -> &str {
    head.trim_matches(['[', ']', '#'])
}

fn is_below(head: &str, other: &str) -> bool {
    name_of(head).strip_prefix(name_of(other)).is_some_and(|rest| rest.starts_with('.'))
}

// ------------------------------------------------------------------------------ blank files

/// What is commented out in a blank file: a head, or a key.
fn is_code(line: &str) -> bool {
    line.strip_prefix('#')
        .is_some_and(|code| code.starts_with(|c: char| c == '[' || c.is_ascii_lowercase()))
}

/// A blank file in which lines are turned on and off.
struct Sheet {
    kind: FileKind,
    lines: Vec<String>,
}

impl Sheet {
    fn new(kind: FileKind) -> Self {
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
    fn table(&self, head: Option<usize>) -> &'static TableSpec {
        let mut table = self.kind.file();
        let Some(head) = head else { return table };
        for step in name_of(&self.lines[head]).split('.') {
            let versions = table.versions.iter().map(|(_, version)| version);
            let mut below = table.tables.iter().chain(versions.flat_map(|version| version.tables));
            table = below.find(|below| below.name() == step || below.free).unwrap();
        }
        // The version whose keys stand in the block.
        let here: BTreeSet<&str> = self.block(head).filter_map(|at| self.key_at(at)).collect();
        let fits = |version: &&TableSpec| version.keys.iter().all(|key| here.contains(key.name));
        let mut versions = table.versions.iter().rev().map(|(_, version)| version);
        versions.find(fits).unwrap_or(table)
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

    fn turn_on_table_called(&mut self, name: &str) {
        let head = (0..self.lines.len())
            .find(|at| self.head_of(*at) == Some(*at) && name_of(&self.lines[*at]) == name);
        self.turn_on_table(head.unwrap());
    }

    fn text(&self) -> String {
        self.lines.join("\n") + "\n"
    }
}

/// True for what a job has that is measured space by space: it takes the place of all other tables, as in
/// a file with every key.
fn of_spaces(sheet: &Sheet, at: usize) -> bool {
    let head = sheet.head_of(at).map_or("", |head| name_of(&sheet.lines[head]));
    head.starts_with("space")
        || ["accepted.floors", "order.floors"].contains(&head)
        || is_of_space(sheet.key_at(at))
}

/// Tables of what comes after a signature: they stand only beside `[accepted]`.
const AFTER_SIGNATURE: [&str; 3] = ["laid", "handover", "failure"];

fn is_of_space(key: Option<&str>) -> bool {
    matches!(key, Some("sold-at-home" | "space"))
}

#[test]
fn blank_files_load_and_so_does_each_with_one_thing_more() {
    for kind in FileKind::ALL {
        let blank = Sheet::new(kind);
        let schema = keys::schema(kind);
        assert_eq!(blank.lines[0], format!("#:schema ./{}.schema.json", kind.word()));
        loads(kind, &blank.text(), "the blank file");
        checker::keeps_to(&json(&blank.text()), &schema, kind.word());
        let mut more = 0;
        for at in 0..blank.lines.len() {
            if !is_code(&blank.lines[at]) || at == 0 || of_spaces(&blank, at) {
                continue;
            }
            let mut sheet = Sheet::new(kind);
            let head = blank.head_of(at).map_or("", |head| name_of(&blank.lines[head]));
            if AFTER_SIGNATURE.contains(&head) {
                sheet.turn_on_table_called("accepted");
            }
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
            FileKind::Job => 80,
            FileKind::Book => 40,
            FileKind::Shop => 20,
            FileKind::System => 6,
        };
        assert!(more >= least, "{}: {more}", kind.word());
    }
}

/// Every key of a kind of file stands in its blank file, as a line of its own or in braces.
#[test]
fn a_blank_file_shows_every_key() {
    for kind in FileKind::ALL {
        let blank = keys::template(kind);
        each_key(kind, &mut |key| {
            let written = key.line();
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
        .write("job.toml", keys::template(FileKind::Job))
        .run(&["estimate", "job.toml"])
        .success()
        .out_has("barrier (waits for a moisture test)");
}

// ----------------------------------------------------------------------------------- the verb

#[test]
fn schemas_of_files_are_printed_or_kept() {
    let folder = Folder::new();
    for kind in FileKind::ALL {
        let word = kind.word();
        let printed = folder.run(&["schema", word]).success().stdout();
        assert_eq!(printed, keys::schema_text(kind));
        folder.run(&["schema", word, "--out", "schemas"]).success().out_has(&kind.schema_line(0));
        assert_eq!(folder.read(&format!("schemas/{word}.schema.json")), printed);
        assert_eq!(serde_json::from_str::<Value>(&printed).unwrap(), keys::schema(kind));
    }
    // An older one of ours is replaced, and nothing else is.
    let older = keys::schema_text(FileKind::Job).replacen(
        "\"type\"",
        "\"$comment\": \"older\", \"type\"",
        1,
    );
    let folder = folder.write("schemas/job.schema.json", older);
    folder.run(&["schema", "job", "--out", "schemas"]).success();
    assert_eq!(folder.read("schemas/job.schema.json"), keys::schema_text(FileKind::Job));
    let folder = folder.write("schemas/job.schema.json", "{}");
    folder.run(&["schema", "job", "--out", "schemas"]).code(5).err_has("is no schema of slableaf");
    assert_eq!(folder.read("schemas/job.schema.json"), "{}");
    folder.run(&["schema", "results", "--out", "schemas"]).code(2);
    folder.run(&["schema", "results", "--format", "markdown"]).code(2);
}

#[test]
fn the_reference_tells_of_every_key() {
    for kind in FileKind::ALL {
        let reference =
            run_in(&root(), &["schema", kind.word(), "--format", "markdown"]).success().stdout();
        each_key(kind, &mut |key| {
            let said = key.what.replace('|', "\\|");
            assert!(reference.contains(&format!("| {said} |")), "{}: {}", kind.word(), key.name);
        });
        for line in reference.lines().filter(|line| line.starts_with('|')) {
            assert_eq!(line.replace("\\|", "").matches('|').count(), 5, "{line}");
        }
    }
}
