//! What the shop prepares for a job of several spaces.

use std::collections::BTreeSet;

use crate::fixture::Folder;

const ACCEPTED: &str = "\n[accepted]\nrevision = 1\non = 2026-05-20\n\
    floors = { Garage = \"barrier\", Patio = \"clear-epoxy\" }\n";

fn names(folder: &Folder, below: &str) -> BTreeSet<String> {
    let files = std::fs::read_dir(folder.path(below)).unwrap();
    files.map(|file| file.unwrap().file_name().into_string().unwrap()).collect()
}

fn uids(ics: &str) -> Vec<String> {
    ics.lines().filter_map(|line| line.strip_prefix("UID:")).map(str::to_owned).collect()
}

/// A sheet and calendars for each space, one list of what is bought for all of them.
#[test]
fn each_space_has_its_sheet_and_all_have_one_list() {
    let folder = Folder::of("three-spaces");
    folder.run(&["prepare", "job.toml"]).success();
    let shop = names(&folder, "shop-only");
    for paper in ["crew-sheet-1", "crew-sheet-2", "crew-sheet-3", "buying-list"] {
        assert!(shop.contains(&format!("2026-0174-{paper}-r1.pdf")), "{paper}: {shop:?}");
    }
    let ics = |folder_name: &str, name: &str, at: usize| {
        folder.read(&format!("{folder_name}/2026-0174-{name}-{at}-r1.ics"))
    };
    // No two events are the same, in whatever calendar both are put.
    let all: Vec<String> = (1..=3)
        .flat_map(|at| [ics("shop-only", "crew-days", at), ics("papers", "days", at)])
        .flat_map(|text| uids(&text))
        .collect();
    assert_eq!(all.iter().collect::<BTreeSet<_>>().len(), all.len(), "{all:?}");
    assert!(ics("papers", "days", 2).contains("Patio"));
    // Parking is for the garage alone.
    assert_eq!(uids(&ics("papers", "days", 1)).len(), uids(&ics("papers", "days", 2)).len() + 2);
    // 5 x 40 lb of flake for three floors: each by itself would take 2, 1 and 2 boxes, or more.
    let list = folder.read("shop-only/2026-0174-buying-list-r1.csv");
    let flake: Vec<&str> =
        list.lines().filter(|line| line.contains("flake-quarter-inch")).collect();
    assert_eq!(flake.len(), 1, "{list}");
    assert!(list.contains("barrier fast-cure barrier"), "{list}");
}

/// What was signed is what is laid: a space that nobody signed for is left out.
#[test]
fn the_floors_that_were_accepted_are_laid() {
    let folder = Folder::of("three-spaces");
    folder.run(&["write", "job.toml"]).success();
    let job = folder.read("job.toml") + ACCEPTED;
    let folder = folder.write("job.toml", job);
    folder.run(&["write", "job.toml"]).success().out_has("Garage: barrier, Patio: clear-epoxy");
    folder.run(&["prepare", "job.toml"]).success();
    let shop = names(&folder, "shop-only");
    let sheets = shop.iter().filter(|name| name.contains("crew-sheet")).count();
    assert_eq!(sheets, 2, "{shop:?}");
    assert!(folder.read("shop-only/2026-0174-buying-list-r1.csv").contains("barrier clear-epoxy"));
    folder.run(&["prepare", "job.toml", "--floor", "barrier"]).code(2).err_has("job of one space");
    folder.run(&["write", "job.toml", "--paper", "care", "--draft"]).success();
}
