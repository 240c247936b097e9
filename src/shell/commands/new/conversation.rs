//! The conversation of `new`: questions, answers, and the file at the end.

use std::path::{Path, PathBuf};

use slableaf::base::layouts::Layouts;
use slableaf::base::source::Diagnostic;
use slableaf::interview::{Interview, InterviewKind, Question, Reply, Trouble};
use slableaf::say::words::WordsError;
use unicode_width::UnicodeWidthStr as _;

use crate::shell::commands::new::in_book::add_product;
use crate::shell::commands::new::in_job::add_records;
use crate::shell::commands::new::kept::Kept;
use crate::shell::commands::new::lines::{Line, Lines};
use crate::shell::commands::new::surroundings::pictures;
use crate::shell::commands::new::{chosen_path, say_next_steps, write_file, write_schema};
use crate::shell::store::folder_of;
use crate::shell::terminal::{
    Error, Exit, Report, Result, WIDTH, counted, printable, shown, wrapped,
};

/// Says how the conversation goes.
pub fn say_opening(kind: InterviewKind, path: &Path, notes: &[String], report: &mut Report) {
    let opening = match kind {
        InterviewKind::Product => {
            format!("This asks for a product and puts it into {} at the end.", shown(path))
        }
        InterviewKind::Laid => {
            format!("This asks how the floor was laid and puts it into {} at the end.", shown(path))
        }
        InterviewKind::System => {
            let folder = shown(&folder_of(path));
            format!("This asks for a floor and writes it into {folder} at the end.")
        }
        _ => format!("This asks for {} and writes it at the end.", shown(path)),
    };
    let enter = "Enter takes what stands in brackets, or says that it is not known.";
    let words = "`back` goes back, `?` says more, `done` stops early.";
    for line in [opening.as_str(), enter, words].into_iter().chain(notes.iter().map(String::as_str))
    {
        report.say(wrapped(line, WIDTH, 0));
    }
}

/// A conversation about one file.
pub struct Conversation<'a> {
    pub kind: InterviewKind,
    pub path: &'a Path,
    /// The file that a product is put behind, as it was at the start.
    pub below: &'a str,
    pub layouts: &'a Layouts,
    pub interview: Interview<'a>,
    pub lines: Lines,
    pub kept: Kept,
    pub report: &'a mut Report,
}

