//! Several runs at once.

use super::{NUMBER, VERIFY, WRITE, recorded, small};
use crate::fixture::Folder;
use std::fs::{self, File};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

pub fn start(folder: &Folder, arguments: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(arguments)
        .current_dir(folder.path("."))
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

#[test]
fn eight_processes_at_once_issue_eight_revisions_or_one() {
    let mut folder = small();
    let book = folder.read("book.toml");
    let books: Vec<String> = (0..8).map(|n| format!("book-{n}.toml")).collect();
    for (n, name) in books.iter().enumerate() {
        folder = folder.write(name, book.replace("$32.00/h", &format!("${}.00/h", 33 + n)));
    }
    let all = |run: &dyn Fn(&str) -> Child| {
        let children: Vec<Child> = books.iter().map(|book| run(book)).collect();
        for mut child in children {
            assert!(child.wait().unwrap().success());
        }
    };
    all(&|_| start(&folder, WRITE));
    assert_eq!(recorded(&folder.path(".")).len(), 1);
    all(&|book| start(&folder, &["write", "job.toml", "--book", book]));
    let expected: Vec<String> = (1..=9).map(|n| format!("{NUMBER}-proposal-r{n}")).collect();
    assert_eq!(recorded(&folder.path(".")), expected);
    assert_eq!(crate::documents::files(&folder, "papers").len(), 9);
    folder.run(VERIFY).success().out_has("9 records: 9 sound");
}

#[test]
fn a_run_waits_for_another_and_says_for_whom() {
    let folder = small();
    fs::create_dir(folder.path("records")).unwrap();
    let mut lock = File::create(folder.path(&format!("records/{NUMBER}.lock"))).unwrap();
    lock.lock().unwrap();
    writeln!(lock, "process 4711").unwrap();
    let child = start(&folder, WRITE);
    sleep(Duration::from_millis(2600));
    lock.unlock().unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    let said = String::from_utf8(output.stderr).unwrap();
    // What follows is that the paper of the example is dated long ago.
    let first = said.lines().next().unwrap_or_default();
    assert_eq!(first, format!("waiting for process 4711, which holds job {NUMBER}"));
}

/// What was read before it waited may be old by then: another run may have issued what is newer.
#[test]
fn a_run_that_waited_issues_nothing_that_is_old() {
    for changed in ["job.toml", "book.toml", "shop.toml"] {
        let folder = small();
        fs::create_dir(folder.path("records")).unwrap();
        let lock = File::create(folder.path(&format!("records/{NUMBER}.lock"))).unwrap();
        lock.lock().unwrap();
        let mut child = start(&folder, WRITE);
        let mut said = BufReader::new(child.stderr.take().unwrap());
        let mut line = String::new();
        said.read_line(&mut line).unwrap();
        assert!(line.starts_with("waiting for another process"), "{line}");
        let text = folder.read(changed) + "\n# Changed.\n";
        let folder = folder.write(changed, text);
        lock.unlock().unwrap();
        let mut rest = String::new();
        said.read_to_string(&mut rest).unwrap();
        assert_eq!(child.wait().unwrap().code(), Some(5));
        assert!(rest.contains(&format!("{changed} was changed while this ran")), "{rest}");
        assert!(recorded(&folder.path(".")).is_empty());
        folder.run(WRITE).success();
    }
}

#[test]
#[ignore = "waits for half a minute"]
fn a_run_gives_up_after_half_a_minute_and_says_who_holds_the_job() {
    let folder = small();
    fs::create_dir(folder.path("records")).unwrap();
    let mut lock = File::create(folder.path(&format!("records/{NUMBER}.lock"))).unwrap();
    lock.lock().unwrap();
    writeln!(lock, "process 4711").unwrap();
    folder.run(WRITE).code(5).err_has("is held by process 4711").err_has("nothing was issued");
}
