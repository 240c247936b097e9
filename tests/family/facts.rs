//! Facts of leaflet and care sheet against the results.

use super::{all_examples, care, leaflet, shows, written};
use crate::documents::{letters, list, paper, texts, word};
use crate::fixture::{EXAMPLES, FLOORS, Folder};
use serde_json::Value;

/// All that the leaflet says of a floor stands in the proposal, to the letter.
#[test]
fn the_facts_of_a_leaflet_are_those_of_the_proposal() {
    for example in EXAMPLES {
        let leaflet = leaflet(example);
        let proposal = &paper(example).page;
        // The danger that is first on page one is among the main ones.
        if let Some(first) = list(&proposal["glance"]["hurt"]).first() {
            assert_eq!(&leaflet.page["hurt"][0], first, "{example}");
        }
        let floors = list(&leaflet.page["floors"]);
        assert_eq!(floors.len(), list(&proposal["glance"]["options"]).len(), "{example}");
        for floor in floors {
            let ways = list(&proposal["compare"]["ways"]);
            let Some(way) = ways.iter().find(|way| way["name"] == floor["name"]) else {
                // What is not offered is a line of the comparison, of which there is none without a price.
                let aside = list(&proposal["compare"]["not_offered"]);
                let said = aside.iter().any(|one| one["name"] == floor["name"]);
                assert!(said || proposal["compare"].is_null(), "{example}");
                continue;
            };
            for key in ["better_at", "harder_at", "choose_if"] {
                assert_eq!(floor[key], way[key], "{example} {key}");
            }
            // A paper that recommends nothing says only what is not offered, or waits.
            if way["mark"].is_null() || way["mark"]["strong"] == true {
                assert_eq!(floor["mark"], "", "{example}");
            } else {
                assert_eq!(floor["mark"], way["mark"]["word"], "{example}");
            }
            let line = list(&proposal["glance"]["options"])
                .iter()
                .find(|line| line["name"] == floor["name"])
                .unwrap();
            assert_eq!(floor["why_not"], line["why_not"], "{example}");
            if floor["why_not"] == "" {
                assert_eq!(floor["facts"][0]["value"], line["days"], "{example}");
                assert_ne!(floor["facts"][1]["value"], "", "{example}");
            } else {
                assert_eq!(floor["facts"], Value::Array(vec![]), "{example}");
            }
        }
        for (bar, whole) in
            list(&leaflet.page["bars"]).iter().zip(list(&proposal["glance"]["bars"]))
        {
            for key in ["reading", "at", "caption"] {
                assert_eq!(bar[key], whole[key], "{example} {key}");
            }
            assert!(!word(&bar["alt"]).contains("this floor"), "{example} {bar}");
            // It recommends nothing: no bar is set off from the others.
            assert!(list(&bar["limits"]).iter().all(|limit| limit["first"] == false), "{example}");
        }
    }
}

#[test]
fn all_that_a_leaflet_is_given_is_printed() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        for key in [
            "message",
            "intro",
            "interest",
            "defer",
            "questions",
            "hurt",
            "hangs",
            "unknown",
            "relied",
            "next",
            "times_note",
            "more_note",
            "moisture_notes",
        ] {
            for text in texts(&leaflet.page[key]) {
                shows(&leaflet, text);
            }
        }
        assert_eq!(list(&leaflet.page["questions"]).len(), 3, "{example}");
        let leave = &leaflet.page["leave"];
        for floor in list(&leaflet.page["floors"]).iter().chain([leave]) {
            for key in
                ["name", "summary", "why_not", "better_at", "harder_at", "choose_if", "facts"]
            {
                for text in texts(&floor[key]) {
                    shows(&leaflet, text);
                }
            }
        }
    }
}

/// One bold line says from when one may walk and park, by the words of the proposal.
#[test]
fn a_care_sheet_opens_with_the_times_of_the_proposal() {
    for (example, floor) in FLOORS {
        let sheet = care(example, floor);
        let message = &sheet.page["message"];
        let lead = word(&message["lead"]);
        assert!(
            lead.starts_with("Walk on it from ") && lead.contains("Park on it from "),
            "{lead}"
        );
        // Each time has its picture.
        let pictures: Vec<_> =
            list(&sheet.page["times"]).iter().map(|time| word(&time["picture"])).collect();
        assert_eq!(pictures, ["walk", "carry", "park"], "{example} {floor}");
        for time in list(&sheet.page["times"]) {
            assert!(word(&time["alt"]).contains(word(&time["from"])), "{time}");
        }
        let page = letters(&sheet.pages[0]);
        let at = |text: &str| page.find(&letters(text)).unwrap_or_else(|| panic!("no {text}"));
        assert!(at(lead) < at(word(&sheet.page["intro"])), "{example} {floor}");
        for hour in 0..7 {
            assert!(!lead.contains(&format!(", {hour} am")), "a time of the night: {lead}");
        }
        let times = texts(&paper(example).page["plan"]["times"]).join("; ").to_lowercase();
        let (walk, park) = lead.split_once(". Park on it from ").unwrap();
        for time in [walk.trim_start_matches("Walk on it from "), park.trim_end_matches('.')] {
            assert!(times.contains(&time.to_lowercase()), "{example} {floor}: {time} in {times}");
        }
    }
}

