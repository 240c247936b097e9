//! What each fuzz target does with an input. Beyond that nothing panics, each holds the program to
//! what it promises, and gives true for an input that came all the way through. `tests/corpus.rs` runs the same functions over what was found before.

mod files;
mod pages;
mod values;

pub use files::{book, job, record};
pub use pages::{mail, page, wording};
pub use values::lengths_and_quantities;

use slableaf::base::source::{Diagnostic, SourceFile};

pub const JOB: &str = include_str!("../../../examples/two-car-barrier/job.toml");
pub const BOOK: &str = include_str!("../../../examples/book.toml");
pub const SHOP: &str = include_str!("../../../examples/shop.toml");
const SYSTEMS: &[(&str, &str)] = &[
    ("barrier.toml", include_str!("../../../layouts/systems/barrier.toml")),
    ("fast-cure.toml", include_str!("../../../layouts/systems/fast-cure.toml")),
    ("clear-epoxy.toml", include_str!("../../../layouts/systems/clear-epoxy.toml")),
    ("water-kit.toml", include_str!("../../../layouts/systems/water-kit.toml")),
];

fn file(name: &str, text: &str) -> SourceFile {
    SourceFile { name: name.to_owned(), text: text.to_owned() }
}

fn systems() -> Vec<SourceFile> {
    SYSTEMS.iter().map(|(name, text)| file(name, text)).collect()
}

/// An input that came to its end with problems: every one says something, and its place can be shown,
/// whole letters of a file that is there.
fn refused(problems: &[Diagnostic], files: &[&SourceFile]) -> bool {
    assert!(!problems.is_empty(), "refused without a word");
    for problem in problems {
        assert!(!problem.message.trim().is_empty(), "{problem:?}");
        if let Some(span) = &problem.span {
            let file = files.iter().find(|file| file.name == span.file);
            let text = &file.unwrap_or_else(|| panic!("no such file: {problem:?}")).text;
            assert!(text.get(span.bytes.clone()).is_some(), "{problem:?}");
        }
    }
    false
}

/// A value as its `Debug` shows it, without the places in files where it was written.
fn without_places(shown: &str) -> String {
    let mut parts = shown.split("bytes: ");
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        out.push_str(part.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.'));
    }
    out
}
