//! Pictures of every kind that a phone, a camera or an attacker writes: they come out as the picture
//! that one sees, the right way up and with nothing else in them, or are refused.

use std::io::Cursor;

use image::codecs::png::PngEncoder;
use image::{
    DynamicImage, ExtendedColorType, ImageEncoder, ImageFormat, Rgb, RgbImage, Rgba, RgbaImage,
};
use jpeg_encoder::{ColorType, Encoder};
use slableaf::typeset::images::{ImageFault, logo, photo};

use super::pictures::{PHOTO, crc32, png, segment};
use super::{ends_well, folder, write_draft};

const RED: [u8; 3] = [220, 20, 20];
const GREEN: [u8; 3] = [20, 200, 20];
const BLUE: [u8; 3] = [20, 20, 220];
const WHITE: [u8; 3] = [255, 255, 255];

/// Four quarters, so that every turn and every mirror is another picture: red, green; blue, white.
fn quarters(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        Rgb(match (x * 2 < width, y * 2 < height) {
            (true, true) => RED,
            (false, true) => GREEN,
            (true, false) => BLUE,
            (false, false) => WHITE,
        })
    })
}

fn as_jpeg(picture: &RgbImage, progressive: bool) -> Vec<u8> {
    let mut out = vec![];
    let mut encoder = Encoder::new(&mut out, 95);
    encoder.set_progressive(progressive);
    let (width, height) = (picture.width() as u16, picture.height() as u16);
    encoder.encode(picture, width, height, ColorType::Rgb).unwrap();
    out
}

fn as_png(picture: impl Into<DynamicImage>) -> Vec<u8> {
    let mut out = vec![];
    picture.into().write_to(&mut Cursor::new(&mut out), ImageFormat::Png).unwrap();
    out
}

/// The colors in the middle of the four quarters, from above to below, from left to right.
#[track_caller]
fn seen(ready: &[u8]) -> [[u8; 3]; 4] {
    let picture = image::load_from_memory(ready).unwrap().into_rgb8();
    let (width, height) = picture.dimensions();
    [(1, 1), (3, 1), (1, 3), (3, 3)]
        .map(|(x, y)| picture.get_pixel(width * x / 4, height * y / 4).0)
}

#[track_caller]
fn looks_like(found: [[u8; 3]; 4], expected: [[u8; 3]; 4], what: &str) {
    let near = |a: &[u8; 3], b: &[u8; 3]| a.iter().zip(b).all(|(a, b)| a.abs_diff(*b) <= 12);
    let all = found.iter().zip(&expected).all(|(a, b)| near(a, b));
    assert!(all, "{what}: {found:?} and not {expected:?}");
}

const UPRIGHT: [[u8; 3]; 4] = [RED, GREEN, BLUE, WHITE];

#[test]
fn every_kind_of_jpeg_and_png_is_the_picture_that_one_sees() {
    let picture = quarters(64, 48);
    let wide = DynamicImage::ImageRgb16(DynamicImage::ImageRgb8(picture.clone()).into_rgb16());
    let clear = DynamicImage::ImageRgb8(picture.clone()).into_rgba8();
    for (what, bytes) in [
        ("baseline JPEG", as_jpeg(&picture, false)),
        ("progressive JPEG", as_jpeg(&picture, true)),
        ("PNG", as_png(picture.clone())),
        ("PNG with 16 bits", as_png(wide)),
        ("PNG with alpha", as_png(clear)),
        ("interlaced PNG", interlaced(&picture)),
        ("animated PNG", animated(&picture)),
    ] {
        let ready = photo(&bytes).unwrap_or_else(|fault| panic!("{what}: {fault}"));
        looks_like(seen(&ready), UPRIGHT, what);
        assert!(ready.starts_with(&[0xFF, 0xD8]) && !holds(&ready, b"fdAT"), "{what}");
        looks_like(seen(&logo(&bytes).unwrap()), UPRIGHT, what);
    }
    let gray = DynamicImage::ImageRgb8(picture).into_luma8();
    let levels =
        [(16, 12), (48, 12), (16, 36), (48, 36)].map(|(x, y)| [gray.get_pixel(x, y).0[0]; 3]);
    let mut jpeg = vec![];
    Encoder::new(&mut jpeg, 95).encode(&gray, 64, 48, ColorType::Luma).unwrap();
    let wide = DynamicImage::ImageLuma16(DynamicImage::ImageLuma8(gray.clone()).into_luma16());
    for (what, bytes) in
        [("gray JPEG", jpeg), ("gray PNG", as_png(gray)), ("gray PNG with 16 bits", as_png(wide))]
    {
        looks_like(seen(&photo(&bytes).unwrap()), levels, what);
    }
}

