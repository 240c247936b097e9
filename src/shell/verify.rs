//! `verify`: whether records are what was written, and whether each still renders to the same bytes.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::issued::{Hash, IssueRecord, RecordFault};
use slableaf::read;
use slableaf::read::limits::{FOLDER_DEPTH, RECORD_BYTES, RECORDS};
use slableaf::typeset::PagesWanted;

use crate::shell::Exit;
use crate::shell::args::{Paper, Verify};
use crate::shell::desk::{Desk, Made};
use crate::shell::files;
use crate::shell::materials::Materials;
use crate::shell::records::{Kept, RECORD, Unread, read_leaf};
use crate::shell::revise::{BUILT_IN, PROGRAM};
use crate::shell::stock::Stock;
use crate::shell::terminal;

pub fn verify(wanted: &Verify) -> Exit {
    verified(wanted).unwrap_or_else(|exit| exit)
}

/// How a record stands, the best first.
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

/// A record that was looked at, and what there is to say of it.
struct Look {
    standing: Standing,
    says: Vec<String>,
}

fn verified(wanted: &Verify) -> Result<Exit, Exit> {
    let mut folders = vec![];
    for path in &wanted.paths {
        folders.extend(records_at(path, wanted.records.as_ref())?);
    }
    let mut count = [0_usize; Standing::ALL.len()];
    for folder in &folders {
        let Look { standing, says } = look(folder, wanted.papers.as_deref());
        count[standing as usize] += 1;
        println!(
            "  {:<17}  {}",
            standing.word(),
            terminal::printable(&folder.display().to_string())
        );
        for line in says {
            println!("{}", terminal::wrapped(&line, 6));
        }
    }
    let counted = Standing::ALL.iter().zip(count).filter(|(_, count)| *count > 0);
    let counted: Vec<String> =
        counted.map(|(standing, count)| format!("{count} {}", standing.word())).collect();
    let noun = if folders.len() == 1 { "record" } else { "records" };
    println!("{} {noun}: {}", folders.len(), counted.join(", "));
    Ok(match count {
        [_, 0, 0, 0] => Exit::Fine,
        [_, _, _, 0] => Exit::Stop,
        _ => Exit::Files,
    })
}

