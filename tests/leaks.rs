//! The costs of the shop never reach a customer: a job whose every inner figure has a value
//! of its own is written, and each is looked for in all that leaves the shop.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde_json::Value;
use slableaf::results::customer::CustomerForm;

use crate::documents::pdf::strings;
use crate::documents::{Paper, files, list, texts, word};
use crate::fixture::Folder;
use crate::readers;

pub const SUPPLIER: &str = "Quagmire Canary Chemicals";
pub const PHONE: &str = "CANARY-5550177";
pub const CREW_NOTE: &str = "Canary note: park behind the bakery and keep the margin to yourselves";
/// A name with a figure in it, which a customer may see everywhere: the finder has to find it.
pub const CUSTOMER: &str = "Żaneta 4,711.13 Quill";

/// Inner figures of the book, each written so that no page has a reason to show it.
const RATES: &[(&str, &str)] = &[
    ("wage = \"$32.00/h\"", "wage = \"$1,013.57/h\""),
    ("burden = \"30 %\"", "burden = \"31.79 %\""),
    ("set-up = \"1 h\"", "set-up = \"1.37 h\""),
    ("clean-up = \"45 min\"", "clean-up = \"0.837 h\""),
    ("grind = \"260 ft2/h\"", "grind = \"257.31 ft2/h\""),
    ("grind-coated = \"110 ft2/h\"", "grind-coated = \"113.17 ft2/h\""),
    ("edge = \"50 ft/h\"", "edge = \"53.29 ft/h\""),
    ("crack = \"25 ft/h\"", "crack = \"29.83 ft/h\""),
    ("roll = \"300 ft2/h\"", "roll = \"307.91 ft2/h\""),
    ("upright = \"60 ft2/h\"", "upright = \"61.37 ft2/h\""),
    ("broadcast = \"600 ft2/h\"", "broadcast = \"607.13 ft2/h\""),
    ("scrape = \"450 ft2/h\"", "scrape = \"457.39 ft2/h\""),
    ("upright-loss = \"20 %\"", "upright-loss = \"21.73 %\""),
    ("consumables = \"$0.35/ft2\"", "consumables = \"$13.57/ft2\""),
    ("per-job = \"$120.00\"", "per-job = \"$7,919.00\""),
    ("overhead = \"15 %\"", "overhead = \"17.39 %\""),
    ("margin = \"38 %\"", "margin = \"41.93 %\""),
    ("margin-floor = \"25 %\"", "margin-floor = \"41.83 %\""),
    ("minimum = \"$1,800.00\"", "minimum = \"$1,997.00\""),
    ("round-to = \"$5.00\"", "round-to = \"$97.00\""),
];

/// Items, additions and a discount, whose costs a customer must not see.
const DECIDED: &str = r#"
[choices]
color = "Slate"

[[item]]
name = "Moving the workbench"
cost = "$1,613.87"

[[item]]
name = "Cutting the threshold"
price = "$410.00"
cost = "$1,117.93"

[[addition]]
key = "grip"
name = "Grip on the steps"
cost = "$1,217.63"

[[addition]]
key = "top"
name = "A coat of urethane"
extra = "urethane-coat"

[discount]
amount = "$200.00"
reason = "Two floors in one visit"
"#;

/// The dry slab with four floors, an extra in one of them, and a book of such figures.
pub fn telling(tax_on: &str) -> Folder {
    let folder = Folder::of("dry-and-quick")
        .replace("book.toml", "tax-on = \"price\"", &format!("tax-on = \"{tax_on}\""))
        .replace(
            "job.toml",
            "name = \"The Okonjo-Lindqvist family\"",
            &format!("name = \"{CUSTOMER}\"\nphone = \"{PHONE}\""),
        )
        .replace("job.toml", "wishes =", &format!("crew-notes = [\"{CREW_NOTE}\"]\nwishes ="));
    let job = format!("{}{DECIDED}", folder.read("job.toml"));
    with_telling_book(folder.write("job.toml", job))
}

