//! What the program says about mistakes, to the letter: one change to the example, one message.
//!
//! The transcripts count lines of `examples/two-car-barrier/job.toml` and of the shared book and
//! shop: an edit of those above a quoted line moves its number here.

use std::fs;

use crate::facts::example::without_places;
use crate::fixture::Folder;

/// A floor of a shop's own, beside the example's book.
const OWN_FLOOR: &str = r#"key = "own-floor"
life-from = 5
life-to = 10

[[coat]]
key = "base"
product = "epoxy-primer"
look = "primer"
spread = "160 ft2/gal"

[[coat]]
key = "flake"
product = "flake-quarter-inch"
look = "flake"
broadcast = "full"

[[coat]]
key = "top"
product = "polyaspartic-top"
look = "top"
"#;

const OUTLINE: &str = r#"outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["0 ft", "24 ft"]]"#;
const NAME: &str = r#"name = "Rosa and Emil Tannenwald""#;
const OFFER: &str = r#""clear-epoxy", "water-kit"]"#;

/// One change brings up one message and nothing else.
#[track_caller]
pub fn message(file: &str, from: &str, to: &str, block: &str) {
    one_problem(&Folder::new().replace(file, from, to), block);
}

/// One change brings up this message first among others that follow from it.
#[track_caller]
pub fn among(file: &str, from: &str, to: &str, block: &str) {
    shows(&check(&Folder::new().replace(file, from, to)), block);
}

#[track_caller]
fn system_message(from: &str, to: &str, block: &str) {
    one_problem(&with_own_floor(OWN_FLOOR).replace("systems/own.toml", from, to), block);
}

#[track_caller]
fn system_among(from: &str, to: &str, block: &str) {
    shows(&check(&with_own_floor(OWN_FLOOR).replace("systems/own.toml", from, to)), block);
}

/// The example with a floor of the shop's own on offer.
fn with_own_floor(text: &str) -> Folder {
    Folder::new().write("systems/own.toml", text).replace(
        "job.toml",
        OFFER,
        r#""clear-epoxy", "own-floor"]"#,
    )
}

#[track_caller]
pub fn one_problem(folder: &Folder, block: &str) {
    let expected = format!("{}\n\n1 problem found; nothing was written", dedented(block));
    assert_eq!(check(folder), expected);
}

#[track_caller]
pub fn shows(printed: &str, block: &str) {
    let block = dedented(block);
    assert!(printed.contains(&block), "not there:\n{block}\n\nprinted:\n{printed}");
}

#[track_caller]
pub fn check(folder: &Folder) -> String {
    dedented(&folder.run(&["check", "job.toml"]).code(2).complaint())
}

/// Without the indent of the first line, without white space at the ends of lines.
fn dedented(text: &str) -> String {
    let text = text.trim_start_matches('\n');
    let indent = text.len() - text.trim_start().len();
    let line = |line: &str| line.get(indent..).unwrap_or("").trim_end().to_owned();
    text.lines().map(line).collect::<Vec<_>>().join("\n").trim_end().to_owned()
}

/// Takes a file's text out from one piece up to another.
#[track_caller]
fn cut(folder: Folder, file: &str, from: &str, until: &str) -> Folder {
    let text = folder.read(file);
    let start = text.find(from).unwrap();
    let end = start + text[start..].find(until).unwrap();
    folder.write(file, format!("{}{}", &text[..start], &text[end..]))
}

