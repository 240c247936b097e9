//! Finding and reading the files of a job, and writing papers so that none is ever lost.

use std::fs;
use std::io::{ErrorKind, Write as _};
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use slableaf::input::limits::{FILE_BYTES, PHOTO_BYTES};
use slableaf::input::{self, Files, Input};
use slableaf::judged::{Judged, judge};
use slableaf::layouts::Layouts;
use slableaf::source::{Diagnostic, SourceFile, Span};
use slableaf::typeset::{darkroom, images};
use slableaf::words::Words;

use crate::shell::Exit;
use crate::shell::args::JobFiles;
use crate::shell::layouts;
use crate::shell::terminal;

/// The files of a job as found on disk.
pub struct Found {
    pub files: Files,
    pub job_folder: PathBuf,
    pub shop_folder: PathBuf,
}

impl Found {
    /// A folder or file beside the job, as messages show it.
    pub fn beside(&self, name: &str) -> PathBuf {
        let path = self.job_folder.join(name);
        path.strip_prefix(".").map(Path::to_owned).unwrap_or(path)
    }
}

/// Reads and understands a job's files; prints what is wrong with them.
pub fn load(wanted: &JobFiles) -> Result<(Found, Input), Exit> {
    let found = find(wanted)?;
    match input::read(&found.files) {
        Ok(input) => Ok((found, input)),
        Err(problems) => {
            terminal::problems(&problems, &found.all());
            Err(Exit::Input)
        }
    }
}

/// Computes and judges a job; a price past all bounds is refused.
pub fn judged(input: &Input) -> Result<Judged<'_>, Exit> {
    let judged = judge(input);
    if judged.is_beyond_money() {
        terminal::error("a price comes to more than any floor can cost");
        terminal::help("check the sizes of the areas, the prices and the rates");
        return Err(Exit::Input);
    }
    Ok(judged)
}

/// A job's files, understood, and the words of its language.
pub struct Loaded {
    pub input: Input,
    pub words: Words,
    pub layouts: Layouts,
}

/// Reads a job's files and the words of its language.
pub fn load_with_words(wanted: &JobFiles) -> Result<Loaded, Exit> {
    let (found, input) = load(wanted)?;
    pictures(&found, &input)?;
    let (layouts, words) = layouts::with_words(&found, &input)?;
    Ok(Loaded { input, words, layouts })
}

impl Found {
    /// All files, for messages that show a line of one.
    pub fn all(&self) -> Vec<SourceFile> {
        let Files { job, book, shop, systems } = &self.files;
        [job, book, shop].into_iter().chain(systems).cloned().collect()
    }
}

fn find(wanted: &JobFiles) -> Result<Found, Exit> {
    let job = read_text(&wanted.job)?;
    let job_folder = folder_of(&wanted.job);
    let book_path = given_or_near(wanted.book.as_ref(), &job_folder, "book")?;
    let shop_path = given_or_near(wanted.shop.as_ref(), &job_folder, "shop")?;
    let mut systems: Vec<SourceFile> = Layouts::default()
        .below("systems/")
        .map(|(path, text)| SourceFile {
            name: format!("(built in) {path}"),
            text: text.to_owned(),
        })
        .collect();
    let own = folder_of(&book_path).join("systems");
    for path in toml_files(&own)? {
        systems.push(read_text(&path)?);
    }
    Ok(Found {
        files: Files { job, book: read_text(&book_path)?, shop: read_text(&shop_path)?, systems },
        job_folder,
        shop_folder: folder_of(&shop_path),
    })
}

