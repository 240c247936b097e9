//! Leaflet and care sheet: what they show is what the proposal shows, each keeps to its pages, and
//! neither says what the shop keeps to itself. Pages are read back through lopdf.

use std::collections::BTreeSet;
use std::fs;

use serde_json::Value;

use crate::documents::{files, has_money, list, paper, texts, word};
use crate::fixture::{EXAMPLES, FLOORS, Folder};
use crate::leaks::keys_of;
use crate::readers;

/// A written paper: its pages and its page data.
struct Small {
    pages: Vec<String>,
    page: Value,
    pdf: Vec<u8>,
}

#[track_caller]
fn written(folder: &Folder, more: &[&str]) -> Small {
    // A folder for each paper.
    let out = more[0];
    let common = ["write", "job.toml", "--out", out, "--page-data", "--paper"];
    folder.run(&[&common, more].concat()).success();
    let names = files(folder, out);
    let ending = |end: &str| {
        let mut found = names.iter().filter(|name| name.ends_with(end));
        let name = found.next().unwrap_or_else(|| panic!("no {end} among {names:?}"));
        assert_eq!(found.next(), None, "{names:?}");
        folder.path(out).join(name)
    };
    Small {
        pages: readers::pages(&ending(".pdf")),
        page: serde_json::from_slice(&fs::read(ending(".json")).unwrap()).unwrap(),
        pdf: fs::read(ending(".pdf")).unwrap(),
    }
}

fn leaflet(example: &str) -> Small {
    written(&Folder::of(example), &["leaflet"])
}

fn care(example: &str, floor: &str) -> Small {
    written(&Folder::of(example), &["care", "--floor", floor])
}

/// White space and hyphens left out: a page breaks lines where it likes.
fn letters(text: &str) -> String {
    crate::documents::letters(text)
}

#[track_caller]
fn shows(paper: &Small, text: &str) {
    assert!(letters(&paper.pages.concat()).contains(&letters(text)), "no `{text}`");
}

fn all_examples() -> impl Iterator<Item = &'static str> {
    EXAMPLES.iter().copied().chain(["smallest"])
}

// ------------------------------------------------------------------------------------- pages

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

/// What has no room is left out, alike for every floor, and the page says where it stands.
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

// ------------------------------------------------------------------------------------- facts

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

// ---------------------------------------------------------------------------------- fairness

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

