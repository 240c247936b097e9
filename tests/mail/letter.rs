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
        glance["unknown"].as_array().unwrap().iter().for_each(has);
        // The most serious danger of the job, the two of every job, and where the rest is.
        glance["hurt"].as_array().unwrap().iter().take(1).for_each(has);
        for said in
            ["get medical help at once. Call ", "children and pets", "Safety, air and local rules"]
        {
            assert!(text.contains(said), "{example}: {said}\n{text}");
        }
        let dangers = text.split_once("What can hurt someone").unwrap().1;
        let dangers = dangers.split_once("What to do next").unwrap().0;
        assert!(!dangers.contains("power that can take our tools"), "{example}: {dangers}");
        for step in glance["next"].as_array().unwrap() {
            has(&step["who"]);
            has(&step["says"]);
        }
        has(&page["safety"]["defer"]);
        has(&page["head"]["demo"]);
        for said in ["The proposal: ", "reply to this email", "or reach us at "] {
            assert!(text.contains(said), "{example}: {said}\n{text}");
        }
    }
}

#[test]
fn a_floor_that_cannot_be_offered_yet_has_no_price_in_the_mail() {
    let made = MADE.iter().find(|made| made.example == "too-wet-yet").unwrap();
    let (text, html) = bodies(&made.eml);
    for said in [&text, &html] {
        assert!(said.contains("Not yet") && said.contains("What to do next"), "{said}");
        assert!(!said.contains('$'), "{said}");
    }
}

/// The message comes first, then every choice with its price, or with the reason for which it is not
/// offered, and the slab left as it is.
#[test]
fn the_mail_has_the_message_first_and_every_choice_with_its_price() {
    for Made { example, page, eml, .. } in &*MADE {
        let text = readers::squeezed(&bodies(eml).0);
        let at =
            |said: &str| text.find(said).unwrap_or_else(|| panic!("{example}: {said}\n{text}"));
        let headline = page["glance"]["headline"].as_str().unwrap();
        let heads = [
            headline,
            "Your choices",
            "What we do not know",
            "What can hurt someone",
            "What to do next",
            "Attached",
        ];
        let places = heads.map(at);
        assert!(places.is_sorted(), "{example}: {places:?}");
        let choices = &text[places[1]..places[2]];
        for line in page["glance"]["options"].as_array().unwrap() {
            let shown = |key: &str| readers::squeezed(line[key].as_str().unwrap());
            assert!(choices.contains(&shown("name")), "{example}: {line}\n{choices}");
            assert!(choices.contains(&shown("price")), "{example}: {line}\n{choices}");
            assert!(choices.contains(&shown("why_not")), "{example}: {line}\n{choices}");
        }
        assert!(choices.contains("Leave it as it is: "), "{example}");
    }
}

#[test]
fn a_family_is_greeted_without_its_article() {
    let made = MADE.iter().find(|made| made.example == "dry-and-quick").unwrap();
    assert!(made.page["head"]["customer"].as_str().unwrap().starts_with("The "));
    let (text, _) = bodies(&made.eml);
    assert!(text.contains("Hello Okonjo-Lindqvist family,"), "{text}");
}

#[test]
fn text_and_html_say_the_same_in_the_same_order() {
    for Made { example, eml, .. } in &*MADE {
        let (text, html) = bodies(eml);
        let letters =
            |text: &str| -> String { text.chars().filter(|c| c.is_alphanumeric()).collect() };
        // The numbers of a list are no text in HTML.
        let unnumbered = |line: &str| {
            let number = line.split_once(". ").filter(|(at, _)| at.parse::<u8>().is_ok());
            number.map_or(line, |(_, rest)| rest).to_owned()
        };
        let text = text.lines().map(unnumbered).collect::<Vec<_>>().join("\n");
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
    for said in ["Recomendamos", "Saludos cordiales", "Qué sigue", "Dejarlo como está"] {
        assert!(text.contains(said) && html.contains(said), "{said}\n{text}");
    }
    for english in ["reply", "attached", "floor", "Kind"] {
        assert!(!text.contains(english), "{english}\n{text}");
    }
}
