//! `manual`: the manual pages, made from the arguments themselves.

use std::path::Path;

use clap::{Command, CommandFactory};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, roman};

use crate::shell::args::{Arguments, Manual};
use crate::shell::store::write_file;
use crate::shell::terminal::{Exit, OrCannot as _, Report, Result};

/// Prints the manual page, or writes one for every verb.
pub fn manual(wanted: &Manual, report: &mut Report) -> Result<Exit> {
    let mut command = Arguments::command().disable_help_subcommand(true);
    command.build();
    let Some(folder) = &wanted.out else {
        report.print(page(command, Path::new("slableaf.1"))?);
        return Ok(Exit::Fine);
    };
    for (name, command) in all_commands("slableaf", command) {
        let path = folder.join(format!("{name}.1"));
        let text = page(command.display_name(name), &path)?;
        write_file(&path, text.as_bytes())?;
        report.say(format!("wrote {}", path.display()));
    }
    Ok(Exit::Fine)
}

fn page(command: Command, path: &Path) -> Result<String> {
    let mut text = vec![];
    // Without a date: the same program gives the same page.
    let examples = examples(&command);
    let man = Man::new(command).manual("slableaf").date("");
    man.render(&mut text).and_then(|()| examples.to_writer(&mut text)).or_cannot("write", path)?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}

/// The examples that a verb's help opens with, as a section of its page.
fn examples(command: &Command) -> Roff {
    let mut section = Roff::new();
    let Some(before) = command.get_before_help() else { return section };
    section.control("SH", ["EXAMPLES"]);
    for line in before.to_string().lines() {
        section.text([roman(line.strip_prefix(EXAMPLE).unwrap_or(line))]);
        section.control("br", []);
    }
    section
}

/// The beginning of a line of the help that shows an example.
const EXAMPLE: &str = "Example: ";

/// A command and all below it, each with the name of its page: `slableaf-book-change`.
fn all_commands(name: &str, command: Command) -> Vec<(String, Command)> {
    let below: Vec<_> = command
        .get_subcommands()
        .flat_map(|verb| all_commands(&format!("{name}-{}", verb.get_name()), verb.clone()))
        .collect();
    std::iter::once((name.to_owned(), command)).chain(below).collect()
}
