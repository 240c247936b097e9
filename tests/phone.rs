//! The edition for a telephone: the same words on narrow pages, issued with its paper, recorded, verified
//! and attached to the mail.

use std::collections::BTreeSet;
use std::fs;

use lopdf::Document;
use serde_json::Value;

use crate::documents::letters;
use crate::fixture::{EXAMPLES, Folder};
use crate::large_print::sizes;
use crate::readers;

/// 100 by 200 mm in points (72 to the inch of 25.4 mm).
const WIDTH: f64 = 100.0 / 25.4 * 72.0;
const HEIGHT: f64 = 200.0 / 25.4 * 72.0;
/// The least size of type that the design promises, in tenths of a point; margins have the size of print.
const LEAST: i64 = 105;

/// Lines of the notice, by which its page is known.
const NOTICE: &[&str] = &["HEREBYCANCEL", "PRESENTECANCELO"];

const BOTH: &[&str] = &["--paper", "proposal", "--paper", "leaflet"];

/// The Spanish example beside those in English.
fn examples() -> impl Iterator<Item = &'static str> {
    EXAMPLES.iter().copied().chain(["garaje", "three-spaces"])
}

fn number(folder: &Folder) -> String {
    let job = folder.read("job.toml");
    let line = job.lines().find(|line| line.starts_with("number = ")).unwrap();
    line.split('"').nth(1).unwrap().to_owned()
}

#[test]
fn pages_are_narrow_and_type_is_large_enough() {
    for example in examples() {
        let folder = Folder::of(example);
        folder.run(&[&["write", "job.toml", "--phone"], BOTH].concat()).success();
        for paper in ["proposal", "leaflet"] {
            let path = folder.path(&format!("papers/{}-{paper}-phone-r1.pdf", number(&folder)));
            let document = Document::load(&path).unwrap();
            let texts = readers::pages(&path);
            for (id, text) in document.get_pages().values().zip(texts) {
                let page = document.get_dictionary(*id).unwrap();
                let side = |at: usize| {
                    let sides = page.get(b"MediaBox").unwrap().as_array().unwrap();
                    f64::from(sides[at].as_float().unwrap())
                };
                // The notice of cancellation is one page, as long as it has to be.
                let notice = NOTICE.iter().any(|line| letters(&text).contains(line));
                assert!((side(2) - WIDTH).abs() < 0.1);
                assert!(notice || (side(3) - HEIGHT).abs() < 0.1, "{example} {paper}: {text}");
            }
            let small: Vec<_> =
                sizes(&path).into_iter().filter(|(size, _)| *size < LEAST).collect();
            assert!(small.is_empty(), "{example} {paper}: {small:?}");
        }
    }
}

/// Everything that the layouts are given is the same but for the drawing of the plan, and every word of the
/// printed paper stands on the narrow pages.
#[test]
fn the_words_are_those_of_the_paper_to_print() {
    for example in examples() {
        let folder = Folder::of(example);
        folder.run(&[&["write", "job.toml", "--phone", "--page-data"], BOTH].concat()).success();
        for paper in ["proposal", "leaflet"] {
            let stem = format!("papers/{}-{paper}", number(&folder));
            let data = |edition: &str| -> Value {
                let text = folder.read(&format!("{stem}{edition}-r1.page.json"));
                serde_json::from_str(&text).unwrap()
            };
            let (mut printed, mut phone) = (data(""), data("-phone"));
            assert_eq!(
                (&printed["edition"], &phone["edition"]),
                (&"usual".into(), &"phone".into())
            );
            for page in [&mut printed, &mut phone] {
                page.as_object_mut().unwrap().remove("edition");
                if paper == "proposal" {
                    page["slab"].as_object_mut().unwrap().remove("floor");
                    for space in page["spaces"].as_array_mut().unwrap() {
                        space["slab"].as_object_mut().unwrap().remove("floor");
                    }
                } else {
                    for sheet in page["more"].as_array_mut().unwrap() {
                        sheet.as_object_mut().unwrap().remove("edition");
                    }
                }
            }
            assert_eq!(printed, phone, "{example} {paper}");
            let words = |edition: &str| -> BTreeSet<String> {
                let text = readers::text(&folder.path(&format!("{stem}{edition}-r1.pdf")));
                text.split(' ')
                    .filter(|word| word.chars().all(char::is_alphabetic))
                    .map(str::to_owned)
                    .collect()
            };
            let phone = words("-phone");
            let all: BTreeSet<String> = words("");
            // What asks for a pen, and what stands on a blank back, is for paper.
            let (accept, labels) = (&printed["accept"], &printed["labels"]);
            let pen =
                [&labels["accept"]["sign"], &labels["accept"]["date"], &labels["page"]["blank"]];
            let for_paper: Vec<&Value> = if paper == "proposal" {
                let copies = accept["copies"].as_array().into_iter().flatten();
                copies.chain([&accept["intro"], &accept["back"]]).chain(pen).collect()
            } else {
                vec![]
            };
            let for_paper: Vec<&str> =
                for_paper.into_iter().flat_map(|said| said.as_str().unwrap().split(' ')).collect();
            let is_for_paper =
                |word: &&String| for_paper.iter().any(|said| letters(said).contains(*word));
            let missing: Vec<&String> =
                all.iter().filter(|word| !phone.contains(*word) && !is_for_paper(word)).collect();
            // Where parts are, in a foot, is for paper, too; a word may run on behind a line.
            assert!(missing.len() <= 9, "{example} {paper}: {missing:?}");
        }
    }
}

