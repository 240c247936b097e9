//! One answer at a time: what is refused, and going back.

use super::{FEWEST, FULL, Visit};
use slableaf::interview::{InterviewKind, Reply};

#[test]
fn a_wrong_answer_is_refused_in_the_words_of_the_reader_and_asked_again() {
    let mut visit = Visit::new(InterviewKind::Job);
    let cases: &[(&str, &str, &str, &str)] = &[
        ("job.number", "a/b", "`number` is not a job number: `a/b`", "letters, digits and hyphens"),
        (
            "job.units",
            "metrc",
            "`metrc` is none of these; type 1, 2 or a word",
            "did you mean `metric`?",
        ),
        ("job.date", "12.5.2026", "That is no date; type it as 2026-", ""),
        ("customer.name", "", "`name` needs an answer", "`back`"),
        (
            "customer.name",
            "Ana\u{202e}",
            "`name` holds a character that changes the direction of text (U+202E)",
            "take it out",
        ),
        (
            "customer.name",
            "Ana\u{1b}[2J",
            "`name` holds a control character (U+001B)",
            "take it out",
        ),
        ("customer.email", "ana", "`email` has no `@`: `ana`", "write a mail address"),
        ("house.built", "94", "`built` is 94", "write a year"),
        ("house.built", "old", "That is no whole number; type it as 1994", ""),
        (
            "area.length 1",
            "22,5 m",
            "`length` has a comma where a decimal point belongs",
            "write `22.5 m`",
        ),
        ("slab.on-ground", "maybe", "`maybe` is neither yes nor no; type yes or no", ""),
        (
            "slab.thickness",
            "4 psi",
            "`thickness` has the unit `psi`, which does not fit here",
            "expected a length",
        ),
        ("slab.thickness", "0 in", "`thickness` is zero", "above zero"),
        ("slab.poured", "1066", "`poured-year` is 1066", "write a year"),
        ("slab.poured", "long ago", "That is neither a year nor a date; type it as 1994 or", ""),
        (
            "slab.water-drop",
            "baeds",
            "`baeds` is none of these; type 1, 2 or",
            "did you mean `beads`?",
        ),
        ("slab.surface-strength", "3 ft", "`surface-strength` has the unit `ft`", "a strength"),
    ];
    for (id, line, message, advice) in cases {
        while visit.question().id != *id {
            let answer = match visit.question().id.as_str() {
                "customer.name" => "Ana",
                "area.length 1" => "22 ft",
                "area.width 1" => "20 ft",
                _ => "",
            };
            visit.takes(answer);
        }
        let (said, help) = visit.refuses(line);
        assert!(said.starts_with(message), "{id}, `{line}`: {said}");
        let helped = advice.is_empty() || help.iter().any(|help| help.contains(advice));
        assert!(helped, "{id}, `{line}`: {help:?}");
        let typed_quotes = help.iter().any(|help| help.contains("`\"") || help.contains("quotes"));
        assert!(!typed_quotes, "nobody types quotes: {help:?}");
    }
    let no_date = "That is no date with a time; type it as 2026-05-08 08:05";
    visit.talk(&[
        ("moisture.method", "dishes", ""),
        ("dish.place 1", "middle", ""),
        ("dish.at 1", "40 ft, 2 ft", "`at` lies beside the floor"),
        ("dish.at 1", "4 ft, 18 ft", ""),
        ("dish.surface 1", "painted", ""),
        ("dish.exposed 1", "65.7 in2", ""),
        ("dish.before 1", "218.4 g", ""),
        ("dish.after 1", "218.3 g", "`after` is less than `before`"),
        ("dish.after 1", "222.4 g", ""),
        ("dish.set 1", "2026-05-05 9:10", ""),
        ("dish.lifted 1", "2026-05-05 9:10", "`lifted` is not after `set`"),
        ("dish.lifted 1", "2026-02-30 9:10", no_date),
        ("dish.lifted 1", "2026-05-08 8:00", ""),
    ]);
}

