//! Records that were changed by someone who can seal them anew, exchanged or taken away.

use super::{NUMBER, VERIFY, WRITE, paper, record, sealed_anew, small, wage};
use crate::fixture::Folder;
use std::fs;
use std::process::Command;

/// A job with three revisions of its proposal and one of its leaflet.
fn issued() -> Folder {
    let mut folder = small();
    folder.run(WRITE).success();
    for wages in [41, 42] {
        folder = wage(folder, wages);
        folder.run(WRITE).success();
    }
    folder.run(&["write", "job.toml", "--paper", "leaflet"]).success();
    folder.run(VERIFY).success().out_has("4 records: 4 sound");
    folder
}

/// The hash of all records that `verify` prints.
fn hash_of_all(folder: &Folder, path: &str) -> String {
    let said = folder.run(&["verify", path]).success().stdout();
    let line = said.lines().find_map(|line| line.strip_prefix("hash of all: ")).unwrap();
    line.to_owned()
}

#[test]
fn figures_that_were_changed_and_sealed_again_are_told() {
    let folder = small();
    folder.run(WRITE).success();
    let text = folder.read(&format!("{}/record.toml", record(1)));
    let table: toml::Table = text.parse().unwrap();
    let total = table["facts"]["floor"][0]["total"].as_integer().unwrap();
    let results = folder.read(&format!("{}/results.json", record(1)));
    type Edit = Box<dyn Fn(&str) -> String>;
    let changes: [(&str, Edit); 5] = [
        (
            "facts is not",
            Box::new(move |b: &str| b.replacen(&format!("total = {total}"), "total = 1", 1)),
        ),
        ("date is not", Box::new(|b| b.replacen("date = 2026-05-12", "date = 2026-05-11", 1))),
        ("number of pages is not", Box::new(|b| b.replacen("pages = ", "pages = 1", 1))),
        ("facts is not", Box::new(|b| b.replacen("Quill", "Quilt", 1))),
        (
            "render to other bytes",
            Box::new(|b| b.replacen("large-print = false", "large-print = true", 1)),
        ),
    ];
    let mut folder = folder;
    for (told, change) in changes {
        folder = sealed_anew(folder, &record(1), change);
        folder.run(VERIFY).code(1).out_has(told);
        folder = folder.write(&format!("{}/record.toml", record(1)), &text);
    }
    // A price in the results, with its hash in the record.
    let path = format!("{}/results.json", record(1));
    let changed = results.replacen("true", "false", 1);
    assert_ne!(changed, results);
    let folder = sealed_anew(folder, &record(1), |body| {
        let hash = |text: &str| slableaf::issued::Hash::of(text.as_bytes()).0;
        body.replace(&hash(&results), &hash(&changed))
    });
    let folder = folder.write(&path, &changed);
    folder
        .run(VERIFY)
        .code(1)
        .out_has("altered")
        .out_has(
            "results is not what the recorded inputs give: changed since, unless another build",
        )
        .out_has("of program 0.1.0 worked it out");
}

/// Figures may be others in another version: that is said, and nobody is called a forger for it.
#[test]
fn a_record_of_another_program_is_not_called_altered_for_its_figures() {
    let folder = small();
    folder.run(WRITE).success();
    let folder = sealed_anew(folder, &record(1), |body| {
        let body = body.replacen("program = \"", "program = \"0.0.", 1);
        let at = body.find("total = ").unwrap();
        format!("{}total = 1{}", &body[..at], &body[at + "total = ".len()..])
    });
    let said = folder.run(VERIFY).code(1).out_has("not compared").stdout();
    assert!(said.contains("facts is of another version"), "{said}");
    assert!(said.contains("the program was 0.0.0.1.0 then"), "{said}");
    assert!(!said.contains("altered"), "{said}");
}

