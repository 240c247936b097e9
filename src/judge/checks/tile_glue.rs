//! `tile-glue`: glue of old floor tiles, which may hold asbestos.
//!
//! A dark glue stops the whole job until a lab has tested it, whatever the year of the house: no
//! eye can tell, and grinding cannot be undone. A light one is a caution in a house that is old
//! enough: the presumption of the rule goes by the year and not by the color. Where nobody looked,
//! it is a note in such a house.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::TileGlue;
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "tile-glue",
    place: FindingPlace::Safety,
    source: Source::Rule(Subject::Asbestos, "29 CFR 1926.1101 and state rules"),
    severities: &[Severity::Stop, Severity::Caution, Severity::Note],
    limits: &[("built", Figure::Count(BUILT_BEFORE)), ("presumed", Figure::Count(PRESUMED_TO))],
    find,
};

/// Tiles, sheets and their glue that were laid in this year or before count as holding asbestos until
/// it is shown that they do not: 29 CFR 1926.1101, of flooring materials whatever their color. OSHA's
/// letter of 1 August 1997 adds that nothing is presumed free of it for being younger.
const PRESUMED_TO: u32 = 1980;

/// Houses built from this year on hardly ever have tile glue with asbestos. Common practice, no
/// published source.
const BUILT_BEFORE: u32 = 1985;

fn find(case: &Case<'_>) -> Vec<Finding> {
    let built = case.job.house.built;
    let old = built.is_none_or(|year| year < BUILT_BEFORE);
    let finding = match case.job.slab.tile_glue {
        Some(TileGlue::Dark) => Finding::new(&CHECK, Severity::Stop),
        Some(TileGlue::Light) if old => Finding::new(&CHECK, Severity::Caution),
        None if old => Finding::new(&CHECK, Severity::Note),
        None | Some(TileGlue::Light | TileGlue::Nothing) => return vec![],
    };
    match built {
        Some(year) => vec![finding.value("built", year.to_string())],
        None => vec![finding],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn glue(kind: &str) -> Sample {
        testing::sample().job("slab.tile-glue", kind)
    }

    fn nobody_looked() -> Sample {
        testing::sample().without("slab.tile-glue")
    }

    #[test]
    fn stops_the_whole_job_on_dark_glue() {
        glue("\"dark\"").expect(&CHECK, "", Severity::Stop);
        glue("\"dark\"").job("house.built", "2005").expect(&CHECK, "", Severity::Stop);
    }

    #[test]
    fn notes_that_nobody_looked_in_an_old_house() {
        nobody_looked().job("house.built", "1984").expect(&CHECK, "", Severity::Note);
        nobody_looked().without("house.built").expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn cautions_of_light_glue_in_an_old_house() {
        glue("\"light\"").job("house.built", "1960").expect(&CHECK, "", Severity::Caution);
        glue("\"light\"").job("house.built", "1984").expect(&CHECK, "", Severity::Caution);
        glue("\"light\"").without("house.built").expect(&CHECK, "", Severity::Caution);
    }

    #[test]
    fn stays_silent_without_glue_and_in_a_newer_house() {
        nobody_looked().job("house.built", "1985").expect_silent(&CHECK, "barrier");
        glue("\"light\"").job("house.built", "1985").expect_silent(&CHECK, "barrier");
        glue("\"none\"").without("house.built").expect_silent(&CHECK, "barrier");
    }
}
