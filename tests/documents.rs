//! Papers as they lie in a folder: what a customer reads, what a shop keeps, what a reader of PDFs
//! finds. The text is read back through lopdf, which had no part in writing it.

use std::collections::BTreeSet;
use std::fs;
use std::process::{Command, Stdio};
use std::sync::LazyLock;

use lopdf::{Dictionary, Document, Object};
use serde_json::Value;
use slableaf::judge::checks::{self, FindingPlace};

use crate::fixture::*;
use crate::readers;

/// A written paper, and all that the program says about its job.
pub struct Paper {
    pub bytes: Vec<u8>,
    pub pages: Vec<String>,
    /// All of them without spaces, see [`letters`].
    letters: String,
    /// The page data: what the layouts were given.
    pub page: Value,
    pub check: Value,
    pub estimate: Value,
}

/// The shipped examples, in the order of [`EXAMPLES`], each written once.
static PAPERS: LazyLock<Vec<Paper>> =
    LazyLock::new(|| EXAMPLES.iter().map(|name| Paper::of(&Folder::of(name))).collect());

pub fn paper(example: &str) -> &'static Paper {
    &PAPERS[EXAMPLES.iter().position(|name| *name == example).unwrap()]
}

impl Paper {
    /// Writes the job of a folder.
    #[track_caller]
    pub fn of(folder: &Folder) -> Self {
        folder.run(&["write", "job.toml", "--out", "paper", "--page-data"]).success();
        let named = |end: &str| {
            let name = files(folder, "paper").into_iter().find(|name| name.ends_with(end)).unwrap();
            folder.path("paper").join(name)
        };
        let json = |verb: &str| {
            let ran = folder.run(&[verb, "job.toml", "--format", "json"]);
            serde_json::from_str(&ran.stdout()).unwrap_or_else(|error| panic!("{verb}: {error}"))
        };
        let pages = readers::pages(&named(".pdf"));
        Self {
            bytes: fs::read(named(".pdf")).unwrap(),
            letters: letters(&pages.concat()),
            pages,
            page: serde_json::from_slice(&fs::read(named(".json")).unwrap()).unwrap(),
            check: json("check"),
            estimate: json("estimate"),
        }
    }

    pub fn document(&self) -> Document {
        Document::load_mem(&self.bytes).unwrap()
    }

    pub fn text(&self) -> String {
        readers::squeezed(&self.pages.join(" "))
    }

    pub fn shows(&self, text: &str) -> bool {
        self.letters.contains(&letters(text))
    }

    #[track_caller]
    pub fn must_show(&self, text: &str) {
        assert!(!text.is_empty(), "an empty text says nothing");
        assert!(self.shows(text), "`{text}` is not on the pages\n{}", self.text());
    }

    #[track_caller]
    pub fn page_one_must_show(&self, text: &str) {
        assert!(!text.is_empty(), "an empty text says nothing");
        assert!(
            letters(&self.pages[0]).contains(&letters(text)),
            "`{text}` is not on page one\n{}",
            self.pages[0]
        );
    }

    /// A floor's result by its key.
    pub fn floor(&self, key: &str) -> &Value {
        list(&self.estimate["floors"]).iter().find(|floor| floor["floor"] == key).unwrap()
    }

    /// Floors of the job with the names that the pages give them, in the order of the offer.
    pub fn floors(&self) -> Vec<(&Value, &str)> {
        let names = list(&self.page["compare"]["names"]);
        assert_eq!(list(&self.estimate["floors"]).len(), names.len());
        list(&self.estimate["floors"]).iter().zip(names.iter().map(word)).collect()
    }

    /// The price table of a floor, when the paper has one.
    pub fn price_table(&self, name: &str) -> Option<&Value> {
        list(&self.page["plan"]["prices"]).iter().find(|table| table["name"] == name)
    }

    fn notices(&self) -> Vec<&Value> {
        let parts = [&self.page["slab"]["findings"], &self.page["safety"]["notices"]];
        parts.into_iter().flat_map(list).collect()
    }
}

/// A text without spaces, line breaks and hyphens: a narrow column breaks where it likes.
pub fn letters(text: &str) -> String {
    let break_mark =
        |c: char| c.is_whitespace() || matches!(c, '-' | '\u{AD}' | '\u{2010}' | '\u{2011}');
    text.chars().filter(|c| !break_mark(*c)).collect()
}

pub fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

#[track_caller]
pub fn word(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("no text: {value}"))
}

/// Names of all files in a folder, hidden ones too.
pub fn files(folder: &Folder, name: &str) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder.path(name)) else { return vec![] };
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// Every text in a value, however deep.
pub fn texts(value: &Value) -> Vec<&str> {
    match value {
        Value::String(text) => vec![text],
        Value::Array(items) => items.iter().flat_map(texts).collect(),
        Value::Object(fields) => fields.values().flat_map(texts).collect(),
        _ => vec![],
    }
}

/// An amount of a result, `5045.00`, as a page writes it: `$5,045.00`.
pub fn on_page(sign: &str, amount: &str) -> String {
    let (whole, cents) = amount.split_once('.').unwrap();
    let digits: Vec<char> = whole.chars().collect();
    let groups: Vec<String> = digits.rchunks(3).rev().map(|group| group.iter().collect()).collect();
    format!("{sign}{}.{cents}", groups.join(","))
}

/// Cents of an amount in either way of writing.
pub fn cents(amount: &str) -> i64 {
    let digits: String = amount.chars().filter(char::is_ascii_digit).collect();
    digits.parse().unwrap()
}

/// The number that a figure starts with.
fn number(figure: &str) -> f64 {
    let end = figure.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(figure.len());
    figure[..end].parse().unwrap()
}

fn sign(paper: &Paper) -> &'static str {
    if paper.estimate["currency"] == "EUR" { "€" } else { "$" }
}

/// True when a text has an amount of money in it.
pub fn has_money(text: &str) -> bool {
    let letters: Vec<char> = text.chars().filter(|c| !c.is_whitespace()).collect();
    letters.windows(2).any(|pair| matches!(pair[0], '$' | '€' | '£') && pair[1].is_ascii_digit())
}