/// A garage, a patio and a basement, with such a book.
fn telling_spaces() -> Folder {
    let folder = crate::documents::spaces::plain_spaces().replace(
        "job.toml",
        "name = \"Hollis Featherbrook\"",
        &format!("name = \"{CUSTOMER}\"\nphone = \"{PHONE}\""),
    );
    let note = format!("crew-notes = [\"{CREW_NOTE}\"]\nwishes =");
    let folder = folder.replace("job.toml", "wishes =", &note);
    let job = format!("{}{DECIDED}", folder.read("job.toml"));
    with_telling_book(folder.write("job.toml", job))
}

/// A folder whose book has a value of its own for every inner figure.
fn with_telling_book(mut folder: Folder) -> Folder {
    for (old, new) in RATES {
        folder = folder.replace("book.toml", old, new);
    }
    let book = folder
        .read("book.toml")
        .replace("Invented Resins", SUPPLIER)
        .replace("Made-up Coatings", SUPPLIER)
        // Sizes and prices of kits, and what is on the shelf.
        .replace("size = \"3 gal\"", "size = \"3.19 gal\"")
        .replace("size = \"15 gal\"", "size = \"15.83 gal\"")
        .replace("size = \"2 gal\"", "size = \"2.23 gal\"")
        .replace("size = \"10 gal\"", "size = \"10.67 gal\"")
        .replace("size = \"2.5 gal\"", "size = \"2.57 gal\"")
        .replace("size = \"1 gal\"", "size = \"1.09 gal\"")
        .replace("size = \"5 gal\"", "size = \"5.39 gal\"")
        .replace("size = \"40 lb\"", "size = \"40.87 lb\"")
        .replace("price = \"$", "price = \"$8,")
        .replace("$8,1,290.00", "$12,290.00")
        .replace("$8,1,080.00", "$12,080.00")
        .replace("$8,1,170.00", "$12,170.00")
        .replace("$8,58.00", "$8,058.00")
        .replace("$8,42.00", "$8,042.00")
        .replace("$8,38.00", "$8,038.00")
        .replace("$8,64.00", "$8,064.00")
        .replace("loss = \"10 %\"", "loss = \"10.37 %\"\nstock = \"0.473 gal\"")
        .replace("loss = \"8 %\"", "loss = \"8.59 %\"\nstock = \"0.297 gal\"");
    folder.write("book.toml", book)
}

/// Numbers of a text as they stand in it: digits with their marks, whole, so that `2.06` is not
/// found in `12.06` or in `2.065`.
pub fn numbers(text: &[u8]) -> BTreeSet<String> {
    let mark = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'.' | b',');
    let runs = text.split(|byte| !mark(byte)).filter(|run| !run.is_empty());
    runs.map(|run| String::from_utf8_lossy(run).trim_matches(['.', ',']).to_owned()).collect()
}

/// The ways in which a page could write a number: as it is, grouped, to fewer decimals.
fn written(value: f64) -> BTreeSet<String> {
    let mut ways = BTreeSet::new();
    for decimals in 1..=4 {
        let plain = format!("{value:.decimals$}");
        let short = plain.trim_end_matches('0').trim_end_matches('.').to_owned();
        for text in [plain, short] {
            let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
            let digits: Vec<char> = whole.chars().collect();
            let grouped: Vec<String> =
                digits.rchunks(3).rev().map(|run| run.iter().collect()).collect();
            let dot = if part.is_empty() { "" } else { "." };
            ways.insert(format!("{}{dot}{part}", grouped.join(",")));
            ways.insert(text.clone());
        }
    }
    // Two digits say nothing: a page is full of them. A day, a door, a size of flake.
    let digits = |text: &String| {
        text.trim_start_matches(['0', '.']).chars().filter(char::is_ascii_digit).count()
    };
    ways.retain(|text| digits(text) > 2);
    ways
}

