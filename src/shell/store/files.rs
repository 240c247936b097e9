//! Reading files of a bounded size, and writing a file whole or not at all.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use slableaf::base::source::SourceFile;
use slableaf::read::limits::{FILE_BYTES, SYSTEM_FILES};

use crate::shell::store::folder_of;
use crate::shell::terminal::{Error, Exit, OrCannot as _, Result, shown};

/// A text file as it was read, and its bytes.
pub fn read_text(path: &Path) -> Result<(SourceFile, Vec<u8>)> {
    let name = shown(path);
    let cannot = |error| Error::cannot("read", path, &error);
    let data = fs::metadata(path).map_err(cannot)?;
    let size = data.len();
    if size > FILE_BYTES as u64 {
        let message = format!("{name} has {size} bytes, and the most accepted is {FILE_BYTES}");
        return Err(Error::new(Exit::Input, message));
    }
    // A folder says so itself; at a pipe one would wait for ever.
    let file = if data.is_dir() { File::open(path) } else { open_plain(path) };
    let file = file.map_err(cannot)?;
    let bytes = first_bytes(file, FILE_BYTES as u64 + 1).map_err(cannot)?;
    if bytes.len() > FILE_BYTES {
        let why = format!("it has no end within the {FILE_BYTES} bytes that are accepted");
        return Err(cannot(io::Error::new(ErrorKind::FileTooLarge, why)));
    }
    match text_of(&bytes) {
        Some(text) => Ok((SourceFile { name, text }, bytes)),
        None => Err(Error::new(Exit::Input, format!("{name} is not UTF-8 text"))
            .help("save it again as UTF-8")),
    }
}

/// The text of a file. A byte order mark says nothing in UTF-8 and is no part of it.
pub fn text_of(bytes: &[u8]) -> Option<String> {
    let text = std::str::from_utf8(bytes).ok()?;
    Some(text.strip_prefix('\u{FEFF}').unwrap_or(text).to_owned())
}

/// The first bytes of a file. A file that says that it is short may have no end, as a device has none.
fn first_bytes(file: File, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = vec![];
    file.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Opens a plain file. A pipe, at which one would wait for ever, and a device, which has no end, are
/// refused; such a refusal begins with `it`.
pub fn open_plain(path: &Path) -> io::Result<File> {
    if !fs::metadata(path)?.is_file() {
        return Err(io::Error::new(ErrorKind::InvalidData, "it is not a plain file"));
    }
    File::open(path)
}

/// The bytes of a file that was opened, of no more than a size.
pub fn read_open(file: File, most: u64) -> io::Result<Vec<u8>> {
    let size = file.metadata()?.len();
    let bytes = if size > most { vec![] } else { first_bytes(file, most + 1)? };
    if size > most || bytes.len() as u64 > most {
        let why = format!("it has {size} bytes, and the most accepted is {most}");
        return Err(io::Error::new(ErrorKind::InvalidData, why));
    }
    Ok(bytes)
}

/// The bytes of a plain file of no more than a size.
pub fn read_plain(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    read_open(open_plain(path)?, most)
}

/// The reason why [`read_plain`] failed, as it follows the name of the file.
pub fn refusal(error: &io::Error) -> String {
    let why = error.to_string();
    match why.strip_prefix("it ") {
        Some(why) => why.to_owned(),
        None => format!("cannot be read: {why}"),
    }
}

/// The TOML files in a folder, by name; none when there is no such folder. A pipe among them, at
/// which one would wait for ever, is refused.
pub fn toml_files(folder: &Path) -> Result<Vec<PathBuf>> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(vec![]),
        Err(error) => return Err(Error::cannot("read", folder, &error)),
    };
    let mut paths: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    paths.sort();
    let refuse = |message: String| Err(Error::new(Exit::Input, message));
    if paths.len() > SYSTEM_FILES {
        let (folder, found) = (folder.display(), paths.len());
        return refuse(format!(
            "{folder} holds {found} files, and the most accepted is {SYSTEM_FILES}"
        ));
    }
    match paths.iter().find(|path| fs::metadata(path).is_ok_and(|data| !data.is_file())) {
        None => Ok(paths),
        Some(path) => refuse(format!("{} is not a plain file", path.display())),
    }
}

/// The result of writing a file where none may be replaced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Saved {
    Written,
    /// There is one of that name already, which stays as it is.
    Exists,
}

