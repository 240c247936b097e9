//! Many jobs in one run: the same papers as one by one, a broken job stops no other, a run that was
//! broken off is taken up, and parts of a list are all of it.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use crate::fixture::{Folder, Ran};

/// A shop with some small jobs, each in a folder of its own and each different.
fn shop(count: usize) -> Folder {
    let mut folder = Folder::of("smallest");
    let job = folder.read("job.toml");
    let number = job.lines().find(|line| line.starts_with("number = ")).unwrap().to_owned();
    for at in 1..=count {
        let job = job.replace(&number, &format!("number = \"B-{at:03}\""));
        let job = job.replace("Ana Quill", &format!("{at} Quill"));
        folder = folder.write(&format!("jobs/{at:03}/job.toml"), job);
    }
    fs::remove_file(folder.path("job.toml")).unwrap();
    folder
}

/// Every issued paper and record below the jobs, by its path.
fn issued(folder: &Folder) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut todo = vec![folder.path("jobs")];
    while let Some(at) = todo.pop() {
        for entry in fs::read_dir(&at).unwrap().map(Result::unwrap) {
            let path = entry.path();
            if path.is_dir() {
                todo.push(path);
            } else if path
                .components()
                .any(|part| part.as_os_str() == "papers" || part.as_os_str() == "records")
            {
                let name = path.strip_prefix(folder.path("jobs")).unwrap().display().to_string();
                // A lock names a process.
                if !name.ends_with(".lock") {
                    found.insert(name, fs::read(&path).unwrap());
                }
            }
        }
    }
    found
}

fn papers(folder: &Folder) -> usize {
    issued(folder).keys().filter(|name| name.contains("/papers/")).count()
}

#[test]
fn a_batch_is_its_jobs_one_by_one_to_the_byte() {
    let (together, apart) = (shop(7), shop(7));
    for jobs in ["1", "2", "5"] {
        together.run(&["write", "jobs", "--jobs", jobs]).success().out_has(if jobs == "1" {
            "7 jobs: 7 written, 0 unchanged, 0 not written"
        } else {
            "7 jobs: 0 written, 7 unchanged, 0 not written"
        });
    }
    for at in 1..=7 {
        apart.run(&["write", &format!("jobs/{at:03}/job.toml")]).success();
    }
    let (together, apart) = (issued(&together), issued(&apart));
    assert_eq!(together.keys().collect::<Vec<_>>(), apart.keys().collect::<Vec<_>>());
    for (name, bytes) in &together {
        assert!(*bytes == apart[name], "{name}");
    }
}

#[test]
fn what_the_jobs_say_stands_in_their_order() {
    let said = shop(9).run(&["write", "jobs", "--jobs", "4"]).success().stdout();
    let written: Vec<&str> = said.lines().filter(|line| line.starts_with("wrote ")).collect();
    let mut sorted = written.clone();
    sorted.sort_unstable();
    assert_eq!(written.len(), 9);
    assert_eq!(written, sorted);
    // A pipe gets no running count.
    assert!(!said.contains(" of 9"));
}

#[test]
fn one_broken_job_stops_no_other() {
    let folder = shop(4).write("jobs/002/job.toml", "number = \"B-002\"\n[customer\n");
    let ran = folder.run(&["write", "jobs"]).code(3);
    ran.out_has("4 jobs: 3 written, 0 unchanged, 1 not written")
        .err_has("jobs/002/job.toml: not written")
        .err_has("jobs/002/job.toml:2:");
    assert_eq!(papers(&folder), 3);
}

#[test]
fn two_jobs_under_one_number_do_not_write_over_each_other() {
    let folder = shop(2);
    let job = folder.read("jobs/001/job.toml");
    let folder = folder.write("jobs/001/twin.toml", job.replace("1 Quill", "Other Quill"));
    folder
        .run(&["write", "jobs"])
        .code(3)
        .err_has("jobs/001/twin.toml has the number of jobs/001/job.toml: neither was written")
        .err_has("jobs/001/job.toml has the number of jobs/001/twin.toml: neither was written")
        .out_has("3 jobs: 1 written, 0 unchanged, 2 not written");
    // With one folder for all, jobs of different folders lie beside each other too.
    let folder = shop(2);
    let job = folder.read("jobs/002/job.toml").replace("B-002", "B-001");
    let folder = folder.write("jobs/002/job.toml", job);
    folder.run(&["write", "jobs"]).success();
    folder
        .run(&["write", "jobs", "--out", "all"])
        .code(3)
        .err_has("jobs/002/job.toml has the number");
}

