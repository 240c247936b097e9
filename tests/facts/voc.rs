//! VOC content from masses: 40 CFR 59.406(a)(1), equation 5.
//!
//! The appendix "Calculation of VOC in coatings" of an organic finishing guidebook (2013, pages 813
//! to 817) works examples in pounds and gallons. Two of them are misprinted: see below.

use super::example::{self, BOOK, JOB, SHOP, replaced};
use super::near;
use slableaf::base::names::Key;
use slableaf::base::quantity::*;
use slableaf::model::book::Book;
use slableaf::model::voc::{Masses, mixed};
use slableaf::read;

/// Masses in grams, volumes in liters.
fn metric(volatiles: f64, water: (f64, f64), exempt: (f64, f64), volume: f64) -> Masses {
    Masses {
        volatiles: Mass::grams(volatiles),
        water: Mass::grams(water.0),
        exempt: Mass::grams(exempt.0),
        volume: Volume::liters(volume),
        water_volume: Volume::liters(water.1),
        exempt_volume: Volume::liters(exempt.1),
    }
}

const NONE: (f64, f64) = (0.0, 0.0);

/// Equation 5 of the rule, computed by hand: content less water and exempt compounds, and content
/// of the coating as it is, in grams per liter.
#[track_caller]
fn content(masses: Masses, regulatory: f64, material: f64) {
    near(masses.regulatory().as_grams_per_liter(), regulatory, 0.0005);
    near(masses.material().as_grams_per_liter(), material, 0.0005);
}

#[test]
fn contents_follow_equation_5_of_40_cfr_59_406() {
    content(metric(600.0, (350.0, 0.35), NONE, 1.0), 384.615, 250.0);
    content(metric(420.0, NONE, (250.0, 0.316), 1.0), 248.538, 170.0);
    content(metric(520.0, (400.0, 0.4), (20.0, 0.0253), 1.0), 174.004, 100.0);
    // Thinned to 1.05 L; nothing is left out, so that both contents are one.
    content(metric(300.0, NONE, NONE, 1.05), 285.714, 285.714);
    content(metric(45.0, NONE, NONE, 1.0), 45.0, 45.0);
}

/// 40 CFR 59 subpart D, Table 1, prints 400 g/L as 3.3 lb/gal. 1 lb/gal is 453.59237 g in 3.785411784 L.
#[test]
fn a_pound_in_a_gallon_is_this_many_grams_in_a_liter() {
    near(Content::pounds_per_gallon(1.0).as_grams_per_liter(), 119.826, 0.0005);
    near(Content::grams_per_liter(400.0).as_pounds_per_gallon(), 3.3, 0.05);
}

/// Masses in pounds, volumes in gallons.
fn us(volatiles: f64, water: (f64, f64), volume: f64) -> Masses {
    Masses {
        volatiles: Mass::pounds(volatiles),
        water: Mass::pounds(water.0),
        exempt: Mass::ZERO,
        volume: Volume::gallons(volume),
        water_volume: Volume::gallons(water.1),
        exempt_volume: Volume::ZERO,
    }
}

/// The guidebook's coating of 8.52 lb/gal, 20.8 % solids and 53.0 % water by weight, with water at
/// 8.33 lb/gal: it prints 4.87 lb/gal less water and 2.23 as it is.
#[test]
fn a_water_based_coating_has_the_contents_that_the_guidebook_prints() {
    let water = 8.52 * 0.530;
    let coating = us(8.52 * (1.0 - 0.208), (water, water / 8.33), 1.0);
    near(coating.regulatory().as_pounds_per_gallon(), 4.87, 0.005);
    near(coating.material().as_pounds_per_gallon(), 2.23, 0.005);
    // The same by hand, to more places.
    near(coating.regulatory().as_pounds_per_gallon(), 4.8748, 0.00005);
    near(coating.material().as_pounds_per_gallon(), 2.2322, 0.00005);
}

/// Two examples that the guidebook prints wrong. It gives (9.3 + 1.8) lb in 4 gal as 2.75 lb/gal:
/// that is 2.775. And it takes solids of 0.52 for its own 0.42, which makes 0.76 lb/gal of 0.92:
/// 0.06 gal of solvent at 7.36 lb/gal and 0.52 gal of water in a gallon.
#[test]
fn the_misprints_of_the_guidebook_are_not_followed() {
    near(us(9.3 + 1.8, NONE, 4.0).regulatory().as_pounds_per_gallon(), 2.775, 1e-9);
    let water = (0.52 * 8.33, 0.52);
    let coating = us(0.06 * 7.36 + water.0, water, 1.0);
    near(coating.regulatory().as_pounds_per_gallon(), 0.92, 1e-9);
}

/// Gallons and pounds per gallon of each part.
fn blend(parts: &[(f64, f64)]) -> f64 {
    let parts: Vec<_> = parts
        .iter()
        .map(|(gallons, content)| (Volume::gallons(*gallons), Content::pounds_per_gallon(*content)))
        .collect();
    mixed(&parts).as_pounds_per_gallon()
}

/// The guidebook's mixtures: 1 gal at 2.5 lb/gal with 0.25 gal at 6.8, and 5.0 gal that hold 15.9 lb,
/// brought to 3.5 lb/gal with 0.55 gal of thinner at 6.4 (0.5517 gal by hand).
#[test]
fn mixtures_have_the_contents_that_the_guidebook_prints() {
    near(blend(&[(1.0, 2.5), (0.25, 6.8)]), 3.36, 1e-9);
    near(blend(&[(5.0, 15.9 / 5.0), (0.5517, 6.4)]), 3.5, 0.0001);
}

