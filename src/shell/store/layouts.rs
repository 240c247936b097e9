//! A shop's own layouts and words, laid over those that are built in.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::Serialize;
use slableaf::base::layouts::Layouts;
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::read::limits::{FILE_BYTES, LAYOUT_DEPTH, LAYOUT_FILES};
use slableaf::say::overlay::lay_over;
use slableaf::say::words::Words;
use slableaf::typeset::{Document, Faces, Failure, Manuscript, Renderer, is_alone};

use crate::shell::store::{ApartSetters, inside, read_plain, refusal, text_of};
use crate::shell::terminal::{Error, OrCannot as _, Result, shown};

/// The folder beside a shop file that holds its own layouts and words.
pub const LAYOUTS_FOLDER: &str = "layouts";

/// A file as it was read, by its path below the inputs of a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileBytes {
    pub path: String,
    pub bytes: Vec<u8>,
}

/// Words and layouts of a shop in a language, ready for use.
pub struct ShopLayouts {
    pub renderer: Renderer,
    apart: ApartSetters,
    pub words: Words,
    /// The shop's own files, to the byte.
    pub own: Vec<FileBytes>,
}

impl ShopLayouts {
    pub fn read(shop_folder: &Path, language: &str, faces: Arc<Faces>) -> Result<Self> {
        let (layouts, own) = read_layouts(shop_folder)?;
        let words = read_words(&layouts, language)?;
        let renderer = Renderer::with_faces(layouts, faces);
        Ok(Self { renderer, apart: ApartSetters::default(), words, own })
    }

    pub fn layouts(&self) -> &Layouts {
        self.renderer.layouts()
    }

    pub fn faces(&self) -> &Faces {
        self.renderer.faces()
    }

    /// Typesets a document. With layouts of the shop's own, and in a batch, it is set in a process apart:
    /// there for its bounds, here because the typesetter's memory of results grows with every document,
    /// and two threads wait for each other in it.
    ///
    /// # Errors
    /// The shop's own layouts did not come to an end within their bounds.
    pub fn pdf<P: Serialize>(
        &self,
        manuscript: Manuscript<'_, P>,
    ) -> Result<Result<Document, Failure>> {
        let own = self.has_own_layouts();
        if !own && !is_alone() {
            return Ok(self.renderer.pdf(manuscript));
        }
        let prepared = match self.renderer.prepared(manuscript) {
            Ok(prepared) => prepared,
            Err(failure) => return Ok(Err(failure)),
        };
        match self.apart.set(&self.renderer, &prepared) {
            // The built-in layouts may be set here, too.
            Err(_) if !own => Ok(self.renderer.set(prepared)),
            made => made,
        }
    }

    /// The shop's own files of words.
    pub fn own_words(&self) -> Vec<SourceFile> {
        let layouts = self.layouts();
        let own = layouts.below("words/").filter(|(path, _)| layouts.own(path).is_some());
        let file = |(path, text): (&str, &str)| SourceFile {
            name: layouts.name(path),
            text: text.to_owned(),
        };
        own.map(file).collect()
    }

    /// True when a layout of the shop's own may ask for any face.
    pub fn has_own_layouts(&self) -> bool {
        self.own.iter().any(|file| file.path.ends_with(".typ"))
    }
}

/// The words of a language.
pub fn read_words(layouts: &Layouts, language: &str) -> Result<Words> {
    Words::read(layouts, language).map_err(|error| Error::words(&error, layouts))
}

/// The built-in layouts with those of a shop in their place, which lie in the folder `layouts` beside
/// its shop file; and the shop's own files to the byte.
pub fn read_layouts(shop_folder: &Path) -> Result<(Layouts, Vec<FileBytes>)> {
    let root = shop_folder.join(LAYOUTS_FOLDER);
    let (Ok(inside), Ok(shop)) = (fs::canonicalize(&root), fs::canonicalize(shop_folder)) else {
        return Ok((Layouts::default(), vec![]));
    };
    let mut walk =
        Walk { inside, shown: shown(&root), files: vec![], own: vec![], problems: vec![] };
    if !walk.inside.starts_with(&shop) {
        walk.problems.push(problem(&walk.shown, "is a link that leads out of the folder"));
    } else if walk.inside.is_dir() {
        walk.folder(&root, "", 1)?;
    }
    let Walk { files, problems, own, .. } = walk;
    let all: Vec<SourceFile> = files.iter().map(|(_, file)| file.clone()).collect();
    let layouts = if problems.is_empty() { lay_over(files) } else { Err(problems) };
    let layouts = layouts.map_err(|problems| Error::problems(problems, all))?;
    Ok((layouts, own))
}

fn problem(name: &str, why: &str) -> Diagnostic {
    Diagnostic::new(format!("{name} {why}"))
}

/// The files below a shop's folder `layouts`, as they are found.
struct Walk {
    /// The folder itself, without links.
    inside: PathBuf,
    shown: String,
    files: Vec<(String, SourceFile)>,
    own: Vec<FileBytes>,
    problems: Vec<Diagnostic>,
}

impl Walk {
    fn folder(&mut self, folder: &Path, below: &str, depth: usize) -> Result<()> {
        let entries = fs::read_dir(folder).or_cannot("read", folder)?;
        let mut names: Vec<String> = entries
            .filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned()))
            // What an editor or a file manager keeps for itself is no layout.
            .filter(|name| !name.starts_with('.'))
            .collect();
        names.sort();
        for name in names {
            let path = folder.join(&name);
            let key = format!("{below}{name}");
            let shown = format!("{}/{key}", self.shown);
            match inside(&path, &self.inside) {
                Err(why) => self.problems.push(problem(&shown, &why)),
                Ok(real) if real.is_dir() && depth < LAYOUT_DEPTH => {
                    self.folder(&path, &format!("{key}/"), depth + 1)?;
                }
                Ok(real) if real.is_dir() => {
                    self.problems.push(problem(&shown, "lies deeper than any layout"));
                }
                Ok(_) if self.files.len() == LAYOUT_FILES => {
                    self.problems
                        .push(problem(&self.shown, &format!("holds over {LAYOUT_FILES} files")));
                    return Ok(());
                }
                Ok(real) => self.file(&real, key, shown),
            }
        }
        Ok(())
    }

    fn file(&mut self, path: &Path, key: String, name: String) {
        let bytes = read_plain(path, FILE_BYTES as u64).map_err(|error| refusal(&error));
        let text = bytes.and_then(|bytes| {
            let text = text_of(&bytes).filter(|text| !text.contains('\0'));
            let text = text.ok_or("is not UTF-8 text; save it again as UTF-8")?;
            Ok((text, bytes))
        });
        match text {
            Ok((text, bytes)) => {
                self.own.push(FileBytes { path: format!("{LAYOUTS_FOLDER}/{key}"), bytes });
                self.files.push((key, SourceFile { name, text }));
            }
            Err(why) => self.problems.push(problem(&name, &why)),
        }
    }
}
