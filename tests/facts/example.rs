//! A whole example as text, from which tests make what they need.

use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::read::{self, Files, Input};

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

/// Reads a job, or returns every problem with it.
pub fn try_job(job: &str) -> Result<Input, Vec<Diagnostic>> {
    read::read(&files(job, BOOK, SHOP))
}

/// Reads a job that has no problems.
#[track_caller]
pub fn read(job: &str, book: &str, shop: &str) -> Input {
    match read::read(&files(job, book, shop)) {
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

/// The line that says where the example's furnace pad stands.
const PAD: &str = r#"at = ["1 ft", "20 ft 6 in"]"#;

/// The example's job with another floor in place of its own, at least 4 ft by 3 ft 6 in from its
/// corner, (0, 0); where the tests were made is left open.
#[track_caller]
pub fn job_with_floor(floor: &str) -> String {
    job_with_floor_from(floor, 0, 0)
}

/// The same for a floor whose corner lies some feet from the origin. The furnace pad stands a foot
/// from both walls there: a cut-out off the floor is an error.
#[track_caller]
pub fn job_with_floor_from(floor: &str, x: u32, y: u32) -> String {
    let pad = format!(r#"at = ["{} ft", "{} ft"]"#, x + 1, y + 1);
    without_places(&replaced(&job_with(OUTLINE, floor), PAD, &pad))
}

/// A job without the places of its tests on the plan, for a floor that need not have them.
pub fn without_places(job: &str) -> String {
    let lines: Vec<&str> = job.lines().collect();
    let of_a_test = |at: usize| at > 0 && lines[at - 1].starts_with("place = ");
    let kept = lines.iter().enumerate();
    let kept = kept.filter(|(at, line)| !(line.starts_with("at = ") && of_a_test(*at)));
    kept.map(|(_, line)| format!("{line}\n")).collect()
}
