//! Mistakes in a shop file.

use super::shop;
use super::small::{CALENDAR, FAN};

#[test]
#[rustfmt::skip]
fn the_payments_add_up() {
    shop("").replace(r#"share = "90 %""#, r#"share = "80 %""#).says(r"
        error: `payment` shares sum to 90 %
         --> shop.toml:7:1
          |
        7 | [[payment]]
          | ^^^^^^^^^^^
          |
          = help: the shares of all payments must sum to 100 %
    ");
}

#[test]
#[rustfmt::skip]
fn a_deposit_cap_needs_a_second_payment() {
    shop("").write("shop.toml", "name = \"Any Shop\"\ncountry = \"US\"\n\n[limits]\ndeposit-share = \"33 %\"\n\n[[payment]]\nwhen = \"At the end\"\nshare = \"100 %\"\n").says(r"
        error: `payment` has one step, which a cap on the deposit would cut
         --> shop.toml:7:1
          |
        7 | [[payment]]
          | ^^^^^^^^^^^
          |
          = help: add a second `[[payment]]`: the first counts as the deposit, and the last takes the rest
    ");
}

#[test]
#[rustfmt::skip]
fn an_address_of_the_shop_that_is_none_is_told_with_its_line() {
    shop("").write("shop.toml", "name = \"Any Shop\"\nemail = \"office at floors\"\n\n[[payment]]\nwhen = \"At the end\"\nshare = \"100 %\"\n").says(r#"
        error: `email` has no `@`: `office at floors`
         --> shop.toml:2:9
          |
        2 | email = "office at floors"
          |         ^^^^^^^^^^^^^^^^^^
          |
          = help: write a mail address, for example `"rosa@tannenwald.example"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_calendar_names_zones_and_days_as_the_world_does() {
    shop(CALENDAR).replace(r#"closed = ["sunday"]"#, r#"closed = ["sundays"]"#).says(r#"
        error: `closed` is `sundays`
          --> shop.toml:17:11
           |
        17 | closed = ["sundays"]
           |           ^^^^^^^^^
           |
           = help: did you mean `"sunday"`? expected one of "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"
    "#);
    shop(CALENDAR).replace(r#"closed = ["sunday"]"#, r#"closed = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]"#).says(r#"
        error: `closed` names every day of the week
          --> shop.toml:17:10
           |
        17 | closed = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
           |          ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: leave out the days on which you work
    "#);
    shop(CALENDAR).replace(r#"time-zone = "America/Chicago""#, r#"time-zone = "America/Chicagoo""#).says(r#"
        error: `time-zone` is `America/Chicagoo`
          --> shop.toml:16:13
           |
        16 | time-zone = "America/Chicagoo"
           |             ^^^^^^^^^^^^^^^^^^
           |
           = help: did you mean `"America/Chicago"`?
    "#);
    shop(CALENDAR).replace(r#"time-zone = "America/Chicago""#, r#"time-zone = "CST""#).says(r#"
        error: `time-zone` is `CST`
          --> shop.toml:16:13
           |
        16 | time-zone = "CST"
           |             ^^^^^
           |
           = help: name a place of that zone: `"America/Chicago"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_country_is_two_capital_letters() {
    shop("").replace(r#"country = "US""#, r#"country = "USA""#).says(r#"
        error: `country` is `USA`
         --> shop.toml:5:11
          |
        5 | country = "USA"
          |           ^^^^^
          |
          = help: write a country as two capital letters (ISO 3166-1): `"US"` for the United States, `"NO"` for Norway
    "#);
}

#[test]
#[rustfmt::skip]
fn a_fan_moves_air() {
    shop(FAN).replace(r#"airflow = "1,500 cfm""#, r#"airflow = "0 cfm""#).says(r#"
        error: `airflow` is zero
          --> shop.toml:16:11
           |
        16 | airflow = "0 cfm"
           |           ^^^^^^^
           |
           = help: what one fan really moves, for example `"1200 cfm"`
    "#);
    shop(FAN).replace(r#"airflow = "1,500 cfm""#, r#"airflow = "1500""#).says(r#"
        error: `airflow` has no unit: `1500`
          --> shop.toml:16:11
           |
        16 | airflow = "1500"
           |           ^^^^^^
           |
           = help: units: `cfm`, `m3/h`; for example `"1200 cfm"`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_record_counts_floors_that_there_are() {
    shop(FAN).replace(r#"[fan]"#, "[[record]]\nsystem = \"fast-cur\"\njobs = 3\nmoisture-failures = 2\nsince = 2019\n\n[fan]").says(r#"
        error: no system is called `fast-cur`
          --> shop.toml:16:10
           |
        16 | system = "fast-cur"
           |          ^^^^^^^^^^
           |
           = help: did you mean `fast-cure`?
    "#);
    shop(FAN).replace(r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 0\nmoisture-failures = 0\nsince = 2019\n\n[fan]").says(r#"
        error: `jobs` is zero
          --> shop.toml:17:8
           |
        17 | jobs = 0
           |        ^
           |
           = help: write how many floors of this system you have laid
    "#);
    shop(FAN).replace(r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 4\nsince = 2019\n\n[fan]").says(r#"
        error: `moisture-failures` is more than `jobs`
          --> shop.toml:18:21
           |
        18 | moisture-failures = 4
           |                     ^
           |
           = help: write how many of those floors came loose from moisture
    "#);
    shop(FAN).replace(r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 1\nsince = 20\n\n[fan]").says(r#"
        error: `since` is 20
          --> shop.toml:19:9
           |
        19 | since = 20
           |         ^^
           |
           = help: write a year, for example `1996`
    "#);
    shop(FAN).replace(r#"[fan]"#, "[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 1\nsince = 2019\n\n[[record]]\nsystem = \"fast-cure\"\njobs = 3\nmoisture-failures = 1\nsince = 2019\n\n[fan]").says(r#"
        error: `system` `fast-cure` stands twice
          --> shop.toml:22:10
           |
        22 | system = "fast-cure"
           |          ^^^^^^^^^^^
           |
           = help: give each system one record
    "#);
}

#[test]
#[rustfmt::skip]
fn a_shop_trusts_a_test_for_some_days_and_takes_money_for_it() {
    shop("\n[testing]\nreading-days = 0\n").says(r"
        error: `reading-days` is 0
          --> shop.toml:16:16
           |
        16 | reading-days = 0
           |                ^
           |
           = help: write a number of days from 1 to 3650
    ");
    shop("\n[testing]\nreading-days = 4000\n").says(r"
        error: `reading-days` is 4000
          --> shop.toml:16:16
           |
        16 | reading-days = 4000
           |                ^^^^
           |
           = help: write a number of days from 1 to 3650
    ");
    shop("\n[testing]\nlook-back-days = \"a year\"\n").says(r#"
        error: `look-back-days` is text
          --> shop.toml:16:18
           |
        16 | look-back-days = "a year"
           |                  ^^^^^^^^
           |
           = help: write a whole number, for example `2`
    "#);
    shop("\n[testing]\nprice = \"-$180.00\"\n").says(r#"
        error: `price` is negative: `-$180.00`
          --> shop.toml:16:9
           |
        16 | price = "-$180.00"
           |         ^^^^^^^^^^
           |
           = help: write an amount, for example `"$285.00"`
    "#);
    shop("\n[testing]\nprice = \"EUR 180.00\"\n").says(r#"
        error: `price` is in `EUR`
          --> shop.toml:16:9
           |
        16 | price = "EUR 180.00"
           |         ^^^^^^^^^^^^
           |
           = help: the book's currency is USD
    "#);
    shop("\n[testing]\nask-over-rh = \"75\"\n").says(r#"
        error: `ask-over-rh` has no unit: `75`
          --> shop.toml:16:15
           |
        16 | ask-over-rh = "75"
           |               ^^^^
           |
           = help: units: `%`; for example `"55 %"`
    "#);
}

#[test]
fn a_cap_in_another_currency_than_the_book_is_refused() {
    shop("\n[limits]\ndeposit-most = \"€500\"\n")
        .says_among_others("error: `deposit-most` is in `€`\n  --> shop.toml");
}

#[test]
fn a_language_without_words_is_refused_where_it_is_written() {
    let shop = shop("").replace(r#"language = "en""#, r#"language = "fr""#);
    shop.says_among_others("--> shop.toml:4:12");
}

#[test]
#[rustfmt::skip]
fn the_years_that_are_compared_are_ahead_and_hold_the_damp_one() {
    shop("").add("\n[years]\ncount = 4\ndamp-in = 9\n").says(r"
        error: `damp-in` is later than the 4 years that are counted
          --> shop.toml:17:11
           |
        17 | damp-in = 9
           |           ^
           |
           = help: write a year in which the sheet still counts, or count more years in `count`
    ");
}

#[test]
fn years_that_are_none_and_rates_without_a_source_are_told() {
    let says = |lines: &str, message: &str, advice: &str| {
        let run = crate::fixture::Folder::of("dry-and-quick");
        let shop = run.read("shop.toml");
        let start = shop.find("[years]").unwrap();
        let shop = format!("{}[years]\n{lines}\n", &shop[..start]);
        let run = run.write("shop.toml", shop).run(&["check", "job.toml"]).code(2);
        run.err_has(message).err_has(advice);
    };
    says("count = 0", "`count` is 0", "write a number of years from 1 to 60");
    says("rate = \"3 %\"", "`rate-source` is missing", "add `rate-source = \"our own choice\"`");
    says("rate = \"30 %\"\nrate-source = \"a slip\"", "is above 20 % a year", "inflation left out");
}

#[test]
#[rustfmt::skip]
fn a_promise_in_short_is_that_of_the_warranty() {
    let name = "name = \"";
    let with = |lines: &str| shop("").replace(name, &format!("{lines}\n{name}"));
    with("warranty-short = \"5 years\"\nwarranty = [\"For three years we mend what peels.\"]").says(r#"
        error: `warranty-short` says 5, and no paragraph of `warranty` does
         --> shop.toml:1:18
          |
        1 | warranty-short = "5 years"
          |                  ^^^^^^^^^
          |
          = help: write the same number in both
    "#);
}
