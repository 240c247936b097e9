//! Comma-separated values (RFC 4180) that a spreadsheet shows as they are.

/// A text that no spreadsheet takes for a formula: an apostrophe before `=`, `+`, `-`, `@`.
pub fn guarded(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{text}")
    } else {
        text.into()
    }
}

/// Rows as text.
pub fn written(rows: &[Vec<String>]) -> String {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(vec![]);
    for row in rows {
        // A vector in memory takes every record.
        let _ = writer.write_record(row);
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}
