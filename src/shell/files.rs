//! Finding and reading the files of a job, and writing papers so that none is ever lost.

use std::fs;
use std::io::{ErrorKind, Read as _, Write as _};
use std::path::{Component, Path, PathBuf};

use slableaf::base::layouts::Layouts;
use slableaf::base::source::{Diagnostic, SourceFile, Span};
use slableaf::judge::{Beyond, Judged, judge};
use slableaf::read::limits::PHOTO_BYTES;
use slableaf::read::{self, Files, Input, Shared};
use slableaf::say::words::Words;
use slableaf::typeset::{images, picture_cache};

use crate::shell::Exit;
use crate::shell::args::JobFiles;
use crate::shell::hands::{cores, each};
use crate::shell::layouts;
use crate::shell::stock::Stock;
use crate::shell::terminal;
use crate::shell::texts::{self, Unread, toml_files};

/// The files of a job as found on disk.
pub struct Found {
    pub files: Files,
    pub job_folder: PathBuf,
    pub shop_folder: PathBuf,
    /// The same files to the byte, by their paths in a record.
    pub as_read: Vec<AsRead>,
}

/// A file as it was read, by its path below the inputs of a record.
#[derive(Clone, PartialEq, Eq)]
pub struct AsRead {
    pub path: String,
    pub bytes: Vec<u8>,
}

/// Reads and understands a job's files; prints what is wrong with them.
pub fn load(wanted: &JobFiles, stock: &Stock) -> Result<(Found, Input), Exit> {
    let (job, bytes) = read_text(&wanted.job)?;
    let mut as_read = vec![AsRead { path: "job.toml".into(), bytes }];
    let job_folder = folder_of(&wanted.job);
    let book = given_or_near(wanted.near.book.as_ref(), &job_folder, "book")?;
    let shop = given_or_near(wanted.near.shop.as_ref(), &job_folder, "shop")?;
    let common = stock.common(&book, &shop)?;
    as_read.extend(common.as_read.iter().cloned());
    let read = common.shared.join(read::read_job(&job), None);
    let found = Found {
        files: Files {
            job,
            book: common.book.clone(),
            shop: common.shop.clone(),
            systems: common.systems.clone(),
        },
        job_folder,
        shop_folder: folder_of(&shop),
        as_read,
    };
    match read {
        Ok(input) => Ok((found, input)),
        Err(problems) => {
            terminal::problems(&problems, &found.all());
            Err(Exit::Input)
        }
    }
}

/// The folder beside a book that holds the shop's own floor systems.
pub const SYSTEMS: &str = "systems";

/// What jobs share: a book with its systems, and a shop file.
pub struct Common {
    book: SourceFile,
    shop: SourceFile,
    systems: Vec<SourceFile>,
    as_read: Vec<AsRead>,
    shared: Shared,
}

impl Common {
    /// Reads book and shop file, and the systems beside the book.
    pub fn read(book: &Path, shop: &Path) -> Result<Self, Exit> {
        let mut as_read = vec![];
        let mut read = |path: &Path, recorded: String| -> Result<SourceFile, Exit> {
            let (file, bytes) = read_text(path)?;
            as_read.push(AsRead { path: recorded, bytes });
            Ok(file)
        };
        let mut systems = Layouts::default().source_files("systems/");
        for path in toml_files(&folder_of(book).join(SYSTEMS)).map_err(Unread::say)? {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            systems.push(read(&path, format!("systems/{name}"))?);
        }
        let book = read(book, "book.toml".into())?;
        let shop = read(shop, "shop.toml".into())?;
        let shared = Shared::read(&book, &shop, &systems);
        Ok(Self { book, shop, systems, as_read, shared })
    }
}

/// Computes and judges a job; a price or work past all bounds is refused.
pub fn judged(input: &Input) -> Result<Judged<'_>, Exit> {
    let judged = judge(input);
    if let Some(beyond) = judged.beyond() {
        terminal::error(&beyond.to_string());
        terminal::help(match beyond {
            Beyond::Days => "check the sizes of the areas, the rates, `day-starts` and `day-ends`",
            Beyond::Money => "check the sizes of the areas, the prices and the rates",
        });
        return Err(Exit::Input);
    }
    Ok(judged)
}

/// A job's files, understood, and the words of the shop's language.
pub struct Loaded {
    pub input: Input,
    pub words: Words,
    pub layouts: Layouts,
}

