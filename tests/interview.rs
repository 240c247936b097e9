//! The questions of `new`: what is answered is what the file means; what is refused is refused in
//! the words of the reader; whatever is typed, the file loads or says what is missing.

#[cfg(any(target_os = "linux", target_vendor = "apple"))]
mod terminal;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use jiff::civil::Date;
use proptest::prelude::*;
use slableaf::base::layouts::Layouts;
use slableaf::base::quantity::{Area, Humidity, Length, Mass};
use slableaf::base::source::SourceFile;
use slableaf::interview::{Interview, Kind, Question, Reply, Setting, neutral, next_number};
use slableaf::model::job::{Calibrated, Inside, Job, Known, Poured};
use slableaf::model::shop::Testing;
use slableaf::read::keys;
use slableaf::read::{Shared, read_job};
use slableaf::say::words::{InterviewText, Words};
use slableaf::site::site;

use crate::chance::tried;
use crate::fixture::{Folder, run_in};

const TODAY: Date = Date::constant(2026, 5, 12);

fn words() -> Words {
    Words::read(&Layouts::default(), "en").unwrap()
}

static TEXT: LazyLock<InterviewText> =
    LazyLock::new(|| InterviewText::read(&Layouts::default(), "en").unwrap());

/// A setting with the neutral book as the shop's own.
fn setting(words: &Words) -> Setting {
    let (book, shop) = neutral();
    let shared = Shared::read(&book, &shop, &Layouts::default().source_files("systems/"));
    let mut setting = Setting::new("job.toml".into(), TODAY, shared, words);
    setting.book_found = true;
    setting.photos = vec!["photos/door.jpg".into(), "photos/slab.png".into()];
    setting
}

/// Answers by the question: what it asks for is not a matter of its place in the row.
struct Visit<'a> {
    interview: Interview<'a>,
    /// Everything that was said in return.
    said: Vec<String>,
    asked: Vec<String>,
}

impl<'a> Visit<'a> {
    fn new(kind: Kind, setting: &'a Setting, words: &'a Words) -> Self {
        Self { interview: Interview::new(kind, setting, words, &TEXT), said: vec![], asked: vec![] }
    }

    fn question(&self) -> Question {
        self.interview.ask().unwrap().expect("a question")
    }

    #[track_caller]
    fn takes(&mut self, line: &str) {
        let id = self.question().id;
        match self.interview.answer(line).unwrap() {
            Reply::Taken(said) => self.said.extend(said),
            other => panic!("{id}: `{line}` gave {other:?}"),
        }
        self.asked.push(id);
    }

    /// Answers what is asked until nothing is left; what has no answer here is left as Enter says.
    #[track_caller]
    fn with(&mut self, answers: &[(&str, &str)]) {
        let mut used = BTreeSet::new();
        while let Some(question) = self.interview.ask().unwrap() {
            let known = answers.iter().find(|(id, _)| *id == question.id);
            used.extend(known.map(|(id, _)| *id));
            self.takes(known.map_or("", |(_, line)| line));
        }
        let unused: Vec<_> = answers.iter().filter(|(id, _)| !used.contains(id)).collect();
        assert!(unused.is_empty(), "never asked: {unused:?}\n{:#?}", self.asked);
    }

    /// Goes on as Enter says until a question stands.
    #[track_caller]
    fn until(&mut self, id: &str) {
        while self.question().id != id {
            self.takes("");
        }
    }

    #[track_caller]
    fn refuses(&mut self, line: &str) -> (String, Vec<String>) {
        let before = self.question();
        match self.interview.answer(line).unwrap() {
            Reply::Refused { message, help } => {
                assert_eq!(self.question(), before, "the same question stands");
                (message, help)
            }
            other => panic!("{}: `{line}` gave {other:?}", before.id),
        }
    }

    fn file(&self) -> SourceFile {
        self.interview.file().unwrap()
    }

    #[track_caller]
    fn job(&self) -> Job {
        assert_eq!(self.interview.troubles().unwrap(), []);
        let file = self.file();
        read_job(&file).alone().unwrap_or_else(|problems| panic!("{problems:#?}\n{}", file.text))
    }
}

/// The fewest answers that make a job.
const FEWEST: &[(&str, &str)] = &[
    ("customer.name", "Ana Quill"),
    ("area.length 1", "22 ft 6 in"),
    ("area.width 1", "21 ft"),
    ("air.any", "no"),
];

