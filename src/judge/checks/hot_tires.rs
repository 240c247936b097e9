//! `hot-tires`: a film so thin that warm tires may lift it.
//!
//! Compares the dry film of all resin together with [`THIN_BELOW`] (common practice, no published
//! source). Caution: thin floors are sold and used, but the buyer has to know. Bond and cure time
//! matter as much, so a thick film is no promise either.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source, each_floor};
use crate::price::case::Case;
use crate::price::floor::THIN_BELOW;

pub const CHECK: Check = Check {
    limits: &[("thin", Limit::common_practice(Figure::Thickness(THIN_BELOW)))],
    ..Check::new("hot-tires", FindingPlace::Floors, Source::CommonPractice, find)
        .severities(&[Severity::Caution])
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    if !case.job.has_cars() {
        return vec![];
    }
    each_floor(case, |option| {
        let film = option.floor.resin_film();
        option.floor.is_thin().then(|| CHECK.caution().measured(film).limit(THIN_BELOW))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The kit floor with this dry film of its base. Its clear coat adds 1.83 mil: 1604.17 ft2 mil
    /// to the gallon, over 350 ft2, times 40 % solids.
    fn base(mils: &str) -> Sample {
        sample()
            .without_book("product.water-epoxy.spread")
            .book("product.water-epoxy.film", &format!("\"{mils} mil\""))
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample(), "water-kit", CAUTION),
            (base("6.16"), "water-kit", CAUTION),
            // No car drives on a patio.
            (sample().in_space("patio", ""), "water-kit", SILENT),
            // Stays silent from eight mils on.
            (base("6.18"), "water-kit", SILENT),
            (sample(), "barrier, fast-cure, clear-epoxy", SILENT),
        ]);
    }
}
