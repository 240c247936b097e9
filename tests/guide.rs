//! Every command line of README and DEVELOPERS.md is run, in the order of the document, in a folder as
//! the document speaks of it.

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::fixture::{Folder, Ran, root, run_in};
use crate::readme::{blocks, document};

/// Lines that these tests cannot run, and what does.
const ELSEWHERE: &[(&str, &str)] = &[
    ("cargo test --release", "this run"),
    ("cargo install --path . --locked", "`.ci/run` builds the same program"),
    ("cargo bench --features bench", "the benches are no test"),
    ("cargo bench --bench remembered", "the same; `.ci/run` lints it"),
    ("TYPST=/somewhere/typst benches/compare.sh", "it needs the typesetter's own program"),
    ("benches/watch.py", "times are no test"),
    ("cd fuzz", "fuzzing has a build of its own; `corpus.rs` runs what it found"),
    ("RUSTC_WRAPPER=$PWD/watched.sh cargo build --release", "as above"),
    ("target/release/page -max_len=16000 -max_total_time=600 corpus/page", "as above"),
];

/// The jobs that the documents speak of: one in the folder itself, some below `jobs`.
fn folder() -> Folder {
    let mut folder = files(Folder::new()).write("shop-only/.keep", "");
    for name in ["smallest", "dry-and-quick"] {
        let job =
            std::fs::read_to_string(root().join(format!("examples/{name}/job.toml"))).unwrap();
        let job: String = job
            .split("[[photo]]")
            .next()
            .unwrap()
            .lines()
            .map(|line| format!("{line}\n"))
            .collect();
        folder = folder.write(&format!("jobs/{name}/job.toml"), job);
    }
    folder
}

/// The files of the example in their places again, after a line that starts new ones.
fn files(folder: Folder) -> Folder {
    let example = Folder::new();
    let shop = example.read("shop.toml");
    folder
        .write("job.toml", example.read("job.toml"))
        .write("book.toml", example.read("book.toml"))
        .write("shop-es.toml", shop.replace("language = \"en\"", "language = \"es\""))
        .write("shop.toml", shop)
}

