//! A whole example as text, from which tests make what they need.

use slableaf::input::{self, Files, Input};
use slableaf::source::{Diagnostic, SourceFile};

pub const JOB: &str = include_str!("../../examples/two-car-barrier/job.toml");
pub const BOOK: &str = include_str!("../../examples/book.toml");
pub const SHOP: &str = include_str!("../../examples/shop.toml");
const SYSTEMS: &[(&str, &str)] = &[
    ("barrier.toml", include_str!("../../layouts/systems/barrier.toml")),
    ("fast-cure.toml", include_str!("../../layouts/systems/fast-cure.toml")),
    ("clear-epoxy.toml", include_str!("../../layouts/systems/clear-epoxy.toml")),
    ("water-kit.toml", include_str!("../../layouts/systems/water-kit.toml")),
];

/// The files of a job, with the shipped systems.
pub fn files(job: &str, book: &str, shop: &str) -> Files {
    let file = |name: &str, text: &str| SourceFile { name: name.to_owned(), text: text.to_owned() };
    Files {
        job: file("job.toml", job),
        book: file("book.toml", book),
        shop: file("shop.toml", shop),
        systems: SYSTEMS.iter().map(|(name, text)| file(name, text)).collect(),
    }
}

/// What a job says, or every problem with it.
pub fn try_job(job: &str) -> Result<Input, Vec<Diagnostic>> {
    input::read(&files(job, BOOK, SHOP))
}

/// What a job says that has no problems.
#[track_caller]
pub fn read(job: &str, book: &str, shop: &str) -> Input {
    match input::read(&files(job, book, shop)) {
        Ok(input) => input,
        Err(problems) => panic!("the files cannot be read: {problems:#?}"),
    }
}

/// The example as it stands.
#[track_caller]
pub fn input() -> Input {
    read(JOB, BOOK, SHOP)
}

/// The example's job with another text in place of one that stands in it once.
#[track_caller]
pub fn job_with(old: &str, new: &str) -> String {
    replaced(JOB, old, new)
}

/// A text with one part of it, which must stand in it once, replaced.
#[track_caller]
pub fn replaced(text: &str, old: &str, new: &str) -> String {
    assert_eq!(text.matches(old).count(), 1, "`{old}` must stand in the example once");
    text.replace(old, new)
}

/// The line that draws the example's floor.
pub const OUTLINE: &str = r#"outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["0 ft", "24 ft"]]"#;

/// The example's job with another floor in place of its own; where the tests were made is left open.
#[track_caller]
pub fn job_with_floor(floor: &str) -> String {
    // The furnace pad moves to the corner that every floor has.
    let pad = job_with(OUTLINE, floor)
        .replace("at = [\"1 ft\", \"20 ft 6 in\"]", "at = [\"1 ft\", \"1 ft\"]");
    without_places(&pad)
}

/// A job without the places of its tests on the plan, for a floor that need not have them.
pub fn without_places(job: &str) -> String {
    let lines: Vec<&str> = job.lines().collect();
    let of_a_test = |at: usize| at > 0 && lines[at - 1].starts_with("place = ");
    let kept = lines.iter().enumerate();
    let kept = kept.filter(|(at, line)| !(line.starts_with("at = ") && of_a_test(*at)));
    kept.map(|(_, line)| format!("{line}\n")).collect()
}
