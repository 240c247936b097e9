//! The cache of pictures: a picture that was made ready once is ready for every paper that follows.
//!
//! Pictures are known by what is in them, not by their names. What is kept has a bound, so that a
//! hundred thousand jobs with photos of their own take no more memory than a hundred.

use std::collections::HashMap;
use std::sync::{LazyLock, Mutex, PoisonError};

use typst::utils::hash128;

use crate::typeset::images::{self, ImageFault};

/// The most bytes of ready pictures that are kept: some fifty photos. They are for the further papers of a job and
/// for what jobs share.
const ROOM: usize = 4 << 20;

/// As [`images::photo`], from the cache where it is ready there.
///
/// # Errors
/// As [`images::photo`].
pub fn photo(bytes: &[u8]) -> Result<Vec<u8>, ImageFault> {
    photo_by(bytes, images::photo)
}

/// As [`photo`], made ready in a way of the caller's own where the cache does not have it.
///
/// # Errors
/// Those of `prepare`.
pub fn photo_by(
    bytes: &[u8],
    prepare: impl FnOnce(&[u8]) -> Result<Vec<u8>, ImageFault>,
) -> Result<Vec<u8>, ImageFault> {
    ready("photo", bytes, prepare)
}

/// As [`images::logo`], from the cache where it is ready there.
///
/// # Errors
/// As [`images::logo`].
pub fn logo(bytes: &[u8]) -> Result<Vec<u8>, ImageFault> {
    ready("logo", bytes, images::logo)
}

static CACHE: LazyLock<Mutex<PictureCache>> = LazyLock::new(|| Mutex::new(PictureCache::new(ROOM)));

fn ready(
    kind: &str,
    bytes: &[u8],
    prepare: impl FnOnce(&[u8]) -> Result<Vec<u8>, ImageFault>,
) -> Result<Vec<u8>, ImageFault> {
    let name = hash128(&(kind, bytes));
    // What a panic on another thread left in the cache is whole: pictures are put there ready.
    let cache = || CACHE.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(picture) = cache().get(name) {
        return Ok(picture);
    }
    let picture = prepare(bytes)?;
    cache().put(name, picture.clone());
    Ok(picture)
}

/// Pictures by the hash of what they were made from.
struct PictureCache {
    pictures: HashMap<u128, CachedPicture>,
    bytes: usize,
    room: usize,
    /// Counts what was asked for, so that the picture that was not wanted for longest is known.
    asked: u64,
}

struct CachedPicture {
    picture: Vec<u8>,
    last: u64,
}

impl PictureCache {
    fn new(room: usize) -> Self {
        Self { pictures: HashMap::new(), bytes: 0, room, asked: 0 }
    }

    fn get(&mut self, name: u128) -> Option<Vec<u8>> {
        self.asked += 1;
        let kept = self.pictures.get_mut(&name)?;
        kept.last = self.asked;
        Some(kept.picture.clone())
    }

    /// Keeps a picture; those that were not wanted for longest make room for it.
    fn put(&mut self, name: u128, picture: Vec<u8>) {
        if picture.len() > self.room || self.pictures.contains_key(&name) {
            return;
        }
        self.bytes += picture.len();
        while self.bytes > self.room {
            let Some(oldest) = self.pictures.iter().min_by_key(|(_, kept)| kept.last) else {
                break;
            };
            let oldest = *oldest.0;
            self.bytes -= self.pictures.remove(&oldest).map_or(0, |kept| kept.picture.len());
        }
        self.pictures.insert(name, CachedPicture { picture, last: self.asked });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_picture_not_wanted_for_longest_makes_room() {
        let mut cache = PictureCache::new(10);
        cache.put(1, vec![1; 4]);
        cache.put(2, vec![2; 4]);
        assert_eq!(cache.get(1), Some(vec![1; 4]));
        cache.put(3, vec![3; 4]);
        assert_eq!(cache.get(2), None);
        assert_eq!(cache.get(1), Some(vec![1; 4]));
        assert_eq!(cache.get(3), Some(vec![3; 4]));
        assert_eq!(cache.bytes, 8);
    }

    #[test]
    fn a_picture_larger_than_the_room_is_not_kept() {
        let mut cache = PictureCache::new(10);
        cache.put(1, vec![1; 11]);
        assert_eq!((cache.get(1), cache.bytes), (None, 0));
    }

    #[test]
    fn a_photo_and_a_logo_of_the_same_file_are_two_pictures() {
        let mut png = vec![];
        image::RgbImage::from_pixel(9, 9, image::Rgb([200, 40, 40]))
            .write_to(&mut std::io::Cursor::new(&mut png), image::ImageFormat::Png)
            .unwrap();
        for _ in 0..2 {
            assert_eq!(photo(&png), images::photo(&png));
            assert_eq!(logo(&png), images::logo(&png));
        }
    }
}