/// A print shop's JPEG has four inks. The colors of inks without a profile are a convention; it has
/// to look like the picture, not like its negative.
#[test]
fn a_jpeg_of_four_inks_is_no_negative() {
    // Cyan, magenta, yellow, nothing.
    let inks = [[255, 0, 0, 0], [0, 255, 0, 0], [0, 0, 255, 0], [0, 0, 0, 0]];
    let mut data = vec![];
    for y in 0..48 {
        for x in 0..64 {
            data.extend(inks[usize::from(x >= 32) + 2 * usize::from(y >= 24)]);
        }
    }
    for kind in [ColorType::Cmyk, ColorType::CmykAsYcck] {
        let mut jpeg = vec![];
        Encoder::new(&mut jpeg, 95).encode(&data, 64, 48, kind).unwrap();
        let expected = [[0, 255, 255], [255, 0, 255], [255, 255, 0], WHITE];
        looks_like(seen(&photo(&jpeg).unwrap()), expected, "CMYK");
    }
}

/// The eight orientations as TIFF 6.0 has them (section 8, tag 274): which corner of the scene the
/// first stored pixel is, and which way the rows run. The stored picture is what a camera held so
/// would store; the paper has the scene.
#[test]
fn a_photo_is_the_right_way_up_in_all_eight_orientations() {
    let (scene_width, scene_height) = (64, 48);
    let scene = quarters(scene_width, scene_height);
    // Where in the scene the stored pixel of column x and row y lies; `right` and `bottom` are its
    // last column and row.
    type Place = fn(u32, u32, u32, u32) -> (u32, u32);
    let places: [(u16, bool, Place); 8] = [
        (1, false, |x, y, _, _| (x, y)),
        (2, false, |x, y, right, _| (right - x, y)),
        (3, false, |x, y, right, bottom| (right - x, bottom - y)),
        (4, false, |x, y, _, bottom| (x, bottom - y)),
        (5, true, |x, y, _, _| (y, x)),
        (6, true, |x, y, right, _| (right - y, x)),
        (7, true, |x, y, right, bottom| (right - y, bottom - x)),
        (8, true, |x, y, _, bottom| (y, bottom - x)),
    ];
    for (orientation, lies, place) in places {
        let (width, height) =
            if lies { (scene_height, scene_width) } else { (scene_width, scene_height) };
        let stored = RgbImage::from_fn(width, height, |x, y| {
            let (x, y) = place(x, y, scene_width - 1, scene_height - 1);
            *scene.get_pixel(x, y)
        });
        let jpeg = as_jpeg(&stored, false);
        let told = [&jpeg[..2], &turned(orientation), &jpeg[2..]].concat();
        let ready = photo(&told).unwrap();
        let size = image::load_from_memory(&ready).unwrap();
        assert_eq!((size.width(), size.height()), (scene_width, scene_height), "{orientation}");
        looks_like(seen(&ready), UPRIGHT, &format!("orientation {orientation}"));
        assert!(!holds(&ready, b"Exif"));
    }
    // A number that is none of the eight turns nothing.
    for orientation in [0, 9, 255] {
        let jpeg = as_jpeg(&scene, false);
        let told = [&jpeg[..2], &turned(orientation), &jpeg[2..]].concat();
        looks_like(seen(&photo(&told).unwrap()), UPRIGHT, "no orientation");
    }
}

/// An EXIF segment with nothing but an orientation (Exif 2.3, 4.6.4).
fn turned(orientation: u16) -> Vec<u8> {
    let [high, low] = orientation.to_be_bytes();
    let tiff = [
        &b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01"[..],
        &[high, low, 0, 0, 0, 0, 0, 0],
    ];
    segment(0xE1, &tiff.concat())
}

