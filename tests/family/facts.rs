//! Facts of leaflet and care sheet against the results.

use super::{all_examples, care, leaflet, shows, written};
use crate::documents::{letters, list, paper, texts, word};
use crate::fixture::{EXAMPLES, FLOORS, Folder};
use serde_json::Value;
use std::collections::BTreeSet;

/// All that the leaflet says of a floor stands in the proposal, to the letter.
#[test]
fn the_facts_of_a_leaflet_are_those_of_the_proposal() {
    for example in EXAMPLES {
        let leaflet = leaflet(example);
        let proposal = &paper(example).page;
        assert_eq!(leaflet.page["found"], proposal["glance"]["found"], "{example}");
        let hurt: BTreeSet<&str> = texts(&leaflet.page["hurt"]).into_iter().collect();
        for caution in list(&proposal["glance"]["hurt"]) {
            assert!(hurt.contains(word(caution)), "{example}: {caution}");
        }
        let floors = list(&leaflet.page["floors"]);
        assert_eq!(floors.len(), list(&proposal["compare"]["cards"]).len(), "{example}");
        for (at, floor) in floors.iter().enumerate() {
            let card = &proposal["compare"]["cards"][at];
            for key in ["name", "better_at", "harder_at", "choose_if", "headroom"] {
                assert_eq!(floor[key], card[key], "{example} {key}");
            }
            // A paper that recommends nothing says only what is not offered, or waits.
            if card["mark"].is_null() || card["mark"]["strong"] == true {
                assert_eq!(floor["mark"], "", "{example}");
            } else {
                assert_eq!(floor["mark"], card["mark"]["word"], "{example}");
            }
            let stack = &proposal["layers"]["stacks"][at];
            for (coat, drawn) in list(&floor["coats"]).iter().zip(list(&stack["coats"])) {
                for key in ["name", "thickness", "look", "height"] {
                    assert_eq!(coat[key], drawn[key], "{example} {key}");
                }
            }
            let line = list(&proposal["glance"]["options"])
                .iter()
                .find(|line| line["name"] == floor["name"])
                .unwrap();
            assert_eq!(floor["why_not"], line["why_not"], "{example}");
            if floor["why_not"] == "" {
                assert_eq!(floor["facts"][0]["value"], line["days"], "{example}");
                assert_eq!(floor["facts"][1]["value"], line["car_back"], "{example}");
            } else {
                assert_eq!(floor["facts"], Value::Array(vec![]), "{example}");
            }
        }
        for (chart, whole) in
            list(&leaflet.page["moisture"]).iter().zip(list(&proposal["slab"]["moisture"]))
        {
            assert_eq!(chart["limits"], whole["limits"], "{example}");
            assert_eq!(list(&chart["readings"]).len(), 1, "{example}");
            let highest = list(&whole["readings"]).iter().find(|r| r["highest"] == true).unwrap();
            for key in ["value", "at", "from", "to"] {
                assert_eq!(chart["readings"][0][key], highest[key], "{example} {key}");
            }
        }
    }
}

#[test]
fn all_that_a_leaflet_is_given_is_printed() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        for key in ["intro", "defer", "questions", "hurt", "first", "more_note", "caption"] {
            for text in texts(&leaflet.page[key]) {
                shows(&leaflet, text);
            }
        }
        assert_eq!(list(&leaflet.page["questions"]).len(), 3, "{example}");
        for floor in list(&leaflet.page["floors"]) {
            for key in ["name", "why_not", "better_at", "harder_at", "choose_if", "facts"] {
                for text in texts(&floor[key]) {
                    shows(&leaflet, text);
                }
            }
        }
    }
}

#[test]
fn the_times_of_a_care_sheet_are_those_of_the_proposal() {
    for (example, floor) in FLOORS {
        let sheet = care(example, floor);
        let proposal = paper(example);
        let named = list(&proposal.estimate["floors"]).iter().filter(|of| of["offered"] == true);
        let at = named.into_iter().position(|of| of["floor"] == *floor).unwrap();
        let times = &proposal.page["plan"]["times"][at];
        for (fact, key) in list(&sheet.page["times"]).iter().zip(["walk", "carry", "drive"]) {
            let (date, clock) = word(&times[key]).rsplit_once(", about ").unwrap();
            assert!(word(&fact["value"]).starts_with(date), "{example} {floor} {fact} {times}");
            assert!(word(&fact["note"]).ends_with(clock), "{example} {floor} {fact} {times}");
            shows(&sheet, word(&fact["value"]));
            shows(&sheet, word(&fact["note"]));
        }
    }
}

#[test]
fn a_care_sheet_without_an_agreed_start_counts_days() {
    let folder = Folder::new();
    let job = folder.read("job.toml");
    let job: Vec<&str> = job.lines().filter(|line| !line.starts_with("start = ")).collect();
    let sheet = written(&folder.write("job.toml", job.join("\n")), &["care"]);
    assert_eq!(sheet.page["times"][0]["value"], "Day 2");
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
        "leaves = [\"A bag of your flake, for small repairs\"]",
        typed,
    );
    let sheet = written(&folder, &["care"]);
    shows(&sheet, "One box of #flake, *yours*");
    for paragraph in list(&paper("two-car-barrier").page["promise"]["warranty"]) {
        shows(&sheet, word(paragraph));
    }
    let none = Folder::new().replace(
        "shop.toml",
        "leaves = [\"A bag of your flake, for small repairs\"]",
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

#[test]
fn a_leaflet_recommends_nothing() {
    for example in all_examples() {
        let text = leaflet(example).pages.concat().to_lowercase();
        assert!(!text.contains("recommend"), "{example}");
    }
}
