//! The arithmetic of a bid is that of our own coats, and the rule of thumb of 1604 ft2 mil to the gallon.

use crate::chance::tried;
use proptest::prelude::*;
use slableaf::base::quantity::{Area, Share, Thickness, Volume};
use slableaf::model::bid::BidCoat;
use slableaf::price::bid::{BidSum, bid_sum};
use slableaf::price::film::{spread_at, wet_from_dry};

fn close(leaves: Thickness, mils: f64) -> bool {
    (leaves.as_mils() - mils).abs() <= 1e-6 * mils
}

proptest! {
    #![proptest_config(tried(500))]

    /// A bid that states the figures of a coat of ours, by spread or by liquid, leaves the film of that coat.
    #[test]
    fn a_bid_with_the_figures_of_our_coat_leaves_its_film(
        dry in 1.0..40.0f64, solids in 20.0..100.0f64, feet in 100.0..2000.0f64, by in 0..3u32,
    ) {
        let (film, share) = (Thickness::mils(dry), Share::percent(solids));
        let wet = wet_from_dry(film, share, Share::ZERO);
        let area = Area::square_feet(feet);
        let coat = BidCoat {
            name: "coat".into(),
            solids: Some(share),
            spread: (by != 1).then(|| spread_at(wet)),
            film: Some(film),
            volume: (by != 0).then(|| area.at(wet)),
        };
        match bid_sum(&coat, area) {
            BidSum::Leaves(leaves, _) => prop_assert!(close(leaves, dry), "{leaves:?}"),
            other => prop_assert!(false, "{other:?}"),
        }
    }

    /// 231 in3 to the gallon (NIST Handbook 44, appendix C) are 1604 ft2 one mil thick. A film is impossible where that
    /// leaves less than a twentieth below it, and possible where it leaves as much or more.
    #[test]
    fn a_film_beyond_its_liquid_is_told(
        gallons in 0.5..20.0f64, solids in 20.0..100.0f64, feet in 100.0..2000.0f64, stated in 0.2..3.0f64,
    ) {
        let leaves = gallons * 231.0 / 144.0 * 1000.0 / feet * solids / 100.0;
        let film = leaves * stated;
        prop_assume!((stated * 0.95 - 1.0).abs() > 1e-6);
        let coat = BidCoat {
            name: "coat".into(),
            solids: Some(Share::percent(solids)),
            spread: None,
            film: Some(Thickness::mils(film)),
            volume: Some(Volume::gallons(gallons)),
        };
        match bid_sum(&coat, Area::square_feet(feet)) {
            BidSum::Leaves(found, _) => {
                prop_assert!(stated * 0.95 < 1.0);
                prop_assert!(close(found, leaves), "{found:?} {leaves}");
            }
            BidSum::Thinner { leaves: found, .. } => {
                prop_assert!(stated * 0.95 > 1.0);
                prop_assert!(close(found, leaves), "{found:?} {leaves}");
            }
            other => prop_assert!(false, "{other:?}"),
        }
    }
}
