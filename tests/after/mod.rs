//! The time after the work: the handover says what was written down and never what was planned in its place; the
//! sheet for a floor that failed names no cause.

mod leaks;
mod says;
mod spaces;

use serde_json::Value;

use crate::fixture::Folder;
use crate::readers;

const HANDOVER: &[&str] = &["write", "job.toml", "--paper", "handover", "--page-data"];
const FAILURE: &[&str] = &["write", "job.toml", "--paper", "failure-sheet", "--page-data"];

/// The example of a whole story up to the signed proposal.
fn signed() -> Folder {
    let folder = Folder::of("whole-story");
    folder.run(&["write", "job.toml"]).success().out_has("recommends barrier");
    next(folder, "#: ")
}

/// The same once the change order is signed and the floor is laid, with the total that the order printed.
pub fn laid() -> (Folder, i64) {
    let folder = signed();
    let order = folder.run(&["write", "job.toml", "--paper", "change-order"]).success().stdout();
    let total = order.split("the new price is $").nth(1).unwrap().trim();
    let total = total.replace([',', '.'], "").parse().unwrap();
    (next(folder, "#2: "), total)
}

/// The text of the handover of the example.
pub fn handover_text() -> String {
    let (folder, _) = laid();
    folder.run(HANDOVER).success();
    readers::pages(&folder.path("papers/2026-0231-handover-r1.pdf")).concat()
}

/// Takes a mark off the lines of a step.
fn next(folder: Folder, mark: &str) -> Folder {
    let job = folder.read("job.toml").replace(&format!("\n{mark}"), "\n");
    folder.write("job.toml", job)
}

fn dollars(cents: i64) -> String {
    crate::documents::on_page("$", &format!("{}.{:02}", cents / 100, cents % 100))
}

fn page(folder: &Folder, name: &str) -> Value {
    serde_json::from_str(&folder.read(&format!("papers/2026-0231-{name}.page.json"))).unwrap()
}

fn text(folder: &Folder, name: &str) -> String {
    let text = readers::text(&folder.path(&format!("papers/2026-0231-{name}.pdf")));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn has(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "no `{part}` in {text}");
    }
}

#[track_caller]
fn lacks(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(!text.contains(part), "`{part}` in {text}");
    }
}

/// The shipped example, step by step as its head says. Of the money: $462.21 and $1,848.84 were received.
#[test]
fn the_example_can_be_followed() {
    let (folder, total) = laid();
    // The strip takes a larger kit than was bought for the rest, and the order says so.
    has(
        &text(&folder, "change-order-r1"),
        &["It takes a further kit of material, or a larger one."],
    );
    folder.run(HANDOVER).success().out_has("2026-0231-handover-r1.pdf");
    let handover = text(&folder, "handover-r1");
    let left = total - 46_221 - 184_884;
    has(
        &handover,
        &[
            &format!("Price as agreed, with your change order {}", dollars(total)),
            "Paid on June 11, 2026 $462.21",
            "Paid on June 22, 2026 $1,848.84",
            &format!("Left to pay {}", dollars(left)),
            "It is due: When the floor is done and you have walked it with us.",
            "revision 1, on June 11, 2026, and change order 1 on June 16, 2026",
            "B-4471, B-4472",
            "T-1180",
            "(data sheet March 2026)",
            "(date of its data sheet not noted)",
            "June 23, 2026, 10 am to 11:05 am; slab 69 °F, air 73 °F, humidity 58%",
            "One foot along the back wall stayed bare",
            "We fill the chip at the side door by July 3.",
            "Mirelle Haselwick",
            "Tobin Haselwick",
            "The floor on the day of the handover",
            "we repair that spot at our cost",
        ],
    );
    lacks(&handover, &["not written down", "Three blisters"]);
    folder.run(HANDOVER).success().out_has("unchanged: ");
    let folder = next(folder, "#3: ");
    folder.run(FAILURE).success().out_has("2026-0231-failure-sheet-r1.pdf");
    let sheet = text(&folder, "failure-sheet-r1");
    has(
        &sheet,
        &[
            "May 30, 2027, 341 days after the last coat",
            "Three spots in a row along the saw cut",
            "Three blisters along the saw cut, with a ruler",
            "Limit: 20 lb.",
            "Limit: 99% RH.",
            "No verdict stands on this sheet.",
        ],
    );
    let marked: Vec<String> = page(&folder, "failure-sheet-r1")["steps"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|step| step["rows"].as_array().unwrap())
        .filter(|row| row["mark"] != "")
        .map(|row| row["sign"].as_str().unwrap().to_owned())
        .collect();
    assert_eq!(
        marked,
        [
            "Blisters: raised spots, closed all around",
            "At joints",
            "At the slab: the back shows no concrete",
            "Damp",
            "White salts",
            "Thin as water",
        ]
    );
    // A failure changes nothing of what was handed over.
    folder.run(HANDOVER).success().out_has("unchanged: ");
    // The photo of the failure and those of the handover stay on their own papers.
    lacks(&text(&folder, "proposal-r1"), &["on the day of the handover", "Three blisters"]);
    folder.run(&["verify", "job.toml"]).success().out_has("4 records: 4 sound");
}

