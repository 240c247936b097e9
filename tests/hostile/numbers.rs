//! Numbers that are none, and sums at their ends.

use super::bench::quoted;
use super::{DRAFT, ends_well, folder, set, write_draft};
use crate::fixture::Folder;

/// One key of each kind of number, with its unit: file, key, unit.
const NUMBERS: &[(&str, &str, &str)] = &[
    ("job.toml", "built", ""),
    ("job.toml", "poured-year", ""),
    ("job.toml", "date", ""),
    ("job.toml", "set", ""),
    ("job.toml", "thickness", "in"),
    ("job.toml", "surface-strength", "psi"),
    ("job.toml", "length", "ft"),
    ("job.toml", "height", "m"),
    ("job.toml", "scale", "g"),
    ("job.toml", "room-temperature", "F"),
    ("job.toml", "room-humidity", "%"),
    ("job.toml", "exposed", "in2"),
    ("job.toml", "before", "g"),
    ("job.toml", "after", "kg"),
    ("job.toml", "humidity", "%"),
    ("job.toml", "slab", "C"),
    ("book.toml", "good-for-days", ""),
    ("book.toml", "wage", "/h"),
    ("book.toml", "burden", "%"),
    ("book.toml", "crew", ""),
    ("book.toml", "day-starts", ""),
    ("book.toml", "set-up", "h"),
    ("book.toml", "clean-up", "min"),
    ("book.toml", "grind", "ft2/h"),
    ("book.toml", "edge", "ft/h"),
    ("book.toml", "texture", "um"),
    ("book.toml", "upright-loss", "%"),
    ("book.toml", "crack-depth", "in"),
    ("book.toml", "consumables", "/ft2"),
    ("book.toml", "per-job", ""),
    ("book.toml", "margin", "%"),
    ("book.toml", "minimum", ""),
    ("book.toml", "round-to", ""),
    ("book.toml", "tax", "%"),
    ("book.toml", "hold-days", ""),
    ("book.toml", "volume-solids", "%"),
    ("book.toml", "spread", "ft2/gal"),
    ("book.toml", "film", "mil"),
    ("book.toml", "loss", "%"),
    ("book.toml", "mver-limit", "lb/1000ft2/24h"),
    ("book.toml", "rh-limit", "%"),
    ("book.toml", "voc", "g/L"),
    ("book.toml", "slab-from", "F"),
    ("book.toml", "air-humidity-to", "%"),
    ("book.toml", "strength-from", "psi"),
    ("book.toml", "concrete-days", ""),
    ("book.toml", "content", "g/L"),
    ("book.toml", "molar-mass", "g/mol"),
    ("book.toml", "lel", "%"),
    ("book.toml", "exposure", "ppm"),
    ("book.toml", "full", "lb/ft2"),
    ("book.toml", "reclaimed", "%"),
    ("book.toml", "thickness", "mil"),
    ("shop.toml", "share", "%"),
    ("shop.toml", "voc", "g/L"),
    ("shop.toml", "deposit-share", "%"),
];

#[test]
fn numbers_that_are_none_are_refused_whatever_the_key() {
    for (file, key, unit) in NUMBERS {
        let digits = "9".repeat(400);
        let mut values: Vec<String> =
            ["nan", "-nan", "inf", "-inf", "1e308", "-1e308", "1e-308"].map(str::to_owned).to_vec();
        for number in ["nan", "inf", "1e308", "-1", "\u{2212}1", "0x10", "1_0", "\u{664}", &digits]
        {
            values.push(format!("\"{number} {unit}\""));
        }
        for value in values {
            let ran = set(folder(), file, key, 0, &value).run(&["check", "job.toml"]);
            // Below zero is fine for a temperature alone.
            if value.starts_with('"') && matches!(*unit, "F" | "C") {
                ends_well(ran);
            } else {
                ends_well(ran.code(2)).err_has(&format!("error: `{key}` "));
            }
        }
    }
}

