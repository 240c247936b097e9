//! No cost of the shop, and nothing that is for it alone, is on a handover or on the sheet for a failure.

use std::collections::BTreeSet;

use serde_json::Value;

use super::{FAILURE, HANDOVER};
use crate::documents::{Paper, texts};
use crate::leaks::{CREW_NOTE, PHONE, SUPPLIER, inner, keys_of, numbers, telling};
use crate::readers;

/// A floor that was laid with words of the crew, and what was used of everything.
const AFTER: &str = r#"
[accepted]
revision = 1
floor = "fast-cure"
on = 2026-06-05

[[paid]]
on = 2026-06-05
amount = "$300.00"
note = "Canary of a check"

[[laid]]
coat = "primer"
start = 2026-06-15T09:30:00
end = 2026-06-15T10:30:00
slab = "70 F"
air = "72 F"
humidity = "50 %"
batches = ["A-1"]
films = ["11 mil"]
who = "Canary of a hand"
note = "Canary of the crew"

[handover]
on = 2026-06-17

[[failure]]
seen = 2026-07-01
kind = "peeled"
"#;

#[test]
fn no_inner_figure_is_on_a_paper_after_the_work() {
    let folder = telling("price");
    let paper = Paper::of(&folder);
    let estimate = folder.run(&["estimate", "job.toml"]).success().stdout();
    let inner = inner(&paper, &estimate, &folder.read("book.toml"));
    folder.run(&["write", "job.toml"]).success();
    let job = folder.read("job.toml");
    let folder = folder.write("job.toml", format!("{job}{AFTER}"));
    folder.run(HANDOVER).success();
    folder.run(FAILURE).success();
    for name in ["handover", "failure-sheet"] {
        let at = |end: &str| format!("papers/2026-0151-{name}-r1.{end}");
        let pages = readers::text(&folder.path(&at("pdf")));
        let page: Value = serde_json::from_str(&folder.read(&at("page.json"))).unwrap();
        for text in [pages, texts(&page).join("\n")] {
            let there = numbers(text.as_bytes());
            let leaked: Vec<&String> =
                inner.iter().filter(|number| there.contains(*number) && number.len() > 4).collect();
            assert!(leaked.is_empty(), "{leaked:?} on {name}");
            for secret in [SUPPLIER, CREW_NOTE, PHONE, "Canary of"] {
                assert!(!readers::squeezed(&text).contains(secret), "{secret} on {name}");
            }
        }
        let mut keys = BTreeSet::new();
        keys_of(&page, &mut keys);
        for key in &keys {
            for word in ["cost", "margin", "profit", "hours", "wage", "overhead", "supplier"] {
                assert!(!key.contains(word) || key == "hours", "{key} on {name}");
            }
        }
    }
}
