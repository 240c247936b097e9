//! Lists of the wrong kind, or too long.

use super::small::{DISHES, NAME, OUTLINE, PHOTO, SIZE, UPRIGHT};
use super::{job, system};

#[test]
#[rustfmt::skip]
fn a_list_holds_what_it_should_and_not_too_much_of_it() {
    job("").replace(r#"address = ["8 Cattail Court", "Pikemere Lake"]"#, r#"address = "8 Cattail Court""#).says(r#"
        error: `address` is text
         --> job.toml:9:11
          |
        9 | address = "8 Cattail Court"
          |           ^^^^^^^^^^^^^^^^^
          |
          = help: write a list in brackets
    "#);
    job(DISHES).replace(r#"at = ["11 ft", "11 ft"]"#, r#"at = "4 ft, 18 ft""#).says(r#"
        error: `at` is text
          --> job.toml:43:6
           |
        43 | at = "4 ft, 18 ft"
           |      ^^^^^^^^^^^^^
           |
           = help: write a list in brackets
    "#);
    job("").replace(SIZE, &OUTLINE.replace(r#"["16 ft", "21 ft"]"#, r#""16 ft, 21 ft""#)).says(r#"
        error: `outline` holds something that is not a pair
          --> job.toml:28:69
           |
        28 | outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], "16 ft, 21 ft", ["16 ft", "24 ft"], ["0 ft", "24 ft"]]
           |                                                                     ^^^^^^^^^^^^^^
           |
           = help: write two values in brackets: `["22 ft 6 in", "22 ft 6 in"]`
    "#);
    job(UPRIGHT).replace("[[upright]]", "[upright]").says(r"
        error: `upright` is a table
          --> job.toml:35:1
           |
        35 | [upright]
           | ^^^^^^^^^
           |
           = help: write `[[upright]]` with two brackets, once for each
    ");
    job("").replace("[house]\nbuilt = 1994", "[[house]]\nbuilt = 1994").says(r"
        error: `house` is a list
          --> job.toml:11:1
           |
        11 | [[house]]
           | ^^^^^^^^^
           |
           = help: write a table: `[house]` on a line of its own
    ");
    job("").replace("[house]\nbuilt = 1994", "[extras]\nclear-epoxy = \"urethane-coat\"").says(r#"
        error: `extras` holds text
          --> job.toml:12:15
           |
        12 | clear-epoxy = "urethane-coat"
           |               ^^^^^^^^^^^^^^^
           |
           = help: write a list: `["barrier-epoxy"]`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_list_has_an_end() {
    job("").replace(NAME, &format!("name = \"{}\"", "a".repeat(501))).says(r#"
        error: `name` has 501 characters
         --> job.toml:8:8
          |
        8 | ... = "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa...aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
          |       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^...^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: the most accepted is 500
    "#);
    let lines = format!("address = [{}]", r#""x", "#.repeat(201));
    job("").replace(r#"address = ["8 Cattail Court", "Pikemere Lake"]"#, &lines).says(r#"
        error: `address` has 201 entries
         --> job.toml:9:11
          |
        9 | ... = ["x", "x", "x", "x", "x", "x", "x", "x", "x",...x", "x", "x", "x", "x", "x", "x", "x", "x", ]
          |       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^...^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: the most accepted is 200
    "#);
    job(&PHOTO.repeat(13)).says(r"
        error: `photo` stands 13 times
          --> job.toml:35:1
           |
        35 | [[photo]]
           | ^^^^^^^^^
           |
           = help: the most accepted is 12
    ");
    let coat = |at| format!("[[coat]]\nkey = \"c{at}\"\nproduct = \"epoxy-primer\"\nlook = \"primer\"\n");
    let head = "key = \"thin\"\nlife-from = 5\nlife-to = 10\n\n";
    let coats: String = (0..9).map(coat).collect();
    system().write("systems/thin.toml", format!("{head}{coats}")).says(r"
        error: `coat` stands 9 times
         --> systems/thin.toml:5:1
          |
        5 | [[coat]]
          | ^^^^^^^^
          |
          = help: the most accepted is 8
    ");
    let extra = coat(1) + "extra = \"gloss\"\n";
    system().write("systems/thin.toml", format!("{head}{extra}")).says(r"
        error: `coat` has nothing but extras
         --> systems/thin.toml:5:1
          |
        5 | [[coat]]
          | ^^^^^^^^
          |
          = help: give at least one coat without `extra`
    ");
}
