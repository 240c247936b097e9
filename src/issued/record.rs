//! The record of one revision as a text file: what went in, what came out, what it replaced.
//!
//! It holds no clock time, no host and no path from elsewhere: the same input gives the same record.

use serde::{Deserialize, Serialize};

use crate::issued::{Facts, Hash, RecordDate, Replaced};

/// Version of the shape of a record. Whoever changes a field counts it up.
pub const FORMAT: u32 = 2;

const HEAD: &str = "\
# The record of a paper that was issued. Written once; never changed.
# For the shop alone: the folder holds costs. `slableaf verify` checks it.
# Hashes are SHA-256, as `sha256sum` prints them. A seal tells of accidents: who may write here
# can seal anew. The one hash that `verify` prints, kept elsewhere, tells of that too.

";

/// The last table: the hash of every byte above it.
const SEAL: &str = "\n[seal]\n# Of every byte above the empty line before this table.\nsha256 = ";

/// A revision.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct IssueRecord {
    pub format: u32,
    /// The job's number.
    pub number: String,
    /// `proposal`, `leaflet` or `care`; with `-phone` behind it for the edition on narrow pages.
    pub kind: String,
    pub revision: u32,
    /// The date on the paper.
    pub date: RecordDate,
    /// Version of the program.
    pub program: String,
    /// Hash of all layouts, words and fonts that are built in.
    pub built_in: Hash,
    pub options: Options,
    pub paper: IssuedPaper,
    /// The shop's results form.
    pub results: Leaf,
    /// Every file that was read.
    pub input: Vec<Leaf>,
    /// Facts that the paper stated.
    pub facts: Facts,
    pub replaces: Option<Replaced>,
    /// Records of the job that were there and that no other one followed: all of them as a chain. None in
    /// the first record, and in those of older programs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub follows: Vec<Followed>,
}

/// A record after which another one was made.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Followed {
    /// Its folder's name.
    pub record: String,
    /// Of its file `record.toml`, which has the hashes of all others.
    pub sha256: Hash,
}

/// Returns the ends of a chain of records: those that no other one follows, by their names.
pub fn chain_ends(mut known: Vec<Followed>, follows: &[Followed]) -> Vec<Followed> {
    known.retain(|one| follows.iter().all(|followed| followed.record != one.record));
    known.sort();
    known
}

/// Options given on the command line.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Options {
    pub large_print: bool,
    /// Prices in the leaflet.
    pub prices: bool,
    /// The floor of the care sheet.
    pub floor: Option<String>,
}

/// A file of the record, by its path in it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Leaf {
    pub path: String,
    pub sha256: Hash,
}

/// The paper itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct IssuedPaper {
    pub path: String,
    pub sha256: Hash,
    pub pages: usize,
}

/// The reason for which a text is no record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RecordFault {
    /// Its hash is not the one at its end.
    Altered,
    /// A later version of the program wrote it.
    Newer(u32),
    /// It cannot be read at all.
    Unread(String),
}

impl std::fmt::Display for RecordFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Altered => write!(f, "was altered after it was written"),
            Self::Newer(format) => {
                write!(f, "has format {format}, and this program knows up to {FORMAT}")
            }
            Self::Unread(why) => write!(f, "cannot be read: {why}"),
        }
    }
}

impl IssueRecord {
    /// The folder's name: `2026-0142-proposal-r2`.
    pub fn name(&self) -> String {
        format!("{}-{}-r{}", self.number, self.kind, self.revision)
    }

    /// Returns the path of a paper within its record.
    pub fn paper_path(name: &str) -> String {
        format!("paper/{name}.pdf")
    }

    /// The record as a file.
    ///
    /// # Errors
    /// None that is known: every field has a place in TOML.
    pub fn text(&self) -> Result<String, toml::ser::Error> {
        let body = format!("{HEAD}{}", toml::to_string(self)?);
        Ok(sealed(&body))
    }