/// Computed by hand: two parts at 60 g/L and one at 20 g/L.
#[test]
fn two_parts_and_one_mix_by_volume() {
    let parts = [(2.0, 60.0), (1.0, 20.0)]
        .map(|(liters, grams)| (Volume::liters(liters), Content::grams_per_liter(grams)));
    near(mixed(&parts).as_grams_per_liter(), 46.667, 0.0005);
    assert_eq!(mixed(&[]), Content::ZERO);
}

// -------------------------------------------------------------------- as a book gives them

#[track_caller]
fn content_in(book: &Book, product: &str) -> f64 {
    let product = book.product(&Key(product.to_owned())).expect("a product of the book");
    let resin = product.resin().expect("a liquid");
    resin.voc.expect("a content").as_grams_per_liter()
}

/// The example's masses: (554.1 - 510) g in (1 - 0.51) L, by hand.
#[test]
fn a_book_may_give_masses_in_place_of_a_content() {
    let book = example::input().book;
    near(content_in(&book, "water-clear"), 44.1 / 0.49, 1e-9);
    near(content_in(&book, "water-clear").round(), content_in(&book, "water-epoxy"), 0.0);
}

/// Solvent alone: the keys of what is left out may be absent, and every unit of the trade serves.
#[test]
fn masses_may_leave_out_what_is_not_there() {
    let book = with_masses("volatiles = \"2.5 lb\"\nvolume = \"1 gal\"");
    let input = example::read(JOB, &book, SHOP);
    near(content_in(&input.book, "water-clear"), 2.5 * 119.826_427, 0.0001);
}

/// The example's book with other keys in its table of masses, a line each.
fn with_masses(lines: &str) -> String {
    let head = "voc-masses = {";
    let from = BOOK.find(head).expect("the table") + head.len();
    let until = from + BOOK[from..].find('}').expect("its end");
    let keys = lines.lines().map(str::trim).collect::<Vec<_>>().join(", ");
    format!("{} {keys} {}", &BOOK[..from], &BOOK[until..])
}

/// The first problem of a book with these masses: what is wrong, and what to write.
#[track_caller]
fn refused(book: &str, message: &str, help: &str) {
    let problems = read::read(&example::files(JOB, book, SHOP)).expect_err("a mistake");
    assert_eq!(problems[0].message, message);
    assert!(problems[0].help.iter().any(|line| line == help), "{:?}", problems[0].help);
    assert_eq!(problems.len(), 1, "{problems:#?}");
}

#[test]
fn masses_that_cannot_be_are_refused() {
    refused(
        &with_masses(
            "volatiles = \"500 g\"\nwater = \"450 g\"\nwater-volume = \"0.45 L\"\n\
             exempt = \"60 g\"\nexempt-volume = \"0.07 L\"\nvolume = \"1 L\"",
        ),
        "`volatiles` weigh less than `water` and `exempt` together",
        "the mass of all that evaporates, water and exempt compounds included",
    );
    refused(
        &with_masses(
            "volatiles = \"980 g\"\nwater = \"600 g\"\nwater-volume = \"0.6 L\"\n\
             exempt = \"316 g\"\nexempt-volume = \"0.4 L\"\nvolume = \"1 L\"",
        ),
        "`volume` is not more than `water-volume` and `exempt-volume` together",
        "the volume of the coating as thinned to the maker's maximum, for example `\"1 L\"`",
    );
    refused(
        &with_masses("volatiles = \"2 lb\"\nvolume = \"0.1 gal\""),
        "`volatiles` make a content of 2397 g/L",
        "the most accepted is 1500 g/L; check the masses, the volumes and their units",
    );
    refused(
        &with_masses("volatiles = \"595 g\"\nwater = \"555 g\"\nvolume = \"1 L\""),
        "`water-volume` is missing beside `water`",
        "the mass and the volume of `water` are both taken out: write both",
    );
    refused(
        &with_masses("volatiles = \"595 g\"\nexempt-volume = \"0.1 L\"\nvolume = \"1 L\""),
        "`exempt` is missing beside `exempt-volume`",
        "the mass and the volume of `exempt` are both taken out: write both",
    );
}

/// Equal masses in binary fractions: 0.1 and 0.2 make no more than 0.3.
#[test]
fn a_coating_whose_volatiles_are_all_water_and_exempt_has_none() {
    let book = with_masses(
        "volatiles = \"0.3 kg\"\nwater = \"0.1 kg\"\nwater-volume = \"0.1 L\"\n\
         exempt = \"0.2 kg\"\nexempt-volume = \"0.2 L\"\nvolume = \"1 L\"",
    );
    near(content_in(&example::read(JOB, &book, SHOP).book, "water-clear"), 0.0, 0.0);
}

#[test]
fn a_content_and_its_masses_cannot_stand_side_by_side() {
    let voc = "kit = [{ size = \"1 gal\", price = \"$58.00\" }]";
    refused(
        &replaced(BOOK, voc, &format!("{voc}\nvoc = \"90 g/L\"")),
        "`voc-masses` stands beside `voc`",
        "give one: the content that the sheet prints, or the masses it follows from",
    );
}
