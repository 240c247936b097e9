//! PDFs as other programs read them.

use super::files::{R1, WRITE};
use super::pages::temporary;
use super::{PAPERS, paper};
use crate::fixture::*;
use crate::readers;
use lopdf::{Dictionary, Document, Object};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;

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
        assert!(!tables.is_empty() || paper.page["plan"].is_null(), "{name}");
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
        assert!(levels.iter().filter(|level| **level == 1).count() >= 4, "one for each part");
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
            let ours = ["Inter", "NotoSerif"].iter().any(|face| base.contains(face));
            assert!(ours, "a strange font: {base}");
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
    let folder = folder.replace("book.toml", "wage = \"$32.00/h\"", "wage = \"$29.00/h\"");
    folder.run(&["write", "job.toml"]).success().out_has("-r2.pdf");
    fs::remove_file(folder.path("papers/2026-0142-proposal-r1.pdf")).unwrap();
    let folder = folder.replace("book.toml", "wage = \"$29.00/h\"", "wage = \"$25.00/h\"");
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
            "If you sign on May 12, 2026, you may cancel until midnight on May 15, 2026."
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
    let bars = page["glance"]["bars"].to_string();
    assert!(bars.contains("lb\"") && bars.contains("82% RH"), "{bars}");
    let reason = page["glance"]["reason"].as_str().unwrap();
    assert!(!reason.contains("only this one may take that"), "{reason}");
}

#[test]
fn a_thin_floor_is_not_weighed_by_moisture_alone() {
    let (page, _) = draft_of(&Folder::of("dry-and-quick"));
    let even = page["compare"]["even"].to_string();
    assert!(even.contains("fast-cure") && !even.contains("kit"), "{even}");
}
