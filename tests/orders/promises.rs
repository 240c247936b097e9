//! A promise holds: what an issued paper said of prices, payments and warranty, until its own last day.

use std::process::Command;

use super::{WRITE, add};
use crate::fixture::{DAY, Folder, Ran};
use crate::readers;

/// The small job, issued on 12 May with prices that hold for thirty days.
fn issued() -> Folder {
    let folder = Folder::tested();
    folder.run(WRITE).success();
    folder
}

fn dearer(folder: Folder) -> Folder {
    folder.replace("book.toml", "margin = \"38 %\"", "margin = \"45 %\"")
}

/// Runs on a day so many days after 12 May.
fn run_after(folder: &Folder, days: u64, arguments: &[&str]) -> Ran {
    let day = (DAY.parse::<u64>().unwrap() + days * 86_400).to_string();
    let output = Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(arguments)
        .current_dir(folder.path("."))
        .env("NO_COLOR", "1")
        .env("SOURCE_DATE_EPOCH", day)
        .output()
        .unwrap();
    Ran::of(output)
}

/// Twelve May and thirty days is 11 June: the price binds on that day, and not on the next.
#[test]
fn a_price_binds_until_its_last_day() {
    let folder = dearer(issued());
    for days in [0, 30] {
        run_after(&folder, days, WRITE)
            .code(1)
            .err_has("revision 1 of 2026-05-12 promises the vapor-barrier floor for ")
            .err_has(" until 2026-06-11, and this paper asks for ")
            .err_has("`[[asked]]`");
    }
    assert!(!folder.path("papers/2026-0170-proposal-r2.pdf").exists());
    run_after(&folder, 31, WRITE).success().out_has("-r2.pdf");
}

#[test]
fn mail_and_reprice_keep_a_promise_too() {
    let folder = dearer(issued());
    folder.run(&["mail", "job.toml"]).code(1).err_has("promises the vapor-barrier floor");
    let said = folder.run(&["reprice", "."]).success();
    said.out_has("promised");
    assert!(!folder.path("papers/2026-0170-proposal-r2.pdf").exists());
}

#[test]
fn a_later_revision_cannot_shorten_a_promise() {
    let folder = issued();
    let folder = folder.replace("book.toml", "margin = \"38 %\"", "margin = \"37 %\"").replace(
        "book.toml",
        "hold-days = 30",
        "hold-days = 5",
    );
    folder.run(WRITE).success().out_has("-r2.pdf");
    let folder = folder.replace("book.toml", "margin = \"37 %\"", "margin = \"45 %\"");
    // Both run: the lower one binds.
    folder.run(WRITE).code(1).err_has("revision 2 of 2026-05-12").err_has("until 2026-05-17");
    // Revision 2 has ended, revision 1 has not.
    run_after(&folder, 6, WRITE)
        .code(1)
        .err_has("revision 1 of 2026-05-12")
        .err_has("until 2026-06-11");
    run_after(&folder, 31, WRITE).success().out_has("-r3.pdf");
}

#[test]
fn only_the_customers_own_change_lets_a_price_rise_and_is_printed() {
    let asked = |on: &str| {
        format!("[[asked]]\non = {on}\nby = \"Ana Quill\"\nwhat = \"Please coat the step too\"")
    };
    let early = add(dearer(issued()), &asked("2026-05-11"));
    early.run(WRITE).code(1).err_has("revision 1 of 2026-05-12");
    let folder = add(dearer(issued()), &asked("2026-05-12"));
    folder.run(WRITE).success().out_has("-r2.pdf");
    let page = readers::pages(&folder.path("papers/2026-0170-proposal-r2.pdf")).remove(0);
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        page.contains("On May 12, 2026, Ana Quill asked for a change: “Please coat the step too”."),
        "{page}"
    );
    // It was spent: the next rise needs another.
    let folder = folder.replace("book.toml", "margin = \"45 %\"", "margin = \"47 %\"");
    folder.run(WRITE).code(1).err_has("revision 2 of 2026-05-12");
    let folder = add(folder, &asked("2026-05-12").replace("step", "curb"));
    folder.run(WRITE).success().out_has("-r3.pdf");
}

#[test]
fn payments_and_warranty_are_part_of_the_promise() {
    let folder = issued();
    let more = folder.replace("shop.toml", "share = \"10 %\"", "share = \"30 %\"").replace(
        "shop.toml",
        "share = \"40 %\"",
        "share = \"20 %\"",
    );
    more.run(WRITE).code(1).err_has("paid until 2026-06-11 by `When you sign`");
    let folder = issued();
    let shop = folder.read("shop.toml");
    let less = folder.write(
        "shop.toml",
        shop.replacen("five years", "two years", 1).replace("5 years", "2 years"),
    );
    less.run(WRITE).code(1).err_has("promises this warranty until 2026-06-11");
}