// ------------------------------------------------------------------------------ prices, leaks

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
        .replace("job.toml", "wishes =", "crew-notes = [\"Canary note: ring twice\"]\nwishes =");
    let book = folder.read("book.toml").replace("Invented Resins", "Quagmire Canary Chemicals");
    let folder = folder.write("book.toml", book);
    let estimate = folder.run(&["estimate", "job.toml", "--format", "json"]).success().stdout();
    let estimate: Value = serde_json::from_str(&estimate).unwrap();
    let papers = ["--paper", "leaflet", "--with-prices", "--paper", "care", "--page-data"];
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
        for canary in ["Canary", "Quagmire", "1,013.57", "1013.57", "41.93"] {
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

// ---------------------------------------------------------------------------------- revisions

#[test]
fn the_same_input_gives_the_same_bytes() {
    for more in [&["leaflet"][..], &["leaflet", "--with-prices"], &["care"]] {
        let bytes = || written(&Folder::new(), more).pdf;
        assert_eq!(bytes(), bytes(), "{more:?}");
    }
}

#[test]
fn each_paper_has_revisions_of_its_own() {
    let all = ["--paper", "proposal", "--paper", "leaflet", "--paper", "care", "--paper", "care"];
    let run = [&["write", "job.toml", "--out", "out"][..], &all[..]].concat();
    let folder = Folder::new();
    folder.run(&run).success().out_has("care-r1.pdf (2 pages)\n  for barrier");
    let firsts = ["2026-0142-care-r1.pdf", "2026-0142-leaflet-r1.pdf", "2026-0142-proposal-r1.pdf"];
    assert_eq!(files(&folder, "out"), firsts);
    folder.run(&run).success().out_has("unchanged: ");
    assert_eq!(files(&folder, "out"), firsts);
    let before = folder.bytes("out/2026-0142-leaflet-r1.pdf");
    let prices = ["write", "job.toml", "--out", "out", "--paper", "leaflet", "--with-prices"];
    folder.run(&prices).success().out_has("leaflet-r2.pdf");
    assert_eq!(folder.bytes("out/2026-0142-leaflet-r1.pdf"), before);
    assert_eq!(files(&folder, "out").len(), 4);
    // What the care sheet alone shows changes the care sheet alone.
    let folder = folder.replace("shop.toml", "A bag of your flake", "Two bags of your flake");
    folder.run(&run).success().out_has("care-r2.pdf").out_has("unchanged: ");
    let names = files(&folder, "out");
    assert!(names.contains(&"2026-0142-care-r2.pdf".to_owned()), "{names:?}");
    assert!(!names.contains(&"2026-0142-proposal-r2.pdf".to_owned()), "{names:?}");
}

#[test]
fn a_draft_of_a_small_paper_is_marked_and_may_be_written_over() {
    let folder = Folder::new();
    for _ in 0..2 {
        let run = ["write", "job.toml", "--out", "out", "--draft", "--paper", "leaflet"];
        folder.run(&run).success();
    }
    assert_eq!(files(&folder, "out"), ["2026-0142-leaflet-draft.pdf"]);
    let pages = readers::pages(&folder.path("out/2026-0142-leaflet-draft.pdf"));
    assert!(pages.iter().all(|page| page.contains("Draft")));
}

// ----------------------------------------------------------------------------------- refusals

#[track_caller]
fn refused(folder: &Folder, more: &[&str], code: i32, message: &str) {
    let run = [&["write", "job.toml", "--out", "out"], more].concat();
    folder.run(&run).code(code).err_is(message);
    assert_eq!(files(folder, "out"), Vec::<String>::new(), "nothing is written");
}

#[test]
fn a_care_sheet_is_refused_for_a_floor_that_is_not_offered() {
    let folder = Folder::new();
    refused(
        &folder,
        &["--paper", "leaflet", "--paper", "care", "--floor", "barier"],
        2,
        "error: the job offers no floor `barier`\n  help: did you mean `barrier`?",
    );
    refused(
        &folder,
        &["--paper", "care", "--floor", "fast-cure"],
        1,
        "error: `fast-cure` is not offered and cannot be laid as things are\n  help: `slableaf check` says why",
    );
    refused(
        &Folder::of("too-wet-yet"),
        &["--paper", "care"],
        1,
        "error: no floor is offered for this job yet\n  help: `slableaf check` says why",
    );
}

#[test]
fn an_option_that_no_paper_uses_is_refused() {
    refused(
        &Folder::new(),
        &["--with-prices"],
        2,
        "error: `--with-prices` is for the leaflet alone, which is not asked for\n  help: add `--paper leaflet`; the proposal always has its prices",
    );
    refused(
        &Folder::new(),
        &["--paper", "leaflet", "--floor", "barrier"],
        2,
        "error: `--floor` is for the care sheet alone, which is not asked for\n  help: add `--paper care`; the other papers hold every floor on offer",
    );
}

/// A leaflet for a slab that has to dry first says what to do first, and no day or price.
#[test]
fn a_leaflet_of_a_job_without_an_offer_says_what_to_do_first() {
    let leaflet = leaflet("too-wet-yet");
    assert_eq!(leaflet.page["first"], paper("too-wet-yet").page["glance"]["first"]);
    shows(&leaflet, "As things are, none of these floors can go on this slab");
    assert!(!leaflet.pages.concat().contains("Car back"));
}

// ------------------------------------------------------------------------------ accessibility

/// Every drawing has a text in its place, every table its head: found in the file's own structure.
#[test]
fn drawings_have_texts_and_tables_have_heads() {
    for (small, drawings) in [(leaflet("dry-and-quick"), 5), (care("dry-and-quick", "barrier"), 0)]
    {
        let document = lopdf::Document::load_mem(&small.pdf).unwrap();
        let mut figures = 0;
        let mut heads = 0;
        for object in document.objects.values() {
            let Ok(dictionary) = object.as_dict() else { continue };
            match dictionary.get(b"S").and_then(lopdf::Object::as_name) {
                Ok(b"Figure") => {
                    figures += 1;
                    let alt = dictionary.get(b"Alt").and_then(lopdf::Object::as_str).unwrap();
                    assert!(!alt.is_empty());
                }
                Ok(b"TH") => heads += 1,
                _ => {}
            }
        }
        // The logo is one more.
        assert_eq!(figures, drawings + 1);
        assert!(heads >= 3, "{heads}");
    }
}
