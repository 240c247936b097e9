//! `verify`.

use super::{NUMBER, VERIFY, WRITE, paper, record, small, wage};
use crate::fixture::all_files;
use std::fs::{self};
use std::path::PathBuf;

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
