//! The lock of a job: one run at a time issues its papers.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind, Read as _, Seek as _, Write as _};
use std::path::Path;
use std::time::{Duration, Instant};

use crate::shell::terminal::{Error, Exit, Result, printable, to_stderr};

/// The longest that a run waits for another one.
const PATIENCE: Duration = Duration::from_secs(30);
/// The time after which it says what it waits for.
const QUIET: Duration = Duration::from_secs(2);
const BETWEEN_TRIES: Duration = Duration::from_millis(50);

/// A lock that is held. The system lets go of it when the process ends, however it ends.
pub struct Lock {
    _file: File,
}

impl Lock {
    /// Waits for the lock of a job; `None` where nothing can be written, so that there is nothing to
    /// lock out.
    pub fn take(folder: &Path, number: &str) -> Result<Option<Self>> {
        let path = folder.join(format!("{number}.lock"));
        if fs::symlink_metadata(&path).is_ok_and(|data| !data.is_file()) {
            let message = format!("{} is no plain file", path.display());
            return Err(
                Error::new(Exit::Files, message).help("move it away; the program makes its own")
            );
        }
        let opened =
            File::options().read(true).write(true).create(true).truncate(false).open(&path);
        let mut file = match opened {
            Ok(file) => file,
            Err(error) if may_not_write(&error) => return Ok(None),
            Err(error) => return Err(Error::cannot("write", &path, &error)),
        };
        let start = Instant::now();
        let mut said = false;
        loop {
            match file.try_lock() {
                Ok(()) => break,
                Err(TryLockError::Error(error)) => {
                    return Err(Error::cannot("lock", &path, &error));
                }
                Err(TryLockError::WouldBlock) => {}
            }
            if start.elapsed() >= PATIENCE {
                let (holder, seconds) = (holder(&mut file), PATIENCE.as_secs());
                let message =
                    format!("job {number} is held by {holder}, for over {seconds} seconds");
                return Err(Error::new(Exit::Files, message)
                    .help("nothing was issued; run it again when that one is done"));
            }
            if !said && start.elapsed() >= QUIET {
                let holder = holder(&mut file);
                // At once: whoever waits wants to know for what.
                to_stderr(&format!("waiting for {holder}, which holds job {number}\n"));
                said = true;
            }
            std::thread::sleep(BETWEEN_TRIES);
        }
        // The note helps others; a full disk is no reason not to hold the lock.
        let mut note = || -> io::Result<()> {
            file.set_len(0)?;
            file.rewind()?;
            writeln!(file, "process {}", std::process::id())
        };
        let _ = note();
        Ok(Some(Self { _file: file }))
    }
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
