//! Names that files give to things, and enums whose values are written as fixed words.

use schemars::JsonSchema;
use serde::Serialize;

/// A file in the job's folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobPath(pub String);

/// A short name that other files refer to: lower-case letters, digits and hyphens.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
#[schemars(inline)]
pub struct Key(pub String);

impl std::fmt::Display for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// A job's number: letters, digits, hyphens; it becomes part of file names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobNumber(pub String);

/// An enum whose values are written as fixed words in files and results; [`choices!`] defines one.
pub trait FixedWords: Copy + 'static {
    const WORDS: &'static [(&'static str, Self)];
}

/// Defines enums whose values are written as fixed words.
macro_rules! choices {
    ($($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal,)* })*) => {$(
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize,
            schemars::JsonSchema,
        )]
        $(#[$doc])*
        pub enum $name { $($(#[$vdoc])* #[serde(rename = $word)] $variant,)* }

        impl $name {
            pub const WORDS: &'static [(&'static str, $name)] = &[$(($word, $name::$variant)),*];

            /// The word as written in a file.
            pub fn word(self) -> &'static str {
                match self { $($name::$variant => $word,)* }
            }
        }

        impl $crate::base::names::FixedWords for $name {
            const WORDS: &'static [(&'static str, $name)] = $name::WORDS;
        }
    )*};
}
pub(crate) use choices;
