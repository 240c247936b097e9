//! When prices change: many jobs below a folder held against another book, announced changes, and
//! edits of a book. Spreadsheets are read back by the crate `csv`.

use std::fs;

use serde_json::Value;
use slableaf::results::reprice::RepriceForm;
use slableaf::results::schema;

use crate::checker::keeps_to;
use crate::documents::files;
use crate::fixture::{Folder, Ran};

const LETTER: &str =
    "\n[[change]]\nfrom = 2026-05-20\nsupplier = \"Invented Resins\"\npercent = \"+4.5 %\"\n";

/// The smallest example, which has no photos, under a number of its own.
fn job(number: &str) -> String {
    Folder::of("smallest").read("job.toml").replace("2026-0170", number)
}

/// A shop's folder with jobs below `jobs` and a dearer book `new.toml` beside the book.
fn shop(jobs: &[(&str, String)]) -> Folder {
    let folder = Folder::of("smallest");
    let dearer = folder.read("book.toml").replace("$276.00", "$290.00");
    let folder = folder.write("new.toml", dearer);
    jobs.iter().fold(folder, |folder, (path, text)| folder.write(&format!("jobs/{path}"), text))
}

/// One job in each state there is.
fn of_every_state() -> Folder {
    let accepted =
        job("A-2") + "\n[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-14\n";
    let expired = job("A-3")
        .replace("date = 2026-05-12", "date = 2026-04-12")
        .replace("measured = 2026-05-08", "measured = 2026-04-08");
    let stopped = Folder::of("too-wet-yet").read("job.toml").replace("2026-0158", "A-4");
    let stopped = stopped.split("[[photo]]").next().unwrap().to_owned();
    shop(&[
        ("a/job.toml", job("A-1")),
        ("b/job.toml", accepted),
        ("c/job.toml", expired),
        ("d/job.toml", stopped),
        ("e/job.toml", job("A-5").replace("units = \"us\"", "units = \"imperial\"")),
    ])
}

const ASK: [&str; 6] = ["reprice", "jobs", "--book", "new.toml", "--on", "2026-05-20"];

fn dry(folder: &Folder, more: &[&str]) -> Ran {
    folder.run(&[&ASK[..], &["--dry-run"], more].concat())
}

fn json(ran: &Ran) -> Value {
    serde_json::from_str(&ran.stdout()).unwrap()
}

fn cents(value: &Value) -> i64 {
    value.as_str().unwrap().replace('.', "").parse().unwrap()
}

// --------------------------------------------------------------------------------- what is said

#[test]
fn a_line_for_each_job_says_old_and_new_price_cause_and_state() {
    let said = dry(&of_every_state(), &[]).code(3).stdout().replace('\u{A0}', " ");
    let line = |start: &str| said.lines().find(|line| line.trim().starts_with(start)).unwrap();
    let words = |line: &str| line.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    let head = "job number before after change cause valid until state";
    assert_eq!(words(line("job ")), words(head));
    let open = line("jobs/a/job.toml");
    assert_eq!(
        words(open),
        words(
            "jobs/a/job.toml A-1 $5,186.55 $5,266.43 +$79.88 \
             barrier-epoxy price (3 gal) +$82.96, and 1 more 2026-06-11 open"
        )
    );
    for (path, state) in [
        ("a", "open"),
        ("b", "accepted"),
        ("c", "expired"),
        ("d", "stop found"),
        ("e", "could not be read"),
    ] {
        let line = line(&format!("jobs/{path}/job.toml"));
        assert!(line.ends_with(state), "{line}");
    }
    let trouble = line("trouble: jobs/e/job.toml:");
    assert!(trouble.contains("`units` is `imperial`"), "{trouble}");
    assert_eq!(
        said.lines().last().unwrap(),
        "5 jobs: 1 open, 1 accepted, 1 expired, 1 stop found, 1 could not be read; \
         1 of the open change, by +$79.88 together; nothing was written"
    );
}

#[test]
fn a_dry_run_writes_nothing() {
    let folder = of_every_state();
    let before = files(&folder, ".");
    dry(&folder, &[]).code(3);
    assert_eq!(files(&folder, "."), before);
    for path in ["a", "b", "c", "d", "e"] {
        assert_eq!(files(&folder, &format!("jobs/{path}")), ["job.toml"]);
    }
}

#[test]
fn the_same_book_changes_no_job() {
    let folder = shop(&[("a/job.toml", job("A-1")), ("b/job.toml", job("A-2"))]);
    folder
        .run(&["reprice", "jobs", "--book", "book.toml", "--on", "2026-05-20", "--dry-run"])
        .success()
        .out_has("2 jobs: 2 open; no open one changes; nothing was written");
}

