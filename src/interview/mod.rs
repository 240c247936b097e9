//! The questions of `new`: from nothing to a job file, a shop file or a price book.
//!
//! Pure: whoever holds the terminal shows a [`Question`], passes the typed line to
//! [`Interview::answer`] and shows the [`Reply`]. Answers are kept as they were typed, by question;
//! the flow (`visit`, `shapes`, `moisture`, `started`) is run anew over them after each one (`run`),
//! writes the file (`draft`), and the file is read by the code that reads any file.

pub mod ask;
pub mod draft;
pub mod run;
pub mod visit;
mod shapes;
mod moisture;
mod started;
mod view;

use std::ops::Range;

use jiff::civil::Date;
use minijinja::context;
use toml_edit::DocumentMut;

use crate::input::job::JobNames;
use crate::input::limits;
use crate::input::scalar::{Fault, Key};
use crate::input::{self, Input, Shared, link};
use crate::interview::ask::{Ask, Form, Need};
use crate::interview::run::{Answers, Mark, Run};
use crate::keys;
use crate::options;
use crate::site::moisture::Standing;
use crate::source::{Diagnostic, Located, Problems, SourceFile, Span};
use crate::words::{QuestionText, Words, WordsError, fill};

/// Which file is being written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Job,
    Shop,
    Book,
}

impl Kind {
    /// Its name in file names and in the words.
    pub fn name(self) -> &'static str {
        self.keys().word()
    }

    /// The same kind among those that have keys.
    pub fn keys(self) -> keys::Kind {
        match self {
            Self::Job => keys::Kind::Job,
            Self::Shop => keys::Kind::Shop,
            Self::Book => keys::Kind::Book,
        }
    }

    /// The neutral file that answers go into.
    fn base(self) -> Option<DocumentMut> {
        match self {
            Self::Job => None,
            Self::Shop => draft::neutral(started::SHOP),
            Self::Book => draft::neutral(started::BOOK),
        }
    }
}

/// A floor that the book can supply.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FloorKnown {
    pub key: Key,
    pub name: String,
    /// What may be added to it.
    pub extras: Vec<Key>,
}

/// What is known about the new file before anything is asked.
#[derive(Debug, Clone)]
pub struct Setting {
    /// The name of the file, for messages.
    pub file: String,
    pub today: Date,
    /// The number that a new job gets when nobody says otherwise.
    pub number: String,
    /// Pictures in the job's folder, by their paths in it.
    pub photos: Vec<String>,
    /// Book, shop file and systems: those that were found, else the neutral ones.
    pub shared: Shared,
    /// True when the book is the shop's own.
    pub book_found: bool,
    pub floors: Vec<FloorKnown>,
}

impl Setting {
    /// The floors are those that the book can supply.
    pub fn new(file: String, today: Date, shared: Shared, words: &Words) -> Self {
        let floors = floors(&shared, words);
        let number = next_number(today, &[]);
        Self { file, today, number, photos: vec![], shared, book_found: false, floors }
    }
}

/// The systems whose products the book has, in the order of their keys.
fn floors(shared: &Shared, words: &Words) -> Vec<FloorKnown> {
    let supplied = |key: &Key| {
        let problems = Problems::default();
        let offer = vec![Located { value: key.clone(), span: Span::default() }];
        let names = JobNames { offer, extras: vec![] };
        link::link(&names, shared.book(), shared.systems(), &problems);
        problems.is_empty()
    };
    let known = shared.systems().iter().filter(|system| supplied(&system.key));
    known
        .map(|system| {
            let own = system.words.as_ref().map(|words| words.name.clone());
            let name = words.systems.get(&system.key.0).map(|words| words.name.clone());
            let extras = system.coats.iter().filter_map(|coat| coat.extra.clone()).collect();
            let name = own.or(name).unwrap_or_else(|| system.key.0.clone());
            FloorKnown { key: system.key.clone(), name, extras }
        })
        .collect()
}

/// The year, and one more than the highest number of it: `2026-0143`.
pub fn next_number(today: Date, known: &[String]) -> String {
    let year = format!("{}-", today.year());
    let numbers = known.iter().filter_map(|number| {
        let number = number.strip_prefix(&year)?;
        number.parse::<u32>().ok().filter(|_| number.len() <= 6)
    });
    format!("{year}{:04}", numbers.max().unwrap_or(0) + 1)
}

