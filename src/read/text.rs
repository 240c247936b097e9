//! Text that a person typed. It is data for ever after: it is checked here once, and no later
//! stage parses it as anything.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;
use unicode_properties::{GeneralCategory, UnicodeGeneralCategory};

use crate::read::limits;

/// The reason for which a text is refused, with the character at fault.
#[derive(Debug, PartialEq, Eq)]
pub enum TextFault {
    Empty,
    TooLong {
        most: usize,
        found: usize,
    },
    /// More marks on one letter than any language writes.
    Marks {
        most: usize,
    },
    Character {
        code: u32,
        what: &'static str,
    },
}

/// A text in Unicode normal form C without characters that hide or reorder others. `lines` allows
/// line breaks (as `\n`) and tabs (as a space).
pub fn clean(text: &str, most: usize, lines: bool) -> Result<String, TextFault> {
    let mut out = String::with_capacity(text.len());
    // Every way to end a line is one first: what is left out later could bring marks together that are
    // not in their order.
    let ended = if lines && text.contains('\r') {
        Cow::Owned(text.replace("\r\n", "\n").replace('\r', "\n"))
    } else {
        Cow::Borrowed(text)
    };
    for c in ended.nfc() {
        match refused(c) {
            None => out.push(c),
            Some(_) if lines && c == '\n' => out.push('\n'),
            // A note that was pasted from a table has tabs between its words.
            Some(_) if lines && c == '\t' => out.push(' '),
            Some(what) => return Err(TextFault::Character { code: c as u32, what }),
        }
    }
    let out = out.trim().to_owned();
    let found = out.chars().count();
    if out.is_empty() {
        return Err(TextFault::Empty);
    }
    if found > most {
        return Err(TextFault::TooLong { most, found });
    }
    if most_marks(&out) > limits::MARKS {
        return Err(TextFault::Marks { most: limits::MARKS });
    }
    Ok(out)
}

/// The most marks that stand on one letter of a text: a stack of them runs over the lines above.
fn most_marks(text: &str) -> usize {
    let is_mark = |c: char| {
        matches!(
            c.general_category(),
            GeneralCategory::NonspacingMark | GeneralCategory::EnclosingMark
        )
    };
    let mut most = 0;
    let mut here = 0;
    for c in text.chars() {
        here = if is_mark(c) { here + 1 } else { 0 };
        most = most.max(here);
    }
    most
}

/// True for a character that hides, reorders others or steers what shows it: none may be typed, and
/// none may be printed on a terminal.
pub fn hides(c: char) -> bool {
    refused(c).is_some()
}

/// The fault of a character, if it has one. Sources: Unicode Standard 23 (control and
/// format characters), UAX 9 (bidirectional controls), UTS 39 (hidden characters), and the property
/// `Default_Ignorable_Code_Point` of the Unicode Character Database.
fn refused(c: char) -> Option<&'static str> {
    Some(match c.general_category() {
        GeneralCategory::Control if c == '\n' || c == '\r' => "a line break",
        GeneralCategory::Control => "a control character",
        GeneralCategory::Format if BIDIRECTIONAL.contains(&c) => {
            "a character that changes the direction of text"
        }
        GeneralCategory::Format => "an invisible character",
        GeneralCategory::LineSeparator | GeneralCategory::ParagraphSeparator => "a line separator",
        GeneralCategory::PrivateUse => "a private-use character",
        _ if shows_nothing(c) => "an invisible character",
        GeneralCategory::Unassigned => "a character that has no meaning",
        _ => return None,
    })
}

/// Letters and marks that are `Default_Ignorable_Code_Point` in the Unicode Character Database
/// (DerivedCoreProperties.txt): fillers, selectors of variants, joiners of graphemes.
fn shows_nothing(c: char) -> bool {
    matches!(c,
        '\u{34F}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}'
        | '\u{3164}' | '\u{FE00}'..='\u{FE0F}' | '\u{FFA0}' | '\u{E0100}'..='\u{E01EF}')
}

/// The explicit directional formatting characters of UAX 9.
const BIDIRECTIONAL: &[char] = &[
    '\u{61C}', '\u{200E}', '\u{200F}', '\u{202A}', '\u{202B}', '\u{202C}', '\u{202D}', '\u{202E}',
    '\u{2066}', '\u{2067}', '\u{2068}', '\u{2069}',
];

