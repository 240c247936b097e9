//! `film-not-shown`: a coat whose wet film was read at too few places to say what it is.
//!
//! Note: the film may be as planned or not; nobody can tell. What went on the floor tells its mean, not how
//! even it is.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_coat_laid};
use crate::judge::laid::film::{ALL_UP_TO, EACH, FilmStanding, PLACES, THREE_UP_TO};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[
        ("places", PLACES.shown(Figure::Count(PLACES.value))),
        ("each", EACH.shown(Figure::Area(EACH.value))),
        ("all", ALL_UP_TO.shown(Figure::Area(ALL_UP_TO.value))),
        ("three", THREE_UP_TO.shown(Figure::Area(THREE_UP_TO.value))),
    ],
    ..Check::new("film-not-shown", FindingPlace::Shop, SOURCE, find).severities(&[Severity::Note])
};

const SOURCE: Source = PLACES.source;

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| {
        let shown = coat.film.filter(|film| film.standing() == FilmStanding::NotShown);
        shown.map(|film| {
            let read = film.readings.map_or(0, |read| read.count);
            let passes = coat.records.iter().any(|one| one.record.again);
            CHECK
                .note()
                .measured(Figure::Count(read))
                .limit(Figure::Count(coat.places_to_read()))
                .yes_no("unread", read == 0)
                .yes_no("passes", passes)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// 484 ft2 are three areas of five places: SSPC-PA 2 (2015).
    #[test]
    fn too_few_readings_show_nothing() {
        let again = TOP
            .replace("coat =", "again = true, coat =")
            .replace("T09", "T16")
            .replace("T10", "T17");
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            (laid(&[&few(BARRIER, "16 mil"), TOP]), "barrier", NOTE),
            (laid(&[BARRIER, TOP, &again]), "barrier", NOTE),
            // What is too thin for certain is told as that.
            (laid(&[&few(BARRIER, "9 mil"), TOP]), "barrier", SILENT),
        ]);
        let found = laid(&[&few(BARRIER, "16 mil"), TOP]).findings(&CHECK);
        assert_eq!(found[0].measured, Some(Figure::Count(3)));
        assert_eq!(found[0].limit, Some(Figure::Count(15)));
    }
}