/// Figures that the shop alone may know: every figure of the estimate but prices, and the figures of the
/// book that it was made from.
pub fn inner(paper: &Paper, estimate: &str, book: &str) -> BTreeSet<String> {
    let mut values: Vec<f64> = vec![];
    for floor in list(&paper.estimate["floors"]) {
        for key in [
            "materials_cost",
            "labor_cost",
            "consumables",
            "per_job",
            "purchase_tax",
            "direct",
            "overhead",
            "cost",
            "items_cost",
            "wanted",
            "profit",
            "profit_per_crew_day",
        ] {
            values.push(word(&floor[key]).parse().unwrap());
        }
        let margin = floor["margin_share"].as_f64().unwrap();
        values.extend([margin, margin * 100.0]);
        for line in list(&floor["labor"]) {
            values.push(word(&line["cost"]).parse().unwrap());
            values.push(line["hours"].as_f64().unwrap());
        }
        values.push(floor["labor_hours"].as_f64().unwrap());
        for line in list(&floor["materials"]) {
            values.push(word(&line["cost"]).parse().unwrap());
            values.extend(amounts(&line["need"]));
            values.extend(list(&line["buy"]).iter().flat_map(|kit| amounts(&kit["size"])));
        }
        for coat in list(&floor["coats"]).iter().filter(|coat| coat["kind"] == "liquid") {
            values.extend(coat["need_litres"].as_f64());
            values.extend(coat["batches"]["batch_litres"].as_f64());
        }
        values.extend(floor["one_day"]["needs_hours"].as_f64());
    }
    let mut found: BTreeSet<String> =
        values.into_iter().filter(|value| *value != 0.0).flat_map(written).collect();
    // The shop's own view has what the result leaves out, in the words of a page: what the margin
    // asks for, gallons and pounds.
    let floors = estimate.split_once("to buy").unwrap().1;
    let ours = |line: &&str| {
        !["price ", "tax on the price", "total for", "Moving", "Cutting", "discount"]
            .iter()
            .any(|label| line.trim().starts_with(label))
    };
    let asked = floors.lines().filter(|line| line.trim().starts_with("price that"));
    for line in floors.lines().filter(ours).chain(asked) {
        found.extend(numbers(line.as_bytes()).into_iter().filter(|number| number.contains('.')));
    }
    // Of the book: everything that was given a value above.
    let given = RATES.iter().map(|(_, new)| *new);
    let kits = book.lines().filter(|line| {
        line.starts_with("kit =") || line.starts_with("loss =") || line.starts_with("stock =")
    });
    let items = DECIDED.lines().filter(|line| line.starts_with("cost ="));
    for text in given.chain(kits).chain(items) {
        for number in numbers(text.as_bytes()).into_iter().filter(|number| number.len() > 3) {
            found.extend(written(number.replace(',', "").parse().unwrap()));
        }
        if let Some(percent) = text.split('"').nth(1).and_then(|text| text.strip_suffix(" %")) {
            found.extend(written(percent.parse::<f64>().unwrap() / 100.0));
        }
    }
    found.retain(|number| number.chars().any(|c| matches!(c, '1'..='9')));
    found
}

/// Liters and kilograms of a result, and the same in gallons and pounds.
fn amounts(value: &Value) -> Vec<f64> {
    let fields = value.as_object().unwrap();
    fields
        .iter()
        .flat_map(|(key, value)| {
            let value = value.as_f64().unwrap();
            let us = if key.contains("litres") { 3.785_411_784 } else { 0.453_592_37 };
            [value, value / us]
        })
        .collect()
}

