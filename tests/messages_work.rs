//! What the program says about mistakes in a shop's hours, fans and records, in mixing and in repairs.

use crate::messages::message;

#[test]
#[rustfmt::skip]
fn a_calendar_names_zones_and_days_as_the_world_does() {
    message("shop.toml", r#"closed = ["sunday"]"#, r#"closed = ["sundays"]"#, r#"
        error: `closed` is `sundays`
          --> shop.toml:44:11
           |
        44 | closed = ["sundays"]
           |           ^^^^^^^^^
           |
           = help: did you mean `"sunday"`? expected one of "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"
    "#);
    message("shop.toml", r#"closed = ["sunday"]"#, r#"closed = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]"#, r#"
        error: `closed` names every day of the week
          --> shop.toml:44:10
           |
        44 | closed = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
           |          ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: leave out the days on which you work
    "#);
    message("shop.toml", r#"time-zone = "America/Chicago""#, r#"time-zone = "America/Chicagoo""#, r#"
        error: `time-zone` is `America/Chicagoo`
          --> shop.toml:43:13
           |
        43 | time-zone = "America/Chicagoo"
           |             ^^^^^^^^^^^^^^^^^^
           |
           = help: did you mean `"America/Chicago"`?
    "#);
    message("shop.toml", r#"time-zone = "America/Chicago""#, r#"time-zone = "CST""#, r#"
        error: `time-zone` is `CST`
          --> shop.toml:43:13
           |
        43 | time-zone = "CST"
           |             ^^^^^
           |
           = help: name a place of that zone: `"America/Chicago"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_country_is_two_capital_letters() {
    message("shop.toml", r#"country = "US""#, r#"country = "USA""#, r#"
        error: `country` is `USA`
          --> shop.toml:13:11
           |
        13 | country = "USA"
           |           ^^^^^
           |
           = help: write a country as two capital letters (ISO 3166-1): `"US"` for the United States, `"NO"` for Norway
    "#);
}

#[test]
#[rustfmt::skip]
fn a_fan_moves_air() {
    message("shop.toml", r#"airflow = "1,500 cfm""#, r#"airflow = "0 cfm""#, r#"
        error: `airflow` is zero
          --> shop.toml:38:11
           |
        38 | airflow = "0 cfm"
           |           ^^^^^^^
           |
           = help: what one fan really moves, for example `"1200 cfm"`
    "#);
    message("shop.toml", r#"airflow = "1,500 cfm""#, r#"airflow = "1500""#, r#"
        error: `airflow` has no unit: `1500`
          --> shop.toml:38:11
           |
        38 | airflow = "1500"
           |           ^^^^^^
           |
           = help: units: `cfm`, `m3/h`; for example `"1200 cfm"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_record_counts_floors_that_there_are() {
    message("shop.toml", r#"[fan]"#, "[[record]]\nsystem = \"fast-cur\"\njobs = 3\nmoisture-failures = 2\nsince = 2019\n\n[fan]", r#"
        error: no system is called `fast-cur`
          --> shop.toml:38:10
           |
        38 | system = "fast-cur"
           |          ^^^^^^^^^^
           |
           = help: did you mean `fast-cure`?
    "#);
    message("shop.toml", r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 0\nmoisture-failures = 0\nsince = 2019\n\n[fan]", r#"
        error: `jobs` is zero
          --> shop.toml:39:8
           |
        39 | jobs = 0
           |        ^
           |
           = help: write how many floors of this system you have laid
    "#);
    message("shop.toml", r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 4\nsince = 2019\n\n[fan]", r#"
        error: `moisture-failures` is more than `jobs`
          --> shop.toml:40:21
           |
        40 | moisture-failures = 4
           |                     ^
           |
           = help: write how many of those floors came loose from moisture
    "#);
    message("shop.toml", r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 1\nsince = 20\n\n[fan]", r#"
        error: `since` is 20
          --> shop.toml:41:9
           |
        41 | since = 20
           |         ^^
           |
           = help: write a year, for example `1996`
    "#);
    message("shop.toml", r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 1\nsince = 2019\n\n[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 1\nsince = 2019\n\n[fan]", r#"
        error: `system` `fast-cure` stands twice
          --> shop.toml:44:10
           |
        44 | system = "fast-cure"
           |          ^^^^^^^^^^^
           |
           = help: give each system one record
    "#);
}

#[test]
#[rustfmt::skip]
fn batches_and_mixes_can_be_measured() {
    message("book.toml", r#"smallest = "1/4 gal""#, r#"smallest = "4 gal""#, r#"
        error: `smallest` is above `largest`
           --> book.toml:358:12
            |
        358 | smallest = "4 gal"
            |            ^^^^^^^
            |
            = help: the smallest batch that you can measure well
    "#);
    message("book.toml", r#"part-of-pot-life = "75 %""#, r#"part-of-pot-life = "0 %""#, r#"
        error: `part-of-pot-life` is zero
           --> book.toml:359:20
            |
        359 | part-of-pot-life = "0 %"
            |                    ^^^^^
            |
            = help: write a share in percent above zero, for example `"10 %"`
    "#);
    message("book.toml", "mix = \"4 : 1\"\nspread = \"250", "mix = \"4 to 1\"\nspread = \"250", r#"
        error: `mix` is `4 to 1`
           --> book.toml:145:7
            |
        145 | mix = "4 to 1"
            |       ^^^^^^^^
            |
            = help: write parts by volume, resin first, each above zero, for example `"2 : 1"`
    "#);
}

#[test]
#[rustfmt::skip]
fn fillers_fit_what_they_fill() {
    message("book.toml", r#"rigid = "crack-resin""#, r#"rigid = "crack-resins""#, r#"
        error: no filler is called `crack-resins`
           --> book.toml:345:9
            |
        345 | rigid = "crack-resins"
            |         ^^^^^^^^^^^^^^
            |
            = help: did you mean `crack-resin`?
    "#);
    message("book.toml", r#"rigid = "crack-resin""#, r#"rigid = "joint-filler""#, r#"
        error: `joint-filler` is flexible
           --> book.toml:345:9
            |
        345 | rigid = "joint-filler"
            |         ^^^^^^^^^^^^^^
            |
            = help: `rigid` takes a hard filler, `flexible` a soft one
    "#);
    message("book.toml", r#"rigid = "crack-resin""#, r#"rigid = "barrier-epoxy""#, r#"
        error: `barrier-epoxy` is no filler
           --> book.toml:345:9
            |
        345 | rigid = "barrier-epoxy"
            |         ^^^^^^^^^^^^^^^
            |
            = help: name a product that has a `filler` table
    "#);
    message("book.toml", r#"chase = "1/4 in""#, r#"chase = "0 in""#, r#"
        error: `chase` is zero
           --> book.toml:350:9
            |
        350 | chase = "0 in"           # a wider crack is opened to this width
            |         ^^^^^^
            |
            = help: write a length with its unit above zero, for example `"22 ft 6 in"`
    "#);
    message("book.toml", "sets = \"2 h\"\n", r#""#, r#"
        error: `sets` is missing in [product.filler]
           --> book.toml:321:1
            |
        321 | [product.filler]
            | ^^^^^^^^^^^^^^^^ expected a stretch of time with its unit
            |
            = help: add `sets = "8 h"`
    "#);
}

#[test]
#[rustfmt::skip]
fn spalls_and_coves_have_a_size_and_something_to_fill_them() {
    message("job.toml", r#"path = [["0 ft", "12 ft"], ["22 ft", "12 ft"]]"#, "path = [[\"0 ft\", \"12 ft\"], [\"22 ft\", \"12 ft\"]]\n\n[[spall]]\nname = \"At the door\"\narea = \"2 ft2\"\nlength = \"1 ft\"\ndepth = \"1/2 in\"", r#"
        error: `length` stands beside `area`
          --> job.toml:71:10
           |
        71 | length = "1 ft"
           |          ^^^^^^
           |
           = help: give the area, or length and width
    "#);
    message("job.toml", r#"path = [["0 ft", "12 ft"], ["22 ft", "12 ft"]]"#, "path = [[\"0 ft\", \"12 ft\"], [\"22 ft\", \"12 ft\"]]\n\n[[spall]]\nlength = \"1 ft\"\ndepth = \"1/2 in\"", r#"
        error: `width` is missing in [[spall]] 1
          --> job.toml:68:1
           |
        68 | [[spall]]
           | ^^^^^^^^^ expected a length with its unit
           |
           = help: add `width = "22 ft 6 in"`
    "#);
    message("job.toml", r#"path = [["0 ft", "12 ft"], ["22 ft", "12 ft"]]"#, "path = [[\"0 ft\", \"12 ft\"], [\"22 ft\", \"12 ft\"]]\n\n[[cove]]\nlength = \"10 ft\"\nradius = \"0 in\"", r#"
        error: `radius` is zero
          --> job.toml:70:10
           |
        70 | radius = "0 in"
           |          ^^^^^^
           |
           = help: write a length above zero
    "#);
}

#[test]
#[rustfmt::skip]
fn a_test_lies_on_the_floor_that_was_measured() {
    message("job.toml", r#"at = ["18 ft", "3 ft"]"#, r#"at = ["3 ft", "25 ft"]"#, r#"
        error: `at` lies beside the floor
          --> job.toml:97:6
           |
        97 | at = ["3 ft", "25 ft"]
           |      ^^^^^^^^^^^^^^^^^
           |
           = help: both lengths start at the corner where the areas start: along first, then across
    "#);
}
