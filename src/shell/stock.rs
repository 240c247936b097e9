//! What the jobs of one run share: words, layouts and the press they are printed on, for each shop
//! and language. Read once, however many jobs there are.

use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use slableaf::layouts::Layouts;
use slableaf::typeset::Press;
use slableaf::words::Words;

use crate::shell::Exit;
use crate::shell::files::{AsRead, Found};
use crate::shell::layouts;

/// Words and layouts of a shop in a language, ready for use.
pub struct House {
    pub press: Press,
    pub words: Words,
    /// The shop's own files, to the byte.
    pub own: Vec<AsRead>,
}

impl House {
    pub fn layouts(&self) -> &Layouts {
        self.press.layouts()
    }
}

/// Houses by the folder of the shop file, and by language.
#[derive(Default)]
pub struct Stock {
    houses: Mutex<HashMap<(PathBuf, String), Arc<House>>>,
}

impl Stock {
    /// The house of a job. Says on the terminal what is wrong with its files, to each job anew.
    pub fn house(&self, found: &Found, language: &str) -> Result<Arc<House>, Exit> {
        let key = (found.shop_folder.clone(), language.to_owned());
        // What a panic on another thread left is whole: houses are kept when they are ready.
        let houses = || self.houses.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(house) = houses().get(&key) {
            return Ok(house.clone());
        }
        let (layouts, words, own) = layouts::as_read_with_words(found, language)?;
        let house = Arc::new(House { press: Press::new(layouts), words, own });
        Ok(houses().entry(key).or_insert(house).clone())
    }
}