#[test]
fn causes_of_every_floor_add_up_in_json_and_keep_to_the_schema() {
    let folder = of_every_state();
    let result = json(&dry(&folder, &["--format", "json"]).code(3));
    keeps_to(&result, &schema::<RepriceForm>().to_value(), "reprice");
    let printed: Value =
        serde_json::from_str(&folder.run(&["schema", "reprice"]).success().stdout()).unwrap();
    assert_eq!(printed, schema::<RepriceForm>().to_value());
    let mut floors = 0;
    for job in result["jobs"].as_array().unwrap() {
        for floor in job["floors"].as_array().unwrap() {
            let causes = floor["causes"].as_array().unwrap();
            let sum: i64 = causes.iter().map(|cause| cents(&cause["change"])).sum();
            assert_eq!(sum, cents(&floor["change"]), "{floor}");
            assert_eq!(sum, cents(&floor["after"]) - cents(&floor["before"]), "{floor}");
            floors += 1;
        }
    }
    assert!(floors >= 3, "{floors}");
    let summary = &result["summary"];
    assert_eq!(summary["jobs"], 5);
    assert_eq!((&summary["open"], &summary["unreadable"]), (&1.into(), &1.into()));
    // The sum is that of the open job alone.
    let open = &result["jobs"][0];
    let floor = open["floors"].as_array().unwrap().iter();
    let main = floor.clone().find(|f| f["floor"] == open["recommended_before"]).unwrap();
    assert_eq!(summary["change"][0]["change"], main["change"]);
}

#[test]
fn a_spreadsheet_has_the_same_figures_and_runs_no_formula() {
    let folder = shop(&[("=1+1/job.toml", job("A-1")), ("b/job.toml", job("A-2"))]);
    let ask = |format| {
        let ask = ["reprice", ".", "--book", "new.toml", "--on", "2026-05-20", "--dry-run"];
        fs::rename(folder.path("jobs/=1+1"), folder.path("=1+1")).ok();
        folder.run(&[&ask[..], &["--format", format]].concat()).success()
    };
    let result = json(&ask("json"));
    let text = ask("csv").stdout();
    assert!(text.lines().all(|line| !line.starts_with('=')), "{text}");
    assert!(text.contains("'=1+1/job.toml"), "{text}");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().unwrap().clone();
    let at = |name: &str| head.iter().position(|column| column == name).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let floors =
        result["jobs"].as_array().unwrap().iter().flat_map(|job| {
            job["floors"].as_array().unwrap().iter().map(move |floor| (job, floor))
        });
    for (row, (job, floor)) in rows.iter().zip(floors) {
        assert_eq!(row[at("job")], *job["job"].as_str().unwrap());
        for name in ["floor", "before", "after", "change"] {
            assert_eq!(row[at(name)], *floor[name].as_str().unwrap());
        }
        let named = row[at("causes")].split("; ").filter(|cause| !cause.is_empty());
        let sum: i64 = named
            .map(|cause| cause.rsplit(' ').next().unwrap().replace('.', "").parse::<i64>().unwrap())
            .sum();
        assert_eq!(sum, cents(&floor["change"]), "{row:?}");
    }
}

// --------------------------------------------------------------------------------- which jobs

#[test]
fn jobs_are_found_where_they_are_and_nowhere_else() {
    let folder = shop(&[
        ("b/job.toml", job("B")),
        ("a/visit.toml", job("A")),
        ("a/deep/er/job.toml", job("D")),
        (".hidden/job.toml", job("X1")),
        ("records/r/inputs/job.toml", job("X2")),
        ("a/papers/job.toml", job("X3")),
        ("layouts/job.toml", job("X4")),
        ("systems/job.toml", job("X5")),
        ("a/shop-only/job.toml", job("X6")),
        ("notes.toml", "number = \"X7\"\ncustomer = \"a name\"\n".into()),
    ]);
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(folder.path("jobs/b"), folder.path("jobs/link")).unwrap();
        std::os::unix::fs::symlink(folder.path("jobs/b/job.toml"), folder.path("jobs/l.toml"))
            .unwrap();
    }
    let result = json(&dry(&folder, &["--format", "json"]).success());
    let jobs = result["jobs"].as_array().unwrap();
    let paths: Vec<&str> = jobs.iter().map(|job| job["path"].as_str().unwrap()).collect();
    assert_eq!(paths, ["jobs/a/deep/er/job.toml", "jobs/a/visit.toml", "jobs/b/job.toml"]);
}