#[test]
fn an_amount_of_nineteen_digits_is_refused() {
    for key in ["per-job", "minimum", "round-to"] {
        for amount in
            ["9223372036854775807", "$9,223,372,036,854,775,807.00", "1000000000000000000"]
        {
            let ran =
                set(folder(), "book.toml", key, 0, &quoted(amount)).run(&["check", "job.toml"]);
            ends_well(ran.code(2)).err_has(&format!("error: `{key}` is too large: `{amount}`"));
        }
    }
    let price = r#"price = "9223372036854775807""#;
    let ran =
        folder().replace("book.toml", r#"price = "$198.00""#, price).run(&["check", "job.toml"]);
    ends_well(ran.code(2)).err_has("error: `price` is too large");
}

/// The dry job with the largest floor, at the prices of the book.
fn vast() -> Folder {
    let folder = set(folder(), "job.toml", "length", 0, r#""1000 ft""#);
    set(folder, "job.toml", "width", 0, r#""1000 ft""#)
}

/// The largest floor with every amount of the book as large as it may be, but for these two.
fn large(wage: &str, consumables: &str) -> Folder {
    let mut folder = vast();
    for (key, value) in [
        ("wage", wage),
        ("consumables", consumables),
        ("per-job", "$10,000,000.00"),
        ("overhead", "100 %"),
        ("burden", "100 %"),
        ("margin", "94 %"),
        ("tax", "100 %"),
        ("minimum", "$10,000,000.00"),
        ("round-to", "$9,999,999.99"),
    ] {
        folder = set(folder, "book.toml", key, 0, &quoted(value));
    }
    folder
}

/// The sums come to an end, and the judging too; a stop is an answer as well.
#[track_caller]
fn sums_end(folder: &Folder) {
    ends_well(folder.run(&["estimate", "job.toml", "--format", "json"]).success());
    let ran = ends_well(folder.run(&["check", "job.toml"]));
    // Three tests are few on a floor like that: the floors wait for more.
    let verdict = |line: &str| line.starts_with("recommended: ") || line.starts_with("first: ");
    assert!(ran.stdout().lines().any(verdict), "{}", ran.stderr());
}

/// Work of more days than any floor takes is no plan.
#[track_caller]
fn days_are_refused(folder: &Folder) {
    for arguments in
        [&["estimate", "job.toml"][..], &["check", "job.toml"], &["write", "--draft", "job.toml"]]
    {
        ends_well(folder.run(arguments).code(2))
            .err_has("error: the work on a floor comes to more than 366 days\n");
    }
    assert!(!folder.path(DRAFT).exists());
}

/// Ten thousand million is the most that money can be here; a price at that bound is no price.
#[track_caller]
fn price_is_refused(folder: &Folder) {
    for arguments in
        [&["estimate", "job.toml"][..], &["check", "job.toml"], &["write", "--draft", "job.toml"]]
    {
        ends_well(folder.run(arguments).code(2))
            .err_has("error: a price comes to more than any floor can cost\n")
            .err_has("help: check the sizes of the areas, the prices and the rates\n");
    }
    assert!(!folder.path(DRAFT).exists());
}

#[test]
fn the_largest_floor_at_the_highest_prices_ends_well() {
    price_is_refused(&large("$10,000,000.00/h", "$10,000,000.00/ft2"));
    price_is_refused(&large("$100.00/h", "$135.00/ft2"));
    // A dollar less, and the dearest of the four floors stays just below the bound.
    let most = large("$100.00/h", "$134.00/ft2");
    sums_end(&most);
    ends_well(write_draft(&most).success()).out_has("wrote ");
}

/// Rates that make weeks of a garage are a price; those that make years of it are refused.
#[test]
fn work_at_almost_no_speed_ends_well() {
    let at = |rate: &str| {
        let mut slow = folder();
        for (key, unit) in [
            ("grind", "ft2/h"),
            ("edge", "ft/h"),
            ("roll", "ft2/h"),
            ("upright", "ft2/h"),
            ("broadcast", "ft2/h"),
            ("scrape", "ft2/h"),
        ] {
            slow = set(slow, "book.toml", key, 0, &quoted(&format!("{rate} {unit}")));
        }
        set(slow, "book.toml", "volume-solids", 0, "\"0.0001 %\"")
    };
    sums_end(&at("1.5"));
    for rate in ["0.001", "0.000000000001"] {
        ends_well(at(rate).run(&["estimate", "job.toml"]).code(2))
            .err_has("error: the work on a floor comes to more than 366 days\n")
            .err_has("help: check the sizes of the areas, the rates");
    }
}

/// Thousands of millions of pails: the search for the cheapest mix stops at its bound. In the
/// second list every mix costs the same for what it holds, so that none can be left out early.
#[test]
fn a_kit_of_almost_nothing_ends_well() {
    for kits in [
        r#"{ size = "0.001 mL", price = "$0.00" }, { size = "0.0013 mL", price = "$10,000,000.00" }, { size = "1000 gal", price = "$0.01" }"#,
        r#"{ size = "0.7 mL", price = "$0.07" }, { size = "1.1 mL", price = "$0.11" }, { size = "1.3 mL", price = "$0.13" }"#,
    ] {
        sums_end(&vast().replace(
            "book.toml",
            r#"kit = [{ size = "3 gal", price = "$276.00" }, { size = "15 gal", price = "$1,290.00" }]"#,
            &format!("kit = [{kits}]"),
        ));
    }
    // Ten million gallons are mixed for longer than any floor may take.
    days_are_refused(&set(vast(), "book.toml", "spread", 0, r#""0.1 ft2/gal""#));
    days_are_refused(&set(vast(), "book.toml", "spread", 0, r#""0.0001 ft2/gal""#));
}