// ------------------------------------------------------------------------------- the pages

/// Enough for ten parts and two copies of a notice, and not more than one reads at a kitchen table.
/// Four priced floors with a notice sheet take the most.
const PAGES: std::ops::RangeInclusive<usize> = 6..=14;

#[test]
fn every_example_makes_a_paper_of_a_few_pages() {
    for (name, paper) in EXAMPLES.iter().zip(PAPERS.iter()) {
        assert!(PAGES.contains(&paper.pages.len()), "{name} has {} pages", paper.pages.len());
        assert!(
            paper.pages.iter().all(|page| letters(page).len() > 100),
            "{name} has an empty page"
        );
    }
}

#[test]
fn every_page_names_the_job_and_its_number() {
    for paper in PAPERS.iter() {
        let pages = paper.pages.len();
        for (at, page) in paper.pages.iter().enumerate() {
            let page = letters(page);
            assert!(page.contains(&letters(word(&paper.page["head"]["job"]))));
            assert!(page.contains(&letters(&format!("Page {} of {pages}", at + 1))), "{page}");
        }
    }
}

#[test]
fn every_part_stands_under_its_heading() {
    for (name, paper) in EXAMPLES.iter().zip(PAPERS.iter()) {
        let labels = paper.page["labels"].as_object().unwrap();
        let titles: Vec<&str> = labels.values().filter_map(|part| part["title"].as_str()).collect();
        assert_eq!(titles.len(), 10, "parts of a proposal");
        for title in titles {
            assert!(paper.shows(title), "no part `{title}` in {name}");
        }
    }
}

/// A label that no paper ever prints is a leftover, or a part that got lost.
#[test]
fn every_label_is_printed_somewhere() {
    let draft = Folder::new();
    draft.run(&["write", "job.toml", "--out", "out", "--draft"]).success();
    let draft = readers::pages(&draft.path("out").join("2026-0142-proposal-draft.pdf")).concat();
    let mut printed = letters(&draft);
    papers_and(|paper| printed.push_str(&paper.letters));
    // A paper on which every floor waits.
    printed.push_str(&Paper::of(&Folder::of("smallest")).letters);
    let missing: Vec<String> = leaves(&PAPERS[0].page["labels"], "labels")
        .into_iter()
        // Words in braces are filled in.
        .filter(|(_, text)| {
            !text.split(['{', '}']).step_by(2).all(|part| printed.contains(&letters(part)))
        })
        .map(|(path, text)| format!("{path} = {text}"))
        .collect();
    assert!(missing.is_empty(), "never printed: {missing:#?}");
}

fn leaves<'a>(value: &'a Value, path: &str) -> Vec<(String, &'a str)> {
    match value {
        Value::Object(fields) => {
            fields.iter().flat_map(|(key, value)| leaves(value, &format!("{path}.{key}"))).collect()
        }
        Value::String(text) => vec![(path.to_owned(), text)],
        _ => vec![],
    }
}

#[test]
fn page_one_answers_what_how_much_how_long_and_how_damp() {
    for (name, floor, total, days, reading) in [
        ("two-car-barrier", "vapor-barrier floor", "$5,410.20", "2 days", "7.7 lb"),
        ("dry-and-quick", "fast-cure floor", "$4,808.48", "1 day", "1.6 lb"),
        ("metric-probes", "vapor-barrier floor", "€6,739.70", "2 days", "74% RH"),
    ] {
        let paper = paper(name);
        paper.page_one_must_show(&format!("We recommend the {floor}"));
        paper.page_one_must_show(total);
        paper.page_one_must_show(days);
        paper.page_one_must_show(reading);
        paper.page_one_must_show(word(&paper.page["head"]["valid_until"]));
    }
    paper("too-wet-yet").page_one_must_show("24.7 lb");
}

#[test]
fn page_one_says_what_is_not_known() {
    for (name, sentence) in [
        ("two-car-barrier", "Nobody can see if there is a plastic sheet under your slab."),
        ("metric-probes", "Nobody can see if there is a plastic sheet under your slab."),
        ("too-wet-yet", "Nobody has pull-tested the concrete"),
    ] {
        paper(name).page_one_must_show(sentence);
    }
    for paper in PAPERS.iter() {
        for sentence in list(&paper.page["glance"]["unknown"]) {
            paper.page_one_must_show(word(sentence));
        }
    }
}

#[test]
fn page_one_says_what_can_hurt_somebody() {
    for paper in PAPERS.iter() {
        let hurt = list(&paper.page["glance"]["hurt"]);
        assert!(!hurt.is_empty());
        for sentence in hurt {
            paper.page_one_must_show(word(sentence));
        }
    }
}

#[test]
fn an_invented_example_says_so_on_page_one() {
    for paper in PAPERS.iter() {
        paper.page_one_must_show("An invented example.");
    }
}

#[test]
fn a_paper_that_says_not_yet_has_no_price_and_nothing_to_sign() {
    let paper = paper("too-wet-yet");
    paper.page_one_must_show("Not yet");
    paper.page_one_must_show(word(&paper.page["labels"]["glance"]["first"]));
    paper.page_one_must_show(
        "Find out where the water comes from and let the slab dry. Then call us: we test it again.",
    );
    assert!(!has_money(&paper.text()), "an amount in {}", paper.text());
    assert!(texts(&paper.page).iter().all(|text| !has_money(text)), "an amount in the page data");
    assert!(!has_money(&strings(&paper.document())), "an amount in the file's own texts");
    let accept = &paper.page["labels"]["accept"];
    for label in ["sign", "options", "terms"] {
        assert!(!paper.shows(word(&accept[label])), "`{}` is on the pages", accept[label]);
    }
    assert!(list(&paper.page["accept"]["signatures"]).is_empty());
    assert!(paper.page["accept"]["cancellation"].is_null());
    assert!(paper.check["recommended"].is_null());
}

