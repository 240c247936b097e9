//! `new visit-sheet`: one page of blanks for the first visit, to print. There is no job yet, so nothing is recorded.

use std::path::{Path, PathBuf};

use slableaf::base::source::SourceFile;
use slableaf::interview::neutral;
use slableaf::model::shop::Shop;
use slableaf::papers::visit_sheet::visit_sheet;
use slableaf::read::{Files, read_shop};
use slableaf::typeset::{Manuscript, PaperKind};

use crate::shell::args::VisitSheet;
use crate::shell::commands::new::surroundings::nearest_shared;
use crate::shell::store::{
    Cache, LoadedFiles, Saved, folder_of, read_text, today, typeset, understood, write_new_file,
};
use crate::shell::terminal::{Error, Exit, Report, Result, counted, shown};

/// The name of the file where none is given.
const NAME: &str = "visit-sheet.pdf";

pub fn write(wanted: &VisitSheet, report: &mut Report) -> Result<Exit> {
    let path = chosen_path(wanted.out.as_deref())?;
    if path.symlink_metadata().is_ok() {
        return Err(there_already(&path));
    }
    let found = wanted.shop.clone().or_else(|| nearest_shared(Path::new(""), "shop"));
    let (file, shop) = shop_of(found.as_deref())?;
    let folder = found.as_deref().map_or_else(|| PathBuf::from("."), folder_of);
    let cache = Cache::default();
    let language = wanted.language.as_ref().unwrap_or(&shop.language);
    known(language)?;
    let layouts = cache.layouts(&folder, language)?;
    let page = visit_sheet(&layouts.words, &shop);
    let page = page.map_err(|error| Error::words(&error, layouts.layouts()))?;
    let manuscript = Manuscript {
        kind: PaperKind::VisitSheet,
        page: &page,
        pictures: vec![],
        date: today(),
        identity: format!("visit sheet {language} {}", shop.name),
        drawn: None,
    };
    let document = typeset(manuscript, &layouts, &only(file, folder), None)?;
    match write_new_file(&path, &document.pdf)? {
        Saved::Exists => return Err(there_already(&path)),
        Saved::Written => {
            report.say(format!("wrote {} ({})", shown(&path), counted(document.pages, "page")));
        }
    }
    if found.is_none() {
        report
            .say("  there is no shop file here or above, so it bears no name: `slableaf new shop`");
    }
    report.say("  print it for the visit; then `slableaf new` asks in the same order");
    Ok(Exit::Fine)
}

/// The place of the sheet: a folder gets a file of the usual name.
fn chosen_path(given: Option<&Path>) -> Result<PathBuf> {
    let Some(given) = given else { return Ok(PathBuf::from(NAME)) };
    match given.extension().and_then(|end| end.to_str()) {
        _ if given.is_dir() => Ok(given.join(NAME)),
        Some(end) if end.eq_ignore_ascii_case("pdf") => Ok(given.to_owned()),
        None => Ok(given.join(NAME)),
        Some(_) => {
            let message = format!("`{}` is no name for a PDF", shown(given));
            let better = shown(&given.with_extension("pdf"));
            Err(Error::new(Exit::Line, message).help(format!("write `--out {better}`")))
        }
    }
}

fn there_already(path: &Path) -> Error {
    let message = format!("{} is there already; nothing was written", shown(path));
    Error::new(Exit::Files, message)
        .help("print that one, or name another: `slableaf new visit-sheet --out FILE.pdf`")
}

/// Refuses a language that there are no words in.
fn known(language: &str) -> Result<()> {
    let languages = slableaf::base::layouts::Layouts::default().languages();
    if languages.iter().any(|one| one == language) {
        return Ok(());
    }
    let message = format!("there are no words in the language `{language}`");
    Err(Error::new(Exit::Line, message).help(format!("write one of: {}", languages.join(", "))))
}

/// The shop file with what it says; without one the neutral shop, which bears no name.
fn shop_of(path: Option<&Path>) -> Result<(SourceFile, Shop)> {
    let file = match path {
        Some(path) => read_text(path)?.0,
        None => neutral().1,
    };
    let (file, mut shop) = understood(file, read_shop)?;
    if path.is_none() {
        shop.name.clear();
    }
    Ok((file, shop))
}

/// The files of a sheet, for messages: that of the shop alone.
fn only(shop: SourceFile, shop_folder: PathBuf) -> LoadedFiles {
    let none = || SourceFile { name: String::new(), text: String::new() };
    LoadedFiles {
        files: Files { job: none(), book: none(), shop, systems: vec![] },
        job_folder: shop_folder.clone(),
        shop_folder,
        bytes: vec![],
        on_disk: vec![],
    }
}