/// True when a file of this name is a device on some system, with whatever ending: a job that is
/// written on one machine is read on another. Source: Microsoft, "Naming Files, Paths, and
/// Namespaces" (reserved names).
pub fn is_device(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or_default().trim_end();
    let port = |start: &str| {
        stem.get(..3).is_some_and(|head| head.eq_ignore_ascii_case(start))
            && matches!(
                stem.get(3..).map(|end| (end, end.as_bytes())),
                Some((_, [b'0'..=b'9'])) | Some(("\u{B9}" | "\u{B2}" | "\u{B3}", _))
            )
    };
    ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"]
        .iter()
        .any(|device| stem.eq_ignore_ascii_case(device))
        || port("COM")
        || port("LPT")
}

/// A file name in a job's folder: relative, inside the folder, plain.
pub fn path_fault(path: &str) -> Option<&'static str> {
    let drive = path.as_bytes().get(1) == Some(&b':');
    if path.starts_with('/') || path.starts_with('\\') || path.starts_with('~') || drive {
        return Some("is absolute");
    }
    if path.contains('\\') {
        return Some("has a backslash");
    }
    if path.split('/').any(|part| part == "..") {
        return Some("leaves the folder");
    }
    if path.split('/').any(|part| part == "." || part.is_empty()) {
        return Some("has an empty part");
    }
    if path.split('/').any(is_device) {
        return Some("names a device");
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_is_text_like_any_other() {
        let typed = "#panic(\"no\") *not bold* $x$ {{ 7 * 7 }} <script> =1+1";
        assert_eq!(clean(typed, 500, false).unwrap(), typed);
    }

    #[test]
    fn hidden_and_reordering_characters_are_refused() {
        for c in ['\u{202E}', '\u{200B}', '\u{0}', '\u{1B}', '\u{FEFF}', '\u{2066}', '\u{E000}'] {
            assert!(
                matches!(clean(&format!("a{c}b"), 500, true), Err(TextFault::Character { .. })),
                "U+{:04X}",
                c as u32
            );
        }
    }

    #[test]
    fn what_shows_nothing_is_refused_though_it_counts_as_a_letter_or_a_mark() {
        for c in ['\u{34F}', '\u{115F}', '\u{3164}', '\u{FE0F}', '\u{180B}', '\u{E0100}'] {
            let found = clean(&format!("a{c}b"), 500, false);
            let hidden = "an invisible character";
            assert_eq!(found, Err(TextFault::Character { code: c as u32, what: hidden }));
        }
    }

    /// Vietnamese and pointed texts put two marks on a letter; four is the bound of UTS 39, 5.4.
    #[test]
    fn a_stack_of_marks_is_refused() {
        let stack = |marks: usize| format!("o{}", "\u{323}\u{305}".repeat(marks / 2));
        assert!(clean(&stack(4), 500, false).is_ok());
        assert_eq!(clean(&stack(6), 500, false), Err(TextFault::Marks { most: 4 }));
        assert!(clean("Nguye\u{302}\u{303}n", 500, false).is_ok());
    }

    #[test]
    fn lines_end_as_every_system_ends_them() {
        assert_eq!(clean("a\r\nb\rc\nd", 500, true).unwrap(), "a\nb\nc\nd");
    }

    #[test]
    fn a_tab_in_a_long_text_is_a_space() {
        assert_eq!(clean("gate\tcode 4711", 20, true).unwrap(), "gate code 4711");
        let fault = TextFault::Character { code: 9, what: "a control character" };
        assert_eq!(clean("gate\tcode", 20, false), Err(fault));
    }

    #[test]
    fn accents_are_composed() {
        assert_eq!(clean("e\u{301}", 10, false).unwrap(), "é");
    }

    /// Marks of two classes (Unicode Standard 3.11) on both sides of a return do not change places.
    #[test]
    fn every_way_to_end_a_line_is_one() {
        assert_eq!(clean("a\u{615}\r\u{619}", 10, true).unwrap(), "a\u{615}\n\u{619}");
        assert_eq!(clean("a\r\nb", 10, true).unwrap(), "a\nb");
        assert_eq!(
            clean("a\r\nb", 10, false),
            Err(TextFault::Character { code: 0xD, what: "a line break" })
        );
    }

    #[test]
    fn paths_stay_in_the_folder() {
        for bad in ["../x.jpg", "/etc/passwd", "a/../../b", "C:x", "\\\\host\\x", "~/x", "a//b"] {
            assert!(path_fault(bad).is_some(), "{bad}");
        }
        for bad in
            ["CON", "photos/nul.jpg", "com1.png", "Lpt9", "aux /x.jpg", "COM\u{B9}.jpg", "conin$"]
        {
            assert_eq!(path_fault(bad), Some("names a device"), "{bad}");
        }
        for good in ["photos/door side.jpg", "console.jpg", "com10.jpg", "photos/a.con"] {
            assert_eq!(path_fault(good), None, "{good}");
        }
    }
}
