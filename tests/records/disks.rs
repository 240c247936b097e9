//! Disks that are full or read-only, and links that lead elsewhere.

use super::cut_short::comes_good;
use super::{NUMBER, VERIFY, WRITE, paper, record, recorded, small, wage};
use crate::fixture::{all_files, not_tested};
use std::collections::BTreeMap;
use std::fs::{self};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A small file system of its own; unmounted in the end.
pub struct Mounted(PathBuf);

impl Mounted {
    /// `None`, loudly, where the test may not mount.
    pub fn new(at: PathBuf, size: &str) -> Option<Self> {
        fs::create_dir_all(&at).unwrap();
        let made = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &format!("size={size}"), "tmpfs"])
            .arg(&at)
            .stderr(Stdio::null())
            .status();
        if made.is_ok_and(|status| status.success()) {
            return Some(Self(at));
        }
        not_tested("a file system of its own, since this test may not mount one");
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
    // `write` sends to `verify`, also where the link leads to a record that is sound.
    let sound = small();
    sound.run(WRITE).success();
    fs::remove_file(folder.path(&record(1))).unwrap();
    symlink(sound.path(&record(1)), folder.path(&record(1))).unwrap();
    for path in ["job.toml", "records"] {
        folder.run(&["verify", path]).code(5).out_has("it is a link that leads out of the records");
    }
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
