//! A price that is far from that of similar jobs is asked about by `check`, and held up by nothing.

use crate::fixture::{Folder, Ran};

/// Three jobs whose papers were written, and a fourth beside them, on a book whose wage is `wage`.
fn beside_three(wage: &str) -> Ran {
    let one = Folder::tested();
    let job = one.read("job.toml");
    let mut folder = Folder::empty()
        .write("book.toml", one.read("book.toml"))
        .write("shop.toml", one.read("shop.toml"))
        .write("logo.png", one.bytes("logo.png"));
    for number in 1..=4 {
        let own = job.replace("2026-0170", &format!("2026-020{number}"));
        folder = folder.write(&format!("jobs/{number}/job.toml"), own);
    }
    for number in 1..=3 {
        folder.run(&["write", &format!("jobs/{number}/job.toml")]).success();
    }
    let book = folder.read("book.toml").replace("\"$32.00/h\"", &format!("\"{wage}\""));
    let folder = folder.write("dear.toml", book);
    folder.run(&["check", "jobs/4/job.toml", "--book", "dear.toml"])
}

#[test]
fn a_price_far_from_that_of_similar_jobs_is_asked_about() {
    // A decimal point that slipped: $320 in place of $32 an hour.
    let slip = beside_three("$320.00/h");
    let said = slip.stderr().replace('\u{a0}', " ");
    for words in ["barrier costs $", "a sq ft here, and $", "in the middle of 3 similar jobs"] {
        assert!(said.contains(words), "no `{words}` in {said}");
    }
    // It is no finding: the summary stays the last line, and the code is that of the findings.
    let same = beside_three("$32.00/h");
    assert!(!same.stderr().contains("similar jobs"), "{}", same.stderr());
    assert_eq!(slip.stdout().lines().last(), same.stdout().lines().last());
}
