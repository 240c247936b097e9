//! A cell of the kitchen-table sheet is what the engine says of files in which that one thing is written.

use crate::chance::tried;
use crate::facts::example::{self, BOOK, JOB, SHOP, replaced};
use proptest::prelude::*;
use rust_decimal::{Decimal, RoundingStrategy};
use slableaf::base::quantity::{Mver, Share, Temperature};
use slableaf::judge::what_if::{Other, answer};
use slableaf::read::{self, Input};

/// The job with a number of persons and a warmth of the slab of its own, and the book with a margin of its own.
fn base(crew: u32, slab: u32, margin: u32) -> (String, String) {
    let job = replaced(JOB, "start = 2026-05-26", &format!("start = 2026-05-26\ncrew = {crew}"));
    let job = replaced(&job, "slab = \"62 F\"", &format!("slab = \"{slab} F\""));
    (job, replaced(BOOK, "margin = \"38 %\"", &format!("margin = \"{margin} %\"")))
}

/// The same answers where the files can be read at all: a slab that is warmer than the air may ask for more.
fn same(input: &Input, other: Other, job: &str, book: &str) -> Result<(), TestCaseError> {
    let Ok(written) = read::read(&example::files(job, book, SHOP)) else { return Ok(()) };
    prop_assert_eq!(answer(&other.applied_to(input)), answer(&written), "{:?}", other);
    Ok(())
}

/// A book in which each kit costs so many percent more, to the cent and halves away from zero.
fn dearer(book: &str, percent: u32) -> String {
    let mut parts = book.split("price = \"$");
    let mut text = parts.next().expect("a text").to_owned();
    for part in parts {
        let (amount, rest) = part.split_once('"').expect("a quoted amount");
        let amount: Decimal = amount.replace(',', "").parse().expect("an amount");
        let more = amount * Decimal::from(100 + percent) / Decimal::from(100);
        let more = more.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
        text += &format!("price = \"${more}\"{rest}");
    }
    text
}

proptest! {
    #![proptest_config(tried(100))]

    #[test]
    fn a_cell_is_a_run(
        crew in 1..6u32, slab in 45..85u32, margin in 35..60u32,
        persons in 1..6u32, warmth in 45..85u32, percent in 1..40u32, pounds in 0.0..25.0f64,
    ) {
        let (job, book) = base(crew, slab, margin);
        let input = example::read(&job, &book, SHOP);
        let with_crew = job.replace(&format!("crew = {crew}"), &format!("crew = {persons}"));
        same(&input, Other::Crew(persons), &with_crew, &book)?;
        let warm = Other::Slab(Temperature::fahrenheit(f64::from(warmth)));
        let with_slab = replaced(&job, &format!("slab = \"{slab} F\""), &format!("slab = \"{warmth} F\""));
        same(&input, warm, &with_slab, &book)?;
        same(&input, Other::Dearer(Share::percent(f64::from(percent))), &job, &dearer(&book, percent))?;
        // ASTM F1869: 52.91 x grams / (ft2 x hours), to 1000 ft2 and 24 h. The dishes stood 70 h 50 min on 65.7 in2.
        let gain = pounds * (65.7 / 144.0) * (70.0 + 5.0 / 6.0) / 52.910_94;
        let mut with_dishes = job;
        for (before, after) in [("218.4", "222.4"), ("219.1", "222.5"), ("217.8", "222.5")] {
            let wet = before.parse::<f64>().expect("a weight") + gain;
            let was = format!("before = \"{before} g\"\nafter = \"{after} g\"");
            let is = format!("before = \"{before} g\"\nafter = \"{wet:.9} g\"");
            with_dishes = replaced(&with_dishes, &was, &is);
        }
        same(&input, Other::Mver(Mver::pounds(pounds)), &with_dishes, &book)?;
    }
}
