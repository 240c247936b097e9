//! What the program says about mistakes in moisture tests, in what is known of a slab, in data sheets
//! on moisture, and in how far a shop trusts a test.

use crate::fixture::Folder;
use crate::messages::{message, one_problem};

/// Pieces of the examples that are changed here.
const SPOT: &str = "place = \"middle\"\nat = [\"11 ft\", \"11 ft\"]\n";
const INSIDE: &str =
    "inside = [\"none\"]        # by the plans of the house; without them it would be left out";
const TREATMENTS: &str = "treatments = [\"none\"]    # we looked, and the owners know of nothing";
const ACCURACY: &str = "accuracy = \"2 %\"             # by the data sheet of the probe";
const GROUND: &str =
    "ground-contact = \"any\"    # it may lie on the ground without a plastic sheet below";

/// Other keys for the spot of one dish bring up one message and nothing else.
#[track_caller]
fn of_spot(keys: &str, block: &str) {
    let surface = "surface = \"ground-open-24h\"\n";
    message("job.toml", &format!("{SPOT}{surface}"), &format!("{SPOT}{keys}"), block);
}

/// One change to the job with probes brings up one message and nothing else.
#[track_caller]
fn of_probes(from: &str, to: &str, block: &str) {
    one_problem(&Folder::of("metric-probes").replace("job.toml", from, to), block);
}

