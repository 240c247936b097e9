//! The sealed world of one document: its layouts, its data, its pictures, the fonts, a fixed
//! date. There is no disk behind it, no network and no clock.

use std::collections::HashMap;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use crate::layouts::Layouts;
use crate::typeset::fonts::FONTS;

/// Everything that one document may read.
pub struct Sealed {
    library: LazyHash<Library>,
    main: FileId,
    sources: HashMap<FileId, Source>,
    files: HashMap<FileId, Bytes>,
}

/// A file's name in the world. Names are the same for every job: Typst keeps each for ever.
fn id(path: &str) -> Option<FileId> {
    let path = VirtualPath::new(path).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl Sealed {
    /// A world with these layouts and files; `main` is one of the layouts. `None` when a name is
    /// no plain path, which only a program's mistake could make.
    pub fn new(layouts: &Layouts, main: &str, files: Vec<(String, Bytes)>) -> Option<Self> {
        let mut sources = HashMap::new();
        for (path, text) in layouts.sources() {
            let id = id(&format!("/{path}"))?;
            sources.insert(id, Source::new(id, text.to_owned()));
        }
        let mut held = HashMap::new();
        for (path, bytes) in files {
            held.insert(id(&path)?, bytes);
        }
        Some(Self {
            library: LazyHash::new(Library::builder().build()),
            main: id(&format!("/{main}"))?,
            sources,
            files: held,
        })
    }
}

impl World for Sealed {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FONTS.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id).cloned().ok_or_else(|| not_here(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.get(&id).cloned().ok_or_else(|| not_here(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.faces.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn not_here(id: FileId) -> FileError {
    FileError::NotFound(id.vpath().get_with_slash().into())
}