/// Each record names those before it, whatever paper they are of.
#[test]
fn a_record_names_the_hash_of_the_one_before() {
    let folder = issued();
    let follows = |name: &str| -> Vec<(String, String)> {
        let text = folder.read(&format!("records/{NUMBER}-{name}/record.toml"));
        let table: toml::Table = text.parse().unwrap();
        let follows = table.get("follows").and_then(toml::Value::as_array).cloned();
        let text = |one: &toml::Value, key: &str| one[key].as_str().unwrap().to_owned();
        let pair = |one: &toml::Value| (text(one, "record"), text(one, "sha256"));
        follows.unwrap_or_default().iter().map(pair).collect()
    };
    let hash = |name: &str| {
        let file = folder.path(&format!("records/{NUMBER}-{name}/record.toml"));
        let output = Command::new("sha256sum").arg(file).output().unwrap();
        String::from_utf8(output.stdout).unwrap()[..64].to_owned()
    };
    assert_eq!(follows("proposal-r1"), []);
    for (name, before) in [
        ("proposal-r2", "proposal-r1"),
        ("proposal-r3", "proposal-r2"),
        ("leaflet-r1", "proposal-r3"),
    ] {
        assert_eq!(follows(name), [(format!("{NUMBER}-{before}"), hash(before))]);
    }
}

#[test]
fn a_record_that_was_taken_away_is_named() {
    for (gone, by) in [("proposal-r1", "proposal-r2"), ("proposal-r3", "leaflet-r1")] {
        let folder = issued();
        fs::remove_dir_all(folder.path(&format!("records/{NUMBER}-{gone}"))).unwrap();
        for path in ["job.toml", "records", "."] {
            folder
                .run(&["verify", path])
                .code(1)
                .out_has("4 records: 3 sound, 1 missing")
                .out_has(&format!(
                    "missing            {}records/{NUMBER}-{gone}",
                    if path == "." { "./" } else { "" }
                ))
                .out_has(&format!("{NUMBER}-{by} was issued after it"));
        }
    }
}

/// A promise that is lost cannot be kept by the program: whoever issues the next paper is told.
#[test]
fn a_new_revision_tells_of_records_that_are_missing() {
    let folder = issued();
    fs::remove_dir_all(folder.path(&record(1))).unwrap();
    let folder = wage(folder, 43);
    folder
        .run(WRITE)
        .success()
        .err_has(&format!("warning: the record {NUMBER}-proposal-r1 is missing"))
        .err_has("this paper was not held against it");
    let folder = issued();
    let folder = wage(folder, 43);
    assert!(!folder.run(WRITE).success().stderr().contains("is missing"));
}

/// A number that was used is not used again, also where nothing but what came after tells of it.
#[test]
fn the_number_of_a_revision_that_is_gone_is_not_used_again() {
    let folder = issued();
    fs::remove_dir_all(folder.path(&record(3))).unwrap();
    fs::remove_file(folder.path(&paper(3))).unwrap();
    let folder = wage(folder, 43);
    folder
        .run(WRITE)
        .success()
        .err_has(&format!("warning: the record {NUMBER}-proposal-r3 is missing"));
    assert!(folder.path(&record(4)).exists() && !folder.path(&record(3)).exists());
    folder.run(VERIFY).code(1).out_has("5 records: 4 sound, 1 missing");
}

/// A record that was moved to an archive is there when the archive is asked, too.
#[test]
fn a_record_in_an_archive_is_not_missing() {
    let folder = issued();
    fs::create_dir_all(folder.path("archive/records")).unwrap();
    let name = format!("{NUMBER}-proposal-r1");
    let archived = format!("archive/records/{name}");
    fs::rename(folder.path(&record(1)), folder.path(&archived)).unwrap();
    folder.run(&["verify", "records"]).code(1).out_has("1 missing");
    let papers = ["--papers", "papers"];
    folder.run(&[&["verify", "."][..], &papers].concat()).success().out_has("4 records: 4 sound");
    folder
        .run(&[&["verify", "records", "archive/records"][..], &papers].concat())
        .success()
        .out_has("4 records: 4 sound");
    // Another one under its name is none.
    let folder = sealed_anew(folder, &archived, |body| body.replacen("Written once", "Written", 1));
    folder.run(&[&["verify", "."][..], &papers].concat()).code(1).out_has("1 missing");
}

