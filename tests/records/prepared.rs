//! Large photos as they were made ready are kept beside the records, and nothing depends on them.

use std::collections::BTreeMap;
use std::fs;
use std::io::Cursor;
use std::path::PathBuf;

use image::{ImageFormat, Rgb, RgbImage};
use slableaf::issued::Hash;
use slableaf::typeset::images;

use super::{VERIFY, WRITE, wage};
use crate::fixture::{Folder, all_files};

const KEPT: &str = "records/.slableaf-2026-0142.photos";

/// A photo of some megabytes.
fn large_photo(seed: u32) -> Vec<u8> {
    let noise = |x: u32, y: u32| {
        ((x + seed).wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503)).wrapping_shr(9)
    };
    let photo = RgbImage::from_fn(1600, 1200, |x, y| {
        Rgb([noise(x, y) as u8, (x * 255 / 1600) as u8, (y * 255 / 1200) as u8])
    });
    let mut bytes = vec![];
    photo.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Jpeg).unwrap();
    assert!(bytes.len() > 500_000, "{}", bytes.len());
    bytes
}

/// The main example; one of its photos is large.
fn with_large_photo() -> Folder {
    Folder::new().write("photos/overview.jpg", large_photo(1))
}

fn kept(folder: &Folder) -> BTreeMap<PathBuf, Vec<u8>> {
    if folder.path(KEPT).exists() { all_files(&folder.path(KEPT)) } else { BTreeMap::new() }
}

fn paper(folder: &Folder, revision: u32) -> Vec<u8> {
    folder.bytes(&format!("papers/2026-0142-proposal-r{revision}.pdf"))
}

#[test]
fn a_large_photo_is_kept_ready_and_makes_the_same_paper() {
    let folder = with_large_photo();
    folder.run(WRITE).success();
    let first = kept(&folder);
    let (path, bytes) = first.first_key_value().unwrap();
    assert_eq!(first.len(), 1, "the small ones are made ready each time: {first:?}");
    let ready = images::photo(&large_photo(1)).unwrap();
    assert_eq!(bytes.split_at(ready.len()), (&ready[..], Hash::of(&ready).0.as_bytes()));
    let sha256 = Hash::of(&large_photo(1)).0;
    assert!(path.file_name().unwrap().to_str().unwrap().starts_with(&sha256));
    let folder = wage(folder, 41);
    folder.run(WRITE).success();
    assert_eq!(kept(&folder), first);
    // The same second revision of a shop that keeps nothing.
    let other = with_large_photo();
    other.run(WRITE).success();
    fs::remove_dir_all(other.path(KEPT)).unwrap();
    let other = wage(other, 41);
    other.run(WRITE).success();
    assert!(paper(&folder, 2) == paper(&other, 2));
    folder.run(VERIFY).success().out_has("2 records: 2 sound");
}

#[cfg(unix)]
#[test]
fn what_is_kept_is_for_its_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let folder = with_large_photo();
    folder.run(WRITE).success();
    let path = kept(&folder).into_keys().next().unwrap();
    assert_eq!(fs::metadata(path).unwrap().permissions().mode() & 0o777, 0o600);
}

/// A picture with its right hash is taken as it is: so it is seen that nothing is decoded again. `verify`
/// renders from the photo itself, and tells.
#[test]
fn what_is_kept_is_taken_and_verify_never_takes_it() {
    let folder = with_large_photo();
    folder.run(WRITE).success();
    let (path, own) = kept(&folder).pop_first().unwrap();
    let other = images::photo(&large_photo(7)).unwrap();
    fs::write(&path, [&other, Hash::of(&other).0.as_bytes()].concat()).unwrap();
    let folder = wage(folder, 41);
    folder.run(WRITE).success();
    folder.run(VERIFY).code(1).out_has("1 sound");
    fs::write(&path, own).unwrap();
    let draft = |folder: &Folder| {
        folder.run(&["write", "job.toml", "--draft"]).success();
        folder.bytes("papers/2026-0142-proposal-draft.pdf")
    };
    let right = draft(&folder);
    fs::write(&path, [&other, Hash::of(&other).0.as_bytes()].concat()).unwrap();
    assert!(draft(&folder) != right, "a draft takes what is kept too");
}

#[test]
fn what_was_cut_short_or_altered_is_made_again() {
    let folder = with_large_photo();
    folder.run(WRITE).success();
    let (path, sound) = kept(&folder).pop_first().unwrap();
    let mut altered = sound.clone();
    altered[sound.len() / 2] ^= 1;
    let damage: [&[u8]; 4] = [&sound[..sound.len() / 2], &altered, b"", b"no picture"];
    let mut folder = folder;
    for (at, damaged) in damage.into_iter().enumerate() {
        fs::write(&path, damaged).unwrap();
        folder = wage(folder, 41 + at as u32);
        folder.run(WRITE).success();
        assert!(fs::read(&path).unwrap() == sound, "{at}");
    }
    folder.run(VERIFY).success().out_has("5 records: 5 sound");
}

#[test]
fn a_photo_that_the_job_has_no_more_is_kept_no_more() {
    let folder = with_large_photo();
    folder.run(WRITE).success();
    let first = kept(&folder);
    let folder = folder.write("photos/overview.jpg", large_photo(2));
    folder.run(WRITE).success();
    let second = kept(&folder);
    assert!(second.len() == 1 && first.keys().ne(second.keys()));
    let small = fs::read("examples/two-car-barrier/photos/overview.jpg").unwrap();
    let folder = folder.write("photos/overview.jpg", small);
    folder.run(WRITE).success();
    assert!(!folder.path(KEPT).exists());
}

/// A draft leaves nothing beside the records, and a run that may not write there prints all the same.
#[test]
fn a_draft_keeps_nothing() {
    let folder = with_large_photo();
    folder.run(&["write", "job.toml", "--draft"]).success();
    assert!(!folder.path("records").exists());
    folder.run(WRITE).success();
    fs::remove_dir_all(folder.path(KEPT)).unwrap();
    folder.run(&["write", "job.toml", "--draft"]).success();
    assert!(!folder.path(KEPT).exists());
    // Something else in its place is no fault of the paper.
    let folder = wage(folder, 41).write(KEPT, "no folder");
    folder.run(WRITE).success();
    folder.run(VERIFY).success().out_has("2 records: 2 sound");
}
