//! Files that are broken as files: whatever their kind, they are refused with a message, and what a
//! phone or an editor makes of a good file is read.

use std::process::{Command, Stdio};

use super::bench::{FULL, NAMES};
use super::ends_well;
use crate::fixture::{Folder, Ran};

/// Every kind of text file that is read, and a verb that reads it.
const KINDS: &[&str] = &[
    "job.toml",
    "book.toml",
    "shop.toml",
    "systems/own.toml",
    "layouts/words/en/pages.toml",
    "layouts/words/en/promise.toml",
    "layouts/theme.typ",
    "layouts/mail.html",
];

fn folder() -> Folder {
    let mut folder = Folder::of("dry-and-quick");
    for (name, text) in NAMES.iter().zip(FULL) {
        folder = folder.write(name, text.split("[accepted]").next().unwrap());
    }
    folder.run(&["layouts", "--copy", "layouts"]).success();
    std::fs::remove_dir_all(folder.path("layouts/systems")).unwrap();
    folder
}

fn check(folder: &Folder) -> Ran {
    ends_well(folder.run(&["check", "job.toml"]))
}

/// Changes of the bytes of a file, and whether it is still one.
type Harm = (&'static str, fn(&[u8]) -> Vec<u8>);

const BREAKING: &[Harm] = &[
    ("a megabyte and a byte", |text| [text, &vec![b'#'; 1_048_577 - text.len()]].concat()),
    ("UTF-16, little end first", |text| utf16(text, u16::to_le_bytes)),
    ("UTF-16, big end first", |text| utf16(text, u16::to_be_bytes)),
    ("bytes that are no UTF-8", |text| [text, b"# \xFF\xFE\n"].concat()),
    ("half a letter at the end", |text| [text, b"# \xE2\x82"].concat()),
];

/// The same for what is TOML.
const BREAKING_TOML: &[Harm] = &[
    ("a zero byte", |text| [b"x = \"\0\"\n", text].concat()),
    ("nothing but zero bytes", |_| vec![0; 4096]),
    ("100,000 brackets", |text| [b"x = ", "[".repeat(100_000).as_bytes(), b"\n", text].concat()),
    ("100,000 braces", |text| [b"x = ", "{a=".repeat(100_000).as_bytes(), b"\n", text].concat()),
    ("100,000 dots", |text| [b"a", ".a".repeat(100_000).as_bytes(), b" = 1\n", text].concat()),
    ("a line of 900,000 bytes", |text| {
        [b"x = \"", "y".repeat(900_000).as_bytes(), b"\"\n", text].concat()
    }),
    ("a comment without end", |text| [b"#".repeat(900_000).as_slice(), b"\n\"", text].concat()),
    ("100,000 keys", |text| {
        [(0..100_000).map(|n| format!("k{n}=1\n")).collect::<String>().as_bytes(), text].concat()
    }),
    ("a key that stands twice", |text| [b"name = \"a\"\nname = \"b\"\n", text].concat()),
    ("a text without its end", |text| [text, b"\nx = \"\"\"open\n"].concat()),
    ("curly quotes", |text| [b"x = \xE2\x80\x9Cy\xE2\x80\x9D\n", text].concat()),
    ("returns without line feeds", |text| {
        String::from_utf8_lossy(text).replace('\n', "\r").into_bytes()
    }),
    ("a date that does not exist", |text| [b"x = 2026-02-30\n", text].concat()),
    ("HTML", |_| b"<!DOCTYPE html><html></html>".to_vec()),
    ("JSON", |_| b"{\"number\": \"1\"}".to_vec()),
    ("a ZIP archive", |_| b"PK\x03\x04\x14\x00\x00\x00".to_vec()),
];

fn utf16(text: &[u8], bytes: fn(u16) -> [u8; 2]) -> Vec<u8> {
    std::str::from_utf8(text).unwrap().encode_utf16().flat_map(bytes).collect()
}

#[test]
fn a_file_that_is_broken_is_refused_whatever_its_kind() {
    let whole = folder();
    assert!(!check(&whole).stderr().contains("error"));
    let mut tried = 0;
    for kind in KINDS {
        let text = whole.bytes(kind);
        let harms = BREAKING.iter().chain(if kind.ends_with("toml") { BREAKING_TOML } else { &[] });
        for (what, harm) in harms {
            std::fs::write(whole.path(kind), harm(&text)).unwrap();
            let ran = ends_well(whole.run(&["check", "job.toml"]));
            let told = ran.stderr();
            let name = kind.rsplit('/').next().unwrap();
            assert!(told.contains("error: ") && told.contains(name), "{kind}, {what}: {told}");
            ran.code(2);
            assert!(told.len() < 60_000, "{kind}, {what}: {} bytes are printed", told.len());
            tried += 1;
        }
        std::fs::write(whole.path(kind), text).unwrap();
    }
    assert_eq!(tried, KINDS.len() * BREAKING.len() + 6 * BREAKING_TOML.len());
    assert!(!check(&whole).stderr().contains("error"), "the folder is as it was");
}

/// A byte order mark and the line ends of another system say nothing.
#[test]
fn what_an_editor_adds_changes_nothing() {
    let whole = folder();
    let before = check(&whole).stdout();
    for kind in KINDS {
        let text = whole.read(kind);
        let lines = text.replace('\n', "\r\n");
        for other in [
            format!("\u{FEFF}{text}"),
            lines.clone(),
            format!("\u{FEFF}{lines}"),
            format!("{text}\n\n\n"),
        ] {
            std::fs::write(whole.path(kind), other).unwrap();
            assert_eq!(check(&whole).stdout(), before, "{kind}");
        }
        std::fs::write(whole.path(kind), text).unwrap();
    }
}

/// A whole file of one mistake ends with few words, and says what to write.
#[test]
fn curly_quotes_are_told_with_what_to_write() {
    let folder = folder();
    let job = folder
        .read("job.toml")
        .replace("number = \"2026-0199\"", "number = \u{201C}2026-0199\u{201D}");
    folder
        .write("job.toml", job)
        .run(&["check", "job.toml"])
        .code(2)
        .err_has("error: not TOML: ")
        .err_has("write straight quotes, `\"`");
}

/// Lengths as a phone writes them, and what is read: as a length of the same job written plainly.
#[test]
fn what_a_phone_types_is_read_or_refused_with_what_to_write() {
    let length = |text: &str| {
        let folder = folder();
        let job =
            folder.read("job.toml").replace("length = \"54 ft\"", &format!("length = \"{text}\""));
        let ran = ends_well(
            folder.write("job.toml", job).run(&["estimate", "job.toml", "--format", "json"]),
        );
        (ran.stdout(), ran.stderr())
    };
    for (plain, typed) in [
        (
            "22 ft 6 in",
            vec![
                "22\u{2019} 6\u{201D}",
                "22\u{2032} 6\u{2033}",
                "22\u{2018}6\u{201C}",
                "22\u{A0}ft\u{A0}6\u{A0}in",
                "22\u{202F}ft 6\u{2009}in",
                "22\u{3000}ft 6 in",
                "22 ft 6\u{2003}in",
            ],
        ),
        (
            "22 ft 6 1/2 in",
            vec![
                "22 ft 6\u{BD} in",
                "22 ft 6 \u{BD} in",
                "22\u{2019} 6\u{BD}\u{201D}",
                "22 ft 6 1\u{2044}2 in",
            ],
        ),
        ("1/4 ft", vec!["\u{BC} ft", "1\u{2044}4 ft"]),
        ("5/8 in", vec!["\u{215D} in"]),
        ("1000 ft", vec!["1,000 ft", "1,000.0 ft", "1000 FT"]),
    ] {
        let (expected, _) = length(plain);
        assert!(expected.starts_with('{'), "{plain}");
        for text in typed {
            let (found, told) = length(text);
            assert!(found == expected, "`{text}` is not `{plain}`: {told}");
        }
    }
    for (typed, advice) in [
        ("22,5 ft", "write `22.5 ft`"),
        ("1.022,5 ft", "write `1022.5 ft`"),
        ("\u{FF12}\u{FF12} ft", "write a length with its unit"),
        ("22\u{B4} 6\u{2BA}", "expected a length with its unit: `ft`, `in`, `m`, `cm`, `mm`"),
        ("22 \u{D7} 6 ft", "expected a length with its unit"),
        ("22", "units: `ft`, `in`"),
        ("ft 22", "write a length with its unit"),
        ("\u{2013}22 ft", "write a length with its unit"),
        ("22 ft 22 ft", "write the larger unit first"),
        ("6 in 22 ft", "write the larger unit first"),
        ("1/0 ft", "write a length with its unit"),
        ("nan ft", "write a length with its unit"),
        ("22 ft; rm", "expected a length with its unit"),
        ("1e5 ft", "expected a length with its unit"),
        ("\u{664}\u{662} ft", "write a length with its unit"),
    ] {
        let (found, told) = length(typed);
        assert!(found.is_empty() && told.contains(advice), "{typed}: {told}");
    }
}

/// A record is plain TOML too; one that was made to do harm is told as what it is.
#[test]
fn a_record_made_to_do_harm_is_told() {
    let folder = Folder::of("smallest");
    folder.run(&["write", "job.toml"]).success();
    let record = "records/2026-0170-proposal-r1/record.toml";
    let text = folder.read(record);
    for (what, bytes) in [
        ("empty", vec![]),
        ("large", vec![b'#'; 2_000_000]),
        ("deep", format!("x = {}", "[".repeat(100_000)).into_bytes()),
        ("no UTF-8", b"\xFF\xFE\x00".to_vec()),
        ("zero bytes", vec![0; 4096]),
        ("altered", text.replace("revision = 1", "revision = 2").into_bytes()),
        ("longer", format!("{text}\nx = 1\n").into_bytes()),
        ("other lines", text.replace('\n', "\r\n").into_bytes()),
    ] {
        std::fs::write(folder.path(record), bytes).unwrap();
        let ran = ends_well(folder.run(&["verify", "job.toml"]));
        let said = ran.stdout();
        assert!(said.contains("altered") || said.contains("cannot be read"), "{what}: {said}");
        ends_well(folder.run(&["write", "job.toml"]).code(5)).err_has("record.toml");
    }
}

/// Whoever writes a record can write its seal as well: what it names is held within the record.
#[test]
fn a_sealed_record_reads_nothing_from_elsewhere() {
    use slableaf::issued::{Hash, IssueRecord, Leaf};
    let folder = Folder::of("smallest").write("outside.txt", "secret");
    folder.run(&["write", "job.toml"]).success();
    let record = "records/2026-0170-proposal-r1/record.toml";
    let sound = IssueRecord::read(&folder.read(record)).unwrap();
    let secret = Hash::of(b"secret");
    let outside = folder.path("outside.txt").display().to_string();
    for path in [
        "../../outside.txt",
        "inputs/../../../outside.txt",
        &outside,
        "inputs",
        "",
        ".",
        "/etc/hostname",
    ] {
        let mut other = sound.clone();
        other.input.push(Leaf { path: path.to_owned(), sha256: secret.clone() });
        std::fs::write(folder.path(record), other.text().unwrap()).unwrap();
        let said = ends_well(folder.run(&["verify", "job.toml"]).code(1)).stdout();
        assert!(said.contains("altered"), "{path}: {said}");
        let mut other = sound.clone();
        other.paper.path = path.to_owned();
        std::fs::write(folder.path(record), other.text().unwrap()).unwrap();
        ends_well(folder.run(&["write", "job.toml"]).code(5));
    }
    let mut many = sound.clone();
    many.input = vec![many.input[0].clone(); 501];
    std::fs::write(folder.path(record), many.text().unwrap()).unwrap();
    let said = ends_well(folder.run(&["verify", "job.toml"])).stdout();
    assert!(said.contains("it lists 501 files, and the most accepted is 500"), "{said}");
}

// ------------------------------------------------------------------------- a list of jobs

fn with_list(folder: &Folder, list: &[u8]) -> Ran {
    use std::io::Write as _;
    let mut child = Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(["write", "-", "--draft"])
        .current_dir(folder.path("."))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // The run may end before it has read all.
    let _ = child.stdin.take().unwrap().write_all(list);
    Ran::of(child.wait_with_output().unwrap())
}

#[test]
fn a_list_of_jobs_that_is_none_is_refused() {
    let folder = Folder::of("smallest");
    for (list, message) in [
        (b"a".repeat(5_000), "line 1 of the list of jobs is longer than 4096 bytes"),
        (b"job.toml\n\xFF\xFE\n".to_vec(), "line 2 of the list of jobs is not UTF-8 text"),
        (b"job.toml\0photos\0".to_vec(), "line 1 of the list of jobs holds a zero byte"),
        (b"\n".repeat(200_001), "line 200001 of the list of jobs is one too many: at most 200000"),
        (vec![0; 1_000_000], "line 1 of the list of jobs is longer than 4096 bytes"),
        (b"  \n\n".to_vec(), "there is no job to work on"),
        (vec![], "there is no job to work on"),
    ] {
        ends_well(with_list(&folder, &list).code(2)).err_has(message);
        assert!(!folder.path("papers").exists());
    }
    for list in ["job.toml", "\u{FEFF}job.toml\n", "job.toml\r\n\r\n", " job.toml \n"] {
        ends_well(with_list(&folder, list.as_bytes())).success().out_has("wrote papers/");
    }
    // A name that is none is told, and stops no other.
    ends_well(with_list(&folder, b"job.toml\n$(touch x)\n--out\n/dev/null\n").code(3))
        .out_has("4 jobs: 1 written, 0 unchanged, 3 not written");
    assert!(!folder.path("x").exists());
}