/// The finder of amounts finds amounts, or the test above says nothing.
#[test]
fn a_paper_with_an_offer_has_prices_and_lines_to_sign() {
    for name in ["two-car-barrier", "dry-and-quick", "metric-probes"] {
        let paper = paper(name);
        assert!(has_money(&paper.text()));
        paper.must_show(word(&paper.page["labels"]["accept"]["sign"]));
        assert_eq!(list(&paper.page["accept"]["signatures"]).len(), 2);
    }
}

fn temporary(bytes: &[u8]) -> tempfile::TempPath {
    let file = tempfile::NamedTempFile::new().unwrap();
    fs::write(file.path(), bytes).unwrap();
    file.into_temp_path()
}

#[test]
fn all_four_floors_are_priced_drawn_and_explained_in_the_examples() {
    for key in ["barrier", "fast-cure", "clear-epoxy", "water-kit"] {
        let priced = PAPERS.iter().any(|paper| {
            paper
                .floors()
                .iter()
                .any(|(floor, name)| floor["floor"] == key && paper.price_table(name).is_some())
        });
        assert!(priced, "no example's paper has a price for `{key}`");
    }
    let paper = paper("two-car-barrier");
    let stacks = list(&paper.page["layers"]["stacks"]);
    assert_eq!(stacks.len(), 4);
    for (stack, card) in stacks.iter().zip(list(&paper.page["compare"]["cards"])) {
        paper.must_show(word(&stack["name"]));
        paper.must_show(word(&stack["summary"]));
        for coat in list(&stack["coats"]) {
            paper.must_show(word(&coat["name"]));
            paper.must_show(word(&coat["does"]));
        }
        for sentence in [&card["better_at"], &card["harder_at"]].into_iter().flat_map(list) {
            paper.must_show(word(sentence));
        }
        paper.must_show(word(&card["choose_if"]));
    }
}

// --------------------------------------------------------------- results and pages are one

const EXTRAS: &str = "[extras]\nclear-epoxy = [\"urethane-coat\"]\n";

/// The dry slab, with the extra left for the customer to add.
static COULD_ADD: LazyLock<Paper> =
    LazyLock::new(|| Paper::of(&Folder::of("dry-and-quick").replace("job.toml", EXTRAS, "")));

/// Looks at the examples, of which one has an extra, and at a paper with an extra to add.
fn papers_and(see: impl FnMut(&Paper)) {
    PAPERS.iter().chain([&*COULD_ADD]).for_each(see);
}

#[test]
fn prices_on_the_pages_are_those_of_the_estimate() {
    papers_and(|paper| {
        for (floor, name) in paper.floors() {
            let shown = |key: &str| on_page(sign(paper), word(&floor[key]));
            let Some(table) = paper.price_table(name) else {
                assert_eq!(floor["offered"], false, "{name} is offered and has no price");
                assert!(
                    !paper.shows(&shown("total")),
                    "{name} is not offered, but its price is shown"
                );
                continue;
            };
            assert_eq!(floor["offered"], true);
            assert_eq!(table["total"]["amount"], shown("total"));
            let lines = list(&table["lines"]);
            let sum: i64 = lines.iter().map(|line| cents(word(&line["amount"]))).sum();
            assert_eq!(sum, cents(word(&floor["total"])), "lines of {name}");
            let extras = list(&floor["extras"]);
            assert_eq!(lines.len(), 1 + extras.len() + usize::from(cents(word(&floor["tax"])) > 0));
            for (line, extra) in lines[1..].iter().zip(extras) {
                assert_eq!(line["amount"], on_page(sign(paper), word(&extra["price"])));
            }
            if cents(word(&floor["tax"])) > 0 {
                assert_eq!(lines.last().unwrap()["amount"], shown("tax"));
            }
            let could_add = list(&floor["could_add"]);
            assert_eq!(list(&table["extras"]).len(), could_add.len());
            for (line, extra) in list(&table["extras"]).iter().zip(could_add) {
                assert_eq!(line["amount"], on_page(sign(paper), word(&extra["adds"])));
            }
            for amount in texts(table).into_iter().filter(|text| has_money(text)) {
                paper.must_show(amount);
            }
        }
    });
}

#[test]
fn an_extra_that_is_taken_is_a_line_of_its_own() {
    let paper = paper("dry-and-quick");
    let floor = paper.floor("clear-epoxy");
    assert_eq!(list(&floor["extras"]).len(), 1);
    paper.must_show(&on_page("$", word(&floor["extras"][0]["price"])));
    assert_eq!(
        paper.price_table("Clear-epoxy flake floor").unwrap()["lines"][1]["label"],
        "Urethane coat"
    );
}

#[test]
fn an_extra_that_could_be_added_has_its_price() {
    let floor = COULD_ADD.floor("clear-epoxy");
    assert_eq!(list(&floor["could_add"]).len(), 1);
    COULD_ADD.must_show(&on_page("$", word(&floor["could_add"][0]["adds"])));
    COULD_ADD.must_show("Urethane coat, adds to the total");
}

/// What a local limit forbids is no extra to offer.
#[test]
fn an_extra_over_the_local_limit_is_not_offered() {
    let folder = Folder::of("dry-and-quick").replace("job.toml", EXTRAS, "");
    // The coat has 335 g/L.
    let paper = Paper::of(&folder.replace("shop.toml", "voc = \"400 g/L\"", "voc = \"250 g/L\""));
    assert_eq!(paper.floor("clear-epoxy")["offered"], true);
    assert!(
        !paper.shows("Urethane coat, adds to the total"),
        "a coat over the VOC limit is for sale"
    );
}

#[test]
fn payments_sum_to_the_total_of_the_recommended_floor() {
    papers_and(|paper| {
        let payments = list(&paper.page["plan"]["payments"]);
        let Some(recommended) = paper.check["recommended"].as_str() else {
            return assert!(payments.is_empty());
        };
        let sum: i64 = payments.iter().map(|payment| cents(word(&payment["amount"]))).sum();
        assert_eq!(sum, cents(word(&paper.floor(recommended)["total"])));
        for payment in payments {
            paper.must_show(word(&payment["label"]));
            paper.must_show(word(&payment["amount"]));
        }
    });
}

