//! `new` at a real terminal: a pseudo-terminal, a script of answers, and the files that come of it.

use std::fs::{File, OpenOptions};
use std::io::{Read as _, Write as _};
use std::os::unix::ffi::OsStrExt as _;
use std::os::unix::fs::OpenOptionsExt as _;
use std::process::{Child, Command};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};

use crate::fixture::Folder;

/// Past this the program is taken to hang.
pub(super) const PATIENCE: Duration = Duration::from_secs(60);

/// The program at a terminal of its own.
pub(super) struct Terminal {
    pub(super) child: Child,
    keys: File,
    pub(super) screen: Receiver<Vec<u8>>,
    /// The text printed since the last answer, without what steers the terminal.
    pub(super) seen: String,
    pub(super) all: String,
}

impl Terminal {
    pub(super) fn run(folder: &Folder, arguments: &[&str]) -> Self {
        Self::of_width(folder, arguments, None)
    }

    /// A terminal of so many columns.
    pub(super) fn of_width(folder: &Folder, arguments: &[&str], columns: Option<u16>) -> Self {
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        let name = ptsname(&master, vec![]).unwrap();
        let path = std::path::Path::new(std::ffi::OsStr::from_bytes(name.as_bytes()));
        let no_control = OpenptFlags::NOCTTY.bits() as i32;
        let end =
            OpenOptions::new().read(true).write(true).custom_flags(no_control).open(path).unwrap();
        if let Some(columns) = columns {
            let mut sized = Command::new("stty");
            sized
                .args(["rows", "24", "cols"])
                .arg(columns.to_string())
                .stdin(end.try_clone().unwrap());
            assert!(sized.status().unwrap().success());
        }
        let child = Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .args(arguments)
            .current_dir(folder.path("."))
            .env("TERM", "xterm")
            .env("NO_COLOR", "1")
            .stdin(end.try_clone().unwrap())
            .stdout(end.try_clone().unwrap())
            .stderr(end)
            .spawn()
            .unwrap();
        let keys = File::from(master);
        let mut reader = keys.try_clone().unwrap();
        let (send, screen) = channel();
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            // The other end of a terminal that nobody holds any more gives an error.
            while let Ok(count) = reader.read(&mut bytes) {
                if count == 0 || send.send(bytes[..count].to_vec()).is_err() {
                    break;
                }
            }
        });
        Self { child, keys, screen, seen: String::new(), all: String::new() }
    }

    pub(super) fn take(&mut self, bytes: &[u8]) {
        let text = String::from_utf8_lossy(bytes).into_owned();
        self.seen.push_str(&text);
        self.all.push_str(&text);
    }

    /// Waits until a text stands on the screen.
    #[track_caller]
    pub(super) fn shows(&mut self, text: &str) {
        while !plain(&self.seen).contains(text) {
            match self.screen.recv_timeout(PATIENCE) {
                Ok(bytes) => self.take(&bytes),
                Err(why) => panic!("no `{text}` ({why}) in\n{}", plain(&self.all)),
            }
        }
    }

    pub(super) fn press(&mut self, keys: &str) {
        self.seen.clear();
        self.keys.write_all(keys.as_bytes()).unwrap();
    }

    /// Waits for a question and answers it.
    #[track_caller]
    pub(super) fn answers(&mut self, question: &str, line: &str) {
        self.press_at(question, &format!("{line}\r"));
    }

    /// Waits for a question and presses keys.
    #[track_caller]
    pub(super) fn press_at(&mut self, question: &str, keys: &str) {
        self.shows(question);
        // The prompt comes after the question, when keys are listened to.
        while !prompted(&self.seen, question) {
            match self.screen.recv_timeout(PATIENCE) {
                Ok(bytes) => self.take(&bytes),
                Err(why) => panic!("no prompt ({why}) in\n{}", plain(&self.all)),
            }
        }
        self.press(keys);
    }

    /// Waits for the end: how it ended, and everything that was printed.
    #[track_caller]
    pub(super) fn ends(mut self, code: i32) -> String {
        let since = std::time::Instant::now();
        let status = loop {
            // A program that waits for its terminal to take what it prints would wait for ever.
            if let Ok(bytes) = self.screen.recv_timeout(Duration::from_millis(20)) {
                self.take(&bytes);
            }
            match self.child.try_wait().unwrap() {
                Some(status) => break status,
                None => assert!(since.elapsed() < PATIENCE, "no end\n{}", plain(&self.all)),
            }
        };
        while let Ok(bytes) = self.screen.recv_timeout(Duration::from_millis(300)) {
            self.take(&bytes);
        }
        let all = plain(&self.all);
        assert_eq!(status.code(), Some(code), "{all}");
        all
    }
}

