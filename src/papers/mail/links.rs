//! Links of a mail: a telephone number that is called and an address that is written to at a touch.
//! Telephone: RFC 3966. Mail address: RFC 6068.

use crate::model::shop::Shop;

/// A line of the shop's, with its link where it is a number or an address.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    pub text: String,
    /// Empty for a line that leads nowhere.
    pub link: String,
}

/// Returns the lines with the links of those that are the shop's telephone number or mail address.
pub fn lines(shop: &Shop, lines: &[String]) -> Vec<Line> {
    let link = |line: &String| match () {
        () if shop.phone.as_ref() == Some(line) => telephone(line),
        () if shop.email.as_ref() == Some(line) => address(line),
        () => None,
    };
    let lines = lines.iter();
    lines.map(|line| Line { text: line.clone(), link: link(line).unwrap_or_default() }).collect()
}

/// A number with fewer digits is none that can be called.
const LEAST_DIGITS: usize = 3;

/// The number without what people put between its digits; what follows a letter, such as an extension,
/// is left out.
fn telephone(typed: &str) -> Option<String> {
    let number: String = typed.chars().take_while(|c| !c.is_alphabetic()).collect();
    let digits: String = number.chars().filter(char::is_ascii_digit).collect();
    let plus = if number.trim_start().starts_with('+') { "+" } else { "" };
    (digits.len() >= LEAST_DIGITS).then(|| format!("tel:{plus}{digits}"))
}

/// The address with every character that means something in a link by its bytes.
fn address(typed: &str) -> Option<String> {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._~@".contains(&byte);
    let coded = typed.bytes().map(|byte| match plain(byte) {
        true => char::from(byte).to_string(),
        false => format!("%{byte:02X}"),
    });
    typed.contains('@').then(|| format!("mailto:{}", coded.collect::<String>()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 3966, section 3: `tel:`, then digits, with a plus before a global number. Its own examples
    /// write the number 7042 and the number +1-201-555-0123.
    #[test]
    fn a_telephone_number_is_a_link_of_its_digits() {
        for (typed, link) in [
            ("+1-201-555-0123", Some("tel:+12015550123")),
            ("(555) 010-0114", Some("tel:5550100114")),
            ("555-0114 ext. 7", Some("tel:5550114")),
            ("7042", Some("tel:7042")),
            ("ask at the desk", None),
            ("12", None),
        ] {
            assert_eq!(telephone(typed).as_deref(), link, "{typed}");
        }
    }

    /// RFC 6068, section 6: the address `gorby%kremvax@example.com` is written `gorby%25kremvax`, and
    /// `unlikely?address@example.com` is written `unlikely%3Faddress`.
    #[test]
    fn a_mail_address_is_a_link_without_characters_of_another_meaning() {
        for (typed, link) in [
            ("gorby%kremvax@example.com", Some("mailto:gorby%25kremvax@example.com")),
            ("unlikely?address@example.com", Some("mailto:unlikely%3Faddress@example.com")),
            ("a\"b@example.com", Some("mailto:a%22b@example.com")),
            ("nobody", None),
        ] {
            assert_eq!(address(typed).as_deref(), link, "{typed}");
        }
    }
}
