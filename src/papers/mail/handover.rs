//! The mail that a handover goes with: from when the floor may be used, what differs from what was signed, what is
//! left to pay and to do, care in short, and what to do if a spot lifts. It says what the handover says.

use minijinja::context;

use crate::model::job::Job;
use crate::papers::after::Handover;
use crate::papers::mail::{Enclosed, Letter, LetterPart, Point, attached, plain};
use crate::papers::proposal::page::Fact;
use crate::papers::proposal::writer::Writer;
use crate::say::words::WordsError;

/// Puts the mail of a handover into words; `job` is the whole job.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn handover_letter(
    w: &Writer<'_>,
    job: &Job,
    page: &Handover,
    enclosed: &Enclosed<'_>,
) -> Result<Letter, WordsError> {
    let about = context! {
        number => job.number.0.as_str(),
        shop => w.case.shop.name.as_str(),
        spaces => job.has_spaces(),
    };
    w.checked(Letter {
        subject: w.say_with("mail.handover.subject", about.clone()),
        opening: w.say_with("mail.handover.opening", about),
        headline: page.message.lead.clone(),
        reason: page.message.says.clone(),
        parts: parts(w, page, enclosed),
        ..Letter::with(w, page.frame.clone(), answers(w, page))
    })
}

/// The times of use, with the name of the floor where there are several.
fn answers(w: &Writer<'_>, page: &Handover) -> Vec<Fact> {
    let several = page.floors.len() > 1;
    let of_floor = page.floors.iter().flat_map(|floor| {
        floor.times.iter().map(move |time| {
            let what = time.what.clone();
            let title = if several { floor.title.clone() } else { String::new() };
            let facts = [("what", what), ("floor", title)];
            let label = w.say("mail.handover.time", facts);
            Fact { label, value: time.from.clone(), note: String::new() }
        })
    });
    of_floor.collect()
}

fn parts(w: &Writer<'_>, page: &Handover, enclosed: &Enclosed<'_>) -> Vec<LetterPart> {
    let part = |name: &str, points: Vec<Point>, says: &[&String]| {
        let head = page.frame.labels.pointer(&format!("/handover/{name}"));
        let head = head.and_then(serde_json::Value::as_str).unwrap_or_default().to_owned();
        let said = says.iter().filter(|text| !text.is_empty());
        let paragraphs = said.map(|text| (*text).clone()).collect();
        LetterPart { head, points, paragraphs, ..LetterPart::default() }
    };
    let money = page.money.iter().map(|line| {
        let label = w.say("mail.signed.step", [("when", line.label.as_str())]);
        Point::led(label, line.amount.clone())
    });
    let next = w.lines("mail.handover.next", &context! { call => w.contact() });
    let mut parts = vec![
        part("differs", plain(&page.differs), &[&page.as_agreed]),
        part("left", plain(&page.left), &[]),
        part("money", money.collect(), &[&page.money_note]),
        LetterPart { numbered: true, ..super::part(w, "mail.heads.next", plain(&next), vec![]) },
        part("care", plain(&page.care), &[&page.care_note]),
        part("renew", plain(&page.renew), &[]),
        LetterPart { numbered: true, ..part("lifts", plain(&page.lifts), &[]) },
        part("hurt", plain(&page.always), &[]),
        super::part(w, "mail.heads.attached", attached(w, enclosed), vec![]),
    ];
    parts.retain(LetterPart::says_something);
    parts
}