/// Nobody signs on a telephone: its leaf says that the paper to sign is the printed one, and asks for no signature.
/// The notice of cancellation (16 CFR 429.1 (b)) stands whole on its page.
#[test]
fn the_leaf_is_for_reading_and_the_notice_is_whole() {
    let mut notices = 0;
    for example in examples().filter(|example| *example != "too-wet-yet") {
        let folder = Folder::of(example);
        folder.run(&["write", "job.toml", "--phone", "--page-data"]).success();
        let stem = format!("papers/{}-proposal-phone-r1", number(&folder));
        let page: Value = serde_json::from_str(&folder.read(&format!("{stem}.page.json"))).unwrap();
        let accept = &page["accept"];
        let pages = readers::pages(&folder.path(&format!("{stem}.pdf")));
        let (pages, all): (Vec<String>, String) =
            (pages.iter().map(|page| letters(page)).collect(), letters(&pages.concat()));
        for said in ["intro", "back"] {
            let on_phone = letters(accept["on_phone"][said].as_str().unwrap());
            assert!(!on_phone.is_empty() && all.contains(&on_phone), "{example}: {on_phone}");
            assert!(!all.contains(&letters(accept[said].as_str().unwrap())), "{example}: {said}");
        }
        assert!(all.contains(&letters(page["labels"]["accept"]["signs"].as_str().unwrap())));
        for copy in accept["copies"].as_array().unwrap() {
            assert!(!all.contains(&letters(copy.as_str().unwrap())), "{example}: {copy}");
        }
        let Some(paragraphs) = accept["cancellation"]["paragraphs"].as_array() else { continue };
        let whole = |page: &&String| {
            paragraphs.iter().all(|one| page.contains(&letters(one.as_str().unwrap())))
        };
        assert_eq!(pages.iter().filter(whole).count(), 1, "{example}");
        notices += 1;
    }
    assert!(notices > 2, "{notices}");
}

/// Eight days on a narrow page: each has its name, however narrow it is drawn.
#[test]
fn every_day_of_the_schedule_has_its_name() {
    let folder = Folder::of("dry-and-quick");
    folder.run(&["write", "job.toml", "--phone", "--page-data"]).success();
    let stem = format!("papers/{}-proposal-phone-r1", number(&folder));
    let page: Value = serde_json::from_str(&folder.read(&format!("{stem}.page.json"))).unwrap();
    let text = letters(&readers::pages(&folder.path(&format!("{stem}.pdf"))).concat());
    let days = page["plan"]["timeline"]["ticks"].as_array().unwrap();
    assert!(days.len() > 7, "{days:?}");
    for day in days {
        let lines = day["short"].as_array().unwrap().iter();
        let name: String = lines.map(|line| line.as_str().unwrap()).collect();
        assert!(text.contains(&name), "{name}");
    }
}

