//! Comma-separated values (RFC 4180) that a spreadsheet shows as they are.

/// A text that no spreadsheet takes for a formula: an apostrophe before `=`, `+`, `-`, `@`, also in
/// their wide forms (OWASP, "CSV Injection"). Control characters, which a name of a file may hold, are
/// spaces.
pub fn guard_cell(text: &str) -> String {
    let text: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    // A reader may leave out white space before a formula.
    if text.trim_start().starts_with(FORMULA) { format!("'{text}") } else { text }
}

const FORMULA: [char; 8] = ['=', '+', '-', '@', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}'];

/// Rows as text.
pub fn to_csv(rows: &[Vec<String>]) -> String {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(vec![]);
    for row in rows {
        // A vector in memory takes every record.
        let _ = writer.write_record(row);
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}
