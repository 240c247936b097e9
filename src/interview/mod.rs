//! The questions of `new`: from nothing to a job file, a shop file or a price book.
//!
//! Pure: whoever holds the terminal shows a [`Question`], passes the typed line to
//! [`Interview::answer`] and shows the [`Reply`]. Answers are kept as a file has them, by question;
//! the flow (`visit`, `shapes`, `moisture`, `started`) is run anew over them after each one (`run`),
//! writes the file (`draft`), and the file is read by the code that reads any file.

pub mod typed;
pub mod choice;
mod moment;
mod zone;
pub mod ask;
pub mod draft;
pub mod run;
pub mod visit;
pub mod setting;
pub mod shown;
mod shapes;
mod moisture;
mod started;
pub mod product;
pub mod laid;
mod system;
mod refusals;
mod view;

use std::ops::Range;

use jiff::civil::{Date, DateTime};
use minijinja::context;
use toml_edit::DocumentMut;

use crate::base::source::{Diagnostic, SourceFile};
use crate::interview::ask::{AnswerForm, Ask};
use crate::interview::draft::Draft;
use crate::interview::refusals::{is_news, literal, refused};
use crate::interview::run::{Answers, Mark, Run};
use crate::interview::shown::there;
use crate::price::case;
use crate::read::limits;
use crate::read::{self, Input};
use crate::say::words::{InterviewText, Words, WordsError};
use crate::site::standing::Standing;

pub use setting::{
    FloorKnown, InterviewKind, Setting, neutral, next_number, numbered, started_book,
};
pub use shown::Question;

/// The reply to a typed line.
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

/// A problem of the whole file, and the questions whose answers stand there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    pub problem: Diagnostic,
    /// Their ids: one, or all of a table. None when the problem is in another file.
    pub questions: Vec<String>,
    /// The sentence of the first of them.
    pub sentence: String,
}

/// An interview: the answers so far, and what follows from them.
#[derive(Debug, Clone)]
pub struct Interview<'a> {
    kind: InterviewKind,
    setting: &'a Setting,
    words: &'a Words,
    text: &'a InterviewText,
    answers: Answers,
    /// The answers that one went back to.
    former: Answers,
    /// The number of answers when one stopped early: from then on only what is needed is asked.
    stopped_after: Option<usize>,
    base: Option<DocumentMut>,
    /// Pictures that are in the job's folder now.
    photos: Vec<String>,
    /// The number of topics.
    topics: usize,
}

/// The date of the paper whose tests are the examples.
const EXAMPLE_PAPER: Date = Date::constant(2026, 5, 12);

/// Questions that are filled in at the most, to see what a file would be.
const FILLED: usize = 100;

impl<'a> Interview<'a> {
    pub fn new(
        kind: InterviewKind,
        setting: &'a Setting,
        words: &'a Words,
        text: &'a InterviewText,
    ) -> Self {
        let mut new = Self {
            kind,
            setting,
            words,
            text,
            answers: Answers::new(),
            former: Answers::new(),
            stopped_after: None,
            base: kind.base(),
            photos: setting.photos.clone(),
            topics: 0,
        };
        let (answers, _) = new.filled();
        new.topics = new.run(&answers, true).0.topics;
        new
    }

    /// A pass over the questions with what was answered, and the question at which it ended.
    fn run_so_far(&self) -> (Run<'_>, Option<Box<Ask>>) {
        self.run(&self.answers, self.stopped_after.is_some())
    }

