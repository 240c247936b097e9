//! Dew point against psychrolib 2.5.0, an independent library of the ASHRAE Handbook's equations,
//! and the spread that MIL-HDBK-1110 asks for.

use super::near;
use slableaf::base::quantity::*;
use slableaf::model::job::Air;
use slableaf::site::dew_point::*;

/// psychrolib 2.5.0, `GetTDewPointFromRelHum`; within 0.05 C.
#[track_caller]
fn celsius(air: f64, humidity: f64, printed: f64) {
    near(
        dew_point(Temperature::celsius(air), Humidity::percent(humidity)).as_celsius(),
        printed,
        0.05,
    );
}

#[test]
fn dew_points_in_celsius_are_those_of_psychrolib() {
    celsius(5.0, 80.0, 1.841);
    celsius(10.0, 50.0, 0.063);
    celsius(10.0, 85.0, 7.598);
    celsius(13.0, 60.0, 5.425);
    celsius(15.0, 70.0, 9.579);
    celsius(15.0, 95.0, 14.206);
    celsius(16.0, 71.0, 10.750);
    celsius(18.0, 40.0, 4.213);
    celsius(20.0, 30.0, 1.914);
    celsius(20.0, 50.0, 9.272);
    celsius(20.0, 65.0, 13.227);
    celsius(20.0, 85.0, 17.403);
    celsius(23.0, 50.0, 12.028);
    celsius(25.0, 60.0, 16.701);
    celsius(25.0, 90.0, 23.244);
    celsius(28.0, 45.0, 14.969);
    celsius(30.0, 35.0, 12.880);
    celsius(30.0, 55.0, 19.976);
    celsius(30.0, 75.0, 25.081);
    celsius(35.0, 60.0, 26.068);
}

/// The same in Fahrenheit; within 0.09 F, which is 0.05 C.
#[track_caller]
fn fahrenheit(air: f64, humidity: f64, printed: f64) {
    near(
        dew_point(Temperature::fahrenheit(air), Humidity::percent(humidity)).as_fahrenheit(),
        printed,
        0.09,
    );
}

#[test]
fn dew_points_in_fahrenheit_are_those_of_psychrolib() {
    fahrenheit(50.0, 50.0, 32.11);
    fahrenheit(50.0, 80.0, 44.08);
    fahrenheit(55.0, 65.0, 43.47);
    fahrenheit(60.0, 40.0, 35.64);
    fahrenheit(60.0, 60.0, 46.09);
    fahrenheit(60.0, 90.0, 57.06);
    fahrenheit(65.0, 75.0, 56.89);
    fahrenheit(68.0, 50.0, 48.69);
    fahrenheit(70.0, 30.0, 37.18);
    fahrenheit(70.0, 50.0, 50.53);
    fahrenheit(70.0, 65.0, 57.71);
    fahrenheit(72.0, 85.0, 67.24);
    fahrenheit(75.0, 45.0, 52.24);
    fahrenheit(75.0, 60.0, 60.19);
    fahrenheit(80.0, 50.0, 59.71);
    fahrenheit(80.0, 70.0, 69.34);
    fahrenheit(85.0, 55.0, 67.03);
    fahrenheit(90.0, 60.0, 74.24);
    fahrenheit(90.0, 80.0, 82.99);
    fahrenheit(95.0, 35.0, 63.06);
}

/// Worked examples of a coatings training sheet and a glossary of the trade, in whole degrees. Dew
/// point charts printed for coatings work are not used: against psychrolib many of their entries
/// are low by more than 1 F, on the unsafe side.
#[test]
fn dew_points_are_those_of_worked_examples() {
    near(dew_point(Temperature::celsius(16.0), Humidity::percent(71.0)).as_celsius(), 11.0, 0.5);
    near(dew_point(Temperature::celsius(30.0), Humidity::percent(55.0)).as_celsius(), 20.0, 0.5);
    near(
        dew_point(Temperature::fahrenheit(75.0), Humidity::percent(35.0)).as_fahrenheit(),
        45.5,
        0.09,
    );
}

fn state(air: f64, humidity: f64, slab: f64) -> AirState {
    air_state(&Air {
        measured: jiff::civil::date(2026, 5, 8),
        temperature: Temperature::fahrenheit(air),
        humidity: Humidity::percent(humidity),
        slab: Temperature::fahrenheit(slab),
    })
}

/// MIL-HDBK-1110, section 9.6.6: the surface at least 5 F above the dew point. Dew points by
/// psychrolib 2.5.0, spreads by hand.
#[track_caller]
fn spread(air: f64, humidity: f64, slab: f64, spread: f64, may_coat: bool) {
    let found = state(air, humidity, slab);
    near(found.spread.as_fahrenheit(), spread, 0.09);
    assert_eq!(found.spread >= LEAST_SPREAD, may_coat, "{found:?}");
}

#[test]
fn a_slab_is_coated_five_fahrenheit_over_the_dew_point() {
    spread(75.0, 60.0, 62.0, 1.81, false);
    spread(70.0, 50.0, 56.0, 5.47, true);
    spread(60.0, 80.0, 58.0, 4.18, false);
    spread(80.0, 55.0, 64.0, 1.61, false);
    // Water condenses on this one.
    spread(85.0, 70.0, 70.0, -4.12, false);
}

/// The 5 F of MIL-HDBK-1110 are not the 3 C (5.4 F) of ISO 8502-4 practice.
#[test]
fn the_least_spread_is_that_of_mil_hdbk_1110() {
    near(LEAST_SPREAD.as_fahrenheit(), 5.0, 1e-9);
    assert!(LEAST_SPREAD < Degrees::kelvin(3.0));
}

/// The humidity at which a slab as warm as the air is just 5 F over the dew point, by psychrolib
/// 2.5.0 to a tenth of a percent. So 85 % RH breaks the rule below about 85 F.
#[track_caller]
fn dampest_air(fahrenheit: f64, humidity: f64) {
    near(state(fahrenheit, humidity, fahrenheit).spread.as_fahrenheit(), 5.0, 0.1);
}

#[test]
fn damp_air_alone_breaks_the_rule() {
    dampest_air(50.0, 82.8);
    dampest_air(70.0, 84.2);
    dampest_air(90.0, 85.3);
}
