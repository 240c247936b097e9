//! `write`: the customer's papers, issued once and never overwritten.

use std::path::{Path, PathBuf};

use slableaf::typeset::{Document, PagesWanted, PaperKind};

use crate::shell::Exit;
use crate::shell::accepted::{Signed, signed};
use crate::shell::args::{JobFiles, Pages, Paper, Write};
use crate::shell::batch::Done;
use crate::shell::desk::{Desk, Made};
use crate::shell::files::Kept;
use crate::shell::materials::Materials;
use crate::shell::prepare::chosen;
use crate::shell::records::Records;
use crate::shell::stock::Stock;
use crate::shell::today::warn_of_age;
use crate::shell::{batch, files, terminal, verify, watch};

pub fn write(write: &Write) -> Exit {
    written(write).unwrap_or_else(|exit| exit)
}

fn written(write: &Write) -> Result<Exit, Exit> {
    let papers = papers(write)?;
    pages_apart(write)?;
    if write.watch {
        return watch::watch(write, &papers);
    }
    let stock = Stock::default();
    if let Some(job) = batch::single(&write.jobs) {
        return write_one(write, job, &papers, &stock).map(|_| Exit::Fine);
    }
    let one_folder = write.out.is_some() || write.records.is_some();
    let work = |job: &Path| write_one(write, job, &papers, &stock);
    Ok(batch::each_job(&batch::listed(&write.jobs)?, write.jobs.hands(), one_folder, work))
}

/// Refuses pages that were typed apart from their option, where they look like a job.
fn pages_apart(write: &Write) -> Result<(), Exit> {
    let is_pages = |path: &&PathBuf| {
        !path.exists() && path.to_str().is_some_and(|text| text.parse::<Pages>().is_ok())
    };
    let apart = write.jobs.paths.iter().find(is_pages);
    let Some(apart) = apart.filter(|_| write.png.is_some()) else { return Ok(()) };
    let apart = apart.display();
    terminal::error(&format!("`{apart}` is no job"));
    terminal::help(&format!("for pages, write `--png={apart}`"));
    Err(Exit::Line)
}

/// Writes the papers of one job.
fn write_one(write: &Write, job: &Path, papers: &[Paper], stock: &Stock) -> Result<Done, Exit> {
    let mut papers = papers.to_vec();
    let job_folder = files::folder_of(job);
    let records = files::own_folder(&job_folder, write.records.as_ref(), "records", "--records")?;
    let out = out(write, &job_folder)?;
    if !write.draft
        && papers.contains(&Paper::Proposal)
        && let Some(signed) = signed(job)?
    {
        let records = Records::open(records.clone(), &signed.number)?;
        write_signed(write, &signed, &records, &out, stock)?;
        papers.retain(|paper| *paper != Paper::Proposal);
        if papers.is_empty() {
            return Ok(Done::Unchanged);
        }
    }
    at_desk(write, job, &papers, stock, |desk| {
        if write.draft {
            draft(write, desk, &papers, &out)?;
            warn_of_age(&desk.input().job);
            return Ok(Done::Written);
        }
        let records = Records::open(records, &desk.input().job.number.0)?;
        let mut done = Done::Unchanged;
        for paper in &papers {
            let issued = desk.issue(*paper, &records, &out)?;
            if issued.is_new {
                done = Done::Written;
            }
            if write.page_data || write.png.is_some() {
                let record = &issued.kept.record;
                let made = match issued.made {
                    Some(made) => made,
                    None => desk.made(*paper, Some(record.revision), record.replaces.as_ref())?,
                };
                beside(write, &issued.path, &made)?;
            }
        }
        if done == Done::Written {
            warn_of_age(&desk.input().job);
        }
        Ok(done)
    })
}

/// The folder for the papers of a job.
pub fn out(write: &Write, job_folder: &Path) -> Result<PathBuf, Exit> {
    let out = files::own_folder(job_folder, write.out.as_ref(), "papers", "--out")?;
    files::may_hold_papers(&out)?;
    Ok(out)
}

/// Reads a job and all that belongs to it, and works at the desk where its papers are made.
pub fn at_desk<T>(
    write: &Write,
    job: &Path,
    papers: &[Paper],
    stock: &Stock,
    work: impl FnOnce(&Desk<'_>) -> Result<T, Exit>,
) -> Result<T, Exit> {
    let files = JobFiles { job: job.to_owned(), near: write.near.clone() };
    let (found, input) = files::load(&files, stock)?;
    // A floor that cannot be cared for is refused before anything is written.
    let care = papers.contains(&Paper::Care);
    if care {
        chosen(&files::judged(&input)?, write.floor.as_deref())?;
    }
    let mut materials = Materials::of(found, input, stock)?;
    materials.set_print(write.large_print);
    let judged = files::judged(&materials.input)?;
    let mut desk = Desk::new(&materials, &judged);
    desk.laid = if care { Some(chosen(&judged, write.floor.as_deref())?) } else { None };
    desk.drawn = drawn(write);
    desk.prices = write.with_prices;
    desk.large_print = write.large_print;
    work(&desk)
}

/// Writes drafts over those that are there.
pub fn draft(write: &Write, desk: &Desk<'_>, papers: &[Paper], out: &Path) -> Result<(), Exit> {
    for paper in papers {
        let made = desk.made(*paper, None, None)?;
        let path = out.join(format!("{}-draft.pdf", desk.name(*paper)));
        files::keep(&path, &made.1.pdf, true)?;
        desk.report(*paper, &path, made.1.pages);
        beside(write, &path, &made)?;
    }
    Ok(())
}

/// Puts out the proposal that was signed, and what was asked for beside it.
fn write_signed(
    write: &Write,
    signed: &Signed,
    records: &Records,
    out: &Path,
    stock: &Stock,
) -> Result<(), Exit> {
    let (kept, path, pdf) = signed.put_out(records, out)?;
    if write.large_print && !kept.record.options.large_print {
        terminal::say("  `--large-print` changes nothing on it; `--draft` sets a copy to read");
    }
    if write.page_data || write.png.is_some() {
        let made = verify::made_again(&kept, stock, drawn(write))?;
        if made.1.pdf != pdf {
            terminal::error("this program would not print the accepted paper the same today");
            terminal::help(
                "so it makes no page data or pictures of it; `slableaf verify` says more",
            );
            return Err(Exit::Paper);
        }
        beside(write, &path, &made)?;
    }
    Ok(())
}

fn drawn(write: &Write) -> Option<PagesWanted> {
    write.png.map(|pages| PagesWanted { first: pages.first, last: pages.last })
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
        Exit::Line
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
    pub const ALL: [Self; 3] = [Self::Proposal, Self::Leaflet, Self::Care];

    /// As it stands in file names.
    pub fn name(self) -> &'static str {
        match self {
            Self::Proposal => "proposal",
            Self::Leaflet => "leaflet",
            Self::Care => "care",
        }
    }

    pub fn kind(self) -> PaperKind {
        match self {
            Self::Proposal => PaperKind::Proposal,
            Self::Leaflet => PaperKind::Leaflet,
            Self::Care => PaperKind::CareSheet,
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
            Kept::Written => terminal::say(&format!("wrote {}", path.display())),
            Kept::Exists => terminal::say(&format!("there already: {}", path.display())),
        }
    }
    Ok(())
}
