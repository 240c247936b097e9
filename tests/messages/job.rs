//! Mistakes in the tables and keys of a job.

use super::small::{
    AIR, CRACK, CRACK_RESIN, CUTOUT, DISHES, DOOR, FLAKE, OFFER, OUTLINE, SIZE, UPRIGHT,
    WATER_EPOXY,
};
use super::{book, job, shop, system};

/// The findings of a visit were there before its paper was written, and is of a size that garages have.
#[test]
#[rustfmt::skip]
fn what_cannot_have_been_found_is_refused() {
    job(AIR).replace("measured = 2026-05-08", "measured = 2027-05-08").says(r"
        error: `measured` is after the date of the paper
          --> job.toml:36:12
           |
        36 | measured = 2027-05-08
           |            ^^^^^^^^^^
           |
           = help: check both: the paper's `date` is 2026-05-12
    ");
    job("").replace("built = 1994", "built = 2031").says(r"
        error: `built` is after the date of the paper
          --> job.toml:12:9
           |
        12 | built = 2031
           |         ^^^^
           |
           = help: check both: the paper's `date` is 2026-05-12
    ");
    job("").replace("poured-year = 1994", "poured-year = 2030").says(r"
        error: `poured-year` is after the date of the paper
          --> job.toml:18:15
           |
        18 | poured-year = 2030
           |               ^^^^
           |
           = help: check both: the paper's `date` is 2026-05-12
    ");
    job("").replace(r#"thickness = "4 in""#, r#"thickness = "4 ft""#).says(r#"
        error: `thickness` is more than any garage floor has
          --> job.toml:17:13
           |
        17 | thickness = "4 ft"
           |             ^^^^^^
           |
           = help: the most accepted is 24 in
    "#);
    job(CRACK).replace(r#"width = "1/16 in""#, r#"width = "3 ft""#).says(r#"
        error: `width` is more than a crack has
          --> job.toml:37:9
           |
        37 | width = "3 ft"
           |         ^^^^^^
           |
           = help: the most accepted is 2 in; a wider gap is a `[[spall]]`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_missing_key_or_table_is_named_with_an_example() {
    job("").replace("number = \"2026-0142\"\n", "").says(r#"
        error: `number` is missing in the file
         --> job.toml:1:1
          |
        1 | date = 2026-05-12
          | ^ expected a job number of letters, digits and hyphens
          |
          = help: add `number = "2026-0142"`
    "#);
    job("").replace("daylight = true\n", "").says(r"
        error: `daylight` is missing in [garage]
          --> job.toml:31:1
           |
        31 | [garage]
           | ^^^^^^^^ expected true or false
           |
           = help: add `daylight = true`
    ");
    job(CUTOUT).replace("length = \"3 ft\"\n", "").says(r#"
        error: `length` is missing in [[cutout]] 1
          --> job.toml:35:1
           |
        35 | [[cutout]]
           | ^^^^^^^^^^ expected a length with its unit
           |
           = help: add `length = "22 ft 6 in"`
    "#);
    job("").cut("[customer]", "[house]").says(r#"
        error: `customer` is missing in the file
         --> job.toml:1:1
          |
        1 | number = "2026-0142"
          | ^ expected a table
          |
          = help: add `[customer]`
    "#);
    job("").replace(OFFER, "").says(r#"
        error: `offer` is missing
         --> job.toml:1:1
          |
        1 | number = "2026-0142"
          | ^
          |
          = help: add `offer = ["barrier", "fast-cure"]`
    "#);
    book("").replace("wage = \"$32.00/h\"\n", "").says(r#"
        error: `wage` is missing in [labor]
         --> book.toml:6:1
          |
        6 | [labor]
          | ^^^^^^^ expected an amount of money per hour
          |
          = help: add `wage = "$34.00/h"`
    "#);
    shop("").replace("when = \"When you sign\"\n", "").says(r#"
        error: `when` is missing in [[payment]] 1
         --> shop.toml:7:1
          |
        7 | [[payment]]
          | ^^^^^^^^^^^ expected text
          |
          = help: add `when = "as it should be printed"`
    "#);
    system().replace("look = \"primer\"\n", "").says(r#"
        error: `look` is missing in [[coat]] 1
         --> systems/thin.toml:5:1
          |
        5 | [[coat]]
          | ^^^^^^^^ expected one of "primer", "barrier", "flake", "clear", "top", "thin", "solid", "grit"
          |
          = help: add `look = "primer"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_list_of_tables_that_is_needed_is_asked_for() {
    job("").cut("[[area]]", "[garage]").says(r#"
        error: `area` is missing
         --> job.toml:1:1
          |
        1 | number = "2026-0142"
          | ^
          |
          = help: add an `[[area]]` table with `length` and `width`, or with `outline`
    "#);
    job("\n[moisture.dishes]\nscale = \"0.1 g\"\nroom-temperature = \"67 F\"\nroom-humidity = \"52 %\"\n").says(r"
        error: `dish` is missing
          --> job.toml:35:1
           |
        35 | [moisture.dishes]
           | ^^^^^^^^^^^^^^^^^
           |
           = help: add a `[[moisture.dishes.dish]]` table for each dish
    ");
    job("\n[moisture.probes]\nedition = 2019\n").says(r"
        error: `probe` is missing
          --> job.toml:35:1
           |
        35 | [moisture.probes]
           | ^^^^^^^^^^^^^^^^^
           |
           = help: add a `[[moisture.probes.probe]]` table for each hole
    ");
    shop("").write("shop.toml", "name = \"Any Shop\"\ncountry = \"US\"\n").says(r#"
        error: `payment` is missing
         --> shop.toml:1:1
          |
        1 | name = "Any Shop"
          | ^
          |
          = help: add a `[[payment]]` table with `when` and `share`
    "#);
    book(WATER_EPOXY).replace(r#"cure = [
  { at = "60 F", pot-life = "120 min", recoat-from = "16 h", recoat-to = "72 h", foot = "30 h", vehicle = "168 h" },
]
"#, "").says(r"
        error: `cure` is missing or has no usable row
          --> book.toml:50:1
           |
        50 | [[product]]
           | ^^^^^^^^^^^
           |
           = help: add a `[[product.cure]]` table from the data sheet
    ");
    system().write("systems/thin.toml", "key = \"thin\"\nlife-from = 5\nlife-to = 10\n").says(r#"
        error: `coat` is missing
         --> systems/thin.toml:1:1
          |
        1 | key = "thin"
          | ^
          |
          = help: add a `[[coat]]` table for each coat, bottom first
    "#);
}

/// A slip in a key that chooses between two forms of a table: the other form knows it.
#[test]
#[rustfmt::skip]
fn a_slip_in_a_key_of_another_form_is_known() {
    job("").replace(SIZE, &OUTLINE.replace("outline", "outlin")).says_among_others(r#"
        error: unknown key `outlin` in [[area]] 1
          --> job.toml:28:1
           |
        28 | outlin = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["0 ft", "24 ft"]]
           | ^^^^^^
           |
           = help: did you mean `outline`?
    "#);
    book(FLAKE).replace("[product.flake]", "[product.flke]").says_among_others("help: did you mean `flake`?");
    book(CRACK_RESIN).replace("[product.filler]", "[product.filer]").says_among_others("help: did you mean `filler`?");
}

#[test]
#[rustfmt::skip]
fn an_unknown_key_is_named_with_the_nearest_known_one_or_all_of_them() {
    job("").replace("poured-year = 1994", "pored-year = 1994").says(r"
        error: unknown key `pored-year` in [slab]
          --> job.toml:18:1
           |
        18 | pored-year = 1994
           | ^^^^^^^^^^
           |
           = help: did you mean `poured-year`?
    ");
    job("").replace("daylight = true", "daylight = true\nvolume = \"900 ft3\"").says(r#"
        error: unknown key `volume` in [garage]
          --> job.toml:33:1
           |
        33 | volume = "900 ft3"
           | ^^^^^^
           |
           = help: known here: `daylight`, `height`, `ignition`, `sold-at-home`, `wet`
    "#);
    job("").replace(OFFER, "offer = [\"thin\"]\nprices = \"low\"").says(r#"
        error: unknown key `prices` at the top of the file
         --> job.toml:5:1
          |
        5 | prices = "low"
          | ^^^^^^
          |
          = help: known here: `accepted`, `addition`, `air`, `area`, `asked`, `bid`, `choices`, `cove`, `crack`, `crew-notes`, `customer`, `cutout`, `date`, `discount`, `door`, `edition`, `extras`, `failure`, `garage`, `handover`, `house`, `invented`, `item`, `joint`, `laid`, `language`, `moisture`, `notes`, `number`, `offer`, `order`, `paid`, `paper`, `photo`, `plan`, `print`, `slab`, `sold-at-home`, `space`, `spall`, `steps`, `units`, `upright`, `wishes`, `worked`
    "#);
    job(UPRIGHT).replace("name = \"Stem wall\"\n", "name = \"Stem wall\"\nheigth = \"5 in\"\n").says(r#"
        error: unknown key `heigth` in [[upright]] 1
          --> job.toml:37:1
           |
        37 | heigth = "5 in"
           | ^^^^^^
           |
           = help: did you mean `height`?
    "#);
    shop("").replace(r#"phone = "555-0114""#, r#"fone = "555-0114""#).says(r#"
        error: unknown key `fone` at the top of the file
         --> shop.toml:2:1
          |
        2 | fone = "555-0114"
          | ^^^^
          |
          = help: known here: `accent`, `address`, `calendar`, `cancellation`, `country`, `email`, `fan`, `language`, `leaves`, `leaves-flake`, `license`, `limits`, `logo`, `name`, `notice`, `payment`, `phone`, `record`, `rule`, `testing`, `warranty`, `warranty-short`, `years`
    "#);
    system().replace("life-to = 10", "life-to = 10\nlife = 3").says(r"
        error: unknown key `life` at the top of the file
         --> systems/thin.toml:4:1
          |
        4 | life = 3
          | ^^^^
          |
          = help: did you mean `life-to`?
    ");
}

/// A list that holds nothing is not taken for one that was left out.
#[test]
#[rustfmt::skip]
fn an_empty_list_is_told_where_something_has_to_be_in_it() {
    job("").cut("[[area]]", "[garage]").replace(OFFER, "offer = [\"thin\"]\narea = []").says(r"
        error: `area` is empty
         --> job.toml:5:8
          |
        5 | area = []
          |        ^^
          |
          = help: add an `[[area]]` table with `length` and `width`, or with `outline`
    ");
    job(DOOR).replace(r#"from = ["3 ft", "0 ft"]"#, "from = []").says(r#"
        error: `from` has 0 values
          --> job.toml:37:8
           |
        37 | from = []
           |        ^^
           |
           = help: write two values in brackets: `["22 ft 6 in", "22 ft 6 in"]`
    "#);
    job(DISHES).replace(r#"at = ["11 ft", "11 ft"]"#, "at = []").says(r#"
        error: `at` has 0 values
          --> job.toml:43:6
           |
        43 | at = []
           |      ^^
           |
           = help: write two values in brackets: `["22 ft 6 in", "22 ft 6 in"]`
    "#);
    job("\n[[joint]]\nlength = \"22 ft\"\ntreatment = \"honor\"\npath = []\n").says(r"
        error: `path` has no point
          --> job.toml:38:8
           |
        38 | path = []
           |        ^^
           |
           = help: write two points or more, or take the key out
    ");
}
