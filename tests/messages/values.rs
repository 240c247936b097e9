//! Values of the wrong kind: texts, names, counts and words of choice.

use super::small::{NAME, OFFER, PHOTO, STEPS, URETHANE};
use super::{book, job, shop, system};

#[test]
#[rustfmt::skip]
fn a_value_of_the_wrong_kind_says_what_it_is_and_what_to_write() {
    job("").replace("on-ground = true", r#"on-ground = "yes""#).says(r#"
        error: `on-ground` is text
          --> job.toml:15:13
           |
        15 | on-ground = "yes"
           |             ^^^^^
           |
           = help: write true or false, for example `true`
    "#);
    job("").replace(NAME, "name = 1994").says(r#"
        error: `name` is a whole number
         --> job.toml:8:8
          |
        8 | name = 1994
          |        ^^^^
          |
          = help: write text, for example `"as it should be printed"`
    "#);
    job("").replace("oil = false", "oil = 2026-05-12").says(r"
        error: `oil` is a date
          --> job.toml:21:7
           |
        21 | oil = 2026-05-12
           |       ^^^^^^^^^^
           |
           = help: write true or false, for example `true`
    ");
    job("").replace(r#"thickness = "4 in""#, "thickness = true").says(r#"
        error: `thickness` is true or false
          --> job.toml:17:13
           |
        17 | thickness = true
           |             ^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    job("").replace(NAME, r#"name = ["Rosa", "Emil"]"#).says(r#"
        error: `name` is a list
         --> job.toml:8:8
          |
        8 | name = ["Rosa", "Emil"]
          |        ^^^^^^^^^^^^^^^^
          |
          = help: write text, for example `"as it should be printed"`
    "#);
    job("").replace(r#"water-drop = "soaks-in""#, "water-drop = true").says(r#"
        error: `water-drop` is true or false
          --> job.toml:20:14
           |
        20 | water-drop = true
           |              ^^^^
           |
           = help: expected one of "soaks-in", "beads"
    "#);
    job("").replace("oil = false", "oil = 0.5").says(r"
        error: `oil` is a number
          --> job.toml:21:7
           |
        21 | oil = 0.5
           |       ^^^
           |
           = help: write true or false, for example `true`
    ");
    job("").replace(NAME, r#"name = { first = "Rosa", last = "Tannenwald" }"#).says(r#"
        error: `name` is a table
         --> job.toml:8:8
          |
        8 | name = { first = "Rosa", last = "Tannenwald" }
          |        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: write text, for example `"as it should be printed"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_text_is_neither_empty_nor_endless_nor_hiding_anything() {
    job("").replace(NAME, r#"name = "  ""#).says(r#"
        error: `name` is empty
         --> job.toml:8:8
          |
        8 | name = "  "
          |        ^^^^
          |
          = help: write something, or leave the key out
    "#);
    job(PHOTO).replace(r#"caption = "The slab, seen from the door""#, "caption = \"\"\"The slab\nseen from the door\"\"\"").says(r#"
        error: `caption` holds a line break (U+000A)
          --> job.toml:37:11
           |
        37 | caption = """The slab
           |           ^^^^^^^^^^^
           |
           = help: take it out
    "#);
    job("").replace(NAME, r#"name = "Rosa\u0007""#).says(r#"
        error: `name` holds a control character (U+0007)
         --> job.toml:8:8
          |
        8 | name = "Rosa\u0007"
          |        ^^^^^^^^^^^^
          |
          = help: take it out
    "#);
    job("").replace(NAME, r#"name = "Rosa \u202Edlanwennat""#).says(r#"
        error: `name` holds a character that changes the direction of text (U+202E)
         --> job.toml:8:8
          |
        8 | name = "Rosa \u202Edlanwennat"
          |        ^^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: take it out
    "#);
    job("").replace(NAME, r#"name = "Rosa\u200BTannenwald""#).says(r#"
        error: `name` holds an invisible character (U+200B)
         --> job.toml:8:8
          |
        8 | name = "Rosa\u200BTannenwald"
          |        ^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: take it out
    "#);
    job("").replace(NAME, r#"name = "Rosa\uE000""#).says(r#"
        error: `name` holds a private-use character (U+E000)
         --> job.toml:8:8
          |
        8 | name = "Rosa\uE000"
          |        ^^^^^^^^^^^^
          |
          = help: take it out
    "#);
    job("").replace(NAME, r#"name = "Rosa\u0378""#).says(r#"
        error: `name` holds a character that has no meaning (U+0378)
         --> job.toml:8:8
          |
        8 | name = "Rosa\u0378"
          |        ^^^^^^^^^^^^
          |
          = help: take it out
    "#);
}

#[test]
#[rustfmt::skip]
fn a_name_that_other_files_use_is_plain() {
    job("").replace(OFFER, r#"offer = ["thin", "Water kit"]"#).says(r#"
        error: `offer` is not a plain name: `Water kit`
         --> job.toml:4:18
          |
        4 | offer = ["thin", "Water kit"]
          |                  ^^^^^^^^^^^
          |
          = help: write a name of lower-case letters, digits and hyphens, for example `"barrier-epoxy"`
    "#);
    book(URETHANE).replace(r#"key = "urethane-coat""#, r#"key = "urethane_coat""#).says_among_others(r#"
        error: `key` is not a plain name: `urethane_coat`
          --> book.toml:51:7
           |
        51 | key = "urethane_coat"
           |       ^^^^^^^^^^^^^^^
           |
           = help: write a name of lower-case letters, digits and hyphens, for example `"barrier-epoxy"`
    "#);
    system().replace(r#"key = "thin""#, r#"key = """#).says_among_others(r#"
        error: `key` is not a plain name: ``
         --> systems/thin.toml:1:7
          |
        1 | key = ""
          |       ^^
          |
          = help: write a name of lower-case letters, digits and hyphens, for example `"barrier-epoxy"`
    "#);
    job("").replace(r#"number = "2026-0142""#, r#"number = "2026/0142""#).says(r#"
        error: `number` is not a job number: `2026/0142`
         --> job.toml:1:10
          |
        1 | number = "2026/0142"
          |          ^^^^^^^^^^^
          |
          = help: write up to 40 letters, digits and hyphens, for example `"2026-0142"`
    "#);
    job("").replace(r#"number = "2026-0142""#, r#"number = """#).says(r#"
        error: `number` is not a job number: ``
         --> job.toml:1:10
          |
        1 | number = ""
          |          ^^
          |
          = help: write up to 40 letters, digits and hyphens, for example `"2026-0142"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_count_and_a_year_are_whole_and_near() {
    job(STEPS).replace("count = 2", "count = -2").says(r"
        error: `count` is outside 0 to 9999: `-2`
          --> job.toml:36:9
           |
        36 | count = -2
           |         ^^
    ");
    job(STEPS).replace("count = 2", "count = 10000").says(r"
        error: `count` is outside 0 to 9999: `10000`
          --> job.toml:36:9
           |
        36 | count = 10000
           |         ^^^^^
    ");
    job(STEPS).replace("count = 2", "count = 2.0").says(r"
        error: `count` is a number
          --> job.toml:36:9
           |
        36 | count = 2.0
           |         ^^^
           |
           = help: write a whole number, for example `2`
    ");
    job("").replace("built = 1994", "built = 94").says(r"
        error: `built` is 94
          --> job.toml:12:9
           |
        12 | built = 94
           |         ^^
           |
           = help: write a year, for example `1996`
    ");
    job("\n[plan]\ncrew = 0\n").says(r"
        error: `crew` is not 1 to 20
          --> job.toml:36:8
           |
        36 | crew = 0
           |        ^
           |
           = help: how many persons work on this job
    ");
    book("").replace("crew = 2", "crew = 0").says(r"
        error: `crew` is 0
         --> book.toml:9:8
          |
        9 | crew = 0
          |        ^
          |
          = help: expected 1 to 20 persons
    ");
}

#[test]
#[rustfmt::skip]
fn a_word_of_choice_is_one_of_a_list() {
    job("").replace(r#"vapor-retarder = "unknown""#, r#"vapor-retarder = "unkown""#).says(r#"
        error: `vapor-retarder` is `unkown`
          --> job.toml:16:18
           |
        16 | vapor-retarder = "unkown"
           |                  ^^^^^^^^
           |
           = help: did you mean `"unknown"`? expected one of "yes", "no", "unknown"
    "#);
    job("").replace(r#"wishes = ["lasting", "quick"]"#, r#"wishes = ["lasting", "cheap"]"#).says(r#"
        error: `wishes` is `cheap`
         --> job.toml:5:22
          |
        5 | wishes = ["lasting", "cheap"]
          |                      ^^^^^^^
          |
          = help: expected one of "quick", "lasting", "low-price", "no-yellowing", "moisture-room"
    "#);
    book("").replace(r#"tax-on = "price""#, r#"tax-on = "sales""#).says(r#"
        error: `tax-on` is `sales`
          --> book.toml:32:10
           |
        32 | tax-on = "sales"
           |          ^^^^^^^
           |
           = help: expected one of "price", "purchases", "nothing"
    "#);
    shop("").replace(r##"accent = "#27566B""##, r#"accent = "navy""#).says(r##"
        error: `accent` is `navy`
         --> shop.toml:3:10
          |
        3 | accent = "navy"
          |          ^^^^^^
          |
          = help: write a color as `"#27566B"`
    "##);
}
