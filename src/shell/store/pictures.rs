//! The logo and the photos of a job: as they are on disk, and to be prepared for paper.

use std::fmt::Display;
use std::fs::{self, File};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use slableaf::base::names::JobPath;
use slableaf::base::source::{Diagnostic, Located, Span};
use slableaf::issued::Hash;
use slableaf::papers::proposal::{LOGO_PATH, photo_path};
use slableaf::read::Input;
use slableaf::read::limits::PHOTO_BYTES;
use slableaf::typeset::images::{self, ImageFault};
use slableaf::typeset::picture::{self, Picture};
use slableaf::typeset::picture_cache;
use unicode_normalization::UnicodeNormalization as _;

use crate::shell::store::{LoadedFiles, PreparedPhotos, Records, open_plain, read_open, refusal};
use crate::shell::terminal::{Error, Result};

type Prepare = fn(&[u8]) -> Result<Vec<u8>, ImageFault>;

/// A picture that a file names, where the name stands, and how it is prepared.
struct Named<'a> {
    folder: &'a Path,
    name: &'a str,
    span: &'a Span,
    prepare: Prepare,
}

/// The logo, if there is one, and the photos of a job.
fn named<'a>(files: &'a LoadedFiles, input: &'a Input) -> Vec<Named<'a>> {
    let of = |folder: &'a Path, file: &'a Located<JobPath>, prepare| Named {
        folder,
        name: &file.value.0,
        span: &file.span,
        prepare,
    };
    let logo = input.shop.logo.iter();
    let logo = logo.map(|logo| of(&files.shop_folder, logo, picture_cache::logo as Prepare));
    let photos = input.job.photos.iter();
    let photos =
        photos.map(|photo| of(&files.job_folder, &photo.file, picture_cache::photo as Prepare));
    logo.chain(photos).collect()
}

/// Looks at the pictures of a job without decoding them: little more than their heads is read.
///
/// # Errors
/// Every picture that cannot be read, is cut short or cannot be used.
pub fn inspect_pictures(files: &LoadedFiles, input: &Input) -> Result<()> {
    let named = named(files, input);
    let inspected = named.iter().map(|one| {
        let mut file = open_inside(one.folder, one.name).map_err(|error| one.problem(error))?;
        images::inspect(&mut file).map_err(|fault| problem(one.span, one.name, fault))
    });
    all_or_problems(inspected).map(drop).map_err(|problems| Error::problems(problems, files.all()))
}

/// A picture as it was read: its name and where that stands, its bytes, and how to prepare it.
pub struct Original {
    pub name: String,
    pub bytes: Vec<u8>,
    sha256: OnceLock<Hash>,
    span: Span,
    prepare: Prepare,
}

impl Original {
    /// The hash of its bytes, worked out once.
    pub fn sha256(&self) -> &Hash {
        self.sha256.get_or_init(|| Hash::of(&self.bytes))
    }
}

/// The logo, if there is one, and the photos of a job, as they are on disk.
pub struct Originals {
    has_logo: bool,
    pub all: Vec<Original>,
    /// The photos that are ready from an earlier run, once it is known where they are kept.
    prepared: OnceLock<PreparedPhotos>,
}

impl Originals {
    /// Reads the pictures of a job.
    ///
    /// # Errors
    /// Every picture that cannot be read; where there is one, also those that are cut short or cannot be
    /// used.
    pub fn read(files: &LoadedFiles, input: &Input) -> Result<Self> {
        let named = named(files, input);
        let read = all_or_problems(named.iter().map(|one| {
            let Named { name, span, prepare, .. } = *one;
            let bytes = open_inside(one.folder, name).and_then(|file| read_open(file, PHOTO_BYTES));
            let bytes = bytes.map_err(|error| one.problem(error))?;
            Ok(Original {
                name: name.into(),
                bytes,
                span: span.clone(),
                sha256: OnceLock::new(),
                prepare,
            })
        }));
        match read {
            Ok(all) => {
                let has_logo = input.shop.logo.is_some();
                Ok(Self { has_logo, all, prepared: OnceLock::new() })
            }
            Err(problems) => {
                inspect_pictures(files, input)?;
                Err(Error::problems(problems, files.all()))
            }
        }
    }