#[test]
fn a_folder_without_jobs_and_a_book_that_does_not_load_are_refused_at_once() {
    let folder = shop(&[]);
    fs::create_dir(folder.path("jobs")).unwrap();
    dry(&folder, &[]).code(2).err_has("there is no job to work on");
    let folder = shop(&[("a/job.toml", job("A"))]).replace("new.toml", "wage = ", "wag = ");
    dry(&folder, &[]).code(2).err_has("new.toml").err_has("`wage` is missing in [labor]");
    dry(&folder.write("new.toml", ""), &[]).code(2);
}

#[test]
fn one_broken_job_stops_no_other() {
    let folder = shop(&[
        ("a/job.toml", "number = \"A\"\n[customer\n".into()),
        ("b/job.toml", job("B").replace("offer = [", "offer = [\"marble\", ")),
        ("c/job.toml", job("C")),
        ("d/job.toml", job("D").replace("length = \"22 ft 6 in\"", "length = \"90000 ft\"")),
    ]);
    fs::create_dir_all(folder.path("jobs/e")).unwrap();
    fs::write(folder.path("jobs/e/job.toml"), [0xFF, 0xFE, 0x00]).unwrap();
    let said = dry(&folder, &[]).code(3).stdout();
    assert!(said.contains("trouble: jobs/a/job.toml:2: not TOML"), "{said}");
    assert!(said.contains("trouble: jobs/b/job.toml:"), "{said}");
    assert!(said.contains("no system is called `marble`"), "{said}");
    assert!(said.contains("trouble: jobs/e/job.toml is not UTF-8 text"), "{said}");
    assert!(said.contains("1 open"), "{said}");
}

#[test]
fn every_job_takes_the_book_and_the_shop_nearest_to_it() {
    let folder = shop(&[("a/job.toml", job("A")), ("b/job.toml", job("B"))]);
    let dear = folder.read("book.toml").replace("\"$276.00\"", "\"$500.00\"");
    let folder = folder.write("jobs/b/book.toml", dear);
    let result = json(&dry(&folder, &["--format", "json"]).success());
    let (a, b) = (&result["jobs"][0], &result["jobs"][1]);
    assert!(cents(&a["floors"][0]["change"]) > 0);
    assert!(cents(&b["floors"][0]["change"]) < 0);
    assert_eq!(a["floors"][0]["after"], b["floors"][0]["after"]);
}

/// So many jobs, all of other sizes, their folders in no order.
fn many(count: usize) -> Folder {
    (0..count).fold(shop(&[]), |folder, at| {
        let length = format!("length = \"{} in\"", 180 + at % 331);
        let width = format!("width = \"{} in\"", 180 + at % 241);
        let text = job(&format!("M-{at}"))
            .replace("length = \"22 ft 6 in\"", &length)
            .replace("width = \"21 ft\"", &width);
        folder.write(&format!("jobs/{:05}/job.toml", (at * 37) % count), text)
    })
}

/// Many jobs at once give what each gives alone, in the order of the paths.
#[test]
fn many_jobs_give_what_each_gives_alone() {
    let folder = many(60);
    let all = json(&dry(&folder, &["--format", "json"]).success());
    let all = all["jobs"].as_array().unwrap();
    assert_eq!(all.len(), 60);
    assert!(all.is_sorted_by_key(|job| job["path"].as_str().unwrap().to_owned()));
    for at in [0, 17, 59] {
        let alone = format!("jobs/{at:05}");
        let ask = ["reprice", &alone, "--book", "new.toml", "--on", "2026-05-20", "--dry-run"];
        let one = json(&folder.run(&[&ask[..], &["--format", "json"]].concat()).success());
        assert_eq!(one["jobs"][0], all[at]);
    }
}

/// To be run by hand, with `-- --ignored`: a whole network of shops.
#[test]
#[ignore = "makes 10,000 files"]
fn ten_thousand_jobs_are_repriced_in_one_run() {
    let folder = many(10_000);
    dry(&folder, &[]).success().out_has("10000 jobs: 10000 open; 10000 of the open change");
}

#[test]
fn a_book_in_another_currency_is_no_book_for_an_offer() {
    let folder = shop(&[("a/job.toml", job("A"))]);
    let euro = folder.read("book.toml").replace("\"USD\"", "\"EUR\"").replace('$', "");
    dry(&folder.write("new.toml", euro), &[])
        .code(3)
        .out_has("was offered in USD, and the new book is in EUR");
}

