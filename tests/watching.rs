//! `write --watch`: a draft again on every save, the last good one kept.

use std::io::{BufRead, BufReader, Read};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use crate::fixture::{Folder, root};

/// A run that watches; it ends with the test.
struct Watching {
    child: Child,
    said: Receiver<String>,
    complained: Receiver<String>,
}

/// Far longer than any machine needs: a test that waits for it has failed.
const LONGEST: Duration = Duration::from_secs(120);

impl Watching {
    fn start(folder: &Folder, arguments: &[&str]) -> Self {
        Self::start_at(folder, "job.toml", arguments)
    }

    fn start_at(folder: &Folder, job: &str, arguments: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .args(["write", job, "--watch"])
            .args(arguments)
            .current_dir(folder.path(""))
            .env("NO_COLOR", "1")
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let said = lines(child.stdout.take().unwrap());
        let complained = lines(child.stderr.take().unwrap());
        Self { child, said, complained }
    }

    /// The next line of results that holds a text; lines before it are passed over.
    #[track_caller]
    fn says(&self, text: &str) -> String {
        next(&self.said, text)
    }

    /// The same of what is wrong.
    #[track_caller]
    fn complains(&self, text: &str) -> String {
        next(&self.complained, text)
    }
}

/// The lines of a pipe, as they come.
fn lines(pipe: impl Read + Send + 'static) -> Receiver<String> {
    let (sender, lines) = channel();
    std::thread::spawn(move || {
        for line in BufReader::new(pipe).lines().map_while(Result::ok) {
            let _ = sender.send(line);
        }
    });
    lines
}

