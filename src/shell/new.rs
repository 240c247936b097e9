//! `new`: asks at the terminal, and writes the file that the answers make.

mod lines;
mod near;
mod room;

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use slableaf::base::layouts::Layouts;
use slableaf::base::source::Diagnostic;
use slableaf::interview::{Interview, Kind, Question, Reply, Trouble, numbered};
use slableaf::read::keys;
use slableaf::say::words::{InterviewText, Words, WordsError};

use crate::shell::Exit;
use crate::shell::args::{New, NewFile};
use crate::shell::files::{self, Kept, folder_of};
use crate::shell::hints::{self, as_typed};
use crate::shell::new::lines::{Line, Lines};
use crate::shell::new::near::Near;
use crate::shell::schema::{Put, put};
use crate::shell::terminal::{self, wrapped};
use crate::shell::texts::shown;

pub fn new(wanted: &New) -> Exit {
    let (kind, path, blank) = match &wanted.file {
        None => (Kind::Job, &wanted.job, wanted.blank),
        Some(NewFile::Shop(shop)) => (Kind::Shop, &shop.file, shop.blank || wanted.blank),
        Some(NewFile::Book(book)) => (Kind::Book, &book.file, book.blank || wanted.blank),
    };
    started(kind, path.as_deref(), blank).unwrap_or_else(|exit| exit)
}

fn started(kind: Kind, given: Option<&Path>, blank: bool) -> Result<Exit, Exit> {
    let path = chosen(kind, given)?;
    if path.symlink_metadata().is_ok() {
        return Err(there_already(kind, &path));
    }
    if blank || !std::io::stdin().is_terminal() {
        let blank = keys::template(kind.keys());
        let text = match kind {
            Kind::Job => numbered(&blank, &near::free_number(&path)),
            Kind::Shop | Kind::Book => blank,
        };
        written(kind, &path, &text)?;
        schema_beside(kind.keys(), &folder_of(&path))?;
        terminal::say("  a template: put your own in the place of what it marks");
        next_steps(kind, &path);
        return Ok(Exit::Fine);
    }
    room::tried(&path)?;
    let layouts = Layouts::default();
    let unread = |error: WordsError| terminal::words(&error, &layouts);
    let words = Words::read(&layouts, "en").map_err(unread)?;
    let text = InterviewText::read(&layouts, "en").map_err(unread)?;
    let near = Near::of(kind, &path, &words)?;
    let talk = Talk { kind, path: &path, layouts: &layouts, near: &near };
    let mut interview = Interview::new(kind, &near.setting, &words, &text);
    talk.opens();
    let mut lines = Lines::new().map_err(|why| {
        terminal::error(&format!("cannot read from this terminal: {why}"));
        terminal::help("`--blank` writes a template without questions");
        Exit::Files
    })?;
    talk.hold(&mut interview, &mut lines)
}

/// The file that is meant: a folder gets a file of the usual name.
fn chosen(kind: Kind, given: Option<&Path>) -> Result<PathBuf, Exit> {
    let usual = format!("{}.toml", kind.name());
    let Some(given) = given else { return Ok(PathBuf::from(usual)) };
    let is_file = given.extension().is_some_and(|end| end == "toml");
    let path = if given.is_dir() || !is_file { given.join(&usual) } else { given.to_owned() };
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    for other in [Kind::Book, Kind::Shop] {
        if kind == Kind::Job && name == format!("{}.toml", other.name()) {
            let verb = other.name();
            terminal::error(&format!("`{name}` is no name for a job: it is that of a {verb} file"));
            terminal::help(&format!("`slableaf new {verb} {}` starts one", shown(&path)));
            return Err(Exit::Input);
        }
    }
    Ok(path)
}

fn there_already(kind: Kind, path: &Path) -> Exit {
    terminal::error(&format!("{} is there already; nothing was written", shown(path)));
    terminal::help(&match kind {
        Kind::Job => format!(
            "`slableaf check {}` looks at it; `slableaf new FOLDER` starts another job",
            shown(path)
        ),
        Kind::Shop | Kind::Book => {
            format!("open it in an editor, or name another: `slableaf new {} FILE`", kind.name())
        }
    });
    Exit::Files
}

/// Writes the file where there is none.
fn written(kind: Kind, path: &Path, text: &str) -> Result<(), Exit> {
    match files::keep(path, text.as_bytes(), false)? {
        Kept::Written => {
            terminal::say(&format!("wrote {}", shown(path)));
            Ok(())
        }
        Kept::Exists => Err(there_already(kind, path)),
    }
}

