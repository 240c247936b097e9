//! A folder with a job, a book and a shop, and a run of the program in it.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use slableaf::base::layouts::Layouts;
use slableaf::say::words::Words;
use tempfile::TempDir;

/// Says that the machine does not let a part of a test run. The harness holds back what a test that passes
/// prints by `eprintln!`; what is written to the stream itself it lets through.
pub fn not_tested(why: &str) {
    let _ = writeln!(std::io::stderr(), "NOT TESTED: {why}");
}

/// Every file below a folder with its bytes.
pub fn all_files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                found.insert(path.clone(), fs::read(&path).unwrap());
            }
        }
    }
    found
}

/// The built-in English words.
pub fn words() -> Words {
    Words::read(&Layouts::default(), "en").unwrap()
}

/// The repository's own folder.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Names of the shipped examples that make a paper.
pub const EXAMPLES: &[&str] = &["two-car-barrier", "dry-and-quick", "too-wet-yet", "metric-probes"];

/// Every floor of the examples that may be laid.
pub const FLOORS: &[(&str, &str)] = &[
    ("two-car-barrier", "barrier"),
    ("dry-and-quick", "fast-cure"),
    ("dry-and-quick", "barrier"),
    ("dry-and-quick", "clear-epoxy"),
    ("dry-and-quick", "water-kit"),
    ("metric-probes", "barrier"),
    ("metric-probes", "fast-cure"),
];

/// A temporary folder that holds copies of the example files, to be changed.
pub struct Folder {
    dir: TempDir,
}

impl Folder {
    /// The main example with its book, shop, logo and photos.
    pub fn new() -> Self {
        Self::of("two-car-barrier")
    }

    /// A folder with nothing in it.
    pub fn empty() -> Self {
        Self { dir: TempDir::new().unwrap() }
    }

    /// One of the examples, its files side by side: `job.toml`, `book.toml`, `shop.toml`.
    pub fn of(example: &str) -> Self {
        let folder = Self::empty();
        let from = root().join("examples");
        for name in ["book.toml", "shop.toml", "logo.png"] {
            let own = from.join(example).join(name);
            fs::copy(if own.exists() { own } else { from.join(name) }, folder.path(name)).unwrap();
        }
        fs::copy(from.join(example).join("job.toml"), folder.path("job.toml")).unwrap();
        fs::create_dir(folder.path("photos")).unwrap();
        if let Ok(photos) = fs::read_dir(from.join(example).join("photos")) {
            for photo in photos {
                let photo = photo.unwrap();
                fs::copy(photo.path(), folder.path("photos").join(photo.file_name())).unwrap();
            }
        }
        if let Ok(systems) = fs::read_dir(from.join(example).join("systems")) {
            fs::create_dir(folder.path("systems")).unwrap();
            for system in systems {
                let system = system.unwrap();
                fs::copy(system.path(), folder.path("systems").join(system.file_name())).unwrap();
            }
        }
        folder
    }

