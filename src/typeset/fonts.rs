//! The embedded faces. System fonts are never consulted, so that a page is the same everywhere.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::{Font, FontBook, FontInfo};
use typst::utils::LazyHash;

/// Noto Serif for prose and Inter for figures and labels; both SIL Open Font License 1.1, with the
/// licenses beside them in `fonts/`.
pub const FONT_FILES: &[&[u8]] = &[
    include_bytes!("../../fonts/NotoSerif-SemiCondensed.ttf"),
    include_bytes!("../../fonts/NotoSerif-SemiCondensedBold.ttf"),
    include_bytes!("../../fonts/Inter-Regular.otf"),
    include_bytes!("../../fonts/Inter-SemiBold.otf"),
    include_bytes!("../../fonts/Inter-Bold.otf"),
];

/// The faces with their book, made once for a process.
pub struct Fonts {
    pub book: LazyHash<FontBook>,
    pub faces: Vec<Font>,
}

pub static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let faces: Vec<Font> =
        FONT_FILES.iter().flat_map(|data| Font::iter(Bytes::new(*data))).collect();
    Fonts { book: LazyHash::new(FontBook::from_fonts(&faces)), faces }
});

/// The first character of a text that no face can print, if there is one.
pub fn uncovered(text: &str) -> Option<char> {
    text.chars().find(|c| *c != '\n' && !COVERED.get(*c as usize).copied().unwrap_or(false))
}

/// For each character by its number, whether the faces can print it.
static COVERED: LazyLock<Vec<bool>> = LazyLock::new(|| {
    let infos = FONT_FILES.iter().filter_map(|file| FontInfo::new(file, 0));
    let known: Vec<usize> = infos
        .flat_map(|info| info.coverage.iter().collect::<Vec<_>>())
        .map(|c| c as usize)
        .collect();
    let mut covered = vec![false; known.iter().max().map_or(0, |last| last + 1)];
    known.into_iter().for_each(|c| covered[c] = true);
    covered
});