#[track_caller]
fn next(lines: &Receiver<String>, text: &str) -> String {
    let mut passed = vec![];
    loop {
        match lines.recv_timeout(LONGEST) {
            Ok(line) if line.contains(text) => return line,
            Ok(line) => passed.push(line),
            Err(_) => panic!("no `{text}` in\n{}", passed.join("\n")),
        }
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

const DRAFT: &str = "papers/2026-0142-proposal-draft.pdf";

/// Saves as many editors do: under another name, then renamed.
fn save(folder: &Folder, name: &str, text: &str) {
    let other = folder.path(&format!("{name}~"));
    std::fs::write(&other, text).unwrap();
    std::fs::rename(other, folder.path(name)).unwrap();
}

#[track_caller]
fn edit(folder: &Folder, name: &str, from: &str, to: &str) {
    let text = folder.read(name);
    assert!(text.contains(from), "`{from}` in {name}");
    save(folder, name, &text.replacen(from, to, 1));
}

#[test]
fn each_save_renews_the_draft_and_says_what_changed() {
    let folder = Folder::new();
    let run = Watching::start(&folder, &[]);
    run.says("recommends barrier, $5,410.20");
    run.says("watching");
    let first = folder.bytes(DRAFT);

    // The price that the book asks moves the price that the paper asks.
    edit(&folder, "book.toml", "$276.00", "$290.00");
    let line = run.says("written again");
    assert_eq!(line, "proposal written again: barrier $5,410.20 to $5,495.40 (+$85.20)");
    let dearer = folder.bytes(DRAFT);
    assert_ne!(first, dearer);

    // A finding comes and goes.
    edit(&folder, "job.toml", "salts = true", "salts = false");
    let line = run.says("written again");
    assert!(
        line.ends_with("gone: caution salts (barrier, fast-cure, clear-epoxy, water-kit)"),
        "{line}"
    );
    edit(&folder, "job.toml", "salts = false", "salts = true");
    let line = run.says("written again");
    assert!(line.contains("new: caution salts ("), "{line}");

    // A broken file: what is wrong is shown, and the last good draft stays to the byte.
    let good = folder.bytes(DRAFT);
    edit(&folder, "job.toml", "units = \"us\"", "unitz = \"us\"");
    run.complains("did you mean `units`?");
    run.says("the draft of the last good save stays");
    assert_eq!(folder.bytes(DRAFT), good);
    edit(&folder, "job.toml", "unitz", "units");
    assert_eq!(run.says("written again"), "proposal written again: price and findings unchanged");
    // Nothing was issued.
    assert!(!folder.path("records").exists());
}

#[test]
fn words_layouts_and_photos_count_too() {
    let folder = Folder::new();
    let run = Watching::start(&folder, &[]);
    run.says("watching");
    let before = folder.bytes(DRAFT);

    // A folder that was not there when the run began.
    folder.run(&["layouts", "--copy", "layouts", "words/en/labels.toml", "theme.typ"]).success();
    run.says("written again");
    let words = "layouts/words/en/labels.toml";
    edit(&folder, words, "\"What decided it\"", "\"What settled it\"");
    // The two files of the new folder may have been noticed one after the other.
    run.says("written again");
    if folder.bytes(DRAFT) == before {
        run.says("written again");
    }
    let worded = folder.bytes(DRAFT);
    assert!(before != worded, "the words changed and the draft did not");

    // A layout that cannot be printed is shown with its place.
    let theme = folder.read("layouts/theme.typ");
    save(&folder, "layouts/theme.typ", &format!("{theme}\n#let broken = \n"));
    run.complains("theme.typ");
    run.says("the draft of the last good save stays");
    assert_eq!(folder.bytes(DRAFT), worded);
    save(&folder, "layouts/theme.typ", &theme);
    run.says("written again");

    let photo = std::fs::read_dir(folder.path("photos")).unwrap().next().unwrap().unwrap().path();
    std::fs::copy(root().join("examples/logo.png"), &photo).unwrap();
    run.says("written again");
    assert_ne!(folder.bytes(DRAFT), worded);
}

/// A run that starts with a broken file shows what is wrong, and makes the first draft when it is mended.
#[test]
fn a_run_may_begin_with_a_broken_file() {
    let folder = Folder::new().replace("job.toml", "units = \"us\"", "units = \"feet\"");
    let run = Watching::start(&folder, &["--paper", "leaflet", "--paper", "care"]);
    run.complains("`units` is `feet`");
    run.says("no draft yet");
    run.says("watching");
    edit(&folder, "job.toml", "\"feet\"", "\"us\"");
    run.says("wrote papers/2026-0142-leaflet-draft.pdf");
    run.says("wrote papers/2026-0142-care-draft.pdf");
}

/// The process that sets a shop's own layouts may be ended by whoever cleans up: the next draft has
/// another one.
#[cfg(target_os = "linux")]
#[test]
fn a_process_apart_that_was_ended_is_started_again() {
    let theme = std::fs::read(root().join("layouts/theme.typ")).unwrap();
    let folder = Folder::new().write("layouts/theme.typ", theme);
    let run = Watching::start(&folder, &[]);
    run.says("watching");
    let process = run.child.id();
    let tasks = std::fs::read_dir(format!("/proc/{process}/task")).unwrap();
    let mut ended = 0;
    for task in tasks {
        let children = std::fs::read_to_string(task.unwrap().path().join("children"));
        for child in children.unwrap_or_default().split_whitespace() {
            assert!(Command::new("kill").args(["-9", child]).status().unwrap().success());
            ended += 1;
        }
    }
    assert_eq!(ended, 1);
    edit(&folder, "job.toml", "Rosa and", "Rosalind and");
    run.says("proposal written again");
}

#[test]
fn the_one_job_of_a_folder_is_watched() {
    let folder = Folder::new();
    let run = Watching::start_at(&folder, ".", &[]);
    run.says("watching");
    edit(&folder, "job.toml", "Rosa", "Rosalind");
    run.says("proposal written again");
    assert!(folder.path(DRAFT).exists());
}

#[test]
fn one_job_is_watched_and_it_must_be_there() {
    let folder = Folder::new();
    // A folder with one job stands for it; with two it does not say which.
    let job = folder.read("job.toml");
    let folder = folder.write("other/job.toml", job);
    folder
        .run(&["write", ".", "--watch"])
        .code(2)
        .err_has("`--watch` is for one job at a time, and . holds 2");
    folder.run(&["write", "job.toml", "other", "--watch"]).code(2).err_has("one job at a time");
    folder
        .run(&["write", "no.toml", "--watch"])
        .code(2)
        .err_has("next: `slableaf new no.toml` starts a job file");
}
