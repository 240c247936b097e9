//! The pages of leaflet and care sheet.

use super::{all_examples, care, leaflet, shows, written};
use crate::documents::{list, texts, word};
use crate::fixture::{FLOORS, Folder};

/// Two pages to decide, and one with the floors drawn and their record where a sheet has no room for it.
#[test]
fn a_leaflet_is_one_sheet_or_goes_on_to_a_second() {
    for example in all_examples() {
        let leaflet = leaflet(example);
        let most = if list(&leaflet.page["floors"]).len() > 2 { 4 } else { 3 };
        assert!((2..=most).contains(&leaflet.pages.len()), "{example}: {}", leaflet.pages.len());
        for page in &leaflet.pages[..2] {
            assert!(page.len() > 600, "{example}: {page}");
        }
    }
}

#[test]
fn a_leaflet_holds_one_to_four_floors_with_and_without_prices() {
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
                let pages = leaflet.pages.len();
                let most = if some.contains("water-kit") { 4 } else { 3 };
                assert!((1..=most).contains(&pages), "{some} {prices:?} {paper}: {pages}");
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
                let most = if print == "large" { (9, 6) } else { (4, 2) };
                let counted = (leaflet.pages.len(), sheet.pages.len());
                assert!(counted.0 <= most.0 && counted.1 <= most.1, "{top}{counted:?}");
                for key in [
                    "always",
                    "weeks_care",
                    "cleaning_care",
                    "keep_off_care",
                    "mishaps",
                    "renew",
                    "warranty",
                ] {
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

/// A long address takes lines, and nothing else gives way for it.
#[test]
fn a_leaflet_with_much_to_say_takes_another_page_and_leaves_nothing_out() {
    let address: Vec<String> =
        (1..=24).map(|line| format!("\"Line {line} of a long address\"")).collect();
    let folder = Folder::of("dry-and-quick").replace(
        "shop.toml",
        "address = [\"14 Boathouse Lane\", \"Pikemere Lake\"]",
        &format!("address = [{}]", address.join(", ")),
    );
    let leaflet = written(&folder, &["leaflet"]);
    assert!((2..=4).contains(&leaflet.pages.len()), "{} pages", leaflet.pages.len());
    for floor in list(&leaflet.page["floors"]) {
        for text in texts(&floor["better_at"]).into_iter().chain(texts(&floor["harder_at"])) {
            shows(&leaflet, text);
        }
    }
    for caution in list(&leaflet.page["hurt"]) {
        shows(&leaflet, word(caution));
    }
}

/// A long warranty takes another page, and nothing gives way for it.
#[test]
fn a_care_sheet_with_a_long_warranty_leaves_nothing_out() {
    let long = "We stand behind this floor in a way that takes many words to tell. ".repeat(20);
    let folder = Folder::new().replace("shop.toml", "warranty-short = \"5 years\"\n", "");
    let shop = folder.read("shop.toml");
    let (start, end) = (shop.find("warranty = [").unwrap(), shop.find("\n]\n").unwrap());
    let typed = format!("warranty = [\"{0}\", \"{0}\", \"{0}\"]", long.trim());
    let folder =
        folder.write("shop.toml", format!("{}{typed}{}", &shop[..start], &shop[end + 2..]));
    let sheet = written(&folder, &["care"]);
    assert!((2..=4).contains(&sheet.pages.len()), "{} pages", sheet.pages.len());
    for key in ["always", "warranty", "next", "as_built"] {
        texts(&sheet.page[key]).into_iter().for_each(|text| shows(&sheet, text));
    }
}

/// Five floors, tested by both methods: two charts and six choices.
#[test]
fn a_leaflet_with_five_floors_and_both_methods_goes_on_to_a_second_sheet() {
    let folder = Folder::of("dry-and-quick");
    let job = folder.read("job.toml");
    let probes = Folder::of("metric-probes").read("job.toml");
    let from = probes.find("[moisture.probes]").unwrap();
    let to = from + probes[from..].find("\n[slab]").or(probes[from..].find("\n[air]")).unwrap_or(0);
    assert!(to > from);
    // The same probes in May, their places left to their names.
    let probes = probes[from..to].replace("2026-09", "2026-05").replace("2026-08", "2026-04");
    let placed = |line: &&str| !line.starts_with("at = ");
    let probes = probes.lines().filter(placed).collect::<Vec<_>>().join("\n");
    let offer = "offer = [\"fast-cure\", \"barrier\", \"clear-epoxy\", \"water-kit\"]";
    let five = "offer = [\"fast-cure\", \"barrier\", \"clear-epoxy\", \"water-kit\", \"own\"]";
    assert!(job.contains(offer));
    let job = format!("{}\n{probes}", job.replace(offer, five));
    let own = crate::fixture::root().join("layouts/systems/fast-cure.toml");
    let own = std::fs::read_to_string(own).unwrap();
    let own = own.replace("key = \"fast-cure\"", "key = \"own\"");
    std::fs::create_dir_all(folder.path("systems")).unwrap();
    let folder = folder.write("systems/own.toml", own).write("job.toml", job);
    let all = ["write", "job.toml", "--paper", "leaflet", "--paper", "proposal", "--out", "out"];
    folder.run(&all).success();
    let leaflet = written(&folder, &["leaflet"]);
    assert!((3..=4).contains(&leaflet.pages.len()), "{}", leaflet.pages.len());
    assert_eq!(list(&leaflet.page["bars"]).len(), 2);
    assert_eq!(list(&leaflet.page["floors"]).len(), 5);
}
