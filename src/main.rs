//! The command line of slableaf: parse, run, report, exit code.

#![forbid(unsafe_code)]
// The shell is where files and terminals are touched; the library may not.
#![allow(clippy::disallowed_methods)]

mod shell;

/// Typesetting asks for memory in millions of small pieces; the usual allocator takes a sixth of its time.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

use std::panic::{self, PanicHookInfo, catch_unwind};
use std::process::ExitCode;

use clap::{CommandFactory, Parser};
use shell::Exit;
use shell::args::Arguments;
use slableaf::base::bug::Bug;

fn main() -> ExitCode {
    panic::set_hook(Box::new(told));
    let arguments = Arguments::parse();
    // What went wrong was told by the hook.
    catch_unwind(|| shell::run(arguments)).unwrap_or(Exit::Bug).into()
}

/// Tells of a panic: that it is ours, and what to report. Output that nobody takes is no fault.
fn told(info: &PanicHookInfo<'_>) {
    let message = info.payload_as_str().unwrap_or("something went wrong");
    if let Some(why) = message.strip_prefix(UNPRINTED) {
        // Whoever reads the output may stop, as `head` does: that is the end of the run.
        if why.contains("Broken pipe") {
            std::process::exit(Exit::Fine as i32);
        }
        shell::to_stderr(&format!("error: cannot write what was found{why}\n"));
        shell::to_stderr("next: make room where the output goes, then type the same again\n");
        std::process::exit(Exit::Files as i32);
    }
    let command = Arguments::command();
    let first = std::env::args().nth(1).unwrap_or_default();
    let verb = command.get_subcommands().map(clap::Command::get_name).find(|verb| *verb == first);
    let place = info.location().map(|place| (place.file(), place.line()));
    let version = env!("CARGO_PKG_VERSION");
    shell::to_stderr(&format!("{}\n", Bug { version, verb, place, message }));
}

/// How `println!` begins its panic.
const UNPRINTED: &str = "failed printing to stdout";
