//! What the small papers and the proposal say of keeping out, of what is left behind, of what waits and of what a price
//! leaves out: each sentence against the job that it is about.

use serde_json::Value;

use super::{all_examples, care, leaflet, written};
use crate::documents::{Paper, list, paper, word};
use crate::fixture::{EXAMPLES, FLOORS, Folder};

/// Every sentence of a page, wherever it stands; the fixed labels are none.
fn sentences(page: &Value, into: &mut Vec<String>) {
    match page {
        Value::String(text) => into.push(text.clone()),
        Value::Array(all) => all.iter().for_each(|one| sentences(one, into)),
        Value::Object(all) => {
            let said = all.iter().filter(|(key, _)| *key != "labels");
            said.for_each(|(_, one)| sentences(one, into));
        }
        _ => {}
    }
}

fn said(page: &Value) -> Vec<String> {
    let mut all = vec![];
    sentences(page, &mut all);
    all
}

/// One end of keeping out for children and pets, on every paper: the last time that the data sheets give, which is
/// that of a car. Re-entry: safety data sheets of the coats, common practice.
#[test]
fn children_and_pets_come_back_at_one_time() {
    let ends = |page: &Value| {
        let about =
            said(page).into_iter().filter(|text| text.contains("children and pets out until"));
        let ends: Vec<String> = about
            .map(|text| {
                text.split("out until ").nth(1).unwrap().split('.').next().unwrap().to_owned()
            })
            .collect();
        ends
    };
    for example in EXAMPLES {
        for page in [&leaflet(example).page, &paper(example).page] {
            let ends = ends(page);
            assert!(
                ends.iter().all(|end| end == "you can park on the floor"),
                "{example} {ends:?}"
            );
            for text in said(page) {
                assert!(!text.contains("until fully hardened"), "{example} {text}");
            }
        }
    }
    for (example, floor) in FLOORS {
        let care = care(example, floor);
        let park = list(&care.page["times"]).iter().find(|time| time["picture"] == "park").unwrap();
        let ends = ends(&care.page);
        assert_eq!(ends.len(), 1, "{ends:?}");
        assert!(ends[0].starts_with("you can park on the floor ("), "{ends:?}");
        // `The morning of Thu, May 28` on the picture is `the morning of Thursday, May 28` in the sentence.
        let day = word(&park["from"]).split(", ").nth(1).unwrap();
        assert!(ends[0].contains(day), "{ends:?} {park}");
    }
}

/// A floor without flake leaves no flake behind; one with flake leaves what the shop says.
#[test]
fn what_is_left_behind_is_of_the_floor() {
    let solid = written(&Folder::of("solid-color"), &["care"]);
    assert_eq!(solid.page["left"], Value::Array(vec![]));
    assert!(!said(&solid.page).iter().any(|text| text.contains("bag of your flake")));
    let flake = care("two-car-barrier", "barrier");
    assert_eq!(flake.page["left"][0], "A bag of your flake, for small repairs");
    let both = Folder::of("solid-color").replace(
        "shop.toml",
        "leaves-flake =",
        "leaves = [\"A mop\"]\nleaves-flake =",
    );
    assert_eq!(written(&both, &["care"]).page["left"], Value::Array(vec!["A mop".into()]));
}

/// Two floors are both, not two of them, and neither, not none of two.
#[test]
fn a_leaflet_counts_as_people_do() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        let says = word(&leaflet.page["message"]["says"]);
        for odd in ["all two", "Of two floors, we can lay none", "Two of them have"] {
            assert!(!says.contains(odd), "{example} {says}");
        }
    }
}

/// The grave dangers of the proposal's page one are on the leaflet too.
#[test]
fn a_leaflet_names_what_can_kill_or_harm_for_life() {
    for example in EXAMPLES {
        let (leaflet, proposal) = (leaflet(example), paper(example));
        let small = list(&leaflet.page["hurt"]);
        assert!(small.len() <= 7, "{example} {small:?}");
        for danger in list(&proposal.page["glance"]["hurt"]) {
            let grave = ["lead", "asbestos", "asthma", "kill"];
            let is_grave = grave.iter().any(|what| word(danger).contains(what));
            assert!(!is_grave || small.contains(danger), "{example} {danger}");
        }
    }
}

/// A slab that is too damp for every floor: nothing to choose but what to do first, and that has its place.
#[test]
fn a_leaflet_without_a_floor_has_the_way_to_one() {
    let wet = leaflet("too-wet-yet");
    assert!(word(&wet.page["intro"]).contains("what to do first"), "{}", wet.page["intro"]);
    assert_eq!(wet.page["dry"]["name"], "Dry it and test again");
    let dry = leaflet("two-car-barrier");
    assert!(dry.page["dry"].is_null() && word(&dry.page["intro"]).contains("which floor"));
}

/// What a finding says has to be done and is not in the price, the price page names.
#[test]
fn a_price_names_what_it_leaves_out() {
    for example in EXAMPLES {
        let proposal = paper(example);
        let notices = said(&proposal.page["slab"]["findings"]).join(" ");
        let excluded = said(&proposal.page["plan"]["excluded"]).join(" ").to_lowercase();
        let pairs = [
            ("We take out oil", "taking oil out of the slab"),
            ("We take the salts off", "taking white salts off"),
            ("one grinding is, more is not", "more than one grinding"),
        ];
        for (does, left_out) in pairs {
            let priced = !proposal.page["plan"].is_null();
            assert_eq!(
                priced && notices.contains(does),
                excluded.contains(left_out),
                "{example} {does}"
            );
        }
        assert!(list(&proposal.page["plan"]["excluded"]).len() <= 7, "{example}");
    }
    let scanned = paper("metric-probes");
    let here = said(&scanned.page["plan"]["included_here"]).join(" ");
    assert!(here.contains("once the slab is scanned, filled"), "{here}");
    assert!(said(&scanned.page["plan"]["excluded"]).join(" ").contains("scan of the slab"));
}

/// Three spaces have three looks, and an extra whose vapor can catch fire has its cautions (29 CFR 1910.106).
#[test]
fn each_space_has_its_color_and_an_extra_its_cautions() {
    let three = Paper::of(&Folder::of("three-spaces"));
    let looks: Vec<(&str, &str)> = list(&three.page["accept"]["choices"])
        .iter()
        .map(|look| (word(&look["label"]), word(&look["value"])))
        .collect();
    assert_eq!(
        looks,
        [
            ("Garage: color, flake, grip", "Slate and cream"),
            ("Patio: color, flake, grip", ""),
            ("Basement: color, flake, grip", "")
        ]
    );
    let step = word(&three.page["glance"]["next"][0]["says"]);
    assert!(step.contains("a color for Patio and Basement,"), "{step}");
    let extras = said(&three.page["safety"]["extras"]).join(" ");
    assert!(extras.starts_with("Urethane coat: its vapor can catch fire."), "{extras}");
    assert!(word(&three.page["safety"]["air_note"]).starts_with("Without the extras,"));
    assert_eq!(list(&three.page["safety"]["always"]).len(), 7);
    let care = written(&Folder::of("three-spaces"), &["care"]);
    assert_eq!(care.page["choices"][0]["value"], "Slate and cream");
    for sheet in list(&care.page["more"]) {
        assert_eq!(sheet["choices"], Value::Array(vec![]));
        let habits = said(&sheet["weeks_care"]).join(" ") + &said(&sheet["next"]).join(" ");
        assert!(!habits.contains("park") && !habits.contains("wheels"), "{habits}");
    }
}
