//! The folders that the papers go into.

use super::{arguments, prepared, shows};
use crate::documents::files;
use crate::fixture::{FLOORS, Folder};
use crate::readers;
use std::fs;

#[test]
fn what_the_shop_alone_may_see_lies_apart_from_the_customers_days() {
    for (example, floor) in FLOORS {
        let folder = prepared(Folder::of(example), floor);
        let names = files(&folder, "papers");
        assert_eq!(names.len(), 1, "{names:?}");
        assert!(names[0].ends_with("-days-r1.ics") && !names[0].contains("crew"), "{names:?}");
        assert_eq!(files(&folder, "shop").len(), 4);
    }
    // Without names for the folders too.
    let folder = Folder::new();
    folder.run(&["prepare", "job.toml"]).success();
    assert_eq!(files(&folder, "papers"), ["2026-0142-days-r1.ics"]);
    assert_eq!(files(&folder, "shop-only").len(), 4);
}

#[test]
fn one_folder_for_both_is_refused_however_it_is_written() {
    for (out, papers) in [("a", "a"), ("a", "./a"), ("b/../a", "a"), ("a/inner", "a"), ("a/", "a")]
    {
        let folder = Folder::new();
        folder
            .run(&["prepare", "job.toml", "--out", out, "--papers", papers])
            .code(2)
            .err_has("would lie in the customer's folder")
            .err_has("--out");
        assert!(!folder.path("a").exists(), "{out} {papers}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_to_the_customers_folder_is_that_folder() {
    let folder = Folder::new();
    fs::create_dir(folder.path("papers")).unwrap();
    std::os::unix::fs::symlink("papers", folder.path("link")).unwrap();
    folder.run(&["prepare", "job.toml", "--out", "link"]).code(2);
    assert!(files(&folder, "papers").is_empty());
}

#[test]
fn a_floor_that_is_not_on_offer_is_refused_with_what_may_be_meant() {
    let folder = Folder::new();
    folder.run(&arguments("barier")).code(2).err_has("did you mean `barrier`?");
    folder.run(&arguments("marble")).code(2).err_has("barrier, fast-cure, clear-epoxy, water-kit");
    assert!(!folder.path("shop").exists() && !folder.path("papers").exists());
}

#[test]
fn a_floor_with_a_stop_is_not_prepared() {
    let folder = Folder::new();
    folder.run(&arguments("fast-cure")).code(1).err_has("`slableaf check` says why");
    let wet = Folder::of("too-wet-yet");
    wet.run(&["prepare", "job.toml"]).code(1).err_has("no floor is offered");
    for folder in [folder, wet] {
        assert!(!folder.path("shop").exists() && !folder.path("papers").exists());
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let all = |folder: &Folder| -> Vec<(String, Vec<u8>)> {
        let of = |within: &str| {
            let names = files(folder, within);
            names
                .into_iter()
                .map(|name| (name.clone(), folder.bytes(&format!("{within}/{name}"))))
                .collect::<Vec<_>>()
        };
        [of("shop"), of("papers")].concat()
    };
    let (one, two) = (prepared(Folder::new(), "barrier"), prepared(Folder::new(), "barrier"));
    let before = all(&one);
    assert_eq!(before.len(), 5);
    assert_eq!(before, all(&two));
    let again = one.run(&arguments("barrier")).success();
    assert_eq!(again.stdout().matches("unchanged").count(), 5, "{}", again.stdout());
    assert_eq!(before, all(&one));
}

#[test]
fn a_changed_job_gives_a_second_revision_and_leaves_the_first() {
    let folder = prepared(Folder::new(), "barrier");
    let first = folder.bytes("shop/2026-0142-crew-sheet-r1.pdf");
    let note = "crew-notes = [\"Ring twice\"]\nwishes =";
    let folder = prepared(folder.replace("job.toml", "wishes =", note), "barrier");
    assert_eq!(folder.bytes("shop/2026-0142-crew-sheet-r1.pdf"), first);
    let second = readers::text(&folder.path("shop/2026-0142-crew-sheet-r2.pdf"));
    shows(&second, "Ring twice");
    shows(&second, "This sheet: revision 2");
    // What has not changed has no second revision.
    assert!(!folder.path("shop/2026-0142-buying-list-r2.csv").exists());
    assert!(!folder.path("papers/2026-0142-days-r2.ics").exists());
}