const FULL: &[(&str, &str)] = &[
    ("job.number", "2026-0142"),
    ("customer.name", "Rosa and Emil Tannenwald"),
    ("customer.address 1", "8 Cattail Court"),
    ("customer.address 2", "Pikemere Lake"),
    ("customer.email", "rosa@tannenwald.example"),
    ("house.built", "1994"),
    ("slab.thickness", "4 in"),
    ("slab.poured", "1994"),
    ("slab.vapor-retarder", "unknown"),
    ("slab.water-drop", "soaks"),
    ("slab.oil", "no"),
    ("slab.salts", "y"),
    ("slab.old-coating", "none"),
    ("slab.tile-glue", "1"),
    ("slab.treatments", "none"),
    ("slab.surface-strength", "310 psi"),
    ("slab.inside", "1"),
    ("area.name 1", "Garage floor"),
    ("area.shape 1", "corners"),
    ("area.corner 1 1", "0 ft, 0 ft"),
    ("area.corner 1 2", "22 ft, 0 ft"),
    ("area.corner 1 3", "22 ft, 21 ft"),
    ("area.corner 1 4", "16 ft, 21 ft"),
    ("area.corner 1 5", "16 ft, 24 ft"),
    ("area.corner 1 6", "0 ft, 24 ft"),
    ("cutout.any 1", "yes"),
    ("cutout.name 1", "Furnace pad"),
    ("cutout.length 1", "3 ft"),
    ("cutout.width 1", "2 ft 6 in"),
    ("cutout.at 1", "1 ft, 20 ft 6 in"),
    ("upright.any 1", "yes"),
    ("upright.name 1", "Stem wall"),
    ("upright.length 1", "38 ft"),
    ("upright.height 1", "5 in"),
    ("steps.any 1", "yes"),
    ("steps.count 1", "2"),
    ("steps.width 1", "4 ft"),
    ("steps.tread 1", "11 in"),
    ("steps.riser 1", "7 in"),
    ("steps.at 1", "16 ft 3 in, 19 ft"),
    ("crack.any 1", "yes"),
    ("crack.name 1", "Hairline"),
    ("crack.length 1", "11 ft"),
    ("crack.width 1", "1/16 in"),
    ("crack.moves 1", "no"),
    ("joint.any 1", "yes"),
    ("joint.name 1", "Saw cut across"),
    ("joint.length 1", "22 ft"),
    ("moisture.method", "dishes"),
    ("dishes.instrument", "Field scale, 500 g by 0.1 g"),
    ("dishes.room-temperature", "67 F"),
    ("dishes.room-humidity", "52 %"),
    ("dishes.settled", "yes"),
    ("dish.place 1", "left bay, near the wall"),
    ("dish.at 1", "4 ft, 18 ft"),
    ("dish.surface 1", "ground"),
    ("dish.exposed 1", "65.7 in2"),
    ("dish.before 1", "218.4 g"),
    ("dish.after 1", "222.4 g"),
    ("dish.set 1", "2026-05-05 9:10"),
    ("dish.lifted 1", "2026-05-08 8:00"),
    ("dish.another 2", "yes"),
    ("dish.place 2", "middle"),
    ("dish.at 2", "11 ft, 11 ft"),
    ("dish.before 2", "219.1 g"),
    ("dish.after 2", "222.5 g"),
    ("dish.set 2", "2026-05-05 9:15"),
    ("dish.lifted 2", "2026-05-08 8:05"),
    ("dish.another 3", "yes"),
    ("dish.place 3", "right bay, near the door"),
    ("dish.at 3", "18 ft, 3 ft"),
    ("dish.before 3", "217.8 g"),
    ("dish.after 3", "222.5 g"),
    ("dish.set 3", "2026-05-05 9:20"),
    ("dish.lifted 3", "2026-05-08 8:10"),
    ("air.measured", "2026-05-08"),
    ("air.temperature", "66 F"),
    ("air.humidity", "54 %"),
    ("air.slab", "62 F"),
    ("garage.height", "9 ft"),
    ("garage.ignition 1", "gas furnace with pilot light"),
    ("garage.ignition 2", "water heater"),
    ("job.offer", "barrier, fast-cure, clear-epoxy, water-kit"),
    ("job.wishes", "lasting, quick"),
    ("plan.start", "2026-05-26"),
    ("extras.which 2", "urethane-coat"),
    ("photo.file 1", "door"),
    ("photo.caption 1", "The slab, seen from the door"),
    ("job.notes 1", "We start at eight."),
    ("job.crew-notes 1", "Key under the second pot."),
];

// ------------------------------------------------------------------------------ whole visits

/// The same facts as the main example gives the same job: what differs is told.
#[test]
fn a_full_visit_means_what_the_main_example_says() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.with(FULL);
    let job = visit.job();
    let example = SourceFile {
        name: "example".into(),
        text: include_str!("../examples/two-car-barrier/job.toml").into(),
    };
    let example = read_job(&example).alone().unwrap();
    let (own, theirs) = (site(&job, &Testing::default()), site(&example, &Testing::default()));
    assert_eq!(own.take_off, theirs.take_off);
    assert_eq!(own.air, theirs.air);
    let series = |site: &slableaf::site::Site| {
        let series = site.moisture.mver.clone().unwrap();
        let readings = series.readings.iter().map(|r| (r.place.clone(), r.value, r.from, r.to));
        (readings.collect::<Vec<_>>(), series.faults)
    };
    assert_eq!(series(&own), series(&theirs));
    assert_eq!(format!("{:?}", job.slab), format!("{:?}", example.slab));
    assert_eq!(job.customer.name, example.customer.name);
    assert_eq!(job.customer.address, example.customer.address);
    assert_eq!(job.offer, example.offer);
    assert_eq!(job.wishes, example.wishes);
    assert_eq!(job.plan.start, example.plan.start);
    assert_eq!(job.house.built, Some(1994));
    assert_eq!(job.photos[0].file.value.0, "photos/door.jpg");
    assert_eq!(job.crew_notes, ["Key under the second pot."]);
    assert_eq!(job.extras.len(), 1);
}

#[test]
fn the_answers_are_told_what_they_mean() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.with(FULL);
    // 22 by 21 and 16 by 3 make 510 square feet; 7.5 are left out (worked by hand). 52.91 times
    // 4.7 g over 65.7 in2 and 70.8 h is 7.7 lb (ASTM F1869, as in `tests/facts/moisture.rs`).
    for line in [
        "That makes 510 sq ft (47.4 m\u{b2}) of floor.",
        "That makes 503 sq ft (46.7 m\u{b2}) of floor.",
        "Highest so far: 7.7 lb (37.6 g), right bay, near the door. The method asks for 3 tests on this floor; 3 are in.",
        "vapor-barrier floor: possible, the limit is 20 lb (97.6 g).",
        "fast-cure floor: too damp, the limit is 3 lb (14.6 g).",
    ] {
        let plain = |text: &str| text.replace('\u{a0}', " ");
        assert!(visit.said.iter().any(|said| plain(said) == line), "{line}\n{:#?}", visit.said);
    }
    assert!(visit.said.iter().any(|said| said.starts_with("The dew point is 49")));
}

