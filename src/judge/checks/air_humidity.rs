//! `air-humidity`: the air as measured against the dampest air that each coat may be laid in.
//!
//! Caution: another day may be chosen or the air dried, so the offer stands.

use crate::base::figure::Figure;
use crate::base::quantity::Humidity;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "air-humidity",
    place: FindingPlace::Air,
    source: Source::DataSheet,
    severities: &[Severity::Caution],
    limits: &[("usual", Figure::Humidity(USUAL_LIMIT))],
    find,
};

/// The dampest air for a coat whose sheet names none: 85 %. Common practice, no published source.
pub const USUAL_LIMIT: Humidity = Humidity::percent(85.0);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(visit) = &case.job.air else { return vec![] };
    let mut found = vec![];
    for option in &case.options {
        let limits = option
            .floor
            .resins()
            .map(|(coat, resin)| (coat, resin.air_humidity_to.unwrap_or(USUAL_LIMIT), resin));
        let Some((coat, limit, resin)) = limits.min_by(|(_, a, _), (_, b, _)| a.order(*b)) else {
            continue;
        };
        if visit.humidity > limit {
            found.push(
                Finding::new(&CHECK, Severity::Caution)
                    .about(option)
                    .measured(Figure::Humidity(visit.humidity))
                    .limit(Figure::Humidity(limit))
                    .value("coat", coat.product.name.as_str())
                    .value("day", visit.measured)
                    .by(resin.air_humidity_to.map_or(Source::CommonPractice, |_| Source::DataSheet))
                    .value("sheet", if resin.air_humidity_to.is_some() { "yes" } else { "no" }),
            );
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn air(humidity: &str) -> Sample {
        testing::sample().job("air.humidity", &format!("\"{humidity}\""))
    }

    // The sample book: water-based coats to 80 %, all others to 85 %.
    #[test]
    fn fires_above_the_sheets_limit() {
        air("86 %").expect(&CHECK, "fast-cure", Severity::Caution);
        air("81 %").expect(&CHECK, "water-kit", Severity::Caution);
    }

    #[test]
    fn stays_silent_up_to_it() {
        air("85 %").expect_silent(&CHECK, "fast-cure");
        air("80 %").expect_silent(&CHECK, "water-kit");
        testing::sample().without("air").expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn falls_back_on_common_practice() {
        let no_limit = |humidity| {
            air(humidity)
                .without_book("product.polyurea-primer.air-humidity-to")
                .without_book("product.polyaspartic-top.air-humidity-to")
        };
        no_limit("86 %").expect(&CHECK, "fast-cure", Severity::Caution);
        no_limit("85 %").expect_silent(&CHECK, "fast-cure");
    }
}
