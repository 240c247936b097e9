//! What was issued is recorded, stays as it is, and comes through whatever ends a run early.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use serde_json::Value;

use crate::fixture::{Folder, all_files};
use crate::readers;

const WRITE: &[&str] = &["write", "job.toml"];
const VERIFY: &[&str] = &["verify", "job.toml"];
const NUMBER: &str = "2026-0170";

/// A small job: no photo, so that it is typeset in no time.
fn small() -> Folder {
    Folder::tested()
}

fn wage(folder: Folder, wage: u32) -> Folder {
    let book = folder.read("book.toml");
    let line = book.lines().find(|line| line.starts_with("wage = ")).unwrap().to_owned();
    let book = book.replacen(&line, &format!("wage = \"${wage}.00/h\""), 1);
    folder.write("book.toml", book)
}

fn paper(revision: u32) -> String {
    format!("papers/{NUMBER}-proposal-r{revision}.pdf")
}

fn record(revision: u32) -> String {
    format!("records/{NUMBER}-proposal-r{revision}")
}

/// The revisions that are recorded, and every other name in the folder but the lock.
fn recorded(folder: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder.join("records")) else { return vec![] };
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.filter(|name| !name.ends_with(".lock")).collect();
    names.sort();
    names
}

fn page_one(folder: &Folder, revision: u32) -> String {
    let text = readers::pages(&folder.path(&paper(revision))).remove(0);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

// ------------------------------------------------------------------------- what is recorded

#[test]
fn a_record_holds_what_was_read_and_what_came_out_to_the_byte() {
    let folder = Folder::new()
        .write("systems/spare.toml", fs::read("layouts/systems/barrier.toml").unwrap())
        .write("layouts/words/en/promise.toml", fs::read("layouts/words/en/promise.toml").unwrap());
    folder.run(WRITE).success();
    let record = "records/2026-0142-proposal-r1";
    for name in [
        "job.toml",
        "book.toml",
        "shop.toml",
        "logo.png",
        "photos/dome.jpg",
        "photos/crack.jpg",
        "photos/overview.jpg",
        "systems/spare.toml",
        "layouts/words/en/promise.toml",
    ] {
        assert_eq!(folder.bytes(&format!("{record}/inputs/{name}")), folder.bytes(name), "{name}");
    }
    let pdf = "2026-0142-proposal-r1.pdf";
    assert_eq!(
        folder.bytes(&format!("{record}/paper/{pdf}")),
        folder.bytes(&format!("papers/{pdf}"))
    );
    let results: Value =
        serde_json::from_str(&folder.read(&format!("{record}/results.json"))).unwrap();
    let shop = folder.run(&["estimate", "job.toml", "--format", "json"]).success().stdout();
    assert_eq!(results, serde_json::from_str::<Value>(&shop).unwrap());
    let text = folder.read(&format!("{record}/record.toml"));
    // No path of this machine.
    assert!(!text.contains(folder.path("").to_str().unwrap()), "{text}");
    let parsed: toml::Table = text.parse().unwrap();
    assert_eq!(parsed["number"].as_str(), Some("2026-0142"));
    assert_eq!(parsed["paper"]["pages"].as_integer(), Some(13));
    folder.run(VERIFY).success().out_has("1 record: 1 sound");
}

/// `sha256sum` of GNU coreutils is another reader of what a record says of its files.
#[test]
fn the_hashes_of_a_record_are_those_of_another_program() {
    let folder = small();
    folder.run(WRITE).success();
    let record = folder.path(&record(1));
    let table: toml::Table =
        fs::read_to_string(record.join("record.toml")).unwrap().parse().unwrap();
    let mut lines = String::new();
    let mut line = |leaf: &toml::Value| {
        let (path, hash) = (leaf["path"].as_str().unwrap(), leaf["sha256"].as_str().unwrap());
        lines.push_str(&format!("{hash}  {path}\n"));
    };
    line(&table["paper"]);
    line(&table["results"]);
    table["input"].as_array().unwrap().iter().for_each(&mut line);
    let mut child = Command::new("sha256sum")
        .args(["--check", "--strict", "--quiet"])
        .current_dir(record)
        .stdin(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(lines.as_bytes()).unwrap();
    assert!(child.wait().unwrap().success(), "{lines}");
}

#[test]
fn the_same_input_gives_the_same_record_wherever_it_lies() {
    let (one, other) = (small(), small());
    one.run(WRITE).success();
    other.run(&["write", "./job.toml", "--out", "elsewhere", "--records", "kept/here"]).success();
    let names = |folder: PathBuf| -> BTreeMap<PathBuf, Vec<u8>> {
        let files = all_files(&folder).into_iter();
        files.map(|(path, bytes)| (path.strip_prefix(&folder).unwrap().to_owned(), bytes)).collect()
    };
    let kept = format!("kept/here/{NUMBER}-proposal-r1");
    assert!(names(one.path(&record(1))) == names(other.path(&kept)));
}

#[test]
fn nothing_of_a_record_is_among_the_customers_papers() {
    let folder = Folder::new();
    folder
        .run(&["write", "job.toml", "--paper", "proposal", "--paper", "leaflet", "--paper", "care"])
        .success();
    let folder = wage(folder, 41);
    folder.run(WRITE).success();
    let names: Vec<String> = crate::documents::files(&folder, "papers");
    assert!(names.iter().all(|name| name.ends_with(".pdf")), "{names:?}");
    assert_eq!(names.len(), 4);
    let table: toml::Table =
        folder.read("records/2026-0142-proposal-r2/record.toml").parse().unwrap();
    let hash = table["input"][0]["sha256"].as_str().unwrap().as_bytes().to_vec();
    for (path, bytes) in all_files(&folder.path("papers")) {
        for inner in [&hash[..], b"record.toml", b"results.json", b"records/"] {
            assert!(!bytes.windows(inner.len()).any(|some| some == inner), "{}", path.display());
        }
    }
}

// -------------------------------------------------------------- unchanged, and the next revision

#[test]
fn unchanged_input_is_told_by_its_hashes_and_typesets_nothing() {
    let folder = small();
    folder.run(WRITE).success();
    let before = all_files(&folder.path("."));
    folder.run(WRITE).success().out_has(&format!("unchanged: {}", paper(1)));
    assert!(all_files(&folder.path(".")).into_iter().all(|(path, bytes)| {
        path.extension().is_some_and(|end| end == "lock") || before[&path] == bytes
    }));
}

#[test]
fn input_that_prints_the_same_is_unchanged_too() {
    let folder = small();
    folder.run(WRITE).success();
    let job = format!("# A comment changes nothing on paper.\n{}", folder.read("job.toml"));
    let folder = folder.write("job.toml", job);
    folder.run(WRITE).success().out_has("unchanged: ");
    assert_eq!(recorded(&folder.path(".")), [format!("{NUMBER}-proposal-r1")]);
}

#[track_caller]
fn says(folder: &Folder, revision: u32, sentence: &str) {
    folder.run(WRITE).success().out_has(&paper(revision));
    let page = page_one(folder, revision);
    assert!(page.contains(sentence), "{page}");
}

#[test]
fn page_one_of_a_revision_says_what_it_replaces_and_what_changed() {
    let folder = small();
    folder.run(WRITE).success();
    assert!(!page_one(&folder, 1).contains("replaces"));
    let folder = wage(folder, 41);
    let total = |revision: u32| {
        let path = format!("{}/results.json", record(revision));
        let results: Value = serde_json::from_str(&folder.read(&path)).unwrap();
        let key = results["recommended"].clone();
        let floors = results["floors"].as_array().unwrap().clone();
        let floor = floors.into_iter().find(|floor| floor["floor"] == key).unwrap();
        crate::documents::on_page("", floor["total"].as_str().unwrap())
    };
    folder.run(WRITE).success();
    says(
        &folder,
        2,
        &format!(
            "This proposal replaces revision 1 of May 12, 2026. The price of the floor we recommend \
             goes from ${} to ${}.",
            total(1),
            total(2)
        ),
    );
    // The job's date moves with it, and is the date that the next one names.
    let folder = folder.replace("job.toml", "date = 2026-05-12", "date = 2026-05-14").replace(
        "job.toml",
        "name = \"Ana Quill\"",
        "name = \"Ana Quillon\"",
    );
    says(&folder, 3, "replaces revision 2 of May 12, 2026. The name or the address has changed.");
    let folder = folder.replace("job.toml", "start = 2026-05-26", "start = 2026-06-02");
    says(&folder, 4, "replaces revision 3 of May 14, 2026. The work now starts on June 2, 2026.");
    let folder = folder.replace("job.toml", "width = \"21 ft\"", "width = \"23 ft\"");
    says(&folder, 5, "The floor area has changed.");
    let folder = folder.write(
        "layouts/words/en/promise.toml",
        fs::read_to_string("layouts/words/en/promise.toml").unwrap().replacen(
            "We ",
            "We, too, ",
            1,
        ),
    );
    says(&folder, 6, "Only the wording or the layout has changed.");
    let job = format!("print = \"large\"\n{}", folder.read("job.toml"));
    let folder = folder.write("job.toml", job);
    says(
        &folder,
        7,
        "Some details have changed. The floors on offer and their prices are as before.",
    );
    folder.run(VERIFY).success().out_has("7 records: 7 sound");
}

#[test]
fn another_reading_and_another_recommendation_are_told() {
    let folder = Folder::of("too-wet-yet");
    folder.run(WRITE).success();
    let drier = Folder::of("dry-and-quick").read("job.toml");
    let number =
        folder.read("job.toml").lines().find(|l| l.starts_with("number")).unwrap().to_owned();
    let old = drier.lines().find(|line| line.starts_with("number")).unwrap().to_owned();
    let folder = folder.write("job.toml", drier.replace(&old, &number));
    for photo in ["overview.jpg", "dome.jpg"] {
        let from = format!("examples/dry-and-quick/photos/{photo}");
        fs::copy(from, folder.path("photos").join(photo)).unwrap();
    }
    let said = folder.run(WRITE).success().stdout();
    let path = said.split_whitespace().nth(1).unwrap();
    let text = readers::pages(&folder.path(path)).remove(0);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("We can now recommend the fast-cure floor."), "{text}");
    assert!(text.contains("Also changed: ") && text.contains("the moisture readings"), "{text}");
}

#[test]
fn floors_that_come_and_go_are_named() {
    let folder = Folder::of("dry-and-quick");
    folder.run(WRITE).success();
    let job = folder.read("job.toml");
    let offer = job.lines().find(|line| line.starts_with("offer = ")).unwrap();
    let one = job.replace(offer, "offer = [\"barrier\"]");
    let folder = folder.write("job.toml", one);
    folder.run(WRITE).success();
    let page = |revision: u32| {
        let path = format!("papers/2026-0151-proposal-r{revision}.pdf");
        let text = readers::pages(&folder.path(&path)).remove(0);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let changed = "We now recommend the vapor-barrier floor; before, it was the fast-cure floor.";
    assert!(page(2).contains(changed), "{}", page(2));
    fs::write(folder.path("job.toml"), &job).unwrap();
    folder.run(WRITE).success();
    assert!(page(3).contains("We now recommend the fast-cure floor;"), "{}", page(3));
    assert!(page(3).contains("the floors on offer"), "{}", page(3));
}

#[test]
fn page_one_of_a_revision_is_one_page_in_both_languages() {
    for language in ["en", "es"] {
        let folder = Folder::new();
        let chosen = format!("language = \"{language}\"");
        let folder = folder.replace("shop.toml", "language = \"en\"", &chosen);
        let before = |revision: u32| {
            let path = format!("papers/2026-0142-proposal-r{revision}.pdf");
            readers::pages(&folder.path(&path))
        };
        folder.run(WRITE).success();
        let job = folder.read("job.toml").replace("start = 2026-05-26", "start = 2026-06-02");
        fs::write(folder.path("job.toml"), job.replace("Tannenwald", "Tannenwalder")).unwrap();
        let book = folder.read("book.toml").replace("$32.00/h", "$41.00/h");
        fs::write(folder.path("book.toml"), book).unwrap();
        folder.run(WRITE).success();
        let (first, second) = (before(1), before(2));
        assert_eq!(first.len(), second.len(), "{language}");
        let words = if language == "en" { "Also changed" } else { "También cambió" };
        assert!(second[0].contains(words), "{}", second[0]);
    }
}

#[test]
fn a_missing_copy_is_put_out_again_from_the_record() {
    let folder = small();
    folder.run(WRITE).success();
    let before = folder.bytes(&paper(1));
    fs::remove_file(folder.path(&paper(1))).unwrap();
    folder.run(WRITE).success().out_has("unchanged: ").out_has("written again from its record");
    assert!(folder.bytes(&paper(1)) == before);
}

#[test]
fn a_file_of_that_name_with_other_bytes_is_never_overwritten() {
    let folder = small().write(&paper(3), "mine");
    folder.run(WRITE).success().out_has(&paper(4));
    assert_eq!(folder.read(&paper(3)), "mine");
    let folder = folder.write(&paper(4), "scribbled over");
    folder.run(WRITE).code(5).err_has("is not what was issued").err_has("move it away");
    assert_eq!(folder.read(&paper(4)), "scribbled over");
}

#[test]
fn a_paper_from_before_there_were_records_is_recorded_as_it_is() {
    let folder = small();
    folder.run(WRITE).success();
    fs::remove_dir_all(folder.path("records")).unwrap();
    let before = folder.bytes(&paper(1));
    folder.run(WRITE).success().out_has("recorded: ");
    assert!(folder.bytes(&paper(1)) == before);
    folder.run(VERIFY).success().out_has("1 record: 1 sound");
}

#[test]
fn a_draft_records_nothing() {
    let folder = small();
    folder.run(&["write", "job.toml", "--draft"]).success();
    assert!(!folder.path("records").exists());
}

// ------------------------------------------------------------------------------- accepted

fn accepted(folder: Folder, lines: &str) -> Folder {
    let job = format!("{}\n[accepted]\n{lines}\n", folder.read("job.toml"));
    folder.write("job.toml", job)
}

const SIGNED: &str = "revision = 1\nfloor = \"barrier\"\non = 2026-05-20";

#[test]
fn an_accepted_job_stays_as_it_was_signed_whatever_book_and_layouts_say() {
    let folder = small();
    folder.run(WRITE).success();
    let signed = folder.bytes(&paper(1));
    let folder = wage(folder, 41);
    folder.run(WRITE).success().out_has(&paper(2));
    let folder = accepted(folder, SIGNED);
    let folder = wage(folder, 55).write("layouts/theme.typ", "#this is no layout");
    folder
        .run(WRITE)
        .success()
        .out_has(&format!("accepted: {} stays as it was signed", paper(1)))
        .out_has("accepted on 2026-05-20");
    fs::remove_file(folder.path(&paper(1))).unwrap();
    folder.run(WRITE).success().out_has("again, as it was signed");
    assert!(folder.bytes(&paper(1)) == signed);
    // Even without a book at all.
    fs::remove_file(folder.path("book.toml")).unwrap();
    folder.run(WRITE).success();
    assert_eq!(recorded(&folder.path(".")).len(), 2);
}

#[test]
fn a_mail_attaches_what_was_signed_and_prepare_takes_its_floor() {
    let folder = Folder::of("dry-and-quick");
    folder.run(WRITE).success().out_has("recommends fast-cure");
    let signed = folder.bytes("papers/2026-0151-proposal-r1.pdf");
    let signing = SIGNED.replace("2026-05-20", "2026-06-10");
    let folder = wage(accepted(folder, &signing), 41);
    folder.run(&["mail", "job.toml"]).success().out_has("stays as it was signed");
    let draft = folder.bytes("papers/2026-0151-mail-r1.eml");
    let mail = mail_parser::MessageParser::default().parse(&draft[..]).unwrap();
    assert!(mail.attachment(0).unwrap().contents() == signed);
    folder.run(&["prepare", "job.toml"]).success();
    let sheet = readers::text(&folder.path("shop-only/2026-0151-crew-sheet-r1.pdf"));
    assert!(sheet.to_lowercase().contains("vapor-barrier floor"), "{sheet}");
}

#[test]
fn an_accepted_revision_without_a_record_is_an_error_with_advice() {
    let folder = accepted(small(), SIGNED);
    folder.run(WRITE).code(5).err_has("there is no record of it").err_has("help: ");
    assert!(!folder.path("papers").exists());
    let folder = small();
    folder.run(WRITE).success();
    let folder = accepted(folder, &SIGNED.replace("2026-05-20", "2026-05-02"));
    folder.run(WRITE).code(2).err_has("it is of 2026-05-12, and `on` is 2026-05-02");
}

#[track_caller]
fn refuses(lines: &str, message: &str) {
    let folder = accepted(small(), lines);
    folder.run(&["check", "job.toml"]).code(2).err_has("job.toml:").err_has(message);
}

#[test]
fn a_mistake_in_accepted_is_shown_with_its_line() {
    refuses(&SIGNED.replace("\"barrier\"", "\"barier\""), "did you mean `barrier`?");
    refuses(&SIGNED.replace("\"barrier\"", "\"water-kit\""), "on offer: barrier, fast-cure");
    refuses(&SIGNED.replace("= 1", "= 0"), "`revision` is not 1 to 999");
    refuses(&SIGNED.replace("2026-05-20", "\"May\""), "`on`");
    refuses("revision = 1\nfloor = \"barrier\"", "`on` is missing");
    refuses(&format!("{SIGNED}\nby = \"Ana\""), "unknown key `by`");
}

// --------------------------------------------------------------------------------- verify

/// One byte of each kind of file, changed without changing its length.
#[test]
fn verify_finds_one_flipped_byte_in_every_file_of_a_record() {
    let folder = small();
    folder.run(WRITE).success();
    let record = record(1);
    let files: Vec<PathBuf> = all_files(&folder.path(&record)).into_keys().collect();
    assert!(files.len() >= 7, "{files:?}");
    for path in files {
        let whole = fs::read(&path).unwrap();
        for at in [0, whole.len() / 2, whole.len() - 1] {
            let mut broken = whole.clone();
            broken[at] ^= 1;
            fs::write(&path, &broken).unwrap();
            let name = path.strip_prefix(folder.path(&record)).unwrap().display().to_string();
            folder.run(&["verify", &record]).code(1).out_has("altered").out_has(&name);
        }
        fs::write(&path, whole).unwrap();
    }
    folder.run(&["verify", &record]).success();
    let copy = folder.bytes(&paper(1));
    let folder = folder.write(&paper(1), [&copy[..], b"\n"].concat());
    folder
        .run(&["verify", "records"])
        .code(1)
        .out_has("the customer's copy is not what was issued");
    let folder = folder.write(&paper(1), copy).write(&format!("{record}/inputs/more.toml"), "");
    folder.run(VERIFY).code(1).out_has("inputs/more.toml was not recorded");
}

#[test]
fn verify_tells_a_record_that_cannot_be_read() {
    let folder = small();
    folder.run(VERIFY).code(5).err_has("no record of an issued paper");
    folder.run(WRITE).success();
    let folder = wage(folder, 41);
    folder.run(WRITE).success();
    fs::remove_file(folder.path(&record(1)).join("record.toml")).unwrap();
    folder
        .run(VERIFY)
        .code(5)
        .out_has("cannot be read")
        .out_has("2 records: 1 sound, 1 cannot be read");
    folder.run(&["verify", "nowhere"]).code(5);
    fs::remove_file(folder.path(&record(2)).join("inputs/shop.toml")).unwrap();
    folder.run(&["verify", &record(2)]).code(1).out_has("inputs/shop.toml: ");
}

/// A record of another program: its own seal is right, the bytes are not what this one prints.
#[test]
fn verify_says_when_a_record_renders_otherwise_and_what_differs() {
    let folder = small();
    folder.run(WRITE).success();
    let path = format!("{}/record.toml", record(1));
    let text = folder.read(&path);
    let (body, _) = text.split_once("\n[seal]").unwrap();
    let pdf = format!("{}/paper/{NUMBER}-proposal-r1.pdf", record(1));
    let table: toml::Table = text.parse().unwrap();
    let was = table["paper"]["sha256"].as_str().unwrap();
    let other = [&folder.bytes(&pdf)[..], b"% of another program\n"].concat();
    let body = body
        .replace(was, &slableaf::issued::Hash::of(&other).0)
        .replace("program = \"", "program = \"0.0.");
    let seal = slableaf::issued::Hash::of(body.as_bytes()).0;
    let comment = text.split_once("[seal]\n").unwrap().1.lines().next().unwrap();
    let folder = folder
        .write(&pdf, &other)
        .write(&paper(1), &other)
        .write(&path, format!("{body}\n[seal]\n{comment}\nsha256 = \"{seal}\"\n"));
    folder
        .run(VERIFY)
        .code(1)
        .out_has("renders otherwise")
        .out_has("the program was 0.0.0.1.0 then")
        .out_has("built-in layouts and words are the same");
}

// ---------------------------------------------------------------------------- many at once

fn start(folder: &Folder, arguments: &[&str]) -> Child {
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

// ------------------------------------------------------------------------------ cut short

/// After whatever happened: what is recorded is whole, and the next run makes it good.
#[track_caller]
fn comes_good(folder: &Folder, before: &BTreeMap<PathBuf, Vec<u8>>) {
    for name in recorded(&folder.path(".")).iter().filter(|name| !name.starts_with('.')) {
        assert!(name.starts_with(NUMBER), "{name}");
        let path = format!("records/{name}");
        folder.run(&["verify", &path]).success();
    }
    folder.run(WRITE).success();
    for (path, bytes) in before {
        assert!(fs::read(path).unwrap() == *bytes, "{} was changed", path.display());
    }
    let left: Vec<String> =
        recorded(&folder.path(".")).into_iter().filter(|name| name.starts_with('.')).collect();
    assert!(left.is_empty(), "{left:?}");
    let papers = crate::documents::files(folder, "papers");
    assert!(papers.iter().all(|name| name.ends_with(".pdf")), "{papers:?}");
    folder.run(VERIFY).success();
    folder.run(WRITE).success().out_has("unchanged: ");
}

#[test]
fn twenty_kills_at_growing_delays_leave_the_old_record_or_the_new_one() {
    let folder = small();
    folder.run(WRITE).success();
    let before = all_files(&folder.path(&record(1)));
    let mut cut = 0;
    let mut folder = folder;
    for point in 0..20_u64 {
        folder = wage(folder, 40 + u32::try_from(point).unwrap());
        let known = recorded(&folder.path(".")).len();
        let mut child = start(&folder, WRITE);
        sleep(Duration::from_millis(3 + point * 14));
        child.kill().unwrap();
        cut += usize::from(!child.wait().unwrap().success());
        let now = recorded(&folder.path("."));
        let whole = now.iter().filter(|name| !name.starts_with('.')).count();
        assert!(whole == known || whole == known + 1, "{now:?}");
        folder.run(WRITE).success();
    }
    assert!(cut >= 5, "only {cut} runs were cut short");
    comes_good(&folder, &before);
}

/// Every state that a run can be cut short in, built by hand: each prefix of what it writes, with the
/// last file whole, half or empty; then the record without its copy; then half a copy.
#[test]
fn every_prefix_of_the_file_operations_comes_good() {
    let done = wage(small(), 41);
    done.run(WRITE).success();
    let staged = done.path(&record(1));
    let files = all_files(&staged);
    let mut states: Vec<Vec<(PathBuf, Vec<u8>)>> = vec![vec![]];
    for at in 0..files.len() {
        let mut state: Vec<(PathBuf, Vec<u8>)> = vec![];
        for (path, bytes) in files.iter().take(at + 1) {
            state.push((path.strip_prefix(&staged).unwrap().to_owned(), bytes.clone()));
        }
        let mut torn = state.clone();
        let half = torn[at].1.len() / 2;
        torn[at].1.truncate(half);
        states.extend([torn, state]);
    }
    let folder = small();
    folder.run(WRITE).success();
    let before = all_files(&folder.path(&record(1)));
    let folder = wage(folder, 41);
    let unfinished = folder.path(&format!("records/.slableaf-{NUMBER}.tmp"));
    // One record suffices: what is left behind is cleared away before anything is looked at.
    folder.run(WRITE).success();
    for state in states {
        fs::create_dir(&unfinished).unwrap();
        for (path, bytes) in state {
            let path = unfinished.join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
        }
        folder.run(WRITE).success().out_has("unchanged: ");
        assert!(!unfinished.exists());
    }
    // Renamed, and not yet copied; then with half a copy under its temporary name.
    let copy = folder.bytes(&paper(2));
    for half in [false, true] {
        fs::remove_file(folder.path(&paper(2))).unwrap();
        if half {
            let name = format!("papers/.slableaf-{NUMBER}-proposal-r2.pdf-Ab12Cd.tmp");
            fs::write(folder.path(&name), &copy[..copy.len() / 2]).unwrap();
        }
        comes_good(&folder, &before);
        assert!(folder.bytes(&paper(2)) == copy);
    }
}

// ---------------------------------------------------------- full, read-only, and leading elsewhere

/// A small file system of its own; unmounted in the end.
struct Mounted(PathBuf);

impl Mounted {
    /// `None`, loudly, where the test may not mount.
    fn new(at: PathBuf, size: &str) -> Option<Self> {
        fs::create_dir_all(&at).unwrap();
        let made = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &format!("size={size}"), "tmpfs"])
            .arg(&at)
            .stderr(Stdio::null())
            .status();
        if made.is_ok_and(|status| status.success()) {
            return Some(Self(at));
        }
        eprintln!("NOT TESTED on a file system of its own: this test may not mount one");
        None
    }

    fn read_only(&self) {
        let status =
            Command::new("mount").args(["-o", "remount,ro"]).arg(&self.0).status().unwrap();
        assert!(status.success());
    }
}

impl Drop for Mounted {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.0).status();
    }
}

