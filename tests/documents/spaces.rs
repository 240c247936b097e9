//! The paper of a job of several spaces.

use std::sync::LazyLock;

use serde_json::Value;

use super::{Paper, list, word};
use crate::fixture::*;

/// A garage, a patio and a basement, each with a floor that may be signed for.
static THREE: LazyLock<Paper> = LazyLock::new(|| Paper::of(&plain_spaces()));

/// The same without a test on the patio, whose floors then wait.
pub static WAITS: LazyLock<Paper> = LazyLock::new(|| {
    let folder = plain_spaces();
    let job = folder.read("job.toml");
    let (before, patio) = job.split_once("name = \"Patio\"").unwrap();
    let (test, after) = patio.split_once("[space.air]").unwrap();
    let (slab, _) = test.split_once("[space.moisture.dishes]").unwrap();
    Paper::of(
        &folder.write("job.toml", format!("{before}name = \"Patio\"{slab}[space.air]{after}")),
    )
});

/// The example without what its owner decided beside the floors.
pub fn plain_spaces() -> Folder {
    let folder = Folder::of("three-spaces");
    let job = folder.read("job.toml");
    let plain = job.split("\n# What the owner has chosen").next().unwrap().to_owned();
    folder.write("job.toml", plain)
}

/// An amount as the pages print it, in cents.
fn cents(amount: &Value) -> i64 {
    let digits: String = word(amount).chars().filter(char::is_ascii_digit).collect();
    let cents: i64 = digits.parse().unwrap_or_else(|_| panic!("{amount}"));
    if word(amount).starts_with('\u{2212}') { -cents } else { cents }
}

/// Items and a discount are lines of the whole: with the spaces they are its total.
#[test]
fn items_and_a_discount_are_lines_of_the_whole() {
    let paper = Paper::of(&Folder::of("three-spaces"));
    let whole = &paper.page["whole"];
    let spaces: i64 = list(&whole["rows"]).iter().map(|row| cents(&row["price"])).sum();
    let lines: i64 = list(&whole["lines"]).iter().map(|line| cents(&line["amount"])).sum();
    // By hand: 160.00 - 250.00 = -90.00, and 6.5 % of that is -5.85.
    assert_eq!(lines, -9_585);
    assert_eq!(cents(&whole["total"]["amount"]), spaces + lines);
    assert_eq!(
        paper.estimate["whole"]["total"],
        format!("{}.{:02}", (spaces + lines) / 100, (spaces + lines) % 100)
    );
    paper.must_show("Moving the shelves");
}

#[test]
fn page_one_has_every_space_and_the_sum_of_their_prices() {
    for paper in [&*THREE, &*WAITS] {
        let whole = &paper.page["whole"];
        let rows = list(&whole["rows"]);
        assert_eq!(rows.len(), 3);
        for row in rows {
            for cell in ["space", "floor", "price", "days", "ready"] {
                paper.page_one_must_show(word(&row[cell]));
            }
            // The headline says that the others are recommended.
            if row["recommended"] != true {
                paper.page_one_must_show(word(&row["standing"]));
            }
        }
        let sum: i64 = rows.iter().map(|row| cents(&row["price"])).sum();
        assert_eq!(cents(&whole["total"]["amount"]), sum);
        paper.page_one_must_show(word(&whole["total"]["amount"]));
    }
}

/// The prices of the pages are those of the results, and their shares sum to the whole.
#[test]
fn the_results_have_the_spaces_with_their_shares() {
    let estimate = &THREE.estimate;
    let amount = |value: &Value| (word(value).parse::<f64>().unwrap() * 100.0).round() as i64;
    let spaces = list(&estimate["spaces"]);
    let shares: i64 = spaces.iter().map(|space| amount(&space["share"]["total"])).sum();
    assert_eq!(shares, amount(&estimate["whole"]["total"]));
    for (space, row) in spaces.iter().zip(list(&THREE.page["whole"]["rows"])) {
        assert_eq!(word(&space["name"]), word(&row["space"]));
        assert_eq!(amount(&space["share"]["total"]), cents(&row["price"]));
        assert_eq!(word(&space["recommended"]), word(&space["first"]));
    }
    assert!(list(&estimate["floors"]).is_empty() && list(&estimate["findings"]).is_empty());
}

/// What is signed has every floor that may be signed for, and payments that sum to the recommended ones.
#[test]
fn the_leaf_has_boxes_for_each_space_and_payments_of_the_whole() {
    for (paper, names) in
        [(&*THREE, vec!["Garage", "Patio", "Basement"]), (&*WAITS, vec!["Garage", "Basement"])]
    {
        let accept = &paper.page["accept"];
        let offered: Vec<&str> = list(&accept["spaces"])
            .iter()
            .filter(|space| !list(&space["options"]).is_empty())
            .map(|space| word(&space["name"]))
            .collect();
        assert_eq!(offered, names);
        let sum = list(&accept["sum"]).last().unwrap();
        let paid: i64 = list(&accept["payments"]).iter().map(|one| cents(&one["amount"])).sum();
        assert_eq!(paid, cents(&sum["amount"]));
        let recommended = list(&accept["spaces"]).iter().flat_map(|space| list(&space["options"]));
        let recommended = recommended.filter(|floor| floor["recommended"] == true);
        let recommended: i64 = recommended.map(|floor| cents(&floor["price"])).sum();
        assert_eq!(paid, recommended);
        for one in list(&accept["payments"]) {
            paper.must_show(word(&one["amount"]));
        }
    }
}

/// A floor that waits has no box, and says what it waits for.
#[test]
fn a_space_that_waits_may_not_be_signed_for() {
    let spaces = list(&WAITS.page["accept"]["spaces"]);
    let patio = spaces.iter().find(|space| space["name"] == "Patio").unwrap();
    assert!(list(&patio["options"]).is_empty() && !list(&patio["waits"]).is_empty());
    assert!(!patio["test"].is_null(), "a test may be ordered");
    WAITS.page_one_must_show("We recommend a floor for 2 of your 3 spaces");
    WAITS.page_one_must_show("All spaces, with those that wait");
}

/// No car stands on a patio: nobody is told when to park there.
#[test]
fn parking_is_for_the_garage_alone() {
    for space in list(&THREE.page["spaces"]) {
        let rows = list(&space["compare"]["rows"]);
        let has = |label: &str| rows.iter().any(|row| row["label"] == label);
        assert_eq!(has("Parking"), space["name"] == "Garage");
        assert_eq!(has("Hot tires"), space["name"] == "Garage");
    }
    let spans = |at: usize| list(&THREE.page["whole"]["timeline"]["rows"][at]["spans"]);
    let drives = |at: usize| spans(at).iter().any(|span| span["kind"] == "car");
    assert_eq!([drives(0), drives(1), drives(2)], [true, false, false]);
}

/// Spaces are done one after the other: none is begun before the crew has left the one before.
#[test]
fn the_timeline_goes_from_space_to_space() {
    let rows = list(&THREE.page["whole"]["timeline"]["rows"]);
    let work = |row: &Value| -> Vec<(f64, f64)> {
        let spans = list(&row["spans"]).iter().filter(|span| span["kind"] == "work");
        spans.map(|span| (span["from"].as_f64().unwrap(), span["to"].as_f64().unwrap())).collect()
    };
    for pair in rows.windows(2) {
        let (before, after) = (work(&pair[0]), work(&pair[1]));
        assert!(before.last().unwrap().1 <= after[0].0 + 1e-6, "{before:?} {after:?}");
    }
}
