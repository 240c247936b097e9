//! Advice in place of a value that TOML cannot read: the slips of people who write no code.

use crate::base::quantity::Length;
use crate::read::measure::Measure;

/// Quotes that TOML does not know.
const CURLY: [char; 6] = ['\u{201C}', '\u{201D}', '\u{201E}', '\u{2018}', '\u{2019}', '\u{AB}'];

/// Advice where the mark of inches ends a text too early: `width = "26'4""`. Nothing behind such a line can
/// be read as it was meant.
pub fn inch_mark(line: &str) -> Option<String> {
    let (_, value) = line.split_once('=')?;
    let values = value.match_indices('"').filter_map(|(at, _)| value.get(at + 1..));
    let in_marks = value.trim().strip_prefix('\'').and_then(|text| text.split_once("\"'"));
    let in_marks = in_marks.and_then(|(text, _)| Length::spelled_out(&format!("{text}\""), None));
    let length = in_marks.or_else(|| {
        values.into_iter().find_map(|text| {
            let (inside, after) = text.split_once('"')?;
            let is_length = inside.contains(|c: char| c.is_ascii_digit())
                && inside
                    .chars()
                    .all(|c| c.is_ascii_digit() || " '-/.ft\u{2019}\u{2032}".contains(c));
            let written = format!("{}\"", inside.trim());
            (is_length && after.starts_with('"')).then(|| Length::spelled_out(&written, None))?
        })
    })?;
    Some(format!("the mark of inches ends the text: write `\"{length}\"`"))
}

/// Advice for a key or a table that stands twice. `is_list` is true for a table that may be listed.
pub fn twice(line: &str, is_list: bool) -> String {
    let head = line.trim();
    match head.strip_prefix('[').and_then(|head| head.split(']').next()) {
        Some(name) if is_list => {
            format!("more than one is a list: write `[[{name}]]` over each of them, the first too")
        }
        Some(name) => format!("put the keys of both under one `[{name}]`"),
        None => "a key stands once: take one of the two lines out".to_owned(),
    }
}

/// Advice for a value as it was `found` in its line, and what the parser says of it; `None` where
/// nobody can tell what was meant.
pub fn advice(found: &str, line: &str, message: &str) -> Option<String> {
    if line.contains(CURLY) {
        let help = "write straight quotes, `\"`: phones and word processors type curly ones";
        return Some(help.to_owned());
    }
    if message.contains("expected `\"`") {
        return Some("close the text with `\"` on its own line".to_owned());
    }
    let found = found.trim();
    match found.to_lowercase().as_str() {
        "yes" | "true" => return Some("write `true`".to_owned()),
        "no" | "false" => return Some("write `false`".to_owned()),
        _ => {}
    }
    if let Some(day) = day(found) {
        return Some(day);
    }
    let plain = |c: char| !c.is_control() && c != '"' && c != '\\';
    let quotable =
        message.contains("must be quoted") && !found.is_empty() && found.chars().all(plain);
    quotable.then(|| format!("put it in quotes: `\"{found}\"`"))
}

/// Advice for a day that was written in another order, or without its zeros.
fn day(found: &str) -> Option<String> {
    let parts: Vec<&str> = found.split(['/', '-', '.']).collect();
    let [a, b, c] = parts.as_slice() else { return None };
    let number = |part: &str| part.parse::<u32>().ok().filter(|_| part.len() <= 4);
    let (a_number, b_number, c_number) = (number(a)?, number(b)?, number(c)?);
    let (year, month, day) = match (a.len(), c.len()) {
        (4, _) => (a_number, b_number, c_number),
        // Month first, as in the United States, where that can be.
        (_, 4) if a_number <= 12 => (c_number, a_number, b_number),
        (_, 4) => (c_number, b_number, a_number),
        _ => return None,
    };
    let valid = (1..=12).contains(&month) && (1..=31).contains(&day);
    let right = format!("{year}-{month:02}-{day:02}");
    (valid && right != found).then(|| format!("write year, month, day, without quotes: `{right}`"))
}

#[cfg(test)]
mod tests {
    use super::{advice, inch_mark};

    #[test]
    fn a_slip_is_answered_with_what_to_write() {
        const UNQUOTED: &str = "string values must be quoted, expected literal string";
        for (found, message, expected) in [
            ("11/26/2026", UNQUOTED, "write year, month, day, without quotes: `2026-11-26`"),
            ("26.11.2026", UNQUOTED, "write year, month, day, without quotes: `2026-11-26`"),
            ("2026-5-1", "invalid date", "write year, month, day, without quotes: `2026-05-01`"),
            ("84%", UNQUOTED, "put it in quotes: `\"84%\"`"),
            ("22 ft 6 in", UNQUOTED, "put it in quotes: `\"22 ft 6 in\"`"),
            ("Yes", UNQUOTED, "write `true`"),
            ("True", "invalid boolean, expected `true`", "write `true`"),
            ("no", UNQUOTED, "write `false`"),
            ("", "invalid basic string, expected `\"`", "close the text with `\"` on its own line"),
        ] {
            assert_eq!(advice(found, found, message).as_deref(), Some(expected), "{found}");
        }
    }

    #[test]
    fn a_mark_of_inches_is_told_with_the_length_in_words() {
        for (line, length) in [
            ("width = \"26'4\"\"", "26 ft 4 in"),
            ("area = [{ length = \"22 ft\", width = \"26' 4\"\" }]", "26 ft 4 in"),
            ("height = \"6\"\"", "6 in"),
            ("length = '38' 4\"'", "38 ft 4 in"),
        ] {
            let says = format!("the mark of inches ends the text: write `\"{length}\"`");
            assert_eq!(inch_mark(line), Some(says), "{line}");
        }
        for line in
            ["name = \"Bay 4\"", "note = \"\"", "a = [\"4\", \"5\"]", "[slab]", "b = \"x4\"\""]
        {
            assert_eq!(inch_mark(line), None, "{line}");
        }
    }

    #[test]
    fn nobody_is_sent_astray() {
        for (found, message) in [
            ("2026-13-01", "invalid date, expected month between 01 and 12"),
            ("2026-02-30", "invalid date, expected day between 01 and 28"),
            ("40/40/2026", "invalid date"),
            ("4 \"in", "must be quoted"),
            ("", "must be quoted"),
        ] {
            assert_eq!(advice(found, found, message), None, "{found}");
        }
    }
}
