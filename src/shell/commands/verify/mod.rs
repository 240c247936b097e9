//! `verify`: whether records are what was written, whether any is missing, and whether each still
//! renders to the same bytes and computes to the same figures.

mod chain;
mod places;

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::issued::{FORMAT, Hash, IssueRecord, RecordFault};
use slableaf::read::limits::{FOLDER_DEPTH, RECORD_BYTES};
use walkdir::WalkDir;

use crate::shell::args::Verify;
use crate::shell::commands::verify::chain::Chain;
use crate::shell::commands::verify::places::{Place, Places};
use crate::shell::store::{
    BUILT_IN, Cache, JobPapers, PROGRAM, RECORD, StoredRecord, Unread, folder_of, is_hidden,
    leads_out, make_again_with, parallel, read_leaf, read_plain,
};
use crate::shell::terminal::{Error, Exit, Report, Result, WIDTH, counted, wrapped};

/// The standing of a record, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Standing {
    Sound,
    /// Its figures are those of another version of the program, and may be right or not.
    Uncompared,
    Otherwise,
    Altered,
    Missing,
    Unread,
}

/// The words of the standings, in their order.
const STANDINGS: [&str; 6] =
    ["sound", "not compared", "renders otherwise", "altered", "missing", "cannot be read"];

/// A record that was examined, and lines about it.
struct Examined {
    standing: Standing,
    notes: Vec<String>,
    /// The reason why it could not be rendered.
    error: Option<Error>,
}

pub fn verify(wanted: &Verify, report: &mut Report) -> Result<Exit> {
    let mut places = Places::default();
    for path in &wanted.paths {
        places.add(path, wanted.records.as_ref())?;
    }
    let Places { found, unsearched } = places.distinct();
    unsearched.iter().for_each(|error| report.error(error));
    let chain = Chain::read(&found, unsearched.is_empty());
    let cache = Cache::default();
    let mut count = [0_usize; STANDINGS.len()];
    let mut say = |path: &Path, seen: Examined, report: &mut Report| {
        let standing = seen.standing as usize;
        count[standing] += 1;
        if let Some(error) = &seen.error {
            report.error(error);
        }
        report.say(format!("  {:<17}  {}", STANDINGS[standing], path.display()));
        for note in seen.notes {
            report.say(wrapped(&note, WIDTH, 6));
        }
        report.flush();
    };
    let work = |place: &Place| examine(place, wanted.papers.as_deref(), &chain, &cache);
    parallel::in_order(&found, parallel::threads(None), work, |place, seen| {
        say(&place.path, seen, report);
    });
    for (path, by) in chain.missing(&found) {
        let notes = vec![format!("{by} was issued after it: bring it back from a backup")];
        say(path, Examined { standing: Standing::Missing, notes, error: None }, report);
    }
    let parts = STANDINGS.iter().zip(count).filter(|(_, count)| *count > 0);
    let parts: Vec<String> = parts.map(|(word, count)| format!("{count} {word}")).collect();
    let all: usize = count.iter().sum();
    let records = counted(all, "record");
    report.say(format!("{records}: {}", parts.join(", ")));
    let as_expected = say_hash(&chain, wanted.expect.as_ref(), report)?;
    let [sound, .., unread] = count;
    Ok(match (sound == all, unread) {
        (true, _) if as_expected && unsearched.is_empty() => Exit::Fine,
        (_, 0) if unsearched.is_empty() => Exit::Stop,
        _ => Exit::Files,
    })
}