#[test]
fn a_full_disk_leaves_the_old_record_and_says_so() {
    let folder = small();
    folder.run(WRITE).success();
    let before = all_files(&folder.path(&record(1)));
    let size: usize = before.values().map(Vec::len).sum();
    // Room for the first record and for most of a second one.
    let Some(disk) = Mounted::new(folder.path("disk"), &format!("{}k", size * 7 / 4 / 1024 + 24))
    else {
        return;
    };
    let write = &["write", "job.toml", "--records", "disk/records"];
    folder.run(write).success();
    let kept = all_files(&disk.0);
    let folder = wage(folder, 41);
    folder
        .run(write)
        .code(5)
        .err_has("No space left on device")
        .err_has("nothing was issued: revision 1 stands as it was");
    let now = all_files(&disk.0);
    let of_record = |files: &BTreeMap<PathBuf, Vec<u8>>| -> BTreeMap<PathBuf, Vec<u8>> {
        let lock = |path: &Path| path.extension().is_some_and(|end| end == "lock");
        files.iter().filter(|(path, _)| !lock(path)).map(|(p, b)| (p.clone(), b.clone())).collect()
    };
    assert!(of_record(&now) == of_record(&kept), "{:?}", now.keys());
    assert!(!folder.path(&paper(2)).exists());
    folder.run(&["verify", "disk/records", "--papers", "papers"]).success();
}