/// Records from before there was a chain: the revision that they replace is named all the same.
#[test]
fn a_record_without_a_chain_is_read_and_begins_one() {
    let folder = small();
    folder.run(WRITE).success();
    let folder = wage(folder, 41);
    folder.run(WRITE).success();
    let folder = sealed_anew(folder, &record(2), |body| {
        body.split("[[follows]]").next().unwrap().to_owned()
    });
    folder.run(VERIFY).success().out_has("2 records: 2 sound");
    let folder = wage(folder, 42);
    folder.run(WRITE).success();
    let text = folder.read(&format!("{}/record.toml", record(3)));
    // Nothing follows either of them: both are named.
    assert_eq!(text.matches("[[follows]]").count(), 2, "{text}");
    folder.run(VERIFY).success().out_has("3 records: 3 sound");
    fs::remove_dir_all(folder.path(&record(3))).unwrap();
    fs::remove_dir_all(folder.path(&record(1))).unwrap();
    folder.run(VERIFY).code(1).out_has("2 records: 1 sound, 1 missing");
}

#[test]
fn a_record_that_was_exchanged_is_told_by_the_next() {
    let folder = issued();
    let other = small();
    let other = wage(other, 77);
    other.run(WRITE).success();
    // Whole, sound in itself, and another than the one that was issued.
    for (path, bytes) in crate::fixture::all_files(&other.path(&record(1))) {
        let inside = path.strip_prefix(other.path(".")).unwrap();
        fs::write(folder.path(inside.to_str().unwrap()), bytes).unwrap();
    }
    let folder = folder.write(&paper(1), other.bytes(&paper(1)));
    folder
        .run(VERIFY)
        .code(1)
        .out_has("4 records: 3 sound, 1 altered")
        .out_has(&format!("record.toml is not the one that {NUMBER}-proposal-r2 was issued after"));
    // Alone it is asked of itself only.
    folder.run(&["verify", &record(1)]).success();
}

/// The hash is that of the lines of GNU `sha256sum`, so that a shop can make it without us.
#[test]
fn one_hash_stands_for_all_records() {
    let folder = issued();
    let hash = hash_of_all(&folder, "records");
    let lines = "cd records && LC_ALL=C sha256sum */record.toml | sha256sum";
    let output =
        Command::new("sh").args(["-c", lines]).current_dir(folder.path(".")).output().unwrap();
    assert_eq!(String::from_utf8(output.stdout).unwrap()[..64], hash);
    assert_eq!(hash_of_all(&folder, "job.toml"), hash);
    let expect = |hash: &str| ["verify", "records", "--expect", hash].map(str::to_owned);
    let run = |hash: &str| folder.run(&expect(hash).each_ref().map(String::as_str));
    let kept = "as it was kept; no record file was added, changed or taken away";
    run(&hash).success().out_has(kept);
    run(&hash.to_uppercase()).success();
    run("4711").code(2).err_has("64 letters and digits");
    let overlapping = folder.run(&["verify", "records", ".", &record(1)]).success();
    overlapping.out_has("4 records: 4 sound").out_has(&format!("hash of all: {hash}"));
    // The hash is of the record files; what they list is held against them.
    let results = format!("{}/results.json", record(1));
    let text = folder.read(&results) + " ";
    let folder = folder.write(&results, text);
    folder
        .run(&["verify", "records", "--expect", &hash])
        .code(1)
        .out_has("1 altered")
        .out_has(kept);
    // What was not searched may hold a record.
    let folder = issued();
    let all = hash_of_all(&folder, ".");
    let deep = vec!["d"; 40].join("/");
    fs::create_dir_all(folder.path(&deep)).unwrap();
    let said = folder.run(&["verify", "."]).code(5).err_has("deeper than 32 folders");
    assert!(!said.stdout().contains("hash of all"));
    folder.run(&["verify", ".", "--expect", &all]).code(5).err_has("there is no hash of all");
    let run = |hash: &str| folder.run(&expect(hash).each_ref().map(String::as_str));
    // The latest record taken away: its seal is gone with it, the hash is not.
    fs::remove_dir_all(folder.path(&format!("records/{NUMBER}-leaflet-r1"))).unwrap();
    folder.run(&["verify", "records"]).success();
    run(&hash).code(1).out_has("not the one that was kept");
}

