//! The only place that prints: problems with place and caret, findings, tables.

use std::cell::RefCell;
use std::fmt::Write as _;
use std::io::{IsTerminal, Write as _};

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use slableaf::base::layouts::Layouts;
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::read::limits::{MESSAGE, PROBLEMS};
use slableaf::read::text::hides;
use slableaf::say::overlay;
use slableaf::say::words::WordsError;

use crate::shell::Exit;

/// Widest line of running text, and the narrowest that is still broken at blanks.
pub const WIDTH: usize = 88;
const NARROW: usize = 20;

/// What a piece of work said.
#[derive(Debug, Default)]
pub struct Said {
    pub results: String,
    pub complaints: String,
}

thread_local! {
    /// Where this thread's words are kept, while they are.
    static KEPT: RefCell<Option<Said>> = const { RefCell::new(None) };
}

/// Does a piece of work; what it says is kept for its caller, so that several may work at a time.
pub fn kept<T>(work: impl FnOnce() -> T) -> (T, Said) {
    KEPT.set(Some(Said::default()));
    let done = work();
    (done, KEPT.take().unwrap_or_default())
}

/// Prints what was kept of a piece of work.
pub fn again(said: &Said) {
    to_stderr(&said.complaints);
    print!("{}", said.results);
}

/// Writes to the stream of complaints. Where nobody takes them, the exit code still tells.
pub fn to_stderr(text: &str) {
    let mut stream = std::io::stderr().lock();
    let _ = stream.write_all(text.as_bytes()).and_then(|()| stream.flush());
}

/// Prints a line of results.
pub fn say(line: &str) {
    let line = printable(line);
    let printed = KEPT.with_borrow_mut(|kept| match kept {
        Some(said) => writeln!(said.results, "{line}").is_ok(),
        None => false,
    });
    if !printed {
        println!("{line}");
    }
}

/// Prints lines about what is wrong.
fn complain(lines: &str) {
    let printed = KEPT.with_borrow_mut(|kept| match kept {
        Some(said) => writeln!(said.complaints, "{lines}").is_ok(),
        None => false,
    });
    if !printed {
        to_stderr(&format!("{lines}\n"));
    }
}

/// Prints an error line.
pub fn error(message: &str) {
    complain(&format!("error: {}", brief(message)));
}

/// Prints a line about what may be wrong.
pub fn warning(message: &str) {
    complain(&format!("warning: {}", brief(message)));
}

/// Prints a line of advice.
pub fn help(message: &str) {
    complain(&format!("  help: {}", brief(message)));
}

/// Prints what to type next: the last line of a run that could not do its work.
pub fn next(message: &str) {
    complain(&format!("next: {}", brief(message)));
}

/// Prints the problems with their places, and how many there are.
pub fn problems(problems: &[Diagnostic], files: &[SourceFile]) {
    let renderer = if color() { Renderer::styled() } else { Renderer::plain() };
    for problem in problems.iter().take(PROBLEMS) {
        let message = brief(&problem.message);
        let label = brief(&problem.label);
        let span = problem.span.as_ref();
        let file =
            span.and_then(|span| files.iter().find(|file| file.name == span.file).zip(Some(span)));
        let mut group = Group::with_title(Level::ERROR.primary_title(&message));
        let (text, name);
        if let Some((file, span)) = file {
            text = visible(&file.text);
            name = printable(&file.name);
            let end = span.bytes.end.max(span.bytes.start).min(text.len());
            let start = span.bytes.start.min(end);
            // A table's span covers all of it; its first line is enough.
            let end = text[start..end].find('\n').map_or(end, |at| start + at);
            let annotation = AnnotationKind::Primary.span(start..end).label(label.as_str());
            group = group.element(
                Snippet::source(text.as_str())
                    .path(name.as_str())
                    .fold(true)
                    .annotation(annotation),
            );
        }
        let helps: Vec<String> = problem.help.iter().map(|help| brief(help)).collect();
        for help in &helps {
            group = group.element(Level::HELP.message(help.as_str()));
        }
        complain(&format!("{}\n", renderer.render(&[group])));
    }
    let count = problems.len();
    if count > PROBLEMS {
        complain(&format!("... and {} more; mend these first\n", count - PROBLEMS));
    }
    let noun = if count == 1 { "problem" } else { "problems" };
    complain(&format!("{count} {noun} found; nothing was written"));
}

