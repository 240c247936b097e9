//! Tells whether the file of a picture is complete, without decoding a pixel: its markers or chunks
//! are followed to the one that ends it. A copy that broke off has none; decoders fill the rest of
//! such a photo with gray.

use image::ImageFormat;
use memchr::memchr;

/// Returns the bytes that stand before the data of the pixels, when the file of a picture reaches its own
/// end; `None` when it is cut short.
pub fn head_of_complete(bytes: &[u8], format: ImageFormat) -> Option<&[u8]> {
    match format {
        ImageFormat::Jpeg => jpeg_head(bytes),
        _ => png_reaches_end(bytes).then_some(bytes),
    }
}

/// Follows the segments of a JPEG to its end marker (ITU-T T.81, B.1.1.2 to B.1.1.5). Within the data
/// of a scan a byte of 0xFF is followed by a zero or by a restart marker. The segments before the data
/// are stepped over, since a thumbnail among them has an end of its own.
fn jpeg_head(bytes: &[u8]) -> Option<&[u8]> {
    const START_OF_SCAN: u8 = 0xDA;
    const END_OF_IMAGE: u8 = 0xD9;
    let mut at = 2;
    let mut head = None;
    loop {
        match memchr(0xFF, bytes.get(at..)?)? {
            // Between segments stands nothing but markers.
            gap if gap > 0 && head.is_none() => return None,
            gap => at += gap,
        }
        match *bytes.get(at + 1)? {
            // One of several bytes that may fill the room before a marker.
            0xFF => at += 1,
            END_OF_IMAGE => return head,
            0x00 | 0xD0..=0xD7 if head.is_some() => at += 2,
            marker => {
                let &[high, low] = bytes.get(at + 2..at + 4)? else { return None };
                let next = at + 2 + usize::from(high) * 256 + usize::from(low);
                if marker == START_OF_SCAN && head.is_none() {
                    head = bytes.get(..next);
                }
                // A segment longer than the file, in a scan, is damaged data: the end may still follow.
                at = if head.is_some() && next > bytes.len() { at + 2 } else { next };
            }
        }
    }
}

/// Follows the chunks of a PNG to its `IEND` (PNG, third edition, 5.2 and 5.3): behind the signature of
/// eight bytes each is its length, its kind, its data and a sum of four bytes.
fn png_reaches_end(bytes: &[u8]) -> bool {
    let mut rest = bytes.get(8..).unwrap_or_default();
    while let Some((length, kind)) = rest.first_chunk::<4>().zip(rest.get(4..8)) {
        let chunk = (u32::from_be_bytes(*length) as usize).saturating_add(12);
        if rest.len() < chunk {
            return false;
        }
        if kind == b"IEND" {
            return true;
        }
        rest = &rest[chunk..];
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{DynamicImage, RgbImage};
    use std::io::Cursor;

    fn picture(format: ImageFormat) -> Vec<u8> {
        let noise = |x: u32, y: u32| (x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503)) as u8;
        let picture = RgbImage::from_fn(60, 40, |x, y| {
            image::Rgb([noise(x, y), noise(y, x), noise(x + y, 7)])
        });
        let mut bytes = Cursor::new(vec![]);
        DynamicImage::ImageRgb8(picture).write_to(&mut bytes, format).unwrap();
        bytes.into_inner()
    }

    #[test]
    fn every_copy_that_broke_off_is_incomplete_and_the_whole_is_not() {
        for format in [ImageFormat::Jpeg, ImageFormat::Png] {
            let bytes = picture(format);
            assert!(head_of_complete(&bytes, format).is_some());
            for end in 0..bytes.len() {
                // The sum behind the name `IEND` is part of that chunk.
                assert!(
                    head_of_complete(&bytes[..end], format).is_none(),
                    "{format:?}: {end} bytes"
                );
            }
        }
    }

    /// A thumbnail stands in a segment before the picture's own data (Exif 2.3, 4.5.2).
    #[test]
    fn the_end_of_a_thumbnail_is_not_that_of_the_photo() {
        let (thumbnail, photo) = (picture(ImageFormat::Jpeg), picture(ImageFormat::Jpeg));
        let length = u16::try_from(thumbnail.len() + 2).unwrap().to_be_bytes();
        let whole = [&photo[..2], &[0xFF, 0xE1], &length, &thumbnail, &photo[2..]].concat();
        assert!(head_of_complete(&whole, ImageFormat::Jpeg).is_some());
        assert!(head_of_complete(&whole[..whole.len() - 2], ImageFormat::Jpeg).is_none());
    }

    #[test]
    fn bytes_that_fill_before_a_marker_or_follow_the_end_do_no_harm() {
        let photo = picture(ImageFormat::Jpeg);
        let filled = [&photo[..2], &[0xFF, 0xFF], &photo[2..], b"appended by a camera"].concat();
        assert!(head_of_complete(&filled, ImageFormat::Jpeg).is_some());
    }
}