/// Says the one hash of all records, and returns whether it is the one that was kept elsewhere.
fn say_hash(chain: &Chain, expected: Option<&Hash>, report: &mut Report) -> Result<bool> {
    match (chain.hash_of_all(), expected) {
        (None, None) => Ok(true),
        (None, Some(_)) => {
            let message = "without every record there is no hash of all to hold against the one that was kept";
            Err(Error::new(Exit::Files, message)
                .help("name the folder that the kept hash is of, with all its records"))
        }
        (Some(hash), None) => {
            report.say(format!("hash of all: {}", hash.0));
            Ok(true)
        }
        (Some(hash), Some(expected)) if hash == *expected => {
            report.say(
                "hash of all: as it was kept; no record file was added, changed or taken away",
            );
            Ok(true)
        }
        (Some(hash), Some(_)) => {
            report.say(format!("hash of all: {}", hash.0));
            let note = "not the one that was kept: since then a record was added, changed or taken \
                 away. A paper that was issued since is reason enough";
            report.say(wrapped(note, WIDTH, 6));
            Ok(false)
        }
    }
}

fn examine(place: &Place, papers: Option<&Path>, chain: &Chain, cache: &Cache) -> Examined {
    let folder = place.path.as_path();
    let unsound = |standing, note| Examined { standing, notes: vec![note], error: None };
    if place.within.is_some() && leads_out(&folder_of(folder), folder) {
        return unsound(Standing::Unread, "it is a link that leads out of the records".to_owned());
    }
    if !folder.is_dir() {
        return unsound(Standing::Unread, "it is not the folder of a record".to_owned());
    }
    let bytes = match read_leaf(folder, RECORD) {
        Ok(bytes) => bytes,
        Err(error) => return unsound(Standing::Unread, format!("{RECORD}: {error}")),
    };
    let stored = match StoredRecord::of(folder, &bytes) {
        Ok(stored) => stored,
        Err(Unread::Missing(error)) => {
            return unsound(Standing::Unread, format!("{RECORD}: {error}"));
        }
        Err(Unread::Fault(fault)) => {
            let altered = matches!(fault, RecordFault::Altered);
            let standing = if altered { Standing::Altered } else { Standing::Unread };
            return unsound(standing, format!("{RECORD} {fault}"));
        }
    };
    let record = &stored.record;
    let mut notes = vec![];
    let real = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    let name = record.name();
    if real.file_name().is_none_or(|there| there.to_string_lossy() != name) {
        notes.push(format!("the folder holds the record of {name}"));
    }
    if let Some(by) = chain.other_than(folder, &Hash::of(&bytes)) {
        notes.push(format!("{RECORD} is not the one that {by} was issued after"));
    }
    for leaf in record.leaves() {
        match read_leaf(folder, &leaf.path) {
            Ok(bytes) if Hash::of(&bytes) == leaf.sha256 => {}
            Ok(_) => notes.push(format!("{} is not what was recorded", leaf.path)),
            Err(error) => notes.push(format!("{}: {error}", leaf.path)),
        }
    }
    let rendering_may_be_judged = notes.is_empty();
    notes.extend(not_listed(folder, record));
    notes.extend(fault_of_copy(&papers_of(&real, papers).join(format!("{name}.pdf")), record));
    let standing = if notes.is_empty() { Standing::Sound } else { Standing::Altered };
    let mut seen = Examined { standing, notes, error: None };
    if rendering_may_be_judged {
        seen.make_again(&stored, cache);
    }
    seen
}

impl Examined {
    fn add(&mut self, standing: Standing, note: String) {
        self.standing = self.standing.max(standing);
        self.notes.push(note);
    }