pub fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// The file that was named, or the nearest one in the job's folder or above.
fn given_or_near(given: Option<&PathBuf>, job_folder: &Path, kind: &str) -> Result<PathBuf, Exit> {
    if let Some(path) = given {
        return Ok(path.clone());
    }
    let name = format!("{kind}.toml");
    let start = fs::canonicalize(job_folder).map_err(|error| cannot("read", job_folder, &error))?;
    for (up, folder) in start.ancestors().enumerate() {
        if folder.join(&name).is_file() {
            // Names in messages stay as short as the one that was typed.
            let mut short = job_folder.to_owned();
            short.extend(std::iter::repeat_n("..", up));
            let tidy = tidied(&short).filter(|_| up > 0).unwrap_or(short);
            return Ok(tidy.join(&name));
        }
    }
    terminal::error(&format!("no `{name}` in {} or any folder above it", job_folder.display()));
    terminal::help(&format!("name one with `--{kind} FILE`"));
    Err(Exit::Input)
}

/// A relative path without `x/..` pairs, when nothing is left that climbs.
fn tidied(path: &Path) -> Option<PathBuf> {
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

fn read_text(path: &Path) -> Result<SourceFile, Exit> {
    let name = path.strip_prefix(".").unwrap_or(path).display().to_string();
    let size = fs::metadata(path).map_err(|error| cannot("read", path, &error))?.len();
    if size > FILE_BYTES as u64 {
        terminal::error(&format!("{name} has {size} bytes, and the most accepted is {FILE_BYTES}"));
        return Err(Exit::Input);
    }
    let bytes = fs::read(path).map_err(|error| cannot("read", path, &error))?;
    match String::from_utf8(bytes) {
        // A byte order mark says nothing in UTF-8 and is no part of the text.
        Ok(text) => {
            Ok(SourceFile { name, text: text.strip_prefix('\u{FEFF}').unwrap_or(&text).to_owned() })
        }
        Err(_) => {
            terminal::error(&format!("{name} is not UTF-8 text"));
            terminal::help("save it again as UTF-8");
            Err(Exit::Input)
        }
    }
}

/// The TOML files in a folder, by name; none when there is no such folder.
fn toml_files(folder: &Path) -> Result<Vec<PathBuf>, Exit> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(vec![]),
        Err(error) => return Err(cannot("read", folder, &error)),
    };
    let mut paths: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    paths.sort();
    Ok(paths)
}

pub fn cannot(what: &str, path: &Path, error: &std::io::Error) -> Exit {
    terminal::error(&format!("cannot {what} {}: {error}", path.display()));
    if error.kind() == ErrorKind::NotFound && what == "read" { Exit::Input } else { Exit::Files }
}

// ------------------------------------------------------------------------------ pictures

/// The logo and the photos of a job, prepared, at their places in the document.
pub struct Pictures {
    pub logo: Option<Vec<u8>>,
    pub photos: Vec<Vec<u8>>,
}

/// Pictures that are prepared at a time at the most: each may take a few hundred megabytes.
const AT_A_TIME: usize = 4;

/// A picture to prepare: its folder, its name, where that stands, and how.
struct Wanted<'a> {
    folder: &'a Path,
    name: &'a str,
    span: &'a Span,
    prepare: fn(&[u8]) -> Result<Vec<u8>, images::ImageFault>,
}

/// Reads and prepares the pictures, some at a time; every one that cannot be used is reported.
pub fn pictures(found: &Found, input: &Input) -> Result<Pictures, Exit> {
    let logo = input.shop.logo.iter().map(|logo| Wanted {
        folder: &found.shop_folder,
        name: &logo.value.0,
        span: &logo.span,
        prepare: darkroom::logo,
    });
    let photos = input.job.photos.iter().map(|photo| Wanted {
        folder: &found.job_folder,
        name: &photo.file.value.0,
        span: &photo.file.span,
        prepare: darkroom::photo,
    });
    let wanted: Vec<Wanted<'_>> = logo.chain(photos).collect();
    let mut ready = vec![];
    let mut problems = vec![];
    for result in each(&wanted, picture) {
        match result {
            Ok(bytes) => ready.push(bytes),
            Err(problem) => problems.push(problem),
        }
    }
    if !problems.is_empty() {
        terminal::problems(&problems, &found.all());
        return Err(Exit::Input);
    }
    let photos = ready.split_off(usize::from(input.shop.logo.is_some()));
    Ok(Pictures { logo: ready.pop(), photos })
}