    /// The smallest example with three dishes near 5 lb, so that a floor may be signed for.
    pub fn tested() -> Self {
        let folder = Self::of("smallest");
        let mut job = folder.read("job.toml");
        job.push_str(
            "\n[moisture.dishes]\nscale = \"0.1 g\"\nroom-temperature = \"70 F\"\n\
             room-humidity = \"50 %\"\nsettled = true\n",
        );
        for place in ["left", "middle", "right"] {
            job.push_str(&format!(
                "\n[[moisture.dishes.dish]]\nplace = \"{place}\"\nsurface = \"ground-open-24h\"\n\
                 exposed = \"65.7 in2\"\nbefore = \"200.0 g\"\nafter = \"202.8 g\"\n\
                 set = 2026-05-05T09:00:00\nlifted = 2026-05-08T03:00:00\n"
            ));
        }
        folder.write("job.toml", job)
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.dir.path().join(name)
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    pub fn bytes(&self, name: &str) -> Vec<u8> {
        fs::read(self.path(name)).unwrap()
    }

    pub fn write(self, name: &str, text: impl AsRef<[u8]>) -> Self {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
        self
    }

    /// Replaces one piece of text in a file; it must stand there exactly once.
    #[track_caller]
    pub fn replace(self, name: &str, from: &str, to: &str) -> Self {
        let text = self.read(name);
        assert_eq!(text.matches(from).count(), 1, "`{from}` in {name}");
        let text = text.replacen(from, to, 1);
        self.write(name, text)
    }

    /// File, line and column of a piece of text, which must stand in the file exactly once.
    #[track_caller]
    pub fn place_of(&self, name: &str, piece: &str) -> String {
        let text = self.read(name);
        assert_eq!(text.matches(piece).count(), 1, "`{piece}` in {name}");
        let before = text.split(piece).next().unwrap();
        let in_line = before.rsplit('\n').next().unwrap();
        format!("{name}:{}:{}", before.matches('\n').count() + 1, in_line.chars().count() + 1)
    }

    /// Runs the program in the folder.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        run_in(self.dir.path(), arguments)
    }
}

/// The day on which tests run the program, in seconds since 1970: the date of the examples, 12 May
/// 2026.
pub const DAY: &str = "1778544000";

/// Runs the program in a folder, without color.
pub fn run_in(folder: &Path, arguments: &[&str]) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(arguments)
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .env("SOURCE_DATE_EPOCH", DAY)
        .output()
        .unwrap();
    Ran { output }
}

/// The output of a run and its exit code.
pub struct Ran {
    output: Output,
}

impl Ran {
    pub fn of(output: Output) -> Self {
        Self { output }
    }

    pub fn stdout(&self) -> String {
        String::from_utf8(self.output.stdout.clone()).unwrap()
    }

    pub fn stderr(&self) -> String {
        String::from_utf8(self.output.stderr.clone()).unwrap()
    }

    #[track_caller]
    pub fn code(self, expected: i32) -> Self {
        assert_eq!(
            self.output.status.code(),
            Some(expected),
            "\n--- stdout\n{}\n--- stderr\n{}",
            self.stdout(),
            self.stderr()
        );
        if (2..=5).contains(&expected) {
            let last = self.stderr().lines().last().unwrap_or_default().to_owned();
            let says = ["next: ", "For more information, try"];
            assert!(
                says.iter().any(|says| last.starts_with(says)),
                "no next step\n{}",
                self.stderr()
            );
        }
        self
    }

    #[track_caller]
    pub fn success(self) -> Self {
        self.code(0)
    }

    #[track_caller]
    pub fn out_has(self, text: &str) -> Self {
        assert!(self.stdout().contains(text), "no `{text}` in stdout\n{}", self.stdout());
        self
    }

    #[track_caller]
    pub fn err_has(self, text: &str) -> Self {
        assert!(self.stderr().contains(text), "no `{text}` in stderr\n{}", self.stderr());
        self
    }

    /// The complaint of a run, without the last line, which says what to type next.
    pub fn complaint(&self) -> String {
        let said = self.stderr();
        let said = said.trim();
        match said.rsplit_once('\n') {
            Some((before, last)) if last.starts_with("next: ") => before.trim().to_owned(),
            _ => said.to_owned(),
        }
    }

    /// Asserts the whole complaint, to the letter.
    #[track_caller]
    pub fn err_is(self, expected: &str) -> Self {
        assert_eq!(self.complaint(), expected.trim());
        self
    }
}

/// Without the indent of the first line, without white space at the ends of lines.
pub fn dedented(text: &str) -> String {
    let text = text.trim_start_matches('\n');
    let indent = text.len() - text.trim_start().len();
    let line = |line: &str| line.get(indent..).unwrap_or("").trim_end().to_owned();
    text.lines().map(line).collect::<Vec<_>>().join("\n").trim_end().to_owned()
}
