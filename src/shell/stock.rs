//! What the jobs of one run share: book and shop file; words, layouts and the renderer they are printed
//! on, for each shop and language. Read once, however many jobs there are.

use std::collections::HashMap;
use std::hash::Hash;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use slableaf::base::layouts::Layouts;
use slableaf::say::words::Words;
use slableaf::typeset::Renderer;

use crate::shell::Exit;
use crate::shell::files::{AsRead, Common, Found};
use crate::shell::{layouts, terminal};

/// Words and layouts of a shop in a language, ready for use.
pub struct House {
    pub renderer: Renderer,
    pub words: Words,
    /// The shop's own files, to the byte.
    pub own: Vec<AsRead>,
}

impl House {
    pub fn layouts(&self) -> &Layouts {
        self.renderer.layouts()
    }
}

/// Shops whose things are kept at a time, so that a run over thousands of shops stays small.
const SHOPS: usize = 16;

/// Houses by the folder of the shop file and by language; books and shop files by their paths.
#[derive(Default)]
pub struct Stock {
    houses: Mutex<HashMap<(PathBuf, String), Arc<House>>>,
    commons: Mutex<HashMap<(PathBuf, PathBuf), Arc<Common>>>,
}

impl Stock {
    /// Book, systems and shop file. Says on the terminal what cannot be read, to each job anew.
    pub fn common(&self, book: &Path, shop: &Path) -> Result<Arc<Common>, Exit> {
        let key = (book.to_owned(), shop.to_owned());
        let commons = || self.commons.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(common) = commons().get(&key) {
            return Ok(common.clone());
        }
        let common = Arc::new(Common::read(book, shop)?);
        Ok(kept(&mut commons(), key, common))
    }

    /// The house of a job. Says on the terminal what is wrong with its files, to each job anew.
    pub fn house(&self, found: &Found, language: &str) -> Result<Arc<House>, Exit> {
        let key = (found.shop_folder.clone(), language.to_owned());
        // What a panic on another thread left is whole: houses are kept when they are ready.
        let houses = || self.houses.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(house) = houses().get(&key) {
            return Ok(house.clone());
        }
        let (layouts, words, own) = layouts::as_read_with_words(found, language)?;
        let house = Arc::new(House { renderer: Renderer::new(layouts), words, own });
        Ok(kept(&mut houses(), key, house))
    }
}

impl Stock {
    /// Forgets what may have changed on disk: books and shop files, and houses whose own files are not
    /// what they were. A house that stays keeps its renderer warm.
    pub fn renew(&self) {
        self.commons.lock().unwrap_or_else(PoisonError::into_inner).clear();
        let mut houses = self.houses.lock().unwrap_or_else(PoisonError::into_inner);
        houses.retain(|(folder, _), house| {
            // What is wrong with them is told when they are read for the next paper.
            let (read, _) = terminal::kept(|| layouts::own(folder));
            read.is_ok_and(|own| own == house.own)
        });
    }
}

/// Keeps a thing for the next job that shares it. Jobs come sorted by folder: those of one shop follow
/// each other, and few shops are wanted at a time.
fn kept<K: Eq + Hash, V>(known: &mut HashMap<K, Arc<V>>, key: K, thing: Arc<V>) -> Arc<V> {
    if known.len() >= SHOPS {
        known.clear();
    }
    known.entry(key).or_insert(thing).clone()
}
