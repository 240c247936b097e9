//! Pictures made ready for paper: the right way up, no larger than print needs, and with nothing
//! in them but the picture. Cameras write their owner and the place into a photo; a proposal must
//! not hand that on.

use std::io::{Cursor, Read, Seek, SeekFrom};
use std::ops::Range;

use image::codecs::png::PngEncoder;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits, Rgb, RgbImage};

use jpeg_encoder::{ColorType, Encoder};
use serde::{Deserialize, Serialize};

use crate::read::limits::{PHOTO_BYTES, PHOTO_PIXELS};
use crate::typeset::complete::head_of_complete;

/// Longest side of a photo in pixels. On paper a photo of four to three is 122 points high, so 163 long: that
/// is 318 to the inch; in one column it is 170 high, and 228 to the inch.
const LONGEST_SIDE: u32 = 720;
const JPEG_QUALITY: u8 = 82;
/// The form in which [`photo`] makes photos ready, for whoever keeps them: longest side and quality.
pub const PHOTO_FORM: &str = "720-82";
/// Bytes at the beginning of a file that tell its kind.
const SIGNATURE: u64 = 16;
/// Longest side of a logo.
const LOGO_SIDE: u32 = 900;

/// The reason for which a picture is refused.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum ImageFault {
    /// So many, and more than [`PHOTO_BYTES`].
    TooManyBytes(u64),
    /// So many, and more than [`PHOTO_PIXELS`].
    TooManyPixels(u64),
    NotAPicture,
    /// As many phones take them; its name ends in `.heic`.
    Heic,
    /// A file without its end: a copy that broke off.
    CutShort,
    Unreadable(String),
}

impl std::fmt::Display for ImageFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::TooManyBytes(bytes) => {
                write!(f, "has {bytes} bytes, and the most accepted is {PHOTO_BYTES}")
            }
            Self::TooManyPixels(pixels) => {
                write!(f, "has {pixels} pixels, and the most accepted is {PHOTO_PIXELS}")
            }
            Self::CutShort => write!(f, "is cut short; copy it again from the camera"),
            Self::NotAPicture => write!(f, "is neither a JPEG nor a PNG picture"),
            Self::Heic => write!(
                f,
                "is a HEIC picture, as many phones take them: open it where it can be seen, save or \
                 export it as JPEG, and name that file here"
            ),
            Self::Unreadable(why) => write!(f, "cannot be read: {why}"),
        }
    }
}

/// A photo as a plain JPEG.
///
/// # Errors
/// [`ImageFault`] when it is no picture, damaged, or larger than accepted.
pub fn photo(bytes: &[u8]) -> Result<Vec<u8>, ImageFault> {
    let picture = on_white(decoded(bytes, LONGEST_SIDE)?);
    let side = |side: u32| u16::try_from(side).map_err(unreadable);
    let (width, height) = (side(picture.width())?, side(picture.height())?);
    let mut out = vec![];
    Encoder::new(&mut out, JPEG_QUALITY)
        .encode(&picture, width, height, ColorType::Rgb)
        .map_err(unreadable)?;
    Ok(out)
}

/// A picture as it shows on white paper. What a transparent place hides must not come to light.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let seen = picture.into_rgba8();
    RgbImage::from_fn(seen.width(), seen.height(), |x, y| {
        let [red, green, blue, alpha] = seen.get_pixel(x, y).0.map(u32::from);
        let over = |value: u32| ((value * alpha + 255 * (255 - alpha) + 127) / 255) as u8;
        Rgb([over(red), over(green), over(blue)])
    })
}

/// A logo as a plain PNG.
///
/// # Errors
/// [`ImageFault`] when it is no picture, damaged, or larger than accepted.
pub fn logo(bytes: &[u8]) -> Result<Vec<u8>, ImageFault> {
    let mut picture = decoded(bytes, LOGO_SIDE)?.into_rgba8();
    // A place that is wholly transparent has no color to hand on.
    picture.pixels_mut().filter(|pixel| pixel.0[3] == 0).for_each(|pixel| pixel.0 = [0; 4]);
    let mut out = vec![];
    DynamicImage::ImageRgba8(picture)
        .write_with_encoder(PngEncoder::new(&mut out))
        .map_err(unreadable)?;
    Ok(out)
}

