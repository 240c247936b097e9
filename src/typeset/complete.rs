//! Tells whether the file of a picture is complete, without decoding a pixel: its markers or chunks
//! are followed to the one that ends it. A copy that broke off has none; decoders fill the rest of
//! such a photo with gray.

use std::io::{self, ErrorKind, Read, Seek, SeekFrom};

use image::ImageFormat;
use memchr::memchr;

/// Returns the bytes that stand before the data of the pixels, when the file of a picture reaches its own
/// end; `None` when it is cut short. Little more than those bytes is read.
pub fn head_of_complete(
    file: &mut (impl Read + Seek),
    format: ImageFormat,
) -> io::Result<Option<Vec<u8>>> {
    file.rewind()?;
    let head = match format {
        ImageFormat::Jpeg => jpeg_head(file),
        _ => png_head(file),
    };
    match head {
        Ok(head) => Ok(Some(head)),
        Err(error) if error.kind() == ErrorKind::UnexpectedEof => Ok(None),
        Err(error) => Err(error),
    }
}

/// Reads more bytes of a file behind those that were read.
fn read_more(file: &mut impl Read, head: &mut Vec<u8>, count: usize) -> io::Result<()> {
    let from = head.len();
    head.resize(from + count, 0);
    file.read_exact(&mut head[from..])
}

/// The second byte of a JPEG's markers (ITU-T T.81, table B.1).
const START_OF_SCAN: u8 = 0xDA;
const END_OF_IMAGE: u8 = 0xD9;

/// Follows the segments of a JPEG to its end marker (ITU-T T.81, B.1.1.2 to B.1.1.5). The segments before
/// the data are stepped over, since a thumbnail among them has an end of its own.
fn jpeg_head(file: &mut (impl Read + Seek)) -> io::Result<Vec<u8>> {
    let mut head = vec![];
    read_more(file, &mut head, 2)?;
    loop {
        read_more(file, &mut head, 2)?;
        // Bytes of 0xFF may fill the room before a marker.
        while head.ends_with(&[0xFF, 0xFF]) {
            head.pop();
            read_more(file, &mut head, 1)?;
        }
        let [.., 0xFF, marker] = head[..] else { return Err(ErrorKind::UnexpectedEof.into()) };
        read_more(file, &mut head, 2)?;
        let [.., high, low] = head[..] else { return Err(ErrorKind::UnexpectedEof.into()) };
        let length = usize::from(u16::from_be_bytes([high, low]));
        read_more(file, &mut head, length.saturating_sub(2))?;
        if marker == START_OF_SCAN {
            return jpeg_data_ends(file).map(|()| head);
        }
    }
}

/// Looks for the end marker behind the head of a JPEG. It usually ends the file. Where something follows it
/// the data is gone through: there a byte of 0xFF is followed by a zero or by a restart marker.
fn jpeg_data_ends(file: &mut (impl Read + Seek)) -> io::Result<()> {
    let data = file.stream_position()?;
    let end = file.seek(SeekFrom::End(0))?;
    let mut last = [0; 2];
    if end >= data + 2 {
        file.seek(SeekFrom::Start(end - 2))?;
        file.read_exact(&mut last)?;
    }
    if last == [0xFF, END_OF_IMAGE] {
        return Ok(());
    }
    file.seek(SeekFrom::Start(data))?;
    let mut bytes = vec![];
    file.read_to_end(&mut bytes)?;
    let mut rest = &bytes[..];
    while let Some(at) = memchr(0xFF, rest) {
        rest = &rest[at + 1..];
        match rest {
            [END_OF_IMAGE, ..] => return Ok(()),
            // Zeros and restart markers belong to the data, 0xFF fills room.
            [0x00 | 0xD0..=0xD7 | 0xFF, ..] | [] | [_] | [_, _] => {}
            // A segment between two scans; one longer than the file is damaged data.
            [_, high, low, ..] => {
                let length = usize::from(u16::from_be_bytes([*high, *low])) + 1;
                rest = rest.get(length..).unwrap_or(rest);
            }
        }
    }
    Err(ErrorKind::UnexpectedEof.into())
}

/// Follows the chunks of a PNG to its `IEND` (PNG, third edition, 5.2 and 5.3): behind the signature of
/// eight bytes each is its length, its kind, its data and a sum of four bytes.
fn png_head(file: &mut (impl Read + Seek)) -> io::Result<Vec<u8>> {
    let end = file.seek(SeekFrom::End(0))?;
    file.rewind()?;
    let (mut head, mut in_head) = (vec![], true);
    read_more(file, &mut head, 8)?;
    loop {
        let mut start = [0; 8];
        file.read_exact(&mut start)?;
        let [a, b, c, d, kind @ ..] = &start;
        let rest = u64::from(u32::from_be_bytes([*a, *b, *c, *d])) + 4;
        if file.stream_position()? + rest > end {
            return Err(ErrorKind::UnexpectedEof.into());
        }
        if in_head {
            head.extend(start);
        }
        match kind {
            b"IEND" => return Ok(head),
            b"IDAT" => in_head = false,
            _ => {}
        }
        if in_head {
            read_more(file, &mut head, rest as usize)?;
        } else {
            file.seek(SeekFrom::Current(rest as i64))?;
        }
    }
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

    fn is_complete(bytes: &[u8], format: ImageFormat) -> bool {
        head_of_complete(&mut Cursor::new(bytes), format).unwrap().is_some()
    }

    #[test]
    fn every_copy_that_broke_off_is_incomplete_and_the_whole_is_not() {
        for format in [ImageFormat::Jpeg, ImageFormat::Png] {
            let bytes = picture(format);
            assert!(is_complete(&bytes, format));
            for end in 0..bytes.len() {
                // The sum behind the name `IEND` is part of that chunk.
                assert!(!is_complete(&bytes[..end], format), "{format:?}: {end} bytes");
            }
        }
    }

    /// A thumbnail stands in a segment before the picture's own data (Exif 2.3, 4.5.2).
    #[test]
    fn the_end_of_a_thumbnail_is_not_that_of_the_photo() {
        let (thumbnail, photo) = (picture(ImageFormat::Jpeg), picture(ImageFormat::Jpeg));
        let length = u16::try_from(thumbnail.len() + 2).unwrap().to_be_bytes();
        let whole = [&photo[..2], &[0xFF, 0xE1], &length, &thumbnail, &photo[2..]].concat();
        assert!(is_complete(&whole, ImageFormat::Jpeg));
        assert!(!is_complete(&whole[..whole.len() - 2], ImageFormat::Jpeg));
    }

    #[test]
    fn bytes_that_fill_before_a_marker_or_follow_the_end_do_no_harm() {
        let photo = picture(ImageFormat::Jpeg);
        let filled = [&photo[..2], &[0xFF, 0xFF], &photo[2..], b"appended by a camera"].concat();
        assert!(is_complete(&filled, ImageFormat::Jpeg));
    }
}
