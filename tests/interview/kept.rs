//! Answers that are kept when a conversation breaks off.

use super::{FEWEST, SETTING, TEXT, Visit, WORDS};
use slableaf::interview::{Interview, InterviewKind};

/// Whoever goes on stands where one stopped, and what comes of it is the same file.
#[test]
fn going_on_from_kept_answers_is_as_if_nothing_had_happened() {
    let mut whole = Visit::new(InterviewKind::Job);
    whole.with(FEWEST);
    let mut first = Visit::new(InterviewKind::Job);
    first.until("customer.name");
    first.takes("Ana Quill");
    let stood = first.question();
    let mut second = Interview::new(InterviewKind::Job, &SETTING, &WORDS, &TEXT);
    second.go_on(first.interview.kept());
    let mut second = Visit { interview: second, said: vec![], asked: vec![] };
    assert_eq!(second.question(), stood);
    second.with(&FEWEST[1..]);
    assert_eq!(second.file().text, whole.file().text);
}

/// An answer that no question takes any more is no harm.
#[test]
fn an_answer_that_is_no_answer_any_more_is_asked_again() {
    let mut interview = Interview::new(InterviewKind::Job, &SETTING, &WORDS, &TEXT);
    let kept = [("job.number", "2026-0009"), ("job.units", "cubits"), ("no.question", "x")];
    interview.go_on(kept.map(|(id, answer)| (id.to_owned(), answer.to_owned())).into());
    assert_eq!(interview.ask().unwrap().unwrap().id, "job.units");
}
