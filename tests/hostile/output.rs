//! Output that nobody reads or that has no room.

use crate::fixture::{Folder, Ran};
use std::fs;

/// Whoever reads the output may stop reading, as `head` does.
#[cfg(unix)]
#[test]
fn output_that_nobody_reads_is_no_fault() {
    use std::process::{Command, Stdio};
    let folder = Folder::new();
    let mut child = Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(["estimate", "job.toml"])
        .current_dir(folder.path("."))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
}

/// Output that cannot be written is told as what it is.
#[cfg(target_os = "linux")]
#[test]
fn output_that_has_no_room_is_no_fault_of_ours() {
    use std::process::{Command, Stdio};
    let folder = Folder::new();
    for arguments in [&["estimate", "job.toml"][..], &["write", ".", "--draft"]] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .args(arguments)
            .current_dir(folder.path("."))
            .stdout(Stdio::from(full))
            .output()
            .unwrap();
        Ran::of(output).code(5).err_has("error: cannot write what was found: No space left");
    }
}

/// Nobody takes the complaints: the exit code still tells.
#[cfg(target_os = "linux")]
#[test]
fn complaints_that_nobody_takes_are_no_fault() {
    use std::process::{Command, Stdio};
    let folder = Folder::new().replace("job.toml", "units = \"us\"", "units = \"feet\"");
    let run = |errors: Stdio| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_slableaf"));
        command.args(["check", "job.toml"]).current_dir(folder.path("."));
        command.stdout(Stdio::null()).stderr(errors).spawn().unwrap()
    };
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    assert_eq!(run(Stdio::from(full)).wait().unwrap().code(), Some(2));
    let mut closed = run(Stdio::piped());
    drop(closed.stderr.take());
    assert_eq!(closed.wait().unwrap().code(), Some(2));
}
