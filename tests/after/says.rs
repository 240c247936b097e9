//! What the papers of the time after the work say, against what was agreed and what was written down.

use super::{FAILURE, HANDOVER, laid, page};

/// The care sheet of a floor that was laid has the times of the handover, and the handover says that they count.
#[test]
fn the_care_sheet_has_the_times_of_the_work() {
    let (folder, _) = laid();
    folder.run(HANDOVER).success();
    let care = ["write", "job.toml", "--draft", "--paper", "care", "--page-data"];
    folder.run(&care).success();
    let (handover, care) = (page(&folder, "handover-r1"), page(&folder, "care-draft"));
    assert_eq!(handover["floors"][0]["times"], care["times"]);
    let says = care["message"]["says"].as_str().unwrap();
    assert!(says.contains("as on the handover") && !says.contains("If the work was delayed"));
    let note = handover["care_note"].as_str().unwrap();
    assert!(note.contains("these count"), "{note}");
}

/// Without the record of its last coat neither paper has a time.
#[test]
fn a_care_sheet_of_unknown_times_has_none() {
    let (folder, _) = laid();
    let job = folder.read("job.toml");
    let start = job.find("[[laid]]\ncoat = \"top\"").unwrap();
    let end = job.find("[handover]").unwrap();
    let folder = folder.write("job.toml", format!("{}{}", &job[..start], &job[end..]));
    let care = ["write", "job.toml", "--draft", "--paper", "care", "--page-data"];
    folder.run(&care).success();
    let care = page(&folder, "care-draft");
    assert_eq!(care["message"]["lead"], "Ask us before you use it.");
    for time in care["times"].as_array().unwrap() {
        assert_eq!(time["from"], "Not known: ask us");
    }
    let always = care["always"].to_string();
    assert!(always.contains("out until we tell you that it is hard enough"), "{always}");
}

/// The joints of the example stay open, and it has no steps: nobody signs that they are closed and even.
#[test]
fn the_list_asks_for_what_was_agreed() {
    let (folder, _) = laid();
    folder.run(HANDOVER).success();
    let list = page(&folder, "handover-r1")["walk_list"].to_string();
    assert!(list.contains("Edges are closed and even. Joints are open, as agreed."), "{list}");
    assert!(!list.contains("steps"), "{list}");
    let filled = folder.replace("job.toml", "treatment = \"honor\"", "treatment = \"fill\"");
    filled.run(HANDOVER).success();
    let list = page(&filled, "handover-r2")["walk_list"].to_string();
    assert!(list.contains("Edges and filled joints are closed and even."), "{list}");
    assert!(!list.contains("Joints are open"), "{list}");
}

/// Who is told on the handover to cut nothing is not told to cut on the sheet for a failure.
#[test]
fn each_step_of_a_failure_names_who_takes_it() {
    let (folder, _) = laid();
    folder.run(FAILURE).success();
    let sheet = page(&folder, "failure-sheet-r1");
    for step in sheet["to_do"].as_array().unwrap() {
        let (who, does) = step.as_str().unwrap().split_once(": ").unwrap();
        assert!(["You", "You and we", "We, or an expert"].contains(&who), "{step}");
        let hurts = ["cut", "tap", "open"].iter().any(|what| does.starts_with(what));
        assert!(who != "You" || !hurts, "{step}");
    }
    let always = sheet["always"].to_string();
    assert!(always.contains("Do not open one."), "{always}");
}
