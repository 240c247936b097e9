//! The shell: arguments, files, terminal. All contact with the outside world is in here.

pub mod args;
mod accepted;
mod batch;
mod book;
mod check;
pub mod choices;
mod desk;
mod estimate;
mod explain;
mod files;
mod folder;
mod hands;
mod hints;
mod issue;
mod layouts;
mod lock;
mod mail;
mod materials;
mod new;
mod outlook;
mod prepare;
mod records;
mod revise;
mod named;
mod prices;
mod reprice;
mod schema;
mod since;
mod stock;
mod terminal;
mod today;
mod texts;
mod verify;
mod watch;
mod write;

use std::process::ExitCode;

use args::{Arguments, Verb};
pub use terminal::to_stderr;

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    Fine = 0,
    /// `check` found a stop or a floor that waits; `verify` found a difference.
    Stop = 1,
    /// Mistakes in a file.
    Input = 2,
    /// `reprice` could not read or write some of the jobs; the others were done.
    Partly = 3,
    /// The paper would not fit or print.
    Paper = 4,
    /// A file could not be read or written.
    Files = 5,
    /// A fault of the program.
    Bug = 70,
    /// A mistake in the line that was typed: to the shell the same as [`Exit::Input`].
    Line = 102,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(if exit == Exit::Line { Exit::Input as u8 } else { exit as u8 })
    }
}

/// Runs a verb; where it could not do its work, says at the end what to type next.
pub fn run(arguments: Arguments) -> Exit {
    let Some(verb) = arguments.verb else { return hints::greet() };
    let job = verb.job();
    let exit = done(verb);
    hints::next(exit, job.as_deref());
    exit
}

fn done(verb: Verb) -> Exit {
    match verb {
        Verb::New(wanted) => new::new(&wanted),
        Verb::Check(look) => check::check(&look),
        Verb::Estimate(wanted) => estimate::estimate(&wanted),
        Verb::Write(write) => write::write(&write),
        Verb::Mail(mail) => mail::mail(&mail),
        Verb::Verify(wanted) => verify::verify(&wanted),
        Verb::Prepare(prepare) => prepare::prepare(&prepare),
        Verb::Book(wanted) => book::book(&wanted.verb),
        Verb::Reprice(wanted) => reprice::reprice(&wanted),
        Verb::Explain(wanted) => explain::explain(&wanted),
        Verb::Schema(wanted) => schema::schema(&wanted),
        Verb::Layouts(wanted) => layouts::layouts(&wanted),
        Verb::Completions(wanted) => hints::completions(&wanted),
        Verb::Manual(wanted) => hints::manual(&wanted),
    }
}