/// Puts the schema beside the file, for editors. One of ours is brought up to date; a file of that
/// name that is not ours stays as it is.
fn schema_beside(kind: keys::FileKind, folder: &Path) -> Result<(), Exit> {
    if let (path, Put::Written) = put(kind, folder)? {
        terminal::say(&format!("wrote {}, by which an editor knows its keys", shown(&path)));
    }
    Ok(())
}

fn next_steps(kind: Kind, path: &Path) {
    let shown = as_typed(path);
    match kind {
        Kind::Job => {
            let folder = folder_of(path);
            for (name, what) in [("book", "price book"), ("shop", "shop file")] {
                if near::nearest(&folder, name).is_none() {
                    terminal::say(&format!("  there is no {what} yet: `slableaf new {name}`"));
                }
            }
            terminal::say(&format!("  next: slableaf check {shown}"));
            terminal::say(&format!("        slableaf write {shown}"));
        }
        Kind::Shop | Kind::Book => {
            let other = if kind == Kind::Shop { "book" } else { "shop" };
            let lacks = near::nearest(&folder_of(path), other).is_none();
            let next = if lacks { format!("new {other}") } else { "new".to_owned() };
            terminal::say(&format!("  next: slableaf {next}"));
        }
    }
}

/// A conversation about one file.
struct Talk<'a> {
    kind: Kind,
    path: &'a Path,
    layouts: &'a Layouts,
    near: &'a Near,
}

impl Talk<'_> {
    fn opens(&self) {
        let opens = format!("This asks for {} and writes it at the end.", shown(self.path));
        let enter = "Enter takes what stands in brackets, or says that it is not known.";
        let words = "`back` goes back, `?` says more, `done` stops early.";
        for line in [opens.as_str(), enter, words] {
            terminal::say(&wrapped(line, 0));
        }
        for line in &self.near.said {
            terminal::say(&wrapped(line, 0));
        }
    }

    fn no_words(&self, error: &WordsError) -> Exit {
        terminal::words(error, self.layouts)
    }

    /// Asks until nothing is left, then writes.
    fn hold(&self, interview: &mut Interview<'_>, lines: &mut Lines) -> Result<Exit, Exit> {
        let mut topic = String::new();
        let no_words = |error: WordsError| self.no_words(&error);
        loop {
            let Some(question) = interview.ask().map_err(no_words)? else {
                if self.is_right(interview, lines)? {
                    self.writes(interview, lines)?;
                    return Ok(Exit::Fine);
                }
                continue;
            };
            if question.topic != topic {
                let (step, of) = question.step;
                terminal::say(&format!("\n{} ({step} of {of})", question.topic));
                topic.clone_from(&question.topic);
            }
            say_question(&question);
            let line = match lines.read(&prompt(&question)) {
                Line::Typed(line) => line,
                Line::Interrupted => {
                    tell(INTERRUPTED);
                    continue;
                }
                ended => return self.ended(interview, lines, ended),
            };
            match interview.answer(&line).map_err(no_words)? {
                Reply::Taken(said) | Reply::Help(said) => said.iter().for_each(|line| tell(line)),
                Reply::Refused { message, help } => tell_refused(&message, help.iter()),
                Reply::Back => topic.clear(),
                Reply::NoWayBack => tell("this is the first question"),
                Reply::StillNeeded(needed) => tell_needed(&needed),
                Reply::Finished => {}
            }
        }
    }

    /// Looks at the whole file; goes back to the question of the first problem.
    fn is_right(&self, interview: &mut Interview<'_>, lines: &mut Lines) -> Result<bool, Exit> {
        let troubles = interview.troubles().map_err(|error| self.no_words(&error))?;
        let (own, others): (Vec<_>, Vec<_>) =
            troubles.into_iter().partition(|trouble| !trouble.questions.is_empty());
        others.iter().for_each(|trouble| tell_problem(&trouble.problem));
        let Some(Trouble { problem, questions, sentence }) = own.into_iter().next() else {
            return Ok(true);
        };
        tell_problem(&problem);
        terminal::say(&format!("\n{}", wrapped(&format!("Back to: {sentence}"), 2)));
        tell("Enter goes there; `write` writes the file as it is.");
        loop {
            match lines.read("  [back to it] > ") {
                Line::Typed(line) if line.trim().eq_ignore_ascii_case("write") => return Ok(true),
                Line::Typed(_) => {
                    interview.return_to(&questions);
                    return Ok(false);
                }
                Line::Interrupted => tell("Ctrl-C once more stops without a file."),
                _ => return Err(self.nothing("stopped")),
            }
        }
    }

    /// Writes the file; where that cannot be, where else it is wanted, so that no answer is lost.
    fn writes(&self, interview: &Interview<'_>, lines: &mut Lines) -> Result<(), Exit> {
        let text = interview.file().map_err(|error| self.no_words(&error))?.text;
        let mut path = self.path.to_owned();
        while let Err(exit) = written(self.kind, &path, &text) {
            tell("Where else shall it go? Type a path; Enter shows its text here.");
            path = match lines.read("  [show it] > ") {
                Line::Typed(line) if !line.trim().is_empty() => {
                    match chosen(self.kind, Some(Path::new(line.trim()))) {
                        Ok(other) => other,
                        Err(_) => continue,
                    }
                }
                Line::Interrupted => continue,
                _ => {
                    terminal::say(&format!("\n{text}"));
                    return Err(exit);
                }
            };
        }
        // The file is there, whatever becomes of what helps an editor.
        schema_beside(self.kind.keys(), &folder_of(&path))?;
        if self.kind != Kind::Job {
            terminal::say(
                "  what you were not asked is invented: look it through before you use it",
            );
        }
        next_steps(self.kind, &path);
        Ok(())
    }

    /// The end of the input, or Ctrl-C twice. At the end of the input what is there is written, if
    /// it is enough.
    fn ended(
        &self,
        interview: &mut Interview<'_>,
        lines: &mut Lines,
        ended: Line,
    ) -> Result<Exit, Exit> {
        let no_words = |error: WordsError| self.no_words(&error);
        let why = match ended {
            Line::Typed(_) | Line::Interrupted | Line::Stopped => {
                return Err(self.nothing("stopped"));
            }
            Line::Ended => "the input ended".to_owned(),
            // A terminal that was closed cannot be read.
            Line::Failed(why) => format!("cannot read from this terminal: {why}"),
        };
        if interview.is_enough().map_err(no_words)? {
            interview.done().map_err(no_words)?;
            self.writes(interview, lines)?;
            return Ok(Exit::Fine);
        }
        if let Reply::StillNeeded(needed) = interview.done().map_err(no_words)? {
            tell_needed(&needed);
        }
        Err(self.nothing(&why))
    }

    /// Says that there is no file.
    fn nothing(&self, why: &str) -> Exit {
        terminal::error(&format!("{why}; {} was not written", shown(self.path)));
        hints::stopped();
        Exit::Input
    }
}