    fn run<'b>(&'b self, answers: &'b Answers, brief: bool) -> (Run<'b>, Option<Box<Ask>>) {
        let draft = match self.kind {
            InterviewKind::Product | InterviewKind::Laid => Draft::behind(&self.setting.below),
            _ => Draft::of(self.base.as_ref()),
        };
        let mut run = Run::new(self.setting, &self.photos, answers, brief, &self.former, draft);
        let flow = match self.kind {
            InterviewKind::Job => visit::visit(&mut run),
            InterviewKind::Shop => started::shop(&mut run),
            InterviewKind::Book => started::book(&mut run),
            InterviewKind::Product => product::product(&mut run),
            InterviewKind::System => system::floor(&mut run),
            InterviewKind::Laid => laid::coats(&mut run),
        };
        (run, flow.err())
    }

    /// The question that stands; `None` when all were asked.
    ///
    /// # Errors
    /// [`WordsError`] when a question has no words.
    pub fn ask(&self) -> Result<Option<Question>, WordsError> {
        let (run, open) = self.run_so_far();
        open.map(|open| self.shown(&self.with_default(*open), &run)).transpose()
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
        let (before, open) = self.run_so_far();
        let Some(open) = open else { return Ok(Reply::Finished) };
        let open = self.with_default(*open);
        let meanings = self.meanings(&open);
        let here = self.here(&open, &before, &meanings)?;
        let text = match (typed, &open.default) {
            ("", Some(default)) => default.clone(),
            _ => match open.plainly(literal(typed), &here) {
                Ok(text) => text,
                Err(untaken) => return Ok(untaken.into()),
            },
        };
        if let Err(fault) = open.read(&text) {
            return Ok(refused(&open, fault, &here.example));
        }
        let id = open.id();
        let taken = self
            .number_taken(&id, &text)
            .or_else(|| self.name_taken(&id, &text))
            .or_else(|| self.over_the_whole(&id, &text));
        if let Some(refusal) = taken {
            return Ok(refusal);
        }
        let mut said = vec![];
        if is_news(&open, typed, &text) {
            said.push(self.said("taken", &context! { value => text.as_str() })?);
        }
        let marks = before.marks;
        self.answers.insert(id.clone(), text);
        if let Some(refusal) = self.refusal(&id) {
            self.answers.remove(&id);
            return Ok(refusal);
        }
        self.former.remove(&id);
        if id == "product.kind" {
            // Each kind has topics of its own.
            self.topics = self.run(&self.filled().0, true).0.topics;
        }
        let after = self.run_so_far().0.marks;
        for mark in after.into_iter().filter(|mark| !marks.contains(mark)) {
            said.extend(self.view(mark)?);
        }
        Ok(Reply::Taken(said))
    }

    /// Goes to the question that was answered last; right after `done`, to where one stopped.
    pub fn back(&mut self) -> Reply {
        let asked = self.run_so_far().0.asked;
        if self.stopped_after.is_some_and(|count| asked.len() <= count) {
            self.stopped_after = None;
            return Reply::Back;
        }
        let Some(last) = asked.last() else { return Reply::NoWayBack };
        self.return_to(std::slice::from_ref(last));
        Reply::Back
    }

    /// Asks some questions again; the answers to all others stay.
    pub fn return_to(&mut self, ids: &[String]) {
        for id in ids {
            if let Some(typed) = self.answers.remove(id) {
                self.former.insert(id.clone(), typed);
            }
        }
    }

    /// Stops early: only what the file cannot do without is still asked.
    ///
    /// # Errors
    /// [`WordsError`] when a question has no words.
    pub fn done(&mut self) -> Result<Reply, WordsError> {
        *self = self.early();
        let (_, needed) = self.filled();
        if needed.is_empty() {
            return Ok(Reply::Finished);
        }
        let sentences = needed.iter().map(|(topic, ask)| self.named(topic, ask));
        Ok(Reply::StillNeeded(sentences.collect::<Result<_, _>>()?))
    }

    /// The same, stopped here. What one has gone back to counts as it was answered.
    fn early(&self) -> Self {
        let mut early = Self { answers: self.kept(), former: Answers::new(), ..self.clone() };
        early.stopped_after = Some(early.run(&early.answers, true).0.asked.len());
        early
    }

    /// True when the file loads with what is there.
    ///
    /// # Errors
    /// As [`Interview::file`].
    pub fn is_enough(&self) -> Result<bool, WordsError> {
        let early = self.early();
        let own = |trouble: &Trouble| !trouble.questions.is_empty();
        Ok(early.filled().1.is_empty() && !early.troubles()?.iter().any(own))
    }

    /// All that was answered, also to questions that one has gone back to: to be kept until one goes on.
    pub fn kept(&self) -> Answers {
        self.former.clone().into_iter().chain(self.answers.clone()).collect()
    }

    /// Goes on with answers that were kept; those that no question takes any more are asked again.
    pub fn go_on(&mut self, kept: Answers) {
        self.answers = kept;
    }

    /// Tells which pictures are in the job's folder now.
    pub fn photos_are(&mut self, photos: Vec<String>) {
        self.photos = photos;
    }

    // ------------------------------------------------------------------------------- the file

    /// The text of the file with what was answered.
    ///
    /// # Errors
    /// [`WordsError`] when the file's head has no words.
    pub fn file(&self) -> Result<SourceFile, WordsError> {
        self.written(&self.run_so_far().0)
    }

    fn written(&self, run: &Run<'_>) -> Result<SourceFile, WordsError> {
        let name = self.kind.name();
        let head = match self.kind {
            InterviewKind::Product | InterviewKind::Laid => "",
            _ => there(self.text.heads.get(name), &format!("heads.{name}"))?,
        };
        let kind = self.kind.keys();
        let comment = |path: &str| kind.file().below(path).map(|table| table.what);
        let text = run.draft.text(&kind.schema_line(0), head, &comment);
        Ok(SourceFile { name: self.setting.file.clone(), text })
    }

    /// Returns the problems of the file as a whole.
    ///
    /// # Errors
    /// As [`Interview::file`].
    pub fn troubles(&self) -> Result<Vec<Trouble>, WordsError> {
        let (run, _) = self.run_so_far();
        let file = self.written(&run)?;
        let trouble = |problem: Diagnostic| {
            let span = problem.span.as_ref().filter(|span| span.file == file.name);
            let questions =
                span.map_or(vec![], |span| run.draft.owners_at(&span.bytes, &file.text));
            let first = questions.first();
            let sentence = first.map_or(Ok(String::new()), |first| self.sentence_of(first))?;
            Ok(Trouble { problem, questions, sentence })
        };
        self.problems(&file).into_iter().map(trouble).collect()
    }

    fn problems(&self, file: &SourceFile) -> Vec<Diagnostic> {
        match self.kind {
            InterviewKind::Job | InterviewKind::Laid => self.joined(file).err(),
            InterviewKind::Shop => read::read_shop(file).err(),
            InterviewKind::Book | InterviewKind::Product => read::read_book(file).err(),
            InterviewKind::System => Some(self.setting.shared.problems_of_system(file)),
        }
        .unwrap_or_default()
    }

    fn joined(&self, file: &SourceFile) -> Result<Input, Vec<Diagnostic>> {
        self.setting.shared.join(read::read_job(file), None)
    }

    /// Returns the problem that the readers of the whole file find in the answer that was just given.
    fn refusal(&self, id: &str) -> Option<Reply> {
        let (run, _) = self.run_so_far();
        let file = self.written(&run).ok()?;
        let spans = run.draft.spans_of(id, &file.text);
        let within = |bytes: &Range<usize>| {
            spans.iter().any(|span| span.start <= bytes.start && bytes.end <= span.end)
        };
        let problem = self.problems(&file).into_iter().find(|problem| {
            let span = problem.span.as_ref();
            span.is_some_and(|span| span.file == file.name && within(&span.bytes))
        })?;
        Some(Reply::Refused { message: problem.message, help: problem.help })
    }

    /// The answers with what is still needed filled in by examples, and the questions for that, each
    /// with its topic.
    fn filled(&self) -> (Answers, Vec<(&'static str, Ask)>) {
        let mut answers = self.kept();
        let mut needed = vec![];
        for _ in 0..FILLED {
            let (run, open) = self.run(&answers, true);
            let Some(ask) = open else { break };
            let topic = run.topic;
            answers.insert(ask.id(), self.filler(&ask));
            needed.push((topic, *ask));
        }
        (answers, needed)
    }

    /// An answer that does, whatever is right.
    fn filler(&self, ask: &Ask) -> String {
        if let Some(default) = &ask.default {
            return default.clone();
        }
        match &ask.kind.form {
            AnswerForm::Words(words) => first_of(words),
            // Examples of one table go together, as a job needs it.
            AnswerForm::Text | AnswerForm::Bare => {
                let text = self.text(ask).ok();
                let example = text.and_then(|text| self.example(ask, text, false));
                self.dated(example.unwrap_or_else(|| ask.kind.example()))
            }
            _ => ask.kind.example(),
        }
    }

    /// An example with a moment in it, as long before the paper as it is before the example's paper.
    fn dated(&self, example: String) -> String {
        let moment = Some(&example).filter(|example| example.contains(':'));
        let Some(Ok(moment)) = moment.map(|example| example.parse::<DateTime>()) else {
            return example;
        };
        let paper = self.answers.get("job.date").and_then(|date| date.parse::<Date>().ok());
        let paper = paper.unwrap_or(self.setting.today);
        let moved = EXAMPLE_PAPER.until(paper).and_then(|span| moment.checked_add(span));
        moved.map_or(example, |moved| moved.strftime("%Y-%m-%d %H:%M").to_string())
    }

    // --------------------------------------------------------------------------- what is shown

    fn view(&self, mark: Mark) -> Result<Vec<String>, WordsError> {
        let mut so_far = self.clone();
        if matches!(mark, Mark::Dish(_)) {
            // Holes that are still to come have no say in what the dishes tell.
            so_far.answers.insert("moisture.method".to_owned(), "dishes".to_owned());
        }
        let file = so_far.filled_file()?;
        let input = || self.joined(&file).ok();
        let book = || read::read_book(&file).ok();
        let said = match self.kind {
            InterviewKind::Job => input().map(|input| view::of_job(self, mark, &input)),
            InterviewKind::Book => book().map(|book| view::of_book(self, mark, &book)),
            InterviewKind::Product => book().map(|book| view::of_product(self, &book)),
            InterviewKind::System => {
                let book = self.setting.shared.book();
                let read = self.setting.shared.with_system(&file);
                read.zip(book).map(|(system, book)| view::of_system(self, mark, &system, book))
            }
            InterviewKind::Laid => input().map(|input| view::of_laid(self, mark, &input)),
            InterviewKind::Shop => None,
        };
        said.unwrap_or(Ok(vec![]))
    }

    /// The file with what is still needed filled in.
    fn filled_file(&self) -> Result<SourceFile, WordsError> {
        let (answers, _) = self.filled();
        self.written(&self.run(&answers, true).0)
    }

    /// A question with what was answered before one went back as its default; for the floors, else
    /// those that the slab is not too damp for.
    fn with_default(&self, mut ask: Ask) -> Ask {
        let offer = ask.group == "job" && ask.key == "offer";
        if let Some(former) = self.former.get(&ask.id()) {
            ask.default = Some(former.clone()).filter(|former| !former.is_empty());
        } else if offer {
            let possible = self.possible();
            let fit = first_of(if possible.is_empty() { ask.kind.words() } else { &possible });
            ask.default = Some(fit).filter(|fit| !fit.is_empty());
        }
        ask
    }

    /// The floors whose limit no reading is over.
    fn possible(&self) -> Vec<String> {
        let file = self.filled_file().ok();
        let Some(input) = file.and_then(|file| self.joined(&file).ok()) else { return vec![] };
        let case = case::case(&input);
        let fit = case.options.iter().filter(|one| one.moisture.standing != Standing::Over);
        fit.map(|choice| choice.key().0.clone()).collect()
    }
}

/// As many of the words as a file may have, as one types them.
fn first_of(words: &[String]) -> String {
    words[..words.len().min(limits::OPTIONS)].join(", ")
}
