//! No price and nothing of the shop in what a customer keeps.

use super::{care, leaflet, shows, written};
use crate::documents::{files, has_money, list, paper, texts, word};
use crate::fixture::{EXAMPLES, FLOORS, Folder};
use crate::leaks::keys_of;
use crate::readers;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;

#[test]
fn a_leaflet_has_prices_only_when_it_is_asked_to() {
    for example in EXAMPLES {
        let plain = leaflet(example);
        assert!(!has_money(&plain.pages.concat()), "{example}");
        assert!(!texts(&plain.page).into_iter().any(has_money), "{example}");
        assert!(!plain.pages.concat().contains("Prices hold"), "{example}");
        let priced = written(&Folder::of(example), &["leaflet", "--with-prices"]);
        for line in list(&paper(example).page["glance"]["options"]) {
            if line["offered"] == true {
                shows(&priced, word(&line["price"]));
            }
        }
        let offers = word(&paper(example).page["glance"]["headline"]).starts_with("We recommend");
        assert_eq!(priced.pages.concat().contains("Prices"), offers, "{example}");
    }
}

#[test]
fn a_care_sheet_has_no_price() {
    for (example, floor) in FLOORS {
        let sheet = care(example, floor);
        assert!(!has_money(&sheet.pages.concat()), "{example} {floor}");
        assert!(!texts(&sheet.page).into_iter().any(has_money), "{example} {floor}");
    }
}

/// Canaries where only the shop should look: a supplier, a note for the crew, a wage, a margin.
#[test]
fn nothing_of_the_shops_own_is_in_the_small_papers() {
    let folder = Folder::of("dry-and-quick")
        .replace("book.toml", "wage = \"$32.00/h\"", "wage = \"$1,013.57/h\"")
        .replace("book.toml", "margin = \"38 %\"", "margin = \"41.93 %\"")
        .replace("book.toml", "sand = \"350 ft2/h\"", "sand = \"353.71 ft2/h\"")
        .replace("job.toml", "wishes =", "crew-notes = [\"Canary note: ring twice\"]\nwishes =");
    let book = folder.read("book.toml").replace("Invented Resins", "Quagmire Canary Chemicals");
    let folder = folder.write("book.toml", book);
    let estimate = folder.run(&["estimate", "job.toml", "--format", "json"]).success().stdout();
    let estimate: Value = serde_json::from_str(&estimate).unwrap();
    let papers = [
        "--paper",
        "leaflet",
        "--with-prices",
        "--paper",
        "care",
        "--paper",
        "years",
        "--page-data",
    ];
    let run = ["write", "job.toml", "--out", "small"];
    folder.run(&[&run[..], &papers[..]].concat()).success();
    for name in files(&folder, "small") {
        let path = folder.path("small").join(&name);
        let bytes = if name.ends_with(".pdf") {
            let text = readers::pages(&path).join("\n").into_bytes();
            [readers::everything(&path), text].concat()
        } else {
            let page: Value = serde_json::from_slice(&fs::read(&path).unwrap()).unwrap();
            let mut keys = BTreeSet::new();
            keys_of(&page, &mut keys);
            assert!(keys.len() > 30);
            for inner in ["cost", "margin", "profit", "hours", "wage", "supplier", "crew", "labor"]
            {
                assert!(!keys.iter().any(|key| key.contains(inner)), "{name}: {inner}");
            }
            fs::read(&path).unwrap()
        };
        let text = String::from_utf8_lossy(&bytes);
        for canary in ["Canary", "Quagmire", "1,013.57", "1013.57", "41.93", "353.71"] {
            assert!(!text.contains(canary), "{canary} in {name}");
        }
        for floor in list(&estimate["floors"]) {
            for key in ["materials_cost", "labor_cost", "cost", "profit", "overhead", "direct"] {
                let amount = word(&floor[key]);
                assert!(!text.contains(amount), "{key} {amount} in {name}");
                let grouped = crate::documents::on_page("", amount);
                assert!(!text.contains(&grouped), "{key} {grouped} in {name}");
            }
        }
    }
}