/// Everything that leaves the shop.
struct Outside {
    /// The texts: of the pages, of the file beside them, of the page data, of file names, of the
    /// results for the customer.
    texts: Vec<(&'static str, String)>,
    /// The numbers of each.
    numbers: Vec<(&'static str, BTreeSet<String>)>,
    /// All bytes of the PDF, with its streams unpacked.
    bytes: Vec<u8>,
    /// The numbers in those, also where each letter is two bytes wide.
    byte_numbers: BTreeSet<String>,
}

impl Outside {
    fn of(folder: &Folder, paper: &Paper, customer: &Value) -> Self {
        let names = files(folder, "paper");
        let pdf = names.iter().find(|name| name.ends_with(".pdf")).unwrap();
        let bytes = readers::everything(&folder.path("paper").join(pdf));
        let narrow: Vec<u8> = bytes.iter().copied().filter(|byte| *byte != 0).collect();
        let texts = vec![
            ("the pages", paper.pages.join("\n")),
            ("the texts of the PDF", strings(&paper.document())),
            ("the page data", texts(&paper.page).join("\n")),
            ("the numbers of the page data", json_numbers(&paper.page).join("\n")),
            ("the file names", names.join("\n")),
            ("the customer's results", texts(customer).join("\n")),
            ("the numbers of the customer's results", json_numbers(customer).join("\n")),
        ];
        Self {
            numbers: texts.iter().map(|(place, text)| (*place, numbers(text.as_bytes()))).collect(),
            texts,
            byte_numbers: numbers(&bytes).into_iter().chain(numbers(&narrow)).collect(),
            bytes,
        }
    }

    /// The place of a number, whole.
    fn shows_number(&self, number: &str) -> Option<&'static str> {
        self.numbers.iter().find(|(_, numbers)| numbers.contains(number)).map(|(place, _)| *place)
    }

    /// The place of a text, in any way of writing it.
    fn shows_text(&self, text: &str) -> Option<&'static str> {
        let plain = self.texts.iter().find(|(_, hay)| readers::squeezed(hay).contains(text));
        plain.map(|(place, _)| *place).or_else(|| self.bytes_have(text))
    }

    fn bytes_have(&self, text: &str) -> Option<&'static str> {
        let wide: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
        let has = |needle: &[u8]| self.bytes.windows(needle.len()).any(|window| window == needle);
        if has(text.as_bytes()) {
            Some("the bytes of the PDF")
        } else if has(&wide) {
            Some("the bytes of the PDF, as UTF-16")
        } else {
            None
        }
    }
}

/// Numbers that are no texts: positions in drawings, figures of results.
fn json_numbers(value: &Value) -> Vec<String> {
    match value {
        Value::Number(number) => vec![number.to_string()],
        Value::Array(items) => items.iter().flat_map(json_numbers).collect(),
        Value::Object(fields) => fields.values().flat_map(json_numbers).collect(),
        _ => vec![],
    }
}

struct Case {
    paper: Paper,
    outside: Outside,
    inner: BTreeSet<String>,
}

/// Tax on the price, which the customer pays.
static CASE: LazyLock<Case> = LazyLock::new(|| case("price"));

fn case(tax_on: &str) -> Case {
    let folder = telling(tax_on);
    let paper = Paper::of(&folder);
    let estimate = folder.run(&["estimate", "job.toml"]).success().stdout();
    let inner = inner(&paper, &estimate, &folder.read("book.toml"));
    let customer = folder.run(&["estimate", "job.toml", "--format", "json", "--for", "customer"]);
    let customer: Value = serde_json::from_str(&customer.success().stdout()).unwrap();
    let outside = Outside::of(&folder, &paper, &customer);
    Case { paper, outside, inner }
}

