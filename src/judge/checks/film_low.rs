//! `film-low`: a coat that was laid thinner than planned, by what went on the floor or by the wet film gauge.
//!
//! Caution: a thin coat may still hold, but it is not the floor that was sold. Only what is certain counts:
//! all errors of reading and measuring are taken in favor of the film.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_coat_laid};
use crate::judge::laid::film::{
    AREA_ERROR, FilmStanding, LEAST_PLACE, TEXTURE_ERROR, VOLUME_ERROR,
};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[
        ("place", LEAST_PLACE.shown(Figure::Share(LEAST_PLACE.value))),
        ("area_error", AREA_ERROR.shown(Figure::Share(AREA_ERROR.value))),
        ("volume_error", VOLUME_ERROR.shown(Figure::Share(VOLUME_ERROR.value))),
        ("texture_error", TEXTURE_ERROR.shown(Figure::Share(TEXTURE_ERROR.value))),
    ],
    ..Check::new("film-low", FindingPlace::Shop, SOURCE, find).severities(&[Severity::Caution])
};

/// The tolerance of one place; the film itself is the plan's.
const SOURCE: Source = LEAST_PLACE.source;

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| {
        let Some(film) = coat.film.filter(|film| film.standing() == FilmStanding::Low) else {
            return vec![];
        };
        let mut found = vec![];
        let finding = |by: &str| CHECK.caution().limit(film.planned).value("by", by);
        if let Some(made) = film.balance.filter(|_| film.is_low_by_balance()) {
            found.push(finding("used").measured(made.most));
        }
        if let Some(read) = film.readings.filter(|_| film.is_low_by_readings()) {
            found.push(if read.thin > 0 {
                let thinnest = finding("place").measured(read.thinnest.most);
                thinnest
                    .value("thin", Figure::Count(read.thin))
                    .value("least", film.planned * LEAST_PLACE.value.as_of_one())
            } else {
                finding("mean").measured(read.mean.most)
            });
        }
        found
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// Barrier: 484 ft2 at 100 ft2/gal is 16.04 mil. 484 ft2 take 4.84 gal and 1.19 gal of texture (100 um).
    /// Worked by hand: with 5.0 gal, errors in favor, (5.0 x 1.03 - 1.19 x 0.5) x 1604.17 / (484 x 0.98) =
    /// 15.41 mil at the most.
    #[test]
    fn less_than_planned_is_told_where_it_is_certain() {
        let used = |gallons: &str| laid(&[&BARRIER.replace("6.4 gal", gallons), TOP]);
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            (used("5.0 gal"), "barrier", CAUTION),
            (used("5.3 gal"), "barrier", SILENT),
            // One notch of 10, of a gauge with steps of 1 mil: below 80 % of 16.04 mil, which are 12.83 mil.
            (laid(&[&BARRIER.replacen("16 mil", "10 mil", 1), TOP]), "barrier", CAUTION),
            (laid(&[&BARRIER.replacen("16 mil", "12 mil", 1), TOP]), "barrier", SILENT),
            (laid(&[&BARRIER.replace("16 mil", "15 mil"), TOP]), "barrier", CAUTION),
            // Three readings say nothing of the mean, but a thin place is thin.
            (laid(&[&few(BARRIER, "15 mil"), TOP]), "barrier", SILENT),
            (laid(&[&few(BARRIER, "9 mil"), TOP]), "barrier", CAUTION),
        ]);
        let by = |sample: Sample| sample.values(&CHECK, "by");
        assert_eq!(by(used("5.0 gal")), [Figure::from("used")]);
        // All places read 15 mil: none is thin, the mean is. One reads 10 mil: that place is.
        let mean = laid(&[&BARRIER.replace("16 mil", "15 mil"), TOP]);
        assert!(mean.values(&CHECK, "thin").is_empty());
        assert_eq!(by(mean), [Figure::from("mean")]);
        let place = laid(&[&BARRIER.replacen("16 mil", "10 mil", 1), TOP]);
        assert_eq!(place.values(&CHECK, "thin"), [Figure::Count(1)]);
        assert_eq!(by(place), [Figure::from("place")]);
    }
}