#[test]
fn it_is_issued_once_with_its_paper_recorded_and_verified() {
    let folder = Folder::new();
    let line = [&["write", "job.toml", "--phone"], BOTH].concat();
    folder.run(&line).success().out_has("the same on narrow pages for a telephone");
    let bytes = folder.bytes("papers/2026-0142-proposal-phone-r1.pdf");
    let again = folder.run(&line).success().stdout();
    assert_eq!(again.matches("unchanged: ").count(), 4, "{again}");
    folder.run(&["verify", "job.toml"]).success().out_has("4 records: 4 sound");
    let record = folder.read("records/2026-0142-proposal-phone-r1/record.toml");
    assert!(record.contains("kind = \"proposal-phone\"") && record.contains("revision = 1"));

    // A copy that is lost comes back from its record.
    fs::remove_file(folder.path("papers/2026-0142-proposal-phone-r1.pdf")).unwrap();
    folder.run(&line).success();
    assert!(folder.bytes("papers/2026-0142-proposal-phone-r1.pdf") == bytes);

    // The next revision has the number of its paper, also where the one before had no such edition.
    let folder = folder.replace("job.toml", "8 Cattail Court", "9 Cattail Court");
    folder.run(&["write", "job.toml"]).success();
    let folder = folder.replace("job.toml", "9 Cattail Court", "10 Cattail Court");
    folder.run(&["write", "job.toml", "--phone"]).success();
    assert!(folder.path("papers/2026-0142-proposal-phone-r3.pdf").exists());
    assert!(!folder.path("papers/2026-0142-proposal-phone-r2.pdf").exists());
    let text = readers::text(&folder.path("papers/2026-0142-proposal-phone-r3.pdf"));
    assert!(text.contains("Revision 3"), "{text}");
    folder.run(&["verify", "job.toml"]).success();
}

#[test]
fn the_job_may_ask_for_it_and_the_care_sheet_has_none() {
    let folder = Folder::new();
    let job = format!("edition = \"phone\"\n{}", folder.read("job.toml"));
    let folder = folder.write("job.toml", job);
    folder.run(&["write", "job.toml", "--paper", "proposal", "--paper", "care"]).success();
    let names: BTreeSet<String> = fs::read_dir(folder.path("papers"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    let expected =
        ["2026-0142-care-r1.pdf", "2026-0142-proposal-phone-r1.pdf", "2026-0142-proposal-r1.pdf"];
    assert!(names.iter().eq(expected.iter()), "{names:?}");
    let draft = ["write", "job.toml", "--draft", "--out", "drafts"];
    folder.run(&draft).success().out_has("drafts/2026-0142-proposal-phone-draft.pdf");
    let alone = ["write", "job.toml", "--paper", "care", "--phone"];
    folder.run(&alone).code(2).err_has("`--phone` is for proposal and leaflet");
}

/// Asked for, or there already: both go with the mail.
#[test]
fn the_mail_attaches_both() {
    let attached = |folder: &Folder| -> Vec<String> {
        let mail = folder.bytes("papers/2026-0142-mail-r1.eml");
        let mail = mail_parser::MessageParser::default().parse(&mail).unwrap();
        use mail_parser::MimeHeaders as _;
        let names = mail.attachments().map(|part| {
            let name = part.attachment_name().unwrap().to_owned();
            assert!(part.contents() == folder.bytes(&format!("papers/{name}")), "{name}");
            name
        });
        names.collect()
    };
    let both = ["2026-0142-proposal-r1.pdf", "2026-0142-proposal-phone-r1.pdf"];
    let folder = Folder::new();
    folder.run(&["mail", "job.toml"]).success();
    assert_eq!(attached(&folder), both[..1]);
    folder.run(&["mail", "job.toml", "--phone"]).success();
    assert_eq!(attached(&folder), both);
    folder.run(&["mail", "job.toml"]).success();
    assert_eq!(attached(&folder), both);
}

/// A text as long as a file may hold runs over several narrow pages.
#[test]
fn the_longest_texts_fit() {
    let folder = Folder::new();
    let long = "A note of many words about this floor. ".repeat(95);
    let word = "w".repeat(400);
    let job = folder.read("job.toml").replacen(
        "[customer]",
        &format!("notes = [\"{long}\", \"{word}\"]\n\n[customer]"),
        1,
    );
    let folder = folder.write("job.toml", job);
    folder.run(&[&["write", "job.toml", "--phone"], BOTH].concat()).success();
}

/// What was signed is put out with its edition for a telephone, where one was issued.
#[test]
fn an_accepted_job_keeps_the_edition_that_was_issued() {
    let folder = Folder::new();
    folder.run(&["write", "job.toml", "--phone"]).success();
    let job = folder.read("job.toml");
    let accepted =
        format!("{job}\n[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20\n");
    let folder = folder.write("job.toml", accepted);
    fs::remove_file(folder.path("papers/2026-0142-proposal-phone-r1.pdf")).unwrap();
    let ran = folder.run(&["write", "job.toml", "--phone"]).success();
    ran.out_has("for a telephone: papers/2026-0142-proposal-phone-r1.pdf");
    fs::remove_dir_all(folder.path("records/2026-0142-proposal-phone-r1")).unwrap();
    let ran = folder.run(&["write", "job.toml", "--phone"]).success();
    ran.out_has("no edition for a telephone was issued of it");
}
