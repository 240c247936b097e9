//! Calendar files: RFC 5545 (and NAME of RFC 7986), the little that a list of events needs.

use jiff::Timestamp;
use jiff::civil::DateTime;

/// The most bytes of a line before it is folded: RFC 5545 section 3.1.
const LINE_BYTES: usize = 75;

/// Time of a calendar entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Time {
    /// A point on the time line.
    Fixed(Timestamp),
    /// Local time without a zone, for a shop that has named none.
    Floating(DateTime),
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// The same for every revision, so that a new file replaces the events of an old one.
    pub uid: String,
    pub from: Time,
    /// None for a milestone, which takes no time.
    pub to: Option<Time>,
    pub summary: String,
    pub description: String,
    pub location: String,
}

/// A calendar of events. `stamped` is when its contents were made and `sequence` counts their
/// revisions from 0.
pub fn calendar(name: &str, stamped: Timestamp, sequence: u32, events: &[Event]) -> String {
    let mut out = String::new();
    let mut line = |name: &str, value: &str| push_folded(&format!("{name}:{value}"), &mut out);
    line("BEGIN", "VCALENDAR");
    line("VERSION", "2.0");
    line("PRODID", "-//slableaf//calendar//EN");
    line("CALSCALE", "GREGORIAN");
    line("NAME", &escape_text(name));
    for event in events {
        line("BEGIN", "VEVENT");
        line("UID", &escape_text(&event.uid));
        line("DTSTAMP", &time_text(Time::Fixed(stamped)));
        line("SEQUENCE", &sequence.to_string());
        line("DTSTART", &time_text(event.from));
        if let Some(to) = event.to {
            line("DTEND", &time_text(to));
        }
        line("SUMMARY", &escape_text(&event.summary));
        for (name, text) in [("DESCRIPTION", &event.description), ("LOCATION", &event.location)] {
            if !text.is_empty() {
                line(name, &escape_text(text));
            }
        }
        line("END", "VEVENT");
    }
    line("END", "VCALENDAR");
    out
}

fn time_text(time: Time) -> String {
    match time {
        Time::Fixed(at) => at.strftime("%Y%m%dT%H%M%SZ").to_string(),
        Time::Floating(clock) => clock.strftime("%Y%m%dT%H%M%S").to_string(),
    }
}

/// A text as a value: RFC 5545 section 3.3.11.
fn escape_text(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Writes a line, broken before a byte too many, never inside a character.
fn push_folded(line: &str, out: &mut String) {
    let mut used = 0;
    for c in line.chars() {
        if used + c.len_utf8() > LINE_BYTES {
            out.push_str("\r\n ");
            used = 1;
        }
        out.push(c);
        used += c.len_utf8();
    }
    out.push_str("\r\n");
}