#[test]
fn the_file_has_its_schema_its_comments_and_the_order_of_the_questions() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.with(FULL);
    let text = visit.file().text;
    assert!(text.starts_with("#:schema ./job.schema.json\n# "));
    let places: Vec<usize> = [
        "[customer]",
        "[house]",
        "[slab]",
        "[[area]]",
        "[moisture.dishes]",
        "[air]",
        "[garage]",
        "[plan]",
        "[[photo]]",
    ]
    .iter()
    .map(|head| text.find(&format!("\n{head}\n")).unwrap_or_else(|| panic!("{head}\n{text}")))
    .collect();
    assert!(places.is_sorted(), "{text}");
    for head in ["[customer]", "[slab]", "[[crack]]", "[air]"] {
        let before = text.split(&format!("\n{head}\n")).next().unwrap();
        assert!(before.lines().last().unwrap().starts_with("# "), "{head} has no comment");
    }
}

#[test]
fn everything_that_may_be_unknown_can_be_left_open() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.with(FEWEST);
    let job = visit.job();
    assert_eq!(job.number.0, "2026-0001");
    assert_eq!(job.date, TODAY);
    assert!(job.slab.thickness.is_none() && job.slab.poured.is_none() && job.slab.oil.is_none());
    assert_eq!(job.slab.retarder, Known::Unknown);
    assert!(job.air.is_none() && job.moisture.visits.is_empty());
    let text = visit.file().text;
    for table in ["[house]", "[moisture", "[air]", "[plan]", "[[photo]]", "[extras]"] {
        assert!(!text.contains(table), "{table} with nothing in it\n{text}");
    }
    // With no reading no floor is ruled out.
    assert_eq!(job.offer.len(), 4);
}

#[test]
fn probes_and_a_metric_slab_can_be_told() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.with(&[
        ("job.units", "metric"),
        ("job.date", "2026-09-14"),
        ("customer.name", "Ingrid M\u{e5}sv\u{e6}r"),
        ("slab.thickness", "120 mm"),
        ("slab.poured", "2026-03-02"),
        ("area.length 1", "6.86 m"),
        ("area.width 1", "5.90 m"),
        ("area.another 2", "yes"),
        ("area.name 2", "Store room"),
        ("area.length 2", "2.40 m"),
        ("area.width 2", "3.80 m"),
        ("area.at 2", "6.86 m, 2.10 m"),
        ("spall.any 1", "yes"),
        ("spall.length 1", "250 mm"),
        ("spall.width 1", "150 mm"),
        ("spall.depth 1", "12 mm"),
        ("cove.any 1", "yes"),
        ("cove.length 1", "6 m"),
        ("cove.radius 1", "25 mm"),
        ("moisture.method", "probes"),
        ("probes.accuracy", "2"),
        ("probes.settled", "yes"),
        ("probe.place 1", "garage, middle"),
        ("probe.depth 1", "48 mm"),
        ("probe.reading 1", "74 %"),
        ("probe.drilled 1", "2026-09-07 9:00"),
        ("probe.read 1", "2026-09-08T10:00:00"),
        ("probe.calibrated 1", "2026-08-25"),
        ("probe.another 2", "yes"),
        ("probe.place 2", "store room"),
        ("probe.reading 2", "69 %"),
        ("probe.another 3", "yes"),
        ("probe.place 3", "by the door"),
        ("probe.reading 3", "71 %"),
        ("probe.calibrated 3", "a new one"),
        ("air.any", "no"),
    ]);
    let job = visit.job();
    assert_eq!(job.slab.poured, Some(Poured::Day(Date::constant(2026, 3, 2))));
    // The first area starts the plan that the second one has a place on.
    assert!(job.shapes.areas.iter().all(|area| area.placed));
    let floor = site(&job, &Testing::default()).take_off.floor;
    assert!((floor.as_square_meters() - (6.86 * 5.90 + 2.40 * 3.80)).abs() < 1e-9);
    assert_eq!(
        job.shapes.spalls[0].area,
        Area::rectangle(Length::millimeters(250.0), Length::millimeters(150.0))
    );
    let probes = job.moisture.probe_tests().next().unwrap();
    assert_eq!(probes.edition, 2019);
    assert_eq!(probes.probes[1].depth, Length::millimeters(48.0));
    assert_eq!(probes.probes[1].calibrated, Some(Calibrated::On(Date::constant(2026, 8, 25))));
    assert_eq!(probes.probes[2].calibrated, Some(Calibrated::New));
    assert_eq!(probes.accuracy, Some(Humidity::percent(2.0)));
    assert!(visit.said.iter().any(|said| said.contains("fast-cure floor: too close to call")));
}

// ----------------------------------------------------------------------- one answer at a time

#[test]
fn a_wrong_answer_is_refused_in_the_words_of_the_reader_and_asked_again() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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
        ("slab.on-ground", "maybe", "`maybe` is neither yes nor no; type yes or no", ""),
        ("slab.thickness", "4", "`thickness` has no unit: `4`", "for example `4 in`"),
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
        (
            "area.length 1",
            "22,5 m",
            "`length` has a comma where a decimal point belongs",
            "write `22.5 m`",
        ),
    ];
    for (id, line, message, advice) in cases {
        while visit.question().id != *id {
            let answer = if visit.question().id == "customer.name" { "Ana" } else { "" };
            visit.takes(answer);
        }
        let (said, help) = visit.refuses(line);
        assert!(said.starts_with(message), "{id}, `{line}`: {said}");
        let helped = advice.is_empty() || help.iter().any(|help| help.contains(advice));
        assert!(helped, "{id}, `{line}`: {help:?}");
        let typed_quotes = help.iter().any(|help| help.contains("`\"") || help.contains("quotes"));
        assert!(!typed_quotes, "nobody types quotes: {help:?}");
    }
    visit.takes("22 ft");
    visit.until("area.width 1");
    visit.takes("20 ft");
    visit.until("moisture.method");
    visit.takes("dishes");
    visit.until("dish.place 1");
    visit.takes("middle");
    assert_eq!(visit.refuses("40 ft, 2 ft").0, "`at` lies beside the floor");
    for line in ["4 ft, 18 ft", "painted", "65.7 in2", "218.4 g"] {
        visit.takes(line);
    }
    assert_eq!(visit.refuses("218.3 g").0, "`after` is less than `before`");
    for line in ["222.4 g", "2026-05-05 9:10"] {
        visit.takes(line);
    }
    assert_eq!(visit.refuses("2026-05-05 9:10").0, "`lifted` is not after `set`");
    let (message, _) = visit.refuses("2026-02-30 9:10");
    assert_eq!(message, "That is no date with a time; type it as 2026-05-08 08:05");
    visit.takes("2026-05-08 8:00");
}

