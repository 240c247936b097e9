//! Mistakes in the terms, fillers and mixing of a book.

use super::small::{CRACK_RESIN, JOINT_FILLER, MIXING, REPAIR, WATER_EPOXY};
use super::{SmallShop, book};

/// The small book with two fillers and what they are for.
fn repaired() -> SmallShop {
    book(&[CRACK_RESIN, JOINT_FILLER, REPAIR].concat())
}

#[test]
#[rustfmt::skip]
fn the_terms_of_the_book_add_up() {
    book("").replace(r#"grind = "260 ft2/h""#, r#"grind = "0 ft2/h""#).says(r#"
        error: `grind` is zero
          --> book.toml:16:9
           |
        16 | grind = "0 ft2/h"
           |         ^^^^^^^^^
           |
           = help: write a work rate with its unit above zero, for example `"220 ft2/h"`
    "#);
    book("").replace(r#"edge = "50 ft/h""#, r#"edge = "0 ft/h""#).says(r#"
        error: `edge` is zero
          --> book.toml:18:8
           |
        18 | edge = "0 ft/h"
           |        ^^^^^^^^
           |
           = help: write a work rate with its unit above zero, for example `"45 ft/h"`
    "#);
    book("").replace(r#"margin = "38 %""#, r#"margin = "95 %""#).says(r#"
        error: `margin` is 95 % or more
          --> book.toml:29:10
           |
        29 | margin = "95 %"
           |          ^^^^^^
           |
           = help: a margin is a share of the price, for example `"35 %"`
    "#);
    book("").replace(r#"margin-floor = "25 %""#, r#"margin-floor = "40 %""#).says(r#"
        error: `margin-floor` is above `margin`
          --> book.toml:30:16
           |
        30 | margin-floor = "40 %"
           |                ^^^^^^
           |
           = help: the floor is the lowest margin that you accept
    "#);
}

#[test]
#[rustfmt::skip]
fn batches_and_mixes_can_be_measured() {
    book(MIXING).replace(r#"smallest = "1/4 gal""#, r#"smallest = "4 gal""#).says(r#"
        error: `smallest` is above `largest`
          --> book.toml:53:12
           |
        53 | smallest = "4 gal"
           |            ^^^^^^^
           |
           = help: the smallest batch that you can measure well
    "#);
    book(MIXING).replace(r#"part-of-pot-life = "75 %""#, r#"part-of-pot-life = "0 %""#).says(r#"
        error: `part-of-pot-life` is zero
          --> book.toml:54:20
           |
        54 | part-of-pot-life = "0 %"
           |                    ^^^^^
           |
           = help: write a share in percent above zero, for example `"10 %"`
    "#);
    book(WATER_EPOXY).replace(r#"mix = "4 : 1""#, r#"mix = "4 to 1""#).says(r#"
        error: `mix` is `4 to 1`
          --> book.toml:55:7
           |
        55 | mix = "4 to 1"
           |       ^^^^^^^^
           |
           = help: write parts by volume, resin first, each above zero, for example `"2 : 1"`
    "#);
}

#[test]
#[rustfmt::skip]
fn fillers_fit_what_they_fill() {
    repaired().replace(r#"rigid = "crack-resin""#, r#"rigid = "crack-resins""#).says(r#"
        error: no filler is called `crack-resins`
          --> book.toml:71:9
           |
        71 | rigid = "crack-resins"
           |         ^^^^^^^^^^^^^^
           |
           = help: did you mean `crack-resin`?
    "#);
    repaired().replace(r#"rigid = "crack-resin""#, r#"rigid = "joint-filler""#).says(r#"
        error: `joint-filler` is flexible
          --> book.toml:71:9
           |
        71 | rigid = "joint-filler"
           |         ^^^^^^^^^^^^^^
           |
           = help: `rigid` takes a hard filler, `flexible` a soft one
    "#);
    repaired().replace(r#"rigid = "crack-resin""#, r#"rigid = "epoxy-primer""#).says(r#"
        error: `epoxy-primer` is no filler
          --> book.toml:71:9
           |
        71 | rigid = "epoxy-primer"
           |         ^^^^^^^^^^^^^^
           |
           = help: name a product that has a `filler` table
    "#);
    repaired().replace(r#"chase = "1/4 in""#, r#"chase = "0 in""#).says(r#"
        error: `chase` is zero
          --> book.toml:76:9
           |
        76 | chase = "0 in"
           |         ^^^^^^
           |
           = help: write a length with its unit above zero, for example `"22 ft 6 in"`
    "#);
    book(CRACK_RESIN).replace("sets = \"30 min\"\n", "").says(r#"
        error: `sets` is missing in [product.filler]
          --> book.toml:55:1
           |
        55 | [product.filler]
           | ^^^^^^^^^^^^^^^^ expected a stretch of time with its unit
           |
           = help: add `sets = "8 h"`
    "#);
}

#[test]
fn an_unknown_currency_is_one_mistake_and_not_one_for_each_price() {
    let found = book("").replace(r#"currency = "USD""#, r#"currency = "dollars""#).mistakes();
    assert_eq!(found, ["error: `currency` is `dollars`"]);
}