/// Looks at the file of a picture without decoding it: its kind, its size, and that it is complete.
///
/// # Errors
/// [`ImageFault`] when it is no picture, cut short, or larger than accepted. Other damage shows only when
/// the pixels are decoded, by [`photo`] or [`logo`].
pub fn inspect(file: &mut (impl Read + Seek)) -> Result<(), ImageFault> {
    let (head, format) = head(file)?;
    decoder(&head, format).map(drop)
}

fn unreadable(error: impl std::fmt::Display) -> ImageFault {
    ImageFault::Unreadable(error.to_string())
}

/// True for a file of the family of ISO/IEC 23008-12: a box `ftyp` first, with one of its brands.
fn is_heic(signature: &[u8]) -> bool {
    let brands: [&[u8]; 6] = [b"heic", b"heix", b"hevc", b"heim", b"mif1", b"msf1"];
    signature.get(4..8) == Some(b"ftyp")
        && signature.get(8..12).is_some_and(|brand| brands.contains(&brand))
}

/// Returns the head of a picture that is complete, and its format.
fn head(file: &mut (impl Read + Seek)) -> Result<(Vec<u8>, ImageFormat), ImageFault> {
    let bytes = file.seek(SeekFrom::End(0)).map_err(unreadable)?;
    if bytes > PHOTO_BYTES {
        return Err(ImageFault::TooManyBytes(bytes));
    }
    let mut signature = vec![];
    file.rewind().map_err(unreadable)?;
    file.by_ref().take(SIGNATURE).read_to_end(&mut signature).map_err(unreadable)?;
    let not_ours = || if is_heic(&signature) { ImageFault::Heic } else { ImageFault::NotAPicture };
    let format = image::guess_format(&signature).map_err(|_| not_ours())?;
    if !matches!(format, ImageFormat::Jpeg | ImageFormat::Png) {
        return Err(not_ours());
    }
    let head = head_of_complete(file, format).map_err(unreadable)?;
    head.map(|head| (head, format)).ok_or(ImageFault::CutShort)
}

/// Returns a decoder that has read the head of a picture, and no pixel.
fn decoder(bytes: &[u8], format: ImageFormat) -> Result<impl ImageDecoder + '_, ImageFault> {
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_alloc = Some(PHOTO_PIXELS * 8);
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(unreadable)?;
    let (width, height) = decoder.dimensions();
    let pixels = u64::from(width) * u64::from(height);
    if pixels > PHOTO_PIXELS {
        return Err(ImageFault::TooManyPixels(pixels));
    }
    Ok(decoder)
}

/// Decodes a picture, the right way up and no longer than `longest` pixels.
fn decoded(bytes: &[u8], longest: u32) -> Result<DynamicImage, ImageFault> {
    let (_, format) = head(&mut Cursor::new(bytes))?;
    let mut decoder = decoder(bytes, format)?;
    let orientation = decoder.orientation().map_err(unreadable)?;
    let half_is_enough = decoder.dimensions().0.max(decoder.dimensions().1) >= 2 * longest;
    let scaled = match format {
        ImageFormat::Jpeg if half_is_enough => scaled_jpeg(bytes, longest)?,
        _ => None,
    };
    let mut picture = match scaled {
        // Less than twice too long, where boxes of whole pixels would show.
        Some(picture) => DynamicImage::ImageRgb8(cubic(&picture, longest)),
        None => DynamicImage::from_decoder(decoder).map_err(unreadable)?,
    };
    picture.apply_orientation(orientation);
    if picture.width().max(picture.height()) > longest {
        picture = smaller(picture, longest);
    }
    Ok(picture)
}

