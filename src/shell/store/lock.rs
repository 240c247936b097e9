//! Locks: one run at a time issues the papers of a job, or edits a file.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind, Read as _, Seek as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::shell::store::folder_of;
use crate::shell::terminal::{Error, Exit, Result, printable, shown, to_stderr};

/// The longest that a run waits for another one.
const PATIENCE: Duration = Duration::from_secs(30);
/// The time after which it says what it waits for.
const QUIET: Duration = Duration::from_secs(2);
const BETWEEN_TRIES: Duration = Duration::from_millis(50);

/// A lock that is held. The system lets go of it when the process ends, however it ends.
pub struct Lock {
    _file: File,
    /// A file that goes with the lock.
    removed: Option<PathBuf>,
}

impl Lock {
    /// Waits for the lock of a job; `None` where nothing can be written, so that there is nothing to
    /// lock out.
    pub fn take(folder: &Path, number: &str) -> Result<Option<Self>> {
        let lock = Held { what: &format!("job {number}"), otherwise: "nothing was issued" };
        let file = lock.take(&folder.join(format!("{number}.lock")))?;
        Ok(file.map(|file| Self { _file: file, removed: None }))
    }

    /// Waits for the lock of a file that is to be edited: a hidden file beside it.
    pub fn beside(file: &Path) -> Result<Self> {
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        let path = folder_of(file).join(format!(".slableaf-{name}.lock"));
        let lock = Held { what: &shown(file), otherwise: "nothing was written" };
        let Some(held) = lock.take(&path)? else {
            let error = ErrorKind::PermissionDenied.into();
            return Err(Error::cannot("write", file, &error)
                .help(format!("its lock, {}, may not be written", path.display())));
        };
        Ok(Self { _file: held, removed: Some(path).filter(|_| cfg!(unix)) })
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // While it is held: whoever waits for it sees that it is gone.
        if let Some(path) = &self.removed {
            let _ = fs::remove_file(path);
        }
    }
}

/// What a lock is for, as messages name it, and what did not happen without it.
struct Held<'a> {
    what: &'a str,
    otherwise: &'a str,
}

impl Held<'_> {
    fn take(&self, path: &Path) -> Result<Option<File>> {
        let start = Instant::now();
        loop {
            let Some(mut file) = open(path)? else { return Ok(None) };
            self.wait(&mut file, path, start)?;
            // Whoever held it may have removed it: then others hold a new one.
            if !is_at(&file, path) {
                continue;
            }
            // The note helps others; a full disk is no reason not to hold the lock.
            let mut note = || -> io::Result<()> {
                file.set_len(0)?;
                file.rewind()?;
                writeln!(file, "process {}", std::process::id())
            };
            let _ = note();
            return Ok(Some(file));
        }
    }

    fn wait(&self, file: &mut File, path: &Path, start: Instant) -> Result<()> {
        let Self { what, otherwise } = self;
        let mut said = false;
        loop {
            match file.try_lock() {
                Ok(()) => return Ok(()),
                Err(TryLockError::Error(error)) => {
                    return Err(Error::cannot("lock", path, &error));
                }
                Err(TryLockError::WouldBlock) => {}
            }
            if start.elapsed() >= PATIENCE {
                let (holder, seconds) = (holder(file), PATIENCE.as_secs());
                let message = format!("{what} is held by {holder}, for over {seconds} seconds");
                return Err(Error::new(Exit::Files, message)
                    .help(format!("{otherwise}; run it again when that one is done")));
            }
            if !said && start.elapsed() >= QUIET {
                let holder = holder(file);
                // At once: whoever waits wants to know for what.
                to_stderr(&format!("waiting for {holder}, which holds {what}\n"));
                said = true;
            }
            std::thread::sleep(BETWEEN_TRIES);
        }
    }
}

/// Opens the file of a lock; `None` where there is none and none may be made. One of another owner may be read at
/// the least, and that is enough to wait for it.
fn open(path: &Path) -> Result<Option<File>> {
    if fs::symlink_metadata(path).is_ok_and(|data| !data.is_file()) {
        let message = format!("{} is no plain file", path.display());
        return Err(
            Error::new(Exit::Files, message).help("move it away; the program makes its own")
        );
    }
    match File::options().read(true).write(true).create(true).truncate(false).open(path) {
        Ok(file) => Ok(Some(file)),
        Err(error) if may_not_write(&error) => Ok(File::open(path).ok()),
        Err(error) => Err(Error::cannot("write", path, &error)),
    }
}

/// True when an open file is still the one of its name.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let place = |data: fs::Metadata| (data.dev(), data.ino());
    file.metadata().ok().map(place) == fs::metadata(path).ok().map(place)
}

/// Elsewhere the file of a lock is never removed.
#[cfg(not(unix))]
fn is_at(_: &File, _: &Path) -> bool {
    true
}

fn may_not_write(error: &io::Error) -> bool {
    matches!(error.kind(), ErrorKind::ReadOnlyFilesystem | ErrorKind::PermissionDenied)
}

/// The process that wrote itself into the lock.
fn holder(file: &mut File) -> String {
    let mut text = String::new();
    let read = file.rewind().and_then(|()| file.take(100).read_to_string(&mut text));
    match (read, text.trim()) {
        (Ok(_), text) if text.starts_with("process ") => printable(text),
        _ => "another process".to_owned(),
    }
}
