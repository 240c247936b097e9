//! Modes of files: a file that is replaced keeps its own, a new one gets what the mask leaves.
#![cfg(unix)]

use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::process::Command;

use crate::fixture::{Folder, all_files};

fn mode(folder: &Folder, name: &str) -> u32 {
    fs::metadata(folder.path(name)).unwrap().permissions().mode() & 0o7777
}

fn set_mode(folder: &Folder, name: &str, mode: u32) {
    fs::set_permissions(folder.path(name), Permissions::from_mode(mode)).unwrap();
}

#[test]
fn a_file_that_is_edited_keeps_its_mode() {
    for wanted in [0o600, 0o640, 0o664] {
        let folder = Folder::tested();
        set_mode(&folder, "book.toml", wanted);
        set_mode(&folder, "job.toml", wanted);
        let change = ["book", "change", "book.toml", "--percent", "-9 %", "--from", "2026-05-20"];
        folder.run(&["write", "job.toml"]).success();
        folder.run(&[&change[..], &["--in-place"]].concat()).success();
        assert_eq!(mode(&folder, "book.toml"), wanted);
        let reprice = ["reprice", "job.toml", "--on", "2026-05-21", "--new-date"];
        folder.run(&reprice).success().out_has("1 paper written");
        assert!(folder.read("job.toml").contains("date = 2026-05-21"));
        assert_eq!(mode(&folder, "job.toml"), wanted);
    }
}

/// Costs among them: a shop that says `umask 077` means it.
#[test]
fn new_files_get_what_the_mask_leaves() {
    for (mask, wanted) in [("077", 0o600), ("027", 0o640), ("022", 0o644)] {
        let folder = Folder::of("dry-and-quick");
        let run = format!(
            "umask {mask}; \"$0\" write job.toml && \"$0\" write job.toml --draft \
             && \"$0\" mail job.toml && \"$0\" prepare job.toml && \"$0\" schema job --out made"
        );
        let status = Command::new("sh")
            .args(["-c", &run, env!("CARGO_BIN_EXE_slableaf")])
            .current_dir(folder.path("."))
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .status()
            .unwrap();
        assert!(status.success());
        for made in ["papers", "records", "shop-only", "made"] {
            let files = all_files(&folder.path(made));
            assert!(!files.is_empty(), "{made}");
            for path in files.keys() {
                let mode = fs::metadata(path).unwrap().permissions().mode() & 0o777;
                assert_eq!(mode, wanted, "{mask}: {}", path.display());
            }
        }
    }
}
