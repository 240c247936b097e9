//! Text files as they are read.

use std::fs;
use std::io::{self, ErrorKind, Read as _};
use std::path::{Path, PathBuf};

use slableaf::base::source::SourceFile;
use slableaf::read::limits::{FILE_BYTES, SYSTEM_FILES};

use crate::shell::files::cannot;
use crate::shell::{Exit, terminal};

/// Why a file could not be read.
pub enum Unread {
    Io(PathBuf, io::Error),
    Refused { why: String, help: Option<&'static str> },
}

impl Unread {
    /// Says it on the terminal.
    pub fn say(self) -> Exit {
        match self {
            Self::Io(path, error) => cannot("read", &path, &error),
            Self::Refused { why, help } => {
                terminal::error(&why);
                help.into_iter().for_each(terminal::help);
                Exit::Input
            }
        }
    }
}

impl std::fmt::Display for Unread {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Io(path, error) => write!(f, "cannot read {}: {error}", shown(path)),
            Self::Refused { why, help: None } => write!(f, "{why}"),
            Self::Refused { why, help: Some(help) } => write!(f, "{why}; {help}"),
        }
    }
}

/// A path as messages show it.
pub fn shown(path: &Path) -> String {
    path.strip_prefix(".").unwrap_or(path).display().to_string()
}

/// A text file, and its bytes.
pub fn read(path: &Path) -> Result<(SourceFile, Vec<u8>), Unread> {
    let name = shown(path);
    let cannot = |error| Unread::Io(path.to_owned(), error);
    let size = fs::metadata(path).map_err(cannot)?.len();
    if size > FILE_BYTES as u64 {
        let why = format!("{name} has {size} bytes, and the most accepted is {FILE_BYTES}");
        return Err(Unread::Refused { why, help: None });
    }
    let bytes = bounded(path).map_err(cannot)?;
    match std::str::from_utf8(&bytes) {
        // A byte order mark says nothing in UTF-8 and is no part of the text.
        Ok(text) => {
            let text = text.strip_prefix('\u{FEFF}').unwrap_or(text).to_owned();
            Ok((SourceFile { name, text }, bytes))
        }
        Err(_) => {
            let why = format!("{name} is not UTF-8 text");
            Err(Unread::Refused { why, help: Some("save it again as UTF-8") })
        }
    }
}

/// The bytes of a text file. What says that it is short may have no end, as a device has none.
fn bounded(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = vec![];
    fs::File::open(path)?.take(FILE_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    if bytes.len() > FILE_BYTES {
        return Err(io::Error::new(
            ErrorKind::FileTooLarge,
            format!("it has no end within the {FILE_BYTES} bytes that are accepted"),
        ));
    }
    Ok(bytes)
}

/// The TOML files in a folder, by name; none when there is no such folder. A pipe among them, at
/// which one would wait for ever, is refused.
pub fn toml_files(folder: &Path) -> Result<Vec<PathBuf>, Unread> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(vec![]),
        Err(error) => return Err(Unread::Io(folder.to_owned(), error)),
    };
    let mut paths: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    paths.sort();
    if paths.len() > SYSTEM_FILES {
        let (folder, found) = (folder.display(), paths.len());
        let why = format!("{folder} holds {found} files, and the most accepted is {SYSTEM_FILES}");
        return Err(Unread::Refused { why, help: None });
    }
    match paths.iter().find(|path| fs::metadata(path).is_ok_and(|data| !data.is_file())) {
        None => Ok(paths),
        Some(path) => {
            let why = format!("{} is not a plain file", path.display());
            Err(Unread::Refused { why, help: None })
        }
    }
}
