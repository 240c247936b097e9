//! Quantities, temperatures and money that cannot be.

use super::small::{AIR, BARRIER, CRACK, DISHES, STEPS, UPRIGHT};
use super::{book, job};

#[test]
#[rustfmt::skip]
fn a_quantity_without_its_unit_or_with_another_is_refused() {
    job("").replace(r#"thickness = "4 in""#, "thickness = 4").says(r#"
        error: `thickness` has no unit
          --> job.toml:17:13
           |
        17 | thickness = 4
           |             ^
           |
           = help: write the number and its unit as text, for example `"22 ft 6 in"`; units: `ft`, `in`, `m`, `cm`, `mm`
    "#);
    job("").replace(r#"thickness = "4 in""#, r#"thickness = "4""#).says(r#"
        error: `thickness` has no unit: `4`
          --> job.toml:17:13
           |
        17 | thickness = "4"
           |             ^^^
           |
           = help: units: `ft`, `in`, `m`, `cm`, `mm`; for example `"22 ft 6 in"`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "12 m 6""#).says(r#"
        error: `length` has no unit: `12 m 6`
          --> job.toml:37:10
           |
        37 | length = "12 m 6"
           |          ^^^^^^^^
           |
           = help: units: `ft`, `in`, `m`, `cm`, `mm`; for example `"22 ft 6 in"`
    "#);
    job("").replace(r#"surface-strength = "310 psi""#, r#"surface-strength = "310 ft""#).says(r#"
        error: `surface-strength` has the unit `ft`, which does not fit here
          --> job.toml:19:20
           |
        19 | surface-strength = "310 ft"
           |                    ^^^^^^^^
           |
           = help: expected a strength with its unit: `psi`, `MPa`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "38 yd""#).says(r#"
        error: `length` has the unit `yd`, which does not fit here
          --> job.toml:37:10
           |
        37 | length = "38 yd"
           |          ^^^^^^^
           |
           = help: expected a length with its unit: `ft`, `in`, `m`, `cm`, `mm`
    "#);
    book("").replace(r#"grind = "260 ft2/h""#, r#"grind = "260 ft/h""#).says(r#"
        error: `grind` has the unit `ft/h`, which does not fit here
          --> book.toml:16:9
           |
        16 | grind = "260 ft/h"
           |         ^^^^^^^^^^
           |
           = help: expected a work rate with its unit: `ft2/h`, `m2/h`
    "#);
    book(BARRIER).replace(r#"mver-limit = "20 lb/1000ft2/24h""#, r#"mver-limit = "20 psi""#).says(r#"
        error: `mver-limit` has the unit `psi`, which does not fit here
          --> book.toml:59:14
           |
        59 | mver-limit = "20 psi"
           |              ^^^^^^^^
           |
           = help: expected a moisture vapor emission rate with its unit: `lb/1000ft2/24h`, `ug/m2/s`, `g/m2/24h`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_quantity_that_cannot_be_is_refused() {
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "37 ft 13 in""#).says(r#"
        error: `length` has 12 `in` or more behind `ft`: `37 ft 13 in`
          --> job.toml:37:10
           |
        37 | length = "37 ft 13 in"
           |          ^^^^^^^^^^^^^
           |
           = help: 12 `in` are a `ft`: check the numbers
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "-38 ft""#).says(r#"
        error: `length` is negative: `-38 ft`
          --> job.toml:37:10
           |
        37 | length = "-38 ft"
           |          ^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, "length = \"\u{2212}38 ft\"").says(r#"
        error: `length` is negative: `−38 ft`
          --> job.toml:37:10
           |
        37 | length = "−38 ft"
           |          ^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "3800 ft""#).says(r#"
        error: `length` is too large: `3800 ft`
          --> job.toml:37:10
           |
        37 | length = "3800 ft"
           |          ^^^^^^^^^
           |
           = help: the most accepted is 1000 ft; check the number and the unit
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "about 38 ft""#).says(r#"
        error: `length` does not start with a number: `about 38 ft`
          --> job.toml:37:10
           |
        37 | length = "about 38 ft"
           |          ^^^^^^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "38.5.2 ft""#).says(r#"
        error: `length` is not a number: `38.5.2 ft`
          --> job.toml:37:10
           |
        37 | length = "38.5.2 ft"
           |          ^^^^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = """#).says(r#"
        error: `length` is empty
          --> job.toml:37:10
           |
        37 | length = ""
           |          ^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "0 ft""#).says(r#"
        error: `length` is zero
          --> job.toml:37:10
           |
        37 | length = "0 ft"
           |          ^^^^^^
           |
           = help: write a length above zero
    "#);
    job(CRACK).replace(r#"width = "1/16 in""#, r#"width = "1/0 in""#).says(r#"
        error: `width` divides by zero: `1/0 in`
          --> job.toml:37:9
           |
        37 | width = "1/0 in"
           |         ^^^^^^^^
           |
           = help: write a length with its unit, for example `"22 ft 6 in"`
    "#);
    job(AIR).replace(r#"humidity = "54 %""#, r#"humidity = "154 %""#).says(r#"
        error: `humidity` is too large: `154 %`
          --> job.toml:38:12
           |
        38 | humidity = "154 %"
           |            ^^^^^^^
           |
           = help: the most accepted is 100 %; check the number and the unit
    "#);
    job(AIR).replace(r#"humidity = "54 %""#, r#"humidity = "0 %""#).says(r#"
        error: `humidity` is zero
          --> job.toml:38:12
           |
        38 | humidity = "0 %"
           |            ^^^^^
           |
           = help: air is never wholly dry; check the instrument
    "#);
    job(DISHES).replace(r#"before = "218.4 g""#, r#"before = "218.4 g 1 g""#).says(r#"
        error: `before` has more than one number: `218.4 g 1 g`
          --> job.toml:46:10
           |
        46 | before = "218.4 g 1 g"
           |          ^^^^^^^^^^^^^
           |
           = help: write one number with one unit, for example `"40 lb"`
    "#);
    job(DISHES).replace("exposed = \"65.7 in2\"\nbefore = \"218.4 g\"", "exposed = \"0 in2\"\nbefore = \"218.4 g\"").says(r#"
        error: `exposed` is zero
          --> job.toml:45:11
           |
        45 | exposed = "0 in2"
           |           ^^^^^^^
           |
           = help: the concrete under the dome without the dish's own footprint
    "#);
}

#[test]
#[rustfmt::skip]
fn a_comma_for_a_decimal_point_is_refused_with_the_point_in_its_place() {
    job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "38,5 ft""#).says(r#"
        error: `length` has a comma where a decimal point belongs: `38,5 ft`
          --> job.toml:37:10
           |
        37 | length = "38,5 ft"
           |          ^^^^^^^^^
           |
           = help: write `38.5 ft`
    "#);
    book("").replace(r#"per-job = "$120.00""#, r#"per-job = "$120,00""#).says(r#"
        error: `per-job` has a comma where a decimal point belongs: `$120,00`
          --> book.toml:27:11
           |
        27 | per-job = "$120,00"
           |           ^^^^^^^^^
           |
           = help: write `$120.00`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_temperature_says_its_scale_and_lies_where_people_lay_floors() {
    job(AIR).replace(r#"slab = "62 F""#, "slab = 62").says(r#"
        error: `slab` has no unit
          --> job.toml:39:8
           |
        39 | slab = 62
           |        ^^
           |
           = help: write `"55 F"` or `"13 C"`
    "#);
    job(AIR).replace(r#"slab = "62 F""#, r#"slab = "62""#).says(r#"
        error: `slab` has no unit: `62`
          --> job.toml:39:8
           |
        39 | slab = "62"
           |        ^^^^
           |
           = help: write `"55 F"` or `"13 C"`
    "#);
    job(AIR).replace(r#"slab = "62 F""#, r#"slab = "62 ft""#).says(r#"
        error: `slab` has the unit `ft`, which does not fit here
          --> job.toml:39:8
           |
        39 | slab = "62 ft"
           |        ^^^^^^^
           |
           = help: expected a temperature: `F` or `C`
    "#);
    job(AIR).replace(r#"slab = "62 F""#, r#"slab = "62 F 17 C""#).says(r#"
        error: `slab` has more than one number: `62 F 17 C`
          --> job.toml:39:8
           |
        39 | slab = "62 F 17 C"
           |        ^^^^^^^^^^^
           |
           = help: write `"55 F"` or `"13 C"`
    "#);
    job(AIR).replace(r#"slab = "62 F""#, r#"slab = "62 C""#).says(r#"
        error: `slab` is outside -40 C to 60 C: `62 C`
          --> job.toml:39:8
           |
        39 | slab = "62 C"
           |        ^^^^^^
           |
           = help: check the number and whether it is F or C
    "#);
    job(AIR).replace(r#"slab = "62 F""#, r#"slab = "-80 F""#).says(r#"
        error: `slab` is outside -40 C to 60 C: `-80 F`
          --> job.toml:39:8
           |
        39 | slab = "-80 F"
           |        ^^^^^^^
           |
           = help: check the number and whether it is F or C
    "#);
    job(AIR).replace(r#"slab = "62 F""#, r#"slab = """#).says(r#"
        error: `slab` is empty
          --> job.toml:39:8
           |
        39 | slab = ""
           |        ^^
           |
           = help: write `"55 F"` or `"13 C"`
    "#);
}

#[test]
#[rustfmt::skip]
fn money_is_exact_and_in_the_currency_of_the_book() {
    book("").replace(r#"per-job = "$120.00""#, r#"per-job = "-$120.00""#).says(r#"
        error: `per-job` is negative: `-$120.00`
          --> book.toml:27:11
           |
        27 | per-job = "-$120.00"
           |           ^^^^^^^^^^
           |
           = help: write an amount, for example `"$285.00"`
    "#);
    book("").replace(r#"per-job = "$120.00""#, r#"per-job = "a lot""#).says(r#"
        error: `per-job` is not an amount of money: `a lot`
          --> book.toml:27:11
           |
        27 | per-job = "a lot"
           |           ^^^^^^^
           |
           = help: write an amount, for example `"$285.00"`
    "#);
    book("").replace(r#"per-job = "$120.00""#, r#"per-job = "$120.005""#).says(r#"
        error: `per-job` has parts of a cent: `$120.005`
          --> book.toml:27:11
           |
        27 | per-job = "$120.005"
           |           ^^^^^^^^^^
           |
           = help: write at most two digits after the decimal point
    "#);
    book("").replace(r#"per-job = "$120.00""#, r#"per-job = "€120.00""#).says(r#"
        error: `per-job` is in `€`
          --> book.toml:27:11
           |
        27 | per-job = "€120.00"
           |           ^^^^^^^^^
           |
           = help: the book's currency is USD; write the amount with `$` or with no sign
    "#);
    book("").replace(r#"per-job = "$120.00""#, r#"per-job = "CAD 120.00""#).says(r#"
        error: `per-job` is in `CAD`
          --> book.toml:27:11
           |
        27 | per-job = "CAD 120.00"
           |           ^^^^^^^^^^^^
           |
           = help: the book's currency is USD; write the amount with `$` or with no sign
    "#);
    book("").replace(r#"per-job = "$120.00""#, r#"per-job = "$12,000,000.00""#).says(r#"
        error: `per-job` is too large: `$12,000,000.00`
          --> book.toml:27:11
           |
        27 | per-job = "$12,000,000.00"
           |           ^^^^^^^^^^^^^^^^
           |
           = help: the most accepted is 10000000.00
    "#);
    book("").replace(r#"wage = "$32.00/h""#, r#"wage = "$32.00""#).says(r#"
        error: `wage` does not say per what: `$32.00`
         --> book.toml:7:8
          |
        7 | wage = "$32.00"
          |        ^^^^^^^^
          |
          = help: write `"$34.00/h"`
    "#);
    book("").replace(r#"wage = "$32.00/h""#, r#"wage = "$32.00/day""#).says(r#"
        error: `wage` has the unit `/day`, which does not fit here
         --> book.toml:7:8
          |
        7 | wage = "$32.00/day"
          |        ^^^^^^^^^^^^
          |
          = help: expected money per hour: `"$34.00/h"`
    "#);
    book("").replace(r#"consumables = "$0.35/ft2""#, r#"consumables = "$0.35""#).says(r#"
        error: `consumables` does not say per what: `$0.35`
          --> book.toml:26:15
           |
        26 | consumables = "$0.35"
           |               ^^^^^^^
           |
           = help: write `"$0.28/ft2"`
    "#);
    book("").replace(r#"consumables = "$0.35/ft2""#, r#"consumables = "$0.35/gal""#).says(r#"
        error: `consumables` has the unit `/gal`, which does not fit here
          --> book.toml:26:15
           |
        26 | consumables = "$0.35/gal"
           |               ^^^^^^^^^^^
           |
           = help: expected money per area: `"$0.28/ft2"`
    "#);
}

#[test]
fn a_number_is_shown_as_it_was_written() {
    let found = job(STEPS).replace("count = 2", "count = 0x10").mistakes();
    assert_eq!(found, ["error: `count` is outside 0 to 9999: `0x10`"]);
    let found = job(AIR).replace(r#"slab = "62 F""#, r#"slab = "--5 C""#).mistakes();
    assert!(found[0].ends_with("`--5 C`"), "{found:?}");
}

#[test]
fn advice_can_be_followed() {
    // A value that follows the advice has to be accepted; this one would not be.
    let printed = job(UPRIGHT).replace(r#"length = "38 ft""#, r#"length = "1.234,5 ft""#).printed();
    assert!(!printed.contains("1.234.5 ft"), "{printed}");
}