/// A JPEG decoded at a half, a quarter or an eighth of its size, and no shorter than `longest`: most of the
/// work on a large photo is left out. `None` for one in other colors than red, green and blue.
fn scaled_jpeg(bytes: &[u8], longest: u32) -> Result<Option<RgbImage>, ImageFault> {
    let mut decoder = jpeg_decoder::Decoder::new(Cursor::new(bytes));
    decoder.set_max_decoding_buffer_size(usize::try_from(PHOTO_PIXELS * 8).unwrap_or(usize::MAX));
    decoder.read_info().map_err(unreadable)?;
    let Some(info) = decoder.info() else { return Ok(None) };
    if info.pixel_format != jpeg_decoder::PixelFormat::RGB24 {
        return Ok(None);
    }
    // The decoder stops at the first side that is met, so both are asked for in proportion.
    let (width, height) = (u32::from(info.width), u32::from(info.height));
    let side = |side: u32| (side * longest).div_ceil(width.max(height)) as u16;
    let (width, height) = decoder.scale(side(width), side(height)).map_err(unreadable)?;
    let pixels = decoder.decode().map_err(unreadable)?;
    Ok(RgbImage::from_raw(u32::from(width), u32::from(height), pixels))
}

/// A picture made smaller by the cubic filter of Catmull and Rom, in whole numbers. The picture library's own takes
/// as long as half of the paper, and one that uses what a machine has beyond the usual may round otherwise on another.
fn cubic(picture: &RgbImage, longest: u32) -> RgbImage {
    let (width, height) = picture.dimensions();
    let side = |from: u32| shrunk(from, width.max(height), longest);
    let (columns, rows) = (mixes(width, side(width)), mixes(height, side(height)));
    // Whole lines are mixed, many levels at a time, so that columns are turned to be lines.
    let (high, wide) = (height as usize, columns.len());
    let narrow = mixed(&turned(picture.as_raw(), width as usize), high * 3, &columns);
    let small = mixed(&turned(&narrow, high), wide * 3, &rows);
    let levels = small.iter().map(|level| (*level).clamp(0, 255) as u8).collect();
    RgbImage::from_raw(wide as u32, rows.len() as u32, levels).unwrap_or_default()
}

/// The pixels of a picture with lines for columns.
fn turned<Level: Copy + Into<i16>>(levels: &[Level], width: usize) -> Vec<i16> {
    let height = levels.len() / (width * 3);
    let mut out = vec![0; levels.len()];
    for (y, line) in levels.chunks_exact(width * 3).enumerate() {
        for (pixel, column) in line.chunks_exact(3).zip(out.chunks_exact_mut(height * 3)) {
            let there = column[y * 3..][..3].iter_mut();
            there.zip(pixel).for_each(|(to, level)| *to = (*level).into());
        }
    }
    out
}

/// Each mix of lines of this length. Light and dark may overshoot.
fn mixed(levels: &[i16], line: usize, mixes: &[Mix]) -> Vec<i16> {
    let mut sums = vec![0; line];
    let mut out = Vec::with_capacity(line * mixes.len());
    for mix in mixes {
        sums.fill(ONE / 2);
        let lines = levels[mix.start * line..].chunks_exact(line);
        for (weight, levels) in mix.weights.iter().zip(lines) {
            for (sum, level) in sums.iter_mut().zip(levels) {
                *sum = plus(*sum, *weight, *level);
            }
        }
        out.extend(sums.iter().map(|sum| (sum >> BITS) as i16));
    }
    out
}

/// The sum of the weights of a [`Mix`].
const ONE: i32 = 1 << BITS;
const BITS: u32 = 14;

/// A sum and a weighed level more. It cannot run over: weights sum to [`ONE`], few are negative, and levels are
/// below 1,024. Checked, the loops around it could not take several at a time.
fn plus(sum: i32, weight: i16, level: i16) -> i32 {
    sum.wrapping_add(i32::from(weight).wrapping_mul(i32::from(level)))
}

/// The pixels of a side that make one pixel of a shorter one.
struct Mix {
    /// The first of them.
    start: usize,
    weights: Vec<i16>,
}