/// Black pixels that are wholly transparent are white paper, and what they hide is nowhere.
#[test]
fn what_a_transparent_place_hides_stays_hidden() {
    let hidden = RgbaImage::from_fn(64, 48, |x, _| {
        if x < 32 { Rgba([200, 0, 0, 0]) } else { Rgba([0, 0, 0, 128]) }
    });
    let bytes = as_png(hidden);
    let gray = [127; 3];
    looks_like(seen(&photo(&bytes).unwrap()), [WHITE, gray, WHITE, gray], "half transparent");
    let kept = image::load_from_memory(&logo(&bytes).unwrap()).unwrap().into_rgba8();
    assert!(kept.pixels().all(|pixel| pixel.0[0] == 0), "the hidden red is in the logo");
}

/// Everything that is not the picture: profiles, comments, texts, and whatever hangs on behind the end.
#[test]
fn nothing_but_the_picture_goes_on_paper() {
    let canary = b"CANARY-HIDDEN-4711";
    let jpeg = as_jpeg(&quarters(64, 48), false);
    let segments = [
        segment(0xFE, canary),
        segment(0xE1, &[b"http://ns.adobe.com/xap/1.0/\0", &canary[..]].concat()),
        segment(0xED, &[b"Photoshop 3.0\0", &canary[..]].concat()),
        segment(0xEF, canary),
    ];
    let told = [&jpeg[..2], &segments.concat(), &jpeg[2..], canary].concat();
    let picture = as_png(quarters(64, 48));
    // After the head, which is 8 + 25 bytes (PNG, third edition, 5.2 and 11.2.1).
    let texts = [
        chunk(b"tEXt", &[b"Comment\0", &canary[..]].concat()),
        chunk(b"iTXt", &[b"XML:com.adobe.xmp\0\0\0\0\0", &canary[..]].concat()),
        chunk(b"eXIf", &[b"MM\0\x2a\0\0\0\x08\0\0\0\0\0\0", &canary[..]].concat()),
    ];
    let png = [&picture[..33], &texts.concat(), &picture[33..], canary].concat();
    for bytes in [told, png] {
        assert!(holds(&bytes, canary));
        for ready in [photo(&bytes).unwrap(), logo(&bytes).unwrap()] {
            assert!(!holds(&ready, canary));
            looks_like(seen(&ready), UPRIGHT, "with much beside it");
        }
    }
}

#[test]
fn a_picture_cut_short_anywhere_is_refused() {
    let picture = quarters(64, 48);
    for (what, whole) in [
        ("JPEG", as_jpeg(&picture, false)),
        ("progressive JPEG", as_jpeg(&picture, true)),
        ("PNG", as_png(picture.clone())),
        ("interlaced PNG", interlaced(&picture)),
    ] {
        assert!(photo(&whole).is_ok());
        // The last bytes of a PNG are its end chunk, which holds nothing of the picture.
        let ends = if what.ends_with("PNG") { 12 } else { 1 };
        for cut in (0..whole.len() - ends).step_by(7) {
            let found = photo(&whole[..cut]);
            assert!(found.is_err(), "{what} of {} bytes cut at {cut}", whole.len());
        }
    }
}

/// Any one byte of a picture wrong: it is a picture or it is refused, and never the end of the run.
#[test]
fn a_picture_with_a_wrong_byte_ends_well() {
    let picture = quarters(24, 16);
    let mut refused = 0;
    for whole in [
        as_jpeg(&picture, false),
        as_jpeg(&picture, true),
        as_png(picture.clone()),
        interlaced(&picture),
    ] {
        for at in 0..whole.len() {
            for flip in [0xFF, 0x01, 0x80] {
                let mut other = whole.clone();
                other[at] ^= flip;
                refused += usize::from(photo(&other).is_err());
            }
        }
    }
    assert!(refused > 500, "{refused}");
}