/// The spaces of a job are as silent as a job of one: costs of the whole, what each space would cost by itself.
#[test]
fn no_inner_figure_of_several_spaces_leaves_the_shop() {
    let folder = telling_spaces();
    let mut paper = Paper::of(&folder);
    let spaces = list(&paper.estimate["spaces"]).to_vec();
    let floors: Vec<Value> =
        spaces.iter().flat_map(|space| list(&space["floors"]).to_vec()).collect();
    paper.estimate["floors"] = floors.into();
    let estimate = folder.run(&["estimate", "job.toml"]).success().stdout();
    // What follows the whole has times of coats, which a page has too. A share stands in one line with what
    // the space would cost by itself.
    let (estimate, _) = estimate.split_once("\n== Garage").unwrap();
    let (shares, rest): (Vec<&str>, Vec<&str>) = estimate
        .lines()
        .partition(|line| line.starts_with("  ") && line.contains('%') && line.contains(": "));
    assert!(shares.len() >= 3, "{estimate}");
    let mut inner = inner(&paper, &rest.join("\n"), &folder.read("book.toml"));
    for share in shares {
        let alone = share.split('$').nth(1).unwrap().split_whitespace().next().unwrap();
        inner.insert(alone.to_owned());
    }
    // With the figures of three slabs on them, pages have most short numbers.
    inner.retain(|number| number.chars().filter(char::is_ascii_digit).count() > 3);
    let customer = folder.run(&["estimate", "job.toml", "--format", "json", "--for", "customer"]);
    let customer: Value = serde_json::from_str(&customer.success().stdout()).unwrap();
    let outside = Outside::of(&folder, &paper, &customer);
    assert!(inner.len() > 300, "only {} figures", inner.len());
    let leaked: Vec<String> = inner
        .iter()
        .filter_map(|number| {
            outside.shows_number(number).map(|place| format!("{number} in {place}"))
        })
        .collect();
    assert!(leaked.is_empty(), "{leaked:#?}");
    for text in [SUPPLIER, PHONE, CREW_NOTE] {
        assert_eq!(outside.shows_text(text), None, "{text}");
    }
}

#[test]
fn no_inner_figure_leaves_the_shop() {
    for case in [&*CASE, &case("purchases")] {
        assert!(case.inner.len() > 300, "only {} figures", case.inner.len());
        let leaked: Vec<String> = case
            .inner
            .iter()
            .filter_map(|number| {
                case.outside.shows_number(number).map(|place| format!("{number} in {place}"))
            })
            .collect();
        assert!(leaked.is_empty(), "{leaked:#?}");
    }
}

/// Amounts above a thousand are longer than anything that a drawing is made of, so that they can be
/// looked for in every byte.
#[test]
fn no_inner_amount_is_anywhere_in_the_file() {
    let long: Vec<&String> = CASE.inner.iter().filter(|text| text.len() >= 7).collect();
    assert!(long.len() > 100);
    for number in long {
        assert!(!CASE.outside.byte_numbers.contains(number), "{number}");
    }
}

#[test]
fn no_supplier_and_no_note_for_the_crew_leaves_the_shop() {
    let Case { outside, .. } = &*CASE;
    for text in
        [SUPPLIER, CREW_NOTE, PHONE, "Canary", "canary", "bakery", "supplier", "burden", "overhead"]
    {
        assert_eq!(outside.shows_text(text), None, "{text}");
    }
}

/// Hours that a moisture test took: its own method counts them.
const HOURS_OF_TESTS: &[&str] =
    &["exposed_hours", "waited_hours", "wait_needed_hours", "lay_hours", "lay_needed_hours"];

#[track_caller]
fn names_nothing_inner(keys: &BTreeSet<String>) {
    assert!(keys.len() > 50, "only {} keys", keys.len());
    for key in keys.iter().filter(|key| !HOURS_OF_TESTS.contains(&key.as_str())) {
        for inner in [
            "cost", "margin", "profit", "hours", "wage", "overhead", "supplier", "stock", "crew",
            "kit", "labor", "batch", "wanted",
        ] {
            assert!(!key.contains(inner), "{key}");
        }
    }
}

#[test]
fn no_key_of_the_page_data_names_what_is_inner() {
    let mut keys = BTreeSet::new();
    keys_of(&CASE.paper.page, &mut keys);
    names_nothing_inner(&keys);
}

/// Not only what one job happens to have: every field that the customer's results may ever have.
#[test]
fn no_field_of_the_customers_results_names_what_is_inner() {
    let schema = slableaf::results::schema::<CustomerForm>();
    let mut keys = BTreeSet::new();
    fields_of(schema.as_value(), &mut keys);
    names_nothing_inner(&keys);
}

