//! Cold, humid days and the dew point.

use super::{Day, begun};
use crate::facts::near;
use slableaf::base::figure::Figure;
use slableaf::judge::checks::Severity;
use slableaf::price::case::case;
use slableaf::price::schedule::PlanBasis;

/// At 36 F, 14 F below the coldest row of the sheet, the primer's 3 hours become
/// 3 x 2^(14 / 18) = 5.1435, and pot lives are 1.7145 times those at 50 F.
///
/// The coats by hand, in minutes, two persons of whom one stirs ahead. Primer: 22 x 1.7145 = 37.72;
/// x 0.75 - 3 = 25.29; 2 x 25.29 - 3 = 47.58 of 96, so 3 batches. Each is 32 of rolling and 16 of
/// throwing flake, and follows the one before by (48 + 3) / 2 = 25.5; nobody lays for the first 3, and
/// both lay the last: 3 + 2 x 25.5 + 24 = 78, which is 1.3 hours. Topcoat: 28 x 1.7145 = 48.01 allows
/// 2 x (48.01 x 0.75 - 3) - 3 = 63.01 of 96; 480 / 120 / 0.92 = 4.35 gal are two pails of 3 gal as
/// well. 3 + (48 + 3) / 2 + 24 = 52.5, 0.875 hours.
///
/// The day: set-up 0.5; grinding 480 / 260 / 2 = 0.9231; edge 88 / 50 / 2 = 0.88; primer and flake
/// 1.3; the wait; scraping 480 / 450 / 2 = 0.5333; topcoat 0.875; clean-up 0.375. In all 10.5299 hours.
#[test]
fn a_cold_slab_refuses_the_one_day_for_time_and_not_for_chemistry() {
    let cold = Day::new().air(40.0, 50.0).slab(36.0);
    cold.says("one-day-misses", "fast-cure", Severity::Caution);
    let schedule = cold.schedule("fast-cure");
    near(schedule.one_day.needs.as_hours(), 10.5299, 0.0005);
    near(schedule.one_day.has.as_hours(), 9.5, 1e-9);
    near(schedule.one_day.waits.as_hours(), 5.1435, 0.0005);
    assert_eq!((schedule.days, begun(&schedule, "top").0), (2, 2));
    // 36 F is within the range of both coats (from 35 F), and below that of the epoxy (50 F).
    cold.silent("slab-temperature", "fast-cure");
    cold.says("slab-temperature", "barrier", Severity::Caution);
    assert!(cold.offered("fast-cure"));
    assert!(cold.offered("barrier"));
}

/// At 50 F the primer waits 3 hours. Its 4 batches, see above, are 24 + 12 minutes each: 3 + 3 x
/// (36 + 3) / 2 + 18 = 79.5, 1.325 hours. The topcoat has 2 x (28 x 0.75 - 3) - 3 = 33 of 96 minutes, so
/// 3 batches: 3 + 2 x (32 + 3) / 2 + 16 = 54, 0.9 hours. With the rest as at 36 F: 0.5 + 0.9231 + 0.88
/// + 1.325 + 3 + 0.5333 + 0.9 + 0.375 = 8.4364 hours of a day of 9.5.
#[test]
fn a_cool_slab_still_takes_a_one_day_floor() {
    let cool = Day::new().slab(50.0);
    cool.silent("one-day-misses", "fast-cure");
    let schedule = cool.schedule("fast-cure");
    assert_eq!(schedule.days, 1);
    near(schedule.one_day.needs.as_hours(), 8.4364, 0.0005);
}

/// The epoxy has no times below 50 F: it is planned at 50 F and the plan says so.
#[test]
fn a_slab_too_cold_for_a_coat_is_planned_at_the_coldest_that_it_takes() {
    let cold = Day::new().air(40.0, 50.0).slab(36.0).schedule("barrier");
    assert_eq!(cold.basis, PlanBasis::Nearest);
    near(cold.coats[0].cure.times.recoat_from.as_hours(), 22.0, 1e-6);
}

/// Isocyanate coats cure faster in damp air, and no table corrects for it; most sheets stop at
/// 85 %: common practice, no published source.
#[test]
fn damp_air_is_named_and_changes_no_time() {
    let (dry, damp, wet) = (
        Day::new().air(75.0, 50.0).slab(74.0),
        Day::new().air(75.0, 70.0).slab(74.0),
        Day::new().air(75.0, 86.0).slab(74.0),
    );
    for floor in ["fast-cure", "barrier"] {
        dry.silent("humid-cure", floor);
        damp.says("humid-cure", floor, Severity::Note);
        damp.silent("air-humidity", floor);
        wet.says("humid-cure", floor, Severity::Note);
        wet.says("air-humidity", floor, Severity::Caution);
        assert!(wet.offered(floor), "another day may be dry");
        assert_eq!(dry.schedule(floor).stretches, wet.schedule(floor).stretches);
    }
}

/// Dew points in F by psychrolib 2.5.0 (ASHRAE equations); the slab has to lie 5 F above it,
/// MIL-HDBK-1110, section 9.6.6.
#[track_caller]
fn dew(air: f64, humidity: f64, slab: f64, dew_point: f64, expected: &str) {
    let day = Day::new().air(air, humidity).slab(slab);
    let found = case(&day.input).site.air.expect("measured air").dew_point.as_fahrenheit();
    // 0.05 C.
    near(found, dew_point, 0.09);
    if expected == "dry" {
        return day.silent("dew-point-spread", "");
    }
    let finding = day.says("dew-point-spread", "", Severity::Caution);
    let wet = finding.values.iter().find(|(name, _)| *name == "wet").map(|(_, value)| value);
    assert_eq!(wet, Some(&Figure::from(if expected == "wet" { "yes" } else { "no" })));
    // A condition of the day of work: both floors stay on offer.
    assert!(day.offered("fast-cure") && day.offered("barrier"));
}

#[test]
fn a_slab_near_or_below_the_dew_point_is_a_caution_and_a_wet_one_is_named() {
    dew(85.0, 70.0, 70.0, 74.12, "wet");
    dew(75.0, 60.0, 62.0, 60.19, "near");
    dew(60.0, 80.0, 58.0, 53.82, "near");
    dew(80.0, 55.0, 64.0, 62.39, "near");
    // 5.47 F above it: nearer to the limit than a thermometer can tell.
    dew(70.0, 50.0, 56.0, 50.53, "near");
    dew(70.0, 50.0, 57.0, 50.53, "dry");
    dew(50.0, 50.0, 38.5, 32.11, "dry");
    dew(90.0, 80.0, 83.5, 82.99, "near");
    dew(90.0, 80.0, 82.0, 82.99, "wet");
}