#[test]
fn parts_of_a_list_are_all_of_it_and_none_twice() {
    let (whole, parts) = (shop(7), shop(7));
    whole.run(&["write", "jobs"]).success();
    let mut sum = 0;
    for part in ["1/3", "2/3", "3/3"] {
        parts
            .run(&["write", "jobs", "--part", part])
            .success()
            .out_has(", 0 unchanged, 0 not written");
        let now = papers(&parts);
        assert!((2..=3).contains(&(now - sum)), "{part}: {now}");
        sum = now;
    }
    assert_eq!(issued(&whole), issued(&parts));
    for wrong in ["0/3", "4/3", "3", "1/0", "a/b"] {
        parts.run(&["write", "jobs", "--part", wrong]).code(2).err_has("for example `3/16`");
    }
}

#[track_caller]
fn with_list(folder: &Folder, arguments: &[&str], list: &str) -> Ran {
    let mut child = start(folder, arguments, Stdio::piped());
    child.stdin.take().unwrap().write_all(list.as_bytes()).unwrap();
    Ran::of(child.wait_with_output().unwrap())
}

fn start(folder: &Folder, arguments: &[&str], stdin: Stdio) -> Child {
    Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(arguments)
        .current_dir(folder.path(""))
        .env("NO_COLOR", "1")
        .stdin(stdin)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

#[test]
fn a_list_of_jobs_comes_on_standard_input() {
    let folder = shop(4);
    with_list(&folder, &["write", "-"], "jobs/003/job.toml\n\njobs/001\njobs/003/job.toml\n")
        .success()
        .out_has("2 jobs: 2 written");
    assert_eq!(papers(&folder), 2);
    with_list(&folder, &["write", "-"], "jobs/009/job.toml\njobs/002\n")
        .code(3)
        .out_has("1 written, 0 unchanged, 1 not");
    with_list(&folder, &["write", "-"], "\n").code(2).err_has("there is no job to work on");
}

#[test]
fn an_empty_folder_is_told() {
    shop(0)
        .write("jobs/notes.txt", "none")
        .run(&["write", "jobs"])
        .code(2)
        .err_has("there is no job to work on");
}

/// Finished jobs are left alone, a torn one is made whole, and the rest is done.
#[test]
fn a_run_that_was_killed_is_taken_up_by_running_it_again() {
    let (broken_off, whole) = (shop(12), shop(12));
    whole.run(&["write", "jobs"]).success();
    for wait in [150, 300, 450] {
        let mut child = start(&broken_off, &["write", "jobs"], Stdio::null());
        std::thread::sleep(Duration::from_millis(wait));
        child.kill().unwrap();
        child.wait().unwrap();
    }
    broken_off.run(&["write", "jobs"]).success().out_has(" 0 not written");
    assert_eq!(issued(&broken_off), issued(&whole));
}

#[test]
fn a_folder_with_one_job_is_a_batch_of_one() {
    shop(1)
        .run(&["write", "jobs"])
        .success()
        .out_has("1 job: 1 written, 0 unchanged, 0 not written");
}

/// `reprice` takes the same lists and parts, and several jobs at a time print the same list.
#[test]
fn a_list_of_jobs_is_repriced_in_parts_and_as_a_whole() {
    let folder = shop(5);
    let book = folder.read("book.toml").replace("margin = \"38 %\"", "margin = \"40 %\"");
    let folder = folder.write("new.toml", book);
    let dry = ["--book", "new.toml", "--on", "2026-05-20", "--dry-run", "--format", "csv"];
    let rows = |arguments: &[&str]| -> Vec<String> {
        let said = folder.run(&[&["reprice"], arguments, &dry].concat()).success().stdout();
        said.lines().skip(1).map(str::to_owned).collect()
    };
    let whole = rows(&["jobs"]);
    assert!(whole.len() >= 5 && whole.iter().any(|row| row.contains("B-003")), "{whole:?}");
    assert_eq!(rows(&["jobs", "--jobs", "1"]), whole);
    assert_eq!(rows(&["jobs", "--jobs", "4"]), whole);
    let mut parts = [rows(&["jobs", "--part", "1/2"]), rows(&["jobs", "--part", "2/2"])].concat();
    parts.sort();
    let mut sorted = whole.clone();
    sorted.sort();
    assert_eq!(parts, sorted);
    let named = rows(&["jobs/002/job.toml", "jobs/004"]);
    assert!(named.iter().all(|row| row.contains("B-002") || row.contains("B-004")), "{named:?}");
}

#[test]
fn repricing_writes_with_several_hands_what_it_writes_with_one() {
    let made = |jobs: &str| {
        let folder = shop(4);
        folder.run(&["write", "jobs"]).success();
        let book = folder.read("book.toml").replace("margin = \"38 %\"", "margin = \"40 %\"");
        let folder = folder.write("book.toml", book);
        folder
            .run(&["reprice", "jobs", "--on", "2026-05-20", "--jobs", jobs])
            .success()
            .out_has("4 papers written");
        issued(&folder)
    };
    let (one, many) = (made("1"), made("4"));
    assert!(one.keys().any(|name| name.ends_with("B-003-proposal-r2.pdf")), "{:?}", one.keys());
    assert_eq!(one, many);
}
