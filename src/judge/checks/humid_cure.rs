//! `humid-cure`: a coat that damp air speeds, in air damper than data sheets reckon with.
//!
//! Pot life and the time for the next coat are given for air at about 50 % relative humidity and
//! no table corrects for it. Note, for the shop alone: a small batch first, and a watch on it.

use crate::base::figure::Figure;
use crate::base::quantity::Humidity;
use crate::judge::checks::{
    Check, Finding, FindingPlace, Limit, Severity, Source, coats_with, each_floor,
};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("damp", DAMP.shown(Figure::Humidity(DAMP.value)))],
    ..Check::new("humid-cure", FindingPlace::Shop, Source::CommonPractice, find)
        .severities(&[Severity::Note])
};

/// Relative humidity from which on the difference is worth a word.
const DAMP: Limit<Humidity> = Limit::common_practice(Humidity::percent(60.0));

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(air) = case.site.air.filter(|air| air.humidity > DAMP.value) else { return vec![] };
    each_floor(case, |option| {
        let coats = coats_with(&option.floor, |resin| resin.humidity_speeds);
        let finding = || {
            CHECK
                .note()
                .measured(Figure::Humidity(air.humidity))
                .limit(Figure::Humidity(DAMP.value))
        };
        (!coats.is_empty()).then(|| finding().names("coats", coats))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        let damp = sample().job("air.humidity", "\"61 %\"");
        let there = sample().job("air.humidity", "\"60 %\"");
        CHECK.says([
            // Fires above 60 percent and for coats that damp air speeds.
            (damp.clone(), "fast-cure", NOTE),
            (damp, "water-kit", SILENT),
            // Stays silent at 60 percent and without a reading.
            (there, "fast-cure", SILENT),
            (sample().without("air"), "fast-cure", SILENT),
        ]);
    }
}