    /// Reads a record whose seal holds.
    ///
    /// # Errors
    /// [`RecordFault`].
    pub fn read(text: &str) -> Result<Self, RecordFault> {
        let (body, _) = text.rsplit_once(SEAL).ok_or(RecordFault::Altered)?;
        if text != sealed(body) {
            return Err(RecordFault::Altered);
        }
        // A newer shape is told from a broken one by its first field.
        #[derive(Deserialize)]
        struct Shape {
            format: u32,
        }
        let unread = |error: toml::de::Error| RecordFault::Unread(error.message().to_owned());
        let Shape { format } = toml::from_str(body).map_err(unread)?;
        if format > FORMAT {
            return Err(RecordFault::Newer(format));
        }
        toml::from_str(body).map_err(unread)
    }

    /// Records after which this one was made, each with its hash: those that it follows, and the revision
    /// that it replaces, which records without a chain name too, without a hash.
    pub fn came_after(&self) -> Vec<(String, Option<&Hash>)> {
        let follows = self.follows.iter();
        let mut before: Vec<(String, Option<&Hash>)> =
            follows.map(|one| (one.record.clone(), Some(&one.sha256))).collect();
        if let Some(replaced) = &self.replaces {
            let kind = self.kind.trim_end_matches("-phone");
            let name = format!("{}-{kind}-r{}", self.number, replaced.revision);
            if before.iter().all(|(known, _)| *known != name) {
                before.push((name, None));
            }
        }
        before
    }

    /// Every file of the record beside its own, in the order of their paths.
    pub fn leaves(&self) -> Vec<Leaf> {
        let paper = Leaf { path: self.paper.path.clone(), sha256: self.paper.sha256.clone() };
        let mut leaves = vec![paper, self.results.clone()];
        leaves.extend(self.input.iter().cloned());
        leaves.sort();
        leaves
    }

    /// True when another paper was made of the same files by the same program with the same options.
    pub fn same_origin(&self, other: &Self) -> bool {
        fn origin(r: &IssueRecord) -> impl PartialEq {
            (&r.number, &r.kind, &r.program, &r.built_in, &r.options, &r.input)
        }
        origin(self) == origin(other)
    }

    /// True when everything but a shop's own layouts, words and fonts is what it was.
    pub fn same_input(&self, other: &Self) -> bool {
        let look = ["inputs/layouts/", "inputs/fonts/"];
        let is_said = |leaf: &&Leaf| !look.iter().any(|folder| leaf.path.starts_with(folder));
        self.input.iter().filter(is_said).eq(other.input.iter().filter(is_said))
    }
}

/// A text with its seal below it.
pub fn sealed(body: &str) -> String {
    format!("{body}{SEAL}\"{}\"\n", Hash::of(body.as_bytes()).0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A seal that holds says that nothing was changed, not that this program can read it.
    #[test]
    fn a_record_of_a_later_program_is_told_from_a_broken_one() {
        let newer = IssueRecord::read(&sealed("format = 3\nnew = true\n")).unwrap_err();
        assert_eq!(newer, RecordFault::Newer(3));
        assert_eq!(newer.to_string(), "has format 3, and this program knows up to 2");
        for broken in ["", "format = \"1\"\n", "format = 1\n", "= 1"] {
            let fault = IssueRecord::read(&sealed(broken)).unwrap_err();
            assert!(matches!(fault, RecordFault::Unread(_)), "{broken}: {fault:?}");
            assert!(fault.to_string().starts_with("cannot be read: "), "{fault}");
        }
    }

    #[test]
    fn the_ends_of_a_chain_are_what_nothing_follows() {
        let record =
            |name: &str| Followed { record: name.into(), sha256: Hash::of(name.as_bytes()) };
        let known = vec![record("c"), record("a"), record("b")];
        assert_eq!(chain_ends(known.clone(), &[]), [record("a"), record("b"), record("c")]);
        assert_eq!(chain_ends(known, &[record("a"), record("c")]), [record("b")]);
    }

    #[test]
    fn a_record_without_its_seal_was_altered() {
        for text in ["", "format = 1\n", &sealed("format = 1\n").replace("= 1", "= 2")] {
            assert_eq!(IssueRecord::read(text), Err(RecordFault::Altered));
        }
        assert_eq!(RecordFault::Altered.to_string(), "was altered after it was written");
    }
}
