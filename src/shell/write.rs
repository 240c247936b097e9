//! `write`: the customer's papers, issued once and never overwritten.

use std::path::Path;

use slableaf::job::Print;
use slableaf::typeset::{Document, Kind, PagesWanted};

use crate::shell::Exit;
use crate::shell::args::{Paper, Write};
use crate::shell::desk::{Desk, Made};
use crate::shell::files::Kept;
use crate::shell::prepare::chosen;
use crate::shell::{files, layouts, terminal};

pub fn write(write: &Write) -> Exit {
    written(write).unwrap_or_else(|exit| exit)
}

fn written(write: &Write) -> Result<Exit, Exit> {
    let papers = papers(write)?;
    let (found, mut input) = files::load(&write.files)?;
    if write.large_print {
        input.job.print = Print::Large;
    }
    let judged = files::judged(&input)?;
    // A floor that cannot be cared for is refused before anything is written.
    let laid = match papers.contains(&Paper::Care) {
        true => Some(chosen(&judged, write.floor.as_deref())?),
        false => None,
    };
    let pictures = files::pictures(&found, &input)?;
    let (layouts, words) = layouts::with_words(&found, input.customers_language())?;
    let out = write.out.clone().unwrap_or_else(|| found.beside("papers"));
    let desk = Desk {
        input: &input,
        judged: &judged,
        words: &words,
        layouts: &layouts,
        pictures: &pictures,
        drawn: write.png.map(|pages| PagesWanted { first: pages.first, last: pages.last }),
        laid,
        prices: write.with_prices,
    };
    for paper in papers {
        if write.draft {
            let made = desk.made(paper, None)?;
            let path = out.join(format!("{}-draft.pdf", desk.name(paper)));
            files::keep(&path, &made.1.pdf, true)?;
            desk.report(paper, &path, &made.1);
            beside(write, &path, &made)?;
        } else {
            let issued = desk.issue(paper, &out)?;
            beside(write, &issued.path, &issued.made)?;
        }
    }
    Ok(Exit::Fine)
}

/// The papers that were asked for, each once; what is asked of them has to be of use to one.
fn papers(write: &Write) -> Result<Vec<Paper>, Exit> {
    let mut papers = vec![];
    for paper in &write.papers {
        if !papers.contains(paper) {
            papers.push(*paper);
        }
    }
    let of_no_use = |option: &str, paper: &str| {
        terminal::error(&format!("`{option}` is for the {paper} alone, which is not asked for"));
        Exit::Input
    };
    if write.with_prices && !papers.contains(&Paper::Leaflet) {
        let exit = of_no_use("--with-prices", "leaflet");
        terminal::help("add `--paper leaflet`; the proposal always has its prices");
        return Err(exit);
    }
    if write.floor.is_some() && !papers.contains(&Paper::Care) {
        let exit = of_no_use("--floor", "care sheet");
        terminal::help("add `--paper care`; the other papers hold every floor on offer");
        return Err(exit);
    }
    Ok(papers)
}

impl Paper {
    /// As it stands in file names.
    pub fn name(self) -> &'static str {
        match self {
            Self::Proposal => "proposal",
            Self::Leaflet => "leaflet",
            Self::Care => "care",
        }
    }

    pub fn kind(self) -> Kind {
        match self {
            Self::Proposal => Kind::Proposal,
            Self::Leaflet => Kind::Leaflet,
            Self::Care => Kind::CareSheet,
        }
    }
}

/// Keeps what was asked for beside a paper.
fn beside(write: &Write, pdf: &Path, (page, document): &Made) -> Result<(), Exit> {
    page_pictures(pdf, document, write.draft)?;
    if write.page_data {
        files::keep(&pdf.with_extension("page.json"), page.as_bytes(), true)?;
    }
    Ok(())
}

/// Keeps pages as pictures beside their PDF. They are drawn from it, so that an issued paper has
/// the same ones every time.
fn page_pictures(pdf: &Path, document: &Document, overwrite: bool) -> Result<(), Exit> {
    for (number, png) in &document.pictures {
        let path = pdf.with_extension(format!("page-{number:02}.png"));
        match files::keep(&path, png, overwrite)? {
            Kept::Written => println!("wrote {}", path.display()),
            Kept::Exists => println!("there already: {}", path.display()),
        }
    }
    Ok(())
}