#[test]
fn an_outline_that_crosses_itself_is_mended_by_going_back() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.until("customer.name");
    visit.takes("Ana Quill");
    visit.until("area.shape 1");
    visit.takes("c");
    assert_eq!(visit.refuses("3 ft").0, "`corner` is not two lengths: `3 ft`");
    assert!(visit.refuses("3 ft, 4 lb").0.contains("has the unit `lb`"));
    for corner in ["0 ft, 0 ft", "20 ft, 0 ft", "0 ft, 20 ft", "20 ft, 20 ft"] {
        visit.takes(corner);
    }
    let (message, help) = visit.refuses("");
    assert!(message.starts_with("`outline` crosses itself"), "{message}");
    assert!(help[0].contains("in the order in which one walks round"));
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.until("customer.name");
    visit.takes("Ana Quill");
    visit.until("area.shape 1");
    for line in ["corners", "0 ft, 0 ft", "20 ft, 0 ft"] {
        visit.takes(line);
    }
    assert_eq!(visit.refuses("").0, "`corner` needs an answer");
}

#[test]
fn going_back_keeps_what_was_answered() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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

// --------------------------------------------------------------------------------- stopping early

#[test]
fn done_asks_only_what_is_still_needed() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    let Reply::StillNeeded(needed) = visit.interview.answer("done").unwrap() else { panic!() };
    assert_eq!(
        needed,
        [
            "The customer: Who is the customer?",
            "The slab: Does the slab lie on the ground?",
            "The floor, as measured, area 1: How long is it?",
            "The floor, as measured, area 1: How wide is it?",
            "The garage: Does daylight reach the floor?",
            "The garage: Do you sell at the customer's home?",
            "What you offer: Which floors do you offer?",
        ]
    );
    assert!(!visit.interview.is_enough().unwrap());
    for line in ["Ana Quill", "yes", "22 ft", "21 ft", "yes", "no", "barrier"] {
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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

/// Who stops early and goes back is asked the same question, and not what was left out.
#[test]
fn going_back_after_done_asks_no_more_than_done_does() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.interview.answer("done").unwrap();
    for line in ["Ana Quill", "yes", "22 ft"] {
        visit.takes(line);
    }
    assert_eq!(visit.question().id, "area.width 1");
    assert_eq!(visit.interview.answer("back").unwrap(), Reply::Back);
    assert_eq!(visit.question().id, "area.length 1");
    visit.takes("23 ft");
    assert_eq!(visit.question().id, "area.width 1");
    for line in ["21 ft", "yes", "no", "barrier"] {
        visit.takes(line);
    }
    assert_eq!(visit.interview.ask().unwrap(), None);
    assert!(visit.file().text.contains("length = \"23 ft\""));
}

/// Going back loses nothing, also for who then stops.
#[test]
fn done_keeps_what_one_has_gone_back_to() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.until("customer.name");
    visit.takes("Ana");
    visit.until("slab.tile-glue");
    let Reply::Help(lines) = visit.interview.answer("?").unwrap() else { panic!() };
    assert!(lines.iter().any(|line| line.contains("asbestos")), "{lines:?}");
    assert!(lines.iter().any(|line| line.contains("`back`")), "{lines:?}");
    assert_eq!(visit.question().id, "slab.tile-glue");
}

#[test]
fn a_word_of_the_conversation_can_be_an_answer_in_quotes() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.until("customer.name");
    visit.takes("\"Done\"");
    let text = visit.file().text;
    assert!(text.contains("name = \"Done\""), "{text}");
}

// --------------------------------------------------------------------------- what people type

