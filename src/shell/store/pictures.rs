//! The logo and the photos of a job: as they are on disk, and prepared for paper.

use std::fs;
use std::io::{self, Cursor, ErrorKind};
use std::path::Path;

use slableaf::base::source::{Diagnostic, Span};
use slableaf::read::Input;
use slableaf::read::limits::PHOTO_BYTES;
use slableaf::typeset::images::{self, ImageFault};
use slableaf::typeset::picture_cache;

use crate::shell::store::files::{read_plain, refusal};
use crate::shell::store::load::LoadedFiles;
use crate::shell::store::parallel;
use crate::shell::terminal::{Error, Result};

/// The logo and the photos of a job, prepared, at their places in the document.
pub struct Pictures {
    pub logo: Option<Vec<u8>>,
    pub photos: Vec<Vec<u8>>,
}

/// Pictures that are prepared at a time at the most: each may take a few hundred megabytes.
const AT_A_TIME: usize = 4;

type Prepare = fn(&[u8]) -> Result<Vec<u8>, ImageFault>;

/// A picture as it was read: its name and where that stands, its bytes, and how to prepare it.
pub struct Original {
    pub name: String,
    pub bytes: Vec<u8>,
    span: Span,
    prepare: Prepare,
}

fn problem(span: &Span, name: &str, why: &str) -> Diagnostic {
    Diagnostic::at(span, format!("the picture `{name}` {why}"))
}

/// The logo, if there is one, and the photos of a job, as they are on disk.
pub struct Originals {
    has_logo: bool,
    pub all: Vec<Original>,
}

impl Originals {
    /// Reads the pictures of a job.
    ///
    /// # Errors
    /// Every picture that cannot be read.
    pub fn read(files: &LoadedFiles, input: &Input) -> Result<Self> {
        let mut all = vec![];
        let mut problems = vec![];
        let logo = input.shop.logo.iter();
        let logo = logo.map(|logo| (&files.shop_folder, logo, picture_cache::logo as Prepare));
        let photos = input.job.photos.iter();
        let photos =
            photos.map(|photo| (&files.job_folder, &photo.file, picture_cache::photo as Prepare));
        for (folder, file, prepare) in logo.chain(photos) {
            let (name, span) = (file.value.0.clone(), file.span.clone());
            match read_inside(folder, &name) {
                Ok(bytes) => all.push(Original { name, bytes, span, prepare }),
                Err(why) => problems.push(problem(&span, &name, &why)),
            }
        }
        if problems.is_empty() {
            return Ok(Self { has_logo: input.shop.logo.is_some(), all });
        }
        // A mistake inside a picture that could be read belongs to the same list.
        problems.extend(inspect_all(&all).err().into_iter().flatten());
        let place = |problem: &Diagnostic| {
            let span = problem.span.as_ref();
            span.map(|span| (span.file != files.files.shop.name, span.bytes.start))
        };
        problems.sort_by_key(place);
        Err(Error::problems(problems, files.all()))
    }

    /// Looks at the pictures without decoding them.
    ///
    /// # Errors
    /// Every picture that is cut short or cannot be used.
    pub fn inspect(&self, files: &LoadedFiles) -> Result<()> {
        let inspected = inspect_all(&self.all);
        inspected.map(drop).map_err(|problems| Error::problems(problems, files.all()))
    }

    /// Prepares the pictures.
    ///
    /// # Errors
    /// Every picture that cannot be used.
    pub fn prepare(&self, files: &LoadedFiles) -> Result<Pictures> {
        let mut ready =
            prepare_all(&self.all).map_err(|problems| Error::problems(problems, files.all()))?;
        let photos = ready.split_off(usize::from(self.has_logo));
        Ok(Pictures { logo: ready.pop(), photos })
    }
}

/// Prepares pictures for print, some at a time.
fn prepare_all(originals: &[Original]) -> Result<Vec<Vec<u8>>, Vec<Diagnostic>> {
    each_picture(originals, AT_A_TIME, |one| (one.prepare)(&one.bytes))
}

/// Looks at pictures without decoding them.
fn inspect_all(originals: &[Original]) -> Result<Vec<()>, Vec<Diagnostic>> {
    each_picture(originals, originals.len(), |one| images::inspect(&mut Cursor::new(&one.bytes)))
}

/// The results of some work on each picture, or the problems of all.
fn each_picture<T: Send>(
    originals: &[Original],
    at_a_time: usize,
    work: impl Fn(&Original) -> Result<T, ImageFault> + Sync,
) -> Result<Vec<T>, Vec<Diagnostic>> {
    let (mut all, mut problems) = (vec![], vec![]);
    let work = |one: &Original| {
        work(one).map_err(|fault| problem(&one.span, &one.name, &fault.to_string()))
    };
    for result in parallel::map(originals, parallel::threads(None).min(at_a_time), work) {
        match result {
            Ok(one) => all.push(one),
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() { Ok(all) } else { Err(problems) }
}

/// Reads a file that has to lie in a folder, also after links are followed.
fn read_inside(folder: &Path, name: &str) -> Result<Vec<u8>, String> {
    let unread = |error: io::Error| match error.kind() {
        ErrorKind::NotFound => {
            "is not there: no such file in the folder of the file that names it".to_owned()
        }
        _ => refusal(&error),
    };
    let root = fs::canonicalize(folder).map_err(unread)?;
    let path = fs::canonicalize(folder.join(name)).map_err(unread)?;
    if !path.starts_with(&root) {
        return Err("is a link that leads out of the folder".into());
    }
    read_plain(&path, PHOTO_BYTES).map_err(unread)
}
