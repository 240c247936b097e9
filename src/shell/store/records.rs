//! The records of a job on disk: one write-once folder for each revision, a lock, and the one rename
//! by which a revision comes to be.
//!
//! A record is made in a folder of another name, every file and folder of it is synced, and one rename
//! that never overwrites gives it its name. Before that rename nothing was issued; after it, all was.
//! A large file that an earlier record of the job has is linked, not written again.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use slableaf::issued::{Followed, Hash, IssueRecord, RecordFault, chain_ends};
use slableaf::read::limits::{FILE_BYTES, RECORD_BYTES, RECORD_FILES};

use crate::shell::store::{Lock, PreparedPhotos, folder_of, leads_out, read_plain, sync_folder};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Result};

/// The record itself, in its folder.
pub const RECORD: &str = "record.toml";

/// The records of one job.
pub struct Records {
    folder: PathBuf,
    number: String,
    /// Absent where nothing can be written anyway.
    _lock: Option<Lock>,
}

/// A revision that was issued.
pub struct StoredRecord {
    pub folder: PathBuf,
    pub record: IssueRecord,
}

/// The reason why a record could not be read.
pub enum Unread {
    Missing(io::Error),
    Fault(RecordFault),
}

impl StoredRecord {
    /// Reads the record of a folder.
    pub fn read(folder: &Path) -> Result<Self, Unread> {
        Self::of(folder, &read_leaf(folder, RECORD).map_err(Unread::Missing)?)
    }

    /// The record of a folder, of the bytes of its own file.
    pub fn of(folder: &Path, bytes: &[u8]) -> Result<Self, Unread> {
        let altered = |_| Unread::Fault(RecordFault::Altered);
        let text = std::str::from_utf8(bytes).map_err(altered)?;
        let record = IssueRecord::read(text).map_err(Unread::Fault)?;
        let files = record.input.len();
        if files > RECORD_FILES {
            let why = format!("it lists {files} files, and the most accepted is {RECORD_FILES}");
            return Err(Unread::Fault(RecordFault::Unread(why)));
        }
        Ok(Self { folder: folder.to_owned(), record })
    }

    pub fn revision(&self) -> u32 {
        self.record.revision
    }

    /// The paper, when it is what was issued.
    pub fn paper(&self) -> Result<Vec<u8>> {
        let path = self.folder.join(&self.record.paper.path);
        let bytes = read_leaf(&self.folder, &self.record.paper.path).or_cannot("read", &path)?;
        if Hash::of(&bytes) != self.record.paper.sha256 {
            let message = format!("{} is not what was issued", path.display());
            return Err(Error::new(Exit::Files, message)
                .help("bring the record back from a backup; `slableaf verify` says more"));
        }
        Ok(bytes)
    }
}

/// Reads a file of a record, which has to lie in it.
pub fn read_leaf(folder: &Path, path: &str) -> io::Result<Vec<u8>> {
    let other = |why: &str| io::Error::new(ErrorKind::InvalidData, why.to_owned());
    let inner = Path::new(path);
    if !inner.components().all(|part| matches!(part, std::path::Component::Normal(_))) {
        return Err(other("its path leads out of the record"));
    }
    let full = folder.join(inner);
    if leads_out(folder, &full) {
        return Err(other("it is a link that leads out of the record"));
    }
    read_plain(&full, if path == RECORD { FILE_BYTES as u64 } else { RECORD_BYTES })
}

impl Records {
    /// Opens the records of a job for writing: waits for its lock, and clears away what a killed
    /// run left behind.
    pub fn open(folder: PathBuf, number: &str) -> Result<Self> {
        fs::create_dir_all(&folder)
            .map_err(|error| Error::cannot("write", &folder, &error).help("nothing was issued"))?;
        let lock = Lock::take(&folder, number)?;
        let records = Self { folder, number: number.to_owned(), _lock: lock };
        if records._lock.is_some() {
            let unfinished = records.unfinished();
            remove_folder(&unfinished).or_cannot("remove", &unfinished)?;
        }
        Ok(records)
    }

    /// The records of a job to look at: nothing is written, and no lock is taken.
    pub fn to_read(folder: PathBuf, number: &str) -> Self {
        Self { folder, number: number.to_owned(), _lock: None }
    }

    /// The folder of a revision, whether or not it is there.
    pub fn record_folder(&self, kind: &str, revision: u32) -> PathBuf {
        self.folder.join(format!("{}-{kind}-r{revision}", self.number))
    }

    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The photos of the job that are ready for paper; they are kept where the records are open for writing.
    pub fn prepared_photos(&self) -> PreparedPhotos {
        let folder = self.folder.join(format!(".slableaf-{}.photos", self.number));
        PreparedPhotos::new(folder, self._lock.is_some())
    }

