//! The embedded layouts and words. A plain list, so that a reader sees every file that can end
//! up on a page; whoever calls may lay a shop's own files over it, one by one.

use std::borrow::Cow;
use std::collections::BTreeMap;

macro_rules! embedded {
    ($($path:literal),* $(,)?) => {
        &[$(($path, include_str!(concat!("../layouts/", $path)))),*]
    };
}

/// Every embedded file: its path below `layouts/`, and its text.
pub const EMBEDDED: &[(&str, &str)] = embedded![
    "buying-list.typ",
    "crew-sheet.typ",
    "proposal.typ",
    "theme.typ",
    "parts/accept.typ",
    "parts/claims.typ",
    "parts/compare.typ",
    "parts/drawings-chance.typ",
    "parts/drawings-layers.typ",
    "parts/drawings-plan.typ",
    "parts/drawings.typ",
    "parts/glance.typ",
    "parts/layers.typ",
    "parts/pieces.typ",
    "parts/plan.typ",
    "parts/promise.typ",
    "parts/safety.typ",
    "parts/scales.typ",
    "parts/slab.typ",
    "parts/sources.typ",
    "systems/barrier.toml",
    "systems/clear-epoxy.toml",
    "systems/fast-cure.toml",
    "systems/water-kit.toml",
    "words/en/checks-house.toml",
    "words/en/checks-slab.toml",
    "words/en/claims.toml",
    "words/en/crew.toml",
    "words/en/explain-house.toml",
    "words/en/explain-labels.toml",
    "words/en/explain-slab.toml",
    "words/en/figures.toml",
    "words/en/labels.toml",
    "words/en/pages.toml",
    "words/en/promise.toml",
    "words/en/safety.toml",
    "words/en/sources.toml",
    "words/en/systems.toml",
    "words/es/checks-house.toml",
    "words/es/checks-slab.toml",
    "words/es/claims.toml",
    "words/es/crew.toml",
    "words/es/figures.toml",
    "words/es/labels.toml",
    "words/es/pages.toml",
    "words/es/promise.toml",
    "words/es/safety.toml",
    "words/es/sources.toml",
    "words/es/systems.toml",
];

/// The files that a document is made with.
#[derive(Debug, Clone)]
pub struct Layouts {
    files: BTreeMap<Cow<'static, str>, Cow<'static, str>>,
}

impl Default for Layouts {
    fn default() -> Self {
        let files = EMBEDDED.iter().map(|(path, text)| (Cow::from(*path), Cow::from(*text)));
        Self { files: files.collect() }
    }
}

impl Layouts {
    pub fn text(&self, path: &str) -> Option<&str> {
        self.files.get(path).map(AsRef::as_ref)
    }

    /// Lays a shop's own file over an embedded one. False when there is no such file.
    pub fn lay_over(&mut self, path: &str, text: String) -> bool {
        match self.files.get_mut(path) {
            Some(there) => {
                *there = Cow::from(text);
                true
            }
            None => false,
        }
    }

    /// The languages that there are words in.
    pub fn languages(&self) -> Vec<String> {
        let folders = self.below("words/").filter_map(|(path, _)| path.split('/').nth(1));
        let mut languages: Vec<String> = folders.map(str::to_owned).collect();
        languages.dedup();
        languages
    }

    /// Files below a folder, in the order of their paths.
    pub fn below<'a>(&'a self, folder: &'a str) -> impl Iterator<Item = (&'a str, &'a str)> {
        self.files
            .iter()
            .filter(move |(path, _)| path.starts_with(folder))
            .map(|(path, text)| (path.as_ref(), text.as_ref()))
    }

    /// Typst sources, with their virtual path.
    pub fn sources(&self) -> impl Iterator<Item = (&str, &str)> {
        self.files
            .iter()
            .filter(|(path, _)| path.ends_with(".typ"))
            .map(|(path, text)| (path.as_ref(), text.as_ref()))
    }
}
