//! Pictures that are none, cut short or too large.

use super::{DRAFT, ends_well, folder, write_draft};
use crate::readers::everything;
use lopdf::{Document, Object};
use std::fs;
use std::path::Path;

/// The photo of the dry job that is replaced.
pub const PHOTO: &str = "photos/dome.jpg";
const CUT_SHORT: &str = "is cut short; copy it again from the camera\n";

#[track_caller]
fn photo_is_refused(bytes: &[u8], why: &str) {
    let folder = folder().write(PHOTO, bytes);
    ends_well(write_draft(&folder).code(2))
        .err_has(&format!("error: the picture `{PHOTO}` {why}"))
        .err_has("--> job.toml:");
    assert!(!folder.path(DRAFT).exists());
}

pub fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
            (crc >> 1) ^ (0xEDB8_8320 & (crc & 1).wrapping_neg())
        })
    })
}

/// A PNG of one color channel that promises a size and holds an empty stream (PNG, third edition,
/// clauses 5 and 11).
pub fn png(width: u32, height: u32) -> Vec<u8> {
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut chunk = |kind: &[u8], data: &[u8]| {
        file.extend((data.len() as u32).to_be_bytes());
        let body = [kind, data].concat();
        file.extend(&body);
        file.extend(crc32(&body).to_be_bytes());
    };
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 0, 0, 0, 0]].concat();
    chunk(b"IHDR", &head);
    chunk(b"IDAT", &[0x78, 0x9C, 0x03, 0x00, 0x00, 0x00, 0x00, 0x01]);
    chunk(b"IEND", &[]);
    file
}

#[test]
fn a_picture_that_would_fill_the_memory_is_refused_by_its_head() {
    photo_is_refused(
        &png(30_000, 30_000),
        "has 900000000 pixels, and the most accepted is 40000000",
    );
    photo_is_refused(&png(u32::MAX, u32::MAX), "");
    // The height and width of a baseline JPEG stand five bytes after its marker (ITU-T T.81, B.2.2).
    let mut jpeg = folder().bytes(PHOTO);
    let frame = jpeg.windows(2).position(|pair| pair == [0xFF, 0xC0]).unwrap();
    jpeg[frame + 5..frame + 9].copy_from_slice(&[0xFD, 0xE8, 0xFD, 0xE8]);
    photo_is_refused(&jpeg, "has 4225000000 pixels, and the most accepted is 40000000");
}

#[test]
fn a_picture_without_its_pixels_is_refused() {
    photo_is_refused(&png(20, 20), "cannot be read: ");
    photo_is_refused(&png(0, 0), "cannot be read: ");
    let photo = folder().bytes(PHOTO);
    photo_is_refused(&photo[..200], CUT_SHORT);
    photo_is_refused(b"", "is neither a JPEG nor a PNG picture");
    photo_is_refused(b"\xff\xd8\xff", CUT_SHORT);
}

/// The lower half would print as gray: what an unfinished copy from a phone leaves.
#[test]
fn a_photo_cut_short_is_refused() {
    let photo = folder().bytes(PHOTO);
    photo_is_refused(&photo[..photo.len() / 2], CUT_SHORT);
    photo_is_refused(&photo[..photo.len() - 1], CUT_SHORT);
    let logo = folder().bytes("logo.png");
    photo_is_refused(&logo[..logo.len() / 2], CUT_SHORT);
}

/// `check` and `estimate` read the heads of pictures and follow their files to the end, but decode no
/// pixel: damage within the data is found by `write`, before anything is issued.
#[test]
fn check_and_estimate_find_a_photo_cut_short_and_leave_its_pixels_to_write() {
    let photo = folder().bytes(PHOTO);
    let cut = folder().write(PHOTO, &photo[..photo.len() / 2]);
    for verb in ["check", "estimate"] {
        ends_well(cut.run(&[verb, "job.toml"]).code(2))
            .err_has(&format!("error: the picture `{PHOTO}` {CUT_SHORT}"))
            .err_has("--> job.toml:");
    }
    let damaged = folder().write(PHOTO, png(20, 20));
    for verb in ["check", "estimate"] {
        damaged.run(&[verb, "job.toml"]).success();
    }
    ends_well(damaged.run(&["write", "job.toml"]).code(2))
        .err_has(&format!("error: the picture `{PHOTO}` cannot be read: "))
        .err_has("--> job.toml:");
    let records = fs::read_dir(damaged.path("records")).unwrap().map(|entry| entry.unwrap().path());
    assert!(records.into_iter().all(|path| path.extension().is_some_and(|end| end == "lock")));
    assert!(!damaged.path("papers").exists());
}