    /// The pictures at their places in the document, to be prepared when they are printed: the logo, and the
    /// photos where there are to be some.
    pub fn pictures(&self, with_photos: bool) -> Vec<Picture<'_>> {
        let photos = self.all.len() - usize::from(self.has_logo);
        let wanted = usize::from(self.has_logo) + if with_photos { photos } else { 0 };
        let all = self.all.iter().zip(self.paths()).take(wanted).enumerate();
        all.map(|(at, (one, path))| {
            let prepared = self.prepared.get().filter(|_| at >= usize::from(self.has_logo));
            let prepare: picture::Prepare<'_> = match prepared {
                Some(prepared) => Arc::new(|| prepared.photo(&one.bytes, one.sha256())),
                None => Arc::new(|| (one.prepare)(&one.bytes)),
            };
            Picture::new(path, prepare)
        })
        .collect()
    }

    /// Takes photos from those that are kept beside the records of the job, and where these are open for
    /// writing, keeps there what is made ready now.
    pub fn keep_beside(&self, records: &Records) {
        self.prepared.get_or_init(|| records.prepared_photos());
    }

    /// Removes photos from those that are kept when the job has them no more.
    pub fn forget_others(&self) {
        if let Some(prepared) = self.prepared.get() {
            let photos = self.all.iter().skip(usize::from(self.has_logo));
            prepared.keep_only(&photos.map(Original::sha256).collect::<Vec<_>>());
        }
    }

    /// The places of all pictures in the document.
    fn paths(&self) -> impl Iterator<Item = String> {
        let logo = self.has_logo.then(|| LOGO_PATH.to_owned());
        logo.into_iter().chain((0..).map(photo_path))
    }

    /// The problems of pictures that cannot be used, each where the picture is named.
    pub fn problems(&self, faults: &[(String, ImageFault)]) -> Vec<Diagnostic> {
        let named = self.paths().zip(&self.all);
        let fault = |path: &String| faults.iter().find(|(of, _)| of == path);
        named
            .filter_map(|(path, one)| Some(problem(&one.span, &one.name, &fault(&path)?.1)))
            .collect()
    }
}

/// The results of the pictures, or the problems of all.
fn all_or_problems<T>(
    results: impl IntoIterator<Item = Result<T, Diagnostic>>,
) -> Result<Vec<T>, Vec<Diagnostic>> {
    let (mut all, mut problems) = (vec![], vec![]);
    for result in results {
        match result {
            Ok(one) => all.push(one),
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() { Ok(all) } else { Err(problems) }
}

fn problem(span: &Span, name: &str, why: impl Display) -> Diagnostic {
    Diagnostic::at(span, format!("the picture `{name}` {why}"))
}

impl Named<'_> {
    /// The problem of a picture that cannot be read.
    fn problem(&self, error: io::Error) -> Diagnostic {
        let why = match error.kind() {
            ErrorKind::NotFound => {
                "is not there: no such file in the folder of the file that names it".to_owned()
            }
            _ => refusal(&error),
        };
        problem(self.span, self.name, why)
    }
}

/// Opens a file that has to lie in a folder, also after links are followed.
fn open_inside(folder: &Path, name: &str) -> io::Result<File> {
    let root = fs::canonicalize(folder)?;
    let path = fs::canonicalize(folder.join(name)).or_else(|error| {
        let other = spelled_otherwise(folder, name).filter(|_| error.kind() == ErrorKind::NotFound);
        other.map_or(Err(error), fs::canonicalize)
    })?;
    if !path.starts_with(&root) {
        let why = "it is a link that leads out of the folder";
        return Err(io::Error::new(ErrorKind::InvalidData, why));
    }
    open_plain(&path)
}

/// The file of a name in which letters and their accents are apart on disk, as some systems keep them:
/// equal in Unicode normal form C.
fn spelled_otherwise(folder: &Path, name: &str) -> Option<PathBuf> {
    let mut path = folder.to_owned();
    for part in name.split('/') {
        let as_typed = path.join(part);
        if fs::symlink_metadata(&as_typed).is_ok() {
            path = as_typed;
            continue;
        }
        let mut names = fs::read_dir(&path).ok()?.flatten().map(|entry| entry.file_name());
        let found =
            names.find(|there| there.to_str().is_some_and(|there| there.nfc().eq(part.nfc())))?;
        path.push(found);
    }
    Some(path)
}
