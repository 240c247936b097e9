//! The pages of leaflet and care sheet.

use super::{all_examples, care, leaflet, shows, written};
use crate::documents::{letters, list, texts, word};
use crate::fixture::{FLOORS, Folder};

#[test]
fn a_leaflet_is_one_sheet_with_two_full_sides() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        assert_eq!(leaflet.pages.len(), 2, "{example}");
        for page in &leaflet.pages {
            assert!(page.len() > 600, "{example}: {page}");
        }
    }
}

#[test]
fn a_leaflet_is_one_sheet_for_one_to_four_floors_with_and_without_prices() {
    let offer = "offer = [\"fast-cure\", \"barrier\", \"clear-epoxy\", \"water-kit\"]";
    for some in [
        "offer = [\"fast-cure\"]",
        "offer = [\"barrier\", \"fast-cure\"]",
        "offer = [\"barrier\", \"fast-cure\", \"clear-epoxy\"]",
        offer,
    ] {
        let job = Folder::of("dry-and-quick").read("job.toml");
        // The extra of a floor that is not offered goes with it.
        let job = job.replace(offer, some);
        let job = match some.contains("clear-epoxy") {
            true => job,
            false => job
                .lines()
                .filter(|line| !line.starts_with("extras"))
                .collect::<Vec<_>>()
                .join("\n"),
        };
        for paper in ["us-letter", "a4"] {
            let job = format!("paper = \"{}\"\n{job}", if paper == "a4" { "a4" } else { "letter" });
            for prices in [&["leaflet"][..], &["leaflet", "--with-prices"]] {
                let folder = Folder::of("dry-and-quick").write("job.toml", &job);
                let leaflet = written(&folder, prices);
                assert_eq!(leaflet.pages.len(), 2, "{some} {prices:?} {paper}");
                assert_eq!(leaflet.page["paper"], paper);
            }
        }
    }
}

#[test]
fn a_care_sheet_is_one_sheet_for_every_floor() {
    for (example, floor) in FLOORS {
        let sheet = care(example, floor);
        assert!((1..=2).contains(&sheet.pages.len()), "{example} {floor}");
        for page in &sheet.pages {
            assert!(page.len() > 400, "{example} {floor}: {page}");
        }
    }
}

/// All languages and both sizes of paper, in usual and in large print; all that is said is printed.
#[test]
fn small_papers_keep_to_their_sheets_in_every_language_and_print() {
    for language in ["en", "es"] {
        for size in ["letter", "a4"] {
            for print in ["usual", "large"] {
                let folder = Folder::of("dry-and-quick");
                let top = format!("paper = {size:?}\nlanguage = {language:?}\nprint = {print:?}\n");
                let job = format!("{top}{}", folder.read("job.toml"));
                let folder = folder.write("job.toml", job);
                let (leaflet, sheet) =
                    (written(&folder, &["leaflet"]), written(&folder, &["care"]));
                let most = if print == "large" { (8, 4) } else { (2, 2) };
                let counted = (leaflet.pages.len(), sheet.pages.len());
                assert!(counted.0 <= most.0 && counted.1 <= most.1, "{top}{counted:?}");
                for key in
                    ["always", "weeks_care", "cleaning_care", "keep_off_care", "watch", "warranty"]
                {
                    texts(&sheet.page[key]).into_iter().for_each(|text| shows(&sheet, text));
                }
                texts(&leaflet.page["hurt"]).into_iter().for_each(|text| shows(&leaflet, text));
                if print == "large" {
                    texts(&leaflet.page["floors"][0]["harder_at"])
                        .into_iter()
                        .for_each(|text| shows(&leaflet, text));
                }
            }
        }
    }
}

/// Text that has no room is left out, alike for every floor, and the page says where it stands.
#[test]
fn a_leaflet_with_much_to_say_leaves_out_the_least_needed_and_says_so() {
    let address: Vec<String> =
        (1..=24).map(|line| format!("\"Line {line} of a long address\"")).collect();
    let folder = Folder::of("dry-and-quick").replace(
        "shop.toml",
        "address = [\"14 Boathouse Lane\", \"Pikemere Lake\"]",
        &format!("address = [{}]", address.join(", ")),
    );
    let leaflet = written(&folder, &["leaflet"]);
    assert!((2..=4).contains(&leaflet.pages.len()), "{} pages", leaflet.pages.len());
    shows(&leaflet, "More on this in the proposal.");
    for floor in list(&leaflet.page["floors"]) {
        shows(&leaflet, word(&floor["better_at"][0]));
        shows(&leaflet, word(&floor["harder_at"][0]));
        let page = letters(&leaflet.pages.concat());
        assert!(!page.contains(&letters(word(&floor["harder_at"][2]))), "{floor}");
    }
    for caution in list(&leaflet.page["hurt"]) {
        shows(&leaflet, word(caution));
    }
}

/// A warranty too long for the page: the sheet names where it stands, and keeps every caution.
#[test]
fn a_care_sheet_keeps_its_cautions_when_the_warranty_has_no_room() {
    let long = "We stand behind this floor in a way that takes many words to tell. ".repeat(20);
    let folder = Folder::new();
    let shop = folder.read("shop.toml");
    let (start, end) = (shop.find("warranty = [").unwrap(), shop.find("\n]\n").unwrap());
    let typed = format!("warranty = [\"{0}\", \"{0}\", \"{0}\"]", long.trim());
    let folder =
        folder.write("shop.toml", format!("{}{typed}{}", &shop[..start], &shop[end + 2..]));
    let sheet = written(&folder, &["care"]);
    assert_eq!(sheet.pages.len(), 2);
    shows(&sheet, "The proposal has our warranty in full.");
    for caution in list(&sheet.page["always"]) {
        shows(&sheet, word(caution));
    }
}
