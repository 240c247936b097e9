//! `book learn`: own rates and the own record from jobs that were laid; nothing is taken by itself.

use crate::fixture::Folder;

/// Hours of grinding of six jobs on one floor, and what is added to each job.
const HOURS: [&str; 6] = ["2.6", "2.4", "2.8", "2.5", "2.7", "2.6"];

fn folder(jobs: usize, more: impl Fn(usize) -> String) -> Folder {
    let mut folder = Folder::of("dry-and-quick");
    let job = folder.read("job.toml");
    let start = job.find("[[photo]]").unwrap_or(job.len());
    for (n, hours) in HOURS.iter().take(jobs).enumerate() {
        let head = job[..start].replace("number = \"2026-0151\"", &format!("number = \"L-{n}\""));
        let text = format!(
            "{head}\n[accepted]\nrevision = 1\nfloor = \"fast-cure\"\non = 2026-06-05\n\n\
             [[worked]]\ntask = \"grind\"\nhours = \"{hours} h\"\narea = \"480 sq ft\"\n\n\
             [[laid]]\ncoat = \"primer\"\nstart = 2026-06-15T09:30:00\n{}",
            more(n)
        );
        folder = folder.write(&format!("jobs/job-{n}/job.toml"), text);
    }
    folder
}

/// By hand: the times are 2.4 to 2.8 h for 480 ft2, 2.6 on average, so 185 ft2/h; SciPy 1.17.1 gives
/// `stats.t.interval(0.95, 5, ...)` of 2.4516 to 2.7484 h, which is 174.6 to 195.8 ft2/h.
#[test]
fn a_rate_that_differs_is_offered_and_written_only_when_it_is_named() {
    let folder = folder(6, |_| String::new());
    let before = folder.read("book.toml");
    let learn = ["book", "learn", "book.toml", "jobs"];
    let said = folder.run(&learn).success().stdout();
    assert!(said.contains("185 ft2/h"), "{said}");
    assert!(said.contains("174 to 196"), "{said}");
    assert!(said.contains("differs from the book"), "{said}");
    assert!(said.contains("--accept grind --in-place"), "{said}");
    assert!(said.lines().all(|line| line.chars().count() <= 90), "{said}");
    assert_eq!(folder.read("book.toml"), before, "nothing is taken silently");
    folder.run(&[&learn[..], &["--accept", "grind", "--in-place"]].concat()).success();
    let after = before.replace("grind = \"260 ft2/h\"", "grind = \"185 ft2/h\"");
    assert_eq!(folder.read("book.toml"), after, "one value changes, and no comment");
    // What was taken fits from then on.
    let said = folder.run(&learn).success().stdout();
    assert!(said.contains("fits the book"), "{said}");
}

#[test]
fn few_jobs_say_their_count_and_offer_nothing() {
    let folder = folder(4, |_| String::new());
    let learn = ["book", "learn", "book.toml", "jobs"];
    let said = folder.run(&learn).success().stdout();
    assert!(said.contains("4 jobs  too few, 5 are needed"), "{said}");
    assert!(!said.contains("--accept"), "{said}");
    let accept = |rate: &str| {
        folder.run(&[&learn[..], &["--accept", rate, "--to", "new.toml"]].concat()).code(2)
    };
    accept("grind").err_has("`grind` comes from 4 jobs, and 5 are needed");
    accept("roll").err_has("these jobs have no hours for it").err_has("they have: grind");
}

#[test]
fn failures_count_only_with_their_cause() {
    let failure =
        |cause: &str| format!("\n[[failure]]\nseen = 2027-06-01\nkind = \"blister\"\n{cause}");
    let folder = folder(6, |n| match n {
        0 => failure("from-moisture = true\n"),
        1 => failure(""),
        2 => failure("from-moisture = false\n"),
        _ => String::new(),
    });
    let said = folder.run(&["book", "learn", "book.toml", "jobs"]).success().stdout();
    // SciPy 1.17.1: `stats.binomtest(1, 6).proportion_ci(0.95, "exact")` is 0.0042 to 0.6412.
    assert!(
        said.contains("jobs = 6, moisture-failures = 1, since = 2026: 0 to 65 in 100"),
        "{said}"
    );
    assert!(said.contains("1 floor more failed, cause not settled"), "{said}");
}

#[test]
fn jobs_without_hours_say_what_to_write() {
    let folder = Folder::of("dry-and-quick");
    let said = folder.run(&["book", "learn", "book.toml", "job.toml"]).success().stdout();
    assert!(said.contains("No hours were worked by these jobs: write them under `[[worked]]`"));
    assert!(said.contains("No floor of these jobs is laid"), "{said}");
}

#[test]
fn hours_without_an_amount_are_left_out_and_named() {
    let worked = |lines: &str| {
        let folder = Folder::of("dry-and-quick");
        let job = format!("{}\n[[worked]]\n{lines}\n", folder.read("job.toml"));
        folder.write("job.toml", job).run(&["book", "learn", "book.toml", "job.toml"])
    };
    for (lines, task) in [
        ("task = \"patch\"\nhours = \"2 h\"", "patch"),
        ("task = \"edge\"\nhours = \"2 h\"\narea = \"9 sq ft\"", "edge"),
    ] {
        let said = worked(lines).success().stdout();
        let wanted =
            format!("Left out, with no amount that fits the task: {task} of job 2026-0151.");
        assert!(said.contains(&wanted), "{said}");
    }
    // A broken job is told and stops no other.
    worked("task = \"grind\"\nhours = \"0 h\"").code(3).err_has("`hours` is zero");
    worked("task = \"grnd\"\nhours = \"2 h\"").code(3).err_has("did you mean `\"grind\"`?");
}