/// Reads a job's files and the words of the shop's language.
pub fn load_with_words(wanted: &JobFiles) -> Result<Loaded, Exit> {
    let (found, input) = load(wanted, &Stock::default())?;
    inspect(&originals(&found, &input)?.all).map_err(|problems| {
        terminal::problems(&problems, &found.all());
        Exit::Input
    })?;
    let (layouts, words) = layouts::with_words(&found, &input.shop.language)?;
    Ok(Loaded { input, words, layouts })
}

impl Found {
    /// All files, for messages that show a line of one.
    pub fn all(&self) -> Vec<SourceFile> {
        let Files { job, book, shop, systems } = &self.files;
        [job, book, shop].into_iter().chain(systems).cloned().collect()
    }
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
    terminal::help(&format!("name one with `--{kind} FILE`, or start one: `slableaf new {kind}`"));
    Err(Exit::Input)
}

/// A relative path without `x/..` pairs, when nothing is left that climbs.
pub fn tidied(path: &Path) -> Option<PathBuf> {
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

/// A text file, and its bytes.
pub fn read_text(path: &Path) -> Result<(SourceFile, Vec<u8>), Exit> {
    texts::read(path).map_err(Unread::say)
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

/// A picture as it was read: its name, where that stands, its bytes, and how to prepare it.
pub struct Original {
    pub name: String,
    pub bytes: Vec<u8>,
    span: Span,
    prepare: fn(&[u8]) -> Result<Vec<u8>, images::ImageFault>,
}

impl Original {
    fn problem(span: &Span, name: &str, why: &str) -> Diagnostic {
        Diagnostic::at(span, format!("the picture `{name}` {why}"))
    }
}

/// The logo, if there is one, and the photos of a job, as they are on disk.
pub struct Originals {
    has_logo: bool,
    pub all: Vec<Original>,
}

/// Reads the pictures; every one that cannot be read is reported.
pub fn originals(found: &Found, input: &Input) -> Result<Originals, Exit> {
    let mut all = vec![];
    let mut problems = vec![];
    let logo = input.shop.logo.iter().map(|logo| {
        (
            &found.shop_folder,
            logo,
            picture_cache::logo as fn(&[u8]) -> Result<Vec<u8>, images::ImageFault>,
        )
    });
    let photos = input.job.photos.iter().map(|photo| {
        (&found.job_folder, &photo.file, picture_cache::photo as fn(&[u8]) -> Result<Vec<u8>, _>)
    });
    for (folder, file, prepare) in logo.chain(photos) {
        let (name, span) = (file.value.0.clone(), file.span.clone());
        match inside(folder, &name) {
            Ok(bytes) => all.push(Original { name, bytes, span, prepare }),
            Err(why) => problems.push(Original::problem(&span, &name, &why)),
        }
    }
    if !problems.is_empty() {
        // What is wrong inside a picture that could be read belongs to the same list.
        problems.extend(inspect(&all).err().into_iter().flatten());
        let place = |problem: &Diagnostic| {
            problem.span.as_ref().map(|span| (span.file != found.files.shop.name, span.bytes.start))
        };
        problems.sort_by_key(place);
        terminal::problems(&problems, &found.all());
        return Err(Exit::Input);
    }
    Ok(Originals { has_logo: input.shop.logo.is_some(), all })
}

/// Prepares the pictures; every one that cannot be used is reported.
pub fn prepared(originals: &Originals, found: &Found) -> Result<Pictures, Exit> {
    let mut ready = prepare_all(&originals.all).map_err(|problems| {
        terminal::problems(&problems, &found.all());
        Exit::Input
    })?;
    let photos = ready.split_off(usize::from(originals.has_logo));
    Ok(Pictures { logo: ready.pop(), photos })
}

/// Prepares pictures for print, some at a time.
fn prepare_all(originals: &[Original]) -> Result<Vec<Vec<u8>>, Vec<Diagnostic>> {
    of_each(originals, AT_A_TIME, |one| (one.prepare)(&one.bytes))
}

/// Looks at pictures without decoding them.
fn inspect(originals: &[Original]) -> Result<Vec<()>, Vec<Diagnostic>> {
    of_each(originals, originals.len(), |one| {
        images::inspect(&mut std::io::Cursor::new(&one.bytes))
    })
}

/// Returns the result of each picture, or the problems of all.
fn of_each<T: Send>(
    originals: &[Original],
    at_a_time: usize,
    look: impl Fn(&Original) -> Result<T, images::ImageFault> + Sync,
) -> Result<Vec<T>, Vec<Diagnostic>> {
    let (mut all, mut problems) = (vec![], vec![]);
    let look = |one: &Original| {
        look(one).map_err(|fault| Original::problem(&one.span, &one.name, &fault.to_string()))
    };
    for result in each(originals, cores().min(at_a_time), look) {
        match result {
            Ok(one) => all.push(one),
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() { Ok(all) } else { Err(problems) }
}

/// The bytes of a plain file of no more than a size. A pipe, at which one would wait for ever, and a
/// device, which has no end, are refused.
pub fn plain(path: &Path, most: u64) -> std::io::Result<Vec<u8>> {
    let other = |why: String| std::io::Error::new(ErrorKind::InvalidData, why);
    let data = fs::metadata(path)?;
    if !data.is_file() {
        return Err(other("it is not a plain file".into()));
    }
    let mut bytes = vec![];
    fs::File::open(path)?.take(most + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > most {
        let bytes = data.len();
        return Err(other(format!("it has {bytes} bytes, and the most accepted is {most}")));
    }
    Ok(bytes)
}

/// True for the name of a file that may be a picture.
pub fn is_picture(path: &Path) -> bool {
    let end = path.extension().and_then(|end| end.to_str()).unwrap_or_default();
    ["jpg", "jpeg", "png"].iter().any(|known| end.eq_ignore_ascii_case(known))
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
    plain(&path, PHOTO_BYTES).map_err(cannot)
}

// -------------------------------------------------------------------------------- papers

impl Found {
    /// The folder that an option names, or the one of that name beside the job.
    pub fn folder(
        &self,
        given: Option<&PathBuf>,
        name: &str,
        option: &str,
    ) -> Result<PathBuf, Exit> {
        own_folder(&self.job_folder, given, name, option)
    }
}

/// The folder that an option names, or the one of that name beside a job. That one may not be a
/// link that leads elsewhere: whoever sends a job file would choose where we write.
pub fn own_folder(
    job_folder: &Path,
    given: Option<&PathBuf>,
    name: &str,
    option: &str,
) -> Result<PathBuf, Exit> {
    if let Some(folder) = given {
        return Ok(folder.clone());
    }
    let folder = beside(job_folder, name);
    if leads_out(job_folder, &folder) {
        terminal::error(&format!(
            "{} is a link that leads out of the job\u{2019}s folder",
            folder.display()
        ));
        terminal::help(&format!("if that is what you want, name the folder with `{option} DIR`"));
        return Err(Exit::Files);
    }
    Ok(folder)
}

/// A folder or file beside a job, as messages show it.
fn beside(job_folder: &Path, name: &str) -> PathBuf {
    let path = job_folder.join(name);
    path.strip_prefix(".").map(Path::to_owned).unwrap_or(path)
}

/// True when a path is there and lies, links followed, outside of a folder; also when it is a link
/// to nothing.
pub fn leads_out(folder: &Path, path: &Path) -> bool {
    match (fs::canonicalize(folder), fs::canonicalize(path)) {
        (Ok(folder), Ok(path)) => !path.starts_with(folder),
        _ => fs::symlink_metadata(path).is_ok_and(|data| data.is_symlink()),
    }
}

/// Refuses a folder for papers that cannot be one, before anything is issued.
pub fn may_hold_papers(folder: &Path) -> Result<(), Exit> {
    match fs::metadata(folder) {
        Ok(data) if data.is_dir() => Ok(()),
        Ok(_) => Err(cannot("write", folder, &ErrorKind::NotADirectory.into())),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        Err(error) => Err(cannot("write", folder, &error)),
    }
}

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
    // What a killed run leaves behind says whose it was.
    let prefix = unfinished(&path.file_name().unwrap_or_default().to_string_lossy());
    let write = || -> std::io::Result<Kept> {
        let mut file =
            tempfile::Builder::new().prefix(&prefix).suffix(".tmp").tempfile_in(&folder)?;
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

/// How the name of a file that is being written begins.
pub fn unfinished(name: &str) -> String {
    format!(".slableaf-{name}-")
}

/// A temporary file is for its owner alone; a paper is for everybody who may read the folder.
#[cfg(unix)]
pub fn set_readable(file: &fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
pub fn set_readable(_: &fs::File) -> std::io::Result<()> {
    Ok(())
}

/// Makes a rename last through a loss of power, where folders can be synced.
#[cfg(unix)]
pub fn sync_folder(folder: &Path) -> std::io::Result<()> {
    fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
pub fn sync_folder(_: &Path) -> std::io::Result<()> {
    Ok(())
}
