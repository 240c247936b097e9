//! The mail draft, read back by `mail-parser`, which had no part in writing it: what it says, to
//! whom, what it carries, and that nothing typed can be more than text in it.

mod handover;
mod html;
mod letter;
mod signed;
mod typed;

use std::collections::BTreeSet;
use std::sync::LazyLock;

use mail_parser::{Address, Message, MessageParser, MimeHeaders};

use crate::fixture::{EXAMPLES, Folder, Ran};
use crate::readers;

fn draft(folder: &Folder) -> Ran {
    folder.run(&["mail", "job.toml", "--out", "mail", "--papers", "papers"])
}

/// The only file in the mail folder with this end.
#[track_caller]
fn file(folder: &Folder, end: &str) -> Vec<u8> {
    let names = crate::documents::files(folder, "mail");
    let of_end: Vec<_> = names.iter().filter(|name| name.ends_with(end)).collect();
    assert_eq!(of_end.len(), 1, "{names:?}");
    folder.bytes(&format!("mail/{}", of_end[0]))
}

#[track_caller]
fn read(eml: &[u8]) -> Message<'_> {
    MessageParser::default().parse(eml).unwrap()
}

/// Text and HTML of a draft.
#[track_caller]
fn bodies(eml: &[u8]) -> (String, String) {
    let message = read(eml);
    let (text, html) = (message.body_text(0).unwrap(), message.body_html(0).unwrap());
    (text.into_owned(), html.into_owned())
}

/// Every address in a field: name and address.
fn people(field: Option<&Address<'_>>) -> Vec<(String, String)> {
    let some = |text: Option<&str>| text.unwrap_or_default().to_owned();
    field.map_or_else(Vec::new, |field| {
        field.iter().map(|one| (some(one.name()), some(one.address()))).collect()
    })
}

/// The text that a reader sees of HTML: no tags, the five escapes undone.
fn seen(html: &str) -> String {
    let body = html.split_once("<body").unwrap().1.replace("<br>", " ");
    let pieces = body.split('<').map(|piece| piece.split_once('>').map_or("", |(_, text)| text));
    let mut text: String = pieces.collect::<Vec<_>>().join("");
    for (code, letter) in
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#x2f;", "/")]
    {
        text = text.replace(code, letter);
    }
    readers::squeezed(&text.replace("&amp;", "&"))
}

const CUSTOMER_MAIL: &str = "rosa@tannenwald.example";

fn with_address() -> Folder {
    let name = "name = \"Rosa and Emil Tannenwald\"\n";
    let both = format!("{name}email = \"{CUSTOMER_MAIL}\"\n");
    Folder::new().replace("job.toml", name, &both)
}

/// The outputs of an example: its page data, the mail, the loose text, the proposal on disk.
struct Made {
    example: &'static str,
    page: serde_json::Value,
    eml: Vec<u8>,
    loose: String,
    pdf: Vec<u8>,
}

static MADE: LazyLock<Vec<Made>> = LazyLock::new(|| {
    let make = |example: &&'static str| {
        let folder = Folder::of(example);
        let arguments = ["write", "job.toml", "--out", "papers", "--page-data"];
        folder.run(&arguments).success();
        draft(&folder).success().out_has("opens unsent");
        let names = crate::documents::files(&folder, "papers");
        let named = |end: &str| {
            let name = names.iter().find(|name| name.ends_with(end)).unwrap();
            folder.bytes(&format!("papers/{name}"))
        };
        Made {
            example,
            page: serde_json::from_slice(&named(".json")).unwrap(),
            eml: file(&folder, ".eml"),
            loose: String::from_utf8(file(&folder, ".txt")).unwrap(),
            pdf: named("-proposal-r1.pdf"),
        }
    };
    EXAMPLES.iter().map(make).collect()
});

#[test]
fn a_draft_carries_the_proposal_that_was_issued() {
    for Made { example, eml, pdf: issued, .. } in &*MADE {
        let message = read(eml);
        assert_eq!(message.attachment_count(), 1, "{example}");
        let pdf = message.attachment(0).unwrap();
        let name = pdf.attachment_name().unwrap();
        let kind = pdf.content_type().unwrap();
        assert_eq!((kind.ctype(), kind.subtype()), ("application", Some("pdf")));
        assert!(name.is_ascii() && name.ends_with("-proposal-r1.pdf"), "{name}");
        assert_eq!(pdf.contents(), issued, "{example}");
        assert!(pdf.contents().starts_with(b"%PDF-1."));
    }
}