#[test]
fn days_on_the_pages_are_those_of_the_estimate() {
    papers_and(|paper| {
        let rows = list(&paper.page["compare"]["rows"]);
        let days = rows.iter().find(|row| row["label"] == "Days on site").unwrap();
        for ((floor, _), cell) in paper.floors().iter().zip(list(&days["cells"])) {
            if floor["offered"] == true {
                assert_eq!(number(word(cell)), floor["days"].as_f64().unwrap());
                paper.must_show(word(cell));
            } else {
                assert_eq!(word(cell), "Not offered");
            }
        }
    });
}

#[test]
fn the_highest_reading_and_the_dew_point_are_those_of_the_estimate() {
    papers_and(|paper| {
        let found = list(&paper.page["glance"]["found"]);
        let moisture = &paper.estimate["moisture"];
        let dishes = moisture["dishes"]["highest"]["rate_lb_per_1000ft2_24h"].as_f64();
        let probes = moisture["probes"]["highest"]["humidity_percent"].as_f64();
        let reading = dishes.or(probes).unwrap();
        // Printed to a tenth of a pound, or to a whole percent.
        let step = if dishes.is_some() { 0.05 } else { 0.5 };
        assert!((number(word(&found[0]["value"])) - reading).abs() <= step);
        paper.page_one_must_show(word(&found[0]["value"]));
        let charts = list(&paper.page["slab"]["moisture"]);
        let highest =
            charts.iter().flat_map(|chart| list(&chart["readings"])).find(|r| r["highest"] == true);
        assert_eq!(highest.unwrap()["value"], found[0]["value"]);
        let dew = paper.estimate["air"]["dew_point_c"].as_f64().unwrap();
        let gauge = list(&paper.page["slab"]["dew"]["points"]);
        let printed = number(word(&gauge[0]["value"]));
        let printed = if sign(paper) == "€" { printed } else { (printed - 32.0) / 1.8 };
        assert!((printed - dew).abs() <= 0.5, "dew point {printed} instead of {dew}");
        for point in gauge {
            paper.must_show(word(&point["value"]));
        }
    });
}

#[test]
fn limits_on_the_pages_are_those_of_the_book() {
    for (name, limits) in [
        ("two-car-barrier", ["20 lb", "3 lb", "3 lb", "3 lb"].as_slice()),
        ("dry-and-quick", &["3 lb", "20 lb", "3 lb", "3 lb"]),
        ("too-wet-yet", &["20 lb", "3 lb"]),
        ("metric-probes", &["75% RH", "99% RH"]),
    ] {
        let paper = paper(name);
        let lines = list(&paper.page["slab"]["moisture"][0]["limits"]);
        assert_eq!(lines.len(), limits.len());
        for ((line, limit), (_, floor)) in lines.iter().zip(limits).zip(paper.floors()) {
            assert_eq!(letters(word(&line["value"])), letters(limit));
            assert_eq!(word(&line["label"]), floor);
            paper.must_show(word(&line["words"]));
        }
    }
}

#[test]
fn every_finding_stands_on_the_pages_with_its_weight_but_the_shops_own() {
    papers_and(|paper| {
        let notices = paper.notices();
        for finding in list(&paper.check["findings"]) {
            let same = |notice: &&&Value| {
                ["severity", "title", "says", "we", "you", "basis"]
                    .iter()
                    .all(|key| notice[key] == finding[key])
            };
            let found = notices.iter().find(same);
            let floor = finding["floor"].as_str();
            // What is less than a stop about a floor that is not offered would only bury the rest.
            let beside = floor.is_some_and(|key| paper.floor(key)["offered"] == false)
                && finding["severity"] != "stop";
            if checks::check(word(&finding["check"])).unwrap().place == FindingPlace::Shop || beside
            {
                assert!(found.is_none() || beside, "the shop's own: {finding}");
                continue;
            }
            let Some(notice) = found else { panic!("not on the pages: {finding}") };
            for key in ["word", "title", "says", "we", "you", "priced", "basis"] {
                let text = word(&notice[key]);
                // Who does nothing has no line.
                if !(text.is_empty() && ["we", "you", "priced"].contains(&key)) {
                    paper.must_show(text);
                }
            }
            // Where nothing has a price, nothing is in one.
            let may_be_empty = finding["priced"].is_null()
                || (paper.page["glance"]["not_yet"] == true && finding["priced"] != "on-request");
            assert_eq!(word(&notice["priced"]).is_empty(), may_be_empty, "{finding}");
        }
        // And nothing else stands there.
        for notice in notices {
            assert!(
                list(&paper.check["findings"])
                    .iter()
                    .any(|finding| finding["says"] == notice["says"])
            );
        }
    });
}

#[test]
fn results_are_json_with_a_version_and_money_as_text() {
    papers_and(|paper| {
        for result in [&paper.check, &paper.estimate] {
            assert_eq!(result["version"], slableaf::results::VERSION);
            assert_eq!(result["job"], paper.page["head"]["job"]);
        }
        for (floor, _) in paper.floors() {
            let mut amounts: Vec<&Value> = vec![];
            for key in [
                "consumables",
                "per_job",
                "purchase_tax",
                "direct",
                "overhead",
                "cost",
                "price",
                "tax",
                "total",
                "profit",
                "profit_per_crew_day",
            ] {
                amounts.push(&floor[key]);
            }
            amounts.extend(list(&floor["materials"]).iter().map(|line| &line["cost"]));
            amounts.extend(list(&floor["labor"]).iter().map(|line| &line["cost"]));
            amounts.extend(list(&floor["extras"]).iter().map(|line| &line["price"]));
            amounts.extend(list(&floor["could_add"]).iter().map(|line| &line["adds"]));
            for amount in amounts {
                let (whole, part) = word(amount).split_once('.').unwrap();
                assert!(
                    whole.parse::<i64>().is_ok() && part.len() == 2 && part.parse::<u8>().is_ok(),
                    "{amount}"
                );
            }
        }
    });
}

#[test]
fn check_and_estimate_agree_on_what_is_offered() {
    papers_and(|paper| {
        let offered: Vec<&Value> = paper
            .floors()
            .iter()
            .filter(|(floor, _)| floor["offered"] == true)
            .map(|(floor, _)| &floor["floor"])
            .collect();
        assert_eq!(offered, list(&paper.check["offered"]).iter().collect::<Vec<_>>());
        assert_eq!(paper.check["recommended"], paper.estimate["recommended"]);
    });
}

