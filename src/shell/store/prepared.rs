//! Large photos as they were made ready for paper, kept beside the records of their job: what is printed next
//! decodes none of them again.
//!
//! They lie where the originals lie too, in the shop's own records, for their owner alone to read. A file is
//! the picture and behind it the hash of the picture, so that one that was cut short or altered is made
//! again. Nothing depends on them: they may be removed at any time, and `verify` never looks at them.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use slableaf::issued::Hash;
use slableaf::read::limits::PHOTO_BYTES;
use slableaf::typeset::images::{self, ImageFault};
use slableaf::typeset::picture_cache;

use crate::shell::store::{PROGRAM, read_plain};

/// Bytes of a photo from which on it is kept; smaller ones are made ready about as fast as they are read.
const LARGE: usize = 400 << 10;

/// The hexadecimal digits of a hash.
const DIGITS: usize = 64;

/// The prepared photos of one job.
pub struct PreparedPhotos {
    folder: PathBuf,
    /// False for a run that is only to read.
    keeps: bool,
}

impl PreparedPhotos {
    pub fn new(folder: PathBuf, keeps: bool) -> Self {
        Self { folder, keeps }
    }

    /// A photo as a plain JPEG: as it was kept, or made ready now.
    ///
    /// # Errors
    /// As [`images::photo`].
    pub fn photo(&self, bytes: &[u8], sha256: &Hash) -> Result<Vec<u8>, ImageFault> {
        if bytes.len() < LARGE {
            return picture_cache::photo(bytes);
        }
        picture_cache::photo_by(bytes, |bytes| {
            let path = self.folder.join(format!("{}{}", sha256.0, ending()));
            if let Some(picture) = kept(&path) {
                return Ok(picture);
            }
            let picture = images::photo(bytes)?;
            if self.keeps {
                // A disk that takes none is no fault of the paper.
                let _ = self.keep(&path, &picture);
            }
            Ok(picture)
        })
    }

    /// Writes a picture and its hash, whole or not at all.
    fn keep(&self, path: &Path, picture: &[u8]) -> std::io::Result<()> {
        fs::create_dir_all(&self.folder)?;
        let mut file = tempfile::Builder::new().suffix(".tmp").tempfile_in(&self.folder)?;
        file.write_all(picture)?;
        file.write_all(Hash::of(picture).0.as_bytes())?;
        file.persist(path)?;
        Ok(())
    }

    /// Removes what is of no photo of the job any more.
    pub fn keep_only(&self, photos: &[&Hash]) {
        let mut left = 0;
        for entry in fs::read_dir(&self.folder).into_iter().flatten().flatten() {
            let name = entry.file_name();
            let sha256 = name.to_str().and_then(|name| name.strip_suffix(&ending()));
            if sha256.is_some_and(|sha256| photos.iter().any(|photo| photo.0 == sha256)) {
                left += 1;
            } else {
                let _ = fs::remove_file(entry.path());
            }
        }
        if left == 0 {
            let _ = fs::remove_dir(&self.folder);
        }
    }
}

/// The end of a name: it changes with the way in which photos are made ready.
fn ending() -> String {
    format!("-{}-{PROGRAM}.jpg", images::PHOTO_FORM)
}

/// The picture of a file that is as it was kept.
fn kept(path: &Path) -> Option<Vec<u8>> {
    let mut bytes = read_plain(path, PHOTO_BYTES).ok()?;
    let picture = bytes.len().checked_sub(DIGITS)?;
    let is_whole = Hash::of(&bytes[..picture]).0.as_bytes() == &bytes[picture..];
    bytes.truncate(picture);
    is_whole.then_some(bytes)
}
