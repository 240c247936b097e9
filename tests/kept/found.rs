//! Folders of a batch that cannot be searched are told, and stop no other.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::fixture::{Folder, Ran, not_tested};

/// A shop with two jobs, each in a folder of its own.
fn shop() -> Folder {
    let folder = Folder::of("smallest");
    let job = folder.read("job.toml");
    fs::remove_file(folder.path("job.toml")).unwrap();
    let other = job.replace("2026-0170", "2026-0171");
    folder.write("jobs/a/job.toml", job).write("jobs/z/job.toml", other)
}

fn both_are_written(folder: &Folder, said: &str) {
    folder
        .run(&["write", "jobs"])
        .code(3)
        .err_has(said)
        .out_has("2 jobs: 2 written, 0 unchanged, 0 not written");
    let dry = ["reprice", "jobs", "--dry-run", "--on", "2026-05-20"];
    folder.run(&dry).code(3).err_has(said).out_has("2026-0171");
}

#[test]
fn a_folder_that_is_too_deep_stops_no_other() {
    let deep = vec!["d"; 40].join("/");
    let folder = shop().write(&format!("jobs/m/{deep}/job.toml"), "number = \"D-1\"\n[customer]\n");
    both_are_written(&folder, "it lies deeper than 32 folders");
}

#[cfg(target_os = "linux")]
#[test]
fn names_that_are_not_utf_8_are_told() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let folder = shop();
    let odd = folder.path("jobs").join(OsStr::from_bytes(b"caf\xe9"));
    fs::create_dir(&odd).unwrap();
    fs::copy(folder.path("jobs/a/job.toml"), odd.join("job.toml")).unwrap();
    both_are_written(&folder, "jobs/caf\u{FFFD} is not UTF-8 text");
}

/// A file that cannot be read may be a job, whatever its name is.
#[test]
fn files_of_any_name_that_cannot_be_read_are_told() {
    let latin = shop().read("jobs/a/job.toml").replacen("Quill", "Qu\u{e9}ll", 1);
    let latin: Vec<u8> = latin.chars().map(|letter| u8::try_from(letter).unwrap_or(b'?')).collect();
    let folder = shop().write("jobs/m/visit.toml", latin);
    let why = "jobs/m/visit.toml is not UTF-8 text";
    both_are_written(&folder, why);
    folder.run(&["roll", "jobs"]).code(3).err_has(why).out_has("2026-0171");
    for (path, why) in [("jobs/m/visit.toml", why), ("gone.toml", "cannot read gone.toml")] {
        folder.run(&["reprice", path, "--dry-run"]).code(3).out_has(why);
        folder.run(&["roll", path]).code(3).out_has(why);
    }
    // What can be read and is no job is left out, unless nothing else was named.
    for verb in [&["reprice", "--dry-run"][..], &["roll"]] {
        folder.run(&[verb, &["book.toml"]].concat()).code(2).err_has("there is no job to work on");
        folder.run(&[verb, &["book.toml", "jobs/a/job.toml"]].concat()).success();
    }
}

#[cfg(unix)]
#[test]
fn a_job_that_is_a_pipe_is_told_and_nobody_waits_at_it() {
    let folder = shop();
    fs::create_dir(folder.path("jobs/m")).unwrap();
    let made = Command::new("mkfifo").arg(folder.path("jobs/m/job.toml")).status().unwrap();
    assert!(made.success());
    let why = "cannot read jobs/m/job.toml: it is not a plain file";
    folder
        .run(&["write", "jobs"])
        .code(3)
        .err_has(why)
        .out_has("3 jobs: 2 written, 0 unchanged, 1 not written");
    for verb in ["check", "estimate", "write", "mail", "prepare", "verify"] {
        folder.run(&[verb, "jobs/m/job.toml"]).code(5).err_has(why);
    }
    let pipe = "jobs/m/job.toml";
    let arguments =
        ["book", "change", pipe, "--percent", "+1 %", "--from", "2027-01-01", "--to", "n"];
    folder.run(&arguments).code(2).err_has(why);
    folder.run(&["check", "jobs/a/job.toml", "--shop", pipe]).code(5).err_has(why);
}

/// The administrator may read every folder: then the run is one of a user who may not.
#[cfg(unix)]
#[test]
fn a_folder_that_may_not_be_read_stops_no_other() {
    use std::os::unix::fs::PermissionsExt;
    let folder = shop();
    fs::create_dir(folder.path("jobs/m")).unwrap();
    let tool = folder.path("tool");
    fs::copy(env!("CARGO_BIN_EXE_slableaf"), &tool).unwrap();
    let open = |path: &Path| fs::set_permissions(path, fs::Permissions::from_mode(0o777)).unwrap();
    for name in [".", "jobs", "jobs/a", "jobs/z", "tool"] {
        open(&folder.path(name));
    }
    let shut = folder.path("jobs/m");
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o000)).unwrap();
    let mut run = if fs::read_dir(&shut).is_ok() {
        let mut run = Command::new("setpriv");
        run.args(["--reuid", "65534", "--regid", "65534", "--clear-groups"]).arg(&tool);
        run
    } else {
        Command::new(&tool)
    };
    let output = run.args(["write", "jobs"]).current_dir(folder.path(".")).output();
    open(&shut);
    let Ok(output) = output else {
        not_tested("a folder that may not be read, since this test may not become another user");
        return;
    };
    Ran::of(output)
        .code(3)
        .err_has("cannot read jobs/m: Permission denied")
        .out_has("2 jobs: 2 written, 0 unchanged, 0 not written");
}

/// Several parts of a list each tell it.
#[test]
fn what_cannot_be_searched_is_told_in_every_part() {
    let deep = vec!["d"; 40].join("/");
    let folder = shop().write(&format!("jobs/m/{deep}/job.toml"), "");
    for part in ["1/2", "2/2"] {
        folder
            .run(&["write", "jobs", "--part", part])
            .code(3)
            .err_has("deeper than 32 folders")
            .out_has("1 job: 1 written");
    }
    let folder = Folder::empty().write(&format!("jobs/{deep}/job.toml"), "");
    folder.run(&["write", "jobs"]).code(5).err_has("deeper than 32 folders");
}
