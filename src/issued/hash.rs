//! A hash and a day, as they stand in a record.

use jiff::civil::Date;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de, ser};
use sha2::{Digest, Sha256};
use toml::value::Datetime;

/// A SHA-256 hash in hexadecimal, as `sha256sum` prints it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Hash(pub String);

impl Hash {
    pub fn of(bytes: &[u8]) -> Self {
        Self::of_state(Sha256::new_with_prefix(bytes))
    }

    /// Of several texts, each with its length before it, so that no two lists look alike.
    pub fn of_parts<'a>(parts: impl IntoIterator<Item = &'a [u8]>) -> Self {
        let mut state = Sha256::new();
        for part in parts {
            state.update((part.len() as u64).to_le_bytes());
            state.update(part);
        }
        Self::of_state(state)
    }

    fn of_state(state: Sha256) -> Self {
        Self(state.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
    }
}

/// A day of the calendar; in a file a date of TOML.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RecordDate(pub Date);

impl Serialize for RecordDate {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let day = self.0.to_string().parse::<Datetime>().map_err(ser::Error::custom)?;
        day.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for RecordDate {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let written = Datetime::deserialize(deserializer)?;
        if written.time.is_some() {
            return Err(de::Error::custom("no date"));
        }
        written.to_string().parse().map(Self).map_err(de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::Hash;

    /// FIPS 180-2, appendix B.1: the hash of "abc".
    #[test]
    fn hashes_as_the_standard_does() {
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(Hash::of(b"abc").0, abc);
    }

    #[test]
    fn parts_are_told_apart() {
        let of = |parts: &[&str]| Hash::of_parts(parts.iter().map(|part| part.as_bytes()));
        assert_ne!(of(&["ab", "c"]), of(&["a", "bc"]));
    }
}
