//! The files that the jobs of one run share, read once however many jobs there are.

use std::collections::HashMap;
use std::hash::Hash;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use slableaf::issued;
use slableaf::typeset::Faces;

use crate::shell::store::{
    FontBytes, SharedFiles, SharedTexts, ShopLayouts, parse_fonts, read_fonts, read_layouts,
};
use crate::shell::terminal::Result;

/// Books and shop files by their paths, and by content for those of records, which keep copies of the
/// same few books; layouts and words by the folder of the shop file and by language.
#[derive(Default)]
pub struct Cache {
    shared: Entries<(PathBuf, PathBuf), SharedFiles>,
    shared_by_content: Entries<String, SharedFiles>,
    layouts: Entries<(PathBuf, String), ShopLayouts>,
    /// By the folder of the shop file: the embedded faces with those of the shop.
    faces: Entries<PathBuf, Arc<Faces>>,
    /// The same by content, for records, which keep copies of the same few fonts.
    faces_by_content: Entries<String, Arc<Faces>>,
}

impl Cache {
    /// Book, systems and shop file.
    pub fn shared_files(&self, book: &Path, shop: &Path) -> Result<Arc<SharedFiles>> {
        self.shared.get_or_load((book.to_owned(), shop.to_owned()), || {
            SharedTexts::read(book, shop).map(SharedFiles::from)
        })
    }

    /// As [`Self::shared_files`], for those in the inputs of a record, which no other job has by these paths.
    /// Messages name the path of the first file of the same content.
    pub fn shared_files_of_record(&self, inputs: &Path) -> Result<Arc<SharedFiles>> {
        let texts = SharedTexts::read(&inputs.join("book.toml"), &inputs.join("shop.toml"))?;
        let parts = texts.bytes.iter().flat_map(|file| [file.path.as_bytes(), &file.bytes]);
        let hash = issued::Hash::of_parts(parts);
        self.shared_by_content.get_or_load(hash.0, || Ok(texts.into()))
    }

    /// Layouts and words of a shop in a language.
    pub fn layouts(&self, shop_folder: &Path, language: &str) -> Result<Arc<ShopLayouts>> {
        self.layouts.get_or_load((shop_folder.to_owned(), language.to_owned()), || {
            ShopLayouts::read(shop_folder, language, self.faces(shop_folder)?)
        })
    }

    /// The embedded faces, and those of the folder `fonts` beside a shop file.
    fn faces(&self, shop_folder: &Path) -> Result<Arc<Faces>> {
        let faces = self.faces.get_or_load(shop_folder.to_owned(), || {
            let fonts = read_fonts(shop_folder)?;
            if fonts.is_empty() {
                return Ok(Faces::embedded());
            }
            let faces = self.faces_by_content.get_or_load(hash(&fonts), || {
                parse_fonts(shop_folder, fonts).map(Faces::with_own)
            })?;
            Ok(Arc::clone(&faces))
        })?;
        Ok(Arc::clone(&faces))
    }

    /// Forgets everything that may have changed on disk: books and shop files, and layouts whose own
    /// files are not as they were. Layouts that stay keep their renderer warm.
    pub fn forget_changed(&self) {
        self.shared.lock().clear();
        self.layouts.lock().retain(|(folder, _), layouts| {
            // An error is reported when they are read for the next paper.
            read_layouts(folder).is_ok_and(|(_, own)| own == layouts.own)
                && read_fonts(folder).is_ok_and(|fonts| is_of(&fonts, layouts.faces()))
        });
        self.faces.lock().clear();
    }
}

fn hash(fonts: &[FontBytes]) -> String {
    let parts = fonts.iter().flat_map(|(name, bytes)| [name.as_bytes(), bytes.as_slice()]);
    issued::Hash::of_parts(parts).0
}

/// True when faces were made of these font files.
fn is_of(fonts: &[FontBytes], faces: &Faces) -> bool {
    let made_of = faces.own().iter().map(|file| (file.name.as_str(), file.bytes.as_slice()));
    fonts.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).eq(made_of)
}

/// Entries that are kept at a time, so that a run over thousands of shops stays small.
const MOST: usize = 16;

struct Entries<K, V>(Mutex<HashMap<K, Arc<V>>>);

impl<K, V> Default for Entries<K, V> {
    fn default() -> Self {
        Self(Mutex::default())
    }
}

impl<K: Eq + Hash, V> Entries<K, V> {
    /// The entries. They are whole even after a panic on another thread: each is added when it is ready.
    fn lock(&self) -> MutexGuard<'_, HashMap<K, Arc<V>>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The entry of a key, loaded if need be and kept for the next job. Jobs come sorted by folder: those
    /// of one shop follow each other. An error is not kept.
    fn get_or_load(&self, key: K, load: impl FnOnce() -> Result<V>) -> Result<Arc<V>> {
        if let Some(known) = self.lock().get(&key) {
            return Ok(known.clone());
        }
        let loaded = Arc::new(load()?);
        let mut entries = self.lock();
        if entries.len() >= MOST {
            entries.clear();
        }
        Ok(entries.entry(key).or_insert(loaded).clone())
    }
}
