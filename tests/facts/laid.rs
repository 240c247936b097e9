//! Films of coats that were laid, by what went on the floor and by a notch gauge; times of use.

use super::near;
use jiff::civil::date;
use slableaf::base::calendar::Calendar;
use slableaf::base::quantity::*;
use slableaf::judge::laid::film::*;

/// Liquid on a floor, with nothing lost and nothing filled.
fn spent(gallons: f64, square_feet: f64) -> Spent {
    Spent {
        used: Volume::gallons(gallons),
        area: Area::square_feet(square_feet),
        texture: Volume::ZERO,
        cracks: Volume::ZERO,
        loss: Share::ZERO,
    }
}

/// Wet film in mils that these gallons make by the 1604 ft2 of a gallon at 1 mil. The program's range takes
/// in the errors of volume and area (3 % and 2 %), worked by hand: 1.03 / 0.98 and 0.97 / 1.02.
#[track_caller]
fn makes(gallons: f64, square_feet: f64, mils: f64) {
    let film = balance(&spent(gallons, square_feet));
    near(film.most.as_mils(), mils * 1.03 / 0.98, mils * 0.002);
    near(film.least.as_mils(), mils * 0.97 / 1.02, mils * 0.002);
}

/// Spreading rates at 1604 ft2 mil to the gallon, as trade tables print them (repeated in secondary sources:
/// 1604 x solids / mils, such as 160 ft2 at 10 mil and 201 at 8 mil for what is all solids), and MIL-HDBK-1110,
/// section 2.1.5, with its rounded 1600.
#[test]
fn what_went_on_the_floor_makes_a_film() {
    makes(1.0, 160.4, 10.0);
    makes(1.0, 200.5, 8.0);
    makes(2.0, 320.8, 10.0);
    makes(1.0, 1604.17, 1.0);
    // One gallon over 430 ft2: 3.73 mil wet, at 50 % solids 1.87 mil dry.
    makes(1.0, 430.0, 3.7306);
    let dry = balance(&spent(1.0, 430.0)).dry(Share::percent(50.0));
    near((dry.least.as_mils() + dry.most.as_mils()) / 2.0, 1.868, 0.01);
}

/// Worked by hand: 6.4 gal over 484 ft2, of which 10 % may stay in the pails, with 1.188 gal (100 um on
/// 484 ft2) in the texture, give or take half: (6.4 x 0.97 x 0.9 - 1.188 x 1.5) x 1604.17 / (484 x 1.02) =
/// 12.36 mil, and (6.4 x 1.03 - 1.188 x 0.5) x 1604.17 / (484 x 0.98) = 20.29 mil.
#[test]
fn a_first_coat_fills_the_texture_before_it_lies_above_it() {
    let area = Area::square_feet(484.0);
    let film = balance(&Spent {
        texture: area.at(Thickness::micrometers(100.0)),
        loss: Share::percent(10.0),
        ..spent(6.4, 484.0)
    });
    near(film.least.as_mils(), 12.36, 0.02);
    near(film.most.as_mils(), 20.29, 0.02);
}

/// The same floor with fine cracks that took 0.2 gal, by hand: (6.4 x 0.97 x 0.9 - 1.782 - 0.2) x 1604.17 /
/// (484 x 1.02) = 11.72 mil, and (6.4 x 1.03 - 0.594 - 0.2) x 1604.17 / (484 x 0.98) = 19.61 mil.
#[test]
fn what_went_into_cracks_is_not_on_the_floor() {
    let film = balance(&Spent {
        texture: Area::square_feet(484.0).at(Thickness::micrometers(100.0)),
        cracks: Volume::gallons(0.2),
        loss: Share::percent(10.0),
        ..spent(6.4, 484.0)
    });
    near(film.least.as_mils(), 11.72, 0.02);
    near(film.most.as_mils(), 19.61, 0.02);
}

/// Places to read: five on each area of 100 ft2 up to 300, three such areas up to 1000, and one more for each
/// further 1000: SSPC-PA 2 (2015), as SSPC's own article "SSPC-PA 2 Basics" tells it; the part beyond 1000 ft2
/// is from memory.
#[test]
fn places_are_counted_as_sspc_pa_2_counts_them() {
    let places = |square_feet: f64| places_to_read(Area::square_feet(square_feet));
    assert_eq!(places(40.0), 5);
    assert_eq!(places(100.0), 5);
    assert_eq!(places(101.0), 10);
    assert_eq!(places(300.0), 15);
    assert_eq!(places(430.0), 15);
    assert_eq!(places(1000.0), 15);
    assert_eq!(places(1500.0), 20);
}

/// Steps of the example gauge of ASTM D4414-95 (2020), 7.1.2: 0.5 mil up to 6, 1 mil up to 10, 2 mil up to
/// 30, 5 mil above.
#[test]
fn a_reading_is_a_bracket_of_two_notches() {
    for (notch, next) in
        [(3.0, 3.5), (5.5, 6.0), (6.0, 7.0), (9.0, 10.0), (10.0, 12.0), (28.0, 30.0), (30.0, 35.0)]
    {
        let read = readings(
            &[(Thickness::mils(notch), None)],
            Thickness::mils(10.0),
            Area::square_feet(50.0),
        );
        let read = read.unwrap();
        near(read.mean.least.as_mils(), notch, 1e-9);
        near(read.mean.most.as_mils(), next, 1e-9);
    }
    // The same gauge in micrometers has 150 and 250 for 6 and 10 mil.
    let read = readings(
        &[(Thickness::micrometers(150.0), None)],
        Thickness::mils(10.0),
        Area::square_feet(50.0),
    );
    near(read.unwrap().mean.most.as_mils(), 5.9055 + 1.0, 1e-3);
}

/// Of places that read 16, 10 and 13 mil, with steps of 1 mil, the thinnest is the second and the thickest the first.
#[test]
fn the_thinnest_and_the_thickest_place_are_told() {
    let read = [16.0, 10.0, 13.0].map(|mil| (Thickness::mils(mil), Some(Thickness::mils(1.0))));
    let read = readings(&read, Thickness::mils(12.0), Area::square_feet(50.0)).unwrap();
    let mils = |film: FilmRange| [film.least, film.most].map(|film| film.as_mils().round());
    assert_eq!((mils(read.thinnest), mils(read.thickest)), ([10.0, 11.0], [16.0, 17.0]));
    assert_eq!((read.count, read.needed, read.thin), (3, 5, 0));
}

/// 24 hours after Saturday 4 pm it is 5 pm where clocks go forward in between: 15 U.S.C. 260a.
#[test]
fn real_times_pass_by_a_stopwatch() {
    let zone = jiff::tz::TimeZoneDatabase::bundled().get("America/Chicago").unwrap();
    let calendar = Calendar { zone: Some(zone), ..Calendar::default() };
    let done = date(2026, 3, 7).at(16, 0, 0, 0);
    assert_eq!(calendar.after(done, Hours::hours(24.0)), date(2026, 3, 8).at(17, 0, 0, 0));
    near(calendar.between(done, date(2026, 3, 8).at(8, 0, 0, 0)).as_hours(), 15.0, 1e-9);
    let nowhere = Calendar::default();
    near(nowhere.between(done, date(2026, 3, 8).at(8, 0, 0, 0)).as_hours(), 16.0, 1e-9);
}
