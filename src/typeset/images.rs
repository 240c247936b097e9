//! Pictures made ready for paper: the right way up, no larger than print needs, and with nothing
//! in them but the picture. Cameras write their owner and the place into a photo; a proposal must
//! not hand that on.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};

use crate::input::limits::{PHOTO_BYTES, PHOTO_PIXELS};

/// Longest side of a photo on paper, in pixels: a third of a page is 2.2 inches, so 450 to the inch.
const LONGEST_SIDE: u32 = 1000;
const JPEG_QUALITY: u8 = 82;
/// Longest side of a logo.
const LOGO_SIDE: u32 = 900;

/// Why a picture is refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ImageFault {
    TooManyBytes {
        bytes: u64,
        most: u64,
    },
    TooManyPixels {
        pixels: u64,
        most: u64,
    },
    NotAPicture,
    /// A JPEG without its end: a copy that broke off. Decoders fill the rest with gray.
    CutShort,
    Unreadable(String),
}

impl std::fmt::Display for ImageFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::TooManyBytes { bytes, most } => {
                write!(f, "has {bytes} bytes, and the most accepted is {most}")
            }
            Self::TooManyPixels { pixels, most } => {
                write!(f, "has {pixels} pixels, and the most accepted is {most}")
            }
            Self::CutShort => write!(f, "is cut short; copy it again from the camera"),
            Self::NotAPicture => write!(f, "is neither a JPEG nor a PNG picture"),
            Self::Unreadable(why) => write!(f, "cannot be read: {why}"),
        }
    }
}

/// A photo as a plain JPEG.
///
/// # Errors
/// [`ImageFault`] when it is no picture, damaged, or larger than accepted.
pub fn photo(bytes: &[u8]) -> Result<Vec<u8>, ImageFault> {
    let picture = decoded(bytes, LONGEST_SIDE)?.into_rgb8();
    let mut out = vec![];
    JpegEncoder::new_with_quality(&mut out, JPEG_QUALITY)
        .encode_image(&picture)
        .map_err(|error| ImageFault::Unreadable(error.to_string()))?;
    Ok(out)
}

/// A logo as a plain PNG.
///
/// # Errors
/// [`ImageFault`] when it is no picture, damaged, or larger than accepted.
pub fn logo(bytes: &[u8]) -> Result<Vec<u8>, ImageFault> {
    let picture = DynamicImage::ImageRgba8(decoded(bytes, LOGO_SIDE)?.into_rgba8());
    let mut out = vec![];
    picture
        .write_with_encoder(PngEncoder::new(&mut out))
        .map_err(|error| ImageFault::Unreadable(error.to_string()))?;
    Ok(out)
}

/// True when a JPEG's picture data ends with its end marker (ITU-T T.81, B.1.1.2). The segments
/// before the data are stepped over, since a thumbnail among them has an end of its own.
fn jpeg_is_whole(bytes: &[u8]) -> bool {
    const START_OF_SCAN: u8 = 0xDA;
    let mut at = 2;
    while let Some([0xFF, kind, high, low]) = bytes.get(at..at + 4) {
        if *kind == START_OF_SCAN {
            return bytes[at..].windows(2).any(|pair| pair == [0xFF, 0xD9]);
        }
        at += 2 + usize::from(*high) * 256 + usize::from(*low);
    }
    false
}

/// Decodes with limits: the size is read from the head before any pixel is.
fn decoded(bytes: &[u8], longest: u32) -> Result<DynamicImage, ImageFault> {
    let unreadable = |error: image::ImageError| ImageFault::Unreadable(error.to_string());
    if bytes.len() as u64 > PHOTO_BYTES {
        return Err(ImageFault::TooManyBytes { bytes: bytes.len() as u64, most: PHOTO_BYTES });
    }
    let format = image::guess_format(bytes).map_err(|_| ImageFault::NotAPicture)?;
    if !matches!(format, ImageFormat::Jpeg | ImageFormat::Png) {
        return Err(ImageFault::NotAPicture);
    }
    if format == ImageFormat::Jpeg && !jpeg_is_whole(bytes) {
        return Err(ImageFault::CutShort);
    }
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_alloc = Some(PHOTO_PIXELS * 8);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(unreadable)?;
    let (width, height) = decoder.dimensions();
    let pixels = u64::from(width) * u64::from(height);
    if pixels > PHOTO_PIXELS {
        return Err(ImageFault::TooManyPixels { pixels, most: PHOTO_PIXELS });
    }
    let orientation = decoder.orientation().map_err(unreadable)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(unreadable)?;
    picture.apply_orientation(orientation);
    if picture.width().max(picture.height()) > longest {
        // Means of whole boxes of pixels: for making smaller they are as good as a filter.
        picture = picture.thumbnail(longest, longest);
    }
    Ok(picture)
}
