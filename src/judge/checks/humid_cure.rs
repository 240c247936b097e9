//! `humid-cure`: a coat that damp air speeds, in air damper than data sheets reckon with.
//!
//! Pot life and the time for the next coat are given for air at about 50 % relative humidity and
//! no table corrects for it. Note, for the shop alone: a small batch first, and a watch on it.

use crate::base::figure::Figure;
use crate::base::quantity::Humidity;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, coats_with};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "humid-cure",
    place: FindingPlace::Shop,
    source: Source::CommonPractice,
    severities: &[Severity::Note],
    limits: &[("damp", Figure::Humidity(DAMP))],
    find,
};

/// Relative humidity from which on the difference is worth a word. Common practice, no published
/// source.
const DAMP: Humidity = Humidity::percent(60.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(air) = case.site.air.filter(|air| air.humidity > DAMP) else { return vec![] };
    let mut found = vec![];
    for option in &case.options {
        let coats = coats_with(&option.floor, |resin| resin.humidity_speeds);
        if !coats.is_empty() {
            found.push(
                Finding::new(&CHECK, Severity::Note)
                    .about(option)
                    .measured(Figure::Humidity(air.humidity))
                    .limit(Figure::Humidity(DAMP))
                    .value("coats", Figure::Texts(coats)),
            );
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing;

    #[test]
    fn fires_above_60_percent_and_for_coats_that_damp_air_speeds() {
        let damp = testing::sample().job("air.humidity", "\"61 %\"");
        damp.expect(&CHECK, "fast-cure", Severity::Note);
        damp.expect_silent(&CHECK, "water-kit");
    }

    #[test]
    fn stays_silent_at_60_percent_and_without_a_reading() {
        let there = testing::sample().job("air.humidity", "\"60 %\"");
        there.expect_silent(&CHECK, "fast-cure");
        testing::sample().without("air").expect_silent(&CHECK, "fast-cure");
    }
}