/// The pixels of a side that make each pixel of a shorter one.
fn mixes(from: u32, to: u32) -> Vec<Mix> {
    let ratio = f64::from(from) / f64::from(to);
    let mix = |at: u32| {
        let center = (f64::from(at) + 0.5) * ratio;
        let first = (center - 2.0 * ratio).floor().max(0.0) as u32;
        let end = ((center + 2.0 * ratio).ceil() as u32).min(from);
        let away = (first..end).map(|one| (f64::from(one) + 0.5 - center) / ratio);
        let exact: Vec<f64> = away.map(catmull_rom).collect();
        let all: f64 = exact.iter().sum();
        let rounded = exact.iter().map(|weight| (weight / all * f64::from(ONE)).round() as i16);
        let mut weights: Vec<i16> = rounded.collect();
        let missing = ONE as i16 - weights.iter().sum::<i16>();
        if let Some(heaviest) = weights.iter_mut().max() {
            *heaviest += missing;
        }
        Mix { start: first as usize, weights }
    };
    (0..to).map(mix).collect()
}

/// The weight of a pixel that is so many pixels of the smaller picture away: the cubic of Catmull and Rom (1974).
fn catmull_rom(away: f64) -> f64 {
    match away.abs() {
        x if x < 1.0 => (1.5 * x - 2.5) * x * x + 1.0,
        x if x < 2.0 => ((-0.5 * x + 2.5) * x - 4.0) * x + 2.0,
        _ => 0.0,
    }
}

/// A picture made smaller: means of whole boxes of pixels, which for this are as good as a filter.
fn smaller(picture: DynamicImage, longest: u32) -> DynamicImage {
    match &picture {
        DynamicImage::ImageRgb8(plain) => boxes(plain, longest).map(DynamicImage::ImageRgb8),
        _ => None,
    }
    .unwrap_or_else(|| picture.thumbnail(longest, longest))
}

/// As `DynamicImage::thumbnail`, to the bit, in a fraction of its time: nearly every photo is of this
/// kind. `None` when a box would be empty, which happens only to a picture that hardly shrinks.
fn boxes(picture: &RgbImage, longest: u32) -> Option<RgbImage> {
    let (width, height) = picture.dimensions();
    let side = |from: u32| shrunk(from, width.max(height), longest);
    let (columns, rows) = (edges(width, side(width))?, edges(height, side(height))?);
    let line = width as usize * 3;
    let mut sums = vec![0_u32; line];
    let mut out = Vec::with_capacity(columns.len() * rows.len() * 3);
    for row in &rows {
        sums.fill(0);
        for from in picture.as_raw()[row.start * line..row.end * line].chunks_exact(line) {
            sums.iter_mut().zip(from).for_each(|(sum, value)| *sum += u32::from(*value));
        }
        for column in &columns {
            let many = (row.len() * column.len()) as u32;
            let mut all = [many / 2; 3];
            for pixel in sums[column.start * 3..column.end * 3].chunks_exact(3) {
                all.iter_mut().zip(pixel).for_each(|(sum, value)| *sum += value);
            }
            out.extend(all.map(|sum| (sum / many) as u8));
        }
    }
    RgbImage::from_raw(columns.len() as u32, rows.len() as u32, out)
}

/// A side of a picture whose longer side is made so long.
fn shrunk(side: u32, longer: u32, longest: u32) -> u32 {
    let scale = f64::from(longest) / f64::from(longer);
    ((f64::from(side) * scale).round() as u32).max(1)
}

/// The pixels of a side that go into each pixel of a shorter one.
fn edges(from: u32, to: u32) -> Option<Vec<Range<usize>>> {
    let ratio = from as f32 / to as f32;
    let of = |at: u32| {
        let start = at as f32 * ratio;
        let first = (start.ceil() as u32).min(from - 1);
        let end = ((start + ratio).ceil() as u32).clamp(first, from);
        (first < end).then_some(first as usize..end as usize)
    };
    (0..to).map(of).collect()
}

#[cfg(test)]
mod tests {
    use image::imageops::FilterType;

    use super::*;

    #[test]
    fn the_form_names_side_and_quality() {
        assert_eq!(PHOTO_FORM, format!("{LONGEST_SIDE}-{JPEG_QUALITY}"));
    }

