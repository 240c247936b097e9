//! `tile-glue`: glue of old floor tiles, which may hold asbestos.
//!
//! A dark glue stops the whole job until a lab has tested it, whatever the year of the house: no
//! eye can tell, and grinding cannot be undone. A light one is a caution in a house that is old
//! enough: the presumption of the rule goes by the year and not by the color. Where nobody looked,
//! it is a note in such a house.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::model::job::TileGlue;
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[
        ("built", BUILT_BEFORE.shown(Figure::Count(BUILT_BEFORE.value))),
        ("presumed", Limit::new(Figure::Count(PRESUMED_TO), SOURCE)),
    ],
    ..Check::new("tile-glue", FindingPlace::Safety, SOURCE, find).severities(&[
        Severity::Stop,
        Severity::Caution,
        Severity::Note,
    ])
};

const SOURCE: Source = Source::Rule(Subject::Asbestos, "29 CFR 1926.1101 and state rules");

/// Tiles, sheets and their glue that were laid in this year or before count as holding asbestos until
/// it is shown that they do not: 29 CFR 1926.1101, of flooring materials whatever their color. OSHA's
/// letter of 1 August 1997 adds that nothing is presumed free of it for being younger.
const PRESUMED_TO: u32 = 1980;

/// Houses built from this year on hardly ever have tile glue with asbestos.
const BUILT_BEFORE: Limit<u32> = Limit::common_practice(1985);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let built = case.job.house.built;
    let old = built.is_none_or(|year| year < BUILT_BEFORE.value);
    let finding = match case.job.slab.tile_glue {
        Some(TileGlue::Dark) => CHECK.stop(),
        Some(TileGlue::Light) if old => CHECK.caution(),
        None if old => CHECK.note(),
        None | Some(TileGlue::Light | TileGlue::Nothing) => return vec![],
    };
    vec![finding.value_if("built", built.map(|year| year.to_string()))]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn glue(kind: &str) -> Sample {
        sample().job("slab.tile-glue", kind)
    }

    fn nobody_looked() -> Sample {
        sample().without("slab.tile-glue")
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Stops the whole job on dark glue.
            (glue("\"dark\""), "", STOP),
            (glue("\"dark\"").job("house.built", "2005"), "", STOP),
            // Notes that nobody looked in an old house.
            (nobody_looked().job("house.built", "1984"), "", NOTE),
            (nobody_looked().without("house.built"), "", NOTE),
            // Cautions of light glue in an old house.
            (glue("\"light\"").job("house.built", "1960"), "", CAUTION),
            (glue("\"light\"").job("house.built", "1984"), "", CAUTION),
            (glue("\"light\"").without("house.built"), "", CAUTION),
            // Stays silent without glue and in a newer house.
            (nobody_looked().job("house.built", "1985"), "barrier", SILENT),
            (glue("\"light\"").job("house.built", "1985"), "barrier", SILENT),
            (glue("\"none\"").without("house.built"), "barrier", SILENT),
        ]);
    }
}
