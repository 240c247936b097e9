//! A font file of a shop: read once, refused when it is damaged or may not be embedded.

use typst::foundations::Bytes;
use typst::text::Font;

/// A file with one face or more that papers may be set in.
#[derive(Debug)]
pub struct FontFile {
    /// The name of the file in its folder.
    pub name: String,
    pub bytes: Bytes,
    pub(super) faces: Vec<Font>,
}

/// The reason for which a file is no font for papers; its text follows the name of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FontFault {
    NoFont,
    CutShort,
    /// The license of the font, as the file states it, forbids to embed it.
    NoEmbedding,
    /// The license forbids to embed a part of it, and a paper embeds only the letters that it uses.
    NoSubset,
    /// Its letters may be embedded as pictures alone.
    PicturesOnly,
}

impl std::fmt::Display for FontFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::NoFont => "is no font that can be read",
            Self::CutShort => "is cut short: a table of the font lies past its end",
            Self::NoEmbedding => {
                "says that it may not be embedded in a document (`fsType` of its OS/2 table)"
            }
            Self::NoSubset => {
                "says that no part of it may be embedded in a document (`fsType` of its OS/2 table)"
            }
            Self::PicturesOnly => {
                "says that only pictures of its letters may be embedded (`fsType` of its OS/2 table)"
            }
        })
    }
}

impl FontFault {
    /// Advice on what to do about it.
    pub fn help(self) -> &'static str {
        match self {
            Self::NoFont => "put in a TrueType or OpenType file: `.ttf`, `.otf`, `.ttc` or `.otc`",
            Self::CutShort => "copy the file again from where it came",
            Self::NoEmbedding | Self::NoSubset | Self::PicturesOnly => {
                "take it out, and put in a font with an open license"
            }
        }
    }
}

/// Faces that one file may hold; a collection for all of East Asia has under 50.
const FACES: usize = 100;

impl FontFile {
    /// Reads a font file.
    ///
    /// # Errors
    /// [`FontFault`], of the first of its faces that has one.
    pub fn read(name: &str, bytes: Vec<u8>) -> Result<Self, FontFault> {
        let bytes = Bytes::new(bytes);
        let count = ttf_parser::fonts_in_collection(&bytes).unwrap_or(1);
        let mut faces = vec![];
        for index in 0..count.min(FACES as u32) {
            let face = Font::new(bytes.clone(), index).ok_or_else(|| {
                if cut_short(&bytes, index) { FontFault::CutShort } else { FontFault::NoFont }
            })?;
            if cut_short(&bytes, index) {
                return Err(FontFault::CutShort);
            }
            may_be_embedded(&bytes, index)?;
            faces.push(face);
        }
        if faces.is_empty() {
            return Err(FontFault::NoFont);
        }
        Ok(Self { name: name.to_owned(), bytes, faces })
    }

    /// True when one of its faces has a letter for a character.
    pub fn covers(&self, c: char) -> bool {
        self.faces.iter().any(|face| face.info().coverage.contains(c as u32))
    }
}

/// True when a table of a face lies past the end of its file.
fn cut_short(bytes: &[u8], index: u32) -> bool {
    let Ok(face) = ttf_parser::RawFace::parse(bytes, index) else { return false };
    face.table_records.into_iter().any(|table| {
        let end = u64::from(table.offset) + u64::from(table.length);
        end > bytes.len() as u64
    })
}

/// Asks `fsType`. Source: OpenType specification 1.9, OS/2 table, `fsType`: bits 0 to 3 are the
/// permission to embed, bit 8 forbids subsets, bit 9 allows bitmaps alone.
fn may_be_embedded(bytes: &[u8], index: u32) -> Result<(), FontFault> {
    let face = ttf_parser::Face::parse(bytes, index).map_err(|_| FontFault::NoFont)?;
    // A face without the table says nothing that forbids it.
    let Some(os2) = face.tables().os2 else { return Ok(()) };
    if matches!(os2.permissions(), None | Some(ttf_parser::Permissions::Restricted)) {
        return Err(FontFault::NoEmbedding);
    }
    if !os2.is_subsetting_allowed() {
        return Err(FontFault::NoSubset);
    }
    if !os2.is_outline_embedding_allowed() {
        return Err(FontFault::PicturesOnly);
    }
    Ok(())
}