/// The folders of the records that a path stands for.
fn records_at(path: &Path, records: Option<&PathBuf>) -> Result<Vec<PathBuf>, Exit> {
    let unread = |error: std::io::Error| {
        files::cannot("read", path, &error);
        Exit::Files
    };
    let data = fs::metadata(path).map_err(unread)?;
    let (folder, of_job) = if data.is_dir() {
        if path.join(RECORD).exists() {
            return Ok(vec![path.to_owned()]);
        }
        (path.to_owned(), None)
    } else {
        let (file, _) = files::read_text(path)?;
        let job = read::read_job(&file).alone().map_err(|problems| {
            terminal::problems(&problems, std::slice::from_ref(&file));
            Exit::Input
        })?;
        let folder = files::own_folder(&files::folder_of(path), records, "records", "--records")?;
        (folder, Some(job.number.0))
    };
    let mut found = vec![];
    match fs::read_dir(&folder) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
        Err(error) => return Err(unread(error)),
        Ok(entries) => {
            for entry in entries {
                let entry = entry.map_err(unread)?;
                let name = entry.file_name().to_string_lossy().into_owned();
                let wanted = match &of_job {
                    Some(number) => Paper::ALL
                        .iter()
                        .any(|paper| name.starts_with(&format!("{number}-{}-r", paper.name()))),
                    None => !name.starts_with('.'),
                };
                if wanted && entry.path().is_dir() {
                    found.push(entry.path());
                }
                if found.len() > RECORDS {
                    terminal::error(&format!("{} holds over {RECORDS} records", folder.display()));
                    terminal::help("verify them in parts: name a job or a record");
                    return Err(Exit::Input);
                }
            }
        }
    }
    if found.is_empty() {
        terminal::error(&format!("no record of an issued paper in {}", folder.display()));
        terminal::help("`slableaf write` makes one; `--records DIR` names another folder");
        return Err(Exit::Files);
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

fn look(folder: &Path, papers: Option<&Path>) -> Look {
    let unread = |why: String| Look { standing: Standing::Unread, says: vec![why] };
    let kept = match Kept::read(folder) {
        Ok(kept) => kept,
        Err(Unread::Missing(error)) => return unread(format!("{RECORD}: {error}")),
        Err(Unread::Fault(RecordFault::Altered)) => {
            let says = vec![format!("{RECORD} {}", RecordFault::Altered)];
            return Look { standing: Standing::Altered, says };
        }
        Err(Unread::Fault(fault)) => return unread(format!("{RECORD} {fault}")),
    };
    let mut says = vec![];
    let real = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    let name = kept.record.name();
    if real.file_name().is_none_or(|there| there.to_string_lossy() != name) {
        says.push(format!("the folder holds the record of {name}"));
    }
    for leaf in kept.record.leaves() {
        match read_leaf(folder, &leaf.path) {
            Ok(bytes) if Hash::of(&bytes) == leaf.sha256 => {}
            Ok(_) => says.push(format!("{} is not what was recorded", leaf.path)),
            Err(error) => says.push(format!("{}: {error}", leaf.path)),
        }
    }
    let rendering_may_be_judged = says.is_empty();
    says.extend(not_listed(folder, &kept.record));
    let copy = papers_of(&real, papers).join(format!("{name}.pdf"));
    if files::plain(&copy, RECORD_BYTES)
        .is_ok_and(|bytes| Hash::of(&bytes) != kept.record.paper.sha256)
    {
        says.push(format!("the customer's copy is not what was issued: {}", copy.display()));
    }
    let altered = !says.is_empty();
    let otherwise = if rendering_may_be_judged { otherwise(&kept) } else { None };
    let standing = match (altered, &otherwise) {
        (true, _) => Standing::Altered,
        (false, Some(_)) => Standing::Otherwise,
        (false, None) => Standing::Sound,
    };
    says.extend(otherwise);
    Look { standing, says }
}

/// The customer's papers that belong to a record.
fn papers_of(folder: &Path, given: Option<&Path>) -> PathBuf {
    match given {
        Some(papers) => papers.to_owned(),
        None => folder.ancestors().nth(2).unwrap_or(folder).join("papers"),
    }
}

/// Files that lie in a record and are no part of it. What a file manager hides is no matter.
fn not_listed(folder: &Path, record: &IssueRecord) -> Vec<String> {
    fn walk(folder: &Path, below: &str, depth: usize, see: &mut dyn FnMut(String)) {
        if depth > FOLDER_DEPTH {
            return see(below.to_owned());
        }
        let Ok(entries) = fs::read_dir(folder) else { return };
        for entry in entries.flatten() {
            let name = entry.file_name().to_string_lossy().into_owned();
            let path = format!("{below}{name}");
            match entry.file_type() {
                _ if name.starts_with('.') => {}
                Ok(kind) if kind.is_dir() => {
                    walk(&entry.path(), &format!("{path}/"), depth + 1, see)
                }
                _ => see(path),
            }
        }
    }
    let leaves = record.leaves();
    let mut extra = vec![];
    walk(folder, "", 0, &mut |path| {
        if path != RECORD && !leaves.iter().any(|leaf| leaf.path == path) {
            extra.push(format!("{path} was not recorded"));
        }
    });
    extra.sort();
    extra
}

/// Says what is different when the recorded inputs do not render to the recorded bytes.
fn otherwise(kept: &Kept) -> Option<String> {
    let record = &kept.record;
    let why = match made_again(kept, &Stock::default(), None) {
        Ok(made) if Hash::of(&made.1.pdf) == record.paper.sha256 => return None,
        Ok(_) => "the recorded inputs render to other bytes",
        Err(_) => "the recorded inputs cannot be rendered",
    };
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
    Some(format!("{why}: {program}; {layouts}"))
}

/// Renders a record from its own inputs.
pub fn made_again(kept: &Kept, stock: &Stock, drawn: Option<PagesWanted>) -> Result<Made, Exit> {
    let record = &kept.record;
    let Some(paper) = Paper::ALL.into_iter().find(|paper| paper.name() == record.kind) else {
        terminal::error(&format!("no paper is called `{}`", record.kind));
        return Err(Exit::Files);
    };
    let materials = Materials::of_record(kept, stock)?;
    let judged = files::judged(&materials.input)?;
    let mut desk = Desk::of_record(&materials, &judged, record)?;
    desk.drawn = drawn;
    desk.made(paper, Some(record.revision), record.replaces.as_ref())
}
