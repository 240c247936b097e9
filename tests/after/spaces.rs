//! A handover of several spaces: each floor with its own coats, and the money of the whole.

use super::{FAILURE, HANDOVER, has, lacks};
use crate::fixture::Folder;
use crate::readers;

fn text(folder: &Folder, name: &str) -> String {
    let text = readers::text(&folder.path(name));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn each_space_has_its_own_coats() {
    let folder = crate::documents::spaces::plain_spaces();
    let number = "2026-0174";
    folder.run(&["write", "job.toml"]).success();
    let accepted = "\n[accepted]\nrevision = 1\non = 2026-06-04\n\n[accepted.floors]\nGarage = \"barrier\"\n\
                    Patio = \"fast-cure\"\n";
    let laid = "\n[[laid]]\ncoat = \"barrier\"\nspace = \"Garage\"\nstart = 2026-06-22T13:00:00\n\
                batches = [\"G-1\"]\n\n[handover]\non = 2026-06-25\n\n[[failure]]\nseen = 2026-08-01\n\
                kind = \"bloom\"\nspace = \"Patio\"\n";
    let job = folder.read("job.toml");
    let folder = folder.write("job.toml", format!("{job}{accepted}{laid}"));
    folder.run(HANDOVER).success();
    let handover = text(&folder, &format!("papers/{number}-handover-r1.pdf"));
    has(
        &handover,
        &[
            "What we laid: Garage: Vapor-barrier floor",
            "What we laid: Patio: Fast-cure floor",
            "G-1",
            "Patio: Polyurea primer: we did not write down when and how we laid it.",
        ],
    );
    lacks(&handover, &["Garage: Vapor-barrier epoxy: we did not"]);
    folder.run(&["mail", "job.toml"]).success();
    has(
        &folder.read(&format!("papers/{number}-mail-handover-r1.txt")),
        &["Your floors: handover", "Patio: Fast-cure floor: Walk on it: Not known: ask us"],
    );
    folder.run(FAILURE).success();
    has(
        &text(&folder, &format!("papers/{number}-failure-sheet-r1.pdf")),
        &["What was on record: Garage: Vapor-barrier floor", "In Patio"],
    );
    folder.run(&["verify", "job.toml"]).success();
}
