//! Mistakes in a floor of the shop's own.

use super::small::{FLAKE, FLOOR};
use super::{book, system};

#[test]
#[rustfmt::skip]
fn a_system_of_the_shop_is_complete() {
    system().add("\n[[coat]]\nkey = \"base\"\nproduct = \"epoxy-primer\"\nlook = \"primer\"\n").says(r#"
        error: `key` `base` is used twice
          --> systems/thin.toml:12:7
           |
        12 | key = "base"
           |       ^^^^^^
           |
           = help: give each coat its own key
    "#);
    system().replace("life-to = 10", "life-to = 4").says(r"
        error: `life-to` is below `life-from`
         --> systems/thin.toml:3:11
          |
        3 | life-to = 4
          |           ^
          |
          = help: write the higher number of years in `life-to`
    ");
    system().replace(r#"spread = "160 ft2/gal""#, r#"spread = "0 ft2/gal""#).says(r#"
        error: `spread` is zero
         --> systems/thin.toml:9:10
          |
        9 | spread = "0 ft2/gal"
          |          ^^^^^^^^^^^
          |
          = help: write a value above zero
    "#);
    system().replace(r#"product = "epoxy-primer""#, r#"product = "epoxy-primr""#).says(r#"
        error: no product is called `epoxy-primr`
         --> systems/thin.toml:7:11
          |
        7 | product = "epoxy-primr"
          |           ^^^^^^^^^^^^^
          |
          = help: did you mean `epoxy-primer`?
    "#);
    book(FLAKE).write("systems/thin.toml", format!("{FLOOR}\n[[coat]]\nkey = \"flake\"\nproduct = \"flake-quarter-inch\"\nlook = \"flake\"\n")).says(r#"
        error: coat `flake` is flake but does not say how it is thrown
          --> systems/thin.toml:13:11
           |
        13 | product = "flake-quarter-inch"
           |           ^^^^^^^^^^^^^^^^^^^^
           |
           = help: add `broadcast = "full"` or `broadcast = "scattered"`
    "#);
    system().replace(r#"look = "primer""#, "look = \"primer\"\nbroadcast = \"full\"").says(r#"
        error: coat `base` is thrown, but its product is no flake
         --> systems/thin.toml:7:11
          |
        7 | product = "epoxy-primer"
          |           ^^^^^^^^^^^^^^
          |
          = help: take `broadcast` out, or name a product that has a `flake` table
    "#);
}

#[test]
#[rustfmt::skip]
fn the_years_of_a_new_topcoat_are_a_range() {
    system().replace("life-to = 10", "life-to = 10\nrenew-from = 6\nrenew-to = 3").says(r"
        error: `renew-to` is below `renew-from`
         --> systems/thin.toml:5:12
          |
        5 | renew-to = 3
          |            ^
          |
          = help: write the higher number of years in `renew-to`
    ");
}
