//! Announced changes of prices, and edits of a book.

use super::{ASK, LETTER, job, shop};
use crate::documents::files;
use crate::fixture::Folder;
use std::fs;

/// 276.00 x 1.045 = 288.42, by hand.
#[test]
fn a_change_is_for_papers_of_its_day_and_later_and_reaches_every_result() {
    let folder = Folder::new();
    let book = folder.read("book.toml") + LETTER;
    let folder = folder.write("book.toml", book);
    let list = |folder: &Folder, out: &str| {
        folder.run(&["prepare", "job.toml", "--floor", "barrier", "--out", out]).success();
        let name = files(folder, out).into_iter().find(|name| name.ends_with(".csv")).unwrap();
        folder.read(&format!("{out}/{name}"))
    };
    assert!(list(&folder, "before").contains(",276.00,"));
    let plain = folder.run(&["estimate", "job.toml"]).success().stdout();
    let folder = folder.replace("job.toml", "\ndate = 2026-05-12", "\ndate = 2026-05-20");
    let list = list(&folder, "after");
    assert!(list.contains(",288.42,") && !list.contains(",276.00,"), "{list}");
    // Made-up Coatings announced nothing.
    assert!(list.contains(",252.00,"), "{list}");
    assert_ne!(folder.run(&["estimate", "job.toml"]).success().stdout(), plain);
}

#[test]
fn prices_are_asked_for_a_day_and_papers_of_an_earlier_one_are_not_written_with_them() {
    let folder = shop(&[("a/job.toml", job("A"))]);
    let book = folder.read("book.toml") + LETTER;
    let folder = folder.write("new.toml", book);
    let ask = |on: &str, more: &[&str]| {
        folder.run(&[&["reprice", "jobs", "--book", "new.toml", "--on", on], more].concat())
    };
    ask("2026-05-19", &["--dry-run"]).success().out_has("no open one changes");
    ask("2026-05-20", &["--dry-run"]).success().out_has("barrier-epoxy price");
    ask("2026-05-20", &[]).code(3).out_has("for papers of a later day than 2026-05-12");
    assert!(!folder.path("jobs/a/papers").exists());

    // With a new date the job file says it, and its comments stay.
    let before = folder.read("jobs/a/job.toml");
    ask("2026-05-20", &["--new-date"]).success().out_has("1 paper written");
    let after = folder.read("jobs/a/job.toml");
    assert_eq!(after, before.replace("date = 2026-05-12", "date = 2026-05-20"));
    assert_eq!(files(&folder, "jobs/a/papers"), ["A-proposal-r1.pdf"]);
    // `write` with that book agrees.
    let write = folder.run(&["write", "jobs/a/job.toml", "--book", "new.toml"]).success();
    write.out_has("unchanged: ");
}

#[test]
fn a_date_that_was_set_in_vain_is_set_back() {
    let photo = "\n[[photo]]\nfile = \"gone.jpg\"\ncaption = \"Gone\"\n";
    let folder = shop(&[("a/job.toml", job("A") + photo)]);
    let before = folder.read("jobs/a/job.toml");
    folder.run(&[&ASK[..], &["--new-date"]].concat()).code(3);
    assert_eq!(folder.read("jobs/a/job.toml"), before);
    assert_eq!(files(&folder, "jobs/a"), ["job.toml"]);
}

/// A job that is a link is edited where it lies, and the link stays.
#[cfg(unix)]
#[test]
fn a_new_date_goes_through_a_link() {
    let folder = shop(&[("a/real.toml", job("A"))]);
    let link = folder.path("jobs/a/job.toml");
    std::os::unix::fs::symlink("real.toml", &link).unwrap();
    let before = folder.read("jobs/a/real.toml");
    let ask =
        ["reprice", "jobs/a/job.toml", "--book", "new.toml", "--on", "2026-05-20", "--new-date"];
    folder.run(&ask).success().out_has("1 paper written");
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_ne!(folder.read("jobs/a/real.toml"), before);
}

const CHANGE: [&str; 7] =
    ["book", "change", "book.toml", "--supplier", "Invented Resins", "--from", "2026-05-20"];

#[test]
fn a_change_is_added_at_the_end_and_nothing_else_is_touched() {
    let folder = Folder::new();
    let before = folder.read("book.toml");
    folder.run(&[&CHANGE[..], &["--percent", "+4.5 %", "--in-place"]].concat()).success().out_has(
        "wrote book.toml: +4.5 % on all of Invented Resins, for papers of 2026-05-20 and later",
    );
    assert_eq!(folder.read("book.toml"), before + LETTER);
    folder
        .run(&[
            "book",
            "change",
            "book.toml",
            "--from",
            "2026-06-01",
            "--amount",
            "-$1",
            "--in-place",
        ])
        .success();
    let end = "\n[[change]]\nfrom = 2026-06-01\namount = \"-$1\"\n";
    assert!(folder.read("book.toml").ends_with(&(LETTER.to_owned() + end)));
    folder.run(&["check", "job.toml"]).code(1);
}