/// Writes a file in the place of one that is there, whose mode it keeps.
pub fn write_file(path: &Path, bytes: &[u8]) -> Result<()> {
    let persist = |file: tempfile::NamedTempFile| match file.persist(path) {
        Ok(_) => Ok(()),
        Err(error) => Err(error.error),
    };
    sweep_abandoned(&folder_of(path), &unfinished_file(path));
    write_by(path, bytes, persist)
}

/// Writes a file where there is none of that name.
pub fn write_new_file(path: &Path, bytes: &[u8]) -> Result<Saved> {
    let persist = |file: tempfile::NamedTempFile| match file.persist_noclobber(path) {
        Ok(_) => Ok(Saved::Written),
        Err(error) if error.error.kind() == ErrorKind::AlreadyExists => Ok(Saved::Exists),
        Err(error) => Err(error.error),
    };
    write_by(path, bytes, persist)
}

/// Writes a file whole or not at all: under another name, synced, then renamed.
fn write_by<T>(
    path: &Path,
    bytes: &[u8],
    persist: impl FnOnce(tempfile::NamedTempFile) -> io::Result<T>,
) -> Result<T> {
    let folder = folder_of(path);
    fs::create_dir_all(&folder).or_cannot("write", &folder)?;
    // A file that a killed run leaves behind says whose it was.
    let prefix = unfinished_file(path);
    let write = || -> io::Result<T> {
        let mut builder = tempfile::Builder::new();
        builder.prefix(&prefix).suffix(".tmp");
        let replaced = fs::metadata(path).ok().map(|data| data.permissions());
        if replaced.is_none() {
            as_new_files(&mut builder);
        }
        let mut file = builder.tempfile_in(&folder)?;
        file.as_file_mut().write_all(bytes)?;
        if let Some(mode) = replaced {
            file.as_file().set_permissions(mode)?;
        }
        file.as_file().sync_all()?;
        let done = persist(file)?;
        sync_folder(&folder)?;
        Ok(done)
    };
    write().map_err(without_path).or_cannot("write", path)
}

/// An error of the system alone: that of a temporary file names a path that nobody asked for.
fn without_path(error: io::Error) -> io::Error {
    let inner = error.get_ref().and_then(|error| error.source());
    match inner.and_then(|inner| inner.downcast_ref::<io::Error>()) {
        Some(inner) => match inner.raw_os_error() {
            Some(code) => io::Error::from_raw_os_error(code),
            None => inner.kind().into(),
        },
        None => error,
    }
}

/// The age from which on a file that was being written is one that a killed run left behind: none is
/// being written for so long.
const ABANDONED: Duration = Duration::from_secs(3600);

/// Removes what runs that were killed long ago left of files in a folder.
pub fn sweep_abandoned(folder: &Path, prefix: &str) {
    sweep_unfinished(folder, prefix, ABANDONED);
}

/// Removes what killed runs left of files in a folder, when nobody has touched it for a time.
pub fn sweep_unfinished(folder: &Path, prefix: &str, untouched_for: Duration) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let ours =
            name.to_str().is_some_and(|name| name.starts_with(prefix) && name.ends_with(".tmp"));
        let age = || entry.metadata().ok()?.modified().ok()?.elapsed().ok();
        if ours && age().is_some_and(|age| age >= untouched_for) {
            // A file that cannot be removed does no harm.
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// The beginning of the name of a file that is being written.
pub fn unfinished_prefix(name: &str) -> String {
    format!(".slableaf-{name}-")
}

/// The same for a file by its path.
pub fn unfinished_file(path: &Path) -> String {
    unfinished_prefix(&path.file_name().unwrap_or_default().to_string_lossy())
}

/// The folders on the way to a folder that are not there yet, the innermost first.
pub fn missing_folders(folder: &Path) -> Vec<PathBuf> {
    let is_new = |one: &&Path| !one.as_os_str().is_empty() && one.symlink_metadata().is_err();
    folder.ancestors().take_while(is_new).map(Path::to_owned).collect()
}

/// Gives a temporary file the mode of every new file, which the mask of the process cuts; it would
/// be for its owner alone.
#[cfg(unix)]
fn as_new_files(builder: &mut tempfile::Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn as_new_files(_: &mut tempfile::Builder<'_, '_>) {}

/// Makes a rename last through a loss of power, where folders can be synced.
#[cfg(unix)]
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
pub fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