/// Does something with each thing, on as many threads as are of use; results are in the order of the
/// things.
fn each<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let hands = std::thread::available_parallelism().map_or(1, usize::from);
    let next = AtomicUsize::new(0);
    let hand = || {
        let mut done = vec![];
        while let Some((at, thing)) = {
            let at = next.fetch_add(1, Ordering::Relaxed);
            things.get(at).map(|thing| (at, thing))
        } {
            done.push((at, work(thing)));
        }
        done
    };
    let mut done = std::thread::scope(|scope| {
        // This thread is a hand too.
        let others = 1..hands.min(AT_A_TIME).min(things.len());
        let others: Vec<_> = others.map(|_| scope.spawn(hand)).collect();
        let mut done = hand();
        for other in others {
            match other.join() {
                Ok(more) => done.extend(more),
                // A fault of ours in a thread is one here.
                Err(fault) => std::panic::resume_unwind(fault),
            }
        }
        done
    });
    done.sort_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, result)| result).collect()
}

fn picture(wanted: &Wanted<'_>) -> Result<Vec<u8>, Diagnostic> {
    let problem =
        |why: String| Diagnostic::at(wanted.span, format!("the picture `{}` {why}", wanted.name));
    let bytes = inside(wanted.folder, wanted.name).map_err(problem)?;
    (wanted.prepare)(&bytes).map_err(|fault| problem(fault.to_string()))
}

/// Reads a file that has to lie in a folder, also after links are followed.
fn inside(folder: &Path, name: &str) -> Result<Vec<u8>, String> {
    let cannot = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => {
            "is not there: no such file in the folder of the file that names it".to_owned()
        }
        _ => format!("cannot be read: {error}"),
    };
    let root = fs::canonicalize(folder).map_err(cannot)?;
    let path = fs::canonicalize(folder.join(name)).map_err(cannot)?;
    if !path.starts_with(&root) {
        return Err("is a link that leads out of the folder".into());
    }
    let data = fs::metadata(&path).map_err(cannot)?;
    if !data.is_file() {
        return Err("is not a plain file".into());
    }
    if data.len() > PHOTO_BYTES {
        return Err(format!("has {} bytes, and the most accepted is {PHOTO_BYTES}", data.len()));
    }
    fs::read(&path).map_err(cannot)
}

// -------------------------------------------------------------------------------- papers

/// How a paper came to be on disk.
pub enum Kept {
    Written,
    /// There is one of that name already.
    Exists,
}

/// Writes a file whole or not at all: under another name, synced, then renamed. Without
/// `overwrite` a file that is there stays as it is.
pub fn keep(path: &Path, bytes: &[u8], overwrite: bool) -> Result<Kept, Exit> {
    let folder = folder_of(path);
    fs::create_dir_all(&folder).map_err(|error| cannot("write", &folder, &error))?;
    let write = || -> std::io::Result<Kept> {
        let mut file =
            tempfile::Builder::new().prefix(".slableaf-").suffix(".tmp").tempfile_in(&folder)?;
        file.write_all(bytes)?;
        set_readable(file.as_file())?;
        file.as_file().sync_all()?;
        let kept = if overwrite {
            file.persist(path).map(|_| Kept::Written).map_err(|error| error.error)
        } else {
            match file.persist_noclobber(path) {
                Ok(_) => Ok(Kept::Written),
                Err(error) if error.error.kind() == ErrorKind::AlreadyExists => Ok(Kept::Exists),
                Err(error) => Err(error.error),
            }
        }?;
        sync_folder(&folder)?;
        Ok(kept)
    };
    write().map_err(|error| cannot("write", path, &error))
}

/// A temporary file is for its owner alone; a paper is for everybody who may read the folder.
#[cfg(unix)]
fn set_readable(file: &fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn set_readable(_: &fs::File) -> std::io::Result<()> {
    Ok(())
}

/// Makes a rename last through a loss of power, where folders can be synced.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> std::io::Result<()> {
    fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> std::io::Result<()> {
    Ok(())
}
