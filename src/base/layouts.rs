//! The embedded layouts and words. A plain list, so that a reader sees every file that can end
//! up on a page; whoever calls may lay a shop's own files over it, one by one.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::base::source::SourceFile;

macro_rules! embedded {
    ($($path:literal),* $(,)?) => {
        &[$(($path, include_str!(concat!("../../layouts/", $path)))),*]
    };
}

/// Every embedded file: its path below `layouts/`, and its text.
pub const EMBEDDED: &[(&str, &str)] = embedded![
    "bids.typ",
    "buying-list.typ",
    "care.typ",
    "change-order.typ",
    "crew-sheet.typ",
    "failure-sheet.typ",
    "handover.typ",
    "leaflet.typ",
    "mail.html",
    "proposal.typ",
    "theme.typ",
    "visit-sheet.typ",
    "what-if.typ",
    "years.typ",
    "parts/accept.typ",
    "parts/claims.typ",
    "parts/compare.typ",
    "parts/drawings-chance.typ",
    "parts/drawings-layers.typ",
    "parts/drawings-plan.typ",
    "parts/drawings-signs.typ",
    "parts/drawings.typ",
    "parts/family.typ",
    "parts/glance.typ",
    "parts/layers.typ",
    "parts/moisture-bar.typ",
    "parts/pieces.typ",
    "parts/plan.typ",
    "parts/promise.typ",
    "parts/safety.typ",
    "parts/scales.typ",
    "parts/slab.typ",
    "parts/sources.typ",
    "parts/spaces-table.typ",
    "parts/spaces.typ",
    "systems/barrier.toml",
    "systems/clear-epoxy.toml",
    "systems/fast-cure.toml",
    "systems/water-kit.toml",
    "words/en/checks-house.toml",
    "words/en/checks-laid.toml",
    "words/en/checks-moisture.toml",
    "words/en/checks-slab.toml",
    "words/en/claims.toml",
    "words/en/compare.toml",
    "words/en/crew.toml",
    "words/en/explain-house.toml",
    "words/en/explain-labels.toml",
    "words/en/explain-laid.toml",
    "words/en/explain-slab.toml",
    "words/en/failure.toml",
    "words/en/family.toml",
    "words/en/figures.toml",
    "words/en/interview-laid.toml",
    "words/en/interview-measures.toml",
    "words/en/interview-started.toml",
    "words/en/interview-product.toml",
    "words/en/interview-system.toml",
    "words/en/interview.toml",
    "words/en/handover.toml",
    "words/en/labels.toml",
    "words/en/mail.toml",
    "words/en/order.toml",
    "words/en/pages.toml",
    "words/en/promise.toml",
    "words/en/safety.toml",
    "words/en/sources.toml",
    "words/en/spaces.toml",
    "words/en/systems.toml",
    "words/en/terms.toml",
    "words/en/visit.toml",
    "words/en/years.toml",
    "words/es/checks-house.toml",
    "words/es/checks-laid.toml",
    "words/es/checks-moisture.toml",
    "words/es/checks-slab.toml",
    "words/es/claims.toml",
    "words/es/compare.toml",
    "words/es/crew.toml",
    "words/es/failure.toml",
    "words/es/family.toml",
    "words/es/figures.toml",
    "words/es/handover.toml",
    "words/es/labels.toml",
    "words/es/mail.toml",
    "words/es/order.toml",
    "words/es/pages.toml",
    "words/es/promise.toml",
    "words/es/safety.toml",
    "words/es/sources.toml",
    "words/es/spaces.toml",
    "words/es/systems.toml",
    "words/es/terms.toml",
    "words/es/visit.toml",
    "words/es/years.toml",
];

/// The files that a document is made with.
#[derive(Debug, Clone)]
pub struct Layouts {
    files: BTreeMap<Cow<'static, str>, Cow<'static, str>>,
    /// By path: the names, as a person finds them, of the files that a shop put in place of ours.
    own: BTreeMap<Cow<'static, str>, String>,
}

impl Default for Layouts {
    fn default() -> Self {
        let files = EMBEDDED.iter().map(|(path, text)| (Cow::from(*path), Cow::from(*text)));
        Self { files: files.collect(), own: BTreeMap::new() }
    }
}

impl Layouts {
    /// Puts a shop's own file in the place of a built-in one; false when there is none to replace.
    pub fn replace(&mut self, path: &str, file: SourceFile) -> bool {
        let Some((known, _)) = EMBEDDED.iter().find(|(known, _)| *known == path) else {
            return false;
        };
        self.files.insert(Cow::from(*known), Cow::from(file.text));
        self.own.insert(Cow::from(*known), file.name);
        true
    }

    /// The name of the shop's own file at a path, when it has one there.
    pub fn own(&self, path: &str) -> Option<&str> {
        self.own.get(path).map(String::as_str)
    }

    /// True where a shop put no file of its own in place of one below this folder.
    pub fn are_as_made(&self, folder: &str) -> bool {
        !self.own.keys().any(|path| path.starts_with(folder))
    }

    /// The names of all files that are the shop's own.
    pub fn all_own(&self) -> impl Iterator<Item = &str> {
        self.own.values().map(String::as_str)
    }

    /// Returns the name of a file in messages: its name on disk, or that it is built in.
    pub fn name(&self, path: &str) -> String {
        self.own(path).map_or_else(|| format!("(built in) {path}"), str::to_owned)
    }

    /// The files below a folder under the names that messages use, for messages that show a line of one.
    pub fn source_files(&self, below: &str) -> Vec<SourceFile> {
        let file = |(path, text): (&str, &str)| SourceFile {
            name: self.name(path),
            text: text.to_owned(),
        };
        self.below(below).map(file).collect()
    }

    pub fn text(&self, path: &str) -> Option<&str> {
        self.files.get(path).map(AsRef::as_ref)
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
