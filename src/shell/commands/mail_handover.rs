//! `mail` after the work: a draft with the handover.

use slableaf::papers::mail::{AttachedEdition, Enclosed, handover_letter};
use slableaf::papers::proposal::writer::Writer;
use slableaf::read::Input;

use crate::shell::args::{Mail, Paper};
use crate::shell::commands::mail::{Draft, phone_edition};
use crate::shell::commands::mail_signed::Folders;
use crate::shell::store::{AfterFiles, Cache, JobPapers, judge_any, since_signed};
use crate::shell::terminal::{Exit, Report, Result};

/// Writes the draft for a job whose handover was written. `None` while none was, or where the job has none.
pub fn mail_handover(
    wanted: &Mail,
    now: &Input,
    folders: &Folders<'_>,
    shop_file: &str,
    cache: &Cache,
    report: &mut Report,
) -> Result<Option<Exit>> {
    let Folders { records, papers, out } = *folders;
    let path = &wanted.files.job;
    let latest = records.latest(Paper::Handover.name())?;
    let Some(latest) = latest.filter(|_| now.job.handover.is_some()) else { return Ok(None) };
    let read = AfterFiles::read(path, Paper::Handover, records, cache)?;
    let (mut loaded, agreed) = read.load(cache)?;
    let large_print = latest.record.options.large_print;
    loaded.set_print(large_print);
    loaded.unprinted.warn(report);
    if let Ok(Some(since)) = since_signed(path, cache) {
        since.warn(path, report);
    }
    let (printed, phone) = {
        let spaces = loaded.input.job.of_spaces();
        let judged = judge_any(&loaded.input, &spaces)?;
        let agreed = Some(&agreed);
        let job_papers = JobPapers { agreed, large_print, ..JobPapers::new(&loaded, &judged) };
        let printed = job_papers.issue(Paper::Handover, records, papers, report)?;
        let phone =
            phone_edition(wanted, Paper::Handover, &job_papers, &printed, records, papers, report)?;
        (printed, phone)
    };
    // The paper is by the shop file of the signature; the mail is sent by the shop of today.
    loaded.input.shop.email.clone_from(&now.shop.email);
    loaded.input.shop.phone.clone_from(&now.shop.phone);
    let spaces = loaded.input.job.of_spaces();
    let judged = judge_any(&loaded.input, &spaces)?;
    let job_papers = JobPapers { agreed: Some(&agreed), ..JobPapers::new(&loaded, &judged) };
    let record = &printed.stored.record;
    let page = job_papers.handover_page(Some(record.revision), record.replaces.as_ref())?;
    let mut issued = vec![(AttachedEdition::Handover, &printed)];
    issued.extend(phone.as_ref().map(|phone| (AttachedEdition::Phone, phone)));
    let draft = Draft { job_papers: &job_papers, issued: &issued, revision: record.revision };
    let job = &job_papers.job.input.job;
    let letter = |w: &Writer<'_>, enclosed: &Enclosed<'_>| handover_letter(w, job, &page, enclosed);
    let stem = format!("{}-mail-handover-r{}", record.number, record.revision);
    draft.keep(letter, &stem, out, shop_file, report).map(Some)
}
