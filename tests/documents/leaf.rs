//! The leaf that is signed, as paper: one page on the front of a sheet, in two copies, with nothing on its back; and
//! what belongs beside a signature.

use super::{PAPERS, Paper, letters, list, paper, texts, word};
use crate::fixture::*;

/// An example on a paper and in a print.
fn printed(example: &str, size: &str, print: &str) -> Paper {
    let folder = Folder::of(example);
    let job = folder.read("job.toml");
    Paper::of(&folder.write("job.toml", format!("paper = \"{size}\"\nprint = \"{print}\"\n{job}")))
}

/// Pages, from 1, that have a mark of a copy.
fn pages_with(paper: &Paper, mark: &str) -> Vec<usize> {
    let has = |page: &&(usize, &String)| letters(page.1).contains(&letters(mark));
    let pages: Vec<(usize, &String)> = paper.pages.iter().enumerate().collect();
    pages.iter().filter(has).map(|(at, _)| at + 1).collect()
}

/// True for a page that has a head and a foot alone.
fn is_blank(page: &str) -> bool {
    letters(page).chars().count() < 140
}

/// Examples with something to sign, in both languages; one of them orders a test alone.
const SIGNED: &[&str] =
    &["two-car-barrier", "dry-and-quick", "metric-probes", "garaje", "smallest"];

#[test]
fn a_leaf_is_one_page_on_the_front_of_a_sheet_and_nothing_is_on_its_back() {
    for example in SIGNED {
        for size in ["letter", "a4"] {
            let paper = printed(example, size, "usual");
            let accept = &paper.page["accept"];
            let copies = texts(&accept["copies"]);
            assert_eq!(copies.len(), 2);
            for (copy, last) in copies.iter().zip([false, true]) {
                let pages = pages_with(&paper, copy);
                assert_eq!(pages.len(), 1, "{example} {size}: {copy} on {pages:?}");
                let at = pages[0];
                assert_eq!(at % 2, 1, "{example} {size}: {copy} on the back of a sheet");
                let page = letters(&paper.pages[at - 1]);
                let terms = texts(&accept["terms"]);
                assert!((4..=7).contains(&terms.len()), "{terms:?}");
                for said in terms.into_iter().chain([word(&accept["back"]), word(&accept["earns"])])
                {
                    assert!(page.contains(&letters(said)), "{example} {size}: `{said}`");
                }
                for name in texts(&accept["signatures"]) {
                    assert!(page.contains(&letters(name)), "{example} {size}: `{name}`");
                }
                match paper.pages.get(at) {
                    Some(back) => assert!(is_blank(back), "{example} {size}: {back}"),
                    None => assert!(last && accept["cancellation"].is_null(), "{example}"),
                }
            }
        }
    }
}

/// The rule asks for the statement in immediate proximity to the space for the signature (16 CFR 429.1(a)):
/// here nothing stands between the two.
#[test]
fn the_right_to_cancel_stands_beside_the_signatures() {
    for example in ["two-car-barrier", "dry-and-quick"] {
        let paper = paper(example);
        let accept = &paper.page["accept"];
        let copy = pages_with(paper, texts(&accept["copies"])[0])[0];
        let page = letters(&paper.pages[copy - 1]);
        let statement = letters(word(&accept["cancellation"]["statement"]));
        let (_, after) = page.split_once(&statement).expect("the statement on the leaf");
        assert!(after.starts_with(&letters(texts(&accept["signatures"])[0])), "{after}");
        // Both copies of the notice start a sheet.
        for number in texts(&accept["cancellation"]["copies"]) {
            let pages = pages_with(paper, number);
            assert!(pages.len() == 1 && pages[0] % 2 == 1, "{example}: {number} on {pages:?}");
        }
    }
}

/// What is torn off is not counted: the first copy is the last page that is.
#[test]
fn the_leaf_is_the_last_page_that_is_counted() {
    for paper in PAPERS.iter().filter(|paper| paper.page["accept"]["open"] == true) {
        let at = pages_with(paper, texts(&paper.page["accept"]["copies"])[0])[0];
        for (page, text) in paper.pages.iter().enumerate().take(at) {
            let number = format!("Page {} of {at}", page + 1);
            assert!(letters(text).contains(&letters(&number)), "{number}: {text}");
        }
        for text in paper.pages.iter().skip(at) {
            assert!(!letters(text).contains("Page"), "{text}");
        }
    }
}

#[test]
fn each_copy_starts_a_sheet_in_large_print() {
    for example in ["two-car-barrier", "garaje"] {
        let paper = printed(example, "letter", "large");
        for copy in texts(&paper.page["accept"]["copies"]) {
            let pages = pages_with(&paper, copy);
            assert!(pages.len() == 1 && pages[0] % 2 == 1, "{example}: {copy} on {pages:?}");
        }
    }
}