/// The neutral book and shop file, and the systems that ship: for who has none yet.
pub fn neutral() -> (SourceFile, SourceFile) {
    let file = |name: &str, text: &str| SourceFile {
        name: format!("(built in) {name}"),
        text: text.to_owned(),
    };
    (file("book.toml", started::BOOK), file("shop.toml", started::SHOP))
}

/// A question as it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    pub id: String,
    pub topic: String,
    /// Which topic it belongs to, and how many there are.
    pub step: (usize, usize),
    pub ask: String,
    pub hint: Option<String>,
    pub example: Option<String>,
    /// Words that may be chosen, with what they mean.
    pub choices: Vec<(String, String)>,
    /// What Enter alone stands for; `None` when there has to be an answer.
    pub enter: Option<String>,
}

/// What became of a typed line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reply {
    /// It was taken; what the answers mean now, where that is new.
    Taken(Vec<String>),
    /// It was not, and why, and what to write instead. The same question stands.
    Refused { message: String, help: Vec<String> },
    /// More about the question.
    Help(Vec<String>),
    /// The question before stands again, with what was answered as its default.
    Back,
    /// There is no question before.
    NoWayBack,
    /// Asked to stop, these answers are missing before the file can be written; only they are asked.
    StillNeeded(Vec<String>),
    /// Nothing is left to be asked.
    Finished,
}

/// What is wrong with the whole file, and the question whose answer stands there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    pub problem: Diagnostic,
    /// Its id, and its sentence. `None` when the problem is in another file.
    pub question: Option<(String, String)>,
}

/// An interview: the answers so far, and what follows from them.
#[derive(Debug, Clone)]
pub struct Interview<'a> {
    kind: Kind,
    setting: &'a Setting,
    words: &'a Words,
    answers: Answers,
    /// What was answered before one went back.
    former: Answers,
    brief: bool,
    base: Option<DocumentMut>,
    /// How many topics there are.
    topics: usize,
}

/// Questions that are filled in at the most, to see what a file would be.
const FILLED: usize = 100;

impl<'a> Interview<'a> {
    pub fn new(kind: Kind, setting: &'a Setting, words: &'a Words) -> Self {
        let (answers, former) = (Answers::new(), Answers::new());
        let base = kind.base();
        let new = Self { kind, setting, words, answers, former, brief: false, base, topics: 0 };
        let (answers, _) = new.filled();
        let topics = new.run(&answers, true).0.topics;
        Self { topics, ..new }
    }

