//! `film-disagrees`: what went on the floor and what the wet film gauge read cannot both be right.
//!
//! Caution: a volume, an area or a reading is wrong, or liquid went where nobody counted it.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_coat_laid};
use crate::price::case::Case;

pub const CHECK: Check =
    Check::new("film-disagrees", FindingPlace::Shop, Source::CommonPractice, find)
        .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| {
        let film = coat.film.filter(|film| film.agrees() == Some(false));
        let both = film.and_then(|film| film.balance.zip(film.readings));
        both.map(|(made, read)| {
            CHECK
                .caution()
                .value("made_least", made.least)
                .value("made_most", made.most)
                .value("read_least", read.mean.least)
                .value("read_most", read.mean.most)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn figures_that_cannot_both_be_right_are_told() {
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            // 15 readings of 16 to 18 mil, and liquid for 30.
            (laid(&[&BARRIER.replace("6.4 gal", "11 gal"), TOP]), "barrier", CAUTION),
            (laid(&[&few(BARRIER, "16 mil").replace("6.4 gal", "11 gal"), TOP]), "barrier", SILENT),
        ]);
    }
}
