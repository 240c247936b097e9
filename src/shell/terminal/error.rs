//! The error of the shell, as a value: functions return it, and it is printed once where a verb or a
//! job of many ends.

use std::fmt;
use std::io::{self, ErrorKind};
use std::path::Path;
use std::process::ExitCode;

use slableaf::base::layouts::Layouts;
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::say::overlay;
use slableaf::say::words::WordsError;

use crate::shell::terminal::{brief, shown};

/// The end of a run, as its exit code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    Fine = 0,
    /// `check` or `prepare` met a floor that is stopped or waits; `verify` found a difference.
    Stop = 1,
    /// Mistakes in a file.
    Input = 2,
    /// Some of many jobs could not be read or written; the others were done.
    Partly = 3,
    /// The paper would not fit or print.
    Paper = 4,
    /// A file could not be read or written.
    Files = 5,
    /// A fault of the program.
    Bug = 70,
    /// A mistake in the line that was typed: to the system the same as [`Exit::Input`].
    Line = 102,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(if exit == Exit::Line { Exit::Input as u8 } else { exit as u8 })
    }
}

/// The result of a piece of work of the shell.
pub type Result<T, E = Error> = std::result::Result<T, E>;

/// The reason why a piece of work could not be done.
#[derive(Debug)]
pub struct Error {
    pub exit: Exit,
    /// True when the person stopped the run, so that there is nothing to mend.
    pub stopped: bool,
    pub cause: Cause,
    /// Lines of advice.
    pub help: Vec<String>,
}

#[derive(Debug)]
pub enum Cause {
    Message(String),
    /// Mistakes in files, with the files as they were read.
    Problems(Vec<Diagnostic>, Vec<SourceFile>),
}

/// Turns an error of the system into one that names the file.
pub trait OrCannot<T> {
    /// The value, or the error that `action` could not be done to a file.
    fn or_cannot(self, action: &str, path: &Path) -> Result<T>;
}

impl<T> OrCannot<T> for io::Result<T> {
    fn or_cannot(self, action: &str, path: &Path) -> Result<T> {
        self.map_err(|error| Error::cannot(action, path, &error))
    }
}

impl Error {
    pub fn new(exit: Exit, message: impl Into<String>) -> Self {
        let cause = Cause::Message(message.into());
        Self { exit, stopped: false, cause, help: vec![] }
    }

    /// Mistakes in files that a person wrote.
    pub fn problems(problems: Vec<Diagnostic>, files: Vec<SourceFile>) -> Self {
        let cause = Cause::Problems(problems, files);
        Self { exit: Exit::Input, stopped: false, cause, help: vec![] }
    }

    /// A file that could not be read, written and so on.
    pub fn cannot(action: &str, path: &Path, error: &io::Error) -> Self {
        let missing = error.kind() == ErrorKind::NotFound && action == "read";
        let exit = if missing { Exit::Input } else { Exit::Files };
        Self::new(exit, format!("cannot {action} {}: {error}", shown(path)))
    }

    /// Words that cannot be used: a fault in a words file.
    pub fn words(error: &WordsError, layouts: &Layouts) -> Self {
        let problem = overlay::locate(error, layouts);
        Self::problems(vec![problem], layouts.source_files("")).exit(Exit::Paper)
    }

    /// Adds a line of advice.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help.push(help.into());
        self
    }

    pub fn exit(self, exit: Exit) -> Self {
        Self { exit, ..self }
    }

    /// The first line of the message, without place and advice.
    pub fn message(&self) -> String {
        let message = match &self.cause {
            Cause::Message(message) => message,
            Cause::Problems(problems, _) => problems.first().map_or("", |first| &first.message),
        };
        brief(message).lines().next().unwrap_or_default().to_owned()
    }
}

/// File and line of a problem, as they stand before its message; nothing for one that has no place.
pub fn place(problem: &Diagnostic, files: &[SourceFile]) -> String {
    let Some(span) = &problem.span else { return String::new() };
    let file = files.iter().find(|file| file.name == span.file);
    let before = file.and_then(|file| file.text.get(..span.bytes.start));
    let line = before.unwrap_or_default().matches('\n').count() + 1;
    format!("{}:{line}: ", span.file)
}

/// One line: the message with its advice, or the first problem with its file and line, and how many
/// more there are.
impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (problems, files) = match &self.cause {
            Cause::Message(message) => {
                write!(f, "{message}")?;
                return self.help.iter().try_for_each(|help| write!(f, "; {help}"));
            }
            Cause::Problems(problems, files) => (problems, files),
        };
        let Some(first) = problems.first() else { return Ok(()) };
        write!(f, "{}{}", place(first, files), first.message)?;
        match problems.len() - 1 {
            0 => Ok(()),
            more => write!(f, " (and {more} more; `slableaf check` lists them)"),
        }
    }
}