// ----------------------------------------------------------------------------- the files

const R1: &str = "2026-0142-proposal-r1.pdf";
const R2: &str = "2026-0142-proposal-r2.pdf";
const DRAFT: &str = "2026-0142-proposal-draft.pdf";
const WRITE: &[&str] = &["write", "job.toml", "--out", "out"];
const WRITE_DRAFT: &[&str] = &["write", "job.toml", "--out", "out", "--draft"];

/// A dearer wage, and with it a dearer floor.
fn dearer(folder: Folder) -> Folder {
    folder.replace("book.toml", "wage = \"$32.00/h\"", "wage = \"$39.00/h\"")
}

fn issued(folder: &Folder, name: &str) -> Vec<u8> {
    folder.bytes(&format!("out/{name}"))
}

#[test]
fn the_same_job_gives_the_same_bytes_wherever_it_lies() {
    for arguments in [WRITE, WRITE_DRAFT] {
        let (one, other) = (Folder::new(), Folder::new());
        one.run(arguments).success();
        // From elsewhere, by absolute paths, in another language and time zone.
        let status = Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .arg("write")
            .arg(other.path("job.toml"))
            .arg("--out")
            .arg(other.path("out"))
            .args(&arguments[4..])
            .current_dir("/")
            .envs([
                ("TZ", "Asia/Tokyo"),
                ("LANG", "de_DE.UTF-8"),
                ("LC_ALL", "tr_TR.UTF-8"),
                ("SOURCE_DATE_EPOCH", "1"),
            ])
            .stdout(Stdio::null())
            .status()
            .unwrap();
        assert!(status.success());
        let name = &files(&one, "out")[0];
        assert_eq!(files(&one, "out"), files(&other, "out"));
        assert!(issued(&one, name) == issued(&other, name), "{name} differs");
    }
}

#[test]
fn a_second_run_says_unchanged_and_writes_nothing() {
    let folder = Folder::new();
    folder.run(WRITE).success().out_has("wrote out/2026-0142-proposal-r1.pdf");
    let stamp =
        |name: &str| fs::metadata(folder.path("out").join(name)).unwrap().modified().unwrap();
    let before = (issued(&folder, R1), stamp(R1));
    folder.run(WRITE).success().out_has("unchanged: out/2026-0142-proposal-r1.pdf");
    assert_eq!(files(&folder, "out"), [R1]);
    assert!(before == (issued(&folder, R1), stamp(R1)));
}

#[test]
fn a_new_price_is_a_new_revision_and_the_old_one_stays() {
    let folder = Folder::new();
    folder.run(WRITE).success();
    let before = issued(&folder, R1);
    let folder = dearer(folder);
    folder.run(WRITE).success().out_has(R2);
    assert_eq!(files(&folder, "out"), [R1, R2]);
    assert!(issued(&folder, R1) == before, "an issued paper was changed");
    let text = |name: &str| readers::text(&folder.path("out").join(name));
    assert!(text(R1).contains("Revision 1") && text(R1).contains("$5,410.20"));
    assert!(text(R2).contains("Revision 2"));
    // The old price stands once, in the sentence that says what changed.
    assert_eq!(text(R2).matches("$5,410.20").count(), 1);
    folder.run(WRITE).success().out_has("unchanged").out_has(R2);
    assert_eq!(files(&folder, "out"), [R1, R2]);
}

#[test]
fn a_draft_overwrites_a_draft_and_never_an_issued_paper() {
    let folder = Folder::new();
    folder.run(WRITE).success();
    let before = issued(&folder, R1);
    folder.run(WRITE_DRAFT).success().out_has(DRAFT);
    let draft = issued(&folder, DRAFT);
    folder.run(WRITE_DRAFT).success();
    assert!(issued(&folder, DRAFT) == draft, "the same draft twice");
    let folder = dearer(folder);
    folder.run(WRITE_DRAFT).success();
    assert_eq!(files(&folder, "out"), [DRAFT, R1]);
    assert!(issued(&folder, DRAFT) != draft, "the draft has the new price");
    assert!(issued(&folder, R1) == before, "a draft changed an issued paper");
}

#[test]
fn a_draft_is_marked_on_every_page() {
    let folder = Folder::new();
    folder.run(WRITE_DRAFT).success();
    folder.run(WRITE).success();
    for page in readers::pages(&folder.path("out").join(DRAFT)) {
        assert!(page.contains("Draft"), "{page}");
    }
    for page in readers::pages(&folder.path("out").join(R1)) {
        assert!(!page.contains("Draft"), "{page}");
    }
}

/// Starts several runs in one folder at once and waits for all.
#[track_caller]
fn at_once(folder: &Folder, runs: &[&[&str]]) {
    let start = |arguments: &&[&str]| {
        Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .args(*arguments)
            .current_dir(folder.path("."))
            .stdout(Stdio::null())
            .spawn()
            .unwrap()
    };
    let children: Vec<_> = runs.iter().map(start).collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
}

/// Text of each page of a paper that has to be whole.
fn whole(folder: &Folder, name: &str) -> String {
    readers::text(&folder.path("out").join(name))
}

#[test]
fn two_different_papers_at_once_are_both_kept() {
    let cheap = Folder::new();
    let book = cheap.read("book.toml").replace("$32.00/h", "$39.00/h");
    let folder = cheap.write("dear.toml", book);
    at_once(&folder, &[WRITE, &["write", "job.toml", "--out", "out", "--book", "dear.toml"]]);
    assert_eq!(files(&folder, "out"), [R1, R2]);
    let texts = [whole(&folder, R1), whole(&folder, R2)];
    // Whichever came second names the price of the first once.
    let is_cheap = |text: &String| text.matches("$5,410.20").count() > 1;
    assert_eq!(texts.iter().filter(|text| is_cheap(text)).count(), 1, "each price once");
}

