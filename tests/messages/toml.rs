//! Files that are not TOML.

use super::job;
use super::small::{AIR, UPRIGHT};

#[test]
#[rustfmt::skip]
fn a_file_that_is_not_toml_is_refused_at_the_place() {
    job("").replace("built = 1994", "built: 1994").says_among_others(r"
        error: not TOML: invalid unquoted key, expected letters, numbers, `-`, `_`
          --> job.toml:12:6
           |
        12 | built: 1994
           |      ^
    ");
    job("").replace("built = 1994", "built = ").says(r"
        error: not TOML: string values must be quoted, expected literal string
          --> job.toml:12:9
           |
        12 | built =
           |         ^
    ");
    job(UPRIGHT).replace(r#"name = "Stem wall""#, r#"name = "Stem wall"#).says(r#"
        error: not TOML: invalid basic string, expected `"`
          --> job.toml:36:18
           |
        36 | name = "Stem wall
           |                  ^
           |
           = help: close the text with `"` on its own line
    "#);
    job(UPRIGHT).replace(r#"name = "Stem wall""#, "name = Stem wall").says(r#"
        error: not TOML: string values must be quoted, expected literal string
          --> job.toml:36:8
           |
        36 | name = Stem wall
           |        ^^^^^^^^^
           |
           = help: put it in quotes: `"Stem wall"`
    "#);
    job("").replace("on-ground = true", "on-ground = yes").says(r"
        error: not TOML: string values must be quoted, expected literal string
          --> job.toml:15:13
           |
        15 | on-ground = yes
           |             ^^^
           |
           = help: write `true`
    ");
    job("").replace("built = 1994", "built = 1994\nbuilt = 1995").says(r"
        error: not TOML: duplicate key
          --> job.toml:13:1
           |
        13 | built = 1995
           | ^^^^^
           |
           = help: a key stands once: take one of the two lines out
    ");
    job("").replace("[house]", "[house").says(r"
        error: not TOML: unclosed table, expected `]`
          --> job.toml:11:7
           |
        11 | [house
           |       ^
    ");
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "38' 4"""#).says(r#"
        error: not TOML: unexpected key or value, expected newline, `#`
          --> job.toml:37:17
           |
        37 | length = "38' 4""
           |                 ^
           |
           = help: the mark of inches ends the text: write `"38 ft 4 in"`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = '38' 4"'"#).says(r#"
        error: not TOML: unexpected key or value, expected newline, `#`
          --> job.toml:37:15
           |
        37 | length = '38' 4"'
           |               ^
           |
           = help: the mark of inches ends the text: write `"38 ft 4 in"`
    "#);
    job(AIR).replace(r#"humidity = "54 %""#, "humidity = 54 %").says(r#"
        error: not TOML: string values must be quoted, expected literal string
          --> job.toml:38:12
           |
        38 | humidity = 54 %
           |            ^^^^
           |
           = help: put it in quotes: `"54 %"`
    "#);
    job(UPRIGHT).replace(r#"name = "Stem wall""#, r#"name = "C:\Stem""#).says(r#"
        error: not TOML: missing escaped value, expected `b`, `e`, `f`, `n`, `r`, `\`, `"`, `x`, `u`, `U`
          --> job.toml:36:12
           |
        36 | name = "C:\Stem"
           |            ^
    "#);
    job("").replace("sold-at-home = true", "sold-at-home = True").says(r"
        error: not TOML: invalid boolean, expected `true`
          --> job.toml:33:16
           |
        33 | sold-at-home = True
           |                ^^^^
           |
           = help: write `true`
    ");
    job("").replace(r#"address = ["8 Cattail Court", "Pikemere Lake"]"#, r#"address = ["8 Cattail Court" "Pikemere Lake"]"#).says(r#"
        error: not TOML: missing comma between array elements, expected `,`
         --> job.toml:9:30
          |
        9 | address = ["8 Cattail Court" "Pikemere Lake"]
          |                              ^
    "#);
}

/// What a person writes by hand, and one problem of it alone.
#[test]
#[rustfmt::skip]
fn a_slip_of_the_hand_is_one_problem_with_what_to_write() {
    job("").replace(r#"width = "24 ft""#, r#"width = "26'4"""#).says(r#"
        error: not TOML: unexpected key or value, expected newline, `#`
          --> job.toml:29:15
           |
        29 | width = "26'4""
           |               ^
           |
           = help: the mark of inches ends the text: write `"26 ft 4 in"`
    "#);
    job("\n[joint]\nlength = \"10 ft\"\n\n[joint]\nlength = \"12 ft\"\n").says(r"
        error: not TOML: duplicate key
          --> job.toml:38:2
           |
        38 | [joint]
           |  ^^^^^
           |
           = help: more than one is a list: write `[[joint]]` over each of them, the first too
    ");
    job("\n[house]\nbuilt = 1996\n").says(r"
        error: not TOML: duplicate key
          --> job.toml:35:2
           |
        35 | [house]
           |  ^^^^^
           |
           = help: put the keys of both under one `[house]`
    ");
    job("language = \"en\"\n").says(r#"
        error: unknown key `language` in [garage]
          --> job.toml:34:1
           |
        34 | language = "en"
           | ^^^^^^^^
           |
           = help: `language` belongs to the top of the file: move its line above the first `[`
    "#);
}