/// Without its lines a coat is not known, with all that hangs on it: nothing of the plan stands in its place.
#[test]
fn a_coat_that_was_not_written_down_is_not_said_as_planned() {
    let (folder, _) = laid();
    let job = folder.read("job.toml");
    let start = job.find("[[laid]]\ncoat = \"top\"").unwrap();
    let end = job.find("[handover]").unwrap();
    let folder = folder.write("job.toml", format!("{}{}", &job[..start], &job[end..]));
    folder.run(HANDOVER).success();
    let handover = text(&folder, "handover-r1");
    has(
        &handover,
        &[
            "Polyaspartic topcoat: we did not write down when and how we laid it.",
            "Ask us before you use it.",
            "Not known: ask us",
            "not written down",
        ],
    );
    lacks(&handover, &["T-1180", "June 23", "We know of nothing that differs"]);
    let page = page(&folder, "handover-r1");
    let rows = page["floors"][0]["coats"].as_array().unwrap();
    let top = rows.last().unwrap();
    assert_eq!(
        (&top["batches"], &top["when"]),
        (&"not written down".into(), &"not written down".into())
    );
}

#[test]
fn batches_that_nobody_noted_are_said() {
    let (folder, _) = laid();
    let folder = folder.replace("job.toml", "batches = [\"T-1180\"]\n", "");
    folder.run(HANDOVER).success();
    let page = page(&folder, "handover-r1");
    let rows = page["floors"][0]["coats"].as_array().unwrap();
    let batches: Vec<&str> = rows.iter().map(|row| row["batches"].as_str().unwrap()).collect();
    assert_eq!(batches, ["B-4471, B-4472", "F-0093", "not written down"]);
}

/// The last coat was down at 8 pm; its data sheet asks for more than five hours, so the floor is walked the
/// morning after.
#[test]
fn a_handover_before_the_floor_may_be_walked_says_so_first() {
    let (folder, _) = laid();
    let folder = folder
        .replace("job.toml", "start = 2026-06-23T10:00:00", "start = 2026-06-23T19:00:00")
        .replace("job.toml", "end = 2026-06-23T11:05:00", "end = 2026-06-23T20:00:00")
        .replace("job.toml", "on = 2026-06-25", "on = 2026-06-23");
    folder.run(HANDOVER).success();
    let page = page(&folder, "handover-r1");
    let lead = page["message"]["lead"].as_str().unwrap();
    assert_eq!(
        lead,
        "We laid your floor. Do not walk on it before the morning of Wednesday, June 24."
    );
    // Two days later it is a floor like any other.
    let folder = folder.replace("job.toml", "on = 2026-06-23", "on = 2026-06-25");
    folder.run(HANDOVER).success();
    lacks(&text(&folder, "handover-r2"), &["Do not walk on it before"]);
}