#[test]
fn a_picture_is_what_its_bytes_are_and_not_its_name() {
    let logo = folder().bytes("logo.png");
    write_draft(&folder().write(PHOTO, logo)).success();
    let photo = folder().bytes(PHOTO);
    write_draft(&folder().write("logo.png", photo)).success();
    let why = "is neither a JPEG nor a PNG picture";
    photo_is_refused(b"GIF89a\x01\x00\x01\x00\x80\x00\x00\x00\x00\x00\xff\xff\xff\x2c\x00\x00\x00\x00\x01\x00\x01\x00\x00\x02\x02\x44\x01\x00\x3b", why);
    photo_is_refused(
        b"<svg xmlns=\"http://www.w3.org/2000/svg\"><image href=\"/etc/passwd\"/></svg>",
        why,
    );
    photo_is_refused(b"%PDF-1.7\n", why);
    photo_is_refused(b"BM\x3a\x00\x00\x00\x00\x00\x00\x00\x36\x00\x00\x00", why);
    photo_is_refused(b"RIFF\x24\x00\x00\x00WEBPVP8 ", why);
}

const OWNER: &str = "CANARY-OWNER-4711";
const PLACE: &str = "CANARY-GPS-61N-5E";
const COMMENT: &str = "CANARY-COMMENT-0815";

/// An EXIF segment: turned by a quarter (orientation 6), the owner, and a GPS table with a place
/// (TIFF 6.0, section 2; Exif 2.3, 4.6.6).
fn exif() -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: usize, value: u32| {
        [
            &tag.to_be_bytes()[..],
            &kind.to_be_bytes(),
            &(count as u32).to_be_bytes(),
            &value.to_be_bytes(),
        ]
        .concat()
    };
    // Offsets from the start of the TIFF head: three entries, then the texts, then the GPS table.
    let owner_at = 8 + 2 + 3 * 12 + 4;
    let gps_at = owner_at + OWNER.len() as u32 + 1;
    let place_at = gps_at + 2 + 12 + 4;
    let (ascii, short, long, undefined) = (2, 3, 4, 7);
    let tiff = [
        b"MM\x00\x2a\x00\x00\x00\x08".to_vec(),
        3_u16.to_be_bytes().to_vec(),
        entry(0x0112, short, 1, 6 << 16),
        entry(0x013B, ascii, OWNER.len() + 1, owner_at),
        entry(0x8825, long, 1, gps_at),
        vec![0; 4],
        OWNER.as_bytes().to_vec(),
        vec![0],
        1_u16.to_be_bytes().to_vec(),
        entry(0x001C, undefined, PLACE.len(), place_at),
        vec![0; 4],
        PLACE.as_bytes().to_vec(),
    ]
    .concat();
    segment(0xE1, &[b"Exif\0\0", tiff.as_slice()].concat())
}

pub fn segment(marker: u8, data: &[u8]) -> Vec<u8> {
    [&[0xFF, marker], &(data.len() as u16 + 2).to_be_bytes()[..], data].concat()
}

/// Width and height of every picture in a paper.
fn pictures(path: &Path) -> Vec<(i64, i64)> {
    let document = Document::load(path).unwrap();
    let number = |object: &Object| object.as_i64().unwrap();
    let streams = document.objects.values().filter_map(|object| object.as_stream().ok());
    streams
        .filter(|stream| {
            stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|kind| kind == b"Image")
        })
        .map(|stream| {
            (
                number(stream.dict.get(b"Width").unwrap()),
                number(stream.dict.get(b"Height").unwrap()),
            )
        })
        .collect()
}

/// A phone writes the owner and the place into a photo. The paper has the picture the right way
/// up, and neither.
#[test]
fn what_a_phone_writes_into_a_photo_stays_out_of_the_paper() {
    let photo = folder().bytes(PHOTO);
    let told = [&photo[..2], &exif(), &segment(0xFE, COMMENT.as_bytes()), &photo[2..]].concat();
    let plain = folder();
    write_draft(&plain).success();
    assert!(!pictures(&plain.path(DRAFT)).contains(&(540, 720)));
    let folder = folder().write(PHOTO, &told);
    write_draft(&folder).success();
    // 1600 by 1200 lying, turned and at most 720 high.
    assert!(
        pictures(&folder.path(DRAFT)).contains(&(540, 720)),
        "{:?}",
        pictures(&folder.path(DRAFT))
    );
    let bytes = everything(&folder.path(DRAFT));
    for canary in [OWNER, PLACE, COMMENT, "Exif"] {
        assert!(told.windows(canary.len()).any(|piece| piece == canary.as_bytes()), "{canary}");
        assert!(!bytes.windows(canary.len()).any(|piece| piece == canary.as_bytes()), "{canary}");
    }
}