#[test]
#[rustfmt::skip]
fn an_unknown_key_is_named_with_the_nearest_known_one_or_all_of_them() {
    message("job.toml", "poured-year = 1994", "pored-year = 1994", r"
        error: unknown key `pored-year` in [slab]
          --> job.toml:23:1
           |
        23 | pored-year = 1994
           | ^^^^^^^^^^
           |
           = help: did you mean `poured-year`?
    ");
    message("job.toml", "daylight = true", "daylight = true\nvolume = \"900 ft3\"", r#"
        error: unknown key `volume` in [garage]
           --> job.toml:115:1
            |
        115 | volume = "900 ft3"
            | ^^^^^^
            |
            = help: known here: `daylight`, `height`, `ignition`, `sold-at-home`, `wet`
    "#);
    message("job.toml", "invented = true", "invented = true\nprices = \"low\"", r#"
        error: unknown key `prices` at the top of the file
         --> job.toml:9:1
          |
        9 | prices = "low"
          | ^^^^^^
          |
          = help: known here: `accepted`, `air`, `area`, `cove`, `crack`, `crew-notes`, `customer`, `cutout`, `date`, `door`, `extras`, `garage`, `house`, `invented`, `joint`, `language`, `moisture`, `notes`, `number`, `offer`, `paper`, `photo`, `plan`, `print`, `slab`, `spall`, `steps`, `units`, `upright`, `wishes`
    "#);
    message("job.toml", "name = \"Stem wall\"\n", "name = \"Stem wall\"\nheigth = \"5 in\"\n", r#"
        error: unknown key `heigth` in [[upright]] 1
          --> job.toml:45:1
           |
        45 | heigth = "5 in"
           | ^^^^^^
           |
           = help: did you mean `height`?
    "#);
    message("shop.toml", r#"phone = "555-0114""#, r#"fone = "555-0114""#, r#"
        error: unknown key `fone` at the top of the file
         --> shop.toml:5:1
          |
        5 | fone = "555-0114"
          | ^^^^
          |
          = help: known here: `accent`, `address`, `calendar`, `cancellation`, `country`, `email`, `fan`, `language`, `leaves`, `license`, `limits`, `logo`, `name`, `notice`, `payment`, `phone`, `record`, `rule`, `testing`, `warranty`
    "#);
    system_message("life-to = 10", "life-to = 10\nlife = 3", r"
        error: unknown key `life` at the top of the file
         --> systems/own.toml:4:1
          |
        4 | life = 3
          | ^^^^
          |
          = help: did you mean `life-to`?
    ");
}

/// What a visit found was there before its paper was written, and is of a size that garages have.
#[test]
#[rustfmt::skip]
fn what_cannot_have_been_found_is_refused() {
    message("job.toml", "measured = 2026-05-08", "measured = 2027-05-08", r"
        error: `measured` is after the date of the paper
           --> job.toml:106:12
            |
        106 | measured = 2027-05-08
            |            ^^^^^^^^^^
            |
            = help: check both: the paper's `date` is 2026-05-12
    ");
    message("job.toml", "built = 1994", "built = 2031", r"
        error: `built` is after the date of the paper
          --> job.toml:17:9
           |
        17 | built = 2031
           |         ^^^^
           |
           = help: check both: the paper's `date` is 2026-05-12
    ");
    message("job.toml", "poured-year = 1994", "poured-year = 2030", r"
        error: `poured-year` is after the date of the paper
          --> job.toml:23:15
           |
        23 | poured-year = 2030
           |               ^^^^
           |
           = help: check both: the paper's `date` is 2026-05-12
    ");
    message("job.toml", r#"thickness = "4 in""#, r#"thickness = "4 ft""#, r#"
        error: `thickness` is more than any garage floor has
          --> job.toml:22:13
           |
        22 | thickness = "4 ft"
           |             ^^^^^^
           |
           = help: the most accepted is 24 in
    "#);
    message("job.toml", r#"width = "1/16 in""#, r#"width = "3 ft""#, r#"
        error: `width` is more than a crack has
          --> job.toml:58:9
           |
        58 | width = "3 ft"
           |         ^^^^^^
           |
           = help: the most accepted is 2 in; a wider gap is a `[[spall]]`
    "#);
}

/// A slip in a key that chooses between two forms of a table: the other form knows it.
#[test]
#[rustfmt::skip]
fn a_slip_in_a_key_of_another_form_is_known() {
    among("job.toml", "outline = [[", "outlin = [[", r#"
        error: unknown key `outlin` in [[area]] 1
          --> job.toml:35:1
           |
        35 | outlin = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["0 ft", "24 ft"]]
           | ^^^^^^
           |
           = help: did you mean `outline`?
    "#);
    for (right, slip) in [("[product.flake]", "[product.flke]"), ("[product.filler]", "[product.filer]")] {
        let folder = Folder::new();
        let book = folder.read("book.toml").replacen(right, slip, 1);
        let said = check(&folder.write("book.toml", book));
        let key = right.trim_start_matches("[product.").trim_end_matches(']');
        assert!(said.contains(&format!("help: did you mean `{key}`?")), "{said}");
    }
}

/// A list that holds nothing is not taken for one that was left out.
#[test]
#[rustfmt::skip]
fn an_empty_list_is_told_where_something_has_to_be_in_it() {
    one_problem(&Folder::of("smallest").replace("job.toml", r#"[{ length = "22 ft 6 in", width = "21 ft" }]"#, "[]"), r"
        error: `area` is empty
         --> job.toml:9:8
          |
        9 | area = []
          |        ^^
          |
          = help: add an `[[area]]` table with `length` and `width`, or with `outline`
    ");
    message("job.toml", r#"from = ["3 ft", "0 ft"]"#, "from = []", r#"
        error: `from` has 0 values
           --> job.toml:136:8
            |
        136 | from = []
            |        ^^
            |
            = help: write two values in brackets: `["22 ft 6 in", "22 ft 6 in"]`
    "#);
    message("job.toml", r#"at = ["4 ft", "18 ft"]"#, "at = []", r#"
        error: `at` has 0 values
          --> job.toml:77:6
           |
        77 | at = []
           |      ^^
           |
           = help: write two values in brackets: `["22 ft 6 in", "22 ft 6 in"]`
    "#);
    message("job.toml", r#"path = [["0 ft", "12 ft"], ["22 ft", "12 ft"]]"#, "path = []", r"
        error: `path` has no point
          --> job.toml:66:8
           |
        66 | path = []
           |        ^^
           |
           = help: write two points or more, or take the key out
    ");
}

#[test]
#[rustfmt::skip]
fn a_missing_key_or_table_is_named_with_an_example() {
    message("job.toml", "number = \"2026-0142\"\n", "", r#"
        error: `number` is missing in the file
         --> job.toml:1:1
          |
        1 | # A two-car garage on a damp slab. The readings are above what a plain primer may take and well
          | ^ expected a job number of letters, digits and hyphens
          |
          = help: add `number = "2026-0142"`
    "#);
    message("job.toml", "daylight = true\n", "", r"
        error: `daylight` is missing in [garage]
           --> job.toml:111:1
            |
        111 | [garage]
            | ^^^^^^^^ expected true or false
            |
            = help: add `daylight = true`
    ");
    one_problem(&cut(Folder::new(), "job.toml", "length = \"3 ft\"", "width = \"2 ft 6 in\""), r#"
        error: `length` is missing in [[cutout]] 1
          --> job.toml:37:1
           |
        37 | [[cutout]]
           | ^^^^^^^^^^ expected a length with its unit
           |
           = help: add `length = "22 ft 6 in"`
    "#);
    one_problem(&cut(Folder::new(), "job.toml", "[customer]", "[house]"), r"
        error: `customer` is missing in the file
         --> job.toml:1:1
          |
        1 | # A two-car garage on a damp slab. The readings are above what a plain primer may take and well
          | ^ expected a table
          |
          = help: add `[customer]`
    ");
    message("job.toml", "offer = [\"barrier\", \"fast-cure\", \"clear-epoxy\", \"water-kit\"]\n", "", r#"
        error: `offer` is missing
         --> job.toml:1:1
          |
        1 | # A two-car garage on a damp slab. The readings are above what a plain primer may take and well
          | ^
          |
          = help: add `offer = ["barrier", "fast-cure"]`
    "#);
    message("book.toml", "wage = \"$32.00/h\"        # of one person\n", "", r#"
        error: `wage` is missing in [labor]
          --> book.toml:10:1
           |
        10 | [labor]
           | ^^^^^^^ expected an amount of money per hour
           |
           = help: add `wage = "$34.00/h"`
    "#);
    message("shop.toml", "when = \"When you sign\"\n", "", r#"
        error: `when` is missing in [[payment]] 1
          --> shop.toml:24:1
           |
        24 | [[payment]]
           | ^^^^^^^^^^^ expected a text
           |
           = help: add `when = "as it should be printed"`
    "#);
    system_message("look = \"primer\"\n", "", r#"
        error: `look` is missing in [[coat]] 1
         --> systems/own.toml:5:1
          |
        5 | [[coat]]
          | ^^^^^^^^ expected one of "primer", "barrier", "flake", "clear", "top", "thin"
          |
          = help: add `look = "primer"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_value_of_the_wrong_kind_says_what_it_is_and_what_to_write() {
    message("job.toml", "on-ground = true", r#"on-ground = "yes""#, r#"
        error: `on-ground` is a text
          --> job.toml:20:13
           |
        20 | on-ground = "yes"
           |             ^^^^^
           |
           = help: write true or false, for example `true`
    "#);
    message("job.toml", NAME, "name = 1994", r#"
        error: `name` is a whole number
          --> job.toml:13:8
           |
        13 | name = 1994
           |        ^^^^
           |
           = help: write a text, for example `"as it should be printed"`
    "#);
    message("job.toml", "oil = false", "oil = 2026-05-12", r"
        error: `oil` is a date
          --> job.toml:26:7
           |
        26 | oil = 2026-05-12
           |       ^^^^^^^^^^
           |
           = help: write true or false, for example `true`
    ");
    message("job.toml", r#"thickness = "4 in""#, "thickness = true", r#"
        error: `thickness` is true or false
          --> job.toml:22:13
           |
        22 | thickness = true
           |             ^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    message("job.toml", NAME, r#"name = ["Rosa", "Emil"]"#, r#"
        error: `name` is a list
          --> job.toml:13:8
           |
        13 | name = ["Rosa", "Emil"]
           |        ^^^^^^^^^^^^^^^^
           |
           = help: write a text, for example `"as it should be printed"`
    "#);
    message("job.toml", r#"water-drop = "soaks-in""#, "water-drop = true", r#"
        error: `water-drop` is true or false
          --> job.toml:25:14
           |
        25 | water-drop = true
           |              ^^^^
           |
           = help: expected one of "soaks-in", "beads"
    "#);
    message("job.toml", "oil = false", "oil = 0.5", r"
        error: `oil` is a number
          --> job.toml:26:7
           |
        26 | oil = 0.5
           |       ^^^
           |
           = help: write true or false, for example `true`
    ");
    message("job.toml", NAME, r#"name = { first = "Rosa", last = "Tannenwald" }"#, r#"
        error: `name` is a table
          --> job.toml:13:8
           |
        13 | name = { first = "Rosa", last = "Tannenwald" }
           |        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: write a text, for example `"as it should be printed"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_quantity_without_its_unit_or_with_another_is_refused() {
    message("job.toml", r#"thickness = "4 in""#, "thickness = 4", r#"
        error: `thickness` has no unit
          --> job.toml:22:13
           |
        22 | thickness = 4
           |             ^
           |
           = help: write the number and its unit as a text, for example `"22 ft 6 in"`; units: `ft`, `in`, `m`, `cm`, `mm`
    "#);
    message("job.toml", r#"thickness = "4 in""#, r#"thickness = "4""#, r#"
        error: `thickness` has no unit: `4`
          --> job.toml:22:13
           |
        22 | thickness = "4"
           |             ^^^
           |
           = help: units: `ft`, `in`, `m`, `cm`, `mm`; for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = "12 m 6""#, r#"
        error: `length` has no unit: `12 m 6`
          --> job.toml:45:10
           |
        45 | length = "12 m 6"
           |          ^^^^^^^^
           |
           = help: units: `ft`, `in`, `m`, `cm`, `mm`; for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"surface-strength = "310 psi""#, r#"surface-strength = "310 ft""#, r#"
        error: `surface-strength` has the unit `ft`, which does not fit here
          --> job.toml:24:20
           |
        24 | surface-strength = "310 ft"
           |                    ^^^^^^^^
           |
           = help: expected a strength with its unit: `psi`, `MPa`
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = "38 yd""#, r#"
        error: `length` has the unit `yd`, which does not fit here
          --> job.toml:45:10
           |
        45 | length = "38 yd"
           |          ^^^^^^^
           |
           = help: expected a length with its unit: `ft`, `in`, `m`, `cm`, `mm`
    "#);
    message("book.toml", r#"grind = "260 ft2/h""#, r#"grind = "260 ft/h""#, r#"
        error: `grind` has the unit `ft/h`, which does not fit here
          --> book.toml:21:9
           |
        21 | grind = "260 ft/h"
           |         ^^^^^^^^^^
           |
           = help: expected a work rate with its unit: `ft2/h`, `m2/h`
    "#);
    message("book.toml", r#"mver-limit = "20 lb/1000ft2/24h""#, r#"mver-limit = "20 psi""#, r#"
        error: `mver-limit` has the unit `psi`, which does not fit here
          --> book.toml:92:14
           |
        92 | mver-limit = "20 psi"
           |              ^^^^^^^^
           |
           = help: expected a moisture vapor emission rate with its unit: `lb/1000ft2/24h`, `ug/m2/s`, `g/m2/24h`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_quantity_that_cannot_be_is_refused() {
    message("job.toml", r#"length = "38 ft""#, r#"length = "-38 ft""#, r#"
        error: `length` is negative: `-38 ft`
          --> job.toml:45:10
           |
        45 | length = "-38 ft"
           |          ^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"length = "38 ft""#, "length = \"\u{2212}38 ft\"", r#"
        error: `length` is negative: `−38 ft`
          --> job.toml:45:10
           |
        45 | length = "−38 ft"
           |          ^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = "3800 ft""#, r#"
        error: `length` is too large: `3800 ft`
          --> job.toml:45:10
           |
        45 | length = "3800 ft"
           |          ^^^^^^^^^
           |
           = help: the most accepted is 1000 ft; check the number and the unit
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = "about 38 ft""#, r#"
        error: `length` does not start with a number: `about 38 ft`
          --> job.toml:45:10
           |
        45 | length = "about 38 ft"
           |          ^^^^^^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = "38.5.2 ft""#, r#"
        error: `length` is not a number: `38.5.2 ft`
          --> job.toml:45:10
           |
        45 | length = "38.5.2 ft"
           |          ^^^^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = """#, r#"
        error: `length` is empty
          --> job.toml:45:10
           |
        45 | length = ""
           |          ^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = "0 ft""#, r#"
        error: `length` is zero
          --> job.toml:45:10
           |
        45 | length = "0 ft"
           |          ^^^^^^
           |
           = help: write a length above zero
    "#);
    message("job.toml", r#"width = "1/16 in""#, r#"width = "1/0 in""#, r#"
        error: `width` divides by zero: `1/0 in`
          --> job.toml:58:9
           |
        58 | width = "1/0 in"
           |         ^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    message("job.toml", r#"humidity = "54 %""#, r#"humidity = "154 %""#, r#"
        error: `humidity` is too large: `154 %`
           --> job.toml:108:12
            |
        108 | humidity = "154 %"
            |            ^^^^^^^
            |
            = help: the most accepted is 100 %; check the number and the unit
    "#);
    message("job.toml", r#"humidity = "54 %""#, r#"humidity = "0 %""#, r#"
        error: `humidity` is zero
           --> job.toml:108:12
            |
        108 | humidity = "0 %"
            |            ^^^^^
            |
            = help: air is never wholly dry; check the instrument
    "#);
    message("job.toml", r#"before = "218.4 g""#, r#"before = "218.4 g 1 g""#, r#"
        error: `before` has more than one number: `218.4 g 1 g`
          --> job.toml:80:10
           |
        80 | before = "218.4 g 1 g"
           |          ^^^^^^^^^^^^^
           |
           = help: write one number with one unit, for example `"40 lb"`
    "#);
    message("job.toml", "exposed = \"65.7 in2\"\nbefore = \"218.4 g\"", "exposed = \"0 in2\"\nbefore = \"218.4 g\"", r#"
        error: `exposed` is zero
          --> job.toml:79:11
           |
        79 | exposed = "0 in2"
           |           ^^^^^^^
           |
           = help: the concrete under the dome without the dish's own footprint
    "#);
}

#[test]
#[rustfmt::skip]
fn a_comma_for_a_decimal_point_is_refused_with_the_point_in_its_place() {
    message("job.toml", r#"length = "38 ft""#, r#"length = "38,5 ft""#, r#"
        error: `length` has a comma where a decimal point belongs: `38,5 ft`
          --> job.toml:45:10
           |
        45 | length = "38,5 ft"
           |          ^^^^^^^^^
           |
           = help: write `38.5 ft`
    "#);
    message("book.toml", r#"per-job = "$120.00""#, r#"per-job = "$120,00""#, r#"
        error: `per-job` has a comma where a decimal point belongs: `$120,00`
          --> book.toml:37:11
           |
        37 | per-job = "$120,00"
           |           ^^^^^^^^^
           |
           = help: write `$120.00`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_temperature_says_its_scale_and_lies_where_people_lay_floors() {
    message("job.toml", r#"slab = "62 F""#, "slab = 62", r#"
        error: `slab` has no unit
           --> job.toml:109:8
            |
        109 | slab = 62
            |        ^^
            |
            = help: write `"55 F"` or `"13 C"`
    "#);
    message("job.toml", r#"slab = "62 F""#, r#"slab = "62""#, r#"
        error: `slab` has no unit: `62`
           --> job.toml:109:8
            |
        109 | slab = "62"
            |        ^^^^
            |
            = help: write `"55 F"` or `"13 C"`
    "#);
    message("job.toml", r#"slab = "62 F""#, r#"slab = "62 ft""#, r#"
        error: `slab` has the unit `ft`, which does not fit here
           --> job.toml:109:8
            |
        109 | slab = "62 ft"
            |        ^^^^^^^
            |
            = help: expected a temperature: `F` or `C`
    "#);
    message("job.toml", r#"slab = "62 F""#, r#"slab = "62 F 17 C""#, r#"
        error: `slab` has more than one number: `62 F 17 C`
           --> job.toml:109:8
            |
        109 | slab = "62 F 17 C"
            |        ^^^^^^^^^^^
            |
            = help: write `"55 F"` or `"13 C"`
    "#);
    message("job.toml", r#"slab = "62 F""#, r#"slab = "62 C""#, r#"
        error: `slab` is outside -40 C to 60 C: `62 C`
           --> job.toml:109:8
            |
        109 | slab = "62 C"
            |        ^^^^^^
            |
            = help: check the number and whether it is F or C
    "#);
    message("job.toml", r#"slab = "62 F""#, r#"slab = "-80 F""#, r#"
        error: `slab` is outside -40 C to 60 C: `-80 F`
           --> job.toml:109:8
            |
        109 | slab = "-80 F"
            |        ^^^^^^^
            |
            = help: check the number and whether it is F or C
    "#);
    message("job.toml", r#"slab = "62 F""#, r#"slab = """#, r#"
        error: `slab` is empty
           --> job.toml:109:8
            |
        109 | slab = ""
            |        ^^
            |
            = help: write `"55 F"` or `"13 C"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_text_is_neither_empty_nor_endless_nor_hiding_anything() {
    message("job.toml", NAME, r#"name = "  ""#, r#"
        error: `name` is empty
          --> job.toml:13:8
           |
        13 | name = "  "
           |        ^^^^
           |
           = help: write something, or leave the key out
    "#);
    message("job.toml", r#"caption = "The slab, seen from the door""#, "caption = \"\"\"The slab\nseen from the door\"\"\"", r#"
        error: `caption` holds a line break (U+000A)
           --> job.toml:123:11
            |
        123 | caption = """The slab
            |           ^^^^^^^^^^^
            |
            = help: take it out
    "#);
    message("job.toml", NAME, r#"name = "Rosa\u0007""#, r#"
        error: `name` holds a control character (U+0007)
          --> job.toml:13:8
           |
        13 | name = "Rosa\u0007"
           |        ^^^^^^^^^^^^
           |
           = help: take it out
    "#);
    message("job.toml", NAME, r#"name = "Rosa \u202Edlanwennat""#, r#"
        error: `name` holds a character that changes the direction of text (U+202E)
          --> job.toml:13:8
           |
        13 | name = "Rosa \u202Edlanwennat"
           |        ^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: take it out
    "#);
    message("job.toml", NAME, r#"name = "Rosa\u200BTannenwald""#, r#"
        error: `name` holds an invisible character (U+200B)
          --> job.toml:13:8
           |
        13 | name = "Rosa\u200BTannenwald"
           |        ^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: take it out
    "#);
    message("job.toml", NAME, r#"name = "Rosa\uE000""#, r#"
        error: `name` holds a private-use character (U+E000)
          --> job.toml:13:8
           |
        13 | name = "Rosa\uE000"
           |        ^^^^^^^^^^^^
           |
           = help: take it out
    "#);
    message("job.toml", NAME, r#"name = "Rosa\u0378""#, r#"
        error: `name` holds a character that has no meaning (U+0378)
          --> job.toml:13:8
           |
        13 | name = "Rosa\u0378"
           |        ^^^^^^^^^^^^
           |
           = help: take it out
    "#);
}

#[test]
#[rustfmt::skip]
fn a_name_that_other_files_use_is_plain() {
    message("job.toml", r#""water-kit"]"#, r#""Water kit"]"#, r#"
        error: `offer` is not a plain name: `Water kit`
         --> job.toml:9:49
          |
        9 | offer = ["barrier", "fast-cure", "clear-epoxy", "Water kit"]
          |                                                 ^^^^^^^^^^^
          |
          = help: write a name of lower-case letters, digits and hyphens, for example `"barrier-epoxy"`
    "#);
    among("book.toml", r#"key = "clear-epoxy""#, r#"key = "clear_epoxy""#, r#"
        error: `key` is not a plain name: `clear_epoxy`
           --> book.toml:173:7
            |
        173 | key = "clear_epoxy"
            |       ^^^^^^^^^^^^^
            |
            = help: write a name of lower-case letters, digits and hyphens, for example `"barrier-epoxy"`
    "#);
    system_among(r#"key = "own-floor""#, r#"key = """#, r#"
        error: `key` is not a plain name: ``
         --> systems/own.toml:1:7
          |
        1 | key = ""
          |       ^^
          |
          = help: write a name of lower-case letters, digits and hyphens, for example `"barrier-epoxy"`
    "#);
    message("job.toml", r#"number = "2026-0142""#, r#"number = "2026/0142""#, r#"
        error: `number` is not a job number: `2026/0142`
         --> job.toml:5:10
          |
        5 | number = "2026/0142"
          |          ^^^^^^^^^^^
          |
          = help: write up to 40 letters, digits and hyphens, for example `"2026-0142"`
    "#);
    message("job.toml", r#"number = "2026-0142""#, r#"number = """#, r#"
        error: `number` is not a job number: ``
         --> job.toml:5:10
          |
        5 | number = ""
          |          ^^
          |
          = help: write up to 40 letters, digits and hyphens, for example `"2026-0142"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_count_and_a_year_are_whole_and_near() {
    message("job.toml", "count = 2", "count = -2", r"
        error: `count` is outside 0 to 9999: `-2`
          --> job.toml:49:9
           |
        49 | count = -2
           |         ^^
    ");
    message("job.toml", "count = 2", "count = 10000", r"
        error: `count` is outside 0 to 9999: `10000`
          --> job.toml:49:9
           |
        49 | count = 10000
           |         ^^^^^
    ");
    message("job.toml", "count = 2", "count = 2.0", r"
        error: `count` is a number
          --> job.toml:49:9
           |
        49 | count = 2.0
           |         ^^^
           |
           = help: write a whole number, for example `2`
    ");
    message("job.toml", "built = 1994", "built = 94", r"
        error: `built` is 94
          --> job.toml:17:9
           |
        17 | built = 94
           |         ^^
           |
           = help: write a year, for example `1996`
    ");
    message("job.toml", "start = 2026-05-26", "start = 2026-05-26\ncrew = 0", r"
        error: `crew` is not 1 to 20
           --> job.toml:120:8
            |
        120 | crew = 0
            |        ^
            |
            = help: how many persons work on this job
    ");
    message("book.toml", "crew = 2", "crew = 0", r"
        error: `crew` is 0
          --> book.toml:13:8
           |
        13 | crew = 0
           |        ^
           |
           = help: expected 1 to 20 persons
    ");
}

#[test]
#[rustfmt::skip]
fn a_date_stands_without_quotes_and_on_the_calendar() {
    message("job.toml", "date = 2026-05-12", r#"date = "2026-05-12""#, r#"
        error: `date` is a text
         --> job.toml:6:8
          |
        6 | date = "2026-05-12"
          |        ^^^^^^^^^^^^
          |
          = help: write year-month-day without quotes: `2026-05-12`
    "#);
    message("job.toml", "date = 2026-05-12", "date = 2026-02-30", r"
        error: not TOML: invalid date, expected day between 01 and 28
         --> job.toml:6:8
          |
        6 | date = 2026-02-30
          |        ^^^^^^^^^^
    ");
    message("job.toml", "date = 2026-05-12", "date = 5/12/2026", r"
        error: not TOML: string values must be quoted, expected literal string
         --> job.toml:6:8
          |
        6 | date = 5/12/2026
          |        ^^^^^^^^^
          |
          = help: write year, month, day, without quotes: `2026-05-12`
    ");
    message("job.toml", "date = 2026-05-12", "date = 0206-05-12", r"
        error: `date` is outside the years 1900 to 2199: `0206-05-12`
         --> job.toml:6:8
          |
        6 | date = 0206-05-12
          |        ^^^^^^^^^^
    ");
    message("job.toml", "set = 2026-05-05T09:10:00", r#"set = "2026-05-05 09:10""#, r#"
        error: `set` is a text
          --> job.toml:82:7
           |
        82 | set = "2026-05-05 09:10"
           |       ^^^^^^^^^^^^^^^^^^
           |
           = help: write date and time without quotes or zone: `2026-05-08T10:30:00`
    "#);
    message("job.toml", "set = 2026-05-05T09:10:00", "set = 2026-05-05", r"
        error: `set` is a date
          --> job.toml:82:7
           |
        82 | set = 2026-05-05
           |       ^^^^^^^^^^
           |
           = help: write date and time without quotes or zone: `2026-05-08T10:30:00`
    ");
    message("job.toml", "set = 2026-05-05T09:10:00", "set = 2200-05-05T09:10:00", r"
        error: `set` is outside the years 1900 to 2199: `2200-05-05`
          --> job.toml:82:7
           |
        82 | set = 2200-05-05T09:10:00
           |       ^^^^^^^^^^^^^^^^^^^
    ");
    message("book.toml", "day-starts = 07:30:00", r#"day-starts = "7:30""#, r#"
        error: `day-starts` is a text
          --> book.toml:14:14
           |
        14 | day-starts = "7:30"
           |              ^^^^^^
           |
           = help: write a time without quotes: `07:30:00`
    "#);
    message("book.toml", "day-ends = 17:00:00", "day-ends = 07:00:00", r"
        error: `day-ends` is not after `day-starts`
          --> book.toml:15:12
           |
        15 | day-ends = 07:00:00
           |            ^^^^^^^^
           |
           = help: write a later time, for example `17:00:00`
    ");
    message("job.toml", "lifted = 2026-05-08T08:00:00", "lifted = 2026-05-05T08:00:00", r"
        error: `lifted` is not after `set`
          --> job.toml:83:10
           |
        83 | lifted = 2026-05-05T08:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both dates and times
    ");
}

#[test]
#[rustfmt::skip]
fn a_word_of_choice_is_one_of_a_list() {
    message("job.toml", r#"vapor-retarder = "unknown""#, r#"vapor-retarder = "unkown""#, r#"
        error: `vapor-retarder` is `unkown`
          --> job.toml:21:18
           |
        21 | vapor-retarder = "unkown"
           |                  ^^^^^^^^
           |
           = help: did you mean `"unknown"`? expected one of "yes", "no", "unknown"
    "#);
    message("job.toml", r#"wishes = ["lasting", "quick"]"#, r#"wishes = ["lasting", "cheap"]"#, r#"
        error: `wishes` is `cheap`
          --> job.toml:10:22
           |
        10 | wishes = ["lasting", "cheap"]
           |                      ^^^^^^^
           |
           = help: expected one of "quick", "lasting", "low-price", "no-yellowing", "moisture-room"
    "#);
    message("book.toml", r#"tax-on = "price""#, r#"tax-on = "sales""#, r#"
        error: `tax-on` is `sales`
          --> book.toml:45:10
           |
        45 | tax-on = "sales"         # or "purchases", or "nothing": ask your accountant
           |          ^^^^^^^
           |
           = help: expected one of "price", "purchases", "nothing"
    "#);
    message("shop.toml", r##"accent = "#27566B""##, r#"accent = "navy""#, r##"
        error: `accent` is `navy`
         --> shop.toml:9:10
          |
        9 | accent = "navy"
          |          ^^^^^^
          |
          = help: write a color as `"#27566B"`
    "##);
}

#[test]
#[rustfmt::skip]
fn money_is_exact_and_in_the_currency_of_the_book() {
    message("book.toml", r#"per-job = "$120.00""#, r#"per-job = "-$120.00""#, r#"
        error: `per-job` is negative: `-$120.00`
          --> book.toml:37:11
           |
        37 | per-job = "-$120.00"
           |           ^^^^^^^^^^
           |
           = help: write an amount, for example `"$285.00"`
    "#);
    message("book.toml", r#"per-job = "$120.00""#, r#"per-job = "a lot""#, r#"
        error: `per-job` is not an amount of money: `a lot`
          --> book.toml:37:11
           |
        37 | per-job = "a lot"
           |           ^^^^^^^
           |
           = help: write an amount, for example `"$285.00"`
    "#);
    message("book.toml", r#"per-job = "$120.00""#, r#"per-job = "$120.005""#, r#"
        error: `per-job` has parts of a cent: `$120.005`
          --> book.toml:37:11
           |
        37 | per-job = "$120.005"
           |           ^^^^^^^^^^
           |
           = help: write at most two digits after the decimal point
    "#);
    message("book.toml", r#"per-job = "$120.00""#, r#"per-job = "€120.00""#, r#"
        error: `per-job` is in `€`
          --> book.toml:37:11
           |
        37 | per-job = "€120.00"
           |           ^^^^^^^^^
           |
           = help: the book's currency is USD; write the amount with `$` or with no sign
    "#);
    message("book.toml", r#"per-job = "$120.00""#, r#"per-job = "CAD 120.00""#, r#"
        error: `per-job` is in `CAD`
          --> book.toml:37:11
           |
        37 | per-job = "CAD 120.00"
           |           ^^^^^^^^^^^^
           |
           = help: the book's currency is USD; write the amount with `$` or with no sign
    "#);
    message("book.toml", r#"per-job = "$120.00""#, r#"per-job = "$12,000,000.00""#, r#"
        error: `per-job` is too large: `$12,000,000.00`
          --> book.toml:37:11
           |
        37 | per-job = "$12,000,000.00"
           |           ^^^^^^^^^^^^^^^^
           |
           = help: the most accepted is 10000000.00
    "#);
    message("book.toml", r#"wage = "$32.00/h""#, r#"wage = "$32.00""#, r#"
        error: `wage` does not say per what: `$32.00`
          --> book.toml:11:8
           |
        11 | wage = "$32.00"        # of one person
           |        ^^^^^^^^
           |
           = help: write `"$34.00/h"`
    "#);
    message("book.toml", r#"wage = "$32.00/h""#, r#"wage = "$32.00/day""#, r#"
        error: `wage` has the unit `/day`, which does not fit here
          --> book.toml:11:8
           |
        11 | wage = "$32.00/day"        # of one person
           |        ^^^^^^^^^^^^
           |
           = help: expected money per hour: `"$34.00/h"`
    "#);
    message("book.toml", r#"consumables = "$0.35/ft2""#, r#"consumables = "$0.35""#, r#"
        error: `consumables` does not say per what: `$0.35`
          --> book.toml:36:15
           |
        36 | consumables = "$0.35"
           |               ^^^^^^^
           |
           = help: write `"$0.28/ft2"`
    "#);
    message("book.toml", r#"consumables = "$0.35/ft2""#, r#"consumables = "$0.35/gal""#, r#"
        error: `consumables` has the unit `/gal`, which does not fit here
          --> book.toml:36:15
           |
        36 | consumables = "$0.35/gal"
           |               ^^^^^^^^^^^
           |
           = help: expected money per area: `"$0.28/ft2"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_list_holds_what_it_should_and_not_too_much_of_it() {
    message("job.toml", r#"address = ["8 Cattail Court", "Pikemere Lake"]"#, r#"address = "8 Cattail Court""#, r#"
        error: `address` is a text
          --> job.toml:14:11
           |
        14 | address = "8 Cattail Court"
           |           ^^^^^^^^^^^^^^^^^
           |
           = help: write a list in brackets
    "#);
    message("job.toml", r#"at = ["4 ft", "18 ft"]"#, r#"at = "4 ft, 18 ft""#, r#"
        error: `at` is a text
          --> job.toml:77:6
           |
        77 | at = "4 ft, 18 ft"
           |      ^^^^^^^^^^^^^
           |
           = help: write a list in brackets
    "#);
    message("job.toml", r#"["16 ft", "21 ft"]"#, r#""16 ft, 21 ft""#, r#"
        error: `outline` holds something that is not a pair
          --> job.toml:35:69
           |
        35 | outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], "16 ft, 21 ft", ["16 ft", "24 ft"], ["0 ft", "24 ft"]]
           |                                                                     ^^^^^^^^^^^^^^
           |
           = help: write two values in brackets: `["22 ft 6 in", "22 ft 6 in"]`
    "#);
    message("job.toml", "[[upright]]", "[upright]", r"
        error: `upright` is a table
          --> job.toml:43:1
           |
        43 | [upright]
           | ^^^^^^^^^
           |
           = help: write `[[upright]]` with two brackets, once for each
    ");
    message("job.toml", "[house]\nbuilt = 1994", "[[house]]\nbuilt = 1994", r"
        error: `house` is a list
          --> job.toml:16:1
           |
        16 | [[house]]
           | ^^^^^^^^^
           |
           = help: write a table: `[house]` on a line of its own
    ");
    message("job.toml", "[house]\nbuilt = 1994", "[extras]\nclear-epoxy = \"urethane-coat\"", r#"
        error: `extras` holds a text
          --> job.toml:17:15
           |
        17 | clear-epoxy = "urethane-coat"
           |               ^^^^^^^^^^^^^^^
           |
           = help: write a list: `["barrier-epoxy"]`
    "#);
}

#[test]
#[rustfmt::skip]
fn the_floor_has_a_shape() {
    message("job.toml", r#"["0 ft", "24 ft"]]"#, r#"["22 ft", "24 ft"]]"#, r#"
        error: `outline` crosses itself: side 3 meets side 6
          --> job.toml:35:11
           |
        35 | outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["22 ft", "24 ft"]]
           |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: list the corners in the order in which one walks round the floor
    "#);
    message("job.toml", OUTLINE, r#"outline = [["0 ft", "0 ft"], ["20 ft", "20 ft"], ["20 ft", "0 ft"], ["0 ft", "20 ft"]]"#, r#"
        error: `outline` crosses itself: side 1 meets side 3
          --> job.toml:35:11
           |
        35 | outline = [["0 ft", "0 ft"], ["20 ft", "20 ft"], ["20 ft", "0 ft"], ["0 ft", "20 ft"]]
           |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: list the corners in the order in which one walks round the floor
    "#);
    message("job.toml", OUTLINE, r#"outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"]]"#, r#"
        error: `outline` has 2 corners
          --> job.toml:35:11
           |
        35 | outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"]]
           |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: write three corners or more, in order
    "#);
    message("job.toml", "name = \"Garage floor\"\n", "name = \"Garage floor\"\nlength = \"22 ft\"\n", r#"
        error: `length` stands beside `outline`
          --> job.toml:35:10
           |
        35 | length = "22 ft"
           |          ^^^^^^^
           |
           = help: give length and width, or an outline
    "#);
    message("job.toml", "at = [\"1 ft\", \"20 ft 6 in\"]\nlength = \"3 ft\"\nwidth = \"2 ft 6 in\"", "at = [\"0 ft\", \"0 ft\"]\nlength = \"30 ft\"\nwidth = \"25 ft\"", r"
        error: `cutout` takes away the whole floor
          --> job.toml:37:1
           |
        37 | [[cutout]]
           | ^^^^^^^^^^
           |
           = help: check the sizes: nothing is left to coat
    ");
    message("job.toml", "length = \"3 ft\"\nwidth", "length = \"0 ft\"\nwidth", r#"
        error: `length` is zero
          --> job.toml:40:10
           |
        40 | length = "0 ft"
           |          ^^^^^^
           |
           = help: write a length above zero
    "#);
}

#[test]
#[rustfmt::skip]
fn readings_that_cannot_be_are_refused() {
    message("job.toml", r#"after = "222.4 g""#, r#"after = "212.4 g""#, r#"
        error: `after` is less than `before`
          --> job.toml:81:9
           |
        81 | after = "212.4 g"
           |         ^^^^^^^^^
           |
           = help: a dish gains weight; check both readings
    "#);
    message("job.toml", "poured-year = 1994", "poured-year = 1994\npoured = 1994-06-01", r"
        error: `poured-year` stands beside `poured`
          --> job.toml:23:15
           |
        23 | poured-year = 1994
           |               ^^^^
           |
           = help: give the day or the year, not both
    ");
}

#[test]
#[rustfmt::skip]
fn the_floors_on_offer_are_known_to_the_book() {
    message("job.toml", OFFER, r#""clear-epoxy", "barrier"]"#, r#"
        error: `offer` names `barrier` twice
         --> job.toml:9:49
          |
        9 | offer = ["barrier", "fast-cure", "clear-epoxy", "barrier"]
          |                                                 ^^^^^^^^^
          |
          = help: take one of them out
    "#);
    among("job.toml", OFFER, r#""clear-epoxy", "water-kit", "own-a", "own-b"]"#, r#"
        error: `offer` has 6 systems
         --> job.toml:9:9
          |
        9 | offer = ["barrier", "fast-cure", "clear-epoxy", "water-kit", "own-a", "own-b"]
          |         ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          |
          = help: the most accepted is 5
    "#);
    message("job.toml", OFFER, r#""clear-epoxi", "water-kit"]"#, r#"
        error: no system is called `clear-epoxi`
         --> job.toml:9:34
          |
        9 | offer = ["barrier", "fast-cure", "clear-epoxi", "water-kit"]
          |                                  ^^^^^^^^^^^^^
          |
          = help: did you mean `clear-epoxy`?
    "#);
    message("job.toml", OFFER, r#""clear-epoxy", "tiles"]"#, r#"
        error: no system is called `tiles`
         --> job.toml:9:49
          |
        9 | offer = ["barrier", "fast-cure", "clear-epoxy", "tiles"]
          |                                                 ^^^^^^^
          |
          = help: known: `barrier`, `clear-epoxy`, `fast-cure`, `water-kit`
    "#);
    message("job.toml", "[house]", "[extras]\nclear-epoxy = [\"urethane-coats\"]\n\n[house]", r#"
        error: no extra is called `urethane-coats`
          --> job.toml:17:16
           |
        17 | clear-epoxy = ["urethane-coats"]
           |                ^^^^^^^^^^^^^^^^
           |
           = help: did you mean `urethane-coat`?
    "#);
    message("job.toml", "[house]", "[extras]\nclear-epoxy = [\"gloss\"]\n\n[house]", r#"
        error: no extra is called `gloss`
          --> job.toml:17:16
           |
        17 | clear-epoxy = ["gloss"]
           |                ^^^^^^^
           |
           = help: known: `urethane-coat`
    "#);
    message("job.toml", "[house]", "[extras]\nbarrier = [\"gloss\"]\n\n[house]", r#"
        error: no extra is called `gloss`
          --> job.toml:17:12
           |
        17 | barrier = ["gloss"]
           |            ^^^^^^^
           |
           = help: there is no extra here
    "#);
    among("book.toml", r#"key = "polyaspartic-top""#, r#"key = "polyaspartic-tops""#, r#"
        error: no product is called `polyaspartic-top`
          --> (built in) systems/barrier.toml:20:11
           |
        20 | product = "polyaspartic-top"
           |           ^^^^^^^^^^^^^^^^^^
           |
           = help: did you mean `polyaspartic-tops`?
    "#);
    message("book.toml", r#"key = "barrier-epoxy""#, r#"key = "membrane""#, r#"
        error: no product is called `barrier-epoxy`
         --> (built in) systems/barrier.toml:9:11
          |
        9 | product = "barrier-epoxy"
          |           ^^^^^^^^^^^^^^^
          |
          = help: known: `epoxy-primer`, `membrane`, `polyurea-primer`, `water-epoxy`, `clear-epoxy`, `polyaspartic-top`, `urethane-coat`, `water-clear`, `flake-quarter-inch`, `crack-resin`, `joint-filler`, `patch-mortar`, `cove-paste`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_product_says_what_the_sums_need() {
    message("book.toml", "kit = [{ size = \"40 lb\", price = \"$118.00\" }]\n", "", r#"
        error: `kit` is missing or has no usable size
           --> book.toml:273:1
            |
        273 | [[product]]
            | ^^^^^^^^^^^
            |
            = help: add `kit = [{ size = "40 lb", price = "$285.00" }]`
    "#);
    among("book.toml", r#"kit = [{ size = "2.5 gal", price = "$104.00" }]"#, r#"kit = [{ size = "0 gal", price = "$104.00" }]"#, r#"
        error: `size` is zero
           --> book.toml:143:17
            |
        143 | kit = [{ size = "0 gal", price = "$104.00" }]
            |                 ^^^^^^^
            |
            = help: write how much a kit holds
    "#);
    message("book.toml", r#"kit = [{ size = "2.5 gal", price = "$104.00" }]"#, r#"kit = [{ size = "1 gal", price = "$50.00" }, { size = "2 gal", price = "$100.00" }, { size = "3 gal", price = "$150.00" }, { size = "4 gal", price = "$200.00" }, { size = "5 gal", price = "$250.00" }, { size = "6 gal", price = "$300.00" }, { size = "7 gal", price = "$350.00" }]"#, r#"
        error: `kit` has 7 sizes
           --> book.toml:143:7
            |
        143 | kit = [{ size = "1 gal", price = "$50.00" }, { siz...0" }, { size = "7 gal", price = "$350.00" }]
            |       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^...^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
            |
            = help: the most accepted is 6
    "#);
    message("book.toml", r#"volume-solids = "45 %""#, r#"volume-solids = "0 %""#, r#"
        error: `volume-solids` is zero
           --> book.toml:144:17
            |
        144 | volume-solids = "0 %"
            |                 ^^^^^
            |
            = help: the data sheet's volume solids, for example `"100 %"`
    "#);
    message("book.toml", r#"film = "2.5 mil""#, "film = \"2.5 mil\"\nspread = \"300 ft2/gal\"", r#"
        error: `film` stands beside `spread`
           --> book.toml:224:8
            |
        224 | film = "2.5 mil"
            |        ^^^^^^^^^
            |
            = help: give one: the sheet's wet coverage or a dry film
    "#);
    message("book.toml", "film = \"2.5 mil\"\n", "", r#"
        error: `spread` is missing, and so is `film`
           --> book.toml:217:1
            |
        217 | [[product]]
            | ^^^^^^^^^^^
            |
            = help: add `spread = "160 ft2/gal"` (wet coverage) or `film = "10 mil"` (dry film)
    "#);
    message("book.toml", r#"spread = "350 ft2/gal""#, r#"spread = "0 ft2/gal""#, r#"
        error: `spread` is zero
           --> book.toml:255:10
            |
        255 | spread = "0 ft2/gal"
            |          ^^^^^^^^^^^
            |
            = help: write a wet coverage above zero, for example `"160 ft2/gal"`
    "#);
    message("book.toml", r#"reclaimed = "15 %""#, r#"reclaimed = "90 %""#, r#"
        error: `reclaimed` is 90 % or more
           --> book.toml:282:13
            |
        282 | reclaimed = "90 %"
            |             ^^^^^^
            |
            = help: the share of what is bought that does not reach the floor
    "#);
    message("book.toml", "slab-from = \"35 F\"\nslab-to = \"95 F\"\nair-humidity-to = \"85 %\"\nstrength", "slab-from = \"95 F\"\nslab-to = \"95 F\"\nair-humidity-to = \"85 %\"\nstrength", r#"
        error: `slab-to` is not above `slab-from`
           --> book.toml:128:11
            |
        128 | slab-to = "95 F"
            |           ^^^^^^
            |
            = help: the warmest slab that the sheet allows
    "#);
    message("book.toml", r#"recoat-from = "16 h", recoat-to = "72 h""#, r#"recoat-from = "72 h", recoat-to = "16 h""#, r#"
        error: `recoat-to` is before `recoat-from`
           --> book.toml:267:74
            |
        267 |   { at = "60 F", pot-life = "120 min", recoat-from = "72 h", recoat-to = "16 h", foot = "30 h", vehicle = "168 h" },
            |                                                                          ^^^^^^
            |
            = help: the latest time for the next coat without sanding
    "#);
    message("book.toml", r#"lel = "0.9 %""#, r#"lel = "0 %""#, r#"
        error: `lel` is zero
           --> book.toml:244:7
            |
        244 | lel = "0 %"
            |       ^^^^^
            |
            = help: the lower explosive limit from the safety data sheet, `"1.4 %"`
    "#);
    message("book.toml", r#"exposure = "100 ppm""#, r#"exposure = "0 ppm""#, r#"
        error: `exposure` is zero
           --> book.toml:245:12
            |
        245 | exposure = "0 ppm"
            |            ^^^^^^^
            |
            = help: an exposure limit of the safety data sheet, `"100 ppm"`
    "#);
    message("book.toml", r#"molar-mass = "106.2 g/mol""#, r#"molar-mass = "0 g/mol""#, r#"
        error: `molar-mass` is zero
           --> book.toml:243:14
            |
        243 | molar-mass = "0 g/mol"
            |              ^^^^^^^^^
            |
            = help: the solvent's molar mass, `"106.2 g/mol"`
    "#);
    message("book.toml", r#"voc = "335 g/L""#, "voc = \"335 g/L\"\nsolvent-free = true", r#"
        error: `solvent-free` stands beside `solvent`
           --> book.toml:227:16
            |
        227 | solvent-free = true
            |                ^^^^
            |
            = help: give one: that its safety data sheet names no solvent that can catch fire, or which it names
    "#);
    among("book.toml", r#"key = "clear-epoxy""#, r#"key = "epoxy-primer""#, r#"
        error: `key` `epoxy-primer` is used twice
           --> book.toml:173:7
            |
        173 | key = "epoxy-primer"
            |       ^^^^^^^^^^^^^^
            |
            = help: give each product its own key
    "#);
}

#[test]
#[rustfmt::skip]
fn the_terms_of_the_book_add_up() {
    message("book.toml", r#"grind = "260 ft2/h""#, r#"grind = "0 ft2/h""#, r#"
        error: `grind` is zero
          --> book.toml:21:9
           |
        21 | grind = "0 ft2/h"
           |         ^^^^^^^^^
           |
           = help: write a work rate with its unit above zero, for example `"220 ft2/h"`
    "#);
    message("book.toml", r#"edge = "50 ft/h""#, r#"edge = "0 ft/h""#, r#"
        error: `edge` is zero
          --> book.toml:23:8
           |
        23 | edge = "0 ft/h"
           |        ^^^^^^^^
           |
           = help: write a work rate with its unit above zero, for example `"45 ft/h"`
    "#);
    message("book.toml", r#"margin = "38 %""#, r#"margin = "95 %""#, r#"
        error: `margin` is 95 % or more
          --> book.toml:39:10
           |
        39 | margin = "95 %"          # of the price
           |          ^^^^^^
           |
           = help: a margin is a share of the price, for example `"35 %"`
    "#);
    message("book.toml", r#"margin-floor = "25 %""#, r#"margin-floor = "40 %""#, r#"
        error: `margin-floor` is above `margin`
          --> book.toml:40:16
           |
        40 | margin-floor = "40 %"
           |                ^^^^^^
           |
           = help: the floor is the lowest margin that you accept
    "#);
}

#[test]
#[rustfmt::skip]
fn the_payments_add_up() {
    message("shop.toml", r#"share = "40 %""#, r#"share = "30 %""#, r"
        error: `payment` shares sum to 90 %
          --> shop.toml:24:1
           |
        24 | [[payment]]
           | ^^^^^^^^^^^
           |
           = help: the shares of all payments must sum to 100 %
    ");
}

#[test]
#[rustfmt::skip]
fn a_system_of_the_shop_is_complete() {
    system_message(r#"key = "top""#, r#"key = "base""#, r#"
        error: `key` `base` is used twice
          --> systems/own.toml:18:7
           |
        18 | key = "base"
           |       ^^^^^^
           |
           = help: give each coat its own key
    "#);
    system_message("life-to = 10", "life-to = 4", r"
        error: `life-to` is below `life-from`
         --> systems/own.toml:3:11
          |
        3 | life-to = 4
          |           ^
          |
          = help: write the higher number of years in `life-to`
    ");
    system_message(r#"spread = "160 ft2/gal""#, r#"spread = "0 ft2/gal""#, r#"
        error: `spread` is zero
         --> systems/own.toml:9:10
          |
        9 | spread = "0 ft2/gal"
          |          ^^^^^^^^^^^
          |
          = help: write a value above zero
    "#);
    system_message(r#"product = "epoxy-primer""#, r#"product = "epoxy-primr""#, r#"
        error: no product is called `epoxy-primr`
         --> systems/own.toml:7:11
          |
        7 | product = "epoxy-primr"
          |           ^^^^^^^^^^^^^
          |
          = help: did you mean `epoxy-primer`?
    "#);
    system_message("broadcast = \"full\"\n", "", r#"
        error: coat `flake` is flake but does not say how it is thrown
          --> systems/own.toml:13:11
           |
        13 | product = "flake-quarter-inch"
           |           ^^^^^^^^^^^^^^^^^^^^
           |
           = help: add `broadcast = "full"` or `broadcast = "scattered"`
    "#);
    system_message(r#"look = "primer""#, "look = \"primer\"\nbroadcast = \"full\"", r#"
        error: coat `base` is thrown, but its product is no flake
         --> systems/own.toml:7:11
          |
        7 | product = "epoxy-primer"
          |           ^^^^^^^^^^^^^^
          |
          = help: take `broadcast` out, or name a product that has a `flake` table
    "#);
}

#[test]
#[rustfmt::skip]
fn a_picture_is_a_plain_name_inside_the_folder() {
    message("job.toml", r#"file = "photos/dome.jpg""#, r#"file = "/etc/hostname""#, r#"
        error: `file` is absolute: `/etc/hostname`
           --> job.toml:126:8
            |
        126 | file = "/etc/hostname"
            |        ^^^^^^^^^^^^^^^
            |
            = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    message("job.toml", r#"file = "photos/dome.jpg""#, r#"file = "C:/photos/dome.jpg""#, r#"
        error: `file` is absolute: `C:/photos/dome.jpg`
           --> job.toml:126:8
            |
        126 | file = "C:/photos/dome.jpg"
            |        ^^^^^^^^^^^^^^^^^^^^
            |
            = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    message("job.toml", r#"file = "photos/dome.jpg""#, r#"file = "photos\\dome.jpg""#, r#"
        error: `file` has a backslash: `photos\dome.jpg`
           --> job.toml:126:8
            |
        126 | file = "photos\\dome.jpg"
            |        ^^^^^^^^^^^^^^^^^^
            |
            = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    message("job.toml", r#"file = "photos/dome.jpg""#, r#"file = "../dome.jpg""#, r#"
        error: `file` leaves the folder: `../dome.jpg`
           --> job.toml:126:8
            |
        126 | file = "../dome.jpg"
            |        ^^^^^^^^^^^^^
            |
            = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    message("shop.toml", r#"logo = "logo.png""#, r#"logo = "../logo.png""#, r#"
        error: `logo` leaves the folder: `../logo.png`
         --> shop.toml:8:8
          |
        8 | logo = "../logo.png"
          |        ^^^^^^^^^^^^^
          |
          = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    for name in ["photos//dome.jpg", "photos/./dome.jpg"] {
        let line = format!("file = \"{name}\"");
        let mark = "^".repeat(name.len() + 2);
        message("job.toml", r#"file = "photos/dome.jpg""#, &line, &format!(r#"
        error: `file` has an empty part: `{name}`
           --> job.toml:126:8
            |
        126 | {line}
            |        {mark}
            |
            = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#));
    }
}

#[test]
#[rustfmt::skip]
fn a_file_that_is_not_toml_is_refused_at_the_place() {
    among("job.toml", "built = 1994", "built: 1994", r"
        error: not TOML: invalid unquoted key, expected letters, numbers, `-`, `_`
          --> job.toml:17:6
           |
        17 | built: 1994
           |      ^
    ");
    message("job.toml", "built = 1994", "built = ", r"
        error: not TOML: string values must be quoted, expected literal string
          --> job.toml:17:9
           |
        17 | built =
           |         ^
    ");
    message("job.toml", r#"name = "Stem wall""#, r#"name = "Stem wall"#, r#"
        error: not TOML: invalid basic string, expected `"`
          --> job.toml:44:18
           |
        44 | name = "Stem wall
           |                  ^
           |
           = help: close the text with `"` on its own line
    "#);
    message("job.toml", r#"name = "Stem wall""#, "name = Stem wall", r#"
        error: not TOML: string values must be quoted, expected literal string
          --> job.toml:44:8
           |
        44 | name = Stem wall
           |        ^^^^^^^^^
           |
           = help: put it in quotes: `"Stem wall"`
    "#);
    message("job.toml", "on-ground = true", "on-ground = yes", r"
        error: not TOML: string values must be quoted, expected literal string
          --> job.toml:20:13
           |
        20 | on-ground = yes
           |             ^^^
           |
           = help: write `true`
    ");
    message("job.toml", "built = 1994", "built = 1994\nbuilt = 1995", r"
        error: not TOML: duplicate key
          --> job.toml:18:1
           |
        18 | built = 1995
           | ^^^^^
    ");
    message("job.toml", "[house]", "[house", r"
        error: not TOML: unclosed table, expected `]`
          --> job.toml:16:7
           |
        16 | [house
           |       ^
    ");
    message("job.toml", r#"length = "38 ft""#, r#"length = "38' 4"""#, r#"
        error: not TOML: unexpected key or value, expected newline, `#`
          --> job.toml:45:17
           |
        45 | length = "38' 4""
           |                 ^
    "#);
    message("job.toml", r#"length = "38 ft""#, r#"length = '38' 4"'"#, r#"
        error: not TOML: unexpected key or value, expected newline, `#`
          --> job.toml:45:15
           |
        45 | length = '38' 4"'
           |               ^
    "#);
    message("job.toml", r#"humidity = "54 %""#, "humidity = 54 %", r#"
        error: not TOML: string values must be quoted, expected literal string
           --> job.toml:108:12
            |
        108 | humidity = 54 %
            |            ^^^^
            |
            = help: put it in quotes: `"54 %"`
    "#);
    message("job.toml", r#"name = "Stem wall""#, r#"name = "C:\Stem""#, r#"
        error: not TOML: missing escaped value, expected `b`, `e`, `f`, `n`, `r`, `\`, `"`, `x`, `u`, `U`
          --> job.toml:44:12
           |
        44 | name = "C:\Stem"
           |            ^
    "#);
    message("job.toml", "sold-at-home = true", "sold-at-home = True", r"
        error: not TOML: invalid boolean, expected `true`
           --> job.toml:116:16
            |
        116 | sold-at-home = True
            |                ^^^^
            |
            = help: write `true`
    ");
    message("job.toml", r#"address = ["8 Cattail Court", "Pikemere Lake"]"#, r#"address = ["8 Cattail Court" "Pikemere Lake"]"#, r#"
        error: not TOML: missing comma between array elements, expected `,`
          --> job.toml:14:30
           |
        14 | address = ["8 Cattail Court" "Pikemere Lake"]
           |                              ^
    "#);
}

// ------------------------------------------------------------------------- whole tables gone

#[test]
#[rustfmt::skip]
fn a_list_of_tables_that_is_needed_is_asked_for() {
    one_problem(&cut(Folder::new(), "job.toml", "[[area]]", "[[cutout]]"), r"
        error: `area` is missing
         --> job.toml:1:1
          |
        1 | # A two-car garage on a damp slab. The readings are above what a plain primer may take and well
          | ^
          |
          = help: add an `[[area]]` table with `length` and `width`, or with `outline`
    ");
    one_problem(&cut(Folder::new(), "job.toml", "[[moisture.dishes.dish]]", "[air]"), r"
        error: `dish` is missing
          --> job.toml:68:1
           |
        68 | [moisture.dishes]
           | ^^^^^^^^^^^^^^^^^
           |
           = help: add a `[[moisture.dishes.dish]]` table for each dish
    ");
    one_problem(&cut(Folder::of("metric-probes"), "job.toml", "[[moisture.probes.probe]]", "[air]"), r"
        error: `probe` is missing
          --> job.toml:63:1
           |
        63 | [moisture.probes]
           | ^^^^^^^^^^^^^^^^^
           |
           = help: add a `[[moisture.probes.probe]]` table for each hole
    ");
    one_problem(&cut(Folder::new(), "shop.toml", "[[payment]]", "# Limits"), r"
        error: `payment` is missing
         --> shop.toml:1:1
          |
        1 | # The shop that signs. It is invented, like the lake town it works in.
          | ^
          |
          = help: add a `[[payment]]` table with `when` and `share`
    ");
    let cures = "cure = [\n  { at = \"60 F\", pot-life = \"120 min\", recoat-from = \"16 h\"";
    one_problem(&cut(Folder::new(), "book.toml", cures, "# ----"), r"
        error: `cure` is missing or has no usable row
           --> book.toml:248:1
            |
        248 | [[product]]
            | ^^^^^^^^^^^
            |
            = help: add a `[[product.cure]]` table from the data sheet
    ");
    let head = OWN_FLOOR.split("[[coat]]").next().unwrap();
    one_problem(&with_own_floor(head), r#"
        error: `coat` is missing
         --> systems/own.toml:1:1
          |
        1 | key = "own-floor"
          | ^
          |
          = help: add a `[[coat]]` table for each coat, bottom first
    "#);
}

#[test]
#[rustfmt::skip]
fn a_list_has_an_end() {
    one_problem(&Folder::new().replace("job.toml", NAME, &format!("name = \"{}\"", "a".repeat(501))), r#"
        error: `name` has 501 characters
          --> job.toml:13:8
           |
        13 | ... = "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa...aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
           |       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^...^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: the most accepted is 500
    "#);
    let lines = format!("address = [{}]", r#""x", "#.repeat(201));
    one_problem(&Folder::new().replace("job.toml", r#"address = ["8 Cattail Court", "Pikemere Lake"]"#, &lines), r#"
        error: `address` has 201 entries
          --> job.toml:14:11
           |
        14 | ... = ["x", "x", "x", "x", "x", "x", "x", "x", "x",...x", "x", "x", "x", "x", "x", "x", "x", "x", ]
           |       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^...^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: the most accepted is 200
    "#);
    let photo = "[[photo]]\nfile = \"photos/dome.jpg\"\ncaption = \"One more\"\n";
    let job = Folder::new().read("job.toml") + &photo.repeat(10);
    one_problem(&Folder::new().write("job.toml", job), r"
        error: `photo` stands 13 times
           --> job.toml:121:1
            |
        121 | [[photo]]
            | ^^^^^^^^^
            |
            = help: the most accepted is 12
    ");
    let coat = |at| format!("[[coat]]\nkey = \"c{at}\"\nproduct = \"water-clear\"\nlook = \"clear\"\n");
    let head = OWN_FLOOR.split("[[coat]]").next().unwrap();
    let coats: String = (0..9).map(coat).collect();
    one_problem(&with_own_floor(&format!("{head}{coats}")), r"
        error: `coat` has 9 coats
         --> systems/own.toml:5:1
          |
        5 | [[coat]]
          | ^^^^^^^^
          |
          = help: the most accepted is 8
    ");
    let extra = coat(1) + "extra = \"gloss\"\n";
    one_problem(&with_own_floor(&format!("{head}{extra}")), r"
        error: `coat` has nothing but extras
         --> systems/own.toml:5:1
          |
        5 | [[coat]]
          | ^^^^^^^^
          |
          = help: give at least one coat without `extra`
    ");
}

#[test]
#[rustfmt::skip]
fn probe_holes_are_read_after_they_are_drilled() {
    let probes = |from, to| Folder::of("metric-probes").replace("job.toml", from, to);
    one_problem(&probes("read = 2026-09-08T10:00:00", "read = 2026-09-07T08:00:00"), r"
        error: `read` is not after `drilled`
          --> job.toml:75:8
           |
        75 | read = 2026-09-07T08:00:00
           |        ^^^^^^^^^^^^^^^^^^^
           |
           = help: check both dates and times
    ");
}

#[test]
#[rustfmt::skip]
fn a_deposit_cap_needs_a_second_payment() {
    let folder = cut(Folder::new(), "shop.toml", "[[payment]]", "# Limits");
    let shop = folder.read("shop.toml") + "\n[[payment]]\nwhen = \"At the end\"\nshare = \"100 %\"\n";
    one_problem(&folder.write("shop.toml", shop), r"
        error: `payment` has one step, which a cap on the deposit would cut
          --> shop.toml:37:1
           |
        37 | [[payment]]
           | ^^^^^^^^^^^
           |
           = help: add a second `[[payment]]`: the first counts as the deposit, and the last takes the rest
    ");
}

/// All mistakes in one run: by file, and by place in each.
#[test]
fn the_mistakes_of_several_files_come_in_their_order() {
    let folder = Folder::new()
        .replace("shop.toml", r##"accent = "#27566B""##, r#"accent = "blue""#)
        .replace("book.toml", "crew = 2", "crew = 0")
        .replace("job.toml", "daylight = true", r#"daylight = "yes""#)
        .replace("job.toml", r#"number = "2026-0142""#, r#"number = "a b""#);
    let printed = check(&folder);
    let places: Vec<&str> =
        printed.lines().filter_map(|line| line.trim_start().strip_prefix("--> ")).collect();
    assert_eq!(places, ["job.toml:5:10", "job.toml:114:12", "book.toml:13:8", "shop.toml:9:10"]);
    assert!(printed.ends_with("\n\n4 problems found; nothing was written"), "{printed}");
}

/// A file must not steer the terminal, not even by the line that a message shows.
#[test]
fn a_hidden_character_is_named_and_never_printed() {
    let printed =
        check(&Folder::new().replace("job.toml", NAME, "name = \"Rosa\u{202e}Tannenwald\""));
    shows(
        &printed,
        "error: `name` holds a character that changes the direction of text (U+202E)\n  --> job.toml:13:8",
    );
    assert!(!printed.contains('\u{202e}'));
    let printed = check(&Folder::new().replace("job.toml", "[house]", "# \u{1b}[2J\n[house]"));
    shows(
        &printed,
        "error: not TOML: invalid comment character, expected printable characters\n  --> job.toml:16:3",
    );
    assert!(!printed.contains('\u{1b}'));
}

// ------------------------------------------------------------------------------------- files

#[track_caller]
fn says(folder: &Folder, arguments: &[&str], code: i32, expected: &str) {
    folder.run(arguments).code(code).err_is(&dedented(expected));
}

#[test]
fn a_file_that_cannot_be_used_is_named() {
    let check = ["check", "job.toml"];
    says(
        &Folder::new(),
        &["check", "nowhere.toml"],
        2,
        "error: cannot read nowhere.toml: No such file or directory (os error 2)",
    );
    says(
        &Folder::new(),
        &["check", "photos"],
        5,
        "error: cannot read photos: Is a directory (os error 21)",
    );
    says(
        &Folder::new(),
        &["check", "job.toml", "--book", "b.toml"],
        2,
        "error: cannot read b.toml: No such file or directory (os error 2)",
    );
    let folder = Folder::new();
    for kind in ["shop", "book"] {
        fs::remove_file(folder.path(&format!("{kind}.toml"))).unwrap();
        let expected = format!(
            "error: no `{kind}.toml` in . or any folder above it\n  help: name one with `--{kind} FILE`, or start one: `slableaf new {kind}`"
        );
        says(&folder, &check, 2, &expected);
    }
    says(
        &Folder::new().write("book.toml", b"name = \"\xff\""),
        &check,
        2,
        "error: book.toml is not UTF-8 text\n  help: save it again as UTF-8",
    );
    says(
        &Folder::new().write("shop.toml", vec![b'#'; (1 << 20) + 1]),
        &check,
        2,
        "error: shop.toml has 1048577 bytes, and the most accepted is 1048576",
    );
}

#[test]
fn a_byte_order_mark_is_no_mistake() {
    let folder = Folder::new();
    let job = format!("\u{feff}{}", folder.read("job.toml"));
    folder.write("job.toml", job).run(&["estimate", "job.toml"]).success();
}

// ---------------------------------------------------------------------------------- pictures

#[track_caller]
fn picture(folder: &Folder, block: &str) {
    let expected = format!("{}\n\n1 problem found; nothing was written", dedented(block));
    let ran = folder.run(&["write", "--draft", "job.toml"]).code(2);
    assert_eq!(dedented(&ran.complaint()), expected);
    assert!(!folder.path("papers").exists());
}

#[test]
#[rustfmt::skip]
fn a_picture_that_cannot_be_used_is_shown_where_it_is_named() {
    let folder = Folder::new();
    fs::remove_file(folder.path("photos/dome.jpg")).unwrap();
    picture(&folder, r#"
        error: the picture `photos/dome.jpg` is not there: no such file in the folder of the file that names it
           --> job.toml:126:8
            |
        126 | file = "photos/dome.jpg"
            |        ^^^^^^^^^^^^^^^^^
    "#);
    picture(&Folder::new().write("photos/crack.jpg", "a letter"), r#"
        error: the picture `photos/crack.jpg` is neither a JPEG nor a PNG picture
           --> job.toml:130:8
            |
        130 | file = "photos/crack.jpg"
            |        ^^^^^^^^^^^^^^^^^^
    "#);
    picture(&Folder::new().replace("job.toml", r#""photos/crack.jpg""#, r#""photos""#), r#"
        error: the picture `photos` is not a plain file
           --> job.toml:130:8
            |
        130 | file = "photos"
            |        ^^^^^^^^
    "#);
    picture(&Folder::new().write("photos/crack.jpg", vec![0; 15_000_001]), r#"
        error: the picture `photos/crack.jpg` has 15000001 bytes, and the most accepted is 15000000
           --> job.toml:130:8
            |
        130 | file = "photos/crack.jpg"
            |        ^^^^^^^^^^^^^^^^^^
    "#);
    let folder = Folder::new();
    fs::remove_file(folder.path("logo.png")).unwrap();
    picture(&folder, r#"
        error: the picture `logo.png` is not there: no such file in the folder of the file that names it
         --> shop.toml:8:8
          |
        8 | logo = "logo.png"
          |        ^^^^^^^^^^
    "#);
}

#[cfg(unix)]
#[test]
#[rustfmt::skip]
fn a_picture_behind_a_link_out_of_the_folder_is_refused() {
    let (folder, elsewhere) = (Folder::new(), Folder::new());
    fs::remove_file(folder.path("photos/crack.jpg")).unwrap();
    std::os::unix::fs::symlink(elsewhere.path("photos/crack.jpg"), folder.path("photos/crack.jpg")).unwrap();
    picture(&folder, r#"
        error: the picture `photos/crack.jpg` is a link that leads out of the folder
           --> job.toml:130:8
            |
        130 | file = "photos/crack.jpg"
            |        ^^^^^^^^^^^^^^^^^^
    "#);
}

// ------------------------------------------------------------------------------------- usage

#[test]
fn wrong_usage_ends_with_two_and_says_what_is_known() {
    let usage = |arguments: &[&str]| Folder::new().run(arguments).code(2);
    usage(&["chck", "job.toml"])
        .err_has("error: unrecognized subcommand 'chck'")
        .err_has("tip: a similar subcommand exists: 'check'");
    usage(&["check"])
        .err_has("error: the following required arguments were not provided:\n  <JOB>");
    usage(&["check", "job.toml", "--format", "xml"]).err_has(
        "error: invalid value 'xml' for '--format <FORMAT>'\n  [possible values: text, json]",
    );
    usage(&["check", "job.toml", "--draft"]).err_has("error: unexpected argument '--draft' found");
    usage(&["write", "job.toml", "--out"]).err_has("error: a value is required for '--out <DIR>'");
    usage(&["check", "job.toml", "more"]).err_has("error: unexpected argument 'more' found");
}

// ----------------------------------------------------------------------------- what is accepted

/// The floor of the example with these sides in place of its outline, in square meters.
#[track_caller]
fn floor(length: &str, width: &str) -> f64 {
    let sides = format!("length = '''{length}'''\nwidth = '''{width}'''");
    let folder = cut(Folder::new(), "job.toml", "[[cutout]]", "[[upright]]");
    let job = without_places(&folder.read("job.toml"));
    let ran = folder
        .write("job.toml", job)
        .replace("job.toml", OUTLINE, &sides)
        .run(&["estimate", "job.toml", "--format", "json"]);
    let sums: serde_json::Value = serde_json::from_str(&ran.success().stdout()).unwrap();
    sums["take_off"]["floor_m2"].as_f64().unwrap()
}

/// However a tape or a keyboard writes a length, 22 ft 6 in is 6.858 m (the foot is 0.3048 m by
/// definition: NIST SP 811, appendix B).
#[test]
fn a_length_may_be_written_as_people_write_it() {
    for same in [
        "22 ft 6 in",
        "22ft 6in",
        "22 ft 6in",
        "22.5 ft",
        "22 1/2 ft",
        "270 in",
        "270 inches",
        "22 feet 6 inches",
        "22' 6\"",
        "22'6\"",
        "22\u{2019} 6\u{201d}",
        "22\u{2032} 6\u{2033}",
        "22\u{2032}6\u{2033}",
        "22\u{a0}ft 6\u{a0}in",
        "22\u{202f}ft 6\u{2009}in",
        "6.858 m",
        "685.8 cm",
        "6858 mm",
        "6,858 mm",
        " 22 ft  6 in ",
        "22'6",
        "22 ft 6",
        "22'-6\"",
        "22' - 6\"",
        "22-1/2 ft",
        "22 FT 6 IN",
        "22 Ft. 6 In.",
        "22 Feet 6",
        "21 ft 17 12/12 in",
    ] {
        let found = floor(same, "10 m");
        assert!((found - 68.58).abs() < 0.000_06, "{same:?}: {found}");
    }
    let halves = floor("22 ft 6 1/2 in", "6.86 m");
    assert!((halves - 22.541_666_666_7 * 0.3048 * 6.86).abs() < 0.000_06, "{halves}");
}

// ------------------------------------------------------------------ one mistake, one message

/// How many problems one change brings up.
#[track_caller]
fn problems(file: &str, from: &str, to: &str) -> Vec<String> {
    let printed = check(&Folder::new().replace(file, from, to));
    printed.lines().filter(|line| line.starts_with("error: ")).map(str::to_owned).collect()
}

#[test]
fn an_unknown_currency_is_one_mistake_and_not_one_for_each_price() {
    let found = problems("book.toml", r#"currency = "USD""#, r#"currency = "dollars""#);
    assert_eq!(found, ["error: `currency` is `dollars`"]);
}

#[test]
fn a_product_with_a_mistake_is_not_called_unknown_as_well() {
    let found = problems("book.toml", r#"film = "2.5 mil""#, r#"film = "2.5 ft""#);
    assert_eq!(found, ["error: `film` has the unit `ft`, which does not fit here"]);
}

#[test]
fn a_number_is_shown_as_it_was_written() {
    let found = problems("job.toml", "count = 2", "count = 0x10");
    assert_eq!(found, ["error: `count` is outside 0 to 9999: `0x10`"]);
    let found = problems("job.toml", r#"slab = "62 F""#, r#"slab = "--5 C""#);
    assert!(found[0].ends_with("`--5 C`"), "{found:?}");
}

#[test]
fn advice_can_be_followed() {
    // A value that follows the advice has to be accepted; this one would not be.
    let printed = check(&Folder::new().replace(
        "job.toml",
        r#"length = "38 ft""#,
        r#"length = "1.234,5 ft""#,
    ));
    assert!(!printed.contains("1.234.5 ft"), "{printed}");
}

#[test]
fn the_head_of_a_table_is_shown_as_toml_writes_it() {
    // `[[product.kit]] 1` is no head of a table, and `[[kit]]` would stand outside its product.
    let kit = r#"kit = [{ size = "2.5 gal", price = "$104.00" }]"#;
    let printed = check(&Folder::new().replace("book.toml", kit, r#"kit = ["2.5 gal"]"#));
    assert!(!printed.contains("[[product.kit]] 1"), "{printed}");
    let printed = check(&Folder::new().replace(
        "book.toml",
        kit,
        r#"kit = { size = "2.5 gal", price = "$104.00" }"#,
    ));
    assert!(!printed.contains("`[[kit]]`"), "{printed}");
}

#[test]
fn a_film_of_zero_is_shown_where_it_stands() {
    let printed =
        check(&Folder::new().replace("book.toml", r#"film = "2.5 mil""#, r#"film = "0 mil""#));
    shows(&printed, "error: `film` is zero");
}

#[test]
fn a_date_with_a_time_is_not_told_that_it_is_a_date() {
    let found = problems("job.toml", "date = 2026-05-12", "date = 2026-05-12T08:00:00");
    assert_ne!(found, ["error: `date` is a date"]);
    let found = problems("job.toml", "set = 2026-05-05T09:10:00", "set = 2026-05-05T09:10:00Z");
    assert_ne!(found, ["error: `set` is a date"]);
}

#[test]
fn a_cap_in_another_currency_than_the_book_is_refused() {
    let folder =
        Folder::new().replace("shop.toml", r#"deposit-share = "33 %""#, r#"deposit-most = "€500""#);
    shows(&check(&folder), "error: `deposit-most` is in `€`\n  --> shop.toml");
}

#[test]
fn a_language_without_words_is_refused_where_it_is_written() {
    let folder = Folder::new().replace("shop.toml", r#"language = "en""#, r#"language = "fr""#);
    shows(&check(&folder), "--> shop.toml:10:12");
}

#[test]
fn half_of_the_room_air_is_not_dropped_in_silence() {
    let folder = Folder::new().replace("job.toml", "room-humidity = \"52 %\"\n", "");
    shows(&check(&folder), "error: `room-humidity` is missing");
}