/// By hand, at a tax of 6.5 %: $10.00 come to $10.65, and $20.00 to $21.30.
#[test]
fn additions_and_the_times_of_payments_are_part_of_the_promise() {
    const GRIP: &str = "[[addition]]\nkey = \"grip\"\nname = \"Grip on the step\"\nprice = \"$10\"";
    let cases = [
        (
            ("job.toml", GRIP, ""),
            "offers Grip on the step on the vapor-barrier floor until 2026-06-11, and this paper does not",
        ),
        (
            ("job.toml", "price = \"$10\"", "price = \"$20\""),
            "promises Grip on the step on the vapor-barrier floor for $10.65 until 2026-06-11, and this paper asks for $21.30",
        ),
        (
            ("shop.toml", "when = \"On the first day of work\"", "when = \"A week before\""),
            "with a payment due `On the first day of work`, and on this paper it is due `A week before`",
        ),
    ];
    for ((file, from, to), said) in cases {
        let folder = add(Folder::tested(), GRIP);
        folder.run(WRITE).success();
        let changed = folder.replace(file, from, to);
        changed.run(WRITE).code(1).err_has(said);
        assert!(!changed.path("papers/2026-0170-proposal-r2.pdf").exists(), "{said}");
    }
}

/// The dishes of 8 May are trusted for 90 days, until 6 August. A paper of 10 August would not rely on them;
/// its prices hold for 120 days here, so age alone takes nothing back.
#[test]
fn age_alone_withdraws_nothing() {
    let folder = Folder::tested().replace("book.toml", "hold-days = 30", "hold-days = 120");
    folder.run(WRITE).success();
    let folder = folder.replace("job.toml", "date = 2026-05-12", "date = 2026-08-10").replace(
        "job.toml",
        "start = 2026-05-26",
        "start = 2026-08-17",
    );
    run_after(&folder, 90, WRITE).code(1).err_has("only the later date takes it off this paper");
}

#[test]
fn a_floor_that_was_promised_stays_on_offer() {
    let folder = Folder::of("dry-and-quick");
    folder.run(WRITE).success();
    let job = folder.read("job.toml");
    let offer = job.lines().find(|line| line.starts_with("offer = ")).unwrap().to_owned();
    let folder = folder.replace("job.toml", &offer, "offer = [\"fast-cure\"]");
    folder.run(WRITE).code(1).err_has("and the job does not any more");
}

/// Offers that have ended are what `--requote expired` is for.
#[test]
fn offers_that_have_ended_are_priced_anew_on_request() {
    let folder = dearer(issued()).replace("job.toml", "plan = { start = 2026-05-26 }\n", "");
    run_after(&folder, 31, &["reprice", "."]).success().out_has("expired").out_has("0 papers");
    run_after(&folder, 31, &["reprice", ".", "--requote", "expired"]).code(2);
    run_after(&folder, 31, &["reprice", ".", "--requote", "expired", "--new-date"])
        .success()
        .out_has("wrote papers/2026-0170-proposal-r2.pdf");
    assert!(folder.read("job.toml").contains("date = 2026-06-12"));
}

#[test]
fn before_is_what_was_issued_last() {
    let folder = issued();
    let record = folder.read("records/2026-0170-proposal-r1/record.toml");
    let record: toml::Table = record.parse().unwrap();
    let floors = record["facts"]["floor"].as_array().unwrap();
    let total = floors.iter().find(|floor| floor["key"].as_str() == Some("barrier")).unwrap();
    let total = total["total"].as_integer().unwrap();
    let book = folder.read("book.toml");
    let folder = folder
        .write("new.toml", book.replacen("margin = \"38 %\"", "margin = \"36 %\"", 1))
        .replace("job.toml", "width = \"21 ft\"", "width = \"19 ft\"");
    let ask = ["reprice", ".", "--book", "new.toml", "--dry-run", "--format", "json"];
    let form = folder.run(&ask).success().stdout();
    let form: serde_json::Value = serde_json::from_str(&form).unwrap();
    let floors = form["jobs"][0]["floors"].as_array().unwrap();
    let floor = floors.iter().find(|floor| floor["floor"] == "barrier").unwrap();
    let before = floor["before"].as_str().unwrap().replace('.', "");
    assert_eq!(before.parse::<i64>().unwrap(), total);
}