#[test]
#[rustfmt::skip]
fn the_spot_of_a_dish_is_told_in_a_known_word() {
    of_spot("surface = \"painted\"\n", r#"
        error: `surface` is `painted`
          --> job.toml:88:11
           |
        88 | surface = "painted"
           |           ^^^^^^^^^
           |
           = help: expected one of "ground-open-24h", "bare", "coated"
    "#);
    of_spot("surface = \"ground-open-24-h\"\n", r#"
        error: `surface` is `ground-open-24-h`
          --> job.toml:88:11
           |
        88 | surface = "ground-open-24-h"
           |           ^^^^^^^^^^^^^^^^^^
           |
           = help: did you mean `"ground-open-24h"`? expected one of "ground-open-24h", "bare", "coated"
    "#);
    of_spot("surface = \"ground-open-24h\"\nground = 2026-05-06T08:00:00\n", r"
        error: `ground` is not before `set`
          --> job.toml:89:10
           |
        89 | ground = 2026-05-06T08:00:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: the spot is ground first and left open for 24 hours; check both dates and times
    ");
    of_spot("surface = \"ground-open-24h\"\nground = 2026-05-05T08:15:00\n", r#"
        error: `ground` is less than 24 hours before `set`, and `surface` says open for 24 hours
          --> job.toml:89:10
           |
        89 | ground = 2026-05-05T08:15:00
           |          ^^^^^^^^^^^^^^^^^^^
           |
           = help: write `surface = "bare"`, or mend the times
    "#);
    of_spot("surface = \"ground-open-24h\"\nvoid = \"\"\n", r#"
        error: `void` is empty
          --> job.toml:89:8
           |
        89 | void = ""
           |        ^^
           |
           = help: write something, or leave the key out
    "#);
    message("job.toml", "settled = true\n", "room-as-used = \"yes\"\n", r#"
        error: `room-as-used` is a text
          --> job.toml:73:16
           |
        73 | room-as-used = "yes"
           |                ^^^^^
           |
           = help: write true or false, for example `true`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_probe_is_checked_on_a_day_or_new() {
    of_probes("read = 2026-09-08T10:00:00\ncalibrated = 2026-08-25", "read = 2026-09-08T10:00:00\ncalibrated = \"yesterday\"", r#"
        error: `calibrated` is `yesterday`
          --> job.toml:76:14
           |
        76 | calibrated = "yesterday"
           |              ^^^^^^^^^^^
           |
           = help: write `"new"` for a new probe, or the day without quotes: `2026-04-20`
    "#);
    of_probes("read = 2026-09-08T10:00:00\ncalibrated = 2026-08-25", "read = 2026-09-08T10:00:00\ncalibrated = 2026-09-09", r"
        error: `calibrated` is after `read`
          --> job.toml:76:14
           |
        76 | calibrated = 2026-09-09
           |              ^^^^^^^^^^
           |
           = help: the last check before the reading counts
    ");
    of_probes(ACCURACY, "accuracy = \"12 %\"", r#"
        error: `accuracy` is more than 10 %
          --> job.toml:67:12
           |
        67 | accuracy = "12 %"
           |            ^^^^^^
           |
           = help: how far a probe may be off either way, by its data sheet, for example `"2 %"`
    "#);
    of_probes(ACCURACY, "accuracy = \"0 %\"", r#"
        error: `accuracy` is zero
          --> job.toml:67:12
           |
        67 | accuracy = "0 %"
           |            ^^^^^
           |
           = help: how far a probe may be off either way, by its data sheet, for example `"2 %"`
    "#);
}

#[test]
#[rustfmt::skip]
fn what_is_in_or_on_a_slab_is_none_or_something() {
    message("job.toml", INSIDE, "inside = [\"none\", \"pipes\"]", r#"
        error: `inside` names `none` beside other things
          --> job.toml:31:10
           |
        31 | inside = ["none", "pipes"]
           |          ^^^^^^^^^^^^^^^^^
           |
           = help: leave out `"none"` or the rest
    "#);
    message("job.toml", INSIDE, "inside = []", r#"
        error: `inside` is empty
          --> job.toml:31:10
           |
        31 | inside = []
           |          ^^
           |
           = help: write `["none"]` if there is nothing, or leave the key out
    "#);
    message("job.toml", INSIDE, "inside = [\"pipes\", \"pipes\"]", r#"
        error: `inside` names a thing twice
          --> job.toml:31:10
           |
        31 | inside = ["pipes", "pipes"]
           |          ^^^^^^^^^^^^^^^^^^
           |
           = help: take one of them out
    "#);
    message("job.toml", INSIDE, "inside = [\"cables\"]", r#"
        error: `inside` is `cables`
          --> job.toml:31:11
           |
        31 | inside = ["cables"]
           |           ^^^^^^^^
           |
           = help: expected one of "none", "post-tension-cables", "heating-tubes", "heating-wires", "pipes", "wiring"
    "#);
    message("job.toml", TREATMENTS, "treatments = [\"wax\", \"none\"]", r#"
        error: `treatments` names `none` beside other things
          --> job.toml:30:14
           |
        30 | treatments = ["wax", "none"]
           |              ^^^^^^^^^^^^^^^
           |
           = help: leave out `"none"` or the rest
    "#);
    message("job.toml", TREATMENTS, "treatments = \"wax\"", r#"
        error: `treatments` is a text
          --> job.toml:30:14
           |
        30 | treatments = "wax"
           |              ^^^^^
           |
           = help: write a list in brackets
    "#);
    message("job.toml", "tile-glue = \"none\"", "tile-glue = \"none\"\nph = 15", r"
        error: `ph` is outside 0 to 14: `15`
          --> job.toml:30:6
           |
        30 | ph = 15
           |      ^^
           |
           = help: write a pH from 0 to 14, for example `10.5`
    ");
    message("job.toml", "tile-glue = \"none\"", "tile-glue = \"none\"\nph = \"high\"", r#"
        error: `ph` is not a pH: `high`
          --> job.toml:30:6
           |
        30 | ph = "high"
           |      ^^^^^^
           |
           = help: write a pH from 0 to 14, for example `10.5`
    "#);
}

#[test]
#[rustfmt::skip]
fn visits_stand_in_their_order_and_before_the_paper() {
    message("job.toml", "[air]\n", "[[moisture.visit]]\n\n[[moisture.visit.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-06T16:00:00\nlifted = 2026-05-07T09:00:00\nfound = \"dry\"\n\n[air]\n", r"
        error: `visit` is out of order
           --> job.toml:105:1
            |
        105 | [[moisture.visit]]
            | ^^^^^^^^^^^^^^^^^^
            |
            = help: one of its tests was read on 2026-05-07, before the visit above it ended on 2026-05-08: put the visits in their order
    ");
    message("job.toml", "[air]\n", "[[moisture.visit]]\n\n[[moisture.visit.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-12T16:00:00\nlifted = 2026-05-13T09:00:00\nfound = \"dry\"\n\n[air]\n", r"
        error: `lifted` is after the date of the paper
           --> job.toml:110:10
            |
        110 | lifted = 2026-05-13T09:00:00
            |          ^^^^^^^^^^^^^^^^^^^
            |
            = help: check both: the paper's `date` is 2026-05-12
    ");
    message("job.toml", "[air]\n", "[[moisture.visit]]\n\n[air]\n", r"
        error: `visit` has no test
           --> job.toml:105:1
            |
        105 | [[moisture.visit]]
            | ^^^^^^^^^^^^^^^^^^
            |
            = help: add a `[moisture.visit.dishes]`, a `[moisture.visit.probes]` or a `[[moisture.visit.plastic-sheet]]` table, or leave the visit out
    ");
    message("job.toml", "lifted = 2026-05-08T08:10:00", "lifted = 2026-05-18T08:10:00", r"
        error: `lifted` is after the date of the paper
           --> job.toml:103:10
            |
        103 | lifted = 2026-05-18T08:10:00
            |          ^^^^^^^^^^^^^^^^^^^
            |
            = help: check both: the paper's `date` is 2026-05-12
    ");
}

#[test]
#[rustfmt::skip]
fn a_plastic_sheet_is_lifted_after_it_was_taped() {
    message("job.toml", "[air]\n", "[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\nlifted = 2026-05-06T09:00:00\nfound = \"dry\"\n\n[air]\n", r"
        error: `lifted` is not after `taped`
           --> job.toml:108:10
            |
        108 | lifted = 2026-05-06T09:00:00
            |          ^^^^^^^^^^^^^^^^^^^
            |
            = help: check both dates and times
    ");
    message("job.toml", "[air]\n", "[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\nlifted = 2026-05-08T09:00:00\nfound = \"wet\"\n\n[air]\n", r#"
        error: `found` is `wet`
           --> job.toml:109:9
            |
        109 | found = "wet"
            |         ^^^^^
            |
            = help: expected one of "dry", "damp"
    "#);
    message("job.toml", "[air]\n", "[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\nlifted = 2026-05-08T09:00:00\n\n[air]\n", r#"
        error: `found` is missing in [[moisture.plastic-sheet]] 1
           --> job.toml:105:1
            |
        105 | [[moisture.plastic-sheet]]
            | ^^^^^^^^^^^^^^^^^^^^^^^^^^ expected one of "dry", "damp"
            |
            = help: add `found = "dry"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_data_sheet_says_what_it_asks_for() {
    message("book.toml", "permeance = \"0.08 perm\"", "permeance = \"0.08\"", r#"
        error: `permeance` has no unit: `0.08`
          --> book.toml:90:13
           |
        90 | permeance = "0.08"
           |             ^^^^^^
           |
           = help: units: `perm`, `ng/Pa/s/m2`; for example `"0.1 perm"`
    "#);
    message("book.toml", "permeance = \"0.08 perm\"", "permeance = \"0.08 psi\"", r#"
        error: `permeance` has the unit `psi`, which does not fit here
          --> book.toml:90:13
           |
        90 | permeance = "0.08 psi"
           |             ^^^^^^^^^^
           |
           = help: expected a permeance with its unit: `perm`, `ng/Pa/s/m2`
    "#);
    message("book.toml", "permeance = \"0.08 perm\"", "permeance = 0.08", r#"
        error: `permeance` has no unit
          --> book.toml:90:13
           |
        90 | permeance = 0.08
           |             ^^^^
           |
           = help: write the number and its unit as a text, for example `"0.1 perm"`; units: `perm`, `ng/Pa/s/m2`
    "#);
    message("book.toml", "ph-from = 6\nph-to = 11", "ph-from = 11\nph-to = 6", r"
        error: `ph-to` is not above `ph-from`
           --> book.toml:164:9
            |
        164 | ph-to = 6
            |         ^
            |
            = help: the highest pH that the data sheet allows
    ");
    message("book.toml", "ph-from = 6\nph-to = 11", "ph-from = 6", r"
        error: `ph-to` is missing beside `ph-from`
           --> book.toml:139:1
            |
        139 | [[product]]
            | ^^^^^^^^^^^
            |
            = help: write both as the data sheet has them, for example `ph-to = 11`
    ");
    message("book.toml", "surface-profile = \"CSP 3 to CSP 4\"", "surface-profile = \"CSP 12\"", r#"
        error: `surface-profile` is `CSP 12`
           --> book.toml:104:19
            |
        104 | surface-profile = "CSP 12"
            |                   ^^^^^^^^
            |
            = help: write profiles from CSP 1 to CSP 10 as ICRI 310.2R numbers them, for example `"CSP 2 to CSP 3"`
    "#);
    message("book.toml", "surface-profile = \"CSP 3 to CSP 4\"", "surface-profile = \"CSP 3 to CSP 4\"\nmoisture-test = \"dishes\"", r#"
        error: `moisture-test` is `dishes`
           --> book.toml:105:17
            |
        105 | moisture-test = "dishes"
            |                 ^^^^^^^^
            |
            = help: expected one of "either", "both", "plastic-sheet", "none-needed"
    "#);
    message("book.toml", "surface-profile = \"CSP 1 to CSP 2\"", "surface-profile = \"CSP 1 to CSP 2\"\nmoisture-test = \"none-needed\"", r#"
        error: `moisture-test` is `none-needed` for a coat that is no vapor barrier
           --> book.toml:163:17
            |
        163 | moisture-test = "none-needed"
            |                 ^^^^^^^^^^^^^
            |
            = help: only a product with `barrier = true` may go on without a test
    "#);
    message("book.toml", GROUND, "ground-contact = \"yes\"", r#"
        error: `ground-contact` is `yes`
          --> book.toml:91:18
           |
        91 | ground-contact = "yes"
           |                  ^^^^^
           |
           = help: expected one of "barrier", "sheet", "sheet-or-test", "any"
    "#);
}

#[test]
#[rustfmt::skip]
fn a_shop_trusts_a_test_for_some_days_and_takes_money_for_it() {
    message("shop.toml", "price = \"180.00\"", "reading-days = 0", r"
        error: `reading-days` is 0
          --> shop.toml:58:16
           |
        58 | reading-days = 0
           |                ^
           |
           = help: write a number of days from 1 to 3650
    ");
    message("shop.toml", "price = \"180.00\"", "reading-days = 4000", r"
        error: `reading-days` is 4000
          --> shop.toml:58:16
           |
        58 | reading-days = 4000
           |                ^^^^
           |
           = help: write a number of days from 1 to 3650
    ");
    message("shop.toml", "price = \"180.00\"", "look-back-days = \"a year\"", r#"
        error: `look-back-days` is a text
          --> shop.toml:58:18
           |
        58 | look-back-days = "a year"
           |                  ^^^^^^^^
           |
           = help: write a whole number, for example `2`
    "#);
    message("shop.toml", "price = \"180.00\"", "price = \"-$180.00\"", r#"
        error: `price` is negative: `-$180.00`
          --> shop.toml:58:9
           |
        58 | price = "-$180.00"
           |         ^^^^^^^^^^
           |
           = help: write an amount, for example `"$285.00"`
    "#);
    message("shop.toml", "price = \"180.00\"", "price = \"EUR 180.00\"", r#"
        error: `price` is in `EUR`
          --> shop.toml:58:9
           |
        58 | price = "EUR 180.00"
           |         ^^^^^^^^^^^^
           |
           = help: the book's currency is USD
    "#);
    message("shop.toml", "price = \"180.00\"", "ask-over-rh = \"75\"", r#"
        error: `ask-over-rh` has no unit: `75`
          --> shop.toml:58:15
           |
        58 | ask-over-rh = "75"
           |               ^^^^
           |
           = help: units: `%`; for example `"55 %"`
    "#);
}