/// A test that fails leaves no program behind.
impl Drop for Terminal {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub(super) fn prompted(seen: &str, question: &str) -> bool {
    let seen = plain(seen);
    seen.split(question).last().is_some_and(|after| after.contains("> "))
}

/// The text that a person sees: without the sequences that steer a terminal.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '\u{1b}' if rest.peek() == Some(&'[') => {
                rest.next();
                for c in rest.by_ref() {
                    if c.is_ascii_alphabetic() {
                        break;
                    }
                }
            }
            '\r' => {}
            c => out.push(c),
        }
    }
    out
}

pub(super) fn empty() -> Folder {
    let folder = Folder::new();
    for name in ["job.toml", "book.toml", "shop.toml", "logo.png"] {
        std::fs::remove_file(folder.path(name)).unwrap();
    }
    folder
}

/// From nothing to a paper: shop file, book and job are made at the terminal alone.
#[test]
fn from_an_empty_folder_to_the_first_proposal() {
    let folder = empty();

    let mut shop = Terminal::run(&folder, &["new", "shop"]);
    shop.answers("What is your shop called?", "Invented Gray Heron Floors");
    shop.answers("What is its address?", "2 Reed Street");
    shop.answers("And the next line of it?", "");
    shop.answers("On which phone are you reached?", "555-0119");
    shop.answers("And by which e-mail address?", "marsh at floors");
    shop.shows("`email` has no `@`");
    shop.answers("And by which e-mail address?", "office@marsh.example");
    shop.answers("Which license", "done");
    let said = shop.ends(0);
    assert!(said.contains("wrote shop.toml"), "{said}");

    let mut book = Terminal::run(&folder, &["new", "book"]);
    book.answers("What do you call this price book?", "Marsh book");
    book.answers("In which currency", "");
    book.answers("From which day", "2026-05-01");
    book.answers("For how many days are they good?", "");
    book.answers("What do you pay one person", "$40/h");
    book.answers("How much do taxes", "done");
    let said = book.ends(0);
    assert!(said.contains("wrote book.toml"), "{said}");
    assert!(folder.read("book.toml").contains("wage = \"$40/h\""));

    let mut job = Terminal::run(&folder, &["new", "jobs/quill"]);
    job.answers("What is the job number?", "");
    job.answers("Which units", "us");
    job.answers("What date goes on the paper?", "2026-05-12");
    job.answers("Who is the customer?", "Ana Quil");
    job.answers("What is the address?", "back");
    job.shows("[Ana Quil] > ");
    job.answers("Who is the customer?", "Ana Quill");
    job.answers("What is the address?", "8 Cattail Court");
    job.answers("And the next line of it?", "");
    job.answers("To which e-mail address", "");
    job.answers("By which telephone number", "");
    job.answers("Who signs", "");
    job.answers("In which year was the house built?", "1994");
    job.answers("What do you call this area?", "Garage floor");
    job.answers("What shape is it?", "");
    job.answers("How long is it?", "22 ft 6 in");
    job.answers("How wide is it?", "21 ft");
    job.shows("of floor.");
    job.answers("Is there another floor area?", "");
    for question in ["stay bare", "stem wall", "steps", "corner"] {
        job.answers(question, "");
    }
    job.answers("Does the slab lie on the ground?", "");
    job.answers("How thick is the slab?", "4 psi");
    job.shows("`thickness` has the unit `psi`");
    job.answers("How thick is the slab?", "4");
    job.shows("4 in");
    job.answers("When was the concrete poured?", "1994");
    job.answers("Is there a plastic sheet", "unknown");
    job.answers("What does a drop of water do", "baeds");
    job.shows("did you mean `beads`?");
    job.answers("What does a drop of water do", "1");
    for question in ["Has oil", "white bloom"] {
        job.answers(question, "no");
    }
    for question in ["What is on the slab now?", "old floor tile glue"] {
        job.answers(question, "none");
    }
    job.answers("What else lay on the slab", "nothing");
    job.answers("pull-off test", "");
    job.answers("What lies inside the slab?", "");
    job.shows("Nobody knows what lies inside");
    job.answers("Are there cracks", "?");
    job.shows("`done` stops here");
    job.answers("Are there cracks", "done");
    job.shows("still needed before it can be written:");
    job.answers("Does daylight reach the floor?", "");
    job.answers("Do you sell at the customer’s home?", "");
    job.answers("Which floors do you offer?", "barrier, fast");
    let said = job.ends(0);
    assert!(said.contains("wrote jobs/quill/job.toml"), "{said}");
    assert!(said.contains("slableaf check jobs/quill/job.toml"), "{said}");

    let text = folder.read("jobs/quill/job.toml");
    assert!(text.contains("name = \"Ana Quill\""), "{text}");
    assert!(text.contains("offer = [\"barrier\", \"fast-cure\"]"), "{text}");
    assert!(text.contains("water-drop = \"soaks-in\""), "{text}");
    // No test was made, so each floor waits for one.
    folder.run(&["check", "jobs/quill/job.toml"]).code(1).out_has("moisture-unknown");
    folder
        .run(&["write", "jobs/quill/job.toml"])
        .success()
        .out_has("the floor that comes first waits");
}