    /// The folder in which a record is made: one for a job, since one run makes one at a time.
    fn unfinished(&self) -> PathBuf {
        self.folder.join(format!(".slableaf-{}.tmp", self.number))
    }

    /// The latest revision of a paper.
    pub fn latest(&self, kind: &str) -> Result<Option<StoredRecord>> {
        let stem = format!("{}-{kind}", self.number);
        match highest(&self.folder, &stem, "").or_cannot("read", &self.folder)? {
            0 => Ok(None),
            revision => self.revision(kind, revision).map(Some),
        }
    }

    /// Every revision of a paper that is there, the first one first.
    pub fn all(&self, kind: &str) -> Result<Vec<StoredRecord>> {
        let stem = format!("{}-{kind}", self.number);
        let last = highest(&self.folder, &stem, "").or_cannot("read", &self.folder)?;
        let found = (1..=last).map(|revision| self.find(kind, revision));
        found.filter_map(Result::transpose).collect()
    }

    /// A revision, if it was issued.
    pub fn find(&self, kind: &str, revision: u32) -> Result<Option<StoredRecord>> {
        let folder = self.record_folder(kind, revision);
        if fs::symlink_metadata(folder).is_err() {
            return Ok(None);
        }
        self.revision(kind, revision).map(Some)
    }

    /// A revision that has to be there.
    pub fn revision(&self, kind: &str, revision: u32) -> Result<StoredRecord> {
        let folder = self.record_folder(kind, revision);
        let refused = |why: String| {
            Error::new(Exit::Files, format!("{} {why}", folder.display()))
                .help("bring it back from a backup; `slableaf verify` says more")
        };
        if leads_out(&self.folder, &folder) {
            return Err(refused("is a link that leads out of the records".into()));
        }
        let stored = StoredRecord::read(&folder).map_err(|why| match why {
            Unread::Missing(error) => refused(format!("is no whole record: {RECORD}: {error}")),
            Unread::Fault(fault) => refused(format!("is no sound record: {RECORD} {fault}")),
        })?;
        let expected = (self.number.as_str(), kind, revision);
        let record = &stored.record;
        if (record.number.as_str(), record.kind.as_str(), record.revision) != expected {
            return Err(refused(format!("is the record of {}", record.name())));
        }
        Ok(stored)
    }

    /// Every record of the job that is there and can be read, with the hash of its own file.
    fn all_of_job(&self) -> Vec<(StoredRecord, Hash)> {
        let starts = format!("{}-", self.number);
        let entries = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        let folders = entries.filter(|entry| {
            entry.file_name().to_str().is_some_and(|name| name.starts_with(&starts))
        });
        let read = folders.filter_map(|entry| {
            let folder = entry.path();
            let bytes = read_leaf(&folder, RECORD).ok()?;
            let stored = StoredRecord::of(&folder, &bytes).ok()?;
            let record = &stored.record;
            // Where a record was moved to another name, that is for `verify` to tell.
            let at_home = entry.file_name().to_str() == Some(&record.name());
            (at_home && record.number == self.number).then(|| (stored, Hash::of(&bytes)))
        });
        read.collect()
    }

    /// Names of records after which others were made and that are not there, the first one first: what
    /// they promised is not known.
    pub fn missing(&self) -> Vec<String> {
        let known = self.all_of_job();
        let before = known.iter().flat_map(|(stored, _)| stored.record.came_after());
        let mut missing: Vec<String> = before
            .map(|(name, _)| name)
            .filter(|name| fs::symlink_metadata(self.folder.join(name)).is_err())
            .collect();
        missing.sort();
        missing.dedup();
        missing
    }

    /// Makes a record: all of it or nothing. `before` is what stands if it fails.
    pub fn commit(
        &self,
        record: &IssueRecord,
        contents: &[(&str, &[u8])],
        before: Option<u32>,
    ) -> Result<StoredRecord> {
        let folder = self.folder.join(record.name());
        let known = self.all_of_job();
        let ends = known
            .iter()
            .map(|(stored, sha256)| Followed {
                record: stored.record.name(),
                sha256: sha256.clone(),
            })
            .collect();
        let followed: Vec<Followed> =
            known.iter().flat_map(|(stored, _)| stored.record.follows.iter().cloned()).collect();
        let record = &IssueRecord { follows: chain_ends(ends, &followed), ..record.clone() };
        let text = record.text().map_err(|error| Error::new(Exit::Bug, error.to_string()))?;
        let unfinished = self.unfinished();
        let make = || -> io::Result<()> {
            let mut files = vec![Staged { path: RECORD, bytes: text.as_bytes(), kept: None }];
            files.extend(contents.iter().map(|(path, bytes)| {
                Staged {
                    path,
                    bytes,
                    kept: record
                        .input
                        .iter()
                        .find(|leaf| leaf.path == **path && bytes.len() >= KEPT_ONCE)
                        .and_then(|leaf| kept_already(&known, &leaf.sha256, bytes)),
                }
            }));
            stage(&unfinished, &files)?;
            rename_new(&unfinished, &folder)
        };
        make().map_err(|error| {
            // As good as it gets on a full or broken disk; the next run clears up, too.
            let _ = remove_folder(&unfinished);
            Error::cannot("write", &folder, &error).help(match before {
                Some(revision) => format!(
                    "nothing was issued: revision {revision} stands as it was, in {}",
                    self.folder.display()
                ),
                None => "nothing was issued: there is no record of this paper yet".to_owned(),
            })
        })?;
        sync_folder(&self.folder).map_err(|error| {
            let revision = record.revision;
            Error::cannot("sync", &self.folder, &error).help(format!(
                "revision {revision} stands in its record, but may not outlast a loss of power"
            ))
        })?;
        Ok(StoredRecord { folder, record: record.clone() })
    }
}