// ------------------------------------------------------------------------- what was issued last

fn with_record(folder: Folder, revision: u32, price: &str) -> Folder {
    let inputs = format!("jobs/a/records/A-proposal-r{revision}/inputs");
    let book = folder.read("book.toml").replace("$276.00", price);
    let (job, shop) = (folder.read("jobs/a/job.toml"), folder.read("shop.toml"));
    folder
        .write(&format!("{inputs}/job.toml"), job)
        .write(&format!("{inputs}/book.toml"), book)
        .write(&format!("{inputs}/shop.toml"), shop)
}

#[test]
fn without_a_new_book_a_job_is_held_against_the_record_of_its_latest_paper() {
    let ask = ["reprice", "jobs", "--on", "2026-05-20", "--dry-run", "--format", "json"];
    let folder = shop(&[("a/job.toml", job("A"))]);
    let result = json(&folder.run(&ask).success());
    assert_eq!(result["jobs"][0]["compared"], false);
    assert!(result["jobs"][0]["floors"][0]["before"].is_null());
    folder.run(&ask[..5]).success().out_has("open, never issued");

    let folder = with_record(with_record(folder, 9, "$270.00"), 10, "$262.00");
    let result = json(&folder.run(&ask).success());
    let floor = &result["jobs"][0]["floors"][0];
    // Three kits, of r10 and not of r9: 3 x $14.00 as in the hand-worked case of the laws.
    let cause = &floor["causes"][0];
    assert_eq!(cause["product"], "barrier-epoxy");
    assert!((cents(&cause["change"]) - 8297).abs() <= 1, "{cause}");

    let folder = with_record(folder, 11, "$276.00");
    folder.run(&ask[..5]).success().out_has("no open one changes");
    let broken = folder.write("jobs/a/records/A-proposal-r11/inputs/book.toml", "name = 1");
    broken.run(&ask[..5]).code(3).out_has("trouble: jobs/a/records/A-proposal-r11/inputs/");
}

// ------------------------------------------------------------------------------------- writing

#[test]
fn open_jobs_get_a_new_paper_and_no_others_do() {
    // What is accepted was issued first.
    let folder = of_every_state();
    let accepted = folder.read("jobs/b/job.toml");
    let folder = folder.write("jobs/b/job.toml", job("A-2"));
    for path in ["a", "b", "c"] {
        folder.run(&["write", &format!("jobs/{path}/job.toml")]).success();
    }
    let folder = folder.write("jobs/b/job.toml", accepted);
    let sent = folder.bytes("jobs/a/papers/A-1-proposal-r1.pdf");
    folder
        .run(&ASK)
        .code(3)
        .out_has("wrote jobs/a/papers/A-1-proposal-r2.pdf")
        .out_has("1 paper written");
    assert_eq!(files(&folder, "jobs/a/papers"), ["A-1-proposal-r1.pdf", "A-1-proposal-r2.pdf"]);
    assert_eq!(folder.bytes("jobs/a/papers/A-1-proposal-r1.pdf"), sent);
    for (path, number) in [("b", "A-2"), ("c", "A-3")] {
        let papers = files(&folder, &format!("jobs/{path}/papers"));
        assert_eq!(papers, [format!("{number}-proposal-r1.pdf")]);
    }
    assert!(!folder.path("jobs/d/papers").exists());
    // A second run finds all done.
    folder.run(&ASK).code(3).out_has("0 papers written");
}

#[test]
fn a_paper_that_cannot_be_written_leaves_the_others_alone_and_json_clean() {
    let photo = "\n[[photo]]\nfile = \"gone.jpg\"\ncaption = \"Gone\"\n";
    let folder = shop(&[("a/job.toml", job("A") + photo), ("b/job.toml", job("B"))]);
    let ran = folder.run(&[&ASK[..], &["--format", "json"]].concat()).code(3);
    let result = json(&ran);
    assert!(
        result["jobs"][0]["trouble"]
            .as_str()
            .unwrap()
            .contains("the picture `gone.jpg` is not there")
    );
    assert!(result["jobs"][0]["written"].is_null());
    assert_eq!(result["jobs"][1]["written"], "jobs/b/papers/B-proposal-r1.pdf");
    assert_eq!(result["summary"]["written"], 1);
    assert!(!folder.path("jobs/a/papers").exists());
}

// --------------------------------------------------------------------------- announced changes

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

// ------------------------------------------------------------------------------- edits of a book

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
