//! Answers as people type them, and as files have them.

use super::wording::all_ways;
use super::{FEWEST, TODAY, Visit, setting};
use jiff::civil::Date;
use slableaf::interview::{Interview, InterviewKind, Question, Reply, next_number};

#[test]
fn whatever_may_be_printed_comes_back_from_the_file_as_it_was_typed() {
    for typed in [
        "O\u{2019}Neil \"Bud\" \\ Sons",
        "'''",
        "\"\"\" \\u0041 \\n",
        "]] = [customer] # not a comment",
        "{{ 7 * 7 }} {% raw %} #panic(\"no\") $x$ <script>",
        "=1+1;../../etc",
        "\u{141}\u{f3}d\u{17a} \u{5317}\u{4eac} \u{1f3e0}",
        "\"quoted\"",
    ] {
        let mut visit = Visit::new(InterviewKind::Job);
        let answers: Vec<(&str, &str)> = [
            FEWEST,
            &[
                ("customer.address 1", typed),
                ("area.name 1", typed),
                ("job.notes 1", typed),
                ("garage.ignition 1", typed),
            ],
        ]
        .concat();
        visit.with(&answers);
        let job = visit.job();
        assert_eq!(job.customer.address, [typed]);
        assert_eq!(job.shapes.areas[0].name, typed);
        assert_eq!(job.notes, [typed]);
        assert_eq!(job.garage.ignition, [typed]);
    }
}

#[test]
fn a_photo_has_to_be_there_and_inside_the_folder() {
    let mut visit = Visit::new(InterviewKind::Job);
    for (id, line) in FEWEST {
        while visit.question().id != *id {
            visit.takes("");
        }
        visit.takes(line);
    }
    visit.until("photo.file 1");
    assert!(visit.refuses("../door.jpg").0.contains("leaves the folder"));
    assert!(visit.refuses("/etc/passwd").0.contains("is absolute"));
    let (message, help) = visit.refuses("photos/dor.jpg");
    assert_eq!(message, "`file` names no picture that is there: `photos/dor.jpg`");
    assert_eq!(help, ["did you mean `photos/door.jpg`?"]);
    visit.takes("2");
    visit.takes("The slab");
    visit.with(&[]);
    assert_eq!(visit.job().photos[0].file.value.0, "photos/slab.png");
}

#[test]
fn the_number_is_the_next_free_one_of_the_year() {
    let known = ["2026-0009", "2026-0142", "2025-0999", "SV-0087", "2026-x", "2026-99999999"];
    assert_eq!(next_number(TODAY, &known), "2026-0143");
    assert_eq!(next_number(Date::constant(2027, 1, 2), &known), "2027-0001");
}

/// Goes on as Enter says, with the fewest answers that a job needs, until a question stands.
#[track_caller]
pub fn on_to(first: &[(&str, &str)], id: &str) -> Visit<'static> {
    let mut visit = Visit::new(InterviewKind::Job);
    while visit.question().id != id {
        let asked = visit.question().id;
        let known = first.iter().chain(FEWEST).find(|(known, _)| *known == asked);
        visit.takes(known.map_or("", |(_, line)| line));
    }
    visit
}