#[test]
fn a_folder_of_jobs_is_verified_as_a_whole() {
    let small = small();
    let (job, mut folder) = (small.read("job.toml"), Folder::of("smallest"));
    fs::remove_file(folder.path("job.toml")).unwrap();
    for name in ["a", "b/c"] {
        let job = job.replace(NUMBER, &format!("N-{}", name.len()));
        folder = folder.write(&format!("jobs/{name}/job.toml"), job);
    }
    folder.run(&["write", "jobs"]).success();
    let hash = hash_of_all(&folder, "jobs");
    folder.run(&["verify", "jobs"]).success().out_has("2 records: 2 sound");
    folder.run(&["verify", "jobs/a"]).success().out_has("1 record: 1 sound");
    folder.run(&["verify", "jobs/a", "jobs/b"]).success().out_has("2 records: 2 sound");
    folder.run(&["verify", "jobs", "--expect", &hash]).success();
    fs::remove_file(folder.path("jobs/b/c/records/N-3-proposal-r1/record.toml")).unwrap();
    folder.run(&["verify", "jobs"]).code(5).out_has("2 records: 1 sound, 1 cannot be read");
    folder.run(&["verify", "jobs", "--expect", &hash]).code(5).err_has("no hash of all");
}

#[test]
fn a_file_in_the_place_of_a_record_is_told() {
    let folder = small();
    folder.run(WRITE).success();
    let folder = folder.write(&record(2), "no folder");
    for path in ["job.toml", "records", "."] {
        folder
            .run(&["verify", path])
            .code(5)
            .out_has("it is not the folder of a record")
            .out_has("2 records: 1 sound, 1 cannot be read");
    }
    // `write` sends there, and now one sees why.
    folder.run(WRITE).code(5).err_has("`slableaf verify` says more");
}

#[cfg(unix)]
#[test]
fn a_copy_that_is_a_link_to_a_device_is_told() {
    for target in ["/dev/zero", "/nowhere/at/all"] {
        let folder = small();
        folder.run(WRITE).success();
        fs::remove_file(folder.path(&paper(1))).unwrap();
        std::os::unix::fs::symlink(target, folder.path(&paper(1))).unwrap();
        folder.run(VERIFY).code(1).out_has("the customer's copy cannot be read");
    }
    // No copy at all is no fault: the record is what counts, and `write` puts it out again.
    let folder = small();
    folder.run(WRITE).success();
    fs::remove_file(folder.path(&paper(1))).unwrap();
    folder.run(VERIFY).success();
}

/// Two jobs in one folder of records, the number of one beginning like that of the other.
#[test]
fn chains_of_two_jobs_are_apart() {
    let folder = small();
    let job = folder.read("job.toml");
    let folder = folder.write("other.toml", job.replace(NUMBER, &format!("{NUMBER}-proposal")));
    for job in ["job.toml", "other.toml", "job.toml"] {
        folder.run(&["write", job]).success();
    }
    let folder = wage(folder, 41);
    for job in ["job.toml", "other.toml"] {
        folder.run(&["write", job]).success();
    }
    let follows = |name: &str| {
        let text = folder.read(&format!("records/{name}/record.toml"));
        let lines = text.lines().filter_map(|line| line.strip_prefix("record = "));
        lines.map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(follows(&format!("{NUMBER}-proposal-r2")), [format!("\"{NUMBER}-proposal-r1\"")]);
    let other = format!("{NUMBER}-proposal-proposal");
    assert_eq!(follows(&format!("{other}-r2")), [format!("\"{other}-r1\"")]);
    folder.run(&["verify", "records"]).success().out_has("4 records: 4 sound");
    folder.run(&["verify", "other.toml"]).success().out_has("2 records: 2 sound");
}

/// What lies too deep is told, and what was found is verified all the same.
#[test]
fn a_folder_that_is_too_deep_is_told() {
    let folder = small();
    folder.run(WRITE).success();
    let deep = vec!["d"; 33].join("/");
    fs::create_dir_all(folder.path(&deep)).unwrap();
    folder
        .run(&["verify", "."])
        .code(5)
        .err_has("it lies deeper than 32 folders")
        .out_has("1 record: 1 sound");
}