    /// Makes the paper and its figures again from what was recorded, and holds them against it.
    fn make_again(&mut self, stored: &StoredRecord, cache: &Cache) {
        let record = &stored.record;
        let compared = |papers: &JobPapers<'_>| {
            let job = &papers.job.input.job;
            let results = Hash::of(papers.results()?.as_bytes());
            Ok([
                ("number", record.number == job.number.0),
                ("date", record.date.0 == job.date),
                ("facts", record.facts == papers.facts()?),
                ("results", record.results.sha256 == results),
            ])
        };
        let (document, mut compared) = match make_again_with(stored, cache, None, compared) {
            Ok(((_, document), compared)) => (document, compared.to_vec()),
            Err(why) => {
                self.error = Some(why);
                let note = format!("the recorded inputs cannot be rendered: {}", versions(record));
                return self.add(Standing::Otherwise, note);
            }
        };
        let same_bytes = Hash::of(&document.pdf) == record.paper.sha256;
        if same_bytes {
            compared.push(("number of pages", record.paper.pages == document.pages));
        }
        let other: Vec<&str> =
            compared.iter().filter(|(_, same)| !same).map(|(what, _)| *what).collect();
        let (what, is) = (other.join(", "), if other.len() == 1 { "is" } else { "are" });
        if !other.is_empty() && is_of_this_program(record) {
            let note = format!(
                "{what} {is} not what the recorded inputs give: changed since, unless another build of \
                 program {PROGRAM} worked it out"
            );
            self.add(Standing::Altered, note);
        } else if !other.is_empty() {
            let note =
                format!("{what} {is} of another version and not compared: {}", versions(record));
            self.add(Standing::Uncompared, note);
        }
        if !same_bytes {
            let note = format!("the recorded inputs render to other bytes: {}", versions(record));
            self.add(Standing::Otherwise, note);
        }
    }
}

/// True for a record that this very program would have written: its figures can be held against ours.
fn is_of_this_program(record: &IssueRecord) -> bool {
    record.format == FORMAT && record.program == PROGRAM && record.built_in == *BUILT_IN
}

/// The fault of the customer's copy of a record, if it has one; none when there is no copy.
fn fault_of_copy(copy: &Path, record: &IssueRecord) -> Option<String> {
    // A link is looked at, too: it may lead nowhere, or to a device that has no end.
    fs::symlink_metadata(copy).ok()?;
    let shown = copy.display();
    match read_plain(copy, RECORD_BYTES) {
        Ok(bytes) if Hash::of(&bytes) == record.paper.sha256 => None,
        Ok(_) => Some(format!("the customer's copy is not what was issued: {shown}")),
        Err(error) => Some(format!("the customer's copy cannot be read: {shown}: {error}")),
    }
}

/// The customer's papers that belong to a record.
fn papers_of(folder: &Path, given: Option<&Path>) -> PathBuf {
    match given {
        Some(papers) => papers.to_owned(),
        None => folder.ancestors().nth(2).unwrap_or(folder).join("papers"),
    }
}

/// Files that lie in a record and are no part of it. A file that is hidden is no matter.
fn not_listed(folder: &Path, record: &IssueRecord) -> Vec<String> {
    let leaves = record.leaves();
    let entries = WalkDir::new(folder).min_depth(1).max_depth(FOLDER_DEPTH).sort_by_file_name();
    let entries = entries.into_iter().filter_entry(|entry| !is_hidden(entry.path()));
    let files = entries
        .flatten()
        .filter(|entry| !entry.file_type().is_dir() || entry.depth() == FOLDER_DEPTH);
    let mut extra: Vec<String> = files
        .filter_map(|entry| {
            let inside = entry.path().strip_prefix(folder).ok()?;
            let parts = inside.iter().map(|part| part.to_string_lossy().into_owned());
            Some(parts.collect::<Vec<_>>().join("/"))
        })
        .filter(|path| path != RECORD && !leaves.iter().any(|leaf| leaf.path == *path))
        .map(|path| format!("{path} was not recorded"))
        .collect();
    extra.sort();
    extra
}

/// The versions of program, layouts and words at the time of a record and now.
fn versions(record: &IssueRecord) -> String {
    let program = if record.program == PROGRAM {
        format!("the program is of the same version, {PROGRAM}")
    } else {
        format!("the program was {} then and is {PROGRAM} now", record.program)
    };
    let layouts = if record.built_in == *BUILT_IN {
        "its built-in layouts and words are the same"
    } else {
        "its built-in layouts or words have changed since"
    };
    format!("{program}; {layouts}")
}