#[test]
fn money_is_told_as_it_was_received() {
    let (folder, total) = laid();
    let paid = |amount: i64| format!("amount = \"{}\"", dollars(amount));
    let over = folder.replace("job.toml", "amount = \"$1,848.84\"", &paid(total));
    over.run(HANDOVER).success();
    has(
        &text(&over, "handover-r1"),
        &[
            "We pay back to you $462.21",
            "You paid more than the price. We pay $462.21 back to you.",
        ],
    );
    let all = over.replace("job.toml", &paid(total), &paid(total - 46_221));
    all.run(HANDOVER).success();
    has(&text(&all, "handover-r2"), &["Left to pay $0.00", "Nothing is left to pay. Thank you."]);
    let (folder, total) = laid();
    let job = folder.read("job.toml");
    let unpaid = job.replace("[[paid]]", "[[was]]");
    let cut = |text: &str| {
        let blocks = text.split("\n\n").filter(|block| !block.contains("[[was]]"));
        blocks.collect::<Vec<_>>().join("\n\n")
    };
    let folder = folder.write("job.toml", cut(&unpaid));
    folder.run(HANDOVER).success();
    has(
        &text(&folder, "handover-r1"),
        &[&format!("Left to pay {}", dollars(total)), "We have no payment written down."],
    );
}

/// A change that nobody has signed is no part of what is handed over.
#[test]
fn an_open_order_does_not_move_the_price() {
    let (folder, total) = laid();
    let item = "\n[[item]]\nname = \"Moving the workbench\"\nprice = \"$180\"\n";
    let job = folder.read("job.toml");
    let folder = folder.write("job.toml", format!("{job}{item}"));
    folder.run(HANDOVER).success().err_has("not what was signed: items changed");
    has(
        &text(&folder, "handover-r1"),
        &[&format!("Price as agreed, with your change order {}", dollars(total))],
    );
}

#[test]
fn a_sheet_without_a_failure_has_room_to_write() {
    let (folder, _) = laid();
    folder.run(FAILURE).success();
    let sheet = text(&folder, "failure-sheet-r1");
    has(&sheet, &["Nothing is written down yet. Write here what you see."]);
    let page = page(&folder, "failure-sheet-r1");
    let rows =
        page["steps"].as_array().unwrap().iter().flat_map(|step| step["rows"].as_array().unwrap());
    assert!(rows.clone().count() > 30);
    assert!(rows.into_iter().all(|row| row["mark"] == ""));
}

#[test]
fn what_was_not_signed_is_not_handed_over() {
    let folder = Folder::of("whole-story");
    folder.run(HANDOVER).code(2).err_has("the paper `handover` is for a floor that was signed for");
    folder.run(FAILURE).code(2).err_has("the paper `failure-sheet` is for a floor that was signed");
    let folder = signed();
    folder
        .run(HANDOVER)
        .code(2)
        .err_has("a handover has a day, and this job has no `[handover]`")
        .err_has("on = 2026-06-01");
    folder
        .run(&["write", "job.toml", "--paper", "handover", "--watch"])
        .code(2)
        .err_has("is not watched");
}

#[test]
fn both_papers_are_set_in_each_edition_and_language() {
    for language in ["en", "es"] {
        let folder = Folder::of("whole-story");
        let shop = folder.read("shop.toml");
        let folder = folder.write(
            "shop.toml",
            shop.replace("language = \"en\"", &format!("language = \"{language}\"")),
        );
        folder.run(&["write", "job.toml"]).success();
        let folder = next(folder, "#: ");
        folder.run(&["write", "job.toml", "--paper", "change-order"]).success();
        let folder = next(next(folder, "#2: "), "#3: ");
        let both = ["write", "job.toml", "--paper", "handover", "--paper", "failure-sheet"];
        folder.run(&[&both[..], &["--phone"]].concat()).success().out_has("handover-phone-r1.pdf");
        folder.run(&[&both[..], &["--draft", "--large-print"]].concat()).success();
        folder.run(&["verify", "job.toml"]).success();
        let pages = |name: &str| {
            readers::pages(&folder.path(&format!("papers/2026-0231-{name}-r1.pdf"))).len()
        };
        assert!((2..=4).contains(&pages("handover")), "{} in {language}", pages("handover"));
        assert!((3..=6).contains(&pages("failure-sheet")), "{}", pages("failure-sheet"));
    }
}
