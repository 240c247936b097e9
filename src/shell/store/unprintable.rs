//! Texts of a job that no font at hand can print, told as soon as its files are read.

use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::read::Input;
use slableaf::typeset::printable::unprintable;

use crate::shell::store::{LoadedFiles, ShopLayouts};
use crate::shell::terminal::{Error, Report, Result, place};

/// Texts that papers have a stand-in for, with the files that they stand in.
#[derive(Debug, Default)]
pub struct Unprinted {
    texts: Vec<Diagnostic>,
    files: Vec<SourceFile>,
}

impl Unprinted {
    /// Finds what the faces of a shop cannot print, and settles in which letters papers have the customer's
    /// name.
    ///
    /// # Errors
    /// Every name and address that cannot be printed.
    pub fn settle(files: &LoadedFiles, input: &mut Input, layouts: &ShopLayouts) -> Result<Self> {
        let faces = layouts.faces();
        let customer = &mut input.job.customer;
        customer.name_prints = faces.uncovered(&customer.name).is_none();
        let (own, words) = (layouts.own_words(), &layouts.words.figures.stand_in);
        let has_latin = customer.latin.is_some();
        let found = unprintable(&files.files, &own, faces, has_latin, words);
        let all = [files.all(), own].concat();
        if found.names.is_empty() {
            Ok(Self { texts: found.others, files: all })
        } else {
            Err(Error::problems(found.names, all))
        }
    }

    /// Warns of each text, with its file and line.
    pub fn warn(&self, report: &mut Report) {
        for text in &self.texts {
            let message = format!("{}{}", place(text, &self.files), text.message);
            report.warn(&message, &text.help.join("; "));
        }
    }
}