#[test]
fn a_care_sheet_without_an_agreed_start_counts_days() {
    let folder = Folder::new();
    let job = folder.read("job.toml");
    let job: Vec<&str> = job.lines().filter(|line| !line.starts_with("start = ")).collect();
    let sheet = written(&folder.write("job.toml", job.join("\n")), &["care"]);
    let lead = word(&sheet.page["message"]["lead"]);
    assert!(lead.starts_with("Walk on it from day 2, "), "{lead}");
}

/// Steps with who takes them, the signs with their pictures, and room for what was laid.
#[test]
fn a_care_sheet_has_steps_pictures_and_room_for_what_was_laid() {
    for (example, floor) in FLOORS {
        let sheet = care(example, floor);
        for step in list(&sheet.page["next"]) {
            assert!(["You:", "We:"].contains(&word(&step["who"])), "{step}");
            shows(&sheet, word(&step["says"]));
        }
        let pictured = list(&sheet.page["watch"]).iter().filter(|sign| sign["picture"] != "");
        assert!(pictured.clone().all(|sign| word(&sign["alt"]).len() > 40), "{example}");
        assert_eq!(pictured.count(), 3, "{example} {floor}");
        assert!(list(&sheet.page["as_built"]).len() >= 2, "{example} {floor}");
        for text in texts(&sheet.page["as_built"]) {
            shows(&sheet, text);
        }
        for head in ["Batch", "Thickness", "When to renew the last coat", "What to do if"] {
            shows(&sheet, head);
        }
        for key in ["always", "watch", "next", "mishaps", "renew", "as_built"] {
            assert!(list(&sheet.page[key]).len() <= 7, "{example} {key}");
        }
    }
}

#[test]
fn a_care_sheet_names_ambering_only_where_a_coat_in_daylight_ambers() {
    for (floor, ambers) in
        [("fast-cure", false), ("barrier", false), ("clear-epoxy", true), ("water-kit", true)]
    {
        let sheet = care("dry-and-quick", floor);
        let signs: Vec<&str> =
            list(&sheet.page["watch"]).iter().map(|sign| word(&sign["sign"])).collect();
        assert_eq!(signs.contains(&"A yellow tint"), ambers, "{floor}: {signs:?}");
        assert_eq!(&signs[..3], ["A blister", "A white bloom", "A lifted edge"]);
    }
}

#[test]
fn a_care_sheet_warns_of_isocyanates_only_while_such_a_floor_cures() {
    for (floor, holds) in [("fast-cure", true), ("barrier", true), ("water-kit", false)] {
        let sheet = care("dry-and-quick", floor);
        let cautions = texts(&sheet.page["always"]).join(" ");
        assert_eq!(cautions.contains("isocyanates"), holds, "{floor}");
        for always in ["slippery", "acid", "children and pets", "medical help at once"] {
            assert!(cautions.contains(always), "{floor}: {always}");
        }
    }
}

#[test]
fn a_care_sheet_has_the_shops_own_warranty_and_what_it_leaves() {
    let typed = "leaves = [\"One box of #flake, *yours*\"]";
    let folder = Folder::new().replace(
        "shop.toml",
        "leaves-flake = [\"A bag of your flake, for small repairs\"]",
        typed,
    );
    let sheet = written(&folder, &["care"]);
    shows(&sheet, "One box of #flake, *yours*");
    for paragraph in list(&paper("two-car-barrier").page["promise"]["warranty"]) {
        shows(&sheet, word(paragraph));
    }
    let none = Folder::new().replace(
        "shop.toml",
        "leaves-flake = [\"A bag of your flake, for small repairs\"]",
        "",
    );
    let sheet = written(&none, &["care"]);
    assert!(!letters(&sheet.pages.concat()).contains(&letters("What we left with you")));
}

