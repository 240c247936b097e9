//! The sealed world of one document: its layouts, its data, its pictures, the fonts, a fixed
//! date. There is no disk behind it, no network and no clock.

use std::collections::HashMap;
use std::sync::{LazyLock, OnceLock};

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::visualize::{ExchangeFormat, RasterImage};
use typst::{Library, LibraryExt, World};

use crate::base::layouts::Layouts;
use crate::typeset::fonts::Faces;
use crate::typeset::picture::Picture;

/// Functions that layouts may call: the same for every document of a process.
static LIBRARY: LazyLock<LazyHash<Library>> =
    LazyLock::new(|| LazyHash::new(Library::builder().build()));

/// The layouts as the typesetter reads them. Each is parsed once, when a document first asks for it.
#[derive(Debug)]
pub struct LayoutSources {
    layouts: Layouts,
    parsed: HashMap<FileId, OnceLock<Source>>,
}

impl LayoutSources {
    pub fn new(layouts: Layouts) -> Self {
        let ids = layouts.sources().filter_map(|(path, _)| id(&format!("/{path}")));
        Self { parsed: ids.map(|id| (id, OnceLock::new())).collect(), layouts }
    }

    pub fn layouts(&self) -> &Layouts {
        &self.layouts
    }

    fn source(&self, id: FileId) -> Option<&Source> {
        let parsed = self.parsed.get(&id)?;
        let text = self.layouts.text(id.vpath().get_without_slash())?;
        Some(parsed.get_or_init(|| Source::new(id, text.to_owned())))
    }
}

/// Everything that one document may read.
pub struct Sealed<'p> {
    sheets: &'p LayoutSources,
    faces: &'p Faces,
    main: FileId,
    /// The page data.
    data: (FileId, Bytes),
    pictures: HashMap<FileId, &'p Picture<'p>>,
}

/// A file's name in the world. Typst keeps each for ever and has room for 65,000, so names are the
/// same for every job: a document's files differ, their names do not.
fn id(path: &str) -> Option<FileId> {
    let path = VirtualPath::new(path).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl<'p> Sealed<'p> {
    /// A world with these layouts, faces, page data and pictures; `main` is one of the layouts. `None` when a
    /// name is no plain path, which only a program's mistake could make.
    pub fn new(
        sheets: &'p LayoutSources,
        faces: &'p Faces,
        main: &str,
        data: Bytes,
        pictures: &'p [Picture<'p>],
    ) -> Option<Self> {
        let pictures = pictures.iter().map(|one| Some((id(&one.path)?, one)));
        let pictures = pictures.collect::<Option<_>>()?;
        let data = (id("/page.json")?, data);
        Some(Self { sheets, faces, main: id(&format!("/{main}"))?, data, pictures })
    }

    pub fn layouts(&self) -> &Layouts {
        self.sheets.layouts()
    }

    /// Makes the pictures ready and decodes them, for the typesetter to find them done when it comes to them.
    pub fn prepare_pictures(&self) {
        for (id, picture) in &self.pictures {
            let format = match id.vpath().get_without_slash().rsplit_once('.') {
                Some((_, "jpg")) => ExchangeFormat::Jpg,
                Some((_, "png")) => ExchangeFormat::Png,
                _ => continue,
            };
            // What cannot be used is told when all is done.
            let _ = picture.bytes().map(|bytes| RasterImage::plain(bytes, format));
        }
    }
}

impl World for Sealed<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.faces.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sheets.source(id).cloned().ok_or_else(|| not_here(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == self.data.0 {
            return Ok(self.data.1.clone());
        }
        let picture = self.pictures.get(&id).ok_or_else(|| not_here(id))?;
        picture.bytes().map_err(|fault| FileError::Other(Some(fault.to_string().into())))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.faces.face(index)
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn not_here(id: FileId) -> FileError {
    FileError::NotFound(id.vpath().get_with_slash().into())
}
