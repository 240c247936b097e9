//! What the figures of a bid come to, by arithmetic alone.
//!
//! One US gallon covers 1604 ft2 at one mil wet (231 in3: NIST Handbook 44, appendix C), and what is
//! not solid leaves the film: dry film = wet film x solids by volume (MIL-HDBK-1110, section 2.1.5). So a
//! spread and a share of solids leave one dry film, and no other.

use crate::base::quantity::{Area, Share, Thickness, Volume};
use crate::model::bid::BidCoat;
use crate::price::film;

/// Share by which figures of a bid may miss each other, since bids round: common practice, no published source.
pub const ROUNDED: Share = Share::percent(5.0);

/// Where a wet film comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Basis {
    Spread,
    Volume,
}

/// What a coat's figures come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BidSum {
    /// Too little is stated to work anything out.
    Silent,
    /// They leave this dry film, and nothing stated is against it.
    Leaves(Thickness, Basis),
    /// They leave less than the dry film that is stated.
    Thinner { leaves: Thickness, stated: Thickness, basis: Basis },
    /// Even all of the liquid is thinner than the dry film that is stated; solids are not given.
    ThinnerThanWet { wet: Thickness, stated: Thickness, basis: Basis },
    /// The stated liquid does not cover the area at the stated spread.
    TooLittle { volume: Volume, covers: Area },
}

/// Works out a coat on an area. Of two figures for the wet film, the one that leaves less decides.
pub fn bid_sum(coat: &BidCoat, area: Area) -> BidSum {
    let rounded = 1.0 - ROUNDED.as_of_one();
    if let (Some(spread), Some(volume)) = (coat.spread, coat.volume) {
        let covers = Area::square_meters(volume.as_liters() * spread.as_square_meters_per_liter());
        if covers < area * rounded {
            return BidSum::TooLittle { volume, covers };
        }
    }
    let by_spread = coat.spread.map(|spread| (film::wet_at(spread), Basis::Spread));
    let by_volume = coat.volume.map(|volume| {
        let wet = Thickness::micrometers(volume.as_liters() * 1000.0 / area.as_square_meters());
        (wet, Basis::Volume)
    });
    let Some((wet, basis)) =
        by_spread.into_iter().chain(by_volume).reduce(|a, b| if b.0 < a.0 { b } else { a })
    else {
        return BidSum::Silent;
    };
    match (coat.solids, coat.film) {
        (Some(solids), stated) => {
            let leaves = film::dry_from_wet(wet, solids, Share::ZERO);
            match stated {
                Some(stated) if leaves < stated * rounded => {
                    BidSum::Thinner { leaves, stated, basis }
                }
                _ => BidSum::Leaves(leaves, basis),
            }
        }
        (None, Some(stated)) if wet < stated * rounded => {
            BidSum::ThinnerThanWet { wet, stated, basis }
        }
        (None, _) => BidSum::Silent,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::quantity::Spread;

    fn coat(
        solids: Option<f64>,
        spread: Option<f64>,
        film: Option<f64>,
        gallons: Option<f64>,
    ) -> BidCoat {
        BidCoat {
            name: "base".into(),
            solids: solids.map(Share::percent),
            spread: spread.map(Spread::square_feet_per_gallon),
            film: film.map(Thickness::mils),
            volume: gallons.map(Volume::gallons),
        }
    }

    fn sum(coat: BidCoat) -> BidSum {
        bid_sum(&coat, Area::square_feet(430.0))
    }

    /// One gallon at 50 % solids over 430 ft2: 1604.17 x 0.5 / 430 = 1.865 mil.
    #[test]
    fn a_spread_and_solids_leave_one_film() {
        let BidSum::Leaves(film, Basis::Spread) = sum(coat(Some(50.0), Some(430.0), None, None))
        else {
            panic!()
        };
        assert!((film.as_mils() - 1.865).abs() < 0.001, "{}", film.as_mils());
        let BidSum::Leaves(same, Basis::Volume) = sum(coat(Some(50.0), None, None, Some(1.0)))
        else {
            panic!()
        };
        assert!((same.as_mils() - film.as_mils()).abs() < 1e-9);
    }

    /// Two gallons over 430 ft2 are 1604.17 x 2 / 430 = 7.46 mil wet; a spread of 160 ft2/gal makes 10.03, one of
    /// 250 makes 6.42, and the two gallons cover 430 ft2 at no less than 215 ft2/gal.
    #[test]
    fn of_two_wet_films_the_thinner_counts() {
        let left = |spread, gallons| match sum(coat(Some(100.0), Some(spread), None, Some(gallons)))
        {
            BidSum::Leaves(film, basis) => ((film.as_mils() * 100.0).round() / 100.0, basis),
            other => panic!("{other:?}"),
        };
        assert_eq!(left(250.0, 2.0), (6.42, Basis::Spread));
        assert_eq!(left(210.0, 2.0), (7.46, Basis::Volume));
    }

    #[test]
    fn a_film_that_the_figures_do_not_leave_is_told_and_rounding_is_not() {
        // 1604.17 / 200 x 1.0 = 8.02 mil.
        assert!(matches!(sum(coat(Some(100.0), Some(200.0), Some(8.0), None)), BidSum::Leaves(..)));
        assert!(matches!(sum(coat(Some(100.0), Some(200.0), Some(8.4), None)), BidSum::Leaves(..)));
        assert!(matches!(
            sum(coat(Some(100.0), Some(200.0), Some(8.5), None)),
            BidSum::Thinner { .. }
        ));
        // Thicker than stated is no fault.
        assert!(matches!(sum(coat(Some(100.0), Some(200.0), Some(4.0), None)), BidSum::Leaves(..)));
        // Solids not given: no film is thicker dry than wet.
        assert!(matches!(
            sum(coat(None, Some(200.0), Some(10.0), None)),
            BidSum::ThinnerThanWet { .. }
        ));
        assert_eq!(sum(coat(None, Some(200.0), Some(5.0), None)), BidSum::Silent);
    }

    #[test]
    fn liquid_that_does_not_cover_the_area_is_told() {
        let short = sum(coat(Some(100.0), Some(200.0), None, Some(2.0)));
        let BidSum::TooLittle { covers, .. } = short else { panic!("{short:?}") };
        assert!((covers.as_square_feet() - 400.0).abs() < 1e-6);
        // 2.1 gal cover 420 of 430 ft2: within what bids round.
        assert!(matches!(sum(coat(Some(100.0), Some(200.0), None, Some(2.1))), BidSum::Leaves(..)));
        assert_eq!(sum(coat(Some(60.0), None, Some(5.0), None)), BidSum::Silent);
    }
}
