//! Text that a person typed, refusals and leaks.

use super::{CUSTOMER_MAIL, bodies, draft, file, people, read, seen, with_address};
use crate::documents::Paper;
use crate::fixture::Folder;
use crate::{leaks, readers};
use std::sync::LazyLock;

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
    // Letters that no font has are printed in Latin letters, and the mail has both.
    let latin = if name.contains('日') { "\nlatin = \"Taro Nihon\"" } else { "" };
    let folder = with_address()
        .replace("job.toml", "\"Rosa and Emil Tannenwald\"", &format!("{}{latin}", quoted(name)))
        .replace("shop.toml", "\"Pikemere Slab & Leaf\"", &quoted(shop));
    draft(&folder).success();
    let name = &if latin.is_empty() { name.to_owned() } else { format!("{name} (Taro Nihon)") };
    let eml = file(&folder, ".eml");
    let message = read(&eml);
    assert_eq!(message.headers().len(), 7, "{name}: a field more or less");
    assert_eq!(people(message.from()), [(shop.to_owned(), "office@pikemere.example".to_owned())]);
    assert_eq!(people(message.to()), [(name.clone(), CUSTOMER_MAIL.to_owned())]);
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
    // A shop's name that no font has is refused: it has a Latin one of its own.
    let printed = |name: &&&str| !name.contains('日');
    let shops = next.filter(printed);
    NAMES.iter().zip(shops).for_each(|(name, shop)| are_data(name, shop));
}

#[test]
fn a_very_long_name_keeps_its_letters_and_the_lines_their_bounds() {
    let long = ["Wolfeschlegelstein ".repeat(20), "Ångström-".repeat(40), "x".repeat(400)];
    let [words, accents, letters] = long.each_ref().map(|name| name.trim());
    are_data(words, accents);
    are_data(accents, letters);
    are_data(letters, words);
}

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
        draft(&folder).code(2).err_has("error: `email` ").err_has("shop.toml:");
        // Papers name it, and the crew's calendar.
        folder.run(&["check", "job.toml"]).code(2).err_has("error: `email` ");
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