/// A small file that would be large in memory: the head tells, or the decoder stops at its bound.
#[test]
fn a_small_file_that_unpacks_to_much_is_refused() {
    let most = slableaf::read::limits::PHOTO_PIXELS;
    for (width, height) in [(40_001, 1_000), (u32::MAX, 1), (1, u32::MAX), (65_500, 65_500)] {
        let found = photo(&png(width, height));
        let pixels = u64::from(width) * u64::from(height);
        match found {
            Err(ImageFault::TooManyPixels(told)) => assert_eq!(told, pixels),
            Err(ImageFault::Unreadable(_)) => {}
            other => panic!("{width} x {height}: {other:?}"),
        }
        assert!(pixels > most);
    }
    // A size that is accepted, and data that goes on and on: 200 MB of zeros in 200 kB.
    let mut endless = vec![];
    PngEncoder::new(&mut endless)
        .write_image(&vec![0; 6_000 * 6_000], 6_000, 6_000, ExtendedColorType::L8)
        .unwrap();
    let mut lying = endless.clone();
    lying[16..24].copy_from_slice(&[0, 0, 0, 10, 0, 0, 0, 10]);
    let crc = crc32(&lying[12..29]).to_be_bytes();
    lying[29..33].copy_from_slice(&crc);
    assert!(endless.len() < 1_000_000 && photo(&endless).is_ok());
    // More data than the head promises is no part of the picture.
    if let Ok(ready) = photo(&lying) {
        assert_eq!(image::load_from_memory(&ready).unwrap().width(), 10);
    }
}

/// Files at the name of a photo: nothing that could be read for ever, and nothing from elsewhere.
#[cfg(unix)]
#[test]
fn a_photo_is_a_plain_file_of_its_folder() {
    use std::os::unix::fs::symlink;
    let refused = |make: &dyn Fn(&std::path::Path), why: &str| {
        let folder = folder();
        let path = folder.path(PHOTO);
        std::fs::remove_file(&path).unwrap();
        make(&path);
        ends_well(write_draft(&folder).code(2)).err_has(&format!("the picture `{PHOTO}` {why}"));
        ends_well(folder.run(&["check", "job.toml"]).code(2)).err_has(why);
    };
    let pipe = |path: &std::path::Path| {
        assert!(std::process::Command::new("mkfifo").arg(path).status().unwrap().success());
    };
    refused(&|_| {}, "is not there");
    refused(&|path| std::fs::create_dir(path).unwrap(), "is not a plain file");
    refused(&pipe, "is not a plain file");
    refused(
        &|path| drop(std::os::unix::net::UnixListener::bind(path).unwrap()),
        "is not a plain file",
    );
    refused(&|path| symlink("/dev/zero", path).unwrap(), "is a link that leads out of the folder");
    refused(
        &|path| symlink("/etc/hostname", path).unwrap(),
        "is a link that leads out of the folder",
    );
    refused(&|path| symlink("../../elsewhere.jpg", path).unwrap(), "is not there");
    refused(&|path| symlink(path, path).unwrap(), "cannot be read");
    refused(&|path| std::fs::write(path, "").unwrap(), "is neither a JPEG nor a PNG picture");
    refused(&|path| std::fs::write(path, vec![0xFF; 15_000_001]).unwrap(), "has 15000001 bytes");
    // A link within the folder is a file like any other.
    let folder = folder();
    std::fs::rename(folder.path(PHOTO), folder.path("photos/other.jpg")).unwrap();
    symlink("other.jpg", folder.path(PHOTO)).unwrap();
    ends_well(write_draft(&folder)).success();
}

/// A customer's copy that is a pipe would be read for ever.
#[cfg(unix)]
#[test]
fn a_pipe_in_the_place_of_a_paper_is_told() {
    let folder = crate::fixture::Folder::of("smallest");
    folder.run(&["write", "job.toml"]).success();
    let copy = folder.path("papers/2026-0170-proposal-r1.pdf");
    std::fs::remove_file(&copy).unwrap();
    assert!(std::process::Command::new("mkfifo").arg(&copy).status().unwrap().success());
    ends_well(folder.run(&["write", "job.toml"]).code(5)).err_has("is not what was issued");
    ends_well(folder.run(&["verify", "job.toml"]));
    let draft = folder.path("papers/2026-0170-mail-r1.eml");
    std::fs::remove_file(&copy).unwrap();
    assert!(std::process::Command::new("mkfifo").arg(&draft).status().unwrap().success());
    ends_well(folder.run(&["mail", "job.toml"])).success();
}