/// Runs a line as a shell would, with the program on the path.
fn run(folder: &Folder, line: &str) -> Ran {
    let program = Path::new(env!("CARGO_BIN_EXE_slableaf")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let mut command = Command::new("sh");
    command.arg("-c").arg(line).current_dir(folder.path("")).env("PATH", path);
    command.env("NO_COLOR", "1").stdin(Stdio::null());
    Ran::of(command.output().unwrap())
}

/// A line that would run until Ctrl-C begins to watch; `watching.rs` says what it does then.
fn watches(folder: &Folder, line: &str) {
    let words: Vec<&str> = line.strip_prefix("slableaf ").unwrap().split(' ').collect();
    let mut child = Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(words)
        .current_dir(folder.path(""))
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let begins = lines.map_while(Result::ok).any(|line| line.starts_with("watching"));
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(begins, "{line}");
}

/// The lines of a document's shell blocks, without their comments.
fn lines(name: &str) -> Vec<String> {
    let text = document(name);
    let lines = blocks(&text, "sh");
    let lines = lines.iter().flat_map(|block| block.lines());
    let plain = |line: &str| line.split("  #").next().unwrap().trim().to_owned();
    lines.map(plain).filter(|line| !line.is_empty()).collect()
}

fn is_elsewhere(line: &str) -> bool {
    ELSEWHERE.iter().any(|(known, _)| *known == line)
}

#[test]
fn every_command_line_of_the_readme_runs() {
    let lines = lines("README.md");
    assert!(lines.len() >= 25, "{}", lines.len());
    let mut folder = folder();
    for line in lines {
        if is_elsewhere(&line) {
            continue;
        }
        if let Some(rest) = line.strip_prefix("cargo run --release -- ") {
            // As from a fresh clone, but for where the papers go.
            let (out, rest) = (folder.path("out"), rest.split_once(" --out ").unwrap().0);
            let records = folder.path("out/records");
            let mut words: Vec<&str> = rest.split(' ').collect();
            words.extend(["--out", out.to_str().unwrap()]);
            words.extend(["--records", records.to_str().unwrap()]);
            run_in(&root(), &words).success();
        } else if line.contains("--watch") {
            watches(&folder, &line);
        } else if let Some(file) = line.strip_prefix("slableaf new ") {
            let file = match file {
                "shop" => "shop.toml",
                "book" => "book.toml",
                job => job,
            };
            let _ = std::fs::remove_file(folder.path(file));
            run(&folder, &line).success();
            let made = folder.read(file);
            if file.contains('/') {
                // Whoever fills it in has a job; here it is the example.
                let job = folder.read("job.toml").split("[[photo]]").next().unwrap().to_owned();
                folder = folder.write(file, job.replace("2026-0142", "2026-0143"));
            }
            folder = files(folder);
            assert!(made.contains("#:schema "), "{line}\n{made}");
        } else {
            run(&folder, &line).code(ends_with(&line));
        }
    }
}

/// The example has floors with a stop, which `check` ends with.
fn ends_with(line: &str) -> i32 {
    i32::from(line.starts_with("slableaf check "))
}

/// Lines for many machines are run for one of them.
#[test]
fn every_command_line_of_developers_runs() {
    let folder = folder().write("out/.keep", "");
    let lines = lines("DEVELOPERS.md");
    assert!(lines.len() >= 5, "{}", lines.len());
    for line in lines {
        if is_elsewhere(&line) {
            continue;
        }
        let inner = if let Some(rest) = line.strip_prefix("parallel -j 4 ") {
            rest.split(" :::").next().unwrap().replace("{}", "3")
        } else if let Some(rest) = line.split_once("--wrap '") {
            rest.1.trim_end_matches('\'').to_owned()
        } else {
            line.clone()
        };
        let set = "SLURM_ARRAY_TASK_ID=3; JOB_COMPLETION_INDEX=2; ";
        run(&folder, &format!("{set}{inner}")).success();
    }
}

/// The meaning of names in capitals in the running text.
const STANDS_FOR: &[(&str, &str)] = &[
    ("JOB", "job.toml"),
    ("PATH", "records"),
    ("FOLDER", "jobs --dry-run"),
    ("BOOK", "book.toml --percent +4% --from 2027-01-01 --to other.toml"),
    ("CHECK", "oil"),
    ("KIND", "job"),
    ("VERB", "write"),
    ("SHELL", "fish"),
    ("DIR", "copied"),
];

/// Command lines within sentences.
#[test]
fn command_lines_in_sentences_run_too() {
    let folder = folder();
    run(&folder, "slableaf write job.toml").success();
    let mut ran = BTreeSet::new();
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = document(name);
        let prose: String = text.split("```").step_by(2).collect();
        let prose = prose.replace('\n', " ");
        for span in prose.split('`').skip(1).step_by(2).filter(|one| one.starts_with("slableaf ")) {
            let words = span.split(' ').map(|word| {
                STANDS_FOR.iter().find(|(name, _)| *name == word).map_or(word, |(_, is)| is)
            });
            let line = words.collect::<Vec<_>>().join(" ");
            if line.contains("--watch")
                || line.starts_with("slableaf new")
                || !ran.insert(line.clone())
            {
                continue;
            }
            run(&folder, &line).code(ends_with(&line));
        }
    }
    assert!(ran.len() >= 12, "{ran:?}");
}

/// An option that a document names is one of the program's.
#[test]
fn options_in_sentences_are_known() {
    let mut known = BTreeSet::new();
    for verb in crate::help::verbs() {
        let mut arguments: Vec<&str> = verb.split(' ').collect();
        arguments.push("--help");
        let help = run_in(&root(), &arguments).success().stdout();
        known.extend(options(&help));
    }
    for name in ["README.md"] {
        let text = document(name);
        let ours = text.lines().filter(|line| !line.contains("cargo "));
        for option in ours.flat_map(options) {
            assert!(known.contains(&option), "{name}: {option}");
        }
    }
}

fn options(text: &str) -> Vec<String> {
    text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-'))
        .filter(|word| {
            word.starts_with("--")
                && word.len() > 3
                && word[2..].starts_with(|c: char| c.is_ascii_lowercase())
        })
        .map(str::to_owned)
        .collect()
}