/// The highest revision that a folder has of a name, also when it is no file or folder of ours: a
/// number is used once. 0 when there is none, or no such folder.
pub fn highest(folder: &Path, stem: &str, end: &str) -> io::Result<u32> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(0),
        Err(error) => return Err(error),
    };
    let mut highest = 0;
    for entry in entries {
        let name = entry?.file_name();
        let number = name
            .to_str()
            .and_then(|name| name.strip_prefix(stem)?.strip_prefix("-r")?.strip_suffix(end))
            .filter(|digits| !digits.starts_with(['0', '+']))
            .and_then(|digits| digits.parse().ok());
        highest = highest.max(number.unwrap_or(0));
    }
    Ok(highest)
}

fn remove_folder(folder: &Path) -> io::Result<()> {
    match fs::symlink_metadata(folder) {
        Ok(data) if data.is_dir() => fs::remove_dir_all(folder),
        Ok(_) => fs::remove_file(folder),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error),
    }
}

/// Bytes from which on a file is kept once for all records of a job.
const KEPT_ONCE: usize = 16_384;

/// A file of a record that is being made.
struct Staged<'a> {
    path: &'a str,
    bytes: &'a [u8],
    /// The same file in an earlier record.
    kept: Option<PathBuf>,
}

/// A file with these bytes in a record of the job: photos, fonts and the like are kept once, however many
/// revisions have them. Each record still has all its files: one may be moved away and the others stay
/// whole. Hashes find the file; its bytes are compared, so that one that was damaged is written anew.
fn kept_already(known: &[(StoredRecord, Hash)], hash: &Hash, bytes: &[u8]) -> Option<PathBuf> {
    let places = known.iter().flat_map(|(stored, _)| {
        let same = stored.record.input.iter().filter(|leaf| leaf.sha256 == *hash);
        same.map(|leaf| (&stored.folder, leaf.path.as_str()))
    });
    places
        .filter(|(folder, path)| {
            let is_link = fs::symlink_metadata(folder.join(path)).is_ok_and(|d| d.is_symlink());
            !is_link && read_leaf(folder, path).is_ok_and(|there| there == bytes)
        })
        .map(|(folder, path)| folder.join(path))
        .next()
}

/// Writes a folder of files, all synced.
fn stage(root: &Path, contents: &[Staged<'_>]) -> io::Result<()> {
    fs::create_dir(root)?;
    let mut folders = vec![root.to_owned()];
    for Staged { path, bytes, kept } in contents {
        let path = root.join(path);
        let parent = folder_of(&path);
        fs::create_dir_all(&parent)?;
        // A second name for the same file. Where a disk has no such thing, it is written again.
        if kept.as_ref().is_none_or(|kept| fs::hard_link(kept, &path).is_err()) {
            let mut file = File::create_new(&path)?;
            file.write_all(bytes)?;
            file.sync_all()?;
        }
        folders.extend(parent.ancestors().take_while(|up| *up != root).map(Path::to_owned));
    }
    folders.sort();
    folders.dedup();
    folders.iter().rev().try_for_each(|folder| sync_folder(folder))
}

/// Renames a folder to a name that must be free.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn rename_new(from: &Path, to: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    match renameat_with(CWD, from, CWD, to, RenameFlags::NOREPLACE) {
        // The file system (some network drives) does not know the flag.
        Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => rename_to_absent(from, to),
        other => other.map_err(io::Error::from),
    }
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn rename_new(from: &Path, to: &Path) -> io::Result<()> {
    rename_to_absent(from, to)
}

/// Without the flag: a folder never takes the place of a file or of a folder with something in it,
/// and a record always has something in it.
fn rename_to_absent(from: &Path, to: &Path) -> io::Result<()> {
    if fs::symlink_metadata(to).is_ok() {
        return Err(ErrorKind::AlreadyExists.into());
    }
    fs::rename(from, to)
}
