//! The last line of a run that could not do its work: what to type next.

use std::path::Path;

use crate::shell::terminal::{Exit, brief, shown, to_stderr};

/// Prints what to type next after a run that could not do its work. `stopped` is true when the person
/// ended it, so that there is nothing to mend.
pub fn print_next(exit: Exit, stopped: bool, job: Option<&Path>) {
    let missing = job.filter(|job| !job.exists());
    let next = match (exit, missing) {
        (Exit::Fine | Exit::Stop | Exit::Bug, _) => return,
        _ if stopped => format!("{} begins again", typed_line()),
        (Exit::Input, Some(job)) => {
            format!("`slableaf new {}` starts a job file", as_typed(job))
        }
        (Exit::Line, _) => {
            let typed: Vec<String> = std::env::args().skip(1).take(2).collect();
            let verb = match typed.as_slice() {
                [first, second] if first == "book" => format!("{first} {second}"),
                [first, ..] => first.clone(),
                [] => String::new(),
            };
            format!("`slableaf help {verb}` says what may be typed")
        }
        (Exit::Input | Exit::Paper, _) => format!("fix that, then {}", typed_line()),
        (Exit::Files, _) => format!("when that is put right, {}", typed_line()),
        (Exit::Partly, _) => {
            format!("mend these jobs, then {}; what is done is not done again", typed_line())
        }
    };
    to_stderr(&format!("next: {}\n", brief(&next)));
}

/// The line that was typed, to be typed again.
fn typed_line() -> String {
    let typed = std::env::args_os().skip(1);
    let words: Vec<String> = typed.map(|word| word.to_string_lossy().into_owned()).collect();
    let line = shlex::try_join(words.iter().map(String::as_str)).unwrap_or_default();
    format!("`slableaf {line}`")
}

/// A path as it is typed at a shell.
pub fn as_typed(path: &Path) -> String {
    let shown = shown(path);
    shlex::try_quote(&shown).unwrap_or_default().into_owned()
}