/// The same through a limit on the size of a file, where no file system can be mounted: the record
/// fits, the customer's copy does not, or neither does.
#[test]
fn a_file_that_cannot_grow_leaves_nothing_torn() {
    for blocks in [0, 40] {
        let folder = small();
        folder.run(WRITE).success();
        let before = all_files(&folder.path(&record(1)));
        let folder = wage(folder, 41);
        let run = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" write job.toml");
        let output = Command::new("sh")
            .args(["-c", &run, env!("CARGO_BIN_EXE_slableaf")])
            .current_dir(folder.path("."))
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(5));
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains("nothing was issued: revision 1 stands as it was"), "{said}");
        assert_eq!(recorded(&folder.path(".")), [format!("{NUMBER}-proposal-r1")]);
        comes_good(&folder, &before);
    }
}

#[test]
fn a_read_only_folder_is_told_and_stays() {
    let folder = small();
    let Some(disk) = Mounted::new(folder.path("disk"), "8m") else { return };
    let write = &["write", "job.toml", "--records", "disk/records", "--out", "disk/papers"];
    folder.run(write).success();
    let before = all_files(&disk.0);
    disk.read_only();
    folder.run(write).success().out_has("unchanged: ");
    let folder = wage(folder, 41);
    folder
        .run(write)
        .code(5)
        .err_has("Read-only file system")
        .err_has("nothing was issued: revision 1 stands as it was");
    assert!(all_files(&disk.0) == before);
    folder.run(&["verify", "disk/records"]).success();
    let fresh = &["write", "job.toml", "--records", "disk/new", "--out", "out"];
    folder.run(fresh).code(5).err_has("nothing was issued");
    assert!(!folder.path("out").exists());
    // The record can be made and the copy cannot: the new record stands, and that is said.
    let copy = &["write", "job.toml", "--out", "disk/papers"];
    folder.run(copy).code(5).err_has("is issued and stands in records/");
    assert_eq!(recorded(&folder.path(".")), [format!("{NUMBER}-proposal-r2")]);
    folder.run(&["write", "job.toml", "--out", "out"]).success().out_has("written again");
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_jobs_folder_is_refused_unless_it_was_named() {
    use std::os::unix::fs::symlink;
    let outside = tempfile::TempDir::new().unwrap();
    for name in ["records", "papers"] {
        for target in [outside.path().to_owned(), outside.path().join("nothing-there")] {
            let folder = small();
            symlink(target, folder.path(name)).unwrap();
            folder.run(WRITE).code(5).err_has(&format!("{name} is a link that leads out"));
            folder.run(&["mail", "job.toml"]).code(5).err_has("is a link that leads out");
        }
    }
    assert_eq!(fs::read_dir(outside.path()).unwrap().count(), 0);
    let folder = small();
    symlink(outside.path(), folder.path("records")).unwrap();
    folder.run(&["write", "job.toml", "--records", "records"]).success();
    assert_eq!(fs::read_dir(outside.path()).unwrap().count(), 2);
    // A lock or a record that is a link leads nowhere either.
    let folder = small();
    fs::create_dir(folder.path("records")).unwrap();
    let lock = folder.path(&format!("records/{NUMBER}.lock"));
    symlink(outside.path().join("victim"), &lock).unwrap();
    folder.run(WRITE).code(5).err_has("is no plain file");
    assert!(!outside.path().join("victim").exists());
    fs::remove_file(lock).unwrap();
    symlink(outside.path(), folder.path(&record(1))).unwrap();
    folder.run(WRITE).code(5).err_has("is a link that leads out of the records");
}

/// A record is read as a stranger's file would be.
#[test]
fn a_hostile_record_reads_nothing_outside_of_it() {
    let folder = small();
    folder.run(WRITE).success();
    let path = format!("{}/record.toml", record(1));
    let text = folder.read(&path);
    let (body, rest) = text.split_once("\n[seal]").unwrap();
    let body = body.replace("path = \"inputs/job.toml\"", "path = \"../../../job.toml\"");
    let comment = rest.lines().nth(1).unwrap();
    let seal = slableaf::issued::Hash::of(body.as_bytes()).0;
    let folder = folder.write(&path, format!("{body}\n[seal]\n{comment}\nsha256 = \"{seal}\"\n"));
    folder.run(VERIFY).code(1).out_has("leads out of the record");
}