/// Barrier and fast-cure floors get about the same room, in the data and on the page.
#[test]
fn both_chemistries_have_the_same_room_on_a_leaflet() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        let length = |floor: &str, keys: &[&str]| -> usize {
            let of = list(&leaflet.page["floors"]);
            let of = of.iter().find(|of| word(&of["name"]).starts_with(floor)).unwrap();
            keys.iter().flat_map(|key| texts(&of[*key])).map(|text| text.chars().count()).sum()
        };
        for keys in [
            &["better_at"][..],
            &["harder_at"],
            &["choose_if"],
            &["better_at", "harder_at", "choose_if"],
        ] {
            let (barrier, fast) = (length("Vapor-barrier", keys), length("Fast-cure", keys));
            let share = barrier as f64 / fast as f64;
            assert!((0.6..=1.6).contains(&share), "{example} {keys:?}: {barrier} to {fast}");
        }
    }
}

/// The slab left as it is has as many strengths and drawbacks as a floor, and about as many letters.
#[test]
fn leaving_the_slab_as_it_is_is_an_option_in_the_same_detail() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        let leave = &leaflet.page["leave"];
        for floor in list(&leaflet.page["floors"]) {
            for key in ["better_at", "harder_at"] {
                assert_eq!(list(&leave[key]).len(), list(&floor[key]).len(), "{example} {key}");
            }
        }
        let length = |key: &str| word(&leave[key]).chars().count();
        assert!(length("choose_if") > 60 && length("summary") > 30, "{example}");
        let pages = letters(&leaflet.pages.concat());
        let at = |text: &str| pages.find(&letters(text)).unwrap();
        assert!(at("Leave it as it is") > at("Your choices"), "{example}");
    }
}

/// Nothing stands before the one main message but whom the paper is for.
#[test]
fn a_leaflet_opens_with_its_one_message_and_ends_with_steps_that_have_an_actor_and_a_time() {
    for (example, says) in [
        (
            "two-car-barrier",
            "Of four floors, we can lay one on it as it is: the vapor-barrier floor.",
        ),
        ("dry-and-quick", "We can lay all four floors that we looked at on it."),
        ("too-wet-yet", "We can lay neither of the two floors on it as it is."),
    ] {
        let leaflet = leaflet(example);
        let message = &leaflet.page["message"];
        assert!(word(&message["says"]).contains(says), "{example}: {message}");
        let page = letters(&leaflet.pages[0]);
        let at = |text: &str| page.find(&letters(text)).unwrap_or_else(|| panic!("{text}"));
        let lead = at(word(&message["lead"]));
        assert!(lead < 420, "{example}: {lead}");
        assert!(lead < at(word(&leaflet.page["intro"])), "{example}");
        let steps = list(&leaflet.page["next"]);
        assert!((2..=7).contains(&steps.len()), "{example}");
        for step in steps {
            assert!(["You:", "We:"].contains(&word(&step["who"])), "{step}");
            assert!(word(&step["says"]).ends_with('.'), "{example}: {step}");
        }
        assert!(
            texts(&leaflet.page["next"]).iter().any(|text| text.contains("555-0")),
            "{example}"
        );
        // Who earns, and how long the test is relied on.
        shows(&leaflet, "we earn when you sign");
        shows(&leaflet, word(&leaflet.page["relied"]));
    }
}

/// The day until which the tests are relied on is one day, on the leaflet and in the proposal.
#[test]
fn leaflet_and_proposal_rely_on_the_tests_until_one_day() {
    let mut said = 0;
    for example in EXAMPLES {
        let leaflet = leaflet(example);
        let relied = word(&leaflet.page["relied"]);
        let Some((_, until)) = relied.split_once(" until ") else { continue };
        let day = until.split(", then").next().unwrap();
        let dated = &paper(example).page["compare"]["dated"];
        let Some(dated) = dated.as_str() else { continue };
        assert!(dated.contains(day), "{example}: {dated}");
        said += 1;
    }
    assert!(said > 1, "{said}");
}

#[test]
fn no_list_of_a_leaflet_is_longer_than_seven() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        for key in ["hurt", "hangs", "unknown", "next", "questions"] {
            assert!(list(&leaflet.page[key]).len() <= 7, "{example} {key}");
        }
    }
}

#[test]
fn a_leaflet_recommends_nothing() {
    for example in all_examples() {
        let text = leaflet(example).pages.concat().to_lowercase();
        assert!(!text.contains("recommend"), "{example}");
    }
}
