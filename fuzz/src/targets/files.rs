//! Files that a person wrote: what was read, edited and read again is the same.

use jiff::civil::Date;
use slableaf::issued::{IssueRecord, sealed};
use slableaf::judge::judge;
use slableaf::judge::spaces::judge_spaces;
use slableaf::model::book::Book;
use slableaf::model::book::changes::PriceScope;
use slableaf::read::book_text::{NewChange, NewStep, settled, with_change};
use slableaf::read::glance::glance;
use slableaf::read::job_text::with_date;
use slableaf::read::{Shared, read_book, read_job};

use super::{BOOK, SHOP, file, refused, systems, without_places};

/// A job's file, by itself and with the book and shop of the examples.
pub fn job(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else { return false };
    let source = file("job.toml", text);
    let seen = glance(text);
    let mut job = match read_job(&source).alone() {
        Ok(job) => job,
        Err(problems) => return refused(&problems, &[&source]),
    };
    let seen = seen.unwrap_or_else(|| panic!("a job that is not seen as one"));
    assert_eq!(seen.number, job.number.0);
    assert_eq!(seen.date, Some(job.date));
    assert_eq!(seen.accepted, job.accepted.is_some());

    let shared = Shared::read(&file("book.toml", BOOK), &file("shop.toml", SHOP), &systems());
    match shared.join(read_job(&source), None) {
        Ok(input) if input.job.spaces.is_empty() => {
            assert_eq!(judge(&input).case.options.len(), input.job.offer.len());
        }
        Ok(input) => {
            let jobs = input.job.of_spaces();
            let judged = judge_spaces(&input, &jobs);
            for (space, job) in judged.spaces.iter().zip(&jobs) {
                assert_eq!(space.case.options.len(), job.offer.len());
            }
            assert_eq!(judged.spaces.len(), input.job.spaces.len());
        }
        Err(problems) => assert!(!refused(&problems, &[&source])),
    }

    // Only the date changes, and putting it back gives the same job.
    let later = Date::constant(2027, 1, 4);
    let text = with_date(text, later).unwrap_or_else(|| panic!("no date to be replaced"));
    let again = read_job(&file("job.toml", &text)).alone();
    let was = std::mem::replace(&mut job.date, later);
    if let Ok(again) = &again {
        assert_eq!(without_places(&format!("{again:?}")), without_places(&format!("{job:?}")));
    } else {
        // Another day may be one that the rest of the file does not allow, but the first was.
        let back = with_date(&text, was).unwrap_or_default();
        assert!(read_job(&file("job.toml", &back)).alone().is_ok(), "{again:?}");
    }
    true
}

/// A book's file, or what stands before and after the line `=== example`, for which that book is put
/// in: a change put in is there, and prices that were settled read as settled.
pub fn book(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else { return false };
    let whole = match text.split_once("=== example") {
        Some((before, after)) if before.ends_with("\r\n") => {
            format!("{before}{}{after}", BOOK.replace('\n', "\r\n"))
        }
        Some((before, after)) => format!("{before}{BOOK}{after}"),
        None => text.to_owned(),
    };
    let text = whole.as_str();
    let source = file("book.toml", text);
    let book = match read_book(&source) {
        Ok(book) => book,
        Err(problems) => return refused(&problems, &[&source]),
    };
    let day = Date::constant(2026, 10, 1);
    let settles = |text: &str, book: &Book| {
        let written = settled(text, book, day).unwrap_or_else(|error| panic!("{error}"));
        let again = read_book(&file("book.toml", &written.text));
        let again = again.unwrap_or_else(|error| panic!("{error:?}\n{}", written.text));
        let mut book = book.clone();
        book.settle(day);
        assert_eq!(shown(&again), shown(&book));
        let twice = settled(&written.text, &again, day).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!((twice.text.as_str(), twice.changes, twice.prices), (&*written.text, 0, 0));
    };
    settles(text, &book);
    let by = NewStep::Percent("+4.5 %".to_owned());
    let change = NewChange { from: day, of: PriceScope::All, by };
    let text = with_change(text, &change).unwrap_or_else(|error| panic!("{error}"));
    // A price may grow past what is accepted.
    if let Ok(more) = read_book(&file("book.toml", &text)) {
        assert_eq!(more.changes.len(), book.changes.len() + 1, "{text}");
        assert_eq!(
            more.changes.last().map(|change| (change.from, &change.of)),
            Some((day, &PriceScope::All))
        );
        settles(&text, &more);
    }
    true
}

/// All that a book says, without places.
fn shown(book: &Book) -> String {
    without_places(&format!("{book:?}"))
}

/// A record that somebody wrote and sealed: it is read or refused with a reason, and what was read is
/// written and read again as the same. True when it is a record.
pub fn record(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else { return false };
    match IssueRecord::read(&sealed(text)) {
        Err(fault) => {
            assert!(!fault.to_string().is_empty());
            false
        }
        Ok(record) => {
            let text = record.text().unwrap_or_else(|error| panic!("{error}"));
            let again = IssueRecord::read(&text).unwrap_or_else(|fault| panic!("{fault}"));
            assert_eq!(again.text().ok(), Some(text));
            assert!(record.leaves().len() >= 2);
            true
        }
    }
}
