//! Blank files, written where there is no terminal.

use crate::fixture::{Folder, run_in};
use slableaf::read::keys;

#[test]
fn a_blank_job_has_the_next_free_number() {
    let folder = Folder::of("smallest");
    folder.run(&["new", "jobs/one", "--blank"]).success();
    folder.run(&["new", "jobs/two", "--blank"]).success();
    let number = |path: &str| {
        let text = folder.read(path);
        text.lines().find(|line| line.starts_with("number = ")).unwrap().to_owned()
    };
    let (one, two) = (number("jobs/one/job.toml"), number("jobs/two/job.toml"));
    assert!(one.ends_with("-0001\"  # <--") && two.ends_with("-0002\"  # <--"), "{one}, {two}");
}

#[test]
fn a_file_that_is_there_is_never_changed() {
    let folder = Folder::of("smallest");
    let before = folder.read("job.toml");
    let ran =
        folder.run(&["new"]).code(5).err_has("job.toml is there already; nothing was written");
    ran.err_has("`slableaf check job.toml` looks at it");
    assert_eq!(folder.read("job.toml"), before);
    folder.run(&["new", "shop"]).code(5).err_has("shop.toml is there already");
    folder.run(&["new", "book", "--blank"]).code(5).err_has("`slableaf new book FILE`");
    folder.run(&["new", "book.toml"]).code(2).err_has("`slableaf new book book.toml` starts one");
}

/// Nobody is there to be asked: a blank file with its comments, and the schema at the shop's root.
#[test]
fn without_a_terminal_it_writes_templates_that_load() {
    let folder = Folder::of("smallest");
    for (arguments, name, kind, way) in [
        (vec!["new", "visits/quill"], "visits/quill/job.toml", keys::FileKind::Job, "../../"),
        (vec!["new", "second.toml"], "second.toml", keys::FileKind::Job, "./"),
        (vec!["new", "shop", "own"], "own/shop.toml", keys::FileKind::Shop, "./"),
        (
            vec!["new", "book", "own/prices.toml", "--blank"],
            "own/prices.toml",
            keys::FileKind::Book,
            "./",
        ),
    ] {
        folder.run(&arguments).success().out_has(&format!("wrote {name}\n"));
        let text = folder.read(name);
        // A job has a number of its own in it.
        let blank = keys::template(kind);
        let numbered = text.lines().find(|line| line.starts_with("number = ")).unwrap_or_default();
        let same = |line: &&str| !line.starts_with("number = ") && !line.starts_with("#:schema ");
        assert!(text.lines().filter(same).eq(blank.lines().filter(same)));
        assert_eq!(numbered.is_empty(), kind != keys::FileKind::Job);
        // The first line leads from the file to its schema, which stands once for all jobs.
        let schema = format!("{way}{}", kind.schema_file());
        assert_eq!(text.lines().next(), Some(format!("#:schema {schema}").as_str()));
        let schema = folder.path(name).with_file_name(schema);
        assert_eq!(std::fs::read_to_string(schema).unwrap(), keys::schema_text(kind));
    }
    assert!(!folder.path("visits/quill/job.schema.json").exists());
    folder.run(&["write", "visits/quill/job.toml", "--draft"]).success();
}

/// Three blank files go together: a job with every floor that ships makes a paper that says that all is
/// invented.
#[test]
fn blank_files_work_together() {
    let folder = Folder::empty();
    folder.run(&["new", "book", "--blank"]).success().out_has("next: slableaf new shop\n");
    folder.run(&["new", "shop", "--blank"]).success().out_has("next: slableaf new\n");
    folder.run(&["new", "visit", "--blank"]).success();
    let offer = "offer = [\"barrier\", \"fast-cure\"]";
    let all = "offer = [\"barrier\", \"fast-cure\", \"clear-epoxy\", \"water-kit\"]";
    let job = folder.read("visit/job.toml");
    assert!(job.contains(offer));
    let cracked = "\n[[crack]]\nlength = \"9 ft\"\nwidth = \"1/8 in\"\n";
    let folder = folder.write("visit/job.toml", job.replace(offer, all) + cracked);
    folder.run(&["check", "visit/job.toml"]).code(1).out_has("first: barrier, which waits");
    folder.run(&["write", "visit/job.toml"]).success().out_has("the floor that comes first waits");
}

/// A schema of ours is brought up to date; what only has its name is somebody's.
#[test]
fn a_schema_is_renewed_and_another_file_of_its_name_is_not() {
    let schema = keys::schema_text(keys::FileKind::Job);
    let older = schema.replacen("\"type\"", "\"description\": \"older\", \"type\"", 1);
    assert_ne!(older, schema);
    for (there, after) in [(older.as_str(), schema.as_str()), ("{}", "{}"), ("\u{e9}", "\u{e9}")] {
        let folder = Folder::of("smallest").write("job.schema.json", there);
        folder.run(&["new", "new"]).success();
        assert_eq!(folder.read("job.schema.json"), after);
    }
}

/// `shop` alone is the shop file; a folder of that name is a folder.
#[test]
fn a_folder_may_be_called_as_a_kind_of_file() {
    let folder = Folder::of("smallest");
    folder.run(&["new", "./shop"]).success().out_has("wrote shop/job.toml");
    run_in(&crate::fixture::root(), &["new", "--help"]).success().out_has("Example: slableaf new");
}