/// True when errors may be colored: a terminal, and nobody asked for none (no-color.org).
fn color() -> bool {
    let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty())
        || std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    !refused && std::io::stderr().is_terminal()
}

/// Text with every character that steers, hides or reorders shown as a space: neither a file nor the
/// name of one may steer the terminal.
pub fn printable(text: &str) -> String {
    text.chars().map(|c| if hides(c) && c != '\n' { ' ' } else { c }).collect()
}

/// A message that is [`printable`] and no longer than anyone reads: what was typed may be a megabyte.
fn brief(message: &str) -> String {
    match message.char_indices().nth(MESSAGE) {
        None => printable(message),
        Some((end, _)) => format!("{} ...", printable(&message[..end])),
    }
}

/// A file's text for a snippet: what is not printed becomes something of as many bytes, so that places
/// stay right.
fn visible(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c.len_utf8() {
            _ if c == '\n' || !hides(c) => out.push(c),
            1 => out.push(' '),
            2 => out.push('\u{B7}'),
            3 => out.push('\u{FFFD}'),
            _ => out.push_str("\u{FFFD} "),
        }
    }
    out
}

/// How wide a line of running text may be: the terminal's width, and no more than is read with ease.
fn width() -> usize {
    let columns = terminal_size::terminal_size_of(std::io::stdout());
    columns.map_or(WIDTH, |(columns, _)| usize::from(columns.0).clamp(NARROW, WIDTH))
}

/// Breaks a text into lines of at most [`WIDTH`] characters, and no more than the terminal has, all
/// behind an indent.
pub fn wrapped(text: &str, indent: usize) -> String {
    let lead = " ".repeat(indent);
    let most = width().saturating_sub(indent);
    let mut lines = vec![];
    let mut line = String::new();
    for word in printable(text).split_whitespace() {
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > most {
            lines.push(format!("{lead}{line}"));
            line.clear();
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    if !line.is_empty() {
        lines.push(format!("{lead}{line}"));
    }
    lines.join("\n")
}

/// A table with the first column to the left and the others to the right.
pub fn table(rows: &[Vec<String>]) -> String {
    columns(rows, &[Align::Left])
}

/// To which side of its column a cell stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    Left,
    Right,
}

/// A table; columns that no side is given for stand to the right.
pub fn columns(rows: &[Vec<String>], sides: &[Align]) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let cell =
        |row: &[String], at: usize| row.get(at).map_or_else(String::new, |cell| printable(cell));
    let width = |at: usize| rows.iter().map(|row| cell(row, at).chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells = widths.iter().enumerate().map(|(at, width)| {
            let text = cell(row, at);
            match sides.get(at) {
                Some(Align::Left) => format!("{text:<width$}"),
                Some(Align::Right) | None => format!("{text:>width$}"),
            }
        });
        format!("  {}", cells.collect::<Vec<_>>().join("  ").trim_end())
    };
    rows.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// JSON for programs: indented, keys in a fixed order. What a terminal must not see, such as in the
/// name of a file, is written as an escape, which says the same.
pub fn json(value: &impl serde::Serialize) -> String {
    let text = serde_json::to_string_pretty(value).unwrap_or_default();
    if !text.contains(|c| hides(c) && c != '\n') {
        return text;
    }
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if hides(c) && c != '\n' {
            let units = c.encode_utf16(&mut [0; 2]).to_vec();
            out.extend(units.iter().map(|unit| format!("\\u{unit:04x}")));
        } else {
            out.push(c);
        }
    }
    out
}

/// Words that cannot be used are a fault in a words file, which is shown.
pub fn words(error: &WordsError, layouts: &Layouts) -> Exit {
    problems(&[overlay::located(error, layouts)], &layouts.source_files(""));
    Exit::Paper
}
