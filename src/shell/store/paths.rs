//! Paths: the folder of a file, short forms, and links that lead elsewhere.

use std::fs;
use std::io::ErrorKind;
use std::path::{Component, Path, PathBuf};

use crate::shell::terminal::{Error, Exit, Result};

pub fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// A relative path without `x/..` pairs, when nothing is left that climbs.
pub fn without_climbs(path: &Path) -> Option<PathBuf> {
    let mut parts: Vec<Component<'_>> = vec![];
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => match parts.pop() {
                Some(Component::Normal(_)) => {}
                _ => return None,
            },
            other => parts.push(other),
        }
    }
    Some(if parts.is_empty() { PathBuf::from(".") } else { parts.iter().collect() })
}

/// True for the name of a file that may be a picture.
pub fn is_picture(path: &Path) -> bool {
    let end = path.extension().and_then(|end| end.to_str()).unwrap_or_default();
    ["jpg", "jpeg", "png"].iter().any(|known| end.eq_ignore_ascii_case(known))
}

/// True for a file that is hidden by its name.
pub fn is_hidden(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'))
}

/// The folder that an option names, or the one of that name beside a job. That one may not be a
/// link that leads elsewhere: whoever sends a job file would choose where papers go.
pub fn own_folder(
    job_folder: &Path,
    given: Option<&PathBuf>,
    name: &str,
    option: &str,
) -> Result<PathBuf> {
    if let Some(folder) = given {
        return Ok(folder.clone());
    }
    let path = job_folder.join(name);
    let folder = path.strip_prefix(".").map(Path::to_owned).unwrap_or(path);
    if leads_out(job_folder, &folder) {
        let message =
            format!("{} is a link that leads out of the job\u{2019}s folder", folder.display());
        return Err(Error::new(Exit::Files, message)
            .help(format!("if that is what you want, name the folder with `{option} DIR`")));
    }
    Ok(folder)
}

/// True when a path is there and lies, links followed, outside of a folder; also when it is a link
/// to nothing.
pub fn leads_out(folder: &Path, path: &Path) -> bool {
    match (fs::canonicalize(folder), fs::canonicalize(path)) {
        (Ok(folder), Ok(path)) => !path.starts_with(folder),
        _ => fs::symlink_metadata(path).is_ok_and(|data| data.is_symlink()),
    }
}

/// A path without links, when it does not lead out of a folder, which is without links too; else the reason, as
/// it follows the name of the path.
pub fn inside(path: &Path, folder: &Path) -> Result<PathBuf, String> {
    let real = fs::canonicalize(path).map_err(|error| format!("cannot be read: {error}"))?;
    let leads_out = || "is a link that leads out of the folder".to_owned();
    real.starts_with(folder).then_some(real).ok_or_else(leads_out)
}

/// Refuses a folder for papers that cannot be one, before anything is issued.
pub fn refuse_other_than_folder(folder: &Path) -> Result<()> {
    match fs::metadata(folder) {
        Ok(data) if data.is_dir() => Ok(()),
        Ok(_) => Err(Error::cannot("write", folder, &ErrorKind::NotADirectory.into())),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        Err(error) => Err(Error::cannot("write", folder, &error)),
    }
}

/// True when files in `folder` would lie in `other` or below it.
pub fn lies_in(folder: &Path, other: &Path) -> bool {
    without_links(folder).starts_with(without_links(other))
}

/// A path without links, dots and detours, also of a folder that does not exist yet.
fn without_links(path: &Path) -> PathBuf {
    let mut out = PathBuf::new();
    for part in std::path::absolute(path).unwrap_or_else(|_| path.to_owned()).components() {
        match part {
            Component::ParentDir => drop(out.pop()),
            Component::CurDir => {}
            part => out.push(part),
        }
        // A link is followed as soon as it is met, so that `..` behind it means the right folder.
        out = fs::canonicalize(&out).unwrap_or(out);
    }
    out
}

/// True when two paths lead to one file.
pub fn is_same(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| fs::canonicalize(path).ok();
    real(one).is_some_and(|one| Some(one) == real(other))
}
