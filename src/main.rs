//! The command line of slableaf: parse, run, report, exit code.

#![forbid(unsafe_code)]
// The shell is where files and terminals are touched; the library may not.
#![allow(clippy::disallowed_methods)]

mod shell;

/// Typesetting asks for memory in millions of small pieces; the usual allocator takes a sixth of its time.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

use std::panic::{self, PanicHookInfo};
use std::process::ExitCode;

use clap::{CommandFactory, Parser};
use shell::args::Arguments;
use shell::commands;
use shell::terminal::{Exit, to_stderr};
use slableaf::base::bug::Bug;

fn main() -> ExitCode {
    panic::set_hook(Box::new(report_panic));
    if let Some(end) = commands::serve_apart() {
        return end;
    }
    commands::run(Arguments::parse()).into()
}

/// Prints a panic: that it is a fault of the program, and what to report. Output that nobody takes is
/// none.
fn report_panic(info: &PanicHookInfo<'_>) {
    let message = info.payload_as_str().unwrap_or("something went wrong");
    if let Some(cause) = message.strip_prefix(UNPRINTED) {
        // A reader of the output may stop, as `head` does: that is the end of the run.
        if cause.contains("Broken pipe") {
            std::process::exit(Exit::Fine as i32);
        }
        to_stderr(&format!("error: cannot write what was found{cause}\n"));
        to_stderr("next: make room where the output goes, then type the same again\n");
        std::process::exit(Exit::Files as i32);
    }
    let command = Arguments::command();
    let first = std::env::args().nth(1).unwrap_or_default();
    let verb = command.get_subcommands().map(clap::Command::get_name).find(|verb| *verb == first);
    let place = info.location().map(|place| (place.file(), place.line()));
    let version = env!("CARGO_PKG_VERSION");
    to_stderr(&format!("{}\n", Bug { version, verb, place, message }));
}

/// The beginning of the panic of `println!`.
const UNPRINTED: &str = "failed printing to stdout";