/// Each choice of a list is taken by its number, its word and what is shown beside it, and what it
/// does not offer is refused.
#[test]
fn every_list_takes_what_it_shows_and_nothing_else() {
    for kind in [InterviewKind::Job, InterviewKind::Shop, InterviewKind::Book] {
        let mut visit = Visit::new(kind);
        let mut seen: Vec<(Interview<'_>, Question)> = vec![];
        let mut before = visit.interview.clone();
        all_ways(&mut visit, "rectangle", &mut |_| {});
        // The same answers once more, with a look at each list before it is answered.
        for id in visit.asked.clone() {
            let mut here = before.clone();
            let Some(question) = here.ask().unwrap() else { break };
            assert_eq!(question.id, id);
            if !question.choices.is_empty() && !id.starts_with("photo.file") {
                seen.push((before.clone(), question.clone()));
            }
            let mut back = visit.interview.clone();
            back.return_to(std::slice::from_ref(&id));
            let line = back.ask().unwrap().and_then(|again| again.enter).unwrap_or_default();
            let line = if question.enter.as_deref() == Some(line.as_str()) { "" } else { &line };
            let reply = here.answer(line).unwrap();
            assert!(matches!(reply, Reply::Taken(_)), "{id}: `{line}` gave {reply:?}");
            before = here;
        }
        assert!(!seen.is_empty());
        for (before, question) in seen {
            for (at, (word, meaning)) in question.choices.iter().enumerate() {
                for typed in [(at + 1).to_string(), word.to_uppercase(), meaning.clone()] {
                    if typed.is_empty() {
                        continue;
                    }
                    let mut here = before.clone();
                    let reply = here.answer(&typed).unwrap();
                    assert!(
                        matches!(reply, Reply::Taken(_)),
                        "{}: `{typed}`: {reply:?}",
                        question.id
                    );
                    here.return_to(std::slice::from_ref(&question.id));
                    let enter = here.ask().unwrap().unwrap().enter;
                    assert_eq!(enter.as_deref(), Some(word.as_str()), "{}: `{typed}`", question.id);
                }
            }
            for typed in ["banana", "99", "yes please"] {
                let reply = before.clone().answer(typed).unwrap();
                let Reply::Refused { message, .. } = reply else {
                    panic!("{}: {reply:?}", question.id)
                };
                assert!(message.contains("is none of these"), "{}: {message}", question.id);
            }
        }
    }
}

#[test]
fn a_test_that_is_none_is_refused_and_its_label_is_taken() {
    let mut visit = on_to(&[], "moisture.method");
    assert!(visit.refuses("yes").0.starts_with("`yes` is none of these; type 1 to 5 or"));
    visit.takes("calcium chloride");
    assert_eq!(visit.said.last().unwrap(), "Taken as dishes.");
    assert_eq!(visit.question().id, "dishes.scale");
    assert_eq!(visit.interview.back(), Reply::Back);
    assert_eq!(visit.question().enter.as_deref(), Some("dishes"));
    let mut visit = on_to(&[], "area.shape 1");
    for typed in ["banana", "3", "round"] {
        assert!(visit.refuses(typed).0.contains("is none of these; type 1, 2 or a word"));
    }
    visit.takes("2");
    assert_eq!(visit.question().id, "area.corner 1 1");
    assert_eq!(visit.interview.back(), Reply::Back);
    assert_eq!(visit.question().enter.as_deref(), Some("corners"));
}

/// An answer typed as people do is told as it was taken, and so it stands in the file.
#[test]
fn what_is_typed_as_people_do_stands_in_the_file_as_files_have_it() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(&[
        ("job.date", "5/12/26"),
        ("customer.name", "Ana Quill"),
        ("slab.thickness", "\u{201c}4 in\u{201d}"),
        ("area.length 1", "\"\"22'6\""),
        ("area.width 1", "21 ft"),
        ("cutout.any 1", "y"),
        // A number alone has the unit of the question's example.
        ("cutout.length 1", "3"),
        ("cutout.width 1", "2'"),
        ("cutout.at 1", "0, 0"),
        ("moisture.method", "probes"),
        ("probe.place 1", "middle"),
        ("probe.depth 1", "1.6 in"),
        ("probe.reading 1", "84"),
        ("probe.drilled 1", "5/6/2026 9 am"),
        ("probe.read 1", "2026-05-07 5:30 pm"),
        ("air.measured", "yesterday"),
        ("air.temperature", "66\u{b0}"),
        ("air.humidity", "54"),
        ("air.slab", "62 degrees"),
    ]);
    visit.job();
    let text = visit.file().text;
    for line in [
        "date = 2026-05-12",
        "thickness = \"4 in\"",
        "length = \"22 ft 6 in\"",
        "length = \"3 ft\"",
        "width = \"2 ft\"",
        "at = [\"0 ft\", \"0 ft\"]",
        "reading = \"84 %\"",
        "drilled = 2026-05-06T09:00:00",
        "read = 2026-05-07T17:30:00",
        "measured = 2026-05-11",
        "temperature = \"66 F\"",
        "humidity = \"54 %\"",
        "slab = \"62 F\"",
    ] {
        assert!(text.contains(&format!("\n{line}\n")), "{line}\n{text}");
    }
    for said in [
        "Taken as 2026-05-12.",
        "Taken as 22 ft 6 in.",
        "Taken as 3 ft.",
        "Taken as 84 %.",
        "Taken as 66 F.",
    ] {
        assert!(visit.said.iter().any(|line| line == said), "{said}: {:?}", visit.said);
    }
}

