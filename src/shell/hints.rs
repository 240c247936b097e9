//! `completions` and `manual`, both made from the arguments themselves; the greeting; and what to type
//! next after a run that could not do its work.

use std::cell::Cell;
use std::path::Path;

use clap::CommandFactory;
use clap_mangen::Man;
use clap_mangen::roff::{Roff, roman};

use crate::shell::args::{Arguments, Completions, Manual};
use crate::shell::files::{self, cannot};
use crate::shell::texts::shown;
use crate::shell::{Exit, terminal};

/// Prints what makes a shell complete a line.
pub fn completions(wanted: &Completions) -> Exit {
    let mut command = Arguments::command();
    let name = command.get_name().to_owned();
    let mut text = vec![];
    clap_complete::generate(wanted.shell, &mut command, name, &mut text);
    print!("{}", String::from_utf8_lossy(&text));
    Exit::Fine
}

/// Prints the manual page, or writes one for every verb.
pub fn manual(wanted: &Manual) -> Exit {
    pages(wanted).unwrap_or_else(|exit| exit)
}

fn pages(wanted: &Manual) -> Result<Exit, Exit> {
    let mut command = Arguments::command().disable_help_subcommand(true);
    command.build();
    let Some(folder) = &wanted.out else {
        print!("{}", page(command, Path::new("slableaf.1"))?);
        return Ok(Exit::Fine);
    };
    for (name, one) in all("slableaf", command) {
        let path = folder.join(format!("{name}.1"));
        let text = page(one.display_name(name), &path)?;
        files::keep(&path, text.as_bytes(), true)?;
        terminal::say(&format!("wrote {}", path.display()));
    }
    Ok(Exit::Fine)
}

fn page(command: clap::Command, path: &Path) -> Result<String, Exit> {
    let mut text = vec![];
    // Without a date: the same program gives the same page.
    let examples = examples(&command);
    let man = Man::new(command).manual("slableaf").date("");
    man.render(&mut text)
        .and_then(|()| examples.to_writer(&mut text))
        .map_err(|error| cannot("write", path, &error))?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}

/// What a verb's help opens with, as a section of its page.
fn examples(command: &clap::Command) -> Roff {
    let mut section = Roff::new();
    let Some(before) = command.get_before_help() else { return section };
    section.control("SH", ["EXAMPLES"]);
    for line in before.to_string().lines() {
        section.text([roman(line.strip_prefix(EXAMPLE).unwrap_or(line))]);
        section.control("br", []);
    }
    section
}

/// How a line of the help begins that shows what may be typed.
const EXAMPLE: &str = "Example: ";

/// A command and all below it, each with the name of its page: `slableaf-book-change`.
fn all(name: &str, command: clap::Command) -> Vec<(String, clap::Command)> {
    let below: Vec<_> = command
        .get_subcommands()
        .flat_map(|verb| all(&format!("{name}-{}", verb.get_name()), verb.clone()))
        .collect();
    std::iter::once((name.to_owned(), command)).chain(below).collect()
}

/// The line that was typed, to be typed again.
fn again() -> String {
    let typed = std::env::args_os().skip(1);
    let words: Vec<String> = typed.map(|word| word.to_string_lossy().into_owned()).collect();
    let line = shlex::try_join(words.iter().map(String::as_str)).unwrap_or_default();
    format!("`slableaf {line}`")
}

thread_local! {
    /// The person stopped the run: there is nothing to mend.
    static STOPPED: Cell<bool> = const { Cell::new(false) };
}

/// Remembers that the person stopped the run.
pub fn stopped() {
    STOPPED.set(true);
}

/// Says what to type next, after a run that could not do its work.
pub fn next(exit: Exit, job: Option<&Path>) {
    let missing = job.filter(|job| !job.exists());
    let next = match (exit, missing) {
        (Exit::Fine | Exit::Stop | Exit::Bug, _) => return,
        _ if STOPPED.get() => format!("{} begins again", again()),
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
        (Exit::Input | Exit::Paper, _) => format!("mend that, then {}", again()),
        (Exit::Files, _) => format!("when that is put right, {}", again()),
        (Exit::Partly, _) => {
            format!("mend these jobs, then {}; what is done is not done again", again())
        }
    };
    terminal::next(&next);
}

/// A path as it is typed at a shell.
pub fn as_typed(path: &Path) -> String {
    let shown = shown(path);
    shlex::try_quote(&shown).unwrap_or_default().into_owned()
}

/// What a first run without arguments says.
pub fn greet() -> Exit {
    terminal::say(GREETING);
    Exit::Fine
}

const GREETING: &str = "\
slableaf writes the proposal for a garage floor: what was found, what each layer does, the price.

  slableaf new               asks what a visit found, and writes job.toml
  slableaf check job.toml    says what could go wrong
  slableaf write job.toml    writes the proposal as a PDF

The first time, `slableaf new shop` and `slableaf new book` start your shop file and price book.
`slableaf help` lists all verbs; the guide in the README goes by task.";
