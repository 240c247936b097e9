//! Advice in place of a value that TOML cannot read: the slips of people who write no code.

/// Quotes that TOML does not know.
const CURLY: [char; 6] = ['\u{201C}', '\u{201D}', '\u{201E}', '\u{2018}', '\u{2019}', '\u{AB}'];

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
    use super::advice;

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