#[test]
fn the_same_paper_twice_at_once_is_one_paper() {
    let folder = Folder::new();
    at_once(&folder, &[WRITE, WRITE, WRITE]);
    assert!(whole(&folder, R1).contains("Revision 1"));
    // Nothing has changed between the runs, so there is nothing to revise.
    assert_eq!(files(&folder, "out"), [R1]);
}

#[test]
fn drafts_at_once_leave_one_whole_draft() {
    let folder = Folder::new();
    at_once(&folder, &[WRITE_DRAFT, WRITE_DRAFT, WRITE_DRAFT]);
    assert_eq!(files(&folder, "out"), [DRAFT]);
    assert!(whole(&folder, DRAFT).contains("Draft"));
}

#[track_caller]
fn refuses(folder: &Folder, arguments: &[&str]) {
    folder.run(arguments).code(5).err_has("error: cannot write");
}

#[test]
fn a_file_in_the_way_of_the_folder_is_an_error_and_leaves_nothing() {
    let folder = Folder::new().write("out", "here first");
    let before = files(&folder, ".");
    refuses(&folder, WRITE);
    refuses(&folder, WRITE_DRAFT);
    refuses(&folder, &["write", "job.toml", "--out", "out/deeper"]);
    assert_eq!(files(&folder, "."), before);
    assert_eq!(folder.read("out"), "here first");
}

#[test]
fn a_folder_in_the_way_of_a_paper_is_an_error_and_leaves_nothing() {
    let folder = Folder::new().write(&format!("out/{DRAFT}/inside"), "");
    refuses(&folder, WRITE_DRAFT);
    assert_eq!(files(&folder, "out"), [DRAFT]);
    let folder = Folder::new().write(&format!("out/{R1}/inside"), "");
    folder.run(WRITE).code(5);
    assert_eq!(files(&folder, "out"), [R1]);
}

#[test]
fn papers_lie_beside_the_job_unless_told_otherwise() {
    let folder = Folder::new();
    folder.run(&["write", "job.toml"]).success();
    assert_eq!(files(&folder, "papers"), [R1]);
}

#[test]
fn page_data_lies_beside_its_paper() {
    let folder = Folder::new();
    folder.run(&["write", "job.toml", "--out", "out", "--page-data"]).success();
    assert_eq!(files(&folder, "out"), ["2026-0142-proposal-r1.page.json", R1]);
}

#[test]
fn check_and_estimate_write_no_file() {
    let folder = Folder::new();
    let before = files(&folder, ".");
    for format in ["text", "json"] {
        folder.run(&["check", "job.toml", "--format", format]).code(1);
        folder.run(&["estimate", "job.toml", "--format", format]).success();
    }
    assert_eq!(files(&folder, "."), before);
}

#[test]
fn a_mistake_in_the_job_writes_nothing() {
    let folder = Folder::new().replace("job.toml", "height = \"9 ft\"", "height = \"9 furlongs\"");
    folder.run(WRITE).code(2);
    assert!(!folder.path("out").exists());
}

// ------------------------------------------------------------------ what readers of PDFs find

fn followed<'a>(document: &'a Document, object: &'a Object) -> &'a Object {
    document.dereference(object).unwrap().1
}

fn entry<'a>(document: &'a Document, dictionary: &'a Dictionary, key: &str) -> Option<&'a Object> {
    dictionary.get(key.as_bytes()).ok().map(|object| followed(document, object))
}

fn name_of<'a>(document: &'a Document, dictionary: &'a Dictionary, key: &str) -> &'a [u8] {
    entry(document, dictionary, key).and_then(|object| object.as_name().ok()).unwrap_or_default()
}

fn text_of(object: &Object) -> String {
    lopdf::decode_text_string(object).unwrap()
}

fn dictionaries(document: &Document) -> Vec<&Dictionary> {
    document
        .objects
        .values()
        .filter_map(|object| match object {
            Object::Dictionary(dictionary) => Some(dictionary),
            Object::Stream(stream) => Some(&stream.dict),
            _ => None,
        })
        .collect()
}

/// All texts of a file beside what its pages draw: metadata, headings, texts of drawings.
pub fn strings(document: &Document) -> String {
    fn collect(object: &Object, out: &mut String) {
        match object {
            Object::String(..) => {
                out.push_str(&lopdf::decode_text_string(object).unwrap_or_default());
                out.push('\n');
            }
            Object::Array(items) => items.iter().for_each(|item| collect(item, out)),
            Object::Dictionary(dictionary) => {
                dictionary.iter().for_each(|(_, value)| collect(value, out))
            }
            Object::Stream(stream) => stream.dict.iter().for_each(|(_, value)| collect(value, out)),
            _ => {}
        }
    }
    let mut out = String::new();
    document.objects.values().for_each(|object| collect(object, &mut out));
    out
}

/// Elements of the structure tree of a kind.
fn elements<'a>(document: &'a Document, kind: &str) -> Vec<&'a Dictionary> {
    dictionaries(document)
        .into_iter()
        .filter(|dictionary| {
            dictionary.has(b"P") && name_of(document, dictionary, "S") == kind.as_bytes()
        })
        .collect()
}