#[test]
fn an_outline_that_crosses_itself_is_mended_by_going_back() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.talk(&[
        ("customer.name", "Ana Quill", ""),
        ("area.shape 1", "c", ""),
        ("area.corner 1 1", "3 ft", "`corner` is not two lengths: `3 ft`"),
        ("area.corner 1 1", "3 ft, 4 lb", "`corner` has the unit `lb`"),
        ("area.corner 1 1", "0 ft, 0 ft", ""),
        ("area.corner 1 2", "20 ft, 0 ft", ""),
        ("area.corner 1 3", "0 ft, 20 ft", ""),
        ("area.corner 1 4", "20 ft, 20 ft", ""),
    ]);
    let (message, help) = visit.refuses("");
    assert!(message.starts_with("`outline` crosses itself"), "{message}");
    assert!(help[0].contains("in order as you walk around"));
    for (id, former) in [("area.corner 1 4", "20 ft, 20 ft"), ("area.corner 1 3", "0 ft, 20 ft")] {
        assert_eq!(visit.interview.answer("back").unwrap(), Reply::Back);
        assert_eq!(visit.question().id, id);
        assert_eq!(visit.question().enter.as_deref(), Some(former));
    }
    for corner in ["20 ft, 20 ft", "0 ft, 20 ft", ""] {
        visit.takes(corner);
    }
    assert!(visit.said.last().unwrap().contains("400"));
}

#[test]
fn an_outline_of_two_corners_is_no_floor() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.talk(&[
        ("customer.name", "Ana Quill", ""),
        ("area.shape 1", "corners", ""),
        ("area.corner 1 1", "0 ft, 0 ft", ""),
        ("area.corner 1 2", "20 ft, 0 ft", ""),
        ("area.corner 1 3", "", "`corner` needs an answer"),
    ]);
}

#[test]
fn going_back_keeps_what_was_answered() {
    let mut visit = Visit::new(InterviewKind::Job);
    assert_eq!(visit.interview.answer("back").unwrap(), Reply::NoWayBack);
    visit.until("customer.name");
    visit.takes("Ana Quil");
    visit.takes("8 Cattail Court");
    visit.interview.back();
    visit.interview.back();
    assert_eq!(visit.question().id, "customer.name");
    assert_eq!(visit.question().enter.as_deref(), Some("Ana Quil"));
    visit.takes("Ana Quill");
    assert_eq!(visit.question().enter.as_deref(), Some("8 Cattail Court"));
    visit.takes("");
    let text = visit.file().text;
    assert!(text.contains("name = \"Ana Quill\"\naddress = [\"8 Cattail Court\"]"), "{text}");
}

/// Another answer opens another way: what was answered on the first is not written.
#[test]
fn answers_to_questions_that_no_longer_stand_are_not_written() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(FULL);
    assert!(visit.file().text.contains("[moisture.dishes]"));
    visit.interview.return_to(&["moisture.method".to_owned()]);
    assert_eq!(visit.question().id, "moisture.method");
    visit.takes("none");
    assert_eq!(visit.interview.ask().unwrap(), None);
    let job = visit.job();
    assert!(job.moisture.dish_tests().next().is_none());
    assert_eq!(job.photos.len(), 1);
}

#[test]
fn a_problem_of_the_whole_file_leads_back_to_its_question() {
    let mut visit = Visit::new(InterviewKind::Job);
    let answers: Vec<(&str, &str)> = [
        FEWEST,
        &[("cutout.any 1", "yes"), ("cutout.length 1", "22 ft 6 in"), ("cutout.width 1", "21 ft")],
    ]
    .concat();
    visit.with(&answers);
    let troubles = visit.interview.troubles().unwrap();
    assert_eq!(troubles.len(), 1, "{troubles:#?}");
    assert_eq!(troubles[0].problem.message, "`cutout` takes away the whole floor");
    let questions = troubles[0].questions.clone();
    assert_eq!(questions, ["cutout.length 1", "cutout.width 1"]);
    assert_eq!(troubles[0].sentence, "How long is it?");
    visit.interview.return_to(&questions);
    assert_eq!(visit.question().enter.as_deref(), Some("22 ft 6 in"));
    visit.takes("3 ft");
    visit.with(&[]);
    visit.job();
}
