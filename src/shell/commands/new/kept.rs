//! Answers of a conversation that is not at its end, in a hidden file beside the one that is to be written:
//! after each answer, so that a terminal that is closed, a flat battery or a slip of the hand loses none.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::interview::run::Answers;
use toml_edit::{DocumentMut, Item, Table, value};

use crate::shell::store::{folder_of, missing_folders, read_plain, text_of, write_file};
use crate::shell::terminal::{OrCannot as _, Result};

/// The place of the answers for a file.
pub struct Kept {
    path: PathBuf,
    /// Folders that were made for them.
    made: Vec<PathBuf>,
}

/// More than any conversation has.
const MOST_BYTES: u64 = 1 << 20;

const HEAD: &str = "\
# Answers to `slableaf new`, kept until its file is written: the same command goes on from them. To forget
# them, remove this file.

";

impl Kept {
    /// Those for a file; `kind` tells apart what is put into one file.
    pub fn beside(file: &Path, kind: &str) -> Self {
        let stem = file.file_stem().unwrap_or_default().to_string_lossy();
        let name = if stem == kind { kind.to_owned() } else { format!("{stem}-{kind}") };
        Self { path: folder_of(file).join(format!(".slableaf-answers-{name}")), made: vec![] }
    }

    /// Returns what was kept; empty when there is nothing that can be read.
    pub fn read(&self) -> Answers {
        let bytes = read_plain(&self.path, MOST_BYTES).ok();
        let text = bytes.and_then(|bytes| text_of(&bytes));
        let document = text.and_then(|text| text.parse::<DocumentMut>().ok());
        let answers = document.as_ref().and_then(|document| document.get("answers")?.as_table());
        let pairs = answers.into_iter().flat_map(Table::iter);
        pairs
            .filter_map(|(id, answer)| Some((id.to_owned(), answer.as_str()?.to_owned())))
            .collect()
    }

    /// Keeps the answers so far, for nobody but the one who typed them.
    ///
    /// # Errors
    /// They cannot be written.
    pub fn keep(&mut self, answers: &Answers) -> Result<()> {
        let mut table = Table::new();
        for (id, answer) in answers {
            table.insert(id, value(answer.as_str()));
        }
        let mut document = DocumentMut::new();
        document.insert("answers", Item::Table(table));
        let folder = folder_of(&self.path);
        self.made.extend(missing_folders(&folder));
        fs::create_dir_all(&folder).or_cannot("write", &folder)?;
        // A file that is replaced keeps its mode, so nobody else ever reads one.
        if self.path.symlink_metadata().is_err() {
            private(&self.path);
        }
        write_file(&self.path, format!("{HEAD}{document}").as_bytes())
    }

    /// Removes them, and folders that were made for them and hold nothing else.
    pub fn forget(&self) {
        let _ = fs::remove_file(&self.path);
        for folder in &self.made {
            let _ = fs::remove_dir(folder);
        }
    }
}

/// Makes an empty file that only its owner may read: a customer's address will stand in it.
#[cfg(unix)]
fn private(path: &Path) {
    use std::os::unix::fs::OpenOptionsExt;
    // Where it cannot be made, writing it says why.
    let _ = fs::OpenOptions::new().write(true).create_new(true).mode(0o600).open(path);
}

#[cfg(not(unix))]
fn private(_: &Path) {}
