//! Emission of a slab, films and cure times.

use super::close;
use crate::chance::tried;
use crate::facts::example::{self};
use proptest::prelude::*;
use slableaf::base::names::Key;
use slableaf::base::quantity::*;
use slableaf::model::book::{Book, Cure, Resin};
use slableaf::price::cure::cure_at;
use slableaf::price::film::*;
use slableaf::site::moisture::mver;

proptest! {
    #![proptest_config(tried(300))]

    #[test]
    fn emission_grows_as_the_gain_does(gain in 0.0..40.0f64, area in 0.1..2.0f64, hours in 1.0..100.0f64) {
        let rate = |gain, hours| mver(Mass::grams(gain), Area::square_feet(area), Hours::hours(hours)).as_pounds();
        prop_assert!(close(rate(2.0 * gain, hours), 2.0 * rate(gain, hours)));
        prop_assert!(close(rate(gain, 2.0 * hours), 0.5 * rate(gain, hours)));
        prop_assert!(close(rate(gain + 1.0, hours), rate(gain, hours) + rate(1.0, hours)));
    }

    #[test]
    fn wet_and_dry_film_are_inverse(dry in 0.5..60.0f64, solids in 5.0..100.0f64, thinner in 0.0..50.0f64) {
        let (solids, thinner) = (Share::percent(solids), Share::percent(thinner));
        let wet = wet_from_dry(Thickness::mils(dry), solids, thinner);
        prop_assert!(close(dry_from_wet(wet, solids, thinner).as_mils(), dry));
        prop_assert!(wet.as_mils() >= dry * (1.0 - 1e-12));
        prop_assert!(close(wet_at(spread_at(wet)).as_mils(), wet.as_mils()));
        let area = Area::square_feet(480.0);
        prop_assert!(close(area.at(wet).as_gallons(), area.over(spread_at(wet)).as_gallons()));
    }

    #[test]
    fn a_hotter_slab_never_gives_more_time(
        coolest in 35.0..60.0f64,
        steps in prop::collection::vec((4.0..20.0f64, 0.3..1.0f64), 0..=2),
        slab in 30.0..110.0f64,
        hotter in 0.0..30.0f64,
    ) {
        let resin = with_rows(resin(&example::input().book, "barrier-epoxy"), coolest, &steps);
        let at = |slab| cure_at(&resin, Temperature::fahrenheit(slab)).map(|found| found.times);
        if let (Ok(cool), Ok(hot)) = (at(slab), at(slab + hotter)) {
            let shorter = |cool: Hours, hot: Hours| hot.as_hours() <= cool.as_hours() * (1.0 + 1e-9);
            prop_assert!(shorter(cool.pot_life, hot.pot_life), "{:?} {:?}", cool, hot);
            prop_assert!(shorter(cool.recoat_from, hot.recoat_from));
            prop_assert!(shorter(cool.recoat_to, hot.recoat_to));
            prop_assert!(shorter(cool.vehicle, hot.vehicle));
            prop_assert!(hot.recoat_from <= hot.recoat_to);
        }
    }
}

fn resin(book: &Book, key: &str) -> Resin {
    let product = book.product(&Key(key.to_owned())).expect("a product of the example");
    product.resin().expect("a liquid").clone()
}

/// A resin with a row at the coolest temperature (F) and more at steps above it, each with a share
/// of the times before it.
fn with_rows(mut resin: Resin, coolest: f64, steps: &[(f64, f64)]) -> Resin {
    let times = |fahrenheit: f64, part: f64| Cure {
        at: Temperature::fahrenheit(fahrenheit),
        pot_life: Hours::minutes(60.0 * part),
        recoat_from: Hours::hours(20.0 * part),
        recoat_to: Hours::hours(60.0 * part),
        foot: Hours::hours(30.0 * part),
        vehicle: Hours::hours(160.0 * part),
    };
    let (mut at, mut part) = (coolest, 1.0);
    resin.cure = vec![times(at, part)];
    for (step, share) in steps {
        (at, part) = (at + step, part * share);
        resin.cure.push(times(at, part));
    }
    resin
}
