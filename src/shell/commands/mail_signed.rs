//! `mail` after a signature: a draft with the signed papers, and with a change order that is still to be signed.

use std::path::Path;

use slableaf::papers::mail::{AttachedEdition, Enclosed, SignedState, signed_letter};
use slableaf::papers::proposal::writer::Writer;
use slableaf::read::Input;

use crate::shell::args::{Mail, Paper};
use crate::shell::commands::mail::Draft;
use crate::shell::store::{
    Agreement, Cache, Issued, JobPapers, OrderBasis, OrderFiles, Records, Signed, job_of_record,
    judge_for_work, since_signed, writer,
};
use crate::shell::terminal::{Error, Exit, Report, Result};

/// The folders of the records, of the copies of papers, and of the draft.
pub struct Folders<'a> {
    pub records: &'a Records,
    pub papers: &'a Path,
    pub out: &'a Path,
}

/// Writes the draft for a job that was accepted.
pub fn mail_signed(
    wanted: &Mail,
    signed: &Signed,
    now: &Input,
    folders: &Folders<'_>,
    shop_file: &str,
    cache: &Cache,
    report: &mut Report,
) -> Result<Exit> {
    let Folders { records, papers, out } = *folders;
    let path = &wanted.files.job;
    let contract = signed.put_out(records, papers, report)?;
    let agreement = Agreement::read(path, &now.job, &signed.accepted, records)?;
    let orders = signed_orders(&agreement, records, papers)?;
    let to_sign = order_to_sign(path, folders, cache, report)?;
    // Whatever cannot be held against it does not keep the signed paper from being sent.
    if let (None, Ok(Some(since))) = (&to_sign, since_signed(path, cache)) {
        since.warn(path, report);
    }
    // The mail says what was agreed as it was then; people, days and money are those of now.
    let last = agreement.order.as_ref().unwrap_or(&agreement.accepted);
    let mut then = job_of_record(last, cache)?;
    let job = &mut then.input.job;
    job.accepted = Some(agreement.agreed.as_accepted(&job.span));
    job.orders.clone_from(&now.job.orders);
    job.customer.email.clone_from(&now.job.customer.email);
    job.customer.second_email.clone_from(&now.job.customer.second_email);
    job.plan.clone_from(&now.job.plan);
    job.choices.clone_from(&now.job.choices);
    job.paid.clone_from(&now.job.paid);
    then.input.shop.email.clone_from(&now.shop.email);
    then.input.shop.phone.clone_from(&now.shop.phone);
    let spaces = then.input.job.of_spaces();
    let judged = judge_for_work(&then.input, &spaces)?;
    let words = &then.layouts.words;
    let floors = judged.accepted_floors().into_iter();
    let floors: Vec<_> = floors.map(|(judged, option)| (writer(judged, words), option)).collect();
    if floors.is_empty() {
        let message = "the job that was signed does not hold the floor that was agreed";
        return Err(Error::new(Exit::Input, message));
    }
    let phone = signed.put_out_for_phone(records, papers)?;
    let mut issued = vec![(AttachedEdition::Signed, &contract)];
    issued.extend(phone.as_ref().map(|phone| (AttachedEdition::Phone, phone)));
    issued.extend(orders.iter().map(|(number, one)| (AttachedEdition::Order(*number), one)));
    let open = to_sign.as_ref().map(|(one, basis)| (one.stored.revision(), one, &basis.order));
    issued.extend(open.map(|(number, one, _)| (AttachedEdition::OrderToSign(number), one)));
    let state = SignedState {
        job: &then.input.job,
        agreed: &agreement.agreed,
        floors: &floors,
        to_sign: open.map(|(number, _, order)| (number, order)),
    };
    let last_order = open.map(|(number, ..)| number).or(agreement.agreed.orders.last().copied());
    let number = &contract.stored.record.number;
    let stem = match last_order {
        Some(order) => format!("{number}-mail-change-order-r{order}"),
        None => format!("{number}-mail-signed-r{}", signed.accepted.revision),
    };
    let job_papers = JobPapers::new(&then, &judged);
    let revision = signed.accepted.revision;
    let draft = Draft { job_papers: &job_papers, issued: &issued, revision };
    let letter = |w: &Writer<'_>, enclosed: &Enclosed<'_>| signed_letter(w, &state, enclosed);
    draft.keep(letter, &stem, out, shop_file, report)
}

/// The signed change orders with their copies, in their order.
fn signed_orders(
    agreement: &Agreement,
    records: &Records,
    papers: &Path,
) -> Result<Vec<(u32, Issued)>> {
    let kind = Paper::ChangeOrder.name();
    let one = |number: &u32| {
        let stored = records.revision(kind, *number)?;
        Ok((*number, Issued::put_out(stored, papers)?.0))
    };
    agreement.agreed.orders.iter().map(one).collect()
}

/// The change order that waits for a signature: one that was written after the last signature, as the job
/// has it today. `None` while none was written, or where nothing differs.
fn order_to_sign(
    path: &Path,
    folders: &Folders<'_>,
    cache: &Cache,
    report: &mut Report,
) -> Result<Option<(Issued, OrderBasis)>> {
    let Folders { records, papers, .. } = *folders;
    let Some(latest) = records.latest(Paper::ChangeOrder.name())? else { return Ok(None) };
    let Some(read) = OrderFiles::read(path, records, cache)? else { return Ok(None) };
    let order = &read.basis.order;
    let is_open = latest.record.facts.order.as_ref().is_some_and(|ordered| {
        ordered.agreed.orders == order.before.orders
            && !order.before.orders.contains(&latest.revision())
    });
    if order.is_empty() || !is_open {
        return Ok(None);
    }
    let (mut loaded, basis) = read.load(cache)?;
    let large_print = latest.record.options.large_print;
    loaded.set_print(large_print);
    let spaces = loaded.input.job.of_spaces();
    let judged = OrderFiles::judge(&loaded.input, &spaces)?;
    let job_papers =
        JobPapers { order: Some(&basis), large_print, ..JobPapers::new(&loaded, &judged) };
    let issued = job_papers.issue(Paper::ChangeOrder, records, papers, report)?;
    Ok(Some((issued, basis)))
}
