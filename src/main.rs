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

use clap::Parser;
use shell::Exit;

fn main() -> ExitCode {
    end_quietly_with_the_reader();
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

/// Whoever reads the output may stop, as `head` does. That is the end of the run and no fault.
fn end_quietly_with_the_reader() {
    let usual = panic::take_hook();
    panic::set_hook(Box::new(move |info| {
        if is_broken_pipe(info) {
            std::process::exit(Exit::Fine as i32);
        }
        usual(info);
    }));
}

/// `println!` panics when nobody reads any more, with these words.
fn is_broken_pipe(info: &PanicHookInfo<'_>) -> bool {
    info.payload_as_str().is_some_and(|message| {
        message.starts_with("failed printing to stdout") && message.contains("Broken pipe")
    })
}
