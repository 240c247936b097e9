//! Large files are kept once for all records of a job, and none depends on another.
#![cfg(unix)]

use super::{VERIFY, WRITE, recorded, wage};
use crate::fixture::{Folder, all_files};
use std::collections::BTreeSet;
use std::fs;
use std::os::unix::fs::MetadataExt;

const NUMBER: &str = "2026-0142";

fn record(revision: u32) -> String {
    format!("records/{NUMBER}-proposal-r{revision}")
}

/// Bytes on disk below a folder: a file with several names counts once.
fn size(folder: &Folder, path: &str) -> u64 {
    let mut seen = BTreeSet::new();
    let files = all_files(&folder.path(path)).into_keys();
    let once = files.map(|path| fs::metadata(path).unwrap()).filter(|data| seen.insert(data.ino()));
    once.map(|data| data.len()).sum()
}

fn issue(mut folder: Folder, revisions: u32) -> Folder {
    for revision in 1..=revisions {
        folder = wage(folder, 40 + revision);
        folder.run(WRITE).success();
    }
    folder
}

#[test]
fn photos_are_on_disk_once_however_many_revisions_there_are() {
    let folder = issue(Folder::new(), 1);
    let photos: u64 =
        all_files(&folder.path("photos")).values().map(|bytes| bytes.len() as u64).sum();
    let first = size(&folder, "records");
    assert!(photos > 100_000 && first > photos);
    let folder = issue(folder, 4);
    folder.run(&["write", "job.toml", "--paper", "leaflet", "--paper", "care"]).success();
    let all = size(&folder, "records");
    assert_eq!(recorded(&folder.path(".")).len(), 6);
    // Six records without their photos, and the photos once.
    assert!(all < 6 * (first - photos) + photos + 60_000, "{all} of {first}, photos {photos}");
    let inode = |revision| {
        let path = folder.path(&format!("{}/inputs/photos/dome.jpg", record(revision)));
        fs::metadata(path).unwrap().ino()
    };
    assert_eq!(inode(1), inode(4));
    // What a person may want to read and copy is small, and a file of its own in each record.
    let job = folder.path(&format!("{}/inputs/job.toml", record(4)));
    assert_eq!(fs::metadata(job).unwrap().nlink(), 1);
    // The customer's own photo and copy are files of their own: whoever edits them changes no record.
    let own = |path: &str| fs::metadata(folder.path(path)).unwrap().nlink();
    assert_eq!(own("photos/dome.jpg"), 1);
    assert_eq!(own(&format!("papers/{NUMBER}-proposal-r4.pdf")), 1);
    folder.run(VERIFY).success().out_has("6 records: 6 sound");
}

/// Each record has all its files under their names: the others may be moved to an archive.
#[test]
fn a_record_is_whole_without_the_others() {
    let folder = issue(Folder::new(), 3);
    for revision in [1, 2] {
        fs::remove_dir_all(folder.path(&record(revision))).unwrap();
    }
    folder.run(&["verify", &record(3)]).success().out_has("1 record: 1 sound");
}

/// What was damaged, or is a link to elsewhere, is no copy of anything: the file is written again.
#[test]
fn a_damaged_file_is_not_carried_on() {
    for damage in ["bytes", "link", "gone"] {
        let folder = issue(Folder::new(), 1);
        let dome = folder.path(&format!("{}/inputs/photos/dome.jpg", record(1)));
        let whole = fs::read(&dome).unwrap();
        fs::remove_file(&dome).unwrap();
        match damage {
            "bytes" => fs::write(&dome, [&whole[..whole.len() - 1], b"\0"].concat()).unwrap(),
            "link" => std::os::unix::fs::symlink("../../../../photos/dome.jpg", &dome).unwrap(),
            _ => {}
        }
        let folder = issue(folder, 2);
        let second = folder.path(&format!("{}/inputs/photos/dome.jpg", record(2)));
        assert!(fs::symlink_metadata(&second).unwrap().is_file(), "{damage}");
        assert!(fs::read(second).unwrap() == whole, "{damage}");
        folder.run(&["verify", &record(2)]).success();
    }
}

/// A record with photos, of a run that was killed at growing delays: the ones before stay whole, and the
/// next run makes it good.
#[test]
fn kills_leave_every_record_whole() {
    let mut folder = issue(Folder::new(), 1);
    let before = all_files(&folder.path(&record(1)));
    for point in 0..8_u64 {
        folder = wage(folder, 60 + u32::try_from(point).unwrap());
        let mut child = super::at_once::start(&folder, WRITE);
        std::thread::sleep(std::time::Duration::from_millis(point * 90));
        child.kill().unwrap();
        child.wait().unwrap();
    }
    folder.run(WRITE).success();
    for (path, bytes) in before {
        assert!(fs::read(&path).unwrap() == bytes, "{}", path.display());
    }
    let left = recorded(&folder.path("."));
    assert!(left.iter().all(|name| !name.starts_with('.')), "{left:?}");
    folder.run(VERIFY).success();
}

/// A disk on which a second copy of the photos has no room holds the next record all the same.
#[test]
fn a_nearly_full_disk_holds_the_next_record() {
    let folder = Folder::new();
    folder.run(WRITE).success();
    let (all, photos) = (size(&folder, "records"), size(&folder, "photos"));
    let room = (all + (all - photos) + photos / 3) / 1024 + 200;
    let Some(_disk) = super::disks::Mounted::new(folder.path("disk"), &format!("{room}k")) else {
        return;
    };
    let write = ["write", "job.toml", "--records", "disk/records"];
    folder.run(&write).success();
    let folder = wage(folder, 41);
    folder.run(&write).success();
    folder.run(&["verify", "disk/records", "--papers", "papers"]).success().out_has("2 sound");
}

/// A record on a disk of its own, to which no second name can lead: the photos are written again.
#[test]
fn where_no_file_has_two_names_it_is_written_again() {
    let folder = issue(Folder::new(), 1);
    let first = folder.path(&record(1));
    let aside = folder.path("aside");
    fs::rename(&first, &aside).unwrap();
    let Some(_disk) = super::disks::Mounted::new(first.clone(), "8m") else { return };
    for (path, bytes) in all_files(&aside) {
        let to = first.join(path.strip_prefix(&aside).unwrap());
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        fs::write(to, bytes).unwrap();
    }
    let folder = issue(folder, 2);
    let dome = folder.path(&format!("{}/inputs/photos/dome.jpg", record(2)));
    assert_eq!(fs::metadata(dome).unwrap().nlink(), 1);
    folder.run(VERIFY).success().out_has("2 records: 2 sound");
}
