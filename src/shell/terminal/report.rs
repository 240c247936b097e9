//! The lines that a piece of work has to say, as values: a verb prints them at its end, many jobs at
//! a time print theirs in the order of the jobs.

use crate::shell::terminal::{Error, brief, printable, render, to_stderr};

/// Lines of results, warnings and errors, in their order.
#[derive(Debug, Default)]
pub struct Report(Vec<Entry>);

#[derive(Debug)]
enum Entry {
    /// For standard output.
    Result(String),
    /// For standard error.
    Complaint(String),
}

impl Report {
    /// Adds a line of results.
    pub fn say(&mut self, line: impl AsRef<str>) {
        self.print(format!("{}\n", printable(line.as_ref())));
    }

    /// Adds results as they are, line ends too.
    pub fn print(&mut self, text: String) {
        self.0.push(Entry::Result(text));
    }

    /// Adds a line about what may be wrong, and one of advice.
    pub fn warn(&mut self, message: &str, help: &str) {
        self.0.push(Entry::Complaint(format!("warning: {}\n", brief(message))));
        self.help(help);
    }

    /// Adds a line of advice.
    pub fn help(&mut self, help: &str) {
        self.0.push(Entry::Complaint(format!("  help: {}\n", brief(help))));
    }

    /// Adds an error with its places and its advice.
    pub fn error(&mut self, error: &Error) {
        self.0.push(Entry::Complaint(render(error)));
    }

    /// Adds another report.
    pub fn append(&mut self, mut other: Self) {
        self.0.append(&mut other.0);
    }

    /// Prints what was added, in its order, and forgets it.
    pub fn flush(&mut self) {
        for entry in self.0.drain(..) {
            match entry {
                Entry::Result(text) => print!("{text}"),
                Entry::Complaint(text) => to_stderr(&text),
            }
        }
    }

    /// Prints what was added for one of many jobs: what is wrong with it stands first.
    pub fn flush_job(mut self) {
        self.0.sort_by_key(|entry| matches!(entry, Entry::Result(_)));
        self.flush();
    }
}
