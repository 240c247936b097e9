//! The text of the mail.

use super::{MADE, Made, bodies, draft, file, seen, with_address};
use crate::fixture::Folder;
use crate::readers;

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
        for said in ["attached PDF", "reply to this email", "or call "] {
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
        text.contains("The PDF compares it with") && text.contains("the vapor-barrier floor"),
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
