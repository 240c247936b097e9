//! A parcel: what one process hands to another, a head as JSON and pieces of bytes behind it.

use std::io::{self, ErrorKind, Read, Write};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

/// The most bytes of a head: the data of a page are a few hundred thousand.
const HEAD: u64 = 64 << 20;
/// The most bytes of one piece.
const PIECE: u64 = 512 << 20;

#[derive(Serialize, Deserialize)]
struct Outside<H> {
    head: H,
    /// The length of each piece.
    pieces: Vec<u64>,
}

/// Writes a parcel.
///
/// # Errors
/// Nobody takes it any more.
pub fn write_parcel(
    to: &mut impl Write,
    head: &impl Serialize,
    pieces: &[impl AsRef<[u8]>],
) -> io::Result<()> {
    let lengths = pieces.iter().map(|piece| piece.as_ref().len() as u64).collect();
    let outside = serde_json::to_vec(&Outside { head, pieces: lengths })?;
    to.write_all(&(outside.len() as u64).to_le_bytes())?;
    to.write_all(&outside)?;
    for piece in pieces {
        to.write_all(piece.as_ref())?;
    }
    to.flush()
}

/// Reads a parcel.
///
/// # Errors
/// There is none, or it is not whole.
pub fn read_parcel<H: DeserializeOwned>(from: &mut impl Read) -> io::Result<(H, Vec<Vec<u8>>)> {
    let mut length = [0; 8];
    from.read_exact(&mut length)?;
    let outside = read_bytes(from, u64::from_le_bytes(length), HEAD)?;
    let Outside { head, pieces } = serde_json::from_slice(&outside)?;
    let pieces: io::Result<_> = pieces.into_iter().map(|n| read_bytes(from, n, PIECE)).collect();
    Ok((head, pieces?))
}

fn read_bytes(from: &mut impl Read, length: u64, most: u64) -> io::Result<Vec<u8>> {
    if length > most {
        return Err(io::Error::new(ErrorKind::InvalidData, "a part of it is too long"));
    }
    let mut bytes = vec![];
    from.take(length).read_to_end(&mut bytes)?;
    if bytes.len() as u64 != length {
        return Err(ErrorKind::UnexpectedEof.into());
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_parcel_arrives_as_it_was_sent_and_never_in_part() {
        let mut sent = vec![];
        write_parcel(&mut sent, &("head", 7), &[b"one".to_vec(), vec![], vec![0, 255]]).unwrap();
        let both = [&sent[..], &sent[..]].concat();
        let mut stream = &both[..];
        for _ in 0..2 {
            let (head, pieces): ((String, u8), _) = read_parcel(&mut stream).unwrap();
            assert_eq!(head, ("head".to_owned(), 7));
            assert_eq!(pieces, [b"one".to_vec(), vec![], vec![0, 255]]);
        }
        for end in 0..sent.len() {
            assert!(read_parcel::<(String, u8)>(&mut &sent[..end]).is_err(), "{end}");
        }
        let huge = u64::MAX.to_le_bytes();
        assert!(read_parcel::<u8>(&mut &huge[..]).is_err());
    }
}
