//! `done`, help and answers in quotes.

use super::{FULL, TODAY, Visit};
use slableaf::base::quantity::Mass;
use slableaf::interview::{InterviewKind, Reply};

#[test]
fn done_asks_only_what_is_still_needed() {
    let mut visit = Visit::new(InterviewKind::Job);
    let Reply::StillNeeded(needed) = visit.interview.answer("done").unwrap() else { panic!() };
    assert_eq!(
        needed,
        [
            "The customer: Who is the customer?",
            "The floor, as measured, area 1: How long is it?",
            "The floor, as measured, area 1: How wide is it?",
            "The slab: Does the slab lie on the ground?",
            "The garage: Does daylight reach the floor?",
            "The garage: Do you sell at the customer’s home?",
            "What you offer: Which floors do you offer?",
        ]
    );
    assert!(!visit.interview.is_enough().unwrap());
    for line in ["Ana Quill", "22 ft", "21 ft", "yes", "yes", "no", "barrier"] {
        visit.takes(line);
    }
    assert_eq!(visit.interview.ask().unwrap(), None);
    assert!(visit.interview.is_enough().unwrap());
    let job = visit.job();
    assert_eq!((job.number.0.as_str(), job.date), ("2026-0001", TODAY));
    assert!(job.slab.coating.is_none());
    // Nobody was asked about water, so nothing is said about it.
    assert!(!visit.file().text.contains("wet"), "{}", visit.file().text);
}

#[test]
fn done_writes_what_is_there_when_it_is_enough() {
    let mut visit = Visit::new(InterviewKind::Job);
    for (id, line) in FULL {
        while visit.question().id != *id {
            visit.takes("");
        }
        visit.takes(line);
        if *id == "job.offer" {
            break;
        }
    }
    assert_eq!(visit.interview.answer("Done").unwrap(), Reply::Finished);
    assert_eq!(visit.interview.ask().unwrap(), None);
    let job = visit.job();
    assert!(job.wishes.is_empty() && job.photos.is_empty());
    let dishes = job.moisture.dish_tests().next().unwrap();
    assert_eq!(dishes.dishes[1].before, Mass::grams(219.1));
}

/// A dish that was begun is not lost, and not half written.
#[test]
fn done_in_the_middle_of_a_dish_asks_for_the_rest_of_it() {
    let mut visit = Visit::new(InterviewKind::Job);
    for (id, line) in FULL {
        while visit.question().id != *id {
            visit.takes("");
        }
        visit.takes(line);
        if *id == "dish.before 1" {
            break;
        }
    }
    let Reply::StillNeeded(needed) = visit.interview.answer("done").unwrap() else { panic!() };
    let of_dish = |sentence: &str| format!("Moisture tests, dish 1: {sentence}");
    let rest = ["And after?", "When was it set?", "When was it lifted?"];
    assert_eq!(needed[..3], rest.map(of_dish));
    // Right behind `done` one comes back to where one stopped, then to the question before.
    for id in ["dish.after 1", "dish.before 1"] {
        assert_eq!(visit.interview.back(), Reply::Back);
        assert_eq!(visit.question().id, id);
    }
    visit.takes("");
    visit.takes("222.4 g");
    assert_eq!(visit.question().id, "dish.set 1");
}

/// A person who stops early and goes back is asked the same question, and not what was left out.
#[test]
fn going_back_after_done_asks_no_more_than_done_does() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.interview.answer("done").unwrap();
    for line in ["Ana Quill", "22 ft"] {
        visit.takes(line);
    }
    assert_eq!(visit.question().id, "area.width 1");
    assert_eq!(visit.interview.answer("back").unwrap(), Reply::Back);
    assert_eq!(visit.question().id, "area.length 1");
    visit.takes("23 ft");
    assert_eq!(visit.question().id, "area.width 1");
    for line in ["21 ft", "yes", "yes", "no", "barrier"] {
        visit.takes(line);
    }
    assert_eq!(visit.interview.ask().unwrap(), None);
    assert!(visit.file().text.contains("length = \"23 ft\""));
}

/// Going back loses nothing, also for who then stops.
#[test]
fn done_keeps_what_one_has_gone_back_to() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(FULL);
    let text = visit.file().text;
    for _ in 0..12 {
        assert_eq!(visit.interview.answer("back").unwrap(), Reply::Back);
    }
    assert_ne!(visit.file().text, text);
    assert!(visit.interview.is_enough().unwrap());
    assert_eq!(visit.interview.answer("done").unwrap(), Reply::Finished);
    assert_eq!(visit.file().text, text);
}

#[test]
fn help_tells_more_and_takes_nothing() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.until("customer.name");
    visit.takes("Ana");
    for id in ["area.length 1", "area.width 1"] {
        visit.until(id);
        visit.takes("20 ft");
    }
    visit.until("slab.tile-glue");
    let Reply::Help(lines) = visit.interview.answer("?").unwrap() else { panic!() };
    assert!(lines.iter().any(|line| line.contains("asbestos")), "{lines:?}");
    assert!(lines.iter().any(|line| line.contains("`back`")), "{lines:?}");
    assert_eq!(visit.question().id, "slab.tile-glue");
}

#[test]
fn a_word_of_the_conversation_can_be_an_answer_in_quotes() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.until("customer.name");
    visit.takes("\"Done\"");
    let text = visit.file().text;
    assert!(text.contains("name = \"Done\""), "{text}");
}