/// The names of all fields that a schema lists.
fn fields_of(schema: &Value, names: &mut BTreeSet<String>) {
    match schema {
        Value::Array(items) => items.iter().for_each(|item| fields_of(item, names)),
        Value::Object(parts) => {
            if let Some(fields) = parts.get("properties").and_then(Value::as_object) {
                names.extend(fields.keys().cloned());
            }
            parts.values().for_each(|part| fields_of(part, names));
        }
        _ => {}
    }
}

/// Every key of a value, at any depth.
pub fn keys_of(value: &Value, keys: &mut BTreeSet<String>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| keys_of(item, keys)),
        Value::Object(fields) => fields.iter().for_each(|(key, value)| {
            keys.insert(key.clone());
            keys_of(value, keys);
        }),
        _ => {}
    }
}

/// Findings about the shop itself are for the shop: findings about margin, days, book, deposit.
#[test]
fn findings_for_the_shop_alone_stay_there() {
    let Case { paper, outside, .. } = &*CASE;
    let mut seen = 0;
    for finding in list(&paper.check["findings"]) {
        let check = slableaf::judge::checks::check(word(&finding["check"])).unwrap();
        if check.place == slableaf::judge::checks::FindingPlace::Shop {
            seen += 1;
            for key in ["title", "says", "we"] {
                assert_eq!(outside.shows_text(word(&finding[key])), None, "{finding}");
            }
        }
    }
    assert!(seen > 0, "{}", paper.check);
}

/// The finder finds: a planted figure in all places, prices on the pages, the shop's figures in the
/// shop's own view.
#[test]
fn the_finder_finds_what_a_customer_may_see() {
    let Case { paper, outside, inner } = &*CASE;
    let planted = "4,711.13";
    let with_names = |place: &str| place != "the file names" && !place.starts_with("the numbers");
    for (place, numbers) in outside.numbers.iter().filter(|(place, _)| with_names(place)) {
        assert!(numbers.contains(planted), "{planted} is not in {place}");
    }
    assert!(outside.byte_numbers.contains(planted));
    assert!(outside.bytes_have(CUSTOMER).is_some());
    for floor in list(&paper.estimate["floors"]) {
        assert_eq!(floor["offered"], true, "a floor that is not offered could hide its figures");
        for key in ["tax", "total"] {
            let shown = crate::documents::on_page("", word(&floor[key]));
            assert_eq!(outside.shows_number(&shown), Some("the pages"), "{key} {shown}");
            assert!(!inner.contains(&shown), "{key} {shown} is no inner figure");
        }
    }
    for known in [
        "1,013.57", "7,919.00", "31.79", "257.31", "1,997.00", "1997", "3.19", "0.473", "17.39",
        "0.4193",
    ] {
        assert!(inner.contains(known), "{known} is not looked for");
    }
    assert!(numbers(b"1 h at $2.06, and 12.06.").contains("2.06"));
    assert!(!numbers(b"12.06 and 2.065").contains("2.06"));
}

/// What the crew wrote down for the shop alone, and what went on the floor, are not in the customer's form.
#[test]
fn the_notes_of_the_crew_stay_with_the_shop() {
    let laid = "\n[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20\n\n[[laid]]\ncoat = \"barrier\"\n\
                start = 2026-05-26T10:00:00\nused = \"7.13 gal\"\nwho = \"Canary hand\"\n\
                note = \"Canary note of the coat\"\nbatches = [\"Batch 77\"]\n";
    let folder = Folder::of("two-car-barrier");
    let job = folder.read("job.toml") + laid;
    let folder = folder.write("job.toml", job);
    let form = |audience: &str| {
        let run = folder.run(&["estimate", "job.toml", "--format", "json", "--for", audience]);
        run.success().stdout()
    };
    let (shop, customer) = (form("shop"), form("customer"));
    for secret in ["Canary hand", "Canary note of the coat", "used_litres"] {
        assert!(shop.contains(secret), "{secret}");
        assert!(!customer.contains(secret), "{secret}");
    }
    assert!(customer.contains("Batch 77"));
}
