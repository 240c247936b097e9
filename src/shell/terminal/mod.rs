//! The terminal: errors with place and caret, reports, tables, advice. Nothing else prints.

mod error;
pub mod hints;
mod render;
mod report;
mod tables;

use std::io::Write as _;
use std::path::Path;

use slableaf::read::limits::MESSAGE;
use slableaf::read::text::hides;

pub use error::{Cause, Error, Exit, OrCannot, Result, place};
use render::render;
pub use report::Report;
pub use tables::{Align, WIDTH, columns, table, widths, wrapped};

/// Writes to standard error. Where nobody takes it, the exit code still tells.
pub fn to_stderr(text: &str) {
    let mut stream = std::io::stderr().lock();
    let _ = stream.write_all(text.as_bytes()).and_then(|()| stream.flush());
}

/// Text with every character that steers, hides or reorders shown as a space: neither a file nor the
/// name of one may steer the terminal.
pub fn printable(text: &str) -> String {
    text.chars().map(|c| if hides(c) && c != '\n' { ' ' } else { c }).collect()
}

/// A message that is [`printable`] and no longer than anyone reads: what was typed may be a megabyte.
pub fn brief(message: &str) -> String {
    match message.char_indices().nth(MESSAGE) {
        None => printable(message),
        Some((end, _)) => format!("{} ...", printable(&message[..end])),
    }
}

/// A path as messages show it.
pub fn shown(path: &Path) -> String {
    let short = path.strip_prefix(".").ok().filter(|short| !short.as_os_str().is_empty());
    short.unwrap_or(path).display().to_string()
}

/// A count with its noun: `1 page`, `2 pages`.
pub fn counted(count: usize, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// JSON for programs: indented, keys in a fixed order. A character that a terminal must not see, such
/// as in the name of a file, is written as an escape, which says the same.
pub fn json(value: &impl serde::Serialize) -> String {
    let text = serde_json::to_string_pretty(value).unwrap_or_default();
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
