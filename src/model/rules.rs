//! Jurisdiction: the country that a shop works in, and the rules and notices of that place.
//!
//! Rules hold where they hold. Those of the United States come with the program; elsewhere stands
//! what the shop has looked up, with its source and the day on which it did. A permission (work
//! that needs no respirator) is never taken from the table of another country.

use crate::base::names::choices;
use jiff::civil::Date;

/// A country as ISO 3166-1 alpha-2 names it: two capital letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Country([u8; 2]);

impl Country {
    pub const UNITED_STATES: Self = Self(*b"US");

    /// The country of a code; `None` for what is not two capital letters.
    pub fn of(code: &str) -> Option<Self> {
        match *code.as_bytes() {
            [a, b] if a.is_ascii_uppercase() && b.is_ascii_uppercase() => Some(Self([a, b])),
            _ => None,
        }
    }

    /// Its two letters.
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or_default()
    }
}

/// Whose rules hold for a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Jurisdiction {
    /// The federal rules that come with the program; states may ask for more.
    UnitedStates,
    /// A country whose rules the program does not know.
    Other(Country),
    /// The shop has not said where it works.
    Unsaid,
}

impl Jurisdiction {
    pub fn of(country: Option<Country>) -> Self {
        match country {
            Some(Country::UNITED_STATES) => Self::UnitedStates,
            Some(country) => Self::Other(country),
            None => Self::Unsaid,
        }
    }

    /// True where federal rules of the United States are known to hold.
    pub fn is_us(self) -> bool {
        self == Self::UnitedStates
    }

    /// True where a sale at home carries the notice of the United States. A shop that has not said
    /// where it works keeps it: a right too many harms nobody.
    pub fn has_us_notice(self) -> bool {
        !matches!(self, Self::Other(_))
    }
}

choices! {
    /// A subject of rules.
    Subject {
        /// Dust of grinding.
        Dust = "dust",
        /// Old coatings that may hold lead.
        Lead = "lead",
        /// Old glue and tiles.
        Asbestos = "asbestos",
        /// Coats that harm by breath or skin.
        Chemicals = "chemicals",
        /// Vapor that can catch fire.
        Fire = "fire",
        /// Emissions of a coat into the air.
        Voc = "voc",
        /// The buyer's right to cancel.
        Cancel = "cancel",
        /// Use of respirators, and their kinds.
        Respirator = "respirator",
    }
}

/// A rule of the place where the shop works, as the shop has looked it up.
#[derive(Debug, Clone)]
pub struct LocalRule {
    pub subject: Subject,
    /// Requirement of the rule, in a sentence or two.
    pub text: String,
    /// The law, the authority or the paper that says so.
    pub source: String,
    /// The day on which the shop read it there.
    pub checked: Date,
}

/// A statement that a customer's paper has to carry where the shop works.
#[derive(Debug, Clone)]
pub struct LocalNotice {
    pub title: String,
    /// Its text, paragraph by paragraph.
    pub text: Vec<String>,
    /// The place whose law asks for it; `None` where the shop does not say.
    pub place: Option<String>,
    /// The papers that carry it.
    pub printed_on: Vec<NoticePaper>,
    pub source: String,
    /// The day on which the shop read it there.
    pub checked: Date,
}

choices! {
    /// A paper that may carry a notice.
    NoticePaper {
        /// The leaf of a proposal that is signed.
        Signing = "signing",
        ChangeOrder = "change-order",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 3166-1: alpha-2 codes are two letters, written in capitals.
    #[test]
    fn a_country_is_two_capital_letters() {
        for code in ["US", "DE", "NO", "MX"] {
            assert_eq!(Country::of(code).unwrap().code(), code);
        }
        for not in ["", "U", "us", "Us", "USA", "U1", "É", "U "] {
            assert_eq!(Country::of(not), None, "{not}");
        }
    }

    #[test]
    fn rules_hold_where_they_hold() {
        let of = |code| Jurisdiction::of(Country::of(code));
        assert_eq!(of("US"), Jurisdiction::UnitedStates);
        assert!(of("US").is_us() && !of("NO").is_us() && !Jurisdiction::Unsaid.is_us());
        assert!(Jurisdiction::Unsaid.has_us_notice() && !of("NO").has_us_notice());
    }
}