/// It is the same proposal as that of `write`, and there is one kind of revision.
#[test]
fn mail_and_write_issue_one_proposal_between_them() {
    let folder = Folder::new();
    draft(&folder).success().out_has("wrote papers/2026-0142-proposal-r1.pdf (");
    folder.run(&["write", "job.toml", "--out", "papers"]).success().out_has("unchanged: papers");
    draft(&folder)
        .success()
        .out_has("unchanged: papers/2026-0142-proposal-r1.pdf")
        .out_has("unchanged: mail/2026-0142-mail-r1.eml")
        .out_has("unchanged: mail/2026-0142-mail-r1.txt");
    let cheaper = folder.replace("book.toml", "margin = \"38 %\"", "margin = \"37 %\"");
    draft(&cheaper)
        .success()
        .out_has("wrote papers/2026-0142-proposal-r2.pdf")
        .out_has("wrote mail/2026-0142-mail-r2.eml");
    // Without `--out` it goes where the papers are.
    cheaper.run(&["mail", "job.toml"]).success().out_has("wrote papers/2026-0142-mail-r2.eml");
    let eml = cheaper.bytes("mail/2026-0142-mail-r2.eml");
    let (text, _) = bodies(&eml);
    assert!(text.contains("2026-0142-proposal-r2.pdf"));
    assert!(read(&cheaper.bytes("mail/2026-0142-mail-r1.eml")).attachment_count() == 1);
}

/// The customer's address is no part of the proposal, so that it makes no revision of it.
#[test]
fn an_address_that_is_added_later_makes_the_draft_anew_and_no_revision() {
    let folder = Folder::new();
    draft(&folder).success().out_has("the job has no `email` under `[customer]`");
    let name = "name = \"Rosa and Emil Tannenwald\"\n";
    let folder = folder.replace("job.toml", name, &format!("{name}email = \"{CUSTOMER_MAIL}\"\n"));
    draft(&folder)
        .success()
        .out_has("unchanged: papers/2026-0142-proposal-r1.pdf")
        .out_has("wrote anew mail/2026-0142-mail-r1.eml")
        .out_has(&format!("to {CUSTOMER_MAIL}"));
    assert_eq!(crate::documents::files(&folder, "papers").len(), 1);
}

/// The fields of RFC 5322 and MIME that are needed, one that asks for a draft, and no other: none
/// that names a machine, a program or a moment.
#[test]
fn the_head_holds_what_it_must_and_nothing_else() {
    let folder = with_address();
    draft(&folder).success();
    let eml = file(&folder, ".eml");
    let message = read(&eml);
    let names: BTreeSet<&str> = message.headers_raw().map(|(name, _)| name).collect();
    let needed = ["Date", "From", "To", "Subject", "X-Unsent", "MIME-Version", "Content-Type"];
    assert_eq!(names, BTreeSet::from(needed));
    assert_eq!(message.headers().len(), needed.len(), "a field stands twice");
    assert_eq!(message.header_raw("X-Unsent").unwrap().trim(), "1");
    // Noon of the job's date.
    assert_eq!(message.date().unwrap().to_rfc3339(), "2026-05-12T12:00:00Z");
    let shop = ("Pikemere Slab & Leaf".to_owned(), "office@pikemere.example".to_owned());
    assert_eq!(people(message.from()), [shop]);
    let customer = ("Rosa and Emil Tannenwald".to_owned(), CUSTOMER_MAIL.to_owned());
    assert_eq!(people(message.to()), [customer]);
    let subject = "Your garage floor: proposal 2026-0142 from Pikemere Slab & Leaf";
    assert_eq!(message.subject(), Some(subject));
}

#[test]
fn without_an_address_of_the_customer_there_is_no_receiver() {
    let folder = Folder::new();
    draft(&folder).success();
    let eml = file(&folder, ".eml");
    let message = read(&eml);
    for field in ["To", "Cc", "Bcc", "Reply-To", "Sender", "Message-ID", "User-Agent"] {
        assert!(message.header(field).is_none(), "{field}");
    }
    assert_eq!(message.header_raw("X-Unsent").unwrap().trim(), "1");
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let drafts = [with_address(), with_address()].map(|folder| {
        draft(&folder).success();
        (file(&folder, ".eml"), file(&folder, ".txt"))
    });
    assert_eq!(drafts[0], drafts[1]);
}

/// RFC 5322, section 2.1.1: at most 998 characters a line, and 78 where possible; 2.3: a line ends in
/// CRLF and holds neither of the two alone.
#[test]
fn lines_of_a_draft_are_short_and_end_in_crlf() {
    for Made { example, eml, loose, .. } in &*MADE {
        assert!(eml.is_ascii() && eml.ends_with(b"\r\n"));
        let text = String::from_utf8(eml.clone()).unwrap();
        for line in text.split("\r\n") {
            assert!(!line.contains(['\r', '\n']) && line.len() <= 78, "{example}: {line:?}");
        }
        for text in [bodies(eml).0, loose.clone()] {
            for line in text.split("\r\n") {
                assert!(!line.contains(['\r', '\n']), "{line:?}");
                assert!(line.chars().count() <= 78, "{example}: {line:?}");
            }
        }
    }
}