#[test]
fn metadata_name_the_paper_and_the_shop_and_take_their_date_from_the_job() {
    for (name, title, author, lang, date) in [
        (
            "two-car-barrier",
            "Rosa and Emil Tannenwald",
            "Pikemere Slab & Leaf",
            "en-US",
            "D:20260512120000Z",
        ),
        (
            "dry-and-quick",
            "The Okonjo-Lindqvist family",
            "Pikemere Slab & Leaf",
            "en-US",
            "D:20260603120000Z",
        ),
        (
            "too-wet-yet",
            "Wilhelmina Achterberg",
            "Pikemere Slab & Leaf",
            "en-US",
            "D:20260420120000Z",
        ),
        (
            "metric-probes",
            "Ingrid Måsvær and Przemysław Ząbek",
            "Seljavik Floor Workshop",
            "en-US",
            "D:20260914120000Z",
        ),
    ] {
        let document = paper(name).document();
        let info = followed(&document, document.trailer.get(b"Info").unwrap()).as_dict().unwrap();
        let said: BTreeSet<(String, String)> = info
            .iter()
            .map(|(key, value)| {
                (String::from_utf8_lossy(key).into_owned(), text_of(followed(&document, value)))
            })
            .collect();
        let expected = [
            ("Title", format!("Garage floor proposal for {title}")),
            ("Author", author.to_owned()),
            ("Creator", concat!("slableaf ", env!("CARGO_PKG_VERSION")).to_owned()),
            ("CreationDate", date.to_owned()),
            ("ModDate", date.to_owned()),
        ];
        assert_eq!(
            said,
            expected.into_iter().map(|(key, value)| (key.to_owned(), value)).collect()
        );
        let catalog = document.catalog().unwrap();
        assert_eq!(text_of(entry(&document, catalog, "Lang").unwrap()), lang);
        let marks = entry(&document, catalog, "MarkInfo").unwrap().as_dict().unwrap();
        assert!(marks.get(b"Marked").unwrap().as_bool().unwrap());
        let view = entry(&document, catalog, "ViewerPreferences").unwrap().as_dict().unwrap();
        assert!(view.get(b"DisplayDocTitle").unwrap().as_bool().unwrap());
    }
}

#[test]
fn nothing_is_attached_and_nothing_runs() {
    for paper in PAPERS.iter() {
        let document = paper.document();
        let catalog = document.catalog().unwrap();
        for key in ["OpenAction", "AA", "AF", "AcroForm", "Collection"] {
            assert!(!catalog.has(key.as_bytes()), "{key}");
        }
        for dictionary in dictionaries(&document) {
            for key in ["EmbeddedFiles", "EF", "JS", "JavaScript", "Launch", "URI"] {
                assert!(!dictionary.has(key.as_bytes()), "{key} in {dictionary:?}");
            }
            assert!(!matches!(
                name_of(&document, dictionary, "Type"),
                b"Filespec" | b"EmbeddedFile"
            ));
        }
        assert!(!document.is_encrypted());
    }
}

#[test]
fn every_drawing_and_picture_has_a_text_in_its_place() {
    for (name, paper) in EXAMPLES.iter().zip(PAPERS.iter()) {
        let document = paper.document();
        let spoken: Vec<String> = elements(&document, "Figure")
            .into_iter()
            .map(|figure| entry(&document, figure, "Alt").map_or_else(String::new, text_of))
            .collect();
        assert!(spoken.iter().all(|alt| !alt.trim().is_empty()), "{name}: {spoken:#?}");
        for alt in alternatives(&paper.page) {
            assert!(
                spoken.iter().any(|known| known == alt),
                "{name} has no figure that says `{alt}`"
            );
        }
    }
}

/// Every `alt` of the page data.
fn alternatives(value: &Value) -> Vec<&str> {
    match value {
        Value::Object(fields) => fields
            .iter()
            .flat_map(|(key, value)| match value {
                Value::String(alt) if key == "alt" => vec![alt.as_str()],
                value => alternatives(value),
            })
            .collect(),
        Value::Array(items) => items.iter().flat_map(alternatives).collect(),
        _ => vec![],
    }
}

#[test]
fn every_table_has_head_cells() {
    for (name, paper) in EXAMPLES.iter().zip(PAPERS.iter()) {
        let document = paper.document();
        let tables = elements(&document, "Table");
        assert!(!tables.is_empty(), "{name}");
        for table in tables {
            assert!(has_below(&document, table, b"TH"), "a table without a head in {name}");
        }
    }
}

fn has_below(document: &Document, element: &Dictionary, kind: &[u8]) -> bool {
    let Some(below) = entry(document, element, "K") else { return false };
    let children: Vec<&Object> = match below {
        Object::Array(items) => items.iter().map(|item| followed(document, item)).collect(),
        one => vec![one],
    };
    children
        .into_iter()
        .filter_map(|child| child.as_dict().ok())
        .any(|child| name_of(document, child, "S") == kind || has_below(document, child, kind))
}

#[test]
fn headings_start_at_one_and_skip_no_level() {
    for paper in PAPERS.iter() {
        let document = paper.document();
        let root = entry(&document, document.catalog().unwrap(), "StructTreeRoot")
            .unwrap()
            .as_dict()
            .unwrap();
        let mut levels = vec![];
        headings(&document, root, &mut levels);
        assert_eq!(levels.first(), Some(&1), "{levels:?}");
        assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{levels:?}");
        assert_eq!(levels.iter().filter(|level| **level == 1).count(), 10, "one for each part");
    }
}

/// Levels of all headings, in reading order.
fn headings(document: &Document, element: &Dictionary, levels: &mut Vec<u8>) {
    if let [b'H', level @ b'1'..=b'6'] = name_of(document, element, "S") {
        levels.push(level - b'0');
    }
    let below = match entry(document, element, "K") {
        Some(Object::Array(items)) => items.iter().map(|item| followed(document, item)).collect(),
        Some(one) => vec![one],
        None => vec![],
    };
    for child in below.into_iter().filter_map(|child| child.as_dict().ok()) {
        headings(document, child, levels);
    }
}

#[test]
fn every_font_is_in_the_file() {
    for paper in PAPERS.iter() {
        let document = paper.document();
        let fonts: Vec<&Dictionary> = dictionaries(&document)
            .into_iter()
            .filter(|dictionary| name_of(&document, dictionary, "Type") == b"Font")
            .collect();
        assert!(!fonts.is_empty());
        for font in fonts {
            let base = String::from_utf8_lossy(name_of(&document, font, "BaseFont")).into_owned();
            assert!(base.contains("Inter"), "a strange font: {base}");
            if name_of(&document, font, "Subtype") == b"Type0" {
                continue;
            }
            let descriptor = entry(&document, font, "FontDescriptor").unwrap().as_dict().unwrap();
            let embedded = ["FontFile", "FontFile2", "FontFile3"]
                .iter()
                .any(|key| descriptor.has(key.as_bytes()));
            assert!(embedded, "{base} is not in the file");
        }
    }
}

