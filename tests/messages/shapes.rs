//! Mistakes in the shape of a floor and of what is repaired.

use super::small::{BOOK, CRACK_RESIN, CUTOUT, JOINT_FILLER, OUTLINE, REPAIR, SIZE};
use super::{SmallShop, job};

/// The small job with these lines at its end, and a book that says which filler mends what.
fn repaired(lines: &str) -> SmallShop {
    job(lines).write("book.toml", [BOOK, CRACK_RESIN, JOINT_FILLER, REPAIR].concat())
}

#[test]
#[rustfmt::skip]
fn the_floor_has_a_shape() {
    job("").replace(SIZE, &OUTLINE.replace(r#"["0 ft", "24 ft"]]"#, r#"["22 ft", "24 ft"]]"#)).says(r#"
        error: `outline` crosses itself: side 3 meets side 6
          --> job.toml:28:11
           |
        28 | outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["22 ft", "24 ft"]]
           |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: list the corners in order as you walk around the floor
    "#);
    job("").replace(SIZE, r#"outline = [["0 ft", "0 ft"], ["20 ft", "20 ft"], ["20 ft", "0 ft"], ["0 ft", "20 ft"]]"#).says(r#"
        error: `outline` crosses itself: side 1 meets side 3
          --> job.toml:28:11
           |
        28 | outline = [["0 ft", "0 ft"], ["20 ft", "20 ft"], ["20 ft", "0 ft"], ["0 ft", "20 ft"]]
           |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: list the corners in order as you walk around the floor
    "#);
    job("").replace(SIZE, r#"outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"]]"#).says(r#"
        error: `outline` has 2 corners
          --> job.toml:28:11
           |
        28 | outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"]]
           |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: write three corners or more, in order
    "#);
    job("").replace(SIZE, &format!("length = \"22 ft\"\n{OUTLINE}")).says(r#"
        error: `length` stands beside `outline`
          --> job.toml:28:10
           |
        28 | length = "22 ft"
           |          ^^^^^^^
           |
           = help: give length and width, or an outline
    "#);
    job(CUTOUT).replace("at = [\"1 ft\", \"20 ft 6 in\"]\nlength = \"3 ft\"\nwidth = \"2 ft 6 in\"", "at = [\"0 ft\", \"0 ft\"]\nlength = \"30 ft\"\nwidth = \"25 ft\"").says(r"
        error: `cutout` takes away the whole floor
          --> job.toml:35:1
           |
        35 | [[cutout]]
           | ^^^^^^^^^^
           |
           = help: check the sizes: nothing is left to coat
    ");
    job(CUTOUT).replace("length = \"3 ft\"\nwidth", "length = \"0 ft\"\nwidth").says(r#"
        error: `length` is zero
          --> job.toml:38:10
           |
        38 | length = "0 ft"
           |          ^^^^^^
           |
           = help: write a length above zero
    "#);
}

#[test]
#[rustfmt::skip]
fn spalls_and_coves_have_a_size_and_something_to_fill_them() {
    repaired("\n[[spall]]\nname = \"At the door\"\narea = \"2 ft2\"\nlength = \"1 ft\"\ndepth = \"1/2 in\"\n").says(r#"
        error: `length` stands beside `area`
          --> job.toml:38:10
           |
        38 | length = "1 ft"
           |          ^^^^^^
           |
           = help: give the area, or length and width
    "#);
    repaired("\n[[spall]]\nlength = \"1 ft\"\ndepth = \"1/2 in\"\n").says(r#"
        error: `width` is missing in [[spall]] 1
          --> job.toml:35:1
           |
        35 | [[spall]]
           | ^^^^^^^^^ expected a length with its unit
           |
           = help: add `width = "22 ft 6 in"`
    "#);
    repaired("\n[[cove]]\nlength = \"10 ft\"\nradius = \"0 in\"\n").says(r#"
        error: `radius` is zero
          --> job.toml:37:10
           |
        37 | radius = "0 in"
           |          ^^^^^^
           |
           = help: write a length above zero
    "#);
}
