//! Floors on offer that nobody knows.

use super::small::{BARRIER, FLAKE, FLOOR, OFFER, TOP};
use super::{book, job};

#[test]
#[rustfmt::skip]
fn the_floors_on_offer_are_known_to_the_book() {
    job("").replace(OFFER, r#"offer = ["thin", "thin"]"#).says(r#"
        error: `offer` names `thin` twice
         --> job.toml:4:18
          |
        4 | offer = ["thin", "thin"]
          |                  ^^^^^^
          |
          = help: take one of them out
    "#);
    job("").replace(OFFER, r#"offer = ["thin", "barrier", "fast-cure", "clear-epoxy", "water-kit", "own-b"]"#).says_among_others(r#"
        error: `offer` has 6 systems
         --> job.toml:4:9
          |
        4 | offer = ["thin", "barrier", "fast-cure", "clear-epoxy", "water-kit", "own-b"]
          |         ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: the most accepted is 5
    "#);
    job("").replace(OFFER, r#"offer = ["thin", "clear-epoxi"]"#).says(r#"
        error: no system is called `clear-epoxi`
         --> job.toml:4:18
          |
        4 | offer = ["thin", "clear-epoxi"]
          |                  ^^^^^^^^^^^^^
          |
          = help: did you mean `clear-epoxy`?
    "#);
    job("").replace(OFFER, r#"offer = ["thin", "tiles"]"#).says(r#"
        error: no system is called `tiles`
         --> job.toml:4:18
          |
        4 | offer = ["thin", "tiles"]
          |                  ^^^^^^^
          |
          = help: known: `barrier`, `clear-epoxy`, `fast-cure`, `water-kit`, `thin`
    "#);
    let with_extra = format!("{FLOOR}\n[[coat]]\nkey = \"gloss\"\nextra = \"gloss-coat\"\nproduct = \"epoxy-primer\"\nlook = \"clear\"\n");
    job("\n[extras]\nthin = [\"gloss-coats\"]\n").write("systems/thin.toml", &with_extra).says(r#"
        error: no extra is called `gloss-coats`
          --> job.toml:36:9
           |
        36 | thin = ["gloss-coats"]
           |         ^^^^^^^^^^^^^
           |
           = help: did you mean `gloss-coat`?
    "#);
    job("\n[extras]\nthin = [\"sand\"]\n").write("systems/thin.toml", &with_extra).says(r#"
        error: no extra is called `sand`
          --> job.toml:36:9
           |
        36 | thin = ["sand"]
           |         ^^^^^^
           |
           = help: known: `gloss-coat`
    "#);
    job("\n[extras]\nthin = [\"gloss\"]\n").says(r#"
        error: no extra is called `gloss`
          --> job.toml:36:9
           |
        36 | thin = ["gloss"]
           |         ^^^^^^^
           |
           = help: there is no extra here
    "#);
    book(&[BARRIER, TOP, FLAKE].concat()).replace_in("job.toml", OFFER, r#"offer = ["barrier"]"#).replace(r#"key = "polyaspartic-top""#, r#"key = "polyaspartic-tops""#).says_among_others(r#"
        error: no product is called `polyaspartic-top`
          --> (built in) systems/barrier.toml:23:11
           |
        23 | product = "polyaspartic-top"
           |           ^^^^^^^^^^^^^^^^^^
           |
           = help: did you mean `polyaspartic-tops`?
    "#);
    book(&[BARRIER, TOP, FLAKE].concat()).replace_in("job.toml", OFFER, r#"offer = ["barrier"]"#).replace(r#"key = "barrier-epoxy""#, r#"key = "membrane""#).says(r#"
        error: no product is called `barrier-epoxy`
          --> (built in) systems/barrier.toml:12:11
           |
        12 | product = "barrier-epoxy"
           |           ^^^^^^^^^^^^^^^
           |
           = help: known: `epoxy-primer`, `membrane`, `polyaspartic-top`, `flake-quarter-inch`
    "#);
}
