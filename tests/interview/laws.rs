//! Whatever is typed, the file loads or says what is missing.

use super::{FLOOR, LAID, POURED, Visit};
use crate::chance::tried;
use proptest::prelude::*;
use slableaf::interview::{InterviewKind, Reply};
use slableaf::read::read_job;

/// Lines that a person might type, and some that nobody would.
fn line() -> impl Strategy<Value = String> {
    let likely = [
        "",
        "",
        "",
        "yes",
        "no",
        "back",
        "done",
        "?",
        "unknown",
        "1",
        "2",
        "3",
        "22 ft 6 in",
        "3 ft, 4 ft",
        "0 ft, 0 ft",
        "20 ft, 0 ft",
        "20 ft, 20 ft",
        "4 in",
        "1/2 in",
        "65.7 in2",
        "218.4 g",
        "222.4 g",
        "0.1 g",
        "52 %",
        "67 F",
        "19 C",
        "310 psi",
        "2026-05-05",
        "2026-05-05 9:10",
        "2026-05-08 8:00",
        "1994",
        "2019",
        "corners",
        "both",
        "dishes",
        "probes",
        "Ana Quill",
        "a@b.example",
        "barrier, fast-cure",
        "barrier barrier",
        "urethane-coat",
        "photos/door.jpg",
        "America/Chicago",
        "400 g/L",
        "33 %",
        "$40.00/h",
        "$5",
        "7:30",
        "17:00",
        "\"done\"",
        "[x]",
        "\"\"\"",
        "\\",
        "\u{202e}",
        "\u{0}",
        "-1 ft",
        "1e9 ft",
    ];
    prop_oneof![
        8 => proptest::sample::select(likely.map(str::to_owned).to_vec()),
        1 => "\\PC{0,20}",
        1 => ".{0,8}",
    ]
}

proptest! {
    #![proptest_config(tried(48))]

    #[test]
    fn whatever_is_typed_the_file_loads_or_says_what_is_missing(
        lines in proptest::collection::vec(line(), 0..120),
        kind in proptest::sample::select(vec![
            InterviewKind::Job, InterviewKind::Shop, InterviewKind::Book, InterviewKind::Product, InterviewKind::System,
            InterviewKind::Laid,
        ]),
    ) {
        let mut interview = match kind {
            InterviewKind::Product => Visit::within(&POURED, kind).interview,
            InterviewKind::System => Visit::within(&FLOOR, kind).interview,
            InterviewKind::Laid => Visit::within(&LAID, kind).interview,
            _ => Visit::new(kind).interview,
        };
        for line in &lines {
            let before = interview.ask().unwrap();
            let reply = interview.answer(line).unwrap();
            let taken = matches!(reply, Reply::Taken(_));
            let after = interview.ask().unwrap();
            // What is refused or asked about leaves the question as it was.
            if matches!(reply, Reply::Refused { .. } | Reply::Help(_) | Reply::NoWayBack) {
                prop_assert_eq!(&before, &after);
            }
            if let (true, Some(before), Some(after)) = (taken, &before, &after) {
                prop_assert_ne!(&before.id, &after.id);
            }
            if let Reply::Refused { message, .. } = &reply {
                prop_assert!(!message.is_empty());
            }
        }
        let text = interview.file().unwrap().text;
        prop_assert!(text.parse::<toml::Table>().is_ok(), "no TOML:\n{}", text);
        let reply = interview.answer("done").unwrap();
        match (interview.is_enough().unwrap(), reply) {
            (true, _) => {
                let file = interview.file().unwrap();
                let read = match kind {
                    InterviewKind::Job | InterviewKind::Laid => read_job(&file).alone().map(drop),
                    InterviewKind::Shop => slableaf::read::read_shop(&file).map(drop),
                    InterviewKind::Book | InterviewKind::Product => {
                        slableaf::read::read_book(&file).map(drop)
                    }
                    InterviewKind::System => match FLOOR.shared.problems_of_system(&file) {
                        problems if problems.is_empty() => Ok(()),
                        problems => Err(problems),
                    },
                };
                prop_assert!(read.is_ok(), "{:#?}\n{}", read, file.text);
            }
            (false, Reply::StillNeeded(needed)) => prop_assert!(!needed.is_empty()),
            // Nothing is missing, but the whole does not hold together: each problem has its question.
            (false, _) => {
                let troubles = interview.troubles().unwrap();
                prop_assert!(troubles.iter().any(|trouble| !trouble.questions.is_empty()));
            }
        }
    }
}
