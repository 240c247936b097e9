//! The mail draft, read back by `mail-parser`, which had no part in writing it: what it says, to
//! whom, what it carries, and that nothing typed can be more than text in it.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use mail_parser::{Address, Message, MessageParser, MimeHeaders};

use crate::documents::Paper;
use crate::fixture::{EXAMPLES, Folder, Ran};
use crate::{leaks, readers};

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

/// What a reader sees of an HTML text: no tags, the five escapes undone.
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

/// What comes of an example: its page data, the mail, the loose text, the proposal on disk.
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
    draft(&folder).success().out_has("wrote papers/2026-0142-proposal-r1.pdf (13 pages)");
    folder.run(&["write", "job.toml", "--out", "papers"]).success().out_has("unchanged: papers");
    draft(&folder)
        .success()
        .out_has("unchanged: papers/2026-0142-proposal-r1.pdf")
        .out_has("unchanged: mail/2026-0142-mail-r1.eml")
        .out_has("unchanged: mail/2026-0142-mail-r1.txt");
    let dearer = folder.replace("book.toml", "margin = \"38 %\"", "margin = \"39 %\"");
    draft(&dearer)
        .success()
        .out_has("wrote papers/2026-0142-proposal-r2.pdf")
        .out_has("wrote mail/2026-0142-mail-r2.eml");
    // Without `--out` it goes where the papers are.
    dearer.run(&["mail", "job.toml"]).success().out_has("wrote papers/2026-0142-mail-r2.eml");
    let eml = dearer.bytes("mail/2026-0142-mail-r2.eml");
    let (text, _) = bodies(&eml);
    assert!(text.contains("2026-0142-proposal-r2.pdf"));
    assert!(read(&dearer.bytes("mail/2026-0142-mail-r1.eml")).attachment_count() == 1);
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

// ------------------------------------------------------------------------------ what it says

#[test]
fn the_text_alone_says_what_page_one_says() {
    for Made { example, page, eml, .. } in &*MADE {
        let text = readers::squeezed(&bodies(eml).0);
        let glance = &page["glance"];
        let has = |value: &serde_json::Value| {
            let said = readers::squeezed(value.as_str().unwrap());
            assert!(text.contains(&said), "{example}: {said}\n{text}");
        };
        has(&glance["headline"]);
        has(&glance["reason"]);
        for fact in glance["answers"].as_array().unwrap() {
            ["label", "value", "note"].iter().for_each(|key| has(&fact[*key]));
        }
        for list in ["hurt", "unknown", "first"] {
            glance[list].as_array().unwrap().iter().for_each(has);
        }
        has(&page["safety"]["defer"]);
        has(&page["head"]["demo"]);
        for said in ["attached PDF", "reply to this mail", "or call "] {
            assert!(text.contains(said), "{example}: {said}\n{text}");
        }
    }
}

#[test]
fn a_floor_that_cannot_be_offered_yet_has_no_price_in_the_mail() {
    let made = MADE.iter().find(|made| made.example == "too-wet-yet").unwrap();
    let (text, html) = bodies(&made.eml);
    for said in [&text, &html] {
        assert!(said.contains("Not yet") && said.contains("nothing to sign yet"), "{said}");
        assert!(!said.contains('$'), "{said}");
    }
}

#[test]
fn other_floors_on_offer_are_named_beside_the_recommended_one() {
    let made = MADE.iter().find(|made| made.example == "dry-and-quick").unwrap();
    let (text, _) = bodies(&made.eml);
    let text = readers::squeezed(&text);
    assert!(text.contains("We recommend the fast-cure floor"), "{text}");
    assert!(
        text.contains("side by side with") && text.contains("the vapor-barrier floor"),
        "{text}"
    );
}

#[test]
fn text_and_html_say_the_same_in_the_same_order() {
    for Made { example, eml, .. } in &*MADE {
        let (text, html) = bodies(eml);
        let letters =
            |text: &str| -> String { text.chars().filter(|c| c.is_alphanumeric()).collect() };
        assert_eq!(letters(&text), letters(&seen(&html)), "{example}");
    }
}

#[test]
fn the_loose_text_is_the_mail_with_what_to_attach() {
    let folder = with_address();
    draft(&folder)
        .success()
        .out_has("to send by hand with papers/2026-0142-proposal-r1.pdf attached");
    let loose = String::from_utf8(file(&folder, ".txt")).unwrap();
    let (text, _) = bodies(&file(&folder, ".eml"));
    let head: Vec<&str> = loose.lines().take(3).collect();
    assert_eq!(
        head,
        [
            "To: rosa@tannenwald.example",
            "Subject: Your garage floor: proposal 2026-0142 from Pikemere Slab & Leaf",
            "Attach: 2026-0142-proposal-r1.pdf"
        ]
    );
    assert!(loose.ends_with(&text));
}

#[test]
fn a_shop_that_writes_spanish_mails_spanish() {
    let folder = Folder::new().replace("shop.toml", "language = \"en\"", "language = \"es\"");
    draft(&folder).success();
    let (text, html) = bodies(&file(&folder, ".eml"));
    assert!(html.contains("<html lang=\"es\">"));
    for said in ["Recomendamos", "Saludos cordiales", "Cómo responder"] {
        assert!(text.contains(said) && html.contains(said), "{said}\n{text}");
    }
    for english in ["reply", "attached", "floor", "Kind"] {
        assert!(!text.contains(english), "{english}\n{text}");
    }
}