/// A mistake that only the whole file shows is told at the end, and its questions are asked again.
#[test]
fn going_back_and_problems_of_the_whole_file_are_mended_before_it_is_written() {
    let folder = empty();
    let mut job = Terminal::run(&folder, &["new"]);
    for line in ["", "", ""] {
        job.answers("?", line);
    }
    job.answers("Who is the customer?", "Ana Quill");
    job.answers("What is the address?", "done");
    job.answers("How long is it?", "22 ft");
    job.answers("How wide is it?", "back");
    job.answers("How long is it?", "");
    job.answers("How wide is it?", "20 ft");
    job.answers("Does the slab lie on the ground?", "yes");
    for question in ["Does daylight", "Do you sell"] {
        job.answers(question, "yes");
    }
    job.answers("Which floors", "back");
    job.answers("Do you sell", "no");
    job.answers("Which floors", "");
    let said = job.ends(0);
    assert!(said.contains("wrote job.toml"), "{said}");
    let text = folder.read("job.toml");
    assert!(text.contains("sold-at-home = false"), "{text}");

    let mut job = Terminal::run(&folder, &["new", "second.toml"]);
    for line in ["", "", ""] {
        job.answers("?", line);
    }
    for (question, line) in [
        ("Who is", "Ana Quill"),
        ("address?", ""),
        ("e-mail", ""),
        ("phone", ""),
        ("Who signs", ""),
    ] {
        job.answers(question, line);
    }
    job.answers("In which year", "");
    for (question, line) in
        [("What do you call", ""), ("What shape", ""), ("How long", "22 ft"), ("How wide", "20 ft")]
    {
        job.answers(question, line);
    }
    job.answers("Is there another floor area?", "");
    job.answers("stay bare", "yes");
    for (question, line) in
        [("What is it?", "Pad"), ("What shape", ""), ("How long", "22 ft"), ("How wide", "20 ft")]
    {
        job.answers(question, line);
    }
    job.answers("Where on the plan", "done");
    for question in ["Does the slab lie", "Does daylight", "Do you sell"] {
        job.answers(question, "yes");
    }
    job.answers("Which floors", "");
    job.shows("`cutout` takes away the whole floor");
    job.answers("Back to: What is it?", "");
    for (question, line) in [("What is it?", ""), ("How long", "3 ft"), ("How wide", "2 ft")] {
        job.answers(question, line);
    }
    let said = job.ends(0);
    assert!(said.contains("wrote second.toml"), "{said}");
    assert!(folder.read("second.toml").contains("length = \"3 ft\"\nwidth = \"2 ft\""));
}

#[test]
fn keys_that_mend_a_line_do_so() {
    let folder = empty();
    let mut job = Terminal::run(&folder, &["new"]);
    job.answers("What is the job number?", "");
    job.answers("Which units", "");
    job.answers("What date goes on the paper?", "");
    // Left, left, and a letter between; then a backspace at the end.
    job.answers("Who is the customer?", "Ana Qull\u{1b}[D\u{1b}[Di\u{5}x\u{7f}");
    job.answers("What is the address?", "");
    job.press_at("To which e-mail address", "\u{3}");
    job.shows("Ctrl-C once more stops without a file.");
    job.press_at("To which e-mail address", "\u{3}");
    let said = job.ends(2);
    assert!(said.contains("stopped; job.toml was not written"), "{said}");
    assert!(said.contains("next: `slableaf new` begins again"), "{said}");
    assert!(!said.contains("mend that"), "{said}");
    assert!(!folder.path("job.toml").exists());
}

/// One Ctrl-C loses nothing: the same question stands, and an answer after it starts anew.
#[test]
fn ctrl_c_stops_only_when_it_is_pressed_twice_in_a_row() {
    let folder = empty();
    let mut shop = Terminal::run(&folder, &["new", "shop"]);
    shop.answers("What is your shop called?", "Invented Gray Heron Floors");
    shop.press_at("What is its address?", "\u{3}");
    shop.shows("`done` writes what there is. Ctrl-C once more stops without a file.");
    shop.answers("What is its address?", "2 Reed Street");
    shop.press_at("And the next line of it?", "\u{3}");
    shop.answers("And the next line of it?", "done");
    let said = shop.ends(0);
    assert!(folder.read("shop.toml").contains("address = [\"2 Reed Street\"]"), "{said}");
}