// ------------------------------------------------------------------------- PNG, by hand

fn holds(bytes: &[u8], piece: &[u8]) -> bool {
    bytes.windows(piece.len()).any(|window| window == piece)
}

fn chunk(kind: &[u8], data: &[u8]) -> Vec<u8> {
    let body = [kind, data].concat();
    [&(data.len() as u32).to_be_bytes()[..], &body, &crc32(&body).to_be_bytes()].concat()
}

/// Data in stored blocks (RFC 1950 and 1951, section 3.2.4).
fn stored(data: &[u8]) -> Vec<u8> {
    let mut out = vec![0x78, 0x01];
    let blocks: Vec<&[u8]> = data.chunks(65_535).collect();
    for (at, block) in blocks.iter().enumerate() {
        out.push(u8::from(at + 1 == blocks.len()));
        out.extend((block.len() as u16).to_le_bytes());
        out.extend((!(block.len() as u16)).to_le_bytes());
        out.extend(*block);
    }
    let (a, b) = data.iter().fold((1_u32, 0_u32), |(a, b), byte| {
        let a = (a + u32::from(*byte)) % 65_521;
        (a, (b + a) % 65_521)
    });
    out.extend((b << 16 | a).to_be_bytes());
    out
}

fn head(picture: &RgbImage, interlace: u8) -> Vec<u8> {
    let size = [picture.width().to_be_bytes(), picture.height().to_be_bytes()].concat();
    let data = [&size[..], &[8, 2, 0, 0, interlace]].concat();
    [&b"\x89PNG\r\n\x1a\n"[..], &chunk(b"IHDR", &data)].concat()
}

/// Rows without a filter.
fn rows(picture: &RgbImage, from: (u32, u32), step: (u32, u32)) -> Vec<u8> {
    let mut data = vec![];
    for y in (from.1..picture.height()).step_by(step.1 as usize) {
        if from.0 < picture.width() {
            data.push(0);
        }
        for x in (from.0..picture.width()).step_by(step.0 as usize) {
            data.extend(picture.get_pixel(x, y).0);
        }
    }
    data
}

/// In the seven passes of Adam7 (PNG, third edition, clause 8.2).
fn interlaced(picture: &RgbImage) -> Vec<u8> {
    let passes = [
        ((0, 0), (8, 8)),
        ((4, 0), (8, 8)),
        ((0, 4), (4, 8)),
        ((2, 0), (4, 4)),
        ((0, 2), (2, 4)),
        ((1, 0), (2, 2)),
        ((0, 1), (1, 2)),
    ];
    let data: Vec<u8> =
        passes.iter().flat_map(|(from, step)| rows(picture, *from, *step)).collect();
    [head(picture, 1), chunk(b"IDAT", &stored(&data)), chunk(b"IEND", &[])].concat()
}

/// Two frames, the second all black (PNG, third edition, 11.3.5).
fn animated(picture: &RgbImage) -> Vec<u8> {
    let control = |number: u32| {
        let fields = [number, picture.width(), picture.height(), 0, 0];
        let fields: Vec<u8> = fields.iter().flat_map(|field| field.to_be_bytes()).collect();
        chunk(b"fcTL", &[&fields[..], &[0, 1, 0, 10, 0, 0]].concat())
    };
    let black = RgbImage::new(picture.width(), picture.height());
    let second = [&2_u32.to_be_bytes()[..], &stored(&rows(&black, (0, 0), (1, 1)))].concat();
    [
        head(picture, 0),
        chunk(b"acTL", &[0, 0, 0, 2, 0, 0, 0, 0]),
        control(0),
        chunk(b"IDAT", &stored(&rows(picture, (0, 0), (1, 1)))),
        control(1),
        chunk(b"fdAT", &second),
        chunk(b"IEND", &[]),
    ]
    .concat()
}
