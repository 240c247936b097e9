//! A mail address: one, plain, without a name around it.

/// The most characters of an address and of the part before its `@`: RFC 5321, sections 4.5.3.1.1
/// and 4.5.3.1.3 (a path of 256, less its angle brackets).
const ADDRESS: usize = 254;
const LOCAL_PART: usize = 64;

/// The most characters between two dots of a domain: RFC 1035, section 2.3.4.
const LABEL: usize = 63;

/// An address as the `addr-spec` of RFC 5322, section 3.4.1, in its plain form: no quotes, no
/// comments, no addresses by number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MailAddress(pub String);

/// Returns the fault of an address, if it has one.
pub fn address_fault(text: &str) -> Option<&'static str> {
    // Text of an atom: RFC 5322, section 3.2.3.
    let atom = |part: &str| {
        !part.is_empty()
            && part.chars().all(|c| c.is_ascii_alphanumeric() || "!#$%&'*+-/=?^_`{|}~".contains(c))
    };
    let label = |part: &str| {
        (1..=LABEL).contains(&part.len())
            && part.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
            && !part.starts_with('-')
            && !part.ends_with('-')
    };
    let Some((local, domain)) = text.split_once('@') else { return Some("has no `@`") };
    if text.len() > ADDRESS || local.len() > LOCAL_PART {
        return Some("is too long for an address");
    }
    if !local.split('.').all(atom) {
        return Some("is no plain address before its `@`");
    }
    if !domain.contains('.') || !domain.split('.').all(label) {
        return Some("is no plain address after its `@`");
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_addresses_are_taken() {
        for good in ["a@b.example", "rosa.emil+floor@mail.tannenwald.example", "o'neil@x-y.example"]
        {
            assert_eq!(address_fault(good), None, "{good}");
        }
    }

    #[test]
    fn anything_that_could_be_more_than_one_address_is_refused() {
        for bad in [
            "rosa",
            "@b.example",
            "a@",
            "a@b",
            "a@b..example",
            "a.@b.example",
            "a b@c.example",
            "a@b.example, c@d.example",
            "Rosa <a@b.example>",
            "\"a\"@b.example",
            "a@b@c.example",
            "a@[127.0.0.1]",
            "a@-b.example",
            "a@b.example\r\nBcc: c@d.example",
            "rosa@t\u{e4}nnenwald.example",
            &format!("{}@b.example", "a".repeat(65)),
        ] {
            assert!(address_fault(bad).is_some(), "{bad}");
        }
    }
}
