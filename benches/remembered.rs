//! What the papers of a batch find in the typesetter's memory of results: `cargo bench --bench remembered`.
//!
//! What is common to all papers is to be remembered, so nothing of one job may be in its key. Printed are the
//! calls that each paper leaves to be made, and their share of those of the first.

#![allow(clippy::disallowed_methods)]

mod example;

use slableaf::typeset::alone;

use crate::example::Printer;

/// Works that the typesetter counts: those of layouts, of blocks, and of lines of text.
const WORK: [&str; 5] = ["func call", "block", "layout_grid", "layout_table", "prepare"];

/// Papers to set.
const PAPERS: usize = 6;

fn main() {
    let printer = Printer::new();
    println!("calls made, all others are remembered:");
    println!("{:>8} {}", "", WORK.map(|name| format!("{name:>16}")).concat());
    let mut first = [0; WORK.len()];
    for number in 0..PAPERS {
        let page = printer.page(number);
        typst_timing::enable();
        alone(|| printer.print(page));
        typst_timing::disable();
        let mut events = vec![];
        typst_timing::export_json(&mut events, |_| (String::new(), 0))
            .unwrap_or_else(|error| panic!("{error}"));
        let events: Vec<serde_json::Value> =
            serde_json::from_slice(&events).unwrap_or_else(|error| panic!("{error}"));
        let made = WORK.map(|name| {
            events.iter().filter(|event| event["ph"] == "B" && event["name"] == name).count()
        });
        if number == 0 {
            first = made;
        }
        let shares = made.iter().zip(first);
        let shares = shares.map(|(made, of)| format!("{made:>9} {:>4} %", made * 100 / of.max(1)));
        println!("paper {:>2} {}", number + 1, shares.collect::<String>());
    }
}
