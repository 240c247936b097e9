//! `verify`: whether records are what was written, and whether each still renders to the same bytes.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::issued::{Hash, IssueRecord, RecordFault};
use slableaf::read;
use slableaf::read::limits::{FOLDER_DEPTH, RECORD_BYTES, RECORDS};
use walkdir::WalkDir;

use crate::shell::args::{PaperEdition, Verify};
use crate::shell::store::{
    BUILT_IN, Cache, PROGRAM, RECORD, StoredRecord, Unread, folder_of, is_hidden, make_again,
    own_folder, parallel, read_leaf, read_plain, read_text,
};
use crate::shell::terminal::{Error, Exit, Report, Result, WIDTH, counted, wrapped};

/// The standing of a record, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Standing {
    Sound,
    Otherwise,
    Altered,
    Unread,
}

impl Standing {
    const ALL: [Self; 4] = [Self::Sound, Self::Otherwise, Self::Altered, Self::Unread];

    fn word(self) -> &'static str {
        match self {
            Self::Sound => "sound",
            Self::Otherwise => "renders otherwise",
            Self::Altered => "altered",
            Self::Unread => "cannot be read",
        }
    }
}

/// A record that was examined, and lines about it.
struct Examined {
    standing: Standing,
    notes: Vec<String>,
    /// The reason why it could not be rendered.
    error: Option<Error>,
}

pub fn verify(wanted: &Verify, report: &mut Report) -> Result<Exit> {
    let mut folders = vec![];
    for path in &wanted.paths {
        folders.extend(records_at(path, wanted.records.as_ref())?);
    }
    let cache = Cache::default();
    let mut count = [0_usize; Standing::ALL.len()];
    let work = |folder: &PathBuf| examine(folder, wanted.papers.as_deref(), &cache);
    parallel::in_order(&folders, parallel::threads(None), work, |folder, seen| {
        count[seen.standing as usize] += 1;
        if let Some(error) = &seen.error {
            report.error(error);
        }
        report.say(format!("  {:<17}  {}", seen.standing.word(), folder.display()));
        for note in seen.notes {
            report.say(wrapped(&note, WIDTH, 6));
        }
        report.flush();
    });
    let parts = Standing::ALL.iter().zip(count).filter(|(_, count)| *count > 0);
    let parts: Vec<String> =
        parts.map(|(standing, count)| format!("{count} {}", standing.word())).collect();
    report.say(format!("{}: {}", counted(folders.len(), "record"), parts.join(", ")));
    Ok(match count {
        [_, 0, 0, 0] => Exit::Fine,
        [_, _, _, 0] => Exit::Stop,
        _ => Exit::Files,
    })
}

/// The folders of the records that a path stands for.
fn records_at(path: &Path, records: Option<&PathBuf>) -> Result<Vec<PathBuf>> {
    let unread = |error: std::io::Error| Error::cannot("read", path, &error).exit(Exit::Files);
    let (folder, number) = if fs::metadata(path).map_err(unread)?.is_dir() {
        if path.join(RECORD).exists() {
            return Ok(vec![path.to_owned()]);
        }
        (path.to_owned(), None)
    } else {
        let (file, _) = read_text(path)?;
        let job = read::read_job(&file).alone();
        let job = job.map_err(|problems| Error::problems(problems, vec![file]))?;
        (own_folder(&folder_of(path), records, "records", "--records")?, Some(job.number.0))
    };
    let is_wanted = |path: &Path| match &number {
        None => !is_hidden(path),
        Some(number) => {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let starts =
                |edition: PaperEdition| name.starts_with(&format!("{number}-{}-r", edition.name()));
            PaperEdition::all().any(starts)
        }
    };
    let mut found = vec![];
    match fs::read_dir(&folder) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
        Err(error) => return Err(unread(error)),
        Ok(entries) => {
            for entry in entries {
                let path = entry.map_err(unread)?.path();
                if is_wanted(&path) && path.is_dir() {
                    found.push(path);
                }
                if found.len() > RECORDS {
                    let message = format!("{} holds over {RECORDS} records", folder.display());
                    return Err(Error::new(Exit::Input, message)
                        .help("verify them in parts: name a job or a record"));
                }
            }
        }
    }
    if found.is_empty() {
        let message = format!("no record of an issued paper in {}", folder.display());
        return Err(Error::new(Exit::Files, message)
            .help("`slableaf write` makes one; `--records DIR` names another folder"));
    }
    found.sort_by_key(|path| sort_key(path));
    Ok(found)
}

/// By name, and by number within it: r2 stands before r10.
fn sort_key(path: &Path) -> (String, u32) {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let split = name.rsplit_once("-r").map(|(stem, n)| (stem.to_owned(), n.parse().unwrap_or(0)));
    split.unwrap_or((name, 0))
}

fn examine(folder: &Path, papers: Option<&Path>, cache: &Cache) -> Examined {
    let unsound = |standing, note| Examined { standing, notes: vec![note], error: None };
    let stored = match StoredRecord::read(folder) {
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
    for leaf in record.leaves() {
        match read_leaf(folder, &leaf.path) {
            Ok(bytes) if Hash::of(&bytes) == leaf.sha256 => {}
            Ok(_) => notes.push(format!("{} is not what was recorded", leaf.path)),
            Err(error) => notes.push(format!("{}: {error}", leaf.path)),
        }
    }
    let rendering_may_be_judged = notes.is_empty();
    notes.extend(not_listed(folder, record));
    let copy = papers_of(&real, papers).join(format!("{name}.pdf"));
    if read_plain(&copy, RECORD_BYTES).is_ok_and(|bytes| Hash::of(&bytes) != record.paper.sha256) {
        notes.push(format!("the customer's copy is not what was issued: {}", copy.display()));
    }
    let mut standing = if notes.is_empty() { Standing::Sound } else { Standing::Altered };
    let mut error = None;
    if rendering_may_be_judged {
        let difference = match make_again(&stored, cache, None) {
            Ok((_, document)) if Hash::of(&document.pdf) == record.paper.sha256 => None,
            Ok(_) => Some("the recorded inputs render to other bytes"),
            Err(why) => {
                error = Some(why);
                Some("the recorded inputs cannot be rendered")
            }
        };
        if let Some(difference) = difference {
            notes.push(format!("{difference}: {}", versions(record)));
            standing = standing.max(Standing::Otherwise);
        }
    }
    Examined { standing, notes, error }
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