/// A camera writes its owner and the place into a photo; none of that may go on.
#[test]
fn photos_carry_nothing_but_the_picture() {
    for name in EXAMPLES {
        let everything = readers::everything(&temporary(&paper(name).bytes));
        for mark in [
            b"Exif\0".as_slice(),
            b"http://ns.adobe.com/xap/1.0/\0",
            b"Photoshop 3.0",
            b"GPSLatitude",
        ] {
            assert!(!everything.windows(mark.len()).any(|window| window == mark), "{name}");
        }
    }
}

#[test]
fn a_path_of_the_machine_never_gets_into_a_paper() {
    let folder = Folder::new();
    folder.run(WRITE).success();
    let everything = readers::everything(&folder.path("out").join(R1));
    let job = folder.path("job.toml");
    let folder_name = job.parent().unwrap().file_name().unwrap().to_owned();
    for place in [folder_name.as_encoded_bytes(), root().as_os_str().as_encoded_bytes()] {
        assert!(!everything.windows(place.len()).any(|window| window == place));
    }
}

#[test]
fn a_note_for_the_customer_is_printed_and_a_note_for_the_crew_is_not() {
    let folder = Folder::new().replace(
        "job.toml",
        "wishes = [",
        "notes = [\"Mind the cat flap.\"]\ncrew-notes = [\"Bring the long hose.\"]\nwishes = [",
    );
    folder.run(&["write", "job.toml", "--draft"]).success();
    let text = readers::text(&folder.path("papers/2026-0142-proposal-draft.pdf"));
    assert!(text.contains("Mind the cat flap."), "{text}");
    assert!(!text.contains("long hose"), "{text}");
}

#[test]
fn times_for_a_slab_that_is_too_cold_say_what_they_are_for() {
    let folder = Folder::new().replace("job.toml", "slab = \"62 F\"", "slab = \"47 F\"");
    folder.run(&["write", "job.toml", "--draft"]).success();
    let text = readers::text(&folder.path("papers/2026-0142-proposal-draft.pdf"));
    assert!(text.contains("if the slab is at a temperature that the data sheets cover"), "{text}");
    assert!(text.contains("colder or warmer than the data sheets cover for some coats"), "{text}");
    assert!(!text.contains("by the data sheets at this slab temperature"), "{text}");
}

#[test]
fn a_revision_number_is_used_once_even_when_a_paper_was_moved_away() {
    let folder = Folder::new();
    folder.run(&["write", "job.toml"]).success();
    let folder = folder.replace("book.toml", "wage = \"$32.00/h\"", "wage = \"$39.00/h\"");
    folder.run(&["write", "job.toml"]).success().out_has("-r2.pdf");
    fs::remove_file(folder.path("papers/2026-0142-proposal-r1.pdf")).unwrap();
    let folder = folder.replace("book.toml", "wage = \"$39.00/h\"", "wage = \"$45.00/h\"");
    folder.run(&["write", "job.toml"]).success().out_has("-r3.pdf");
    assert!(!folder.path("papers/2026-0142-proposal-r1.pdf").exists());
}

/// The page data and the text of a draft of a changed example.
#[track_caller]
fn draft_of(folder: &Folder) -> (Value, String) {
    let number =
        if folder.read("job.toml").contains("2026-0142") { "2026-0142" } else { "2026-0151" };
    folder.run(&["write", "job.toml", "--draft", "--page-data"]).success();
    let page = folder.read(&format!("papers/{number}-proposal-draft.page.json"));
    let text = readers::text(&folder.path(&format!("papers/{number}-proposal-draft.pdf")));
    (serde_json::from_str(&page).unwrap(), text)
}

#[test]
fn the_notice_leaves_its_dates_open_and_the_page_says_how_they_are_counted() {
    // Proposal of Tuesday, May 12, 2026: Wednesday, Thursday, Friday (16 CFR 429.0(f), 429.1(a)).
    let (page, text) = draft_of(&Folder::new());
    let notice = page["accept"]["cancellation"]["paragraphs"].to_string();
    assert!(!notice.contains("2026"), "{notice}");
    assert!(
        text.contains(
            "If you sign on May 12, 2026, you may cancel until midnight of May 15, 2026."
        )
    );
}

#[test]
fn an_extra_on_sale_says_what_it_brings_with_it() {
    let folder =
        Folder::of("dry-and-quick").replace("job.toml", "clear-epoxy = [\"urethane-coat\"]", "");
    let (page, _) = draft_of(&folder);
    let extras = page["plan"]["prices"][2]["extras"].to_string();
    assert!(extras.contains("makes it 3\u{a0}days on site"), "{extras}");
    assert!(extras.contains("can catch fire"), "{extras}");
}

#[test]
fn where_no_tax_is_added_no_price_is_said_to_hold_it() {
    let folder = Folder::new().replace("book.toml", "tax-on = \"price\"", "tax-on = \"nothing\"");
    let (_, text) = draft_of(&folder);
    assert!(!text.contains("with tax"), "{text}");
}

#[test]
fn both_test_methods_stand_on_page_one_and_the_tighter_one_rules() {
    let probes = "\n[moisture.probes]\nedition = 2019\nsettled = true\n".to_owned()
        + &"[[moisture.probes.probe]]\nplace = \"middle\"\ndepth = \"2 in\"\nreading = \"82 %\"\n\
            drilled = 2026-05-26T09:00:00\nread = 2026-05-28T09:00:00\ncalibrated = 2026-05-20\n\n"
            .repeat(3);
    let job =
        Folder::of("dry-and-quick").read("job.toml").replace("[air]", &format!("{probes}[air]"));
    let (page, _) = draft_of(&Folder::of("dry-and-quick").write("job.toml", job));
    let found = page["glance"]["found"][0]["value"].as_str().unwrap();
    assert!(found.contains("lb") && found.contains("82% RH"), "{found}");
    let reason = page["glance"]["reason"].as_str().unwrap();
    assert!(!reason.contains("only this one may take that"), "{reason}");
}

#[test]
fn a_thin_floor_is_not_weighed_by_moisture_alone() {
    let (page, _) = draft_of(&Folder::of("dry-and-quick"));
    let even = page["compare"]["even"].to_string();
    assert!(even.contains("fast-cure") && !even.contains("kit"), "{even}");
}
