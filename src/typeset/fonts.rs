//! The embedded faces. System fonts are never consulted, so that a page is the same everywhere.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::{Font, FontBook, FontInfo};
use typst::utils::LazyHash;

/// Inter, SIL Open Font License 1.1, beside its license in `fonts/`.
const FILES: &[&[u8]] = &[
    include_bytes!("../../fonts/Inter-Regular.otf"),
    include_bytes!("../../fonts/Inter-SemiBold.otf"),
    include_bytes!("../../fonts/Inter-Bold.otf"),
];

/// The embedded files themselves.
pub fn font_files() -> &'static [&'static [u8]] {
    FILES
}

/// The faces with their book, made once for a process.
pub struct Fonts {
    pub book: LazyHash<FontBook>,
    pub faces: Vec<Font>,
}

pub static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let faces: Vec<Font> = FILES.iter().flat_map(|data| Font::iter(Bytes::new(*data))).collect();
    Fonts { book: LazyHash::new(FontBook::from_fonts(&faces)), faces }
});

/// The first character of a text that no face can print, if there is one.
pub fn uncovered(text: &str) -> Option<char> {
    text.chars().find(|c| *c != '\n' && !COVERED.get(*c as usize).copied().unwrap_or(false))
}

/// For each character by its number, whether the faces can print it.
static COVERED: LazyLock<Vec<bool>> = LazyLock::new(|| {
    let mut covered = vec![];
    for c in FontInfo::new(FILES[0], 0).iter().flat_map(|info| info.coverage.iter()) {
        let at = c as usize;
        if at >= covered.len() {
            covered.resize(at + 1, false);
        }
        covered[at] = true;
    }
    covered
});
