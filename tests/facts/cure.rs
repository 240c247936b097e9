//! Times at other temperatures: the doubling rule, and the Arrhenius law of which it is a case.

use super::{near, near_share};
use slableaf::base::names::Key;
use slableaf::base::quantity::*;
use slableaf::model::book::{Book, Cure, Resin};
use slableaf::price::cure::*;

/// `t x 2^((T1 - T2) / 10 C)`, the rule of thumb for epoxies and urethanes that secondary sources
/// repeat; computed by hand.
#[track_caller]
fn doubles(hours: f64, known_at: f64, wanted_at: f64, printed: f64) {
    let found = scaled_by_doubling(
        Hours::hours(hours),
        Temperature::fahrenheit(known_at),
        Temperature::fahrenheit(wanted_at),
    );
    near(found.as_hours(), printed, 0.0005);
}

#[test]
fn times_double_for_every_eighteen_fahrenheit_colder() {
    doubles(12.0, 77.0, 59.0, 24.0);
    doubles(12.0, 77.0, 95.0, 6.0);
    doubles(8.0, 70.0, 50.0, 17.281);
    doubles(16.0, 68.0, 50.0, 32.0);
    doubles(6.0, 77.0, 86.0, 4.243);
    doubles(24.0, 77.0, 55.0, 55.993);
}

/// The Arrhenius law, `rate ~ exp(-Ea / (R T))` with R = 8.314 J/(mol K): at the activation energy
/// that doubles a rate over these ten degrees (computed by hand) rule and law agree.
#[track_caller]
fn arrhenius(cold: f64, warm: f64, kilojoules_per_mole: f64) {
    let (low, high) = (Temperature::celsius(cold), Temperature::celsius(warm));
    let ratio = (kilojoules_per_mole * 1000.0 / 8.314
        * (1.0 / (cold + 273.15) - 1.0 / (warm + 273.15)))
        .exp();
    near_share(Hours::hours(1.0) / scaled_by_doubling(Hours::hours(1.0), low, high), ratio, 0.0005);
}

#[test]
fn the_rule_is_the_arrhenius_law_at_about_fifty_kilojoules() {
    arrhenius(20.0, 30.0, 51.21);
    arrhenius(15.0, 25.0, 49.51);
}

/// The barrier epoxy of the example's book with these rows (temperature in F, pot life in minutes;
/// the other times follow it).
fn resin(rows: &[(f64, f64)], from: f64, to: f64) -> Resin {
    let book: Book = super::example::input().book;
    let product = book.product(&Key("barrier-epoxy".to_owned())).expect("a product of the example");
    let mut resin = product.resin().expect("a liquid").clone();
    resin.slab_from = Temperature::fahrenheit(from);
    resin.slab_to = Temperature::fahrenheit(to);
    resin.cure = rows
        .iter()
        .map(|(at, minutes)| Cure {
            at: Temperature::fahrenheit(*at),
            pot_life: Hours::minutes(*minutes),
            recoat_from: Hours::minutes(minutes * 10.0),
            recoat_to: Hours::minutes(minutes * 40.0),
            foot: Hours::minutes(minutes * 20.0),
            vehicle: Hours::minutes(minutes * 100.0),
        })
        .collect();
    resin
}

/// Pot life in minutes on a slab in F. A sheet's rows are taken as they are; between them the
/// logarithm of the time is straight, which keeps the doubling rule; beyond them the rule itself.
/// Common practice, no published source; computed by hand.
#[track_caller]
fn pot_life(resin: &Resin, slab: f64, minutes: f64, basis: CureBasis) {
    let found = cure_at(resin, Temperature::fahrenheit(slab)).expect("times at this slab");
    near(found.times.pot_life.as_minutes(), minutes, 0.0005);
    near(found.times.recoat_from.as_minutes(), minutes * 10.0, 0.005);
    near(found.times.recoat_to.as_minutes(), minutes * 40.0, 0.02);
    near(found.times.foot.as_minutes(), minutes * 20.0, 0.01);
    near(found.times.vehicle.as_minutes(), minutes * 100.0, 0.05);
    assert_eq!(found.basis, basis);
}

#[test]
fn times_come_from_the_sheet_and_then_from_the_rule() {
    let sheet = resin(&[(50.0, 80.0), (68.0, 40.0), (86.0, 10.0)], 40.0, 100.0);
    pot_life(&sheet, 50.0, 80.0, CureBasis::Sheet);
    pot_life(&sheet, 68.0, 40.0, CureBasis::Sheet);
    pot_life(&sheet, 86.0, 10.0, CureBasis::Sheet);
    // Half way: the root of the product.
    pot_life(&sheet, 59.0, 56.5685, CureBasis::Sheet);
    pot_life(&sheet, 77.0, 20.0, CureBasis::Sheet);
    // Nine degrees beyond: a factor of the root of two.
    pot_life(&sheet, 41.0, 113.1371, CureBasis::Rule);
    pot_life(&sheet, 95.0, 7.0711, CureBasis::Rule);
    // A sheet with one row: eighteen degrees beyond it is a factor of two.
    pot_life(&resin(&[(77.0, 25.0)], 40.0, 100.0), 59.0, 50.0, CureBasis::Rule);
}

#[track_caller]
fn no_times(resin: &Resin, slab: f64, why: NoCure) {
    assert_eq!(cure_at(resin, Temperature::fahrenheit(slab)), Err(why));
}

/// Curing nearly stops below a product's own minimum, and the rule is trusted 15 C (27 F) and no
/// further: common practice, no published source.
#[test]
fn outside_the_products_range_there_are_no_times() {
    let sheet = resin(&[(77.0, 25.0)], 45.0, 120.0);
    no_times(&sheet, 44.9, NoCure::TooCold);
    no_times(&sheet, 120.1, NoCure::TooWarm);
    no_times(&sheet, 49.9, NoCure::OutOfReach);
    no_times(&sheet, 104.1, NoCure::OutOfReach);
    pot_life(&sheet, 50.0, 70.7107, CureBasis::Rule);
    pot_life(&sheet, 104.0, 8.8388, CureBasis::Rule);
}