/// At the end of the input what is there is written, when it is enough.
#[test]
fn the_end_of_the_input_writes_what_is_enough() {
    let folder = empty();
    let mut shop = Terminal::run(&folder, &["new", "shop"]);
    shop.answers("What is your shop called?", "Invented Gray Heron Floors");
    shop.press_at("What is its address?", "\u{4}");
    let said = shop.ends(0);
    assert!(said.contains("wrote shop.toml"), "{said}");
    assert!(folder.read("shop.toml").contains("name = \"Invented Gray Heron Floors\""));
    let left = std::fs::read_dir(folder.path(".")).unwrap().filter(|entry| {
        let name = entry.as_ref().unwrap().file_name();
        name.to_string_lossy().starts_with(".slableaf")
    });
    assert_eq!(left.count(), 0);
}

#[test]
fn too_little_is_not_written_when_one_breaks_off() {
    let folder = empty();
    let mut job = Terminal::run(&folder, &["new"]);
    job.shows("There is no book.toml here or above: `slableaf new book` starts one.");
    job.press_at("What is the job number?", "\u{4}");
    let said = job.ends(2);
    assert!(said.contains("- The customer: Who is the customer?"), "{said}");
    assert!(said.contains("the input ended; job.toml was not written"), "{said}");
    assert!(said.contains("`slableaf new` begins again"), "{said}");
    assert!(!folder.path("job.toml").exists());
}

/// Before the first question it is tried whether the file can be written; that leaves no trace.
#[test]
fn a_folder_that_cannot_be_is_told_before_the_first_question() {
    let folder = empty().write("notes", "a file, and no folder\n");
    let job = Terminal::run(&folder, &["new", "notes/visit"]);
    let said = job.ends(5);
    assert!(said.contains("cannot write notes/visit/job.toml"), "{said}");
    assert!(!said.contains("What number"), "{said}");

    let mut job = Terminal::run(&folder, &["new", "jobs/far/away"]);
    job.shows("What is the job number?");
    assert!(!folder.path("jobs").exists());
    job.press_at("What is the job number?", "\u{3}");
    job.press_at("What is the job number?", "\u{3}");
    job.ends(2);
    assert!(!folder.path("jobs").exists());
}

/// Typed text is never lost: another path, or the text itself.
#[test]
fn a_file_that_cannot_be_written_at_the_end_goes_elsewhere_or_is_shown() {
    for (path, code) in [("elsewhere/shop.toml", 0), ("", 5)] {
        let folder = empty();
        let mut shop = Terminal::run(&folder, &["new", "shop", "own/shop.toml"]);
        shop.answers("What is your shop called?", "Invented Gray Heron Floors");
        shop.shows("What is its address?");
        // The answer so far is kept there; now nothing can be.
        std::fs::remove_dir_all(folder.path("own")).unwrap();
        let folder = folder.write("own", "no folder\n");
        shop.answers("What is its address?", "done");
        shop.shows("cannot write own");
        shop.answers("Where else shall it go?", path);
        let said = shop.ends(code);
        match code {
            0 => assert!(
                folder
                    .read("elsewhere/shop.toml")
                    .contains("name = \"Invented Gray Heron Floors\"")
            ),
            _ => assert!(said.contains("name = \"Invented Gray Heron Floors\""), "{said}"),
        }
    }
}

/// No line is wider than a narrow terminal, so no word is cut in two.
#[test]
fn lines_follow_the_width_of_the_terminal() {
    let folder = empty();
    let mut job = Terminal::of_width(&folder, &["new"], Some(40));
    job.answers("What is the job number?", "?");
    job.answers("What is the job number?", "");
    job.answers("Which units", "banana");
    job.shows("or a word of the list");
    job.press_at("Which units", "\u{3}");
    job.press_at("Which units", "\u{3}");
    let said = job.ends(2);
    let asked = said.split("error: ").next().unwrap();
    for line in asked.lines() {
        assert!(line.chars().count() <= 40, "`{line}`");
    }
}

#[test]
fn a_file_that_appears_meanwhile_is_left_alone() {
    let folder = empty();
    let mut shop = Terminal::run(&folder, &["new", "shop"]);
    shop.answers("What is your shop called?", "Invented Gray Heron Floors");
    shop.shows("What is its address?");
    let folder = folder.write("shop.toml", "name = \"Another\"\n");
    shop.answers("What is its address?", "done");
    shop.shows("is there already");
    shop.answers("Where else shall it go?", "own.toml");
    let said = shop.ends(0);
    assert!(said.contains("wrote own.toml"), "{said}");
    assert!(folder.read("own.toml").contains("Invented Gray Heron Floors"));
    assert_eq!(folder.read("shop.toml"), "name = \"Another\"\n");
}