/// By hand: 276.00 x 1.045 = 288.42, 1290.00 x 1.045 = 1348.05, 198.00 x 1.045 = 206.91.
#[test]
fn settling_works_due_changes_into_the_prices_and_keeps_every_comment() {
    let folder = Folder::new();
    let plain = folder.read("book.toml");
    let end = "\n# The letter of May.\n[[change]]\n# read twice\nfrom = 2026-05-20   # a Wednesday\n\
               supplier = \"Invented Resins\"\npercent = \"+4.5 %\"\n\n# The letter of June.\n\
               [[change]]\nfrom = 2026-06-20\npercent = \"+1 %\"\n";
    let folder = folder.write("book.toml", plain.clone() + end);
    folder
        .run(&["book", "settle", "book.toml", "--on", "2026-06-01", "--to", "settled.toml"])
        .success()
        .out_has("wrote settled.toml: 1 change worked into 10 prices of kits");
    let settled = folder.read("settled.toml");
    for (old, new) in [("$276.00", "$288.42"), ("$1,290.00", "$1,348.05"), ("$198.00", "$206.91")] {
        assert!(plain.contains(old) && settled.contains(new) && !settled.contains(old), "{new}");
    }
    // Made-up Coatings announced nothing.
    assert!(settled.contains("$252.00"));
    for line in plain.lines().filter(|line| !line.contains("price =")) {
        assert!(settled.contains(line), "{line}");
    }
    for comment in
        ["# The letter of May.", "# read twice", "# a Wednesday", "# The letter of June."]
    {
        assert_eq!(settled.matches(comment).count(), 1, "{comment}\n{settled}");
    }
    assert_eq!(settled.matches("\n[[change]]").count(), 1);
    assert!(settled.find("letter of June") > settled.find("a Wednesday"));
    // The book itself is as it was.
    assert_eq!(folder.read("book.toml"), plain + end);
    folder
        .run(&["book", "settle", "settled.toml", "--on", "2026-06-01", "--in-place"])
        .success()
        .out_has("no change of settled.toml is due by 2026-06-01; nothing was written");
}

#[test]
fn lists_in_brackets_bare_numbers_and_line_ends_are_kept() {
    let folder = Folder::new();
    let book = folder.read("book.toml").replace("\"$276.00\"", "276.00").replace('\n', "\r\n");
    let list =
        "change = [\r\n  # the letter\r\n  { from = 2026-05-20, percent = \"+4.5 %\" },\r\n]\r\n";
    let book = book.replacen("currency = ", &format!("{list}currency = "), 1);
    let folder = folder.write("book.toml", &book);
    folder
        .run(&[
            "book",
            "change",
            "book.toml",
            "--from",
            "2026-07-01",
            "--percent",
            "-2 %",
            "--in-place",
        ])
        .success();
    folder.run(&["check", "job.toml"]).code(1);
    folder
        .run(&["book", "settle", "book.toml", "--on", "2026-06-01", "--in-place"])
        .success()
        .out_has("1 change worked into 19 prices of kits");
    let settled = folder.read("book.toml");
    assert!(settled.contains("price = 288.42 }"), "{settled}");
    assert!(settled.contains("# the letter"));
    assert!(settled.contains("-2 %") && !settled.contains("+4.5 %\" },"));
    assert_eq!(settled.matches('\n').count(), settled.matches("\r\n").count());
}

#[test]
fn a_book_is_written_only_where_it_was_said_and_only_when_it_loads() {
    let folder = Folder::new();
    let before = folder.read("book.toml");
    let change = |more: &[&str]| folder.run(&[&CHANGE[..], more].concat());
    change(&["--percent", "+4.5 %"]).code(2).err_has("--in-place");
    change(&["--percent", "+4.5 %", "--to", "shop.toml"])
        .code(5)
        .err_has("shop.toml is there already");
    change(&["--percent", "+4.5 %", "--to", "book.toml"]).code(5).err_has("`--in-place`");
    change(&["--percent", "4.5 %", "--in-place"])
        .code(2)
        .err_has("`--percent` does not say up or down: `4.5 %`")
        .err_has("write `\"+4.5 %\"` or `\"-4.5 %\"`");
    change(&["--amount", "-$200", "--in-place"]).code(2).err_has("below zero");
    change(&["--in-place"]).code(2);
    let unknown =
        ["book", "change", "book.toml", "--product", "barier-epoxy", "--from", "2026-05-20"];
    folder
        .run(&[&unknown[..], &["--percent", "+1 %", "--in-place"]].concat())
        .code(2)
        .err_has("did you mean `\"barrier-epoxy\"`?");
    assert_eq!(folder.read("book.toml"), before);
    let broken = folder.replace("book.toml", "currency = \"USD\"", "currency = \"shells\"");
    broken
        .run(&["book", "settle", "book.toml", "--on", "2026-06-01", "--in-place"])
        .code(2)
        .err_has("`currency` is `shells`");
}

#[cfg(unix)]
#[test]
fn a_book_that_is_a_link_stays_one() {
    let folder = Folder::new();
    fs::create_dir(folder.path("books")).unwrap();
    fs::rename(folder.path("book.toml"), folder.path("books/ours.toml")).unwrap();
    std::os::unix::fs::symlink("books/ours.toml", folder.path("book.toml")).unwrap();
    folder.run(&[&CHANGE[..], &["--percent", "+4.5 %", "--in-place"]].concat()).success();
    assert!(fs::symlink_metadata(folder.path("book.toml")).unwrap().is_symlink());
    assert!(folder.read("books/ours.toml").ends_with(LETTER));
}