    fn run<'b>(&'b self, answers: &'b Answers, brief: bool) -> (Run<'b>, Option<Box<Ask>>) {
        let mut run = Run::new(self.setting, answers, brief, self.base.as_ref());
        let flow = match self.kind {
            Kind::Job => visit::visit(&mut run),
            Kind::Shop => started::shop(&mut run),
            Kind::Book => started::book(&mut run),
        };
        (run, flow.err())
    }

    /// The question that stands; `None` when all were asked.
    ///
    /// # Errors
    /// [`WordsError`] when a question has no words.
    pub fn ask(&self) -> Result<Option<Question>, WordsError> {
        let (run, open) = self.run(&self.answers, self.brief);
        let Some(open) = open else { return Ok(None) };
        let open = self.with_default(*open);
        self.shown(&open, &run).map(Some)
    }

    /// Takes a line: an answer, or `back`, `done`, `?`.
    ///
    /// # Errors
    /// [`WordsError`] when a question or a view has no words.
    pub fn answer(&mut self, line: &str) -> Result<Reply, WordsError> {
        let typed = line.trim();
        match typed.to_lowercase().as_str() {
            "back" => return Ok(self.back()),
            "done" => return self.done(),
            "?" | "help" => return self.help(),
            _ => {}
        }
        let (before, open) = self.run(&self.answers, self.brief);
        let Some(open) = open else { return Ok(Reply::Finished) };
        let (marks, open) = (before.marks, self.with_default(*open));
        let text = match (typed, &open.default) {
            ("", Some(default)) => default.clone(),
            _ => literal(typed).to_owned(),
        };
        if let Err(fault) = open.read(&text) {
            return Ok(refused(&open, fault));
        }
        let id = open.id();
        self.answers.insert(id.clone(), text);
        if let Some(refusal) = self.refusal(&id) {
            self.answers.remove(&id);
            return Ok(refusal);
        }
        self.former.remove(&id);
        let (after, _) = self.run(&self.answers, self.brief);
        let new = after.marks.iter().filter(|mark| !marks.contains(mark));
        let mut said = vec![];
        for mark in new.copied().collect::<Vec<_>>() {
            said.extend(self.view(mark)?);
        }
        Ok(Reply::Taken(said))
    }

    /// Goes to the question that was answered last.
    pub fn back(&mut self) -> Reply {
        let (run, _) = self.run(&self.answers, self.brief);
        match run.asked.last().cloned() {
            Some(last) => {
                self.return_to(&last);
                Reply::Back
            }
            None => Reply::NoWayBack,
        }
    }

    /// Asks a question again; the answers to all others stay.
    pub fn return_to(&mut self, id: &str) {
        self.brief = false;
        if let Some(typed) = self.answers.remove(id) {
            self.former.insert(id.to_owned(), typed);
        }
    }

    /// Stops early: only what the file cannot do without is still asked.
    ///
    /// # Errors
    /// [`WordsError`] when a question has no words.
    pub fn done(&mut self) -> Result<Reply, WordsError> {
        self.brief = true;
        let (_, needed) = self.filled();
        if needed.is_empty() {
            return Ok(Reply::Finished);
        }
        let sentences = needed.iter().map(|ask| self.sentence(ask));
        Ok(Reply::StillNeeded(sentences.collect::<Result<_, _>>()?))
    }

    /// True when the file loads with what is there.
    ///
    /// # Errors
    /// As [`Interview::file`].
    pub fn is_enough(&self) -> Result<bool, WordsError> {
        let early = Self { brief: true, ..self.clone() };
        let own = |trouble: &Trouble| trouble.question.is_some();
        Ok(early.filled().1.is_empty() && !early.troubles()?.iter().any(own))
    }

    fn help(&self) -> Result<Reply, WordsError> {
        let (run, open) = self.run(&self.answers, self.brief);
        let Some(open) = open else { return Ok(Reply::Finished) };
        let text = self.text(&open)?;
        let mut lines = vec![];
        for part in [&text.help, &text.hint].into_iter().flatten() {
            lines.push(self.filled_in(&open, part)?);
        }
        let path = open.path();
        if let Some(key) = keys::find(self.kind.keys(), &path) {
            lines.push(self.said("key", &context! { path, what => key.what })?);
        }
        if let Some(example) = self.example(&open, text, run.metric) {
            lines.push(self.said("example", &context! { example })?);
        }
        lines.push(self.said("commands", &context! {})?);
        Ok(Reply::Help(lines))
    }

    // ------------------------------------------------------------------------------- the file

    /// The text of the file with what was answered.
    ///
    /// # Errors
    /// [`WordsError`] when the file's head has no words.
    pub fn file(&self) -> Result<SourceFile, WordsError> {
        let (run, _) = self.run(&self.answers, self.brief);
        let text = self.written(&run)?;
        Ok(SourceFile { name: self.setting.file.clone(), text })
    }

    fn written(&self, run: &Run<'_>) -> Result<String, WordsError> {
        let words = &self.words.interview;
        let name = self.kind.name();
        let place = format!("interview.toml: heads.{name}");
        let missing = || WordsError::new(place.as_str(), "is missing");
        let head = words.heads.get(name).ok_or_else(missing)?;
        let kind = self.kind.keys();
        let keys = kind.file();
        let comment = |path: &str| what_for(&keys, path);
        Ok(run.draft.text(&kind.schema_line(), head, &comment))
    }

    /// What is wrong with the file as a whole.
    ///
    /// # Errors
    /// As [`Interview::file`].
    pub fn troubles(&self) -> Result<Vec<Trouble>, WordsError> {
        let file = self.file()?;
        let (run, _) = self.run(&self.answers, self.brief);
        let trouble = |problem: Diagnostic| {
            let span = problem.span.as_ref().filter(|span| span.file == file.name);
            let owner = span.and_then(|span| run.draft.owner_at(&span.bytes, &file.text));
            let question = match owner {
                Some(owner) => Some((owner.to_owned(), self.sentence_of(owner)?)),
                None => None,
            };
            Ok(Trouble { problem, question })
        };
        self.problems(&file).into_iter().map(trouble).collect()
    }

    fn problems(&self, file: &SourceFile) -> Vec<Diagnostic> {
        match self.kind {
            Kind::Job => self.joined(file).err(),
            Kind::Shop => input::read_shop(file).err(),
            Kind::Book => input::read_book(file).err(),
        }
        .unwrap_or_default()
    }

    fn joined(&self, file: &SourceFile) -> Result<Input, Vec<Diagnostic>> {
        self.setting.shared.join(input::read_job(file), None)
    }

    /// What the readers of the whole file say against the answer that was just given.
    fn refusal(&self, id: &str) -> Option<Reply> {
        let (run, _) = self.run(&self.answers, self.brief);
        let text = self.written(&run).ok()?;
        let spans = run.draft.spans_of(id, &text);
        let file = SourceFile { name: self.setting.file.clone(), text };
        let within = |bytes: &Range<usize>| {
            spans.iter().any(|span| span.start <= bytes.start && bytes.end <= span.end)
        };
        let problem = self.problems(&file).into_iter().find(|problem| {
            let span = problem.span.as_ref();
            span.is_some_and(|span| span.file == file.name && within(&span.bytes))
        })?;
        Some(Reply::Refused { message: problem.message, help: problem.help })
    }

    /// The file with what is still needed filled in by examples, and the questions for that.
    fn filled(&self) -> (Answers, Vec<Ask>) {
        let mut answers = self.answers.clone();
        let mut needed = vec![];
        for _ in 0..FILLED {
            let (_, open) = self.run(&answers, true);
            let Some(ask) = open else { break };
            answers.insert(ask.id(), self.filler(&ask));
            needed.push(*ask);
        }
        (answers, needed)
    }

    /// An answer that does, whatever is right.
    fn filler(&self, ask: &Ask) -> String {
        match (&ask.kind.form, &ask.default) {
            (Form::Words(words), None) => {
                words.iter().take(limits::OPTIONS).cloned().collect::<Vec<_>>().join(", ")
            }
            (_, Some(default)) => default.clone(),
            _ => ask.kind.example(),
        }
    }

    // --------------------------------------------------------------------------- what is shown

    fn view(&self, mark: Mark) -> Result<Vec<String>, WordsError> {
        let (answers, _) = self.filled();
        let (run, _) = self.run(&answers, true);
        let file = SourceFile { name: self.setting.file.clone(), text: self.written(&run)? };
        match self.kind {
            Kind::Job => match self.joined(&file) {
                Ok(input) => view::of_job(mark, &input, self.setting, self.words),
                Err(_) => Ok(vec![]),
            },
            Kind::Book => match input::read_book(&file) {
                Ok(book) => view::of_book(mark, &book, self.words),
                Err(_) => Ok(vec![]),
            },
            Kind::Shop => Ok(vec![]),
        }
    }

    /// A question with what was answered before one went back as its default; for the floors, else
    /// those that the slab is not too damp for.
    fn with_default(&self, mut ask: Ask) -> Ask {
        let offer = ask.group == "job" && ask.key == "offer";
        if let Some(former) = self.former.get(&ask.id()) {
            ask.default = Some(former.clone()).filter(|former| !former.is_empty());
        } else if offer {
            let possible = self.possible();
            let fit = if possible.is_empty() { ask.kind.words().to_vec() } else { possible };
            let fit: Vec<String> = fit.into_iter().take(limits::OPTIONS).collect();
            ask.default = Some(fit.join(", ")).filter(|fit| !fit.is_empty());
        }
        ask
    }

    /// The floors whose limit no reading is over.
    fn possible(&self) -> Vec<String> {
        let (answers, _) = self.filled();
        let (run, _) = self.run(&answers, true);
        let Ok(text) = self.written(&run) else { return vec![] };
        let file = SourceFile { name: self.setting.file.clone(), text };
        let Ok(input) = self.joined(&file) else { return vec![] };
        let case = options::case(&input);
        let fit = case.options.iter().filter(|one| one.moisture.standing != Standing::Over);
        fit.map(|choice| choice.key().0.clone()).collect()
    }

    fn shown(&self, ask: &Ask, run: &Run<'_>) -> Result<Question, WordsError> {
        let text = self.text(ask)?;
        let hint = text.hint.as_ref().map(|hint| self.filled_in(ask, hint)).transpose()?;
        // The second time one knows how it goes, and `?` still tells.
        let again = is_again(ask, text);
        let meaning = |word: &String| {
            let floor = self.setting.floors.iter().find(|floor| floor.key.0 == *word);
            let said = text.words.get(word).cloned();
            said.or_else(|| floor.map(|floor| floor.name.clone())).unwrap_or_default()
        };
        let choices = ask.kind.words().iter().map(|word| (word.clone(), meaning(word)));
        let topics = &self.words.interview.topics;
        let example = self.example(ask, text, run.metric).filter(|_| ask.default.is_none());
        let enter = match (&ask.default, ask.need, &text.enter) {
            (Some(default), _, _) => Some(default.clone()),
            (None, Need::May, Some(enter)) => Some(enter.clone()),
            (None, Need::May, None) => Some(self.said("not-known", &context! {})?),
            (None, _, _) => None,
        };
        Ok(Question {
            id: ask.id(),
            topic: topics.get(run.topic).cloned().unwrap_or_default(),
            step: (run.topics, self.topics),
            ask: self.sentence(ask)?,
            hint: hint.filter(|_| !again),
            example: example.filter(|_| !again),
            choices: choices.collect(),
            enter,
        })
    }

    fn example(&self, ask: &Ask, text: &QuestionText, metric: bool) -> Option<String> {
        let own = text.metric.as_ref().filter(|_| metric).or(text.example.as_ref());
        match (&ask.kind.form, own) {
            (_, Some(own)) => Some(own.clone()),
            (Form::YesNo | Form::Word(_) | Form::Words(_) | Form::Picture(_), None) => None,
            (Form::Place, None) => Some(ask.kind.example()),
            _ => {
                let key = keys::find(self.kind.keys(), &ask.path())?;
                Some(draft::as_typed(&key.example)).filter(|example| !example.is_empty())
            }
        }
    }

    fn sentence(&self, ask: &Ask) -> Result<String, WordsError> {
        let text = self.text(ask)?;
        let sentence = text.next.as_ref().filter(|_| is_again(ask, text)).unwrap_or(&text.ask);
        self.filled_in(ask, sentence)
    }

    fn filled_in(&self, ask: &Ask, template: &str) -> Result<String, WordsError> {
        let place = format!("interview.toml: ask.{}.{}", ask.group, ask.key);
        let first = ask.nth.first().copied().unwrap_or(1);
        let last = ask.nth.last().copied().unwrap_or(1);
        fill(template, &context! { n => first, line => last, about => ask.about.as_str() }, &place)
    }

    /// The sentence of a question that was answered, by its id.
    fn sentence_of(&self, id: &str) -> Result<String, WordsError> {
        let mut answers = self.answers.clone();
        answers.remove(id);
        let (_, open) = self.run(&answers, self.brief);
        match open.filter(|open| open.id() == id) {
            Some(open) => self.sentence(&open),
            None => Ok(id.to_owned()),
        }
    }

    fn text(&self, ask: &Ask) -> Result<&'a QuestionText, WordsError> {
        let Ask { group, key, .. } = ask;
        let found = self.words.interview.ask.get(*group).and_then(|group| group.get(*key));
        let missing =
            || WordsError::new(format!("interview.toml: ask.{group}.{key}"), "is missing");
        found.ok_or_else(missing)
    }

    fn said(&self, name: &str, values: &minijinja::Value) -> Result<String, WordsError> {
        let place = format!("interview.toml: view.{name}");
        let missing = || WordsError::new(place.as_str(), "is missing");
        let template = self.words.interview.view.get(name).ok_or_else(missing)?;
        fill(template, values, &place)
    }
}

/// What a table is for, by its path.
fn what_for(file: &keys::Table, path: &str) -> Option<String> {
    let mut table = file;
    for step in path.split('.') {
        table = table.tables.iter().find(|below| below.name == step)?;
    }
    Some(table.what.to_owned())
}

/// True for the second thing of a list and those after it.
fn is_again(ask: &Ask, text: &QuestionText) -> bool {
    text.next.is_some() && ask.nth.last().is_some_and(|n| *n > 1)
}

/// A word in quotes is an answer, whatever it means without them: `"done"`.
fn literal(typed: &str) -> &str {
    let inside = typed.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
    let reserved =
        |inside: &&str| ["back", "done", "?", "help"].contains(&inside.to_lowercase().as_str());
    inside.filter(reserved).unwrap_or(typed)
}

fn refused(ask: &Ask, fault: Fault) -> Reply {
    Reply::Refused {
        message: format!("`{}` {}", ask.key, fault.message),
        help: fault.help.into_iter().collect(),
    }
}
