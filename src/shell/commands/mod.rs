//! The verbs, one file each, and the one place where they are run and their errors are printed.

mod batch;
mod book;
mod check;
mod completions;
mod estimate;
mod estimate_spaces;
mod estimate_view;
mod similar;
mod explain;
mod layouts;
mod mail;
mod mail_handover;
mod mail_signed;
mod manual;
mod new;
mod prepare;
mod reprice;
mod reprice_table;

mod roll;
mod roll_table;
mod schema;
mod verify;
mod watch;
mod write;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use crate::shell::args::{Arguments, Verb};
use crate::shell::store;
use crate::shell::terminal::{Exit, Report, Result, hints};

/// Serves as the process apart that typesets with a shop's own layouts, when it was started as one.
pub fn serve_apart() -> Option<ExitCode> {
    (std::env::args_os().nth(1)? == store::APART).then(store::serve)
}

/// Runs a verb; where it could not do its work, says at the end what to type next.
pub fn run(arguments: Arguments) -> Exit {
    let mut report = Report::default();
    let Some(verb) = arguments.verb else {
        report.say(GREETING);
        report.flush();
        return Exit::Fine;
    };
    // The panic hook has told of a panic.
    let result = catch_unwind(AssertUnwindSafe(|| dispatch(&verb, &mut report)));
    let (exit, stopped) = match result {
        Err(_) => (Exit::Bug, false),
        Ok(Ok(exit)) => (exit, false),
        Ok(Err(error)) => {
            report.error(&error);
            (error.exit, error.stopped)
        }
    };
    report.flush();
    hints::print_next(exit, stopped, verb.job());
    exit
}

fn dispatch(verb: &Verb, report: &mut Report) -> Result<Exit> {
    match verb {
        Verb::New(wanted) => new::new(wanted, report),
        Verb::Check(wanted) => check::check(wanted, report),
        Verb::Estimate(wanted) => estimate::estimate(wanted, report),
        Verb::Write(wanted) => write::write(wanted, report),
        Verb::Mail(wanted) => mail::mail(wanted, report),
        Verb::Verify(wanted) => verify::verify(wanted, report),
        Verb::Prepare(wanted) => prepare::prepare(wanted, report),
        Verb::Book(wanted) => book::book(&wanted.verb, report),

        Verb::Roll(wanted) => roll::roll(wanted, report),
        Verb::Reprice(wanted) => reprice::reprice(wanted, report),
        Verb::Explain(wanted) => explain::explain(wanted, report),
        Verb::Schema(wanted) => schema::schema(wanted, report),
        Verb::Layouts(wanted) => layouts::layouts(wanted, report),
        Verb::Completions(wanted) => completions::completions(wanted, report),
        Verb::Manual(wanted) => manual::manual(wanted, report),
    }
}

/// The greeting of a run without arguments.
const GREETING: &str = "\
slableaf writes the proposal for a garage floor: what was found, what each layer does, the price.

  slableaf new               asks what a visit found, and writes job.toml
  slableaf check job.toml    says what could go wrong
  slableaf write job.toml    writes the proposal as a PDF

The first time, `slableaf new shop` and `slableaf new book` start your shop file and price book.
`slableaf help` lists all verbs; the guide in the README goes by task.";