// ------------------------------------------------------------------------------------- HTML

/// It fetches nothing, runs nothing, and can be read aloud in its language.
#[test]
fn the_html_stands_alone() {
    let folder = Folder::new();
    draft(&folder).success();
    let (_, html) = bodies(&file(&folder, ".eml"));
    assert!(html.starts_with("<!DOCTYPE html>"), "{html}");
    for word in [
        "http",
        "src=",
        "href",
        "url(",
        "<img",
        "<script",
        "<link",
        "<style",
        "@import",
        "<iframe",
        "<form",
        "<object",
        "<svg",
        "cid:",
        "class=",
        "javascript",
    ] {
        assert!(!html.contains(word), "{word}\n{html}");
    }
    assert!(html.contains("<html lang=\"en\">"));
    assert_eq!(html.matches("<table").count(), html.matches("role=\"presentation\"").count());
    assert_eq!(html.matches("<h1").count(), 1);
}

/// Every word comes from the words; the layout has tags, names of values and styles.
#[test]
fn the_html_layout_has_no_words_of_its_own() {
    let layout = slableaf::base::layouts::Layouts::default().text("mail.html").unwrap().to_owned();
    let body = layout.split_once("<!DOCTYPE html>").unwrap().1;
    let without = |text: &str, open: &str, close: &str| -> String {
        let mut pieces = text.split(open);
        let first = pieces.next().unwrap().to_owned();
        first + &pieces.map(|piece| piece.split_once(close).unwrap().1).collect::<String>()
    };
    let bare = without(&without(&without(body, "{%", "%}"), "{{", "}}"), "<", ">");
    assert_eq!(bare.trim(), "", "{bare}");
}

#[test]
fn a_shop_may_put_its_own_html_in_place() {
    let folder = Folder::new();
    folder.run(&["layouts", "--copy", "layouts", "mail.html"]).success();
    let folder = folder.replace("layouts/mail.html", "max-width:600px", "max-width:480px");
    draft(&folder).success();
    assert!(bodies(&file(&folder, ".eml")).1.contains("max-width:480px"));
}

// --------------------------------------------------------------------------- what was typed

/// Names that are something else in a header, in HTML, in a template, or in an encoded word.
const NAMES: &[&str] = &[
    "Tannenwald, Rosa; Emil",
    r#"Rosa "Emmy" Tannenwald \ Sons"#,
    "Rosa <other@elsewhere.example>",
    "a@b.example, c@d.example",
    "Bcc: c@d.example",
    "=?utf-8?b?Um9zYQ==?=",
    "=?utf-8?q?a=0D=0ABcc:_c@d.example?=",
    "(Rosa) [Emil]: group;",
    "Żaneta Nuñez-Ångström",
    "“Rosa”, the ‘baker’",
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "{{ 7 * 7 }} {% for x in y %} {# c #}",
    "&lt;b&gt; &amp; &#65;",
    "'; -- .",
    "日本 太郎 🏠",
];

#[track_caller]
fn are_data(name: &str, shop: &str) {
    let quoted = |name: &str| toml::Value::from(name).to_string();
    let folder = with_address()
        .replace("job.toml", "\"Rosa and Emil Tannenwald\"", &quoted(name))
        .replace("shop.toml", "\"Pikemere Slab & Leaf\"", &quoted(shop));
    let ran = draft(&folder);
    if ran.stderr().contains("no font") {
        // What cannot be printed is refused with its proposal.
        ran.code(4);
        return;
    }
    ran.success();
    let eml = file(&folder, ".eml");
    let message = read(&eml);
    assert_eq!(message.headers().len(), 7, "{name}: a field more or less");
    assert_eq!(people(message.from()), [(shop.to_owned(), "office@pikemere.example".to_owned())]);
    assert_eq!(people(message.to()), [(name.to_owned(), CUSTOMER_MAIL.to_owned())]);
    let subject = format!("Your garage floor: proposal 2026-0142 from {shop}");
    assert_eq!(message.subject(), Some(subject.as_str()));
    let head = eml.windows(4).position(|four| four == b"\r\n\r\n").unwrap();
    assert!(eml[..head].split(|byte| *byte == b'\n').all(|line| line.len() <= 998));
    let (text, html) = bodies(&eml);
    let greeting = readers::squeezed(&format!("Hello {name},"));
    assert!(readers::squeezed(&text).contains(&greeting), "{text}");
    assert!(seen(&html).contains(&greeting) || name.contains("&"), "{html}");
    assert_eq!(html.matches('<').count(), plain_tags(), "{name} has become a tag");
    for tag in ["<script", "<img", "<b>"] {
        assert!(!html.contains(tag), "{html}");
    }
}

/// Tags of the same mail with plain names.
fn plain_tags() -> usize {
    static TAGS: LazyLock<usize> = LazyLock::new(|| {
        let folder = with_address();
        draft(&folder).success();
        bodies(&file(&folder, ".eml")).1.matches('<').count()
    });
    *TAGS
}

