//! Blank files: each loads as it is, and with any one key or table turned on.

use std::collections::BTreeSet;

use slableaf::read::keys::table::TableSpec;
use slableaf::read::keys::{self, FileKind};

use super::{each_key, json, loads};
use crate::checker;
use crate::fixture::Folder;

fn name_of(head: &str) -> &str {
    head.trim_matches(['[', ']', '#'])
}

fn is_below(head: &str, other: &str) -> bool {
    name_of(head).strip_prefix(name_of(other)).is_some_and(|rest| rest.starts_with('.'))
}

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
