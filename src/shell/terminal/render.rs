//! The text of an error on a terminal: its problems with place and caret, its message, its advice.

use std::io::IsTerminal;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::read::limits::PROBLEMS;
use slableaf::read::text::hides;

use crate::shell::terminal::error::Cause;
use crate::shell::terminal::{Error, brief, counted, printable};

/// The lines of an error, each with its end.
pub fn render(error: &Error) -> String {
    let mut text = match &error.cause {
        Cause::Message(message) => format!("error: {}\n", brief(message)),
        Cause::Problems(problems, files) => render_problems(problems, files),
    };
    for help in &error.help {
        text += &format!("  help: {}\n", brief(help));
    }
    text
}

/// The problems with their places, and how many there are.
fn render_problems(problems: &[Diagnostic], files: &[SourceFile]) -> String {
    let renderer = if has_color() { Renderer::styled() } else { Renderer::plain() };
    let mut out = String::new();
    for problem in problems.iter().take(PROBLEMS) {
        out += &format!("{}\n\n", render_problem(problem, files, &renderer));
    }
    let count = problems.len();
    if count > PROBLEMS {
        out += &format!("... and {} more; mend these first\n\n", count - PROBLEMS);
    }
    out + &format!("{} found; nothing was written\n", counted(count, "problem"))
}

fn render_problem(problem: &Diagnostic, files: &[SourceFile], renderer: &Renderer) -> String {
    let (message, label) = (brief(&problem.message), brief(&problem.label));
    let helps: Vec<String> = problem.help.iter().map(|help| brief(help)).collect();
    let mut group = Group::with_title(Level::ERROR.primary_title(&message));
    let span = problem.span.as_ref();
    let file =
        span.and_then(|span| files.iter().find(|file| file.name == span.file).zip(Some(span)));
    let (text, name);
    if let Some((file, span)) = file {
        text = visible(&file.text);
        name = printable(&file.name);
        let end = span.bytes.end.max(span.bytes.start).min(text.len());
        let start = span.bytes.start.min(end);
        // A table's span covers all of it; its first line is enough.
        let end = text[start..end].find('\n').map_or(end, |at| start + at);
        let annotation = AnnotationKind::Primary.span(start..end).label(label.as_str());
        let snippet = Snippet::source(text.as_str()).path(name.as_str()).fold(true);
        group = group.element(snippet.annotation(annotation));
    }
    for help in &helps {
        group = group.element(Level::HELP.message(help.as_str()));
    }
    renderer.render(&[group])
}

/// True when errors may be colored: a terminal, and nobody asked for none (no-color.org).
fn has_color() -> bool {
    let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty())
        || std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    !refused && std::io::stderr().is_terminal()
}

/// A file's text for a snippet: a character that is not printed becomes something of as many bytes, so
/// that places stay right.
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
