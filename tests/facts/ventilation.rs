//! Dilution ventilation: ACGIH Industrial Ventilation manual, dilution chapter, from memory, with
//! the arithmetic done again by hand.
//!
//! The manual counts liquid in pints, by specific gravity. Its 403 is rounded from 403.5, so that
//! flows agree within 0.15 %.

use super::{example, near, near_share};
use slableaf::base::names::Key;
use slableaf::base::quantity::*;
use slableaf::model::book::Stated;
use slableaf::price::ventilation::*;

const ROUNDED_403: f64 = 0.0015;

const METHYL_CHLOROFORM: (f64, f64) = (1.32, 133.4);
const MEK: (f64, f64) = (0.805, 72.1);
const TOLUENE: (f64, f64) = (0.866, 92.13);
/// Specific gravities and molar masses of the garage's solvents: NIOSH Pocket Guide, from memory.
const ACETONE: (f64, f64) = (0.79, 58.1);
const XYLENE: (f64, f64) = (0.87, 106.2);
const N_BUTYL_ACETATE: (f64, f64) = (0.88, 116.2);
const T_BUTYL_ACETATE: (f64, f64) = (0.87, 116.2);
/// From general chemical data, from memory: it is not in the pocket guide.
const PCBTF: (f64, f64) = (1.34, 180.6);

/// Vapor of some pints of a solvent (specific gravity, molar mass); water weighs 1 kg/L here.
fn vapor_of(pints: f64, (gravity, molar): (f64, f64)) -> Room {
    let liters = Volume::gallons(pints / 8.0).as_liters();
    vapor(Mass::kilograms(liters * gravity), MolarMass::grams_per_mole(molar))
}

#[track_caller]
fn health(pints: f64, minutes: f64, solvent: (f64, f64), ppm: f64, mixing: f64, cfm: f64) -> f64 {
    let flow = airflow_for_health(
        vapor_of(pints, solvent),
        Hours::minutes(minutes),
        Ppm::parts_per_million(ppm),
        mixing,
    );
    near_share(flow.as_cubic_feet_per_minute(), cfm, ROUNDED_403);
    flow.as_cubic_feet_per_minute()
}

#[test]
fn airflow_against_exposure_follows_the_acgih_examples() {
    health(1.5, 60.0, METHYL_CHLOROFORM, 350.0, 1.0, 284.8);
    health(1.5, 60.0, METHYL_CHLOROFORM, 350.0, 5.0, 1425.0);
    let mek = health(2.0, 60.0, MEK, 200.0, 4.0, 3000.0);
    let toluene = health(2.0, 60.0, TOLUENE, 100.0, 5.0, 6313.0);
    // Effects of the two add, and so do their flows.
    near_share(mek + toluene, 9313.0, ROUNDED_403);
}

#[test]
fn airflow_against_exposure_in_a_garage() {
    health(8.0, 60.0, ACETONE, 250.0, 5.0, 14_612.0);
    health(1.0, 60.0, (0.81, 72.1), 200.0, 6.0, 2263.7);
}

/// Parts of the lower explosive limit: the manual's safety factor C is one over them.
#[track_caller]
fn fire(pints: f64, minutes: f64, solvent: (f64, f64), lel: f64, part: f64, air: f64, cfm: f64) {
    let flow = airflow_for_fire(
        vapor_of(pints, solvent),
        Hours::minutes(minutes),
        Share::percent(lel),
        part,
        Temperature::fahrenheit(air),
    );
    near_share(flow.as_cubic_feet_per_minute(), cfm, ROUNDED_403);
}

/// The manual's oven: C = 10 and, above 250 F, 0.7 of the limit. The flow is of air at 70 F.
#[test]
fn airflow_against_fire_follows_the_acgih_oven() {
    fire(2.0, 60.0, (0.88, 106.0), 1.0, 0.1, 350.0, 159.3);
}

/// Limits (LEL) from the NIOSH Pocket Guide, from memory; flows computed by hand.
#[test]
fn airflow_against_fire_in_a_garage() {
    fire(8.0, 30.0, XYLENE, 0.9, PART_OF_LEL, 70.0, 391.3);
    fire(8.0, 60.0, T_BUTYL_ACETATE, 1.5, PART_OF_LEL, 70.0, 107.3);
    fire(8.0, 60.0, PCBTF, 0.9, PART_OF_LEL, 70.0, 177.2);
}

/// 29 CFR 1910.106(a)(31): ventilation is adequate while vapor does not build up above one fourth
/// of the lower flammable limit.
#[test]
fn a_quarter_of_the_limit_is_that_of_29_cfr_1910_106() {
    near(PART_OF_LEL, 0.25, 0.0);
}

/// Vapor of a gallon, computed by hand.
#[track_caller]
fn gallon(solvent: (f64, f64), cubic_feet: f64) {
    near_share(vapor_of(8.0, solvent).as_cubic_feet(), cubic_feet, ROUNDED_403);
}

#[test]
fn a_gallon_makes_this_much_vapor() {
    gallon(ACETONE, 43.84);
    gallon((0.81, 72.1), 36.22);
    gallon(XYLENE, 26.41);
    gallon(N_BUTYL_ACETATE, 24.42);
    gallon(T_BUTYL_ACETATE, 24.14);
    gallon(PCBTF, 23.92);
}