#[test]
fn whatever_may_be_printed_comes_back_from_the_file_as_it_was_typed() {
    let words = words();
    let setting = setting(&words);
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
        let mut visit = Visit::new(Kind::Job, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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

// ------------------------------------------------------------------------------------- the words

/// Answers every question with something, so that all ways are gone.
fn all_ways(visit: &mut Visit<'_>, shape: &str, seen: &mut impl FnMut(&Question)) {
    let mut examples: BTreeMap<String, String> = BTreeMap::new();
    while let Some(question) = visit.interview.ask().unwrap() {
        let mut parts = question.id.split(' ');
        let named = parts.next().unwrap().to_owned();
        let n: usize = parts.next_back().map_or(1, |n| n.parse().unwrap());
        let list: usize = parts.next().map_or(1, |list| list.parse().unwrap());
        // Each further area lies beside the one before.
        let (from, to) = (40 * (list - 1), 40 * list - 10);
        let corners = [
            format!("{from} ft, 0 ft"),
            format!("{to} ft, 0 ft"),
            format!("{to} ft, 30 ft"),
            String::new(),
        ];
        examples.extend(question.example.clone().map(|example| (named.clone(), example)));
        let (group, key) = named.split_once('.').unwrap();
        let line = match (group, key) {
            (_, "any") => "yes",
            (_, "another") => ["", "yes", "no"][n - 1],
            (_, "shape") => shape,
            ("cutout", "corner") => ["0 ft, 0 ft", "1 ft, 0 ft", "1 ft, 1 ft", ""][n - 1],
            (_, "corner") => &corners[n - 1],
            ("cutout" | "steps", "at") => "1 ft, 1 ft",
            ("cutout", "length" | "width") => "1 ft",
            ("moisture", "method") => "both",
            ("dish", "surface") => "ground",
            ("sheet", "found") => "dry",
            ("slab", "poured") => "1994",
            ("spall", "area") if shape == "corners" => "",
            ("job", "offer") => "barrier, clear-epoxy",
            ("photo", "file") if n == 1 => "1",
            ("customer" | "garage" | "shop" | "job" | "photo", _) if n > 2 => "",
            _ if question.enter.is_some() && !examples.contains_key(&named) => "",
            _ => examples.get(&named).map_or("A name", String::as_str),
        };
        seen(&question);
        visit.takes(line);
    }
}

/// Every question has words, and all words have a question.
#[test]
fn every_question_has_its_words_and_all_words_are_asked() {
    let words = words();
    let setting = setting(&words);
    let mut asked = BTreeSet::new();
    for shape in ["rectangle", "corners"] {
        for kind in [Kind::Job, Kind::Shop, Kind::Book] {
            let mut visit = Visit::new(kind, &setting, &words);
            all_ways(&mut visit, shape, &mut |question| {
                asked.insert(question.id.split(' ').next().unwrap().to_owned());
            });
            assert_eq!(visit.interview.troubles().unwrap(), [], "{kind:?}, {shape}");
        }
    }
    let told: BTreeSet<String> = TEXT
        .ask
        .iter()
        .flat_map(|(group, keys)| keys.keys().map(move |key| format!("{group}.{key}")))
        .collect();
    assert_eq!(asked, told);
}

#[test]
fn every_choice_says_what_it_means() {
    let words = words();
    let setting = setting(&words);
    for kind in [Kind::Job, Kind::Shop, Kind::Book] {
        let mut visit = Visit::new(kind, &setting, &words);
        all_ways(&mut visit, "rectangle", &mut |question| {
            // Names of files and of days of the week say what they are.
            let plain = ["photo.file 1", "photo.file 2", "calendar.closed"];
            for (word, meaning) in &question.choices {
                let named = plain.contains(&question.id.as_str());
                assert!(named || !meaning.is_empty(), "{}: {word}", question.id);
            }
        });
    }
}

// --------------------------------------------------------------------------- shop and price book

#[test]
fn a_shop_file_has_the_answers_and_none_of_the_invented_shop() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Shop, &setting, &words);
    visit.with(&[("shop.name", "Invented Gray Heron Floors"), ("calendar.closed", "sat, sun")]);
    assert_eq!(visit.interview.troubles().unwrap(), []);
    let text = visit.file().text;
    for invented in [
        "Pikemere",
        "555-0114",
        "office@",
        "00-0000",
        "logo",
        "airflow",
        "peels",
        "deposit-share =",
    ] {
        assert!(!text.contains(invented), "{invented}\n{text}");
    }
    assert!(text.contains("closed = [\"saturday\", \"sunday\"]"), "{text}");
    assert!(text.contains("# Limits where you work."), "{text}");
    let shop = slableaf::read::read_shop(&visit.file()).unwrap();
    assert_eq!(shop.name, "Invented Gray Heron Floors");
    assert!(shop.phone.is_none() && shop.fan.is_none() && shop.limits.voc.is_none());
}

#[test]
fn a_book_keeps_the_comments_of_the_neutral_one_and_says_that_it_is_invented() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Book, &setting, &words);
    visit.with(&[
        ("book.name", "Marsh book"),
        ("labor.wage", "$40/h"),
        ("terms.margin", "40 %"),
        ("terms.minimum", "2000"),
    ]);
    let text = visit.file().text;
    assert!(text.contains("wage = \"$40/h\"        # of one person"), "{text}");
    assert!(text.contains("INVENTED") && text.contains("invented = true"), "{text}");
    let book = slableaf::read::read_book(&visit.file()).unwrap();
    assert_eq!((book.name.as_str(), book.effective), ("Marsh book", TODAY));
    assert_eq!(book.products.len(), 13);
    // 40 dollars and 30 % of it; 1,000 and 15 % of it over 60 %, up to 5 dollars (by hand).
    for line in ["$52.00", "$1,920.00", "The least that a job has to bring, $2,000.00, is higher"] {
        assert!(visit.said.iter().any(|said| said.contains(line)), "{line}: {:?}", visit.said);
    }
    assert!(text.contains("$276.00"));
}

#[test]
fn a_book_in_another_currency_has_all_its_amounts_in_it() {
    let words = words();
    let setting = setting(&words);
    for (code, sign) in [("EUR", "\u{20ac}"), ("CHF", "CHF "), ("GBP", "\u{a3}")] {
        let mut visit = Visit::new(Kind::Book, &setting, &words);
        visit.with(&[("book.name", "A book"), ("book.currency", code)]);
        assert_eq!(visit.interview.troubles().unwrap(), [], "{code}");
        let text = visit.file().text;
        assert!(text.contains(&format!("wage = \"{sign}32.00/h\"")), "{text}");
        assert_eq!(slableaf::read::read_book(&visit.file()).unwrap().currency, code);
    }
}

#[test]
fn a_margin_floor_above_the_margin_is_refused_at_once() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Book, &setting, &words);
    visit.until("book.name");
    visit.takes("A book");
    visit.until("terms.margin-floor");
    assert_eq!(visit.refuses("60 %").0, "`margin-floor` is above `margin`");
}

// ------------------------------------------------------------------------------------ properties

static SETTING: LazyLock<(Words, Setting)> = LazyLock::new(|| {
    let words = words();
    let setting = setting(&words);
    (words, setting)
});

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
        kind in proptest::sample::select(vec![Kind::Job, Kind::Shop, Kind::Book]),
    ) {
        let (words, setting) = &*SETTING;
        let mut interview = Interview::new(kind, setting, words, &TEXT);
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
                    Kind::Job => read_job(&file).alone().map(drop),
                    Kind::Shop => slableaf::read::read_shop(&file).map(drop),
                    Kind::Book => slableaf::read::read_book(&file).map(drop),
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

// -------------------------------------------------------------------------- what a stranger typed

/// Goes on as Enter says, with the fewest answers that a job needs, until a question stands.
#[track_caller]
fn on_to<'a>(
    setting: &'a Setting,
    words: &'a Words,
    first: &[(&str, &str)],
    id: &str,
) -> Visit<'a> {
    let mut visit = Visit::new(Kind::Job, setting, words);
    while visit.question().id != id {
        let asked = visit.question().id;
        let known = first.iter().chain(FEWEST).find(|(known, _)| *known == asked);
        visit.takes(known.map_or("", |(_, line)| line));
    }
    visit
}