    /// The picture library's own filter is the judge, to a rounding across and one down.
    #[test]
    fn the_cubic_is_that_of_the_picture_library() {
        for (width, height) in
            [(800, 600), (600, 800), (1008, 756), (721, 720), (1439, 3), (720, 720)]
        {
            let picture = RgbImage::from_fn(width, height, |x, y| {
                let noise = x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503);
                let squares = (x / 9 + y / 7) % 2 * 255;
                image::Rgb([(noise >> 8) as u8, (x * 255 / width) as u8, squares as u8])
            });
            let found = cubic(&picture, 720);
            let whole = DynamicImage::ImageRgb8(picture);
            let expected = whole.resize(720, 720, FilterType::CatmullRom).into_rgb8();
            assert_eq!(found.dimensions(), expected.dimensions(), "{width} x {height}");
            let pairs = found.as_raw().iter().zip(expected.as_raw());
            let apart = pairs.map(|(a, b)| a.abs_diff(*b)).max();
            assert!(apart <= Some(2), "{width} x {height}: {apart:?}");
        }
    }

    /// A large JPEG is decoded at a part of its size, the smallest one that is no shorter than asked for, and
    /// looks as it would if it were decoded whole.
    #[test]
    fn a_large_jpeg_is_decoded_at_a_part_of_its_size() {
        for (width, height, part) in
            [(1440, 1080, 2), (1601, 1203, 2), (2900, 2000, 4), (1200, 3001, 4), (5800, 400, 8)]
        {
            let picture = RgbImage::from_fn(width, height, |x, y| {
                let bars = (x / 61 + y / 47) % 2 * 90;
                let wave = (f64::from(x) / 90.0).sin() * (f64::from(y) / 70.0).cos() * 60.0 + 80.0;
                Rgb([(x * 255 / width) as u8, wave as u8 + bars as u8, (y * 255 / height) as u8])
            });
            let mut bytes = vec![];
            let (wide, high) = (width as u16, height as u16);
            let encoder = Encoder::new(&mut bytes, 90);
            encoder.encode(&picture, wide, high, ColorType::Rgb).unwrap();

            let scaled = scaled_jpeg(&bytes, LONGEST_SIDE).unwrap().unwrap();
            let of_part = (width.div_ceil(part), height.div_ceil(part));
            assert_eq!(scaled.dimensions(), of_part, "{width} x {height}");
            let found = decoded(&bytes, LONGEST_SIDE).unwrap().into_rgb8();
            assert!(found == cubic(&scaled, LONGEST_SIDE), "{width} x {height}: another way");

            let whole = image::load_from_memory_with_format(&bytes, ImageFormat::Jpeg).unwrap();
            let expected = cubic(&whole.into_rgb8(), LONGEST_SIDE);
            assert!(found != expected, "{width} x {height}: decoded whole");
            assert_eq!(found.dimensions(), expected.dimensions(), "{width} x {height}");
            let pairs = found.as_raw().iter().zip(expected.as_raw());
            let apart: u64 = pairs.map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
            let mean = apart as f64 / found.as_raw().len() as f64;
            assert!(mean < 2.0, "{width} x {height}: {mean} levels apart");
        }
    }

    /// The picture library's own way of making smaller is the judge.
    #[test]
    fn boxes_are_those_of_the_picture_library_to_the_bit() {
        let sides =
            [(1600, 1200), (1200, 1600), (1001, 1000), (1000, 1001), (1001, 3), (2999, 4000)];
        for (width, height) in sides {
            let picture = RgbImage::from_fn(width, height, |x, y| {
                let noise = x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503);
                image::Rgb([(noise >> 8) as u8, (x * 255 / width) as u8, (y ^ noise) as u8])
            });
            let expected =
                DynamicImage::ImageRgb8(picture.clone()).thumbnail(1000, 1000).into_rgb8();
            let found = smaller(DynamicImage::ImageRgb8(picture), 1000).into_rgb8();
            assert_eq!(found.dimensions(), expected.dimensions());
            assert!(found == expected, "{width} x {height}");
        }
    }
}