/// The quantity of pure solvent that brings a closed garage of 3200 ft3 (400 ft2, 8 ft high) to a quarter of its
/// limit, computed by hand; within a thousandth of a gallon.
#[track_caller]
fn closed_garage((gravity, molar): (f64, f64), lel: f64, gallons: f64) {
    let book = example::input().book;
    let product = book.product(&Key("urethane-coat".to_owned())).expect("a product of the example");
    let mut resin = product.resin().expect("a liquid").clone();
    let Stated::Given(solvent) = &mut resin.solvent else { panic!("no solvent-borne coat") };
    solvent.content = Content::grams_per_liter(gravity * 1000.0);
    solvent.molar_mass = MolarMass::grams_per_mole(molar);
    solvent.lel = Share::percent(lel);
    let (floor, height) = (Area::square_feet(400.0), Some(Length::feet(8.0)));
    let air = coat_air(&resin, Volume::gallons(1.0), Hours::hours(1.0), floor, height, None)
        .expect("a solvent");
    near(air.closed_room.expect("a height").as_gallons(), gallons, 0.001);
}

#[test]
fn a_closed_garage_takes_this_little_solvent() {
    closed_garage(ACETONE, 2.5, 0.456);
    closed_garage(XYLENE, 0.9, 0.273);
    closed_garage((0.81, 72.1), 1.4, 0.309);
}

#[test]
fn a_coat_without_solvent_asks_for_no_air_against_fire() {
    let book = example::input().book;
    let product = book.product(&Key("barrier-epoxy".to_owned())).expect("a product of the example");
    let resin = product.resin().expect("a liquid");
    assert_eq!(
        coat_air(
            resin,
            Volume::gallons(5.0),
            Hours::hours(1.0),
            Area::square_feet(400.0),
            None,
            None
        ),
        None
    );
}

/// The manual's room: 1.2 cfm of vapor and 2000 cfm of clean air settle at 600 ppm, which is 1.2 / 2000.
#[test]
fn vapor_settles_as_in_the_acgih_example() {
    let (vapor, minute) = (Room::cubic_feet(1.2), Hours::minutes(1.0));
    let flow = airflow_for_health(vapor, minute, Ppm::parts_per_million(600.0), 1.0);
    near(flow.as_cubic_feet_per_minute(), 2000.0, 1e-6);
}

/// Room in ft3, clean air in cfm, concentrations in ppm.
#[track_caller]
fn purges(
    cubic_feet: f64,
    cfm: f64,
    mixing: f64,
    from: f64,
    to: f64,
    minutes: f64,
    tolerance: f64,
) {
    let flow = Airflow::cubic_feet_per_minute(cfm);
    let time = purge_time(Room::cubic_feet(cubic_feet), flow, mixing, from, to);
    near(time.as_minutes(), minutes, tolerance);
}

#[test]
fn rooms_clear_as_in_the_acgih_example() {
    purges(100_000.0, 2000.0, 1.0, 100.0, 25.0, 69.3, 0.05);
    // The manual reads the second one the other way: 30.1 ppm are left after an hour.
    purges(100_000.0, 2000.0, 1.0, 100.0, 30.1, 60.0, 0.1);
}

/// The same formula, computed by hand.
#[test]
fn a_garage_clears_in_minutes_or_hours_by_its_mixing() {
    purges(3200.0, 500.0, 1.0, 1000.0, 100.0, 14.74, 0.005);
    purges(3600.0, 400.0, 4.0, 500.0, 50.0, 82.9, 0.05);
}

/// Fans of 100 cfm for a gallon of xylene in half an hour: 391.3 cfm against fire is four; clearing
/// 3200 ft3 with those 400 cfm, K = 5, from 2250 ppm (a quarter of 0.9 %) to 100 ppm takes
/// 3200 / 80 x ln 22.5 = 124.5 min. By hand.
#[test]
fn fans_are_whole_and_clear_the_room() {
    let book = example::input().book;
    let product = book.product(&Key("urethane-coat".to_owned())).expect("a product of the example");
    let mut resin = product.resin().expect("a liquid").clone();
    let Stated::Given(solvent) = &mut resin.solvent else { panic!("no solvent-borne coat") };
    solvent.content = Content::grams_per_liter(XYLENE.0 * 1000.0);
    solvent.molar_mass = MolarMass::grams_per_mole(XYLENE.1);
    solvent.lel = Share::percent(0.9);
    solvent.exposure = Ppm::parts_per_million(100.0);
    let air = coat_air(
        &resin,
        Volume::gallons(1.0),
        Hours::hours(0.5),
        Area::square_feet(400.0),
        Some(Length::feet(8.0)),
        Some(Airflow::cubic_feet_per_minute(100.0)),
    )
    .expect("a solvent");
    assert_eq!(air.fans.expect("a fan").fire, 4);
    near(air.clears.expect("a height").as_minutes(), 124.5, 0.05);
    near_share(air.vapor.as_cubic_feet(), 26.41, ROUNDED_403);
}