#[test]
fn a_name_is_a_name_in_headers_and_text_in_html() {
    // Each name is a customer's once and a shop's once.
    let next = NAMES.iter().cycle().skip(1);
    NAMES.iter().zip(next).for_each(|(name, shop)| are_data(name, shop));
}

#[test]
fn a_very_long_name_keeps_its_letters_and_the_lines_their_bounds() {
    let long = ["Wolfeschlegelstein ".repeat(20), "Ångström-".repeat(40), "x".repeat(400)];
    let [words, accents, letters] = long.each_ref().map(|name| name.trim());
    are_data(words, accents);
    are_data(accents, letters);
    are_data(letters, words);
}

// ----------------------------------------------------------------------------------- refusals

fn nothing_was_written(folder: &Folder) {
    assert!(!folder.path("papers").exists() && !folder.path("mail").exists());
}

/// RFC 5322, section 3.6: a mail has a sender.
#[test]
fn a_shop_without_an_address_is_told_where_to_write_it() {
    let folder = Folder::new().replace("shop.toml", "email = \"office@pikemere.example\"\n", "");
    draft(&folder).code(2).err_is(
        "error: a mail needs a sender, and the shop has no `email`\n  \
         help: write `email = \"office@your-shop.example\"` in shop.toml",
    );
    nothing_was_written(&folder);
}

#[test]
fn a_sender_that_is_no_address_is_refused() {
    for bad in ["office", "Office <office@pikemere.example>", "a@b.example, c@d.example"] {
        let folder = Folder::new().replace("shop.toml", "office@pikemere.example", bad);
        draft(&folder).code(2).err_has("error: the shop's `email` ").err_has("in shop.toml");
        nothing_was_written(&folder);
    }
}

#[test]
fn an_address_of_the_customer_that_is_none_is_named_with_its_place() {
    for bad in ["rosa", "rosa@", "Rosa <a@b.example>", "a@b.example, c@d.example", "a@b.example "] {
        let folder = with_address().replace("job.toml", CUSTOMER_MAIL, bad);
        if bad.trim() != bad {
            draft(&folder).success();
            continue;
        }
        draft(&folder)
            .code(2)
            .err_has("error: `email` ")
            .err_has(&format!("--> {}\n", folder.place_of("job.toml", &format!("\"{bad}\""))))
            .err_has("write a mail address, for example `\"rosa@tannenwald.example\"`");
        nothing_was_written(&folder);
    }
    let broken = r#""a@b.example\r\nBcc: c@d.example""#;
    let folder = with_address().replace("job.toml", &format!("\"{CUSTOMER_MAIL}\""), broken);
    draft(&folder).code(2).err_has("`email` holds a line break");
}

// -------------------------------------------------------------------------------------- leaks

/// Costs, margin, hours and what the shop notes for itself stay in the shop: they are in no part of a
/// draft, decoded, and in no header.
#[test]
fn nothing_inner_is_in_a_draft() {
    let folder = leaks::telling("price");
    let paper = Paper::of(&folder);
    let estimate = folder.run(&["estimate", "job.toml"]).success().stdout();
    let inner = leaks::inner(&paper, &estimate, &folder.read("book.toml"));
    draft(&folder).success();
    let eml = file(&folder, ".eml");
    let message = read(&eml);
    let heads: Vec<String> = message
        .headers_raw()
        .map(|(name, value)| format!("{name}:{value}"))
        .chain(message.parts.iter().flat_map(|part| {
            part.headers().iter().map(|header| format!("{:?}", header.value())).collect::<Vec<_>>()
        }))
        .collect();
    let (text, html) = bodies(&eml);
    let loose = String::from_utf8(file(&folder, ".txt")).unwrap();
    let subject = message.subject().unwrap().to_owned();
    for part in [heads.join("\n"), subject, text.clone(), seen(&html), loose] {
        let shown = leaks::numbers(part.as_bytes());
        let leaked: Vec<&String> = inner.iter().filter(|number| shown.contains(*number)).collect();
        assert!(leaked.is_empty(), "{leaked:?}\n{part}");
        for word in [leaks::SUPPLIER, leaks::CREW_NOTE, "anary", "bakery", "margin", "overhead"] {
            assert!(!part.contains(word), "{word}\n{part}");
        }
    }
    // What is for the shop alone is said nowhere; what a customer may see is found.
    let mut of_the_shop = 0;
    for finding in paper.check["findings"].as_array().unwrap() {
        let check = slableaf::judge::checks::check(finding["check"].as_str().unwrap()).unwrap();
        if check.place == slableaf::judge::checks::FindingPlace::Shop {
            of_the_shop += 1;
            let says = readers::squeezed(finding["says"].as_str().unwrap());
            assert!(!readers::squeezed(&text).contains(&says), "{says}");
        }
    }
    assert!(of_the_shop > 0 && inner.len() > 300);
    assert!(leaks::numbers(text.as_bytes()).contains("4,711.13"));
    assert!(text.contains(leaks::CUSTOMER));
}
