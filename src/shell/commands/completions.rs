//! `completions`: the script by which a shell completes verbs, options and files.

use clap::CommandFactory;

use crate::shell::args::{Arguments, Completions};
use crate::shell::terminal::{Exit, Report, Result};

pub fn completions(wanted: &Completions, report: &mut Report) -> Result<Exit> {
    let mut command = Arguments::command();
    let name = command.get_name().to_owned();
    let mut text = vec![];
    clap_complete::generate(wanted.shell, &mut command, name, &mut text);
    report.print(String::from_utf8_lossy(&text).into_owned());
    Ok(Exit::Fine)
}
