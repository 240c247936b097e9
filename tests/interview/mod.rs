//! The questions of `new`: what is answered is what the file means; what is refused is refused in
//! the words of the reader; whatever is typed, the file loads or says what is missing.

mod answers;
#[cfg(any(target_os = "linux", target_vendor = "apple"))]
mod at_hand;
mod blank;
mod kept;
mod laid;
mod laws;
mod moisture_tests;
mod more;
mod products;
mod shop_and_book;
mod stopping;
#[cfg(any(target_os = "linux", target_vendor = "apple"))]
mod terminal;
mod typed;
mod visit_sheet;
mod whole;
mod wording;

use std::collections::BTreeSet;
use std::sync::LazyLock;

use jiff::civil::Date;
use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::interview::laid::to_record;
use slableaf::interview::{Interview, InterviewKind, Question, Reply, Setting, neutral};
use slableaf::model::job::Job;
use slableaf::read::{Shared, read_job};
use slableaf::say::words::{InterviewText, Words};

use crate::fixture::words;

const TODAY: Date = Date::constant(2026, 5, 12);

static WORDS: LazyLock<Words> = LazyLock::new(words);

static TEXT: LazyLock<InterviewText> =
    LazyLock::new(|| InterviewText::read(&Layouts::default(), "en").unwrap());

/// A setting with the neutral book as the shop's own.
static SETTING: LazyLock<Setting> = LazyLock::new(setting);

fn setting() -> Setting {
    let (book, shop) = neutral();
    let shared = Shared::read(&book, &shop, &Layouts::default().source_files("systems/"));
    let mut setting = Setting::new("job.toml".into(), TODAY, shared, &WORDS);
    setting.book_found = true;
    setting.photos = vec!["photos/door.jpg".into(), "photos/slab.png".into()];
    setting
}

/// A setting for a product behind the book of a shop with poured floors, and for a floor of its products.
static POURED: LazyLock<Setting> = LazyLock::new(|| {
    let (_, shop) = neutral();
    let below = include_str!("../../examples/solid-color/book.toml").to_owned();
    let book = SourceFile { name: "book.toml".into(), text: below.clone() };
    let shared = Shared::read(&book, &shop, &Layouts::default().source_files("systems/"));
    let mut setting = Setting::new("book.toml".into(), TODAY, shared, &WORDS);
    setting.products = slableaf::read::read_book(&book).unwrap().products.len();
    Setting { below, book_found: true, ..setting }
});

/// A setting for a floor of those products.
static FLOOR: LazyLock<Setting> = LazyLock::new(|| {
    let file = "systems/new.toml".into();
    Setting { file, below: String::new(), ..POURED.clone() }
});

/// A setting for the coats of a floor that was accepted.
static LAID: LazyLock<Setting> = LazyLock::new(|| {
    let signed = "\n[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-14\n";
    let below = include_str!("../../examples/signed-and-changed/job.toml").to_owned() + signed;
    let job = read_job(&SourceFile { name: "job.toml".into(), text: below.clone() });
    let mut setting = setting();
    setting.to_record = to_record(&job.alone().unwrap(), &setting.shared);
    Setting { below, ..setting }
});

/// Answers by the question: what it asks for is not a matter of its place in the row.
struct Visit<'a> {
    interview: Interview<'a>,
    /// Everything that was said in return.
    said: Vec<String>,
    asked: Vec<String>,
}

impl<'a> Visit<'a> {
    fn new(kind: InterviewKind) -> Visit<'static> {
        Visit::within(&SETTING, kind)
    }

    fn within(setting: &'a Setting, kind: InterviewKind) -> Self {
        let interview = Interview::new(kind, setting, &WORDS, &TEXT);
        Self { interview, said: vec![], asked: vec![] }
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

    /// Goes through rows of a question, a line that is typed, and the start of the refusal; without
    /// one the line is taken. What is asked before a question is left as Enter says.
    #[track_caller]
    fn talk(&mut self, rows: &[(&str, &str, &str)]) {
        for (id, line, refusal) in rows {
            self.until(id);
            if refusal.is_empty() {
                self.takes(line);
            } else {
                let (said, _) = self.refuses(line);
                assert!(said.starts_with(refusal), "{id}, `{line}`: {said}");
            }
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
