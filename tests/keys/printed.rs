//! What `schema` prints and keeps of the keys.

use serde_json::Value;
use slableaf::read::keys::{self, FileKind};

use super::each_key;
use crate::fixture::{Folder, root, run_in};

#[test]
fn schemas_of_files_are_printed_or_kept() {
    let folder = Folder::new();
    for kind in FileKind::ALL {
        let word = kind.word();
        let printed = folder.run(&["schema", word]).success().stdout();
        assert_eq!(printed, keys::schema_text(kind));
        folder.run(&["schema", word, "--out", "schemas"]).success().out_has(&kind.schema_line(0));
        assert_eq!(folder.read(&format!("schemas/{word}.schema.json")), printed);
        assert_eq!(serde_json::from_str::<Value>(&printed).unwrap(), keys::schema(kind));
    }
    // An older one of ours is replaced, and nothing else is.
    let older = keys::schema_text(FileKind::Job).replacen(
        "\"type\"",
        "\"$comment\": \"older\", \"type\"",
        1,
    );
    let folder = folder.write("schemas/job.schema.json", older);
    folder.run(&["schema", "job", "--out", "schemas"]).success();
    assert_eq!(folder.read("schemas/job.schema.json"), keys::schema_text(FileKind::Job));
    let folder = folder.write("schemas/job.schema.json", "{}");
    folder.run(&["schema", "job", "--out", "schemas"]).code(5).err_has("is no schema of slableaf");
    assert_eq!(folder.read("schemas/job.schema.json"), "{}");
    folder.run(&["schema", "results", "--out", "schemas"]).code(2);
    folder.run(&["schema", "results", "--format", "markdown"]).code(2);
}

#[test]
fn the_reference_tells_of_every_key() {
    for kind in FileKind::ALL {
        let reference =
            run_in(&root(), &["schema", kind.word(), "--format", "markdown"]).success().stdout();
        each_key(kind, &mut |key| {
            let said = key.what.replace('|', "\\|");
            assert!(reference.contains(&format!("| {said} |")), "{}: {}", kind.word(), key.name);
        });
        for line in reference.lines().filter(|line| line.starts_with('|')) {
            assert_eq!(line.replace("\\|", "").matches('|').count(), 5, "{line}");
        }
    }
}