/// What is said to the first Ctrl-C.
const INTERRUPTED: &str = "`done` writes what there is. Ctrl-C once more stops without a file.";

fn tell_needed(needed: &[String]) {
    tell("still needed before it can be written:");
    needed.iter().for_each(|sentence| tell(&format!("- {sentence}")));
}

/// Says something below a question.
fn tell(text: &str) {
    terminal::say(&wrapped(text, 4));
}

/// Says why something is not taken, and what to do.
fn tell_refused<'h>(message: &str, help: impl Iterator<Item = &'h String>) {
    tell(message);
    help.for_each(|help| tell(&format!("help: {help}")));
}

fn tell_problem(problem: &Diagnostic) {
    tell_refused(&problem.message, problem.help.iter());
}

fn say_question(question: &Question) {
    terminal::say(&wrapped(&question.ask, 2));
    let width = question.choices.iter().map(|(word, _)| word.chars().count()).max().unwrap_or(0);
    for (at, (word, meaning)) in question.choices.iter().enumerate() {
        let head = format!("      {} {word:<width$}  ", at + 1);
        let indent = head.chars().count();
        let meaning = wrapped(meaning, indent);
        let behind = meaning.strip_prefix(&" ".repeat(indent)).unwrap_or_default();
        terminal::say(format!("{head}{behind}").trim_end());
    }
    question.hint.iter().for_each(|hint| tell(hint));
    question.example.iter().for_each(|example| tell(&format!("For example: {example}")));
}

/// What stands before the cursor: what Enter alone says.
fn prompt(question: &Question) -> String {
    match &question.enter {
        Some(enter) => format!("  [{}] > ", terminal::printable(enter)),
        None => "  > ".to_owned(),
    }
}
