//! The faces that papers are set in: the embedded ones, and behind them those of a shop's own font
//! files. System fonts are never consulted, so that a page is the same everywhere.

use std::collections::HashSet;
use std::sync::{Arc, LazyLock};

use typst::foundations::Bytes;
use typst::text::{Font, FontBook, FontInfo};
use typst::utils::LazyHash;

use crate::typeset::font_file::FontFile;

/// Noto Serif for prose and Inter for figures and labels; both SIL Open Font License 1.1, with the
/// licenses beside them in `fonts/`.
pub const FONT_FILES: &[&[u8]] = &[
    include_bytes!("../../fonts/NotoSerif-SemiCondensed.ttf"),
    include_bytes!("../../fonts/NotoSerif-SemiCondensedBold.ttf"),
    include_bytes!("../../fonts/Inter-Regular.otf"),
    include_bytes!("../../fonts/Inter-SemiBold.otf"),
    include_bytes!("../../fonts/Inter-Bold.otf"),
];

/// The faces of a renderer with their book.
#[derive(Debug)]
pub struct Faces {
    pub(super) book: LazyHash<FontBook>,
    faces: Vec<Font>,
    /// Files of the shop, behind the embedded faces.
    own: Vec<Arc<FontFile>>,
}

/// The embedded faces alone, made once for a process.
static EMBEDDED: LazyLock<Arc<Faces>> = LazyLock::new(|| Arc::new(Faces::new(vec![])));

/// The embedded faces, parsed once for a process.
static EMBEDDED_FACES: LazyLock<Vec<Font>> =
    LazyLock::new(|| FONT_FILES.iter().flat_map(|data| Font::iter(Bytes::new(*data))).collect());

impl Faces {
    /// The embedded faces alone.
    pub fn embedded() -> Arc<Self> {
        EMBEDDED.clone()
    }

    /// The embedded faces, and behind them those of font files, in the order of the files.
    pub fn with_own(own: Vec<Arc<FontFile>>) -> Arc<Self> {
        if own.is_empty() { Self::embedded() } else { Arc::new(Self::new(own)) }
    }

    fn new(own: Vec<Arc<FontFile>>) -> Self {
        let mut faces = EMBEDDED_FACES.clone();
        let mut book = FontBook::from_fonts(&faces);
        for face in own.iter().flat_map(|file| &file.faces) {
            let mut info: FontInfo = face.info().clone();
            // A shop's face of the same name must not be taken in place of an embedded one.
            if faces.iter().any(|known| known.info().family.eq_ignore_ascii_case(&info.family)) {
                info.family = format!("Own {}", info.family);
            }
            book.push(info);
        }
        faces.extend(own.iter().flat_map(|file| file.faces.iter().cloned()));
        Self { book: LazyHash::new(book), faces, own }
    }

    pub(super) fn face(&self, index: usize) -> Option<Font> {
        self.faces.get(index).cloned()
    }

    /// The font files of the shop.
    pub fn own(&self) -> &[Arc<FontFile>] {
        &self.own
    }

    /// True when some face can print a character.
    pub fn prints(&self, c: char) -> bool {
        is_embedded(c) || self.own.iter().any(|file| file.covers(c))
    }

    /// The first character of a text that no face can print, if there is one.
    pub fn uncovered(&self, text: &str) -> Option<char> {
        text.chars().find(|c| !self.prints(*c))
    }

    /// The font files that texts may need, by their places in [`Self::own`]: those that cover a character
    /// which the embedded faces lack.
    pub fn needed<'t>(&self, texts: impl Iterator<Item = &'t str>) -> Vec<usize> {
        if self.own.is_empty() {
            return vec![];
        }
        let lacking: HashSet<char> =
            texts.flat_map(str::chars).filter(|c| !is_embedded(*c)).collect();
        let covers = |file: &Arc<FontFile>| lacking.iter().any(|c| file.covers(*c));
        self.own.iter().enumerate().filter(|(_, file)| covers(file)).map(|(at, _)| at).collect()
    }
}

/// The first character of a text that no embedded face can print, if there is one.
pub fn uncovered(text: &str) -> Option<char> {
    text.chars().find(|c| !is_embedded(*c))
}

/// The mark that ends a name from right to left: it has no look of its own.
pub(super) const LEFT_TO_RIGHT_MARK: char = '\u{200E}';

/// True when an embedded face can print a character, and for what has no look: the end of a line, the mark
/// that ends a name from right to left.
fn is_embedded(c: char) -> bool {
    matches!(c, '\n' | LEFT_TO_RIGHT_MARK) || COVERED.get(c as usize).copied().unwrap_or(false)
}

/// For each character by its number, whether the embedded faces can print it.
static COVERED: LazyLock<Vec<bool>> = LazyLock::new(|| {
    let known: Vec<usize> = EMBEDDED_FACES
        .iter()
        .flat_map(|face| face.info().coverage.iter().collect::<Vec<_>>())
        .map(|c| c as usize)
        .collect();
    let mut covered = vec![false; known.iter().max().map_or(0, |last| last + 1)];
    known.into_iter().for_each(|c| covered[c] = true);
    covered
});
