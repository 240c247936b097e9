//! The draft as a file: RFC 5322 and MIME (RFC 2045 to 2047, 2183), built by the crate `lettre`.
//!
//! Same input, same bytes: the date is the job's, boundaries come from job and revision, and there is
//! no message identifier, which the program that sends the mail will give it.

use std::time::SystemTime;

use jiff::fmt::rfc2822;
use jiff::tz::TimeZone;
use lettre::address::Envelope;
use lettre::message::header::{ContentTransferEncoding, ContentType, HeaderName, HeaderValue};
use lettre::message::{Attachment, Body, Mailbox, Message, MultiPart, MultiPartKind, SinglePart};

use crate::base::address::address_fault;
use crate::papers::mail::{Enclosed, Letter};
use crate::papers::proposal::writer::Writer;
use crate::read::limits;

/// The reason for which there is no draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DraftFault {
    /// A mail has a sender (RFC 5322, section 3.6), and the shop has named none.
    NoSender,
    /// The shop's address is none: what is wrong with it.
    Sender(&'static str),
    /// No mail service would take so many bytes.
    TooLarge(usize),
    /// The mail cannot be put together.
    Parts(String),
}

impl std::fmt::Display for DraftFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NoSender => f.write_str("a mail needs a sender, and the shop has no `email`"),
            Self::Sender(why) => write!(f, "the shop's `email` {why}"),
            Self::TooLarge(bytes) => write!(
                f,
                "the mail has {bytes} bytes, and the most accepted is {}: leave out some photos",
                limits::MAIL_BYTES
            ),
            Self::Parts(why) => write!(f, "the mail cannot be put together: {why}"),
        }
    }
}

impl std::error::Error for DraftFault {}

/// The draft: text, HTML, and the papers attached.
///
/// # Errors
/// [`DraftFault`], most of all when the shop has no address to send from.
pub fn draft(
    w: &Writer<'_>,
    letter: &Letter,
    html: String,
    enclosed: &Enclosed<'_>,
) -> Result<Vec<u8>, DraftFault> {
    let (job, shop) = (w.case.job, w.case.shop);
    let Some(address) = &shop.email else { return Err(DraftFault::NoSender) };
    if let Some(why) = address_fault(address) {
        return Err(DraftFault::Sender(why));
    }
    let from = mailbox(&shop.name, address)?;
    let to = job.customer.mail_to();
    let to =
        to.map(|to| mailbox(&job.customer.full_name(), &to.0)).collect::<Result<Vec<_>, _>>()?;
    // Whom it is handed over for is never written; `lettre` asks for one.
    let envelope = Envelope::new(None, vec![from.email.clone()]).map_err(parts_fault)?;
    let mut builder = Message::builder()
        .envelope(envelope)
        .date(SystemTime::UNIX_EPOCH)
        .from(from)
        .raw_header(subject_header(&letter.subject))
        .raw_header(HeaderValue::new(
            // Asks a mail program to open the file for writing, not as a mail that came in.
            HeaderName::new_from_ascii_str("X-Unsent"),
            "1".to_owned(),
        ));
    for to in to {
        builder = builder.to(to);
    }
    let pdf = ContentType::parse("application/pdf").map_err(parts_fault)?;
    let both = multipart(MultiPartKind::Alternative, "text", w, enclosed)
        .singlepart(text_part(letter.text(), ContentType::TEXT_PLAIN)?)
        .singlepart(text_part(html, ContentType::TEXT_HTML)?);
    let all = multipart(MultiPartKind::Mixed, "mail", w, enclosed).multipart(both);
    let all = enclosed.papers.iter().fold(all, |all, paper| {
        let attachment = Attachment::new(paper.name.to_owned());
        all.singlepart(attachment.body(paper.pdf.to_vec(), pdf.clone()))
    });
    let mut message = builder.multipart(all).map_err(parts_fault)?;
    let noon = job.date.at(12, 0, 0, 0).to_zoned_datetime(TimeZone::UTC).map_err(parts_fault)?;
    let date = rfc2822::to_string(&noon).map_err(parts_fault)?;
    message
        .headers_mut()
        .insert_raw(HeaderValue::new(HeaderName::new_from_ascii_str("Date"), date));
    let mail = message.formatted();
    if mail.len() > limits::MAIL_BYTES {
        return Err(DraftFault::TooLarge(mail.len()));
    }
    Ok(mail)
}

fn parts_fault(error: impl std::fmt::Display) -> DraftFault {
    DraftFault::Parts(error.to_string())
}

/// The subject as a header. A text that looks like an encoded word would be decoded where it is
/// read, so that it is encoded itself (RFC 2047, section 2; `lettre` leaves ASCII as it is).
fn subject_header(text: &str) -> HeaderValue {
    let name = HeaderName::new_from_ascii_str("Subject");
    if text.contains("=?") {
        HeaderValue::dangerous_new_pre_encoded(name, text.to_owned(), encoded_words(text))
    } else {
        HeaderValue::new(name, text.to_owned())
    }
}

/// A text as encoded words, one a line: at most 75 characters each, whole letters, all but letters
/// and digits by their bytes (RFC 2047, sections 2 and 4.2).
fn encoded_words(text: &str) -> String {
    const OPEN: &str = "=?utf-8?q?";
    const CLOSE: &str = "?=";
    const MOST: usize = 75 - OPEN.len() - CLOSE.len();
    let mut words = vec![String::new()];
    for c in text.chars() {
        let coded = if c.is_ascii_alphanumeric() {
            c.to_string()
        } else {
            let mut bytes = [0; 4];
            c.encode_utf8(&mut bytes).bytes().map(|byte| format!("={byte:02X}")).collect()
        };
        match words.last_mut() {
            // The first line has the name of the field before it.
            Some(word) if word.len() + coded.len() <= MOST - "Subject: ".len() => {
                word.push_str(&coded);
            }
            _ => words.push(coded),
        }
    }
    let words: Vec<String> = words.iter().map(|word| format!("{OPEN}{word}{CLOSE}")).collect();
    words.join("\r\n ")
}

/// An address with the name of whom it reaches. A phrase may not begin with a dot (RFC 5322, sections
/// 3.2.5 and 4.1), and a name that is nothing else is left out.
fn mailbox(name: &str, address: &str) -> Result<Mailbox, DraftFault> {
    let name = name.trim_start_matches(['.', ' ']);
    let name = Some(name.to_owned()).filter(|name| !name.is_empty());
    Ok(Mailbox::new(name, address.parse().map_err(parts_fault)?))
}

/// A part of parts. Its boundary holds `=_`, which neither quoted-printable nor base64 can hold.
fn multipart(
    kind: MultiPartKind,
    name: &str,
    w: &Writer<'_>,
    enclosed: &Enclosed<'_>,
) -> lettre::message::MultiPartBuilder {
    let boundary = format!("=_{name}-{}-r{}", w.case.job.number.0, enclosed.revision);
    MultiPart::builder().kind(kind).boundary(boundary)
}

/// A part of words. Quoted-printable keeps every line short, whatever a person typed.
fn text_part(text: String, kind: ContentType) -> Result<SinglePart, DraftFault> {
    let body = Body::new_with_encoding(text, ContentTransferEncoding::QuotedPrintable)
        .map_err(|_| DraftFault::Parts("a text cannot be encoded".into()))?;
    Ok(SinglePart::builder().header(kind).body(body))
}