impl<'a> Conversation<'a> {
    fn no_words(&self) -> impl Fn(WordsError) -> Error + 'a {
        let layouts = self.layouts;
        move |error| Error::words(&error, layouts)
    }

    /// Waits for a line that is typed.
    fn read_line(&mut self, prompt: &str) -> Line {
        self.report.flush();
        self.lines.read(prompt)
    }

    /// Asks until nothing is left, then writes.
    pub fn hold(mut self) -> Result<Exit> {
        let mut topic = String::new();
        let no_words = self.no_words();
        self.go_on_from_kept()?;
        loop {
            if self.kind == InterviewKind::Job {
                // Whoever copies photos into the folder meanwhile finds them.
                self.interview.photos_are(pictures(&folder_of(self.path)));
            }
            let Some(question) = self.interview.ask().map_err(&no_words)? else {
                if self.is_right()? {
                    return self.write();
                }
                continue;
            };
            if question.topic != topic {
                let (step, of) = question.step;
                self.report.say(format!("\n{} ({step} of {of})", question.topic));
                topic.clone_from(&question.topic);
            }
            self.say_question(&question);
            let line = match self.read_line(&prompt(&question)) {
                Line::Typed(line) => line,
                Line::Interrupted => {
                    self.tell(INTERRUPTED);
                    continue;
                }
                ended => return self.end(ended),
            };
            match self.interview.answer(&line).map_err(&no_words)? {
                Reply::Taken(lines) => {
                    lines.iter().for_each(|line| self.tell(line));
                    self.keep();
                }
                Reply::Help(lines) => lines.iter().for_each(|line| self.tell(line)),
                Reply::Refused { message, help } => self.tell_refused(&message, &help),
                Reply::Back => topic.clear(),
                Reply::NoWayBack => self.tell("this is the first question"),
                Reply::StillNeeded(needed) => self.tell_needed(&needed),
                Reply::Finished => {}
            }
        }
    }

    /// Goes on from answers that an earlier conversation left behind, if one wants to.
    fn go_on_from_kept(&mut self) -> Result<()> {
        let answers = self.kept.read();
        if answers.is_empty() {
            return Ok(());
        }
        let found = counted(answers.len(), "answer");
        let says = format!("{found} of an earlier time were kept, since no file was written then.");
        self.report.say(format!("\n{}", wrapped(&says, WIDTH, 2)));
        self.tell("Enter goes on from them; `new` forgets them and starts over.");
        loop {
            match self.read_line("  [go on] > ") {
                Line::Typed(line) if line.trim().eq_ignore_ascii_case("new") => {
                    self.kept.forget();
                    return Ok(());
                }
                Line::Typed(line) if line.trim().is_empty() => {
                    self.interview.go_on(answers);
                    return Ok(());
                }
                Line::Typed(_) => self.tell("Enter, or `new`."),
                Line::Interrupted => self.tell("Ctrl-C once more stops; the answers stay."),
                _ => return Err(self.not_written("stopped")),
            }
        }
    }

    /// Keeps the answers so far. Where they cannot be kept the conversation goes on all the same.
    fn keep(&mut self) {
        let _ = self.kept.keep(&self.interview.kept());
    }

    /// Looks at the whole file; goes back to the question of the first problem.
    fn is_right(&mut self) -> Result<bool> {
        let troubles = self.interview.troubles().map_err(self.no_words())?;
        let (own, others): (Vec<_>, Vec<_>) =
            troubles.into_iter().partition(|trouble| !trouble.questions.is_empty());
        others.iter().for_each(|trouble| self.tell_problem(&trouble.problem));
        let Some(Trouble { problem, questions, sentence }) = own.into_iter().next() else {
            return Ok(true);
        };
        self.tell_problem(&problem);
        self.report.say(format!("\n{}", wrapped(&format!("Back to: {sentence}"), WIDTH, 2)));
        self.tell("Enter goes there; `write` writes the file as it is.");
        loop {
            match self.read_line("  [back to it] > ") {
                Line::Typed(line) if line.trim().eq_ignore_ascii_case("write") => return Ok(true),
                Line::Typed(_) => {
                    self.interview.return_to(&questions);
                    return Ok(false);
                }
                Line::Interrupted => self.tell("Ctrl-C once more stops without a file."),
                _ => return Err(self.not_written("stopped")),
            }
        }
    }

    /// Writes the file; asks for another place if it cannot be written there, so that no answer is lost.
    fn write(&mut self) -> Result<Exit> {
        let text = self.interview.file().map_err(self.no_words())?.text;
        let mut path = self.written_path();
        while let Err(error) = self.put(&path, &text) {
            self.report.error(&error);
            self.tell("Where else shall it go? Type a path; Enter shows its text here.");
            match self.read_line("  [show it] > ") {
                Line::Typed(line) if !line.trim().is_empty() => {
                    match chosen_path(self.kind, Some(Path::new(line.trim()))) {
                        Ok(other) => path = other,
                        Err(error) => self.report.error(&error),
                    }
                }
                Line::Interrupted => {}
                _ => {
                    self.report.say(format!("\n{text}"));
                    return Ok(error.exit);
                }
            }
        }
        self.kept.forget();
        // The file is there, whatever becomes of the schema that helps an editor.
        write_schema(self.kind.keys(), &path, self.report)?;
        if matches!(self.kind, InterviewKind::Shop | InterviewKind::Book) {
            self.report
                .say("  what you were not asked is invented: look it through before you use it");
        }
        say_next_steps(self.kind, &path, self.report);
        Ok(Exit::Fine)
    }

    /// The place of the file: that of a floor has the floor's short name.
    fn written_path(&self) -> PathBuf {
        match (self.kind, self.interview.kept().get("system.key")) {
            (InterviewKind::System, Some(key)) => self.path.with_file_name(format!("{key}.toml")),
            _ => self.path.to_owned(),
        }
    }

    fn put(&mut self, path: &Path, text: &str) -> Result<()> {
        match self.kind {
            InterviewKind::Product => add_product(path, self.below, text, self.report),
            InterviewKind::Laid => add_records(path, self.below, text, self.report),
            kind => write_file(kind, path, text, self.report),
        }
    }

    /// The end of the input, or Ctrl-C twice. At the end of the input what is there is written, if
    /// it is enough.
    fn end(&mut self, ended: Line) -> Result<Exit> {
        let no_words = self.no_words();
        let why = match ended {
            Line::Typed(_) | Line::Interrupted | Line::Stopped => {
                return Err(self.not_written("stopped"));
            }
            Line::Ended => "the input ended".to_owned(),
            // A terminal that was closed cannot be read.
            Line::Failed(why) => format!("cannot read from this terminal: {why}"),
        };
        if self.interview.is_enough().map_err(&no_words)? {
            self.interview.done().map_err(&no_words)?;
            return self.write();
        }
        if let Reply::StillNeeded(needed) = self.interview.done().map_err(&no_words)? {
            self.tell_needed(&needed);
        }
        Err(self.not_written(&why))
    }

    /// The error of a run that ends without a file.
    fn not_written(&self, why: &str) -> Error {
        let message = match self.kind {
            InterviewKind::Product | InterviewKind::System | InterviewKind::Laid => {
                format!("{why}; nothing was written")
            }
            _ => format!("{why}; {} was not written", shown(self.path)),
        };
        let error = Error { stopped: true, ..Error::new(Exit::Input, message) };
        match self.kept.read().len() {
            0 => error,
            count => error.help(format!(
                "{} kept: the same command goes on from there",
                if count == 1 {
                    "your answer is".into()
                } else {
                    format!("your {count} answers are")
                }
            )),
        }
    }

    fn tell_needed(&mut self, needed: &[String]) {
        self.tell("still needed before it can be written:");
        needed.iter().for_each(|sentence| self.tell(&format!("- {sentence}")));
    }

    /// Says something below a question.
    fn tell(&mut self, text: &str) {
        self.report.say(wrapped(text, WIDTH, 4));
    }

    /// Says why something is not taken, and what to do.
    fn tell_refused(&mut self, message: &str, help: &[String]) {
        self.tell(message);
        help.iter().for_each(|help| self.tell(&format!("help: {help}")));
    }

    fn tell_problem(&mut self, problem: &Diagnostic) {
        self.tell_refused(&problem.message, &problem.help);
    }

    fn say_question(&mut self, question: &Question) {
        self.report.say(wrapped(&question.ask, WIDTH, 2));
        let width = question.choices.iter().map(|(word, _)| word.width()).max().unwrap_or(0);
        for (at, (word, meaning)) in question.choices.iter().enumerate() {
            let blank = " ".repeat(width - word.width());
            let head = format!("      {} {word}{blank}  ", at + 1);
            let meaning = wrapped(meaning, WIDTH, head.width());
            self.report.say(format!("{head}{}", meaning.trim_start()).trim_end());
        }
        question.hint.iter().for_each(|hint| self.tell(hint));
        question.example.iter().for_each(|example| self.tell(&format!("For example: {example}")));
    }
}

/// The answer to the first Ctrl-C.
const INTERRUPTED: &str = "`done` writes what there is. Ctrl-C once more stops without a file.";

/// The text before the cursor: the meaning of Enter alone.
fn prompt(question: &Question) -> String {
    match &question.enter {
        Some(enter) => format!("  [{}] > ", printable(enter)),
        None => "  > ".to_owned(),
    }
}
