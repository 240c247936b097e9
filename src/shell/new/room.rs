//! Sees, before anything is asked, that a file can be written where it is wanted.

use std::fs;
use std::path::{Path, PathBuf};

use crate::shell::Exit;
use crate::shell::files::{cannot, folder_of, unfinished};

/// Makes the folder and a file in it, and takes both away again: who breaks off leaves nothing.
///
/// # Errors
/// [`Exit::Files`] when no file can be made there, and it is said why.
pub fn tried(path: &Path) -> Result<(), Exit> {
    let folder = folder_of(path);
    let is_new =
        |folder: &&Path| !folder.as_os_str().is_empty() && folder.symlink_metadata().is_err();
    let new: Vec<PathBuf> = folder.ancestors().take_while(is_new).map(Path::to_owned).collect();
    let tried = fs::create_dir_all(&folder).and_then(|()| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let file = tempfile::Builder::new().prefix(&unfinished(&name)).tempfile_in(&folder)?;
        file.close()
    });
    for folder in new {
        // One that somebody has put something into meanwhile is not empty, and stays.
        let _ = fs::remove_dir(folder);
    }
    tried.map_err(|error| cannot("write", path, &error))
}
