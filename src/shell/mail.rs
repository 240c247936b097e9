//! `mail`: a draft for the customer with the proposal attached.

use std::path::{Path, PathBuf};

use slableaf::papers::mail::{self, DraftFault, Enclosed};
use slableaf::read::limits::RECORD_BYTES;

use crate::shell::Exit;
use crate::shell::accepted::signed;
use crate::shell::args::{Mail, Paper};
use crate::shell::desk::Desk;
use crate::shell::files;
use crate::shell::materials::Materials;
use crate::shell::records::{Kept, Records};
use crate::shell::stock::Stock;
use crate::shell::terminal;
use crate::shell::today::warn_of_age;

pub fn mail(mail: &Mail) -> Exit {
    drafted(mail).unwrap_or_else(|exit| exit)
}

/// The proposal that a mail carries.
struct Attached {
    kept: Kept,
    path: PathBuf,
    pdf: Vec<u8>,
}

fn drafted(wanted: &Mail) -> Result<Exit, Exit> {
    let stock = Stock::default();
    let (found, now) = files::load(&wanted.files, &stock)?;
    // Nothing is issued for a mail that cannot be written.
    let sender = now.shop.email.as_deref();
    let fault = match sender.map(slableaf::base::address::address_fault) {
        None => Some(DraftFault::NoSender),
        Some(why) => why.map(DraftFault::Sender),
    };
    let shop_file = found.files.shop.name.clone();
    if let Some(fault) = fault {
        return Err(refused(&fault, &shop_file));
    }
    let papers = found.folder(wanted.papers.as_ref(), "papers", "--papers")?;
    let folder = found.folder(wanted.records.as_ref(), "records", "--records")?;
    let out = wanted.out.as_ref().unwrap_or(&papers);
    files::may_hold_papers(&papers)?;
    if let Some(signed) = signed(&wanted.files.job)? {
        let records = Records::open(folder, &signed.number)?;
        let (kept, path, pdf) = signed.put_out(&records, &papers)?;
        // What was signed is told as it was then, and goes to where the customer is now.
        let mut then = Materials::of_record(&kept, &stock)?;
        then.input.job.customer.email = now.job.customer.email;
        then.input.shop.email = now.shop.email;
        let judged = files::judged(&then.input)?;
        let desk = Desk::of_record(&then, &judged, &kept.record)?;
        return draft(&desk, &Attached { kept, path, pdf }, out, &shop_file);
    }
    let materials = Materials::of(found, now, &stock)?;
    let judged = files::judged(&materials.input)?;
    let desk = Desk::new(&materials, &judged);
    let records = Records::open(folder, &materials.input.job.number.0)?;
    let issued = desk.issue(Paper::Proposal, &records, &papers)?;
    // What is sent bears the date, whether or not it was issued before.
    warn_of_age(&materials.input.job);
    let attached = Attached { kept: issued.kept, path: issued.path, pdf: issued.pdf };
    draft(&desk, &attached, out, &shop_file)
}

fn draft(desk: &Desk<'_>, attached: &Attached, out: &Path, shop_file: &str) -> Result<Exit, Exit> {
    let record = &attached.kept.record;
    let page = desk.proposal_page(Some(record.revision), record.replaces.as_ref())?;
    let name = attached.path.file_name().unwrap_or_default().to_string_lossy();
    let enclosed = Enclosed {
        name: &name,
        pages: record.paper.pages,
        revision: record.revision,
        pdf: &attached.pdf,
    };
    let writer = desk.writer();
    let letter = mail::letter(&writer, &page, &enclosed).map_err(|error| desk.no_words(&error))?;
    let html =
        letter.html(desk.materials.house.layouts()).map_err(|error| desk.no_words(&error))?;
    let draft = mail::draft(&writer, &letter, html, &enclosed)
        .map_err(|fault| refused(&fault, shop_file))?;
    let by_hand = letter.by_hand(&writer, &enclosed).map_err(|error| desk.no_words(&error))?;
    // A draft has the number of its proposal: there is one kind of revision.
    let stem = format!("{}-mail-r{}", record.number, record.revision);
    let eml = out.join(format!("{stem}.eml"));
    keep(&eml, &draft)?;
    match &desk.input().job.customer.email {
        Some(address) => {
            terminal::say(&format!("  opens unsent in a mail program, to {}", address.0))
        }
        None => terminal::say(
            "  opens unsent in a mail program; the job has no `email` under `[customer]`",
        ),
    }
    keep(&out.join(format!("{stem}.txt")), by_hand.as_bytes())?;
    terminal::say(&format!(
        "  the same words, to send by hand with {} attached",
        attached.path.display()
    ));
    Ok(Exit::Fine)
}

/// Keeps a draft. It is no issued paper: a new one takes its place.
fn keep(path: &Path, bytes: &[u8]) -> Result<(), Exit> {
    let before = files::plain(path, RECORD_BYTES).ok();
    if before.as_deref() == Some(bytes) {
        terminal::say(&format!("unchanged: {}", path.display()));
        return Ok(());
    }
    files::keep(path, bytes, true)?;
    let done = if before.is_some() { "wrote anew" } else { "wrote" };
    terminal::say(&format!("{done} {}", path.display()));
    Ok(())
}

fn refused(fault: &DraftFault, shop: &str) -> Exit {
    terminal::error(&fault.to_string());
    match fault {
        DraftFault::NoSender | DraftFault::Sender(_) => {
            terminal::help(&format!("write `email = \"office@your-shop.example\"` in {shop}"));
            Exit::Input
        }
        DraftFault::TooLarge(_) => Exit::Paper,
        DraftFault::Parts(_) => Exit::Bug,
    }
}
