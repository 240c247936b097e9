//! A trial, before anything is asked, that a file can be written where it is wanted.

use std::fs;
use std::path::Path;

use crate::shell::store::{folder_of, missing_folders, unfinished_file};
use crate::shell::terminal::{OrCannot as _, Result};

/// Makes the folder and a file in it, and takes both away again: who breaks off leaves nothing.
///
/// # Errors
/// No file can be made there.
pub fn try_to_write(path: &Path) -> Result<()> {
    let folder = folder_of(path);
    let new = missing_folders(&folder);
    let result = fs::create_dir_all(&folder).and_then(|()| {
        let prefix = unfinished_file(path);
        tempfile::Builder::new().prefix(&prefix).tempfile_in(&folder)?.close()
    });
    for folder in new {
        // One that somebody has put something into meanwhile is not empty, and stays.
        let _ = fs::remove_dir(folder);
    }
    result.or_cannot("write", path)
}
