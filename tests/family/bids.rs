//! The sheet on which other bids are read.

use super::{Small, shows, written};
use crate::documents::{list, texts, word};
use crate::fixture::Folder;

fn sheet(folder: &Folder, more: &[&str]) -> Small {
    written(folder, &[&["bids"], more].concat())
}

/// Ours comes first, every question has an answer of each, and all of it is printed, in every edition.
#[test]
fn every_bid_has_the_same_questions_and_ours_answers_first() {
    for (example, editions) in [
        ("dry-and-quick", &[&[][..], &["--large-print"]][..]),
        ("garaje", &[&[][..], &["--large-print"]][..]),
    ] {
        for edition in editions {
            let folder = Folder::of(example);
            let sheet = sheet(&folder, edition);
            let bids = list(&sheet.page["bids"]);
            assert!(["Ours", "La nuestra"].contains(&word(&bids[0])), "{example}");
            for row in list(&sheet.page["rows"]) {
                let answers = list(&row["answers"]);
                assert_eq!(answers.len(), bids.len(), "{example}");
                assert_eq!(answers[0]["state"], "answered", "{example}: {row}");
            }
            for text in texts(&sheet.page["rows"]).into_iter().chain(texts(&sheet.page["sums"])) {
                if !["answered", "silent", "impossible"].contains(&text) {
                    shows(&sheet, text);
                }
            }
        }
    }
}

/// One gallon at 50 % solids over 430 ft2 leaves 1604.17 x 0.5 / 430 = 1.9 mil (231 in3 to the US gallon: NIST
/// Handbook 44, appendix C); 1.5 gal at 200 ft2/gal cover 300 ft2.
#[test]
fn figures_that_cannot_all_be_right_are_shown_with_their_sum() {
    let sheet = sheet(&Folder::of("dry-and-quick"), &[]);
    let sums = texts(&sheet.page["sums"]);
    assert!(
        sums[0]
            .contains("430\u{a0}sq ft/gal at 50% solids leaves 1.9\u{a0}mils, and not 5\u{a0}mils"),
        "{sums:?}"
    );
    assert!(sums[1].contains("1.5\u{a0}gal covers 300\u{a0}sq ft"), "{sums:?}");
    assert_eq!(sums.len(), 2);
}

/// A square is filled where the row below has an answer, and the message counts the others.
#[test]
fn squares_and_message_count_the_answers_that_are_open() {
    let sheet = sheet(&Folder::of("dry-and-quick"), &[]);
    let rows = list(&sheet.page["rows"]);
    let mut open = 0;
    for (at, count) in list(&sheet.page["counts"]).iter().enumerate() {
        let answered = |row: &serde_json::Value| row["answers"][at]["state"] == "answered";
        let marks: Vec<bool> = list(&count["marks"]).iter().map(|mark| mark == true).collect();
        assert_eq!(marks, rows.iter().map(answered).collect::<Vec<_>>());
        open += if at > 0 { marks.iter().filter(|mark| !**mark).count() } else { 0 };
    }
    let lead = word(&sheet.page["message"]["lead"]);
    assert!(lead.contains(&format!("{open} answers are open")), "{lead}");
}

/// Without a measurement of ours nothing is said to be tested, and no price is made up.
#[test]
fn bids_are_read_without_any_measurement_of_ours() {
    let folder = Folder::of("smallest");
    let job = folder.read("job.toml") + "\n[[bid]]\nwarranty = \"lifetime\"\n";
    let sheet = sheet(&folder.write("job.toml", job), &[]);
    let rows = list(&sheet.page["rows"]);
    assert_eq!(word(&rows[1]["answers"][0]["text"]), "Not yet. We test before we start.");
    let silent = rows.iter().filter(|row| row["answers"][1]["state"] == "silent").count();
    assert_eq!(silent, rows.len() - 1, "all but the warranty");
    assert!(list(&sheet.page["sums"]).is_empty());
}

/// Where we offer no floor, nothing is said of one, and its squares are empty as those of a bid that is silent.
#[test]
fn without_a_floor_our_own_answers_are_open() {
    let folder = Folder::of("too-wet-yet");
    let job = folder.read("job.toml") + "\n[[bid]]\nwarranty = \"lifetime\"\n";
    let sheet = sheet(&folder.write("job.toml", job), &[]);
    let ours: Vec<_> = list(&sheet.page["rows"]).iter().map(|row| &row["answers"][0]).collect();
    let open = ours.iter().filter(|own| own["state"] == "open").count();
    assert_eq!(open, 6, "{ours:#?}");
    let nothing = ours.iter().filter(|own| word(&own["text"]) == "We offer no floor yet.").count();
    assert_eq!(nothing, 6, "{ours:#?}");
    let marks = list(&sheet.page["counts"][0]["marks"]);
    assert_eq!(marks.iter().filter(|mark| *mark == false).count(), 6);
}

#[test]
fn a_job_without_a_bid_has_no_such_sheet() {
    let run = Folder::of("metric-probes").run(&["write", "job.toml", "--draft", "--paper", "bids"]);
    assert!(run.code(2).stderr().contains("the job has no bid of another firm"));
}