#[test]
fn a_date_with_slashes_is_refused_where_it_may_be_read_in_two_ways() {
    let mut visit = on_to(&[("job.units", "metric")], "job.date");
    let (message, _) = visit.refuses("5/1/2026");
    assert!(
        message.starts_with("That date can be read in two ways; type it as 2026-"),
        "{message}"
    );
    visit.takes("today");
    assert!(visit.file().text.contains("date = 2026-05-12\n"));
}

#[test]
fn a_number_that_another_job_has_is_refused() {
    let mut setting = setting();
    setting.taken = vec![("2026-0001".into(), "jobs/hollow-pine".into())];
    setting.number = next_number(TODAY, &["2026-0001"]);
    let mut visit = Visit::within(&setting, InterviewKind::Job);
    let (message, help) = visit.refuses("2026-0001");
    assert_eq!(message, "`2026-0001` is the number of jobs/hollow-pine already");
    assert!(help[0].contains("`2026-0002` is free"), "{help:?}");
    visit.takes("");
    assert!(visit.file().text.contains("number = \"2026-0002\""));
}

/// Both methods: each is told as it comes, and the highest of each at the close. 52.91 times 4 g over
/// 65.7 in2 (0.45625 ft2) and 70 h 50 min is 6.5 lb (ASTM F1869, worked by hand).
#[test]
fn with_both_kinds_of_tests_the_highest_of_each_is_told() {
    let mut visit = Visit::new(InterviewKind::Job);
    let answers = [
        FEWEST,
        &[
            ("slab.thickness", "4 in"),
            ("moisture.method", "4"),
            ("dish.place 1", "back wall"),
            ("dish.exposed 1", "65.7 in2"),
            ("dish.before 1", "218.4 g"),
            ("dish.after 1", "222.4 g"),
            ("dish.set 1", "2026-05-05 9:10"),
            ("dish.lifted 1", "2026-05-08 8:00"),
            ("probe.place 1", "middle"),
            ("probe.depth 1", "1.6 in"),
            ("probe.reading 1", "84 %"),
            ("probe.drilled 1", "2026-05-06 9:00"),
            ("probe.read 1", "2026-05-07 10:00"),
        ],
    ];
    visit.with(&answers.concat());
    let said: Vec<String> = visit.said.iter().map(|said| said.replace('\u{a0}', " ")).collect();
    let starts = |start: &str| said.iter().position(|line| line.starts_with(start));
    assert!(starts("Highest so far: 6.5 lb (32 g), back wall.").is_some(), "{said:#?}");
    assert!(starts("Highest so far: 84% RH, middle.").is_some(), "{said:#?}");
    let close = starts("Highest: 6.5 lb (32 g), back wall; 84% RH, middle.");
    assert!(close.is_some() && close < starts("By the limits in your book"), "{said:#?}");
}

/// 60 to 72 hours for a dish (ASTM F1869), 40 % of the slab for a hole (ASTM F2170).
#[test]
fn a_test_that_strays_from_its_method_is_told_on_the_spot() {
    for (lifted, strays) in
        [("2026-05-08 8:00", false), ("2026-05-07 20:00", true), ("2026-05-08 9:40", true)]
    {
        let mut visit = on_to(
            &[
                ("moisture.method", "both"),
                ("dish.place 1", "middle"),
                ("dish.exposed 1", "65.7 in2"),
                ("dish.before 1", "218.4 g"),
                ("dish.after 1", "222.4 g"),
                ("dish.set 1", "2026-05-05 9:10"),
            ],
            "dish.lifted 1",
        );
        visit.takes(lifted);
        let told = visit.said.iter().any(|said| said.contains("did not stand for 60 to 72 hours"));
        assert_eq!(told, strays, "{lifted}: {:?}", visit.said);
    }
    for (thickness, depth, strays) in [
        ("4 in", "1.6 in", false),
        ("4 in", "1.8 in", false),
        ("4 in", "2 in", true),
        ("6 in", "1.6 in", true),
    ] {
        let mut visit = on_to(
            &[
                ("slab.thickness", thickness),
                ("moisture.method", "probes"),
                ("probe.place 1", "middle"),
            ],
            "probe.depth 1",
        );
        visit.takes(depth);
        let told = visit.said.iter().any(|said| said.contains("ASTM F2170 asks for a hole of"));
        assert_eq!(told, strays, "{thickness}, {depth}: {:?}", visit.said);
    }
    let mut visit =
        on_to(&[("moisture.method", "probes"), ("probe.place 1", "middle")], "probe.depth 1");
    visit.takes("1.6 in");
    assert!(visit.said.last().unwrap().contains("how thick the slab is"), "{:?}", visit.said);
}
