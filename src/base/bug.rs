//! The report of a fault of the program itself: the failure and its place, what to report, and what
//! to keep private.

/// A fault of the program, as far as it is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bug<'a> {
    /// Version of the program.
    pub version: &'a str,
    /// The verb that was running, without what it was given.
    pub verb: Option<&'a str>,
    /// Source file, as the compiler names it, and line.
    pub place: Option<(&'a str, u32)>,
    /// The program's own message.
    pub message: &'a str,
}

/// Characters of the message that are shown.
const MOST: usize = 300;

impl std::fmt::Display for Bug<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let message: String =
            self.message.chars().take(MOST).map(|c| if c.is_control() { ' ' } else { c }).collect();
        writeln!(f, "error: this is a fault in slableaf, not in your files")?;
        writeln!(f, "  it says: {}", message.trim())?;
        write!(f, "  report this: slableaf {}", self.version)?;
        if let Some(verb) = self.verb {
            write!(f, ", {verb}")?;
        }
        if let Some((file, line)) = self.place {
            write!(f, ", {}:{line}", shorten_path(file))?;
        }
        writeln!(f)?;
        writeln!(
            f,
            "  help: papers that were issued before stand as they were; run it again when it is mended"
        )?;
        write!(
            f,
            "  help: your files hold names and prices, and so may the second line: look before you send"
        )
    }
}

/// A source file without the folders of whoever built the program.
fn shorten_path(file: &str) -> String {
    let parts: Vec<&str> = file.split(['/', '\\']).collect();
    let from = parts.iter().rposition(|part| *part == "src").map_or(0, |at| at.saturating_sub(1));
    let kept = if file.starts_with("src") { &parts[..] } else { &parts[from..] };
    kept.join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(message: &str) -> Bug<'_> {
        Bug { version: "0.1.0", verb: Some("write"), place: Some(("src/kits.rs", 17)), message }
    }

    #[test]
    fn it_says_whose_fault_it_is_and_what_to_report() {
        assert_eq!(
            fault("index out of bounds").to_string(),
            "error: this is a fault in slableaf, not in your files\n  \
             it says: index out of bounds\n  \
             report this: slableaf 0.1.0, write, src/kits.rs:17\n  \
             help: papers that were issued before stand as they were; run it again when it is mended\n  \
             help: your files hold names and prices, and so may the second line: look before you send"
        );
    }

    /// A message may hold what a person typed: it is one short line that steers nothing.
    #[test]
    fn its_message_is_one_short_line() {
        let long = format!("\u{1B}[31mred\r\n{}", "x".repeat(10_000));
        let told = fault(&long).to_string();
        assert!(!told.contains(['\u{1B}', '\r']) && told.lines().count() == 5, "{told}");
        assert!(told.lines().all(|line| line.chars().count() <= MOST + 20));
    }

    /// A compiler names a library's file by the folders of the machine that built it.
    #[test]
    fn a_place_names_no_folder_of_the_machine() {
        for (file, shown) in [
            ("src/kits.rs", "src/kits.rs"),
            ("src/shell/files.rs", "src/shell/files.rs"),
            (
                "/somewhere/cargo/registry/src/index-1/jiff-1.0.2/src/span.rs",
                "jiff-1.0.2/src/span.rs",
            ),
            (r"C:\cargo\registry\src\index-1\jiff-1.0.2\src\span.rs", "jiff-1.0.2/src/span.rs"),
        ] {
            assert_eq!(shorten_path(file), shown);
        }
        let nothing = Bug { verb: None, place: None, ..fault("no") };
        assert!(nothing.to_string().contains("report this: slableaf 0.1.0\n"));
    }
}
