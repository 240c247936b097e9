//! `mail`: a draft for the customer with the proposal attached.

use std::path::Path;

use slableaf::mail::{self, Enclosed, Fault};
use slableaf::proposal::writer::Writer;

use crate::shell::Exit;
use crate::shell::args::Mail;
use crate::shell::desk::Desk;
use crate::shell::{files, layouts, terminal};

pub fn mail(mail: &Mail) -> Exit {
    drafted(mail).unwrap_or_else(|exit| exit)
}

fn drafted(wanted: &Mail) -> Result<Exit, Exit> {
    let (found, input) = files::load(&wanted.files)?;
    // Nothing is issued for a mail that cannot be written.
    let sender = input.shop.email.as_deref();
    let fault = match sender.map(slableaf::input::address::address_fault) {
        None => Some(Fault::NoSender),
        Some(why) => why.map(Fault::Sender),
    };
    if let Some(fault) = fault {
        return Err(refused(&fault, &found.files.shop.name));
    }
    let judged = files::judged(&input)?;
    let pictures = files::pictures(&found, &input)?;
    let (layouts, words) = layouts::with_words(&found, input.customers_language())?;
    let papers = wanted.papers.clone().unwrap_or_else(|| found.beside("papers"));
    let out = wanted.out.as_ref().unwrap_or(&papers);
    let desk = Desk {
        input: &input,
        judged: &judged,
        words: &words,
        layouts: &layouts,
        pictures: &pictures,
        drawn: None,
        laid: None,
        prices: false,
    };
    let issued = desk.issue_proposal(&papers)?;
    let (page, document) = &issued.made;
    let name = issued.path.file_name().unwrap_or_default().to_string_lossy();
    let enclosed = Enclosed {
        name: &name,
        pages: document.pages,
        revision: issued.revision,
        pdf: &document.pdf,
    };
    let writer = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
    let no_words = |error| terminal::words(&error, &layouts);
    let letter = mail::letter(&writer, page, &enclosed).map_err(no_words)?;
    let html = letter.html(&layouts).map_err(no_words)?;
    let draft = mail::draft(&writer, &letter, html, &enclosed)
        .map_err(|fault| refused(&fault, &found.files.shop.name))?;
    let by_hand = letter.by_hand(&writer, &enclosed).map_err(no_words)?;
    // A draft has the number of its proposal: there is one kind of revision.
    let stem = format!("{}-mail-r{}", input.job.number.0, issued.revision);
    let eml = out.join(format!("{stem}.eml"));
    keep(&eml, &draft)?;
    match &input.job.customer.email {
        Some(address) => println!("  opens unsent in a mail program, to {}", address.0),
        None => {
            println!("  opens unsent in a mail program; the job has no `email` under `[customer]`")
        }
    }
    keep(&out.join(format!("{stem}.txt")), by_hand.as_bytes())?;
    println!("  the same words, to send by hand with {} attached", issued.path.display());
    Ok(Exit::Fine)
}

/// Keeps a draft. It is no issued paper: a new one takes its place.
fn keep(path: &Path, bytes: &[u8]) -> Result<(), Exit> {
    let before = std::fs::read(path).ok();
    if before.as_deref() == Some(bytes) {
        println!("unchanged: {}", path.display());
        return Ok(());
    }
    files::keep(path, bytes, true)?;
    let done = if before.is_some() { "wrote anew" } else { "wrote" };
    println!("{done} {}", path.display());
    Ok(())
}

fn refused(fault: &Fault, shop: &str) -> Exit {
    terminal::error(&fault.to_string());
    match fault {
        Fault::NoSender | Fault::Sender(_) => {
            terminal::help(&format!("write `email = \"office@your-shop.example\"` in {shop}"));
            Exit::Input
        }
        Fault::Parts(_) => Exit::Ours,
    }
}