/// In large print the signatures have a page of their own: it says once more what can be ordered, and its price.
#[test]
fn in_large_print_nobody_signs_under_a_page_that_does_not_say_for_what() {
    for example in ["dry-and-quick", "smallest", "three-spaces", "garaje"] {
        let paper = printed(example, "letter", "large");
        let accept = &paper.page["accept"];
        let sign = letters(word(&paper.page["labels"]["accept"]["sign"]));
        let signed: Vec<String> = paper.pages.iter().map(|page| letters(page)).collect();
        let signed: Vec<&String> = signed.iter().filter(|page| page.contains(&sign)).collect();
        assert_eq!(signed.len(), 2, "{example}: a copy each");
        let of_spaces = list(&accept["spaces"]).iter().flat_map(|space| list(&space["options"]));
        let mut orders: Vec<_> = list(&accept["options"]).iter().chain(of_spaces).collect();
        orders.extend(Some(&accept["test"]).filter(|test| !test.is_null()));
        assert!(!orders.is_empty(), "{example}");
        for order in orders {
            for said in [word(&order["name"]), word(&order["price"])] {
                for page in &signed {
                    let (_, after) = page.split_once(&sign).unwrap();
                    assert!(after.contains(&letters(said)), "{example}: `{said}` in {after}");
                }
            }
        }
    }
}

#[test]
fn where_nothing_can_be_signed_there_is_no_leaf() {
    let paper = paper("too-wet-yet");
    assert_eq!(paper.page["accept"]["open"], false);
    assert!(!paper.shows(word(&paper.page["labels"]["accept"]["title"])));
    assert!(!paper.shows(word(&paper.page["labels"]["accept"]["sign"])));
}

/// Every payment of every floor that may be signed for is on the leaf, and all sum to its price.
#[test]
fn a_leaf_has_the_payments_of_each_floor() {
    let paper = paper("dry-and-quick");
    let options = list(&paper.page["accept"]["options"]);
    assert_eq!(options.len(), 4);
    let steps = list(&options[0]["payments"]).len();
    for option in options {
        let payments = list(&option["payments"]);
        assert_eq!(payments.len(), steps);
        let amounts: Vec<&str> = payments.iter().map(|one| word(&one["amount"])).collect();
        let sum: i64 = amounts.iter().map(|amount| super::cents(amount)).sum();
        assert_eq!(sum, super::cents(word(&option["price"])), "{option}");
        amounts.iter().for_each(|amount| paper.must_show(amount));
    }
}

/// An extra is on the leaf of a floor that may be signed for, with its price.
#[test]
fn an_extra_may_be_marked_on_the_leaf() {
    let folder =
        Folder::of("dry-and-quick").replace("job.toml", "clear-epoxy = [\"urethane-coat\"]", "");
    let paper = Paper::of(&folder);
    let groups = list(&paper.page["accept"]["extras"]);
    assert_eq!(groups.len(), 1);
    assert_eq!(groups[0]["floor"], "Clear-epoxy flake floor");
    let copy = pages_with(&paper, texts(&paper.page["accept"]["copies"])[0])[0];
    let line = &list(&groups[0]["lines"])[0];
    let page = letters(&paper.pages[copy - 1]);
    assert!(page.contains(&letters(word(&line["amount"]))), "{line}");
}

/// The ways without a floor have a cell in every row, and the data sheet behind a limit its date.
#[test]
fn the_comparison_has_every_way_and_the_data_sheets_with_their_dates() {
    let wet = paper("two-car-barrier");
    let names: Vec<&str> =
        list(&wet.page["compare"]["ways"]).iter().map(|way| word(&way["name"])).collect();
    assert_eq!(names, ["Vapor-barrier floor", "Leave it as it is", "Dry it and test again"]);
    wet.must_show("Data sheet of Moisture-vapor-barrier epoxy, March 2026");
    for one in list(&wet.page["compare"]["not_offered"]) {
        wet.must_show(word(&one["why"]));
    }
    let dry = paper("dry-and-quick");
    let ways = list(&dry.page["compare"]["ways"]);
    assert_eq!(word(&ways[0]["name"]), "Fast-cure floor");
    assert_eq!(word(&ways[4]["name"]), "Leave it as it is");
    assert_eq!(ways.len(), 5, "no test is on offer where none would change a thing");
    let undated = Folder::new().replace("book.toml", "data-sheet = \"March 2026\"\n", "");
    Paper::of(&undated).must_show("Data sheet of Moisture-vapor-barrier epoxy, date not noted");
}

/// A reading speaks for a slab for 90 days where the shop says nothing else: the earliest was lifted on
/// May 8, 2026, and 90 days later it is August 6.
#[test]
fn the_paper_says_until_when_its_readings_count() {
    paper("two-car-barrier").must_show("We rely on the moisture readings until August 6, 2026.");
}
