//! The chain of records: each names the hash of those before it, so that one that is missing or was
//! exchanged is told by those that came after.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use slableaf::issued::{Hash, IssueRecord};

use crate::shell::commands::verify::places::Place;
use crate::shell::store::{RECORD, StoredRecord, folder_of, read_leaf};

/// What records say of each other.
#[derive(Debug, Default)]
pub struct Chain {
    /// By the place of a record: those that name it, each with the hash that it had, where it is known.
    named: BTreeMap<PathBuf, Vec<(String, Option<Hash>)>>,
    /// The record files that were read, by their paths within what was asked for.
    files: Vec<(String, Hash)>,
    /// The same by their places.
    places: BTreeMap<PathBuf, Hash>,
    /// True when a record file, or a place where one may be, could not be read.
    partly: bool,
}

impl Chain {
    /// Reads the record files of places; those of a record that was named alone say nothing of others. `all_found`
    /// when every place was searched.
    pub fn read(places: &[Place], all_found: bool) -> Self {
        let mut chain = Self { partly: !all_found, ..Self::default() };
        for place in places {
            let Some(within) = &place.within else { continue };
            let Ok(bytes) = read_leaf(&place.path, RECORD) else {
                chain.partly = true;
                continue;
            };
            chain.files.push((format!("{within}/{RECORD}"), Hash::of(&bytes)));
            chain.places.insert(place.path.clone(), Hash::of(&bytes));
            if let Ok(stored) = StoredRecord::of(&place.path, &bytes) {
                chain.add(&place.path, &stored.record);
            }
        }
        chain.files.sort();
        chain
    }

    fn add(&mut self, place: &Path, record: &IssueRecord) {
        let folder = folder_of(place);
        for (name, hash) in record.came_after() {
            let named = self.named.entry(folder.join(name)).or_default();
            named.push((record.name(), hash.cloned()));
        }
    }

    /// The first record that was made after another one of this hash than the one that is in a place.
    pub fn other_than(&self, place: &Path, hash: &Hash) -> Option<&str> {
        let named = self.named.get(place).into_iter().flatten();
        let mut others = named.filter(|(_, then)| then.as_ref().is_some_and(|then| then != hash));
        others.next().map(|(by, _)| by.as_str())
    }

    /// Records that others name and that are not there, each with the first that names it. One that lies
    /// elsewhere among those that were asked for, as in an archive, is there.
    pub fn missing(&self, places: &[Place]) -> Vec<(&Path, &str)> {
        let there: BTreeSet<&Path> = places.iter().map(|place| place.path.as_path()).collect();
        let mut by_name: BTreeMap<_, Vec<&Hash>> = BTreeMap::new();
        for (path, hash) in &self.places {
            by_name.entry(path.file_name()).or_default().push(hash);
        }
        let elsewhere = |path: &Path, then: &Option<Hash>| {
            let known = by_name.get(&path.file_name()).into_iter().flatten();
            then.as_ref().is_some_and(|then| known.into_iter().any(|hash| *hash == then))
        };
        let named = self.named.iter().filter(|(path, by)| {
            !there.contains(path.as_path()) && by.iter().any(|(_, then)| !elsewhere(path, then))
        });
        named.filter_map(|(path, by)| Some((path.as_path(), by.first()?.0.as_str()))).collect()
    }

    /// One hash for all record files, when every one could be read: that of the lines which `sha256sum`
    /// prints of them, in the order of their paths.
    pub fn hash_of_all(&self) -> Option<Hash> {
        if self.partly || self.files.is_empty() {
            return None;
        }
        let lines = self.files.iter().map(|(path, hash)| format!("{}  {path}\n", hash.0));
        Some(Hash::of(lines.collect::<String>().as_bytes()))
    }
}
