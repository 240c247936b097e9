//! No cost of the shop is on a change order, in its page data or on the roll.

use std::collections::BTreeSet;

use serde_json::Value;

use super::{ORDER, WRITE, add};
use crate::documents::{Paper, texts};
use crate::leaks::{CREW_NOTE, PHONE, SUPPLIER, inner, keys_of, numbers, telling};
use crate::readers;

#[test]
fn no_inner_figure_is_on_a_change_order_or_the_roll() {
    let folder = telling("price");
    let paper = Paper::of(&folder);
    let estimate = folder.run(&["estimate", "job.toml"]).success().stdout();
    let inner = inner(&paper, &estimate, &folder.read("book.toml"));
    folder.run(WRITE).success();
    let folder = add(folder, "[accepted]\nrevision = 1\nfloor = \"fast-cure\"\non = 2026-06-05");
    let item = "[[item]]\nname = \"Moving a shelf\"\nprice = \"$321.09\"\ncost = \"$123.98\"";
    let folder = add(folder, item);
    folder.run(&[ORDER, &["--page-data"]].concat()).success();
    let pages = readers::text(&folder.path("papers/2026-0151-change-order-r1.pdf"));
    let page: Value =
        serde_json::from_str(&folder.read("papers/2026-0151-change-order-r1.page.json")).unwrap();
    let csv = folder.run(&["roll", ".", "--format", "csv"]).success().stdout();
    let table = folder.run(&["roll", "."]).success().stdout();
    for (place, text) in [
        ("the pages", pages),
        ("the page data", texts(&page).join("\n")),
        ("csv", csv),
        ("table", table),
    ] {
        let there = numbers(text.as_bytes());
        let leaked: Vec<&String> =
            inner.iter().filter(|number| there.contains(*number) && number.len() > 4).collect();
        assert!(leaked.is_empty(), "{leaked:?} in {place}");
        assert!(!there.contains("123.98"), "{place}");
        for secret in [SUPPLIER, CREW_NOTE, PHONE] {
            assert!(!readers::squeezed(&text).contains(secret), "{secret} in {place}");
        }
    }
    let mut keys = BTreeSet::new();
    keys_of(&page, &mut keys);
    for key in &keys {
        for word in ["cost", "margin", "profit", "hours", "wage", "overhead", "supplier"] {
            assert!(!key.contains(word), "{key}");
        }
    }
}
