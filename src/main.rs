//! The command line of slableaf: parse, run, report, exit code.

#![forbid(unsafe_code)]
// The shell is where files and terminals are touched; the library may not.
#![allow(clippy::disallowed_methods)]

mod shell;

use std::panic::catch_unwind;
use std::process::ExitCode;

use clap::Parser;
use shell::Exit;

fn main() -> ExitCode {
    let arguments = shell::args::Arguments::parse();
    match catch_unwind(|| shell::run(arguments)) {
        Ok(exit) => exit.into(),
        Err(_) => {
            eprintln!("error: this is a fault in slableaf, not in your files");
            eprintln!(
                "  please report it with the message above and the job file that brought it up"
            );
            Exit::Ours.into()
        }
    }
}