/// What every list offers is taken by its number, its word and what is shown beside it, and what it
/// does not offer is refused.
#[test]
fn every_list_takes_what_it_shows_and_nothing_else() {
    let words = words();
    let setting = setting(&words);
    for kind in [Kind::Job, Kind::Shop, Kind::Book] {
        let mut visit = Visit::new(kind, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    let mut visit = on_to(&setting, &words, &[], "moisture.method");
    assert!(visit.refuses("yes").0.starts_with("`yes` is none of these; type 1 to 5 or"));
    visit.takes("calcium chloride");
    assert_eq!(visit.said.last().unwrap(), "Taken as dishes.");
    assert_eq!(visit.question().id, "dishes.scale");
    assert_eq!(visit.interview.back(), Reply::Back);
    assert_eq!(visit.question().enter.as_deref(), Some("dishes"));
    let mut visit = on_to(&setting, &words, &[], "area.shape 1");
    for typed in ["banana", "3", "round"] {
        assert!(visit.refuses(typed).0.contains("is none of these; type 1, 2 or a word"));
    }
    visit.takes("2");
    assert_eq!(visit.question().id, "area.corner 1 1");
    assert_eq!(visit.interview.back(), Reply::Back);
    assert_eq!(visit.question().enter.as_deref(), Some("corners"));
}

/// What is typed as people do is told as it was taken, and so it stands in the file.
#[test]
fn what_is_typed_as_people_do_stands_in_the_file_as_files_have_it() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
    visit.with(&[
        ("job.date", "5/12/26"),
        ("customer.name", "Ana Quill"),
        ("slab.thickness", "\u{201c}4 in\u{201d}"),
        ("area.length 1", "\"\"22'6\""),
        ("area.width 1", "21 ft"),
        ("cutout.any 1", "y"),
        ("cutout.length 1", "3 ft"),
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
    for said in ["Taken as 2026-05-12.", "Taken as 22 ft 6 in.", "Taken as 84 %.", "Taken as 66 F."]
    {
        assert!(visit.said.iter().any(|line| line == said), "{said}: {:?}", visit.said);
    }
}

#[test]
fn a_date_with_slashes_is_refused_where_it_may_be_read_in_two_ways() {
    let words = words();
    let setting = setting(&words);
    let mut visit = on_to(&setting, &words, &[("job.units", "metric")], "job.date");
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
    let words = words();
    let mut setting = setting(&words);
    setting.taken = vec![("2026-0001".into(), "jobs/hollow-pine".into())];
    setting.number = next_number(TODAY, &["2026-0001"]);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Job, &setting, &words);
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
    let words = words();
    let setting = setting(&words);
    for (lifted, strays) in
        [("2026-05-08 8:00", false), ("2026-05-07 20:00", true), ("2026-05-08 9:40", true)]
    {
        let mut visit = on_to(
            &setting,
            &words,
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
            &setting,
            &words,
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
    let mut visit = on_to(
        &setting,
        &words,
        &[("moisture.method", "probes"), ("probe.place 1", "middle")],
        "probe.depth 1",
    );
    visit.takes("1.6 in");
    assert!(visit.said.last().unwrap().contains("how thick the slab is"), "{:?}", visit.said);
}

// ------------------------------------------------------------------ what a test can be held to

/// Asked before any probe; nobody drills where something may lie (common practice, no published source).
#[test]
fn what_lies_inside_is_asked_before_the_probes_and_nobody_drills_before_a_scan() {
    let words = words();
    let setting = setting(&words);
    for (typed, inside, warned) in [
        ("", None, true),
        ("don't know", None, true),
        ("nothing", Some(vec![]), false),
        ("cables", Some(vec![Inside::Cables]), true),
        ("gas pipes and tubes", Some(vec![Inside::Pipes, Inside::HeatingTubes]), true),
        ("2, wiring", Some(vec![Inside::Cables, Inside::Wiring]), true),
    ] {
        let mut visit = on_to(&setting, &words, &[], "slab.inside");
        visit.takes(typed);
        let said = visit.said.iter().any(|said| said.contains("drills, cores or cuts"));
        assert_eq!(said, warned, "{typed}: {:?}", visit.said);
        let rest = [FEWEST, &[("moisture.method", "none")]].concat();
        while visit.question().id != "moisture.method" {
            let asked = visit.question().id;
            let known = rest.iter().find(|(known, _)| *known == asked);
            visit.takes(known.map_or("", |(_, line)| line));
        }
        assert!(!visit.asked.iter().any(|id| id.starts_with("probe")), "{:?}", visit.asked);
        visit.interview.answer("done").unwrap();
        while let Some(question) = visit.interview.ask().unwrap() {
            visit.takes(if question.id == "job.offer" { "" } else { "yes" });
        }
        assert_eq!(visit.job().slab.inside, inside, "{typed}");
    }
    // Not both: the readers say so at once.
    let mut visit = on_to(&setting, &words, &[], "slab.inside");
    assert_eq!(visit.refuses("none, pipes").0, "`inside` names `none` beside other things");
    let mut visit = on_to(&setting, &words, &[], "slab.treatments");
    assert_eq!(visit.refuses("none, wax").0, "`treatments` names `none` beside other things");
    visit.takes("tire dressing and hardener");
    assert!(visit.file().text.contains("treatments = [\"silicone\", \"densifier\"]"));
}

/// Bare ground concrete, open for 24 hours (ASTM F1869): else a dish cannot prove a slab dry.
#[test]
fn the_spot_of_a_dish_is_told_in_ones_own_words() {
    let words = words();
    let setting = setting(&words);
    let dish = [("moisture.method", "dishes"), ("dish.place 1", "middle")];
    for (typed, surface) in [
        ("painted", Some("coated")),
        ("sealed", Some("coated")),
        ("ground and open", None),
        ("ground bare", Some("ground-open-24h")),
        ("open", None),
        ("not ground", Some("bare")),
        ("", Some("")),
    ] {
        let mut visit = on_to(&setting, &words, &dish, "dish.surface 1");
        let Some(surface) = surface else {
            assert!(visit.refuses(typed).0.contains("these"), "{typed}");
            continue;
        };
        visit.takes(typed);
        let line = format!("surface = \"{surface}\"\n");
        let text = visit.file().text;
        assert_eq!(text.contains(&line), !surface.is_empty(), "{typed}: {text}");
        let told = visit.said.iter().any(|said| said.contains("but not that it is dry"));
        assert_eq!(told, surface != "ground-open-24h", "{typed}: {:?}", visit.said);
    }
    let weighed = [
        ("dish.surface 1", "1"),
        ("dish.exposed 1", "65.7 in2"),
        ("dish.before 1", "218.4 g"),
        ("dish.after 1", "222.4 g"),
        ("dish.set 1", "2026-05-05 9:10"),
        ("dish.lifted 1", "2026-05-08 8:00"),
    ];
    let answers = [dish.as_slice(), &weighed].concat();
    let mut visit = on_to(&setting, &words, &answers, "dish.ground 1");
    assert_eq!(visit.refuses("2026-05-06 9:00").0, "`ground` is not before `set`");
    assert!(visit.refuses("2026-05-04 10:00").0.starts_with("`ground` is less than 24 hours"));
    visit.takes("5/4/2026 9 am");
    assert!(visit.file().text.contains("ground = 2026-05-04T09:00:00"));
}

#[test]
fn a_probe_is_new_or_was_checked_on_a_day() {
    let words = words();
    let setting = setting(&words);
    let hole = [
        ("slab.thickness", "4 in"),
        ("moisture.method", "probes"),
        ("probe.place 1", "middle"),
        ("probe.depth 1", "1.6 in"),
        ("probe.reading 1", "74"),
        ("probe.drilled 1", "2026-05-06 9:00"),
        ("probe.read 1", "2026-05-07 10:00"),
    ];
    for (typed, line) in [
        ("new", "calibrated = \"new\"\n"),
        ("Brand new", "calibrated = \"new\"\n"),
        ("4/20/2026", "calibrated = 2026-04-20\n"),
        ("2026-05-01", "calibrated = 2026-05-01\n"),
    ] {
        let mut visit = on_to(&setting, &words, &hole, "probe.calibrated 1");
        visit.takes(typed);
        assert!(visit.file().text.contains(line), "{typed}: {}", visit.file().text);
    }
    let mut visit = on_to(&setting, &words, &hole, "probe.calibrated 1");
    assert!(visit.refuses("last week").0.starts_with("That is neither a date nor `new`"));
    assert!(visit.refuses("not new").0.starts_with("That is neither a date nor `new`"));
    assert_eq!(visit.refuses("2026-05-09").0, "`calibrated` is after `read`");
}

/// 16 hours, sealed all round (ASTM D4263).
#[test]
fn a_plastic_sheet_is_a_third_kind_of_test() {
    let words = words();
    let setting = setting(&words);
    let sheet = [
        ("moisture.method", "sheet"),
        ("sheet.place 1", "by the door"),
        ("sheet.taped 1", "2026-05-07 16:00"),
    ];
    let mut visit = on_to(&setting, &words, &sheet, "sheet.lifted 1");
    assert_eq!(visit.refuses("2026-05-07 15:00").0, "`lifted` is not after `taped`");
    for line in ["2026-05-08 7:00", "no", "a darker spot"] {
        visit.takes(line);
    }
    for part in ["gives no figure", "stay down for 16 hours", "not sealed all round"] {
        assert!(visit.said.iter().any(|said| said.contains(part)), "{part}: {:?}", visit.said);
    }
    let text = visit.file().text;
    let table = "[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\n\
                 lifted = 2026-05-08T07:00:00\nsealed = false\nfound = \"damp\"\n";
    assert!(text.contains(table), "{text}");
    visit.takes("");
    // No figure, so there is no highest one; each floor still has its line.
    assert!(!visit.said.iter().any(|said| said.starts_with("Highest")), "{:?}", visit.said);
    let floors = visit.said.iter().filter(|said| said.contains("not known"));
    assert_eq!(floors.count(), 4, "{:?}", visit.said);
    // Beside dishes a sheet is asked for, and may be left out.
    let dish = [("moisture.method", "dishes"), ("dish.place 1", "middle")];
    let more = [
        ("dish.exposed 1", "65.7 in2"),
        ("dish.before 1", "218.4 g"),
        ("dish.after 1", "222.4 g"),
        ("dish.set 1", "2026-05-05 9:10"),
        ("dish.lifted 1", "2026-05-08 8:00"),
    ];
    let answers = [dish.as_slice(), &more].concat();
    let mut visit = on_to(&setting, &words, &answers, "sheet.any 1");
    visit.takes("");
    assert_eq!(visit.question().id, "air.any");
}

/// A floor without enough good readings waits; one without a limit is its maker's to judge.
#[test]
fn floors_that_wait_are_told_apart_from_those_that_are_too_damp() {
    let words = words();
    let setting = setting(&words);
    let mut visit = on_to(
        &setting,
        &words,
        &[
            ("moisture.method", "dishes"),
            ("dish.place 1", "middle"),
            ("dish.surface 1", "bare"),
            ("dish.exposed 1", "65.7 in2"),
            ("dish.before 1", "218.4 g"),
            ("dish.after 1", "222.4 g"),
            ("dish.set 1", "2026-05-05 9:10"),
            ("dish.lifted 1", "2026-05-08 8:00"),
        ],
        "air.any",
    );
    visit.takes("no");
    let line = |start: &str| visit.said.iter().find(|said| said.starts_with(start)).unwrap();
    assert!(line("vapor-barrier floor").contains("these tests do not settle it"));
    assert!(line("fast-cure floor").contains("too damp"));
}

#[test]
fn a_time_zone_is_taken_as_people_of_the_us_name_it() {
    let words = words();
    let setting = setting(&words);
    let mut visit = Visit::new(Kind::Shop, &setting, &words);
    visit.takes("Invented Gray Heron Floors");
    visit.until("calendar.time-zone");
    assert!(visit.refuses("mountain").0.contains("America/Denver or America/Phoenix"));
    visit.takes("EST");
    assert_eq!(visit.said.last().unwrap(), "Taken as America/New_York.");
    assert!(visit.file().text.contains("time-zone = \"America/New_York\""));
}

/// `?` has something to say that the question and its hint do not.
#[test]
fn every_question_has_more_to_say() {
    for (group, keys) in &TEXT.ask {
        for (key, text) in keys {
            let help = text.help.as_deref().unwrap_or_default();
            assert!(help.split_whitespace().count() >= 5, "{group}.{key}: {help}");
            assert_ne!(Some(help), text.hint.as_deref(), "{group}.{key}");
        }
    }
}

// ------------------------------------------------------------------------------- without a terminal

#[test]
fn a_blank_job_has_the_next_free_number() {
    let folder = Folder::of("smallest");
    folder.run(&["new", "jobs/one", "--blank"]).success();
    folder.run(&["new", "jobs/two", "--blank"]).success();
    let number = |path: &str| {
        let text = folder.read(path);
        text.lines().find(|line| line.starts_with("number = ")).unwrap().to_owned()
    };
    let (one, two) = (number("jobs/one/job.toml"), number("jobs/two/job.toml"));
    assert!(one.ends_with("-0001\"  # <--") && two.ends_with("-0002\"  # <--"), "{one}, {two}");
}

#[test]
fn a_file_that_is_there_is_never_changed() {
    let folder = Folder::of("smallest");
    let before = folder.read("job.toml");
    let ran =
        folder.run(&["new"]).code(5).err_has("job.toml is there already; nothing was written");
    ran.err_has("`slableaf check job.toml` looks at it");
    assert_eq!(folder.read("job.toml"), before);
    folder.run(&["new", "shop"]).code(5).err_has("shop.toml is there already");
    folder.run(&["new", "book", "--blank"]).code(5).err_has("`slableaf new book FILE`");
    folder.run(&["new", "book.toml"]).code(2).err_has("`slableaf new book book.toml` starts one");
}

/// Nobody is there to be asked: a blank file with its comments, and the schema beside it.
#[test]
fn without_a_terminal_it_writes_templates_that_load() {
    let folder = Folder::of("smallest");
    for (arguments, name, kind) in [
        (vec!["new", "visits/quill"], "visits/quill/job.toml", keys::FileKind::Job),
        (vec!["new", "shop", "own"], "own/shop.toml", keys::FileKind::Shop),
        (
            vec!["new", "book", "own/prices.toml", "--blank"],
            "own/prices.toml",
            keys::FileKind::Book,
        ),
    ] {
        folder.run(&arguments).success().out_has(&format!("wrote {name}\n"));
        let text = folder.read(name);
        // A job has a number of its own in it.
        let blank = keys::template(kind);
        let numbered = text.lines().find(|line| line.starts_with("number = ")).unwrap_or_default();
        let same = |line: &&str| !line.starts_with("number = ");
        assert!(text.lines().filter(same).eq(blank.lines().filter(same)));
        assert_eq!(numbered.is_empty(), kind != keys::FileKind::Job);
        let schema = folder.path(name).with_file_name(kind.schema_file());
        assert_eq!(std::fs::read_to_string(schema).unwrap(), keys::schema_text(kind));
    }
    folder.run(&["write", "visits/quill/job.toml", "--draft"]).success();
}

/// Three blank files go together: a job with every floor that ships makes a paper that says that all is
/// invented.
#[test]
fn blank_files_work_together() {
    let folder = Folder::empty();
    folder.run(&["new", "book", "--blank"]).success().out_has("next: slableaf new shop\n");
    folder.run(&["new", "shop", "--blank"]).success().out_has("next: slableaf new\n");
    folder.run(&["new", "visit", "--blank"]).success();
    let offer = "offer = [\"barrier\", \"fast-cure\"]";
    let all = "offer = [\"barrier\", \"fast-cure\", \"clear-epoxy\", \"water-kit\"]";
    let job = folder.read("visit/job.toml");
    assert!(job.contains(offer));
    let cracked = "\n[[crack]]\nlength = \"9 ft\"\nwidth = \"1/8 in\"\n";
    let folder = folder.write("visit/job.toml", job.replace(offer, all) + cracked);
    folder.run(&["check", "visit/job.toml"]).code(1).out_has("first: barrier, which waits");
    folder.run(&["write", "visit/job.toml"]).success().out_has("the floor that comes first waits");
}

/// A schema of ours is brought up to date; what only has its name is somebody's.
#[test]
fn a_schema_is_renewed_and_another_file_of_its_name_is_not() {
    let schema = keys::schema_text(keys::FileKind::Job);
    let older = schema.replacen("\"type\"", "\"description\": \"older\", \"type\"", 1);
    assert_ne!(older, schema);
    for (there, after) in [(older.as_str(), schema.as_str()), ("{}", "{}"), ("\u{e9}", "\u{e9}")] {
        let folder = Folder::of("smallest").write("new/job.schema.json", there);
        folder.run(&["new", "new"]).success();
        assert_eq!(folder.read("new/job.schema.json"), after);
    }
}

/// `shop` alone is the shop file; a folder of that name is a folder.
#[test]
fn a_folder_may_be_called_as_a_kind_of_file() {
    let folder = Folder::of("smallest");
    folder.run(&["new", "./shop"]).success().out_has("wrote shop/job.toml");
    run_in(&crate::fixture::root(), &["new", "--help"]).success().out_has("Example: slableaf new");
}
